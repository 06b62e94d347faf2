"""Edges that are sewn together, and the one allowance that they have."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from itertools import pairwise
from typing import NamedTuple

from blockwright.body.lengths import Length, Unit
from blockwright.errors import InputError
from blockwright.pattern import tolerance
from blockwright.pattern.groups import grouped
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Given, Run
from blockwright.pattern.ref import Ref


class Takes(NamedTuple):
    """The label and role of an edge, its allowance, mm, and whether it was given by its name."""

    label: str
    role: str
    width: float
    given: bool


def sewn_together(pattern: Pattern) -> list[set[Ref]]:
    """The edges that promised seams sew together, in groups.

    An edge that is sewn to a given length, or to itself on the other copy, is a group alone.
    """
    pairs: list[tuple[Ref, ...]] = []
    for a, b in pattern.sewn:
        pairs += [(step.edge,) for step in (*a, *b) if not isinstance(step, Given)]
        pairs += _partners(pattern, a, b)
    return [{*group} for group in grouped(pairs)]


def agreed(groups: Sequence[set[Ref]], takes: Mapping[Ref, Takes]) -> dict[Ref, float]:
    """The allowance of every edge of the groups, mm.

    The edges of a group agree.  Where their roles say unlike allowances, that of a role other than
    'seam' counts, as a collar takes what the neck takes; of several unlike ones the narrowest.
    Raises InputError if one edge was given an allowance by its name that another has not.
    """
    found: dict[Ref, float] = {}
    for group in groups:
        edges = sorted(edge for edge in group if edge in takes and takes[edge].role != "dart")
        if not edges:
            continue
        each = [takes[edge] for edge in edges]
        by_role = [take for take in each if not take.given]
        width = _by_role(by_role) if by_role else each[0].width
        for take in each:
            if abs(take.width - width) > tolerance.ROUNDED and take.given:
                other = next(other for other in (*by_role, *each) if other is not take)
                raise InputError.coded(
                    "finish.sides-differ",
                    edge=take.label, width=Length(take.width, Unit.MM),
                    other=other.label, has=Length(width, Unit.MM),
                )  # fmt: skip
        found.update(dict.fromkeys(edges, width))
    return found


def _by_role(takes: Sequence[Takes]) -> float:
    special = [take.width for take in takes if take.role != "seam"]
    return min(special or [take.width for take in takes])


def _partners(pattern: Pattern, a: Run, b: Run) -> Iterator[tuple[Ref, Ref]]:
    """The edges of two runs that lie on each other.

    Both runs are walked by their share of the length, as ease is spread.  Where they have several
    edges, two lie on each other if they do so for longer than the runs differ by.
    """
    first, second = _shares(pattern, a), _shares(pattern, b)
    lengths = [sum(length for _, length in each) for each in (first, second)]
    apart = abs(lengths[0] - lengths[1]) + tolerance.LENGTH
    several = len(first) > 1 and len(second) > 1
    places = [
        [sum(length for _, length in each[:i]) / max(total, tolerance.CORNER) * lengths[0]
         for i in range(len(each) + 1)]
        for each, total in zip((first, second), lengths, strict=True)
    ]  # fmt: skip
    for (one, _), (low, high) in zip(first, pairwise(places[0]), strict=True):
        for (other, _), (least, most) in zip(second, pairwise(places[1]), strict=True):
            both = min(high, most) - max(low, least)
            if one and other and both > (apart if several else tolerance.ROUNDED):
                yield one, other


def _shares(pattern: Pattern, run: Run) -> list[tuple[Ref | None, float]]:
    """The edge of each step of a run, None for a given length, and its length, mm."""
    return [
        (None, step.length) if isinstance(step, Given)
        else (step.edge, pattern.length(step.edge))
        for step in run
    ]  # fmt: skip
