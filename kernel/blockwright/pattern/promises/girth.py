"""Finished sizes: a girth of the body and its ease, or a length."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass, replace
from typing import ClassVar

from blockwright.curves.affine import STAYS, Affine
from blockwright.curves.curve import Curve
from blockwright.curves.point import distance
from blockwright.pattern import tolerance
from blockwright.pattern.copies import why_not_counted
from blockwright.pattern.joint import joint_piece, joint_point
from blockwright.pattern.pattern import Carried, Lineage, Pattern, Promise
from blockwright.pattern.piece import Run
from blockwright.pattern.ref import AnyJoint, Ref
from blockwright.pattern.results import Range, Reason, Result
from blockwright.pattern.walk import NoRunError, walk
from blockwright.pattern.widths import width_across


@dataclass(frozen=True, slots=True)
class Across:
    """A level across the piece of that name, which is worn `times` times.

    `level` lies on the flat piece, mm.  `Draft.girth` measures the part of it in the cloth, with
    the darts folded away.  It extends the level straight to the edge of the cloth, by 60 mm at
    most.

    Example:
        >>> from blockwright import Across, Draft, Edge, Point, line, polyline, prove
        >>> hem = Edge("hem", line(Point(0, 0), Point(200, 0)), "hem")
        >>> rest = Edge("rest", polyline([Point(200, 0), Point(200, 300), Point(0, 0)]))
        >>> d, grain = Draft("test.wedge", "Wedge"), (Point(180, 20), Point(180, 250))
        >>> wedge = d.piece("wedge", [hem, rest], grain=grain, label_at=Point(150, 80), cut=2)
        >>> level = Across("wedge", line(Point(120, 150), Point(180, 150)), times=2)
        >>> d.girth("middle", levels=[level], body=190.0, ease=10.0)
        >>> round(prove(d.pattern()).results[-1].measured, 1)
        200.0
    """

    piece: str
    level: Curve
    times: int = 1


@dataclass(frozen=True, slots=True)
class LevelLine:
    """A level across a piece.  It has several parts where cloth between them was closed away."""

    piece: Ref
    parts: tuple[Curve, ...]
    times: int = 1


@dataclass(frozen=True, slots=True)
class Span:
    """A straight line from one corner to another.

    `lay` undoes what a change did: it moves the second corner back to its place beside the first.
    """

    first: AnyJoint
    second: AnyJoint
    lay: Affine = STAYS


@dataclass(frozen=True, slots=True)
class Girth(Promise):
    """The finished width at a level is the girth of the body plus the ease.

    The width is the sum of runs of edges, straight lines between two corners, and levels across
    pieces with the darts folded away.  It is taken `times` times, 2 where half a body is drawn.
    With `asked`, the maker asked for this width, so cloth that a change lets in is added to what is
    wanted.  Otherwise the body needs this width, and no change alters it.
    """

    kind: ClassVar[str] = "girth"
    body: float
    ease: Range
    runs: tuple[Run, ...] = ()
    spans: tuple[Span, ...] = ()
    levels: tuple[LevelLine, ...] = ()
    times: int = 1
    asked: bool = True

    def measure(self, pattern: Pattern) -> tuple[Result, ...]:
        """The finished width.

        Nothing is measured if the edges of a run do not follow one another, an edge or a piece is
        counted more often than it is cut, or a level ends in the cloth.
        """
        width, why = 0.0, None
        for run in self.runs:
            try:
                width += walk(pattern, run).length
            except NoRunError as error:
                why = error.why
        for span in self.spans:
            first, second = joint_point(pattern, span.first), joint_point(pattern, span.second)
            width += distance(first, span.lay(second))
        why = why or self._uncounted(pattern)
        for level in self.levels:
            outline = pattern.sewn_outline(level.piece)
            found = width_across(pattern.piece(level.piece), level.parts, outline)
            width += level.times * found.width
            why = why or found.why
        low, high = self.ease
        wanted = self.body + low, self.body + high
        measured = math.nan if why else width * self.times
        code = "girth" if self.kind == "girth" else "length"
        return (Result(code, self.ref, "length", wanted, measured, tolerance.LENGTH, why=why),)

    def _uncounted(self, pattern: Pattern) -> Reason | None:
        """Which edge or piece is counted more often than it is cut.  None if none is."""
        pieces: Counter[Ref] = Counter()
        for level in self.levels:
            pieces[level.piece] += level.times * self.times
        return why_not_counted(pattern, self.runs * self.times, pieces)

    def carried(self, lineage: Lineage) -> Carried:
        """The width of what its parts became.  If `asked`, the cloth let in is added."""
        added = 0.0
        runs: list[Run] = []
        for run in self.runs:
            became = lineage.run(run)
            if not became.run:
                return Carried((self,), became.why or Reason("gone"))
            runs.append(became.run)
            added += became.added
        spans: list[Span] = []
        for span in self.spans:
            kept = _span(span, lineage)
            if isinstance(kept, Reason):
                return Carried((self,), kept)
            spans.append(kept)
        levels: list[LevelLine] = []
        for level in self.levels:
            lines = lineage.line(level.piece, level.parts)
            if not lines:
                return Carried((self,), Reason("gone"))
            levels += [LevelLine(line.piece, line.parts, level.times) for line in lines]
            added += level.times * sum(line.added for line in lines)
        more = self.times * added if self.asked else 0.0
        low, high = self.ease
        return Carried(
            (
                replace(
                    self,
                    ease=(low + more, high + more),
                    runs=tuple(runs),
                    spans=tuple(spans),
                    levels=tuple(levels),
                ),
            )
        )


@dataclass(frozen=True, slots=True)
class FinishedLength(Girth):
    """A finished length is `body`, the length asked for or measured, and the ease.

    It is measured and carried by changes as a girth is.
    """

    kind: ClassVar[str] = "length"


def _span(span: Span, lineage: Lineage) -> Span | Reason:
    """What a span became.  Its `lay` moves the second corner back beside the first."""
    before = lineage.before
    joints: list[AnyJoint] = []
    lays: list[Affine] = []
    for joint in (span.first, span.second):
        became = lineage.joint(joint)
        laid = lineage.laid(joint_piece(before, joint).ref, joint_point(before, joint))
        if isinstance(became, Reason) or laid is None:
            return became if isinstance(became, Reason) else Reason("gone")
        joints.append(became)
        lays.append(laid.lay)
    if lays[0] == lays[1] and span.lay == STAYS:
        return Span(joints[0], joints[1])
    lay = lays[1].inverse().then(span.lay).then(lays[0])
    return Span(joints[0], joints[1], STAYS if _stays(lay) else lay)


def _stays(lay: Affine) -> bool:
    """Whether a lay moves nothing, except by rounding."""
    turned = abs(lay.a - 1.0) + abs(lay.b) + abs(lay.c) + abs(lay.d - 1.0)
    return turned < ROUNDED and abs(lay.e) + abs(lay.f) < ROUNDED


# The rounding of turns there and back, in radians and in mm some metres from the origin.
ROUNDED = 1e-9
