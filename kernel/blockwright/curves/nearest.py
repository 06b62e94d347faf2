"""The place on a curve nearest to a point."""

from __future__ import annotations

import math
from dataclasses import dataclass

from blockwright.curves import bezier
from blockwright.curves._numpy import np
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point
from blockwright.curves.roots import roots, times
from blockwright.errors import GeometryError

# A root has nine digits, and a double root half as many.  Each step doubles the digits.
POLISH = 3
# The spacing of floating-point numbers at 1.
EPSILON = 2.0**-52


@dataclass(frozen=True, slots=True)
class Nearest:
    """The nearest place on a curve: its distance along the curve, and from the point, mm."""

    along: float
    point: Point
    distance: float


def nearest(curve: Curve, point: Point) -> Nearest:
    """The place on the curve nearest to `point`.  Of equally near places it is the first.

    The answer has `along`, the distance along the curve, `point`, the place, and `distance`, how
    far off `point` is, all in mm.  `distance` is exact except for rounding, also at ends and cusps.
    `along` depends on rounding where many places are equally near, as beside the centre of an arc.
    Raises GeometryError if a number of the point is not finite.

    Method: at the nearest place the step to the point is square to the curve.  For each piece that
    is a polynomial equation of the fifth degree.

    Example:
        >>> from blockwright import Point, line, nearest
        >>> found = nearest(line(Point(0.0, 0.0), Point(200.0, 0.0)), Point(50.0, 30.0))
        >>> f"{found.along:.1f} mm along, {found.distance:.1f} mm off"
        '50.0 mm along, 30.0 mm off'
    """
    if not math.isfinite(point.x + point.y):
        raise GeometryError(
            f"nothing is nearest to ({point.x:g}, {point.y:g}): give a place with finite numbers"
        )
    q = np.array([point.x, point.y])
    moved = curve.control - q
    ends = np.hypot(moved[:, ::3, 0], moved[:, ::3, 1])
    rounding = 4.0 * EPSILON * max(abs(point.x), abs(point.y))
    if ends.min() <= rounding:
        return _at_end(curve, int(ends.argmin()), float(ends.min()))
    # A piece cannot be nearest if its handles all lie further off than some end of a piece.
    outside = np.maximum(np.maximum(moved.min(axis=1), -moved.max(axis=1)), 0.0)
    piece = np.flatnonzero(np.hypot(outside[:, 0], outside[:, 1]) <= ends.min())
    own = moved[piece]
    xy = bezier.power(own)
    speed = xy[..., 1:] * np.arange(1.0, 4.0)
    square = times(xy, speed).sum(axis=1)
    t = np.column_stack([np.zeros(len(piece)), roots(square), np.ones(len(piece))])
    count = t.shape[1]
    control, t = np.repeat(own, count, axis=0), t.ravel()
    inner = (t > 0.0) & (t < 1.0)
    for _ in range(POLISH):
        place, first = bezier.evaluate(control, t), bezier.derivative(control, t)
        second = bezier.second_derivative(control, t)
        slope = (first * first + place * second).sum(axis=1)
        step = np.divide((place * first).sum(axis=1), slope, out=np.zeros_like(t), where=slope > 0)
        t = np.where(inner, np.clip(t - step, 0.0, 1.0), t)
    place = bezier.evaluate(control, t)
    away = np.hypot(place[:, 0], place[:, 1])
    # Of the places that are equally near to rounding, take the first along the curve.
    tied = np.flatnonzero(away <= away.min() + rounding)
    along = curve.along(np.repeat(piece, count)[tied], t[tied])
    first_tied = int(np.argmin(along))
    i = tied[first_tied]
    x, y = bezier.evaluate(curve.control[[piece[i // count]]], t[[i]])[0]
    return Nearest(float(along[first_tied]), Point(float(x), float(y)), float(away[i]))


def _at_end(curve: Curve, which: int, away: float) -> Nearest:
    """The answer at the end of a piece.  `which` counts the starts and ends in turn."""
    piece, end = divmod(which, 2)
    x, y = curve.control[piece, 3 * end].tolist()
    return Nearest(float(curve.joints[piece + end]), Point(x, y), away)
