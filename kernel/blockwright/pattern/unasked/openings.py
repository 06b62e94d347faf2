"""The openings of a garment: where nothing is sewn to the edges of its pieces."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator
from dataclasses import dataclass
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
        for piece in pattern.pieces:
            self._corners.update(corners_of_edges(piece))
            self._lay_out(piece)
        spare = open_edges(pattern)
        for group in sewing_groups(pattern):
            there = copies_there(pattern, (edge for each in group for edge in each.edges))
            often = how_often([each.ways for each in group], there, spare) or ()
            for sewing, times in zip(group, often, strict=False):
                if not sewing.over:
                    self._sew(sewing, times)

    def openings(self) -> Iterator[Opening]:
        """The openings, in the order of their edges."""
        order = {edge: number for number, edge in enumerate(self._corners)}
        found: Counter[tuple[Ref, ...]] = Counter()
        for group in grouped([*self._met, *self._free_edges()]):
            edges = [each[0] for each in group if isinstance(each[0], Ref)]
            if edges:
                found[tuple(sorted(edges, key=order.__getitem__))] += 1
        for loop, times in found.items():
            length = math.fsum(map(self._pattern.length, loop))
            yield Opening(tuple(dict.fromkeys(loop)), length, times)

    def shut(self) -> Iterator[Result]:
        """A result for each garment without an opening: nobody can turn it or get into it."""
        open_copies = {copy for (_, copy), *_ in self._free_edges()} | self._elsewhere
        told: set[_Copy] = set()
        for copy, joined in self._joined.items():
            if copy not in told and not joined & open_copies:
                told |= joined
                pieces = tuple(dict.fromkeys(each.piece for each in sorted(joined)))
                yield Result(
                    "sewing.shut", copy.piece, "count", (1.0, math.inf), 0.0, 0.0,
                    why=Reason("sewing.open-one", {"pieces": pieces}),
                )  # fmt: skip

    def _free_edges(self) -> Iterator[tuple[_Place, _Place, _Place]]:
        """Each edge of a copy that nothing is sewn to, with its two corners."""
        for (edge, _), there in self._free.items():
            start, end = self._corners[edge]
            for copy in there:
                yield (edge, copy), (start, copy), (end, copy)

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
                self._join([one, other])

    def _sew(self, sewing: Sewing, times: tuple[int, int]) -> None:
        """Sew a seam as often as `times` says with run a on the left, and with it on the right."""
        for left, often in zip((True, False), times, strict=True):
            for _ in range(often):
                a = self._take(sewing.a, left, [])
                b = self._take(sewing.b, not left, a)
                sewn = [copy for copy in (*a, *b) if copy]
                if len(sewn) < len(a) + len(b):
                    self._elsewhere.update(sewn)
                for at, back in ((0, False), (-1, True)):
                    first, second = a[at], b[at]
                    if first and second:
                        one = self._start(sewing.a[at], back), first
                        self._met.append((one, (self._start(sewing.b[at], back), second)))
                self._join(sewn)

    def _start(self, step: Way | Given, back: bool) -> Joint:
        """The corner where an edge starts as it is walked, or where it ends."""
        assert isinstance(step, Way)
        return self._corners[step.edge][step.forward == back]

    def _take(self, run: Run, left: bool, partner: list[_Copy | None]) -> list[_Copy | None]:
        """A copy for each edge of a run, and None for a given length.

        Where there is a choice, the copies of a run hang together, and it is sewn to a partner that
        it does not hang together with: six equal panels make one skirt, not six tubes.
        """
        taken: list[_Copy | None] = []
        for step in run:
            if not isinstance(step, Way):
                taken.append(None)
                continue
            there = self._free[step.edge, step.forward == left]
            copy = min(there, key=lambda copy: self._choice(copy, taken, partner))
            there.remove(copy)
            taken.append(copy)
        return taken

    def _choice(
        self, copy: _Copy, run: list[_Copy | None], partner: list[_Copy | None]
    ) -> tuple[bool, bool, int, int]:
        joined = self._joined[copy]
        hangs_on_run = any(each in joined for each in run)
        hangs_on_partner = any(each in joined for each in partner)
        return hangs_on_partner, not hangs_on_run, len(joined), copy.number

    def _join(self, some: list[_Copy]) -> None:
        whole = set().union(*(self._joined[copy] for copy in some))
        for copy in whole:
            self._joined[copy] = whole
