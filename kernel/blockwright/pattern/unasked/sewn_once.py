"""Every edge that is to be sewn is sewn once, on as many copies as its partner has."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Sequence

from blockwright.pattern.copies import copies
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.ref import Ref
from blockwright.pattern.results import Reason, Result, Value
from blockwright.pattern.unasked.sewings import (
    Sewing,
    copies_there,
    how_often,
    lacks,
    offered_edges,
    open_edges,
)

SEWN_ROLES = ("seam", "armhole", "neck", "waist")
"""The roles of edges that need a partner."""


def sewn_once(pattern: Pattern, groups: Sequence[Sequence[Sewing]]) -> Iterator[Result]:
    """A result for each edge without a partner and for each seam whose copies do not come out even.

    `groups` are the seams, as `sewing_groups` gives them.  One result that holds if there is none.
    An edge may do without a partner if `Unsewn` says so, or if its block offers it and is drafted
    alone.
    """
    spare = open_edges(pattern)
    faults = [*_alone(pattern, spare), *_uneven(pattern, groups, spare)]
    if not faults:
        faults = [_result("sewing.once", Ref(pattern.pieces[0].block, ""), 0, None)]
    yield from faults


def _result(code: str, subject: Ref, count: int, why: Reason | None) -> Result:
    return Result(code, subject, "count", (0.0, 0.0), float(count), 0.0, why=why)


def _alone(pattern: Pattern, spare: set[Ref]) -> Iterator[Result]:
    """Edges that are in no seam."""
    partnered = pattern.sewn_edges | spare
    for piece in pattern.pieces:
        for name, role in {each.name: each.role for each in piece.edges}.items():
            edge = Ref(piece.block, name)
            if role in SEWN_ROLES and edge not in partnered:
                code = "sewing.offered" if _offers(pattern, edge) else "sewing.alone"
                why = Reason(code, {"edge": edge, "piece": piece.ref, "role": role})
                yield _result("sewing.partner", edge, 1, why)


def _offers(pattern: Pattern, edge: Ref) -> bool:
    return edge in offered_edges(pattern)


def _uneven(
    pattern: Pattern, groups: Sequence[Sequence[Sewing]], spare: set[Ref]
) -> Iterator[Result]:
    """Seams whose copies do not come out even, and edges that are sewn twice."""
    for group in groups:
        there = copies_there(pattern, (edge for each in group for edge in each.edges))
        if any(lacks(each, there) for each in group):
            continue  # the seam itself tells of copies that cannot come together
        if how_often([each.ways for each in group], there, spare) is not None:
            continue
        often = Counter(edge for each in group for edge in each.edges)
        twice = [edge for edge, times in often.items() if times > 1]
        for edge in twice:
            seams = tuple(each.name for each in group if edge in each.edges)
            why = Reason("sewing.several", {"edge": edge, "seams": seams})
            yield _result("sewing.twice", edge, len(seams) - 1, why)
        if not twice:
            yield _result("sewing.copies", group[0].name, 1, _counted(pattern, group[0]))


def _counted(pattern: Pattern, sewing: Sewing) -> Reason:
    """The edges with the most and with the fewest copies for their part in the seam."""

    def total(edge: Ref) -> float:
        used = sum(way[edge, side] for way in sewing.ways for side in (True, False))
        return sum(copies(pattern.owner(edge)).values()) / used

    ordered = sorted(sewing.edges, key=total)
    few, many = ordered[0], ordered[-1]
    values: dict[str, Value] = {
        "few": few, "cut": sum(copies(pattern.owner(few)).values()),
        "many": many, "times": sum(copies(pattern.owner(many)).values()),
    }  # fmt: skip
    return Reason("sewing.unlike-copies" if total(few) < total(many) else "sewing.way-up", values)
