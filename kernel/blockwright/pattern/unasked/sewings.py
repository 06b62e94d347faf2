"""The seams of a pattern, and how often each is sewn so that the copies come out even."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import chain

from blockwright.pattern.copies import Need, copies, need
from blockwright.pattern.groups import grouped
from blockwright.pattern.pattern import Pattern, Promise
from blockwright.pattern.piece import Run, Way
from blockwright.pattern.promises.seam import Seam
from blockwright.pattern.promises.unsewn import Unsewn
from blockwright.pattern.ref import Ref

There = Mapping[tuple[Ref, bool], int]
"""How many copies of each edge there are, on pieces cut as drawn (True) and on others (False)."""


@dataclass(frozen=True, slots=True)
class Sewing:
    """A seam, with the edges it needs where run `a` lies on the left, and where it lies right.

    `ways` are both; a seam that needs the same either way has only one.  `over`: it lies over
    another seam.
    """

    name: Ref
    a: Run
    b: Run
    ways: tuple[Need, ...]
    over: bool

    @property
    def edges(self) -> dict[Ref, None]:
        """The edges that it sews, in order."""
        return dict.fromkeys(edge for edge, _ in chain.from_iterable(self.ways))


def sewing_groups(pattern: Pattern) -> list[list[Sewing]]:
    """The seams in groups that share edges.  A seam over another is a group of its own."""
    sewings = [_sewing(promise, *runs) for promise in pattern.promises if (runs := promise.sewn)]
    plain = [each for each in sewings if each.edges and not each.over]
    groups = [
        [each for each in plain if each.edges.keys() <= {*edges}]
        for edges in grouped(each.edges for each in plain)
    ]
    return groups + [[each] for each in sewings if each.over]


def _sewing(promise: Promise, a: Run, b: Run) -> Sewing:
    left, right = (need(a, left=left) + need(b, left=not left) for left in (True, False))
    ways = (left,) if left == right else (left, right)
    return Sewing(promise.ref, a, b, ways, isinstance(promise, Seam) and promise.over)


def copies_there(pattern: Pattern, edges: Iterable[Ref]) -> There:
    """How many copies of each of these edges are cut."""
    return {
        (edge, as_drawn): count
        for edge in edges
        for as_drawn, count in copies(pattern.owner(edge)).items()
    }


def open_edges(pattern: Pattern) -> set[Ref]:
    """Edges that may do without a partner: those of `Unsewn`, and those a lone block offers."""
    said = {promise.edge for promise in pattern.promises if isinstance(promise, Unsewn)}
    return said if len(pattern.origins) > 1 else said | offered_edges(pattern)


def offered_edges(pattern: Pattern) -> set[Ref]:
    """The edges that other blocks may be sewn to."""
    runs = pattern.offers.values()
    return {step.edge for run in runs for step in run if isinstance(step, Way)}


def lacks(sewing: Sewing, there: There) -> bool:
    """Whether there are too few copies to sew the seam even once."""
    return not any(_times(way, there) for way in sewing.ways)


def how_often(
    seams: Sequence[tuple[Need, ...]], there: There, spare: set[Ref]
) -> list[tuple[int, int]] | None:
    """How often each seam is sewn either way, so that only `spare` edges are left.

    None if the copies cannot come out like that.
    """
    if not seams:
        return [] if all(not left or edge in spare for (edge, _), left in there.items()) else None
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
            if not 0 <= more <= most or not times + more:
                continue
            rest = how_often(others, _without(left, second, more), spare)
            if rest is not None:
                return [(times, more), *rest]
    return None


def _times(way: Need, there: There) -> int:
    """How often these edges can be sewn with the copies that there are."""
    return min(there[edge] // often for edge, often in way.items())


def _without(there: There, way: Need, times: int) -> There:
    return {part: count - times * way[part] for part, count in there.items()}
