"""The fair curve through marks, as a cutter draws it with a French curve."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache

from blockwright.curves import spiral
from blockwright.curves._numpy import np
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point, PointLike, as_point
from blockwright.errors import GeometryError

# Neighbours nearer than this share of the drawing are one mark laid twice.  The size of the drawing
# is its longest chord, or its distance from the origin if that is more.  At a tenth of this share,
# the rounding of coordinates breaks the direction by 1e-6 rad.
SAME_MARK = 1e-6
# Each spiral is cut into equal parts, so many that the Bézier pieces stay within this share of the
# span's length of it: half a micrometre on a span of 100 mm.  The number depends on angles only, so
# the same marks at another scale give the same curve.
CHAIN_ERROR = 5e-6
# A part turns by less than a radian.  Eight nodes place its end to 1e-14 of its length.
NODES = 8


def fair_curve(
    marks: Iterable[PointLike], start: PointLike | None = None, end: PointLike | None = None
) -> Curve:
    """The fair curve through every mark in order.

    `marks` are two or more places, mm.  `start` and `end` are the directions of travel at the first
    and the last mark, of any length.  Left out, the end spans are arcs of a circle.

    Between marks the curvature runs linearly along the curve.  So it has no jump at a mark and no
    extremum between marks.  A mark added on the curve does not change it.  Marks on a circle give
    the circle, and marks on a line the line.  The Bézier chain stays within 5e-6 of each span's
    length of that curve, and its tangents are exact.

    Raises GeometryError if there are fewer than two marks, two neighbours are less than a millionth
    of the drawing apart, a mark or a direction is not finite, or a direction is zero.  Raises it
    too if the marks turn by more than 150 degrees at a mark, the curve would turn by more than 240
    degrees between two, or a direction points back by more than 150 degrees.  So no stretch between
    marks is longer than 2.42 times its chord, and none crosses itself.
    Source: R. Levien, *From Spiral to Spline*, 2009.

    Example:
        >>> from blockwright import Point, fair_curve
        >>> armhole = fair_curve([(0, 0), (-30, 60), (-30, 120), (-10, 180)], start=Point(-1, 0))
        >>> f"{armhole.length:.1f} mm, furthest in at x = {armhole.bounds[0]:.1f}"
        '199.0 mm, furthest in at x = -30.9'
    """
    return fair_spline(marks, start, end).curve()


@dataclass(frozen=True, slots=True)
class FairSpline:
    """A fair curve before it is drawn: its marks, mm, and the spirals between them.

    `fair_spline` makes it and checks the marks.  It is a frozen value.  Its length is quicker to
    find than that of the drawn curve.

    Example:
        >>> from blockwright import fair_spline
        >>> half = fair_spline([(100, 0), (0, 100), (-100, 0)])  # half a circle
        >>> f"{half.length:.2f} mm"
        '314.16 mm'
        >>> f"{half.between(0, 1).length:.2f} mm"
        '157.08 mm'
    """

    points: list[tuple[float, float]]
    spans: list[spiral.SpiralSpan]

    @property
    def length(self) -> float:
        """The length, mm.  The length of the drawn curve is the same to 2e-6 of it."""
        return math.fsum(span.length for span in self.spans)

    def curve(self) -> Curve:
        """The drawn curve.  `fair_curve` says how near it is to the spirals."""
        return Curve.unchecked(bezier_chain(self.points, self.spans))

    def between(self, first: int, last: int) -> Curve:
        """The stretch of the curve from one mark to a later one.

        Marks are numbered from 0.  A number past the last mark counts as the last.  Raises
        GeometryError if no span lies between the two, or a number is less than 0.
        """
        if not 0 <= first < min(last, len(self.spans)):
            raise GeometryError(
                f"no curve from mark {first} to mark {last}: the marks are 0 to {len(self.spans)}, "
                "and the second must be the later"
            )
        points, spans = self.points[first : last + 1], self.spans[first:last]
        return Curve.unchecked(bezier_chain(points, spans))


def fair_spline(
    marks: Iterable[PointLike], start: PointLike | None = None, end: PointLike | None = None
) -> FairSpline:
    """The fair curve through the marks before it is drawn, for solvers that want only its length.

    Arguments and errors are those of `fair_curve`.

    Example:
        >>> from blockwright import fair_spline
        >>> [f"{fair_spline([(0, 0), (100, h), (200, 0)]).length:.1f}" for h in (20, 40)]
        ['205.3', '220.7']
    """
    points = [_pair(mark) for mark in marks]
    _check(points)
    return FairSpline(points, spiral.solve(points, _angle(start, "start"), _angle(end, "end")))


def _pair(mark: PointLike) -> tuple[float, float]:
    place = as_point(mark, "a mark")
    return float(place.x), float(place.y)


def _angle(given: PointLike | None, which: str) -> float | None:
    if given is None:
        return None
    direction = as_point(given, f"the {which} direction")
    if not math.isfinite(direction.x + direction.y) or direction == Point(0.0, 0.0):
        raise GeometryError(f"the {which} direction {direction} points nowhere")
    return direction.angle


def _check(points: list[tuple[float, float]]) -> None:
    if len(points) < 2:
        raise GeometryError(f"a curve needs two marks or more, not {len(points)}")
    for i, (x, y) in enumerate(points):
        if not math.isfinite(x + y):
            raise GeometryError(f"mark {i + 1} is not a place: ({x}, {y})")
    chords = [math.dist(a, b) for a, b in itertools.pairwise(points)]
    least = SAME_MARK * max(itertools.chain(chords, map(abs, itertools.chain(*points))))
    for i, chord in enumerate(chords):
        if chord <= least:
            apart = f", {chord:.2g} mm apart" if chord else ""
            raise GeometryError(
                f"marks {i + 1} and {i + 2} are at the same place{apart}: leave one out"
            )


def _parts(span: spiral.SpiralSpan) -> int:
    """The number of Bézier pieces that a span needs.

    The formula of the error was fitted to pieces with turning and shape up to 0.8 rad.  Their
    handles are (4/3) tan(turning / 4), which is exact to sixth order for an arc and to third order
    in the change of curvature.  In k parts the turning falls with k, and the shape with k squared.
    """
    shape = abs(span.shape)
    turning = abs(span.beta - span.alpha) + shape
    error = 2e-3 * shape * turning * (turning + shape) + 8e-5 * shape**3 + 3e-5 * turning**5
    # The small number makes the answer for a round angle, such as 30 degrees, sure.
    return max(1, math.ceil(math.pow(error / CHAIN_ERROR, 0.2) - 1e-6))


def bezier_chain(points: list[tuple[float, float]], spans: list[spiral.SpiralSpan]) -> np.ndarray:
    """The control points (m, 4, 2) of the chain that follows the spans."""
    # A row for each part: its tangent angle as a quadratic in 0..1, its length and its span.
    rows = []
    lasts = []
    for i, span in enumerate(spans):
        k = _parts(span)
        linear = (span.beta - span.alpha - span.shape) / k
        square = span.shape / (k * k)
        first = span.direction + span.alpha
        for j in range(k):
            angle = first + j * (linear + square * j)
            rows.append((angle, linear + 2.0 * square * j, square, span.length / k, i))
        lasts.append(len(rows) - 1)
    table = np.array(rows)
    lengths = table[:, 3]
    of_span = table[:, 4].astype(int)
    basis, weights = _quadratics()
    # Places and steps as complex numbers.
    angles = table[:, :3] @ basis
    steps = (np.cos(angles) @ weights + 1j * (np.sin(angles) @ weights)) * lengths
    marks = np.array(points).view(complex)[:, 0]
    ends = np.cumsum(steps)
    # Every span starts at its own mark, so rounding does not add up along the chain.
    before = np.concatenate([[0.0], ends[lasts[:-1]]])
    ends += (marks[:-1] - before)[of_span]
    ends[lasts] = marks[1:]
    starts = np.concatenate([marks[:1], ends[:-1]])
    arriving = table[:, 0] + table[:, 1] + table[:, 2]
    quarter = (arriving - table[:, 0]) / 4.0
    # tan(x)/x, also at zero.
    small = np.abs(quarter) < 1e-4
    ratio = np.where(
        small, 1.0 + quarter * quarter / 3.0, np.tan(quarter) / np.where(small, 1.0, quarter)
    )
    handles = lengths / 3.0 * ratio
    control = np.empty((len(rows), 4), dtype=complex)
    control[:, 0] = starts
    control[:, 1] = starts + handles * (np.cos(table[:, 0]) + 1j * np.sin(table[:, 0]))
    control[:, 2] = ends - handles * (np.cos(arriving) + 1j * np.sin(arriving))
    control[:, 3] = ends
    return control.view(float).reshape(-1, 4, 2)


@cache
def _quadratics() -> tuple[np.ndarray, np.ndarray]:
    """The basis (3, k) of quadratics at Gauss's nodes on 0..1, and the weights (k,)."""
    nodes, weights = spiral.gauss(NODES)
    return np.array([np.ones_like(nodes), nodes, nodes * nodes]), weights
