"""Seams between edges whose roles do not go together."""

from __future__ import annotations

from collections.abc import Iterator

from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Run, Way
from blockwright.pattern.promises.seam import Seam
from blockwright.pattern.ref import Ref
from blockwright.pattern.results import Reason, Result

APART = (
    {"hem"},
    {"hem", "armhole"},
    {"hem", "neck"},
    {"armhole", "neck"},
    {"armhole", "waist"},
    {"neck", "waist"},
)
"""Roles of two edges that close an opening, or lead from one opening to another, if they are sewn.

Common practice, no source.
"""


def seam_roles(pattern: Pattern) -> Iterator[Result]:
    """A warning for each seam between edges of roles that never meet.

    Two armholes are sewn together if one is a cap, of another block.  An edge that is meant to be
    sewn to a hem is a seam, and so is the hem.
    """
    for promise in pattern.promises:
        if not isinstance(promise, Seam) or promise.over:
            continue
        for one in _edges(promise.a):
            for other in _edges(promise.b):
                roles = {_role(pattern, one), _role(pattern, other)}
                shut = roles == {"armhole"} and one.block == other.block
                if roles in APART or shut:
                    why = Reason("sewing.say-seam", {"one": one, "other": other})
                    yield Result(
                        "sewing.roles", promise.ref, "count", (0.0, 0.0), 1.0, 0.0, why=why,
                        warning=True,
                    )  # fmt: skip


def _edges(run: Run) -> list[Ref]:
    return [step.edge for step in run if isinstance(step, Way)]


def _role(pattern: Pattern, edge: Ref) -> str:
    return pattern.stretches(edge)[0].role
