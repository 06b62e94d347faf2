"""The copies of all pieces of a pattern, laid out and sewn together as its seams say."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import NamedTuple

from blockwright.pattern.copies import copies
from blockwright.pattern.groups import grouped
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Given, Piece, Run, Way
from blockwright.pattern.ref import Joint, Ref
from blockwright.pattern.unasked.seam_corners import corners_of_edges
from blockwright.pattern.unasked.sewings import (
    Sewing,
    copies_there,
    how_often,
    open_edges,
)


class Copy(NamedTuple):
    """A copy of a piece.  Each half of a piece on the fold is a copy of its own."""

    piece: Ref
    as_drawn: bool
    number: int


Copies = Sequence[Copy | None]
"""The copies in a run, None for a given length."""
Place = tuple[int | Ref, Copy]
"""A corner, by its number, or an edge of a copy."""


class SewnCopies:
    """The copies of all pieces of a pattern as its seams join them.

    Every edge is sewn once.  A seam over another closes nothing: the inner edge of a folded band
    stays the edge of its opening.  So does the free edge of a facing.

    It is `complete` if every seam can be sewn.  `loops` has the edges round each opening, and a
    copy that has one of them.  `joined` are the copies that hang together with each copy, itself
    among them, and `elsewhere` those that are sewn to what is not drafted here.  `corners` are the
    numbers of those of each piece.  `lines` has a copy of each fold and each seam, and how many
    lines it makes of them.
    """

    def __init__(self, pattern: Pattern, groups: Sequence[Sequence[Sewing]]) -> None:
        """`groups` are the seams, as `sewing_groups` gives them."""
        self.complete = True
        self.joined: dict[Copy, set[Copy]] = {}
        self.elsewhere: set[Copy] = set()
        self.corners: dict[Ref, set[int]] = {}
        self.lines: list[tuple[Copy, int]] = []
        self._ends: dict[Ref, tuple[int, int]] = {}  # the corners of each edge
        self._free: dict[tuple[Ref, bool], list[Copy]] = {}  # the copies of each edge, unsewn
        self._met: list[tuple[Place, Place]] = []  # the corners that come together
        numbers: dict[Joint, int] = {}
        for piece in pattern.pieces:
            for edge, ends in corners_of_edges(piece).items():
                start, end = (numbers.setdefault(each, len(numbers)) for each in ends)
                self._ends[edge] = start, end
                self.corners.setdefault(piece.ref, set()).update((start, end))
            self._lay_out(piece)
        spare = open_edges(pattern)
        for group in groups:
            there = copies_there(pattern, (edge for each in group for edge in each.edges))
            often = how_often([each.ways for each in group], there, spare)
            self.complete = self.complete and often is not None
            for sewing, times in zip(group, often or (), strict=False):
                if not sewing.over:
                    self._sew(sewing, times)
        self._places = {corner: group[0] for group in grouped(self._met) for corner in group}
        self.loops = [*self._loops()]

    def free_edges(self) -> Iterator[tuple[Place, Place, Place]]:
        """Each edge of a copy that nothing is sewn to, and the places of its two corners."""
        for (edge, _), there in self._free.items():
            start, end = self._ends[edge]
            for copy in there:
                yield (edge, copy), self.place((start, copy)), self.place((end, copy))

    def _loops(self) -> Iterator[tuple[list[Ref], Copy]]:
        for group in grouped(self.free_edges()):
            edges = [(each[0], each[1]) for each in group if isinstance(each[0], Ref)]
            yield [edge for edge, _ in edges], edges[0][1]

    def place(self, corner: Place) -> Place:
        """The first of the corners that come together with this one."""
        return self._places.get(corner, corner)

    def _lay_out(self, piece: Piece) -> None:
        """The copies of a piece, joined at its folds.  Each fold joins other pairs."""
        there = copies(piece)
        for as_drawn, count in there.items():
            made = [Copy(piece.ref, as_drawn, number) for number in range(count)]
            self.joined.update((copy, {copy}) for copy in made)
            for edge in piece.edges:
                if edge.role not in ("fold", "dart"):
                    self._free[Ref(piece.block, edge.name), as_drawn] = [*made]
        folds = [edge.name for edge in piece.edges if edge.role == "fold"]
        for turn, name in enumerate(folds):
            for number in range(there[True]):
                one = Copy(piece.ref, True, number)
                other = Copy(piece.ref, False, (number + turn) % there[True])
                for corner in self._ends[Ref(piece.block, name)]:
                    self._met.append(((corner, one), (corner, other)))
                self.lines.append((one, 1))
                self._join([one, other])

    def _sew(self, sewing: Sewing, times: tuple[int, int]) -> None:
        """Sew a seam as often as `times` says with run a on the left, and with it on the right."""
        before: list[list[Copy | None]] = []  # of run b, a list each time it is sewn
        for left, often in zip((True, False), times, strict=True):
            for number in range(often):
                a = self._take(sewing.a, left)
                mirrored = () if left or number >= len(before) else before[number]
                b = self._take(sewing.b, not left, a, mirrored)
                before.append(b)
                sewn = [copy for copy in (*a, *b) if copy]
                if len(sewn) < len(a) + len(b):
                    self.elsewhere.update(sewn)
                for at, back in ((0, False), (-1, True)):
                    first, second = a[at], b[at]
                    if first and second:
                        one = self._start(sewing.a[at], back), first
                        self._met.append((one, (self._start(sewing.b[at], back), second)))
                if sewn:
                    self.lines.append((sewn[0], len(a) + len(b) - 1))
                self._join(sewn)

    def _start(self, step: Way | Given, back: bool) -> int:
        """The corner where an edge starts as it is walked, or where it ends."""
        assert isinstance(step, Way)
        return self._ends[step.edge][step.forward == back]

    def _take(
        self, run: Run, left: bool, partner: Copies = (), mirrored: Copies = ()
    ) -> list[Copy | None]:
        """A copy for each edge of a run, and None for a given length.

        Where there is a choice, the copies of a run hang together, and it is sewn to a partner that
        it does not hang together with: six equal panels make one skirt, not six tubes.  The other
        side of the garment is sewn as this one: `mirrored` are the copies that were taken there.
        """
        taken: list[Copy | None] = []
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
        self, copy: Copy, like: int | None, run: Copies, partner: Copies
    ) -> tuple[bool, bool, bool, int, int]:
        joined = self.joined[copy]
        hangs_on_run = any(each in joined for each in run)
        hangs_on_partner = any(each in joined for each in partner)
        unlike = like is not None and copy.number != like
        return unlike, hangs_on_partner, not hangs_on_run, len(joined), copy.number

    def _join(self, some: list[Copy]) -> None:
        whole = set().union(*(self.joined[copy] for copy in some))
        for copy in whole:
            self.joined[copy] = whole
