"""The openings of a garment, and garments that nobody can get into or out of."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
from itertools import chain

from blockwright.pattern.pattern import Pattern
from blockwright.pattern.ref import Ref
from blockwright.pattern.results import Reason, Result
from blockwright.pattern.unasked.sewn_copies import Copy, SewnCopies


@dataclass(frozen=True, slots=True)
class Opening:
    """The edges round an opening, and their length, mm.

    There are `times` openings like it, such as two armholes.
    """

    edges: tuple[Ref, ...]
    length: float
    times: int


def openings(pattern: Pattern, sewn: SewnCopies) -> Iterator[Opening]:
    """The openings, in the order of their edges."""
    edges = (Ref(piece.block, name) for piece in pattern.pieces for name in piece.edge_names())
    order = {edge: number for number, edge in enumerate(edges)}
    found = Counter(tuple(sorted(loop, key=order.__getitem__)) for loop, _ in sewn.loops)
    for loop, times in found.items():
        length = math.fsum(map(pattern.length, loop))
        yield Opening(tuple(dict.fromkeys(loop)), length, times)


def shut_or_crossed(sewn: SewnCopies) -> Iterator[Result]:
    """A result for each garment that has no opening, and for each that leads through itself."""
    loops = Counter(id(sewn.joined[copy]) for _, copy in sewn.loops)
    for joined in {id(each): each for each in sewn.joined.values()}.values():
        pieces = tuple(dict.fromkeys(each.piece for each in sorted(joined)))
        if joined & sewn.elsewhere:
            continue
        if not loops[id(joined)]:
            yield Result(
                "sewing.shut", pieces[0], "count", (1.0, math.inf), 0.0, 0.0,
                why=Reason("sewing.open-one", {"pieces": pieces}),
            )  # fmt: skip
        elif through := _through(sewn, joined, loops[id(joined)]):
            yield Result(
                "sewing.crossed", pieces[0], "count", (0.0, 0.0), float(through), 0.0,
                why=Reason("sewing.uncross", {"pieces": pieces}), warning=True,
            )  # fmt: skip


def several_openings(pattern: Pattern, sewn: SewnCopies) -> Iterator[Result]:
    """A warning where the necks, or the waists, of a block are not all round one opening."""
    found: dict[tuple[str, str], list[list[Ref]]] = {}
    for loop, copy in sewn.loops:
        if not sewn.joined[copy] & sewn.elsewhere:
            for role in ("neck", "waist"):
                edges = [edge for edge in loop if pattern.stretches(edge)[0].role == role]
                for block in {edge.block for edge in edges}:
                    found.setdefault((block, role), []).append(edges)
    for (_, role), loops in found.items():
        if len(loops) > 1:
            edges = [*dict.fromkeys(chain.from_iterable(loops))]
            yield Result(
                "sewing.several-openings", edges[0], "count", (0.0, 1.0), float(len(loops)), 0.0,
                {"role": role}, Reason("sewing.one-body", {"edges": tuple(edges)}), warning=True,
            )  # fmt: skip


def _through(sewn: SewnCopies, joined: set[Copy], loops: int) -> int:
    """How often a garment leads through itself: the genus of its surface, 0 if all is well.

    Source: the Euler characteristic of a surface with edges, V - E + F = 2 - 2 genus - loops.
    Openings that touch have no such number, and 0 is given.
    """
    places = {sewn.place((at, copy)) for copy in joined for at in sewn.corners[copy.piece]}
    free = [ends for (_, copy), *ends in sewn.free_edges() if copy in joined]
    if any(often != 2 for often in Counter(chain.from_iterable(free)).values()):
        return 0
    lines = len(free) + sum(count for copy, count in sewn.lines if copy in joined)
    return max((2 - loops - (len(places) - lines + len(joined))) // 2, 0)
