"""Truing: a fair line is drawn over seams and closed darts, then cut apart again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from blockwright.curves.affine import STAYS, Affine
from blockwright.curves.curve import Curve
from blockwright.curves.fair import FairSpline, fair_spline
from blockwright.curves.point import Point, distance
from blockwright.errors import GeometryError
from blockwright.pattern import tolerance


@dataclass(frozen=True, slots=True)
class Part:
    """The part of a line that lies on one stretch of cloth.

    `marks` are two or more places on the flat piece that the line passes, in its direction.  `lay`
    moves the stretch to its place when seams and darts are closed.  Left out, it stays.

    Example:
        >>> from blockwright import Affine, Part, Point
        >>> back = Part([Point(600, 10), Point(700, 0)], Affine.move(Point(-500, 0)))
        >>> back.lay(back.marks[0])
        Point(x=100.0, y=10.0)
    """

    marks: Sequence[Point]
    lay: Affine = STAYS


@dataclass(frozen=True, slots=True)
class LaidLine:
    """A line over several parts as they lie sewn, before it is drawn.  `lay_line` makes it.

    A solver that wants only its length need not draw it.  `spline` is the fair curve through all
    marks as they lie sewn.  `parts` are those given.  `spans` has the numbers of the first and the
    last mark of each part on the spline.

    Example:
        >>> from blockwright import Part, Point, lay_line
        >>> front, back = Part([Point(0, 0), Point(60, 5)]), Part([Point(60, 5), Point(120, 0)])
        >>> laid = lay_line([front, back])
        >>> round(laid.length, 1), [round(curve.length, 1) for curve in laid.curves()]
        (120.6, [60.3, 60.3])
    """

    spline: FairSpline
    parts: tuple[Part, ...]
    spans: tuple[tuple[int, int], ...]

    @property
    def length(self) -> float:
        """The length over all parts, mm."""
        return self.spline.length

    def curves(self) -> tuple[Curve, ...]:
        """The line cut apart: for each part a curve on its flat piece, first mark to last."""
        return tuple(
            self.spline.between(*span).moved(part.lay.inverse())
            for span, part in zip(self.spans, self.parts, strict=True)
        )


def lay_line(
    parts: Sequence[Part], start: Point | None = None, end: Point | None = None
) -> LaidLine:
    """A fair line through the marks of all parts as they lie sewn, mm.  It is not yet drawn.

    `start` and `end` are its directions at either end as it lies sewn, steps of any length.  Left
    out, the end spans are arcs.  Each part begins at the last mark of the part before it.

    Raises GeometryError if a part has fewer than two marks, if it does not begin within 0.001 mm of
    the end of the part before it, or if no fair curve passes through the marks.
    Source: common practice, no source (close the darts, pin the seams, draw the line through).

    Example:
        >>> from blockwright import Affine, Part, Point, lay_line
        >>> front = Part([Point(0, 0), Point(100, 10)])
        >>> back = Part([Point(600, 10), Point(700, 0)], Affine.move(Point(-500, 0)))
        >>> round(lay_line([front, back]).length, 1)
        201.3
    """
    points: list[Point] = []
    spans: list[tuple[int, int]] = []
    for number, part in enumerate(parts, start=1):
        if len(part.marks) < 2:
            raise GeometryError(
                f"part {number} of a line needs two marks or more, not {len(part.marks)}: "
                "give the places it begins and ends at"
            )
        laid = [part.lay(mark) for mark in part.marks]
        if points:
            if not tolerance.meet(points[-1], laid[0]):
                gap = distance(points[-1], laid[0])
                raise GeometryError(f"the parts of a line do not meet: a gap of {gap:.3g} mm")
            laid = laid[1:]
        spans.append((max(len(points) - 1, 0), len(points) + len(laid) - 1))
        points += laid
    return LaidLine(fair_spline(points, start, end), tuple(parts), tuple(spans))


def true_line(
    parts: Sequence[Part], start: Point | None = None, end: Point | None = None
) -> tuple[Curve, ...]:
    """A fair line through all parts as they lie sewn, cut apart again into a curve for each part.

    Each curve lies on its flat piece, from the first mark of the part to the last.  Arguments and
    errors are those of `lay_line`.

    Example:
        >>> from blockwright import Affine, Part, Point, true_line
        >>> front = Part([Point(0, 0), Point(100, 10)])
        >>> back = Part([Point(600, 10), Point(700, 0)], Affine.move(Point(-500, 0)))
        >>> curves = true_line([front, back], start=Point(1, 0), end=Point(1, 0))
        >>> [round(curve.length, 1) for curve in curves], round(curves[1].start.x, 1)
        ([100.6, 100.6], 600.0)
    """
    return lay_line(parts, start, end).curves()
