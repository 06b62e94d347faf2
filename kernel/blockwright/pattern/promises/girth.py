"""Finished widths: a girth of the body and its ease."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, ClassVar

from blockwright.curves.affine import STAYS, Affine
from blockwright.curves.curve import Curve
from blockwright.curves.point import distance
from blockwright.pattern import tolerance
from blockwright.pattern.across import width_across
from blockwright.pattern.copies import why_not_counted
from blockwright.pattern.joint import AnyJoint, joint_piece, joint_point
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Run
from blockwright.pattern.promise import Carried, Promise
from blockwright.pattern.ref import Ref
from blockwright.pattern.result import Range, Reason, Result
from blockwright.pattern.walk import NoRunError, walk

if TYPE_CHECKING:
    from blockwright.pattern.lineage import Lineage


@dataclass(frozen=True, slots=True)
class Across:
    """A level drawn across a piece, by the piece's name; `times` how often the piece is worn.

    `level` lies on the flat piece, mm; in `Draft.girth` it is measured within the cloth, darts
    folded away, carried on straight past its ends to the edge, as far as 60 mm.

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
    """A level across a piece, in several parts where a change closed cloth between them away."""

    piece: Ref
    parts: tuple[Curve, ...]
    times: int = 1


@dataclass(frozen=True, slots=True)
class Span:
    """A straight line from one corner to another.

    `lay` puts the cloth of the second back beside that of the first, where a change turned it away.
    """

    first: AnyJoint
    second: AnyJoint
    lay: Affine = STAYS


@dataclass(frozen=True, slots=True)
class Girth(Promise):
    """The finished width at a level is the body's girth and the ease.

    Its widths are runs of edges, straight lines between two corners of a piece, or levels across
    pieces, darts folded away; the sum is taken `times` times (2 where half a body is drawn).
    `asked`: it is what the maker asked for, so that length a change lets in is added to what is
    wanted; otherwise it is what the body needs, and never moves.
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
        """Finished width; wanted is body plus ease.

        Nothing is measured where edges of a run do not follow one another, an edge or piece is
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
            found = width_across(pattern.piece(level.piece), level.parts)
            width += level.times * found.width
            why = why or found.why
        low, high = self.ease
        wanted = self.body + low, self.body + high
        measured = math.nan if why else width * self.times
        return (Result("girth", self.ref, "length", wanted, measured, tolerance.LENGTH, why=why),)

    def _uncounted(self, pattern: Pattern) -> Reason | None:
        """Which edge or piece is counted more often than it is cut; None when none is."""
        pieces: Counter[Ref] = Counter()
        for level in self.levels:
            pieces[level.piece] += level.times * self.times
        return why_not_counted(pattern, self.runs * self.times, pieces)

    def carried(self, lineage: Lineage) -> Carried:
        """The width of what its runs, spans and levels became, and what was let in if asked."""
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


def _span(span: Span, lineage: Lineage) -> Span | Reason:
    """What a span became: its second corner is laid back where it was beside the first."""
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
    """Whether a lay moves nothing, but for rounding of turns there and back."""
    turned = abs(lay.a - 1.0) + abs(lay.b) + abs(lay.c) + abs(lay.d - 1.0)
    return turned < ROUNDED and abs(lay.e) + abs(lay.f) < ROUNDED


# Of turns there and back: radians, and mm some metres from the origin.
ROUNDED = 1e-9
