"""Where a ruled line meets a curve."""

from __future__ import annotations

from blockwright.curves._numpy import np
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point
from blockwright.curves.roots import roots
from blockwright.errors import GeometryError

# A place this near the line, mm, is on it: far above rounding, far below any cutter.
ON_LINE = 1e-9
# Roots come to nine digits; two Newton steps take them to the last.
POLISH = 2
# Meetings this near along the curve, mm, are one.
ONE_PLACE = 1e-6


def on_line(curve: Curve, a: Point, b: Point) -> tuple[float, ...]:
    """Distances along the curve at which it meets the line through a and b, in order.

    The line has no ends; places where the curve only touches it count.  Exact but for rounding.
    Raises GeometryError if a and b are one point, or a piece of the curve runs along the line.
    """
    if a == b:
        raise GeometryError(f"no line through one point: ({a.x:.3f}, {a.y:.3f})")
    square = (b - a).unit().left()
    # How far each control point lies to the left: a cubic in the same parameter.
    off = (curve.control - np.array([a.x, a.y])) @ np.array([square.x, square.y])
    if (np.abs(off).max(axis=1) <= ON_LINE).any():
        raise GeometryError("the curve runs along the line, so it meets it everywhere")
    pieces = np.flatnonzero((off.min(axis=1) <= ON_LINE) & (off.max(axis=1) >= -ON_LINE))
    if not len(pieces):
        return ()
    p0, p1, p2, p3 = off[pieces].T
    cubic = np.column_stack([p0, 3 * (p1 - p0), 3 * (p0 - 2 * p1 + p2), p3 - p0 + 3 * (p1 - p2)])
    t = np.column_stack([roots(cubic), np.zeros(len(pieces)), np.ones(len(pieces))])
    for _ in range(POLISH):
        value, slope = _cubic(cubic, t)
        step = np.divide(value, slope, out=np.zeros_like(t), where=slope != 0.0)
        t = np.clip(t - step, 0.0, 1.0)
    row, column = np.nonzero(np.abs(_cubic(cubic, t)[0]) <= ON_LINE)
    along = np.sort(curve.along(pieces[row], t[row, column]))
    # The end of one piece is the start of the next, and a double root is found twice.
    fresh = np.diff(along, prepend=-np.inf) > ONE_PLACE
    return tuple(along[fresh].tolist())


def _cubic(coefficients: np.ndarray, t: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    c0, c1, c2, c3 = coefficients.T[..., None]
    return c0 + t * (c1 + t * (c2 + t * c3)), c1 + t * (2.0 * c2 + t * 3.0 * c3)
