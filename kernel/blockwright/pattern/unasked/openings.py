"""The openings of a garment: where nothing is sewn to the edges of its pieces."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import chain
from typing import NamedTuple

from blockwright.pattern.copies import copies
from blockwright.pattern.groups import grouped
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Given, Piece, Run, Way
from blockwright.pattern.ref import Joint, Ref
from blockwright.pattern.results import Reason, Result
from blockwright.pattern.unasked.seam_corners import corners_of_edges
from blockwright.pattern.unasked.sewings import (
    Sewing,
    copies_there,
    how_often,
    open_edges,
    sewing_groups,
)


@dataclass(frozen=True, slots=True)
class Opening:
    """The edges round an opening, and their length, mm.

    There are `times` openings like it, such as two armholes.
    """

    edges: tuple[Ref, ...]
    length: float
    times: int


class _Copy(NamedTuple):
    """A copy of a piece.  Each half of a piece on the fold is a copy of its own."""

    piece: Ref
    as_drawn: bool
    number: int


_Copies = Sequence[_Copy | None]
"""The copies in a run, None for a given length."""
_Place = tuple[Joint | Ref, _Copy]
"""A corner or an edge of a copy."""


class SewnCopies:
    """The copies of all pieces of a pattern as its seams join them.

    Every edge is sewn once.  A seam over another closes nothing: the inner edge of a folded band
    stays the edge of its opening.  So does the free edge of a facing.
    """

    def __init__(self, pattern: Pattern) -> None:
        self._pattern = pattern
        self._corners: dict[Ref, tuple[Joint, Joint]] = {}
        self._free: dict[tuple[Ref, bool], list[_Copy]] = {}  # the copies of each edge, unsewn
        self._met: list[tuple[_Place, _Place]] = []  # the corners that come together
        self._joined: dict[_Copy, set[_Copy]] = {}  # the copies that hang together with each
        self._elsewhere: set[_Copy] = set()  # the copies sewn to what is not drafted here
        self._lines: list[tuple[_Copy, int]] = []  # how many lines each fold and seam makes
        self._of_piece: dict[Ref, set[Joint]] = {}  # the corners of each piece
        for piece in pattern.pieces:
            its = corners_of_edges(piece)
            self._corners.update(its)
            self._of_piece[piece.ref] = {*chain.from_iterable(its.values())}
            self._lay_out(piece)
        spare = open_edges(pattern)
        for group in sewing_groups(pattern):
            there = copies_there(pattern, (edge for each in group for edge in each.edges))
            often = how_often([each.ways for each in group], there, spare) or ()
            for sewing, times in zip(group, often, strict=False):
                if not sewing.over:
                    self._sew(sewing, times)
        self._places = {corner: group[0] for group in grouped(self._met) for corner in group}

    def openings(self) -> Iterator[Opening]:
        """The openings, in the order of their edges."""
        order = {edge: number for number, edge in enumerate(self._corners)}
        found = Counter(tuple(sorted(loop, key=order.__getitem__)) for loop, _ in self._loops())
        for loop, times in found.items():
            length = math.fsum(map(self._pattern.length, loop))
            yield Opening(tuple(dict.fromkeys(loop)), length, times)

    def faults(self) -> Iterator[Result]:
        """A result for each garment that has no opening or leads through itself."""
        loops = Counter(id(self._joined[copy]) for _, copy in self._loops())
        for joined in {id(each): each for each in self._joined.values()}.values():
            pieces = tuple(dict.fromkeys(each.piece for each in sorted(joined)))
            if joined & self._elsewhere:
                continue
            if not loops[id(joined)]:
                yield Result(
                    "sewing.shut", pieces[0], "count", (1.0, math.inf), 0.0, 0.0,
                    why=Reason("sewing.open-one", {"pieces": pieces}),
                )  # fmt: skip
            elif through := self._through(joined, loops[id(joined)]):
                yield Result(
                    "sewing.crossed", pieces[0], "count", (0.0, 0.0), float(through), 0.0,
                    why=Reason("sewing.uncross", {"pieces": pieces}), warning=True,
                )  # fmt: skip

    def several_openings(self) -> Iterator[Result]:
        """A warning where the necks, or the waists, of a block are not all round one opening."""
        found: dict[tuple[str, str], list[list[Ref]]] = {}
        for loop, copy in self._loops():
            if not self._joined[copy] & self._elsewhere:
                for role in ("neck", "waist"):
                    edges = [e for e in loop if self._pattern.stretches(e)[0].role == role]
                    for block in {edge.block for edge in edges}:
                        found.setdefault((block, role), []).append(edges)
        for (_, role), loops in found.items():
            if len(loops) > 1:
                edges = [*dict.fromkeys(chain.from_iterable(loops))]
                yield Result(
                    "sewing.several-openings", edges[0], "count", (0.0, 1.0), float(len(loops)),
                    0.0, {"role": role}, Reason("sewing.one-body", {"edges": tuple(edges)}),
                    warning=True,
                )  # fmt: skip

    def _through(self, joined: set[_Copy], loops: int) -> int:
        """How often a garment leads through itself: the genus of its surface, 0 if all is well.

        Source: the Euler characteristic of a surface with edges, V - E + F = 2 - 2 genus - loops.
        Openings that touch have no such number, and 0 is given.
        """
        places = {
            self._place((corner, copy)) for copy in joined for corner in self._of_piece[copy.piece]
        }
        free = [ends for (_, copy), *ends in self._free_edges() if copy in joined]
        if any(often != 2 for often in Counter(chain.from_iterable(free)).values()):
            return 0
        lines = len(free) + sum(count for copy, count in self._lines if copy in joined)
        return max((2 - loops - (len(places) - lines + len(joined))) // 2, 0)

    def _loops(self) -> Iterator[tuple[list[Ref], _Copy]]:
        """The edges round each opening, and a copy that has one of them."""
        for group in grouped(self._free_edges()):
            edges = [(each[0], each[1]) for each in group if isinstance(each[0], Ref)]
            yield [edge for edge, _ in edges], edges[0][1]

    def _free_edges(self) -> Iterator[tuple[_Place, _Place, _Place]]:
        """Each edge of a copy that nothing is sewn to, and the places of its two corners."""
        for (edge, _), there in self._free.items():
            start, end = self._corners[edge]
            for copy in there:
                yield (edge, copy), self._place((start, copy)), self._place((end, copy))

    def _place(self, corner: _Place) -> _Place:
        """The first of the corners that come together with this one."""
        return self._places.get(corner, corner)

    def _lay_out(self, piece: Piece) -> None:
        """The copies of a piece, joined at its folds.  Each fold joins other pairs."""
        there = copies(piece)
        for as_drawn, count in there.items():
            made = [_Copy(piece.ref, as_drawn, number) for number in range(count)]
            self._joined.update((copy, {copy}) for copy in made)
            for edge in piece.edges:
                if edge.role not in ("fold", "dart"):
                    self._free[Ref(piece.block, edge.name), as_drawn] = [*made]
        folds = [edge.name for edge in piece.edges if edge.role == "fold"]
        for turn, name in enumerate(folds):
            for number in range(there[True]):
                one = _Copy(piece.ref, True, number)
                other = _Copy(piece.ref, False, (number + turn) % there[True])
                for corner in self._corners[Ref(piece.block, name)]:
                    self._met.append(((corner, one), (corner, other)))
                self._lines.append((one, 1))
                self._join([one, other])

    def _sew(self, sewing: Sewing, times: tuple[int, int]) -> None:
        """Sew a seam as often as `times` says with run a on the left, and with it on the right."""
        before: list[list[_Copy | None]] = []  # of run b, a list each time it is sewn
        for left, often in zip((True, False), times, strict=True):
            for number in range(often):
                a = self._take(sewing.a, left)
                mirrored = () if left or number >= len(before) else before[number]
                b = self._take(sewing.b, not left, a, mirrored)
                before.append(b)
                sewn = [copy for copy in (*a, *b) if copy]
                if len(sewn) < len(a) + len(b):
                    self._elsewhere.update(sewn)
                for at, back in ((0, False), (-1, True)):
                    first, second = a[at], b[at]
                    if first and second:
                        one = self._start(sewing.a[at], back), first
                        self._met.append((one, (self._start(sewing.b[at], back), second)))
                if sewn:
                    self._lines.append((sewn[0], len(a) + len(b) - 1))
                self._join(sewn)

    def _start(self, step: Way | Given, back: bool) -> Joint:
        """The corner where an edge starts as it is walked, or where it ends."""
        assert isinstance(step, Way)
        return self._corners[step.edge][step.forward == back]

    def _take(
        self, run: Run, left: bool, partner: _Copies = (), mirrored: _Copies = ()
    ) -> list[_Copy | None]:
        """A copy for each edge of a run, and None for a given length.

        Where there is a choice, the copies of a run hang together, and it is sewn to a partner that
        it does not hang together with: six equal panels make one skirt, not six tubes.  The other
        side of the garment is sewn as this one: `mirrored` are the copies that were taken there.
        """
        taken: list[_Copy | None] = []
        for i, step in enumerate(run):
            if not isinstance(step, Way):
                taken.append(None)
                continue
            there = self._free[step.edge, step.forward == left]
            like = each.number if mirrored and (each := mirrored[i]) else None
            copy = min(there, key=lambda copy: self._choice(copy, like, taken, partner))
            there.remove(copy)
            taken.append(copy)
        return taken

    def _choice(
        self, copy: _Copy, like: int | None, run: _Copies, partner: _Copies
    ) -> tuple[bool, bool, bool, int, int]:
        joined = self._joined[copy]
        hangs_on_run = any(each in joined for each in run)
        hangs_on_partner = any(each in joined for each in partner)
        unlike = like is not None and copy.number != like
        return unlike, hangs_on_partner, not hangs_on_run, len(joined), copy.number

    def _join(self, some: list[_Copy]) -> None:
        whole = set().union(*(self._joined[copy] for copy in some))
        for copy in whole:
            self._joined[copy] = whole
