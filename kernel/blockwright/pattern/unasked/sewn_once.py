"""Every edge that is to be sewn is sewn once, on as many copies as its partner has."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain

from blockwright.pattern.copies import Need, copies, need
from blockwright.pattern.groups import grouped
from blockwright.pattern.pattern import Pattern, Promise
from blockwright.pattern.piece import Run, Way
from blockwright.pattern.promises.seam import Seam
from blockwright.pattern.promises.unsewn import Unsewn
from blockwright.pattern.ref import Ref
from blockwright.pattern.results import Reason, Result, Value

SEWN_ROLES = ("seam", "armhole", "neck", "waist")
"""The roles of edges that need a partner."""


@dataclass(frozen=True, slots=True)
class _Sewing:
    """A seam, with the edges it needs where run `a` lies on the left, and where it lies right.

    `ways` are both; a seam that needs the same either way has only one.  `over`: it lies over
    another seam.
    """

    name: Ref
    ways: tuple[Need, ...]
    over: bool

    @property
    def edges(self) -> dict[Ref, None]:
        """The edges that it sews, in order."""
        return dict.fromkeys(edge for edge, _ in chain.from_iterable(self.ways))


def sewn_once(pattern: Pattern) -> Iterator[Result]:
    """A result for each edge without a partner and for each seam whose copies do not come out even.

    One result that holds if there is none.  An edge may do without a partner if `Unsewn` says so,
    or if its block offers it and is drafted alone.
    """
    sewings = [_sewing(promise, *runs) for promise in pattern.promises if (runs := promise.sewn)]
    open_edges = _open_edges(pattern)
    faults = [*_alone(pattern, open_edges), *_uneven(pattern, sewings, open_edges)]
    if not faults:
        faults = [_result("sewing.once", Ref(pattern.pieces[0].block, ""), 0, None)]
    yield from faults


def _result(code: str, subject: Ref, count: int, why: Reason | None) -> Result:
    return Result(code, subject, "count", (0.0, 0.0), float(count), 0.0, why=why)


def _sewing(promise: Promise, a: Run, b: Run) -> _Sewing:
    left, right = (need(a, left=left) + need(b, left=not left) for left in (True, False))
    ways = (left,) if left == right else (left, right)
    return _Sewing(promise.ref, ways, isinstance(promise, Seam) and promise.over)


def _open_edges(pattern: Pattern) -> set[Ref]:
    """Edges that may do without a partner."""
    said = {promise.edge for promise in pattern.promises if isinstance(promise, Unsewn)}
    if len(pattern.origins) > 1:
        return said
    runs = pattern.offers.values()
    return said | {step.edge for run in runs for step in run if isinstance(step, Way)}


def _alone(pattern: Pattern, open_edges: set[Ref]) -> Iterator[Result]:
    """Edges that are in no seam."""
    partnered = pattern.sewn_edges | open_edges
    for piece in pattern.pieces:
        for name, role in {each.name: each.role for each in piece.edges}.items():
            edge = Ref(piece.block, name)
            if role in SEWN_ROLES and edge not in partnered:
                code = "sewing.offered" if _offers(pattern, edge) else "sewing.alone"
                why = Reason(code, {"edge": edge, "piece": piece.ref, "role": role})
                yield _result("sewing.partner", edge, 1, why)


def _offers(pattern: Pattern, edge: Ref) -> bool:
    return any(
        isinstance(step, Way) and step.edge == edge
        for run in pattern.offers.values()
        for step in run
    )


def _uneven(pattern: Pattern, sewings: Sequence[_Sewing], open_edges: set[Ref]) -> Iterator[Result]:
    """Seams whose copies do not come out even, and edges that are sewn twice."""
    cut = {piece.ref: copies(piece) for piece in pattern.pieces}
    for group in _groups(sewings):
        there = {
            (edge, as_drawn): count
            for each in group
            for edge in each.edges
            for as_drawn, count in cut[pattern.owner(edge).ref].items()
        }
        if any(_lacks(each, there) for each in group) or _comes_out(group, there, open_edges):
            continue  # the seam itself tells of copies that cannot come together
        often = Counter(edge for each in group for edge in each.edges)
        twice = [edge for edge, times in often.items() if times > 1]
        for edge in twice:
            seams = tuple(each.name for each in group if edge in each.edges)
            why = Reason("sewing.several", {"edge": edge, "seams": seams})
            yield _result("sewing.twice", edge, len(seams) - 1, why)
        if not twice:
            yield _result("sewing.copies", group[0].name, 1, _counted(pattern, group[0]))


def _groups(sewings: Sequence[_Sewing]) -> list[list[_Sewing]]:
    """The seams in groups that share edges.  A seam over another is a group of its own."""
    plain = [each for each in sewings if each.edges and not each.over]
    groups = [
        [each for each in plain if each.edges.keys() <= {*edges}]
        for edges in grouped(each.edges for each in plain)
    ]
    return groups + [[each] for each in sewings if each.over]


def _lacks(sewing: _Sewing, there: Mapping[tuple[Ref, bool], int]) -> bool:
    """Whether there are too few copies to sew the seam even once."""
    return not any(_times(way, there) for way in sewing.ways)


def _times(way: Need, there: Mapping[tuple[Ref, bool], int]) -> int:
    """How often these edges can be sewn with the copies that there are."""
    return min(there[edge] // often for edge, often in way.items())


def _comes_out(
    group: Sequence[_Sewing], there: Mapping[tuple[Ref, bool], int], open_edges: set[Ref]
) -> bool:
    """Whether the seams can use up all copies, but those of edges that may do without a partner."""
    return _use_up([each.ways for each in group], dict(there), open_edges)


def _use_up(
    seams: Sequence[tuple[Need, ...]], there: dict[tuple[Ref, bool], int], spare: set[Ref]
) -> bool:
    """Whether each seam can be sewn once or more so that only `spare` edges are left."""
    if not seams:
        return all(not left or edge in spare for (edge, _), left in there.items())
    (first, *ways), *others = seams
    second = ways[0] if ways else Need()
    later = spare | {edge for ways in others for way in ways for edge, _ in way}
    # Edges that no later seam needs are used up now, which says how often.
    now = [part for part in second if part[0] not in later]
    for times in range(_times(first, there), -1, -1):
        left = _without(there, first, times)
        most = _times(second, left) if second else 0
        often = {left[part] // second[part] for part in now} or range(most, -1, -1)
        for more in often:
            can = times + more > 0 and more <= most
            if can and _use_up(others, _without(left, second, more), spare):
                return True
    return False


def _without(
    there: dict[tuple[Ref, bool], int], way: Need, times: int
) -> dict[tuple[Ref, bool], int]:
    return {part: count - times * way[part] for part, count in there.items()}


def _counted(pattern: Pattern, sewing: _Sewing) -> Reason:
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
