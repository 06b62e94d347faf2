"""Truing: one fair line drawn over seams and closed darts, then cut apart again."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from blockwright.curves.affine import Affine
from blockwright.curves.curve import Curve
from blockwright.curves.fair import FairSpline, fair_spline
from blockwright.curves.point import Point, distance
from blockwright.errors import GeometryError
from blockwright.pattern import tolerance

AS_IT_LIES = Affine()


@dataclass(frozen=True, slots=True)
class Part:
    """What one stretch of cloth has of a line drawn over several.

    `marks`: two or more places the line passes, on the flat piece, in the line's direction.
    `lay`: turns and moves the piece to where it lies when the seams and darts are closed.
    """

    marks: Sequence[Point]
    lay: Affine = AS_IT_LIES


@dataclass(frozen=True, slots=True)
class LaidLine:
    """A line over several parts as it lies sewn, not yet drawn: for solvers that want its length.

    `spans`: the numbers of each part's first and last mark on the spline.
    """

    spline: FairSpline
    parts: tuple[Part, ...]
    spans: tuple[tuple[int, int], ...]

    @property
    def length(self) -> float:
        """Length over all parts, mm."""
        return self.spline.length

    def curves(self) -> tuple[Curve, ...]:
        """The line cut apart: a curve a part, on its flat piece, first mark to last."""
        return tuple(
            self.spline.between(*span).moved(part.lay.inverse())
            for span, part in zip(self.spans, self.parts, strict=True)
        )


def lay_line(
    parts: Sequence[Part], start: Point | None = None, end: Point | None = None
) -> LaidLine:
    """One fair line through the marks of all parts as they lie sewn.

    `start`, `end`: direction of the line at either end, as it lies sewn; left out, the end spans
    are arcs.  Raises GeometryError if a part does not begin where the one before it ends, or
    there is no fair curve through the marks.
    Source: common practice, no source (close the darts, pin the seams, draw the line through).
    """
    points: list[Point] = []
    spans: list[tuple[int, int]] = []
    for part in parts:
        laid = [part.lay(mark) for mark in part.marks]
        if points:
            gap = distance(points[-1], laid[0])
            if gap > tolerance.CLOSED:
                raise GeometryError(f"the parts of a line do not meet: a gap of {gap:.3g} mm")
            laid = laid[1:]
        spans.append((max(len(points) - 1, 0), len(points) + len(laid) - 1))
        points += laid
    return LaidLine(fair_spline(points, start, end), tuple(parts), tuple(spans))


def true_line(
    parts: Sequence[Part], start: Point | None = None, end: Point | None = None
) -> tuple[Curve, ...]:
    """One fair line through all parts as they lie sewn, cut apart again: a curve a part.

    Arguments and errors as of `lay_line`.
    """
    return lay_line(parts, start, end).curves()
