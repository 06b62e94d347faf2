"""Where a straight line meets a curve."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence

from blockwright.curves import bezier
from blockwright.curves._numpy import np
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point
from blockwright.curves.tolerance import ONE_PLACE
from blockwright.errors import GeometryError

# A piece of ten metres that is halved this often is shorter than rounding.
DEEPEST = 50
# Meetings this near along the curve, mm, are one.  An arc of 10 m radius touches the line for this
# length.
TOUCH = 0.01

Cubic = tuple[float, float, float, float]


def on_line(curve: Curve, a: Point, b: Point) -> tuple[float, ...]:
    """The distances along the curve, mm, at which it meets the line through a and b, in order.

    The line has no ends.  Places where the curve only touches it count.  Places within 0.01 mm of
    each other along the curve are one.  The distances are exact except for rounding.  There are
    none if they do not meet.
    Raises GeometryError if a is b, one of their numbers is not finite, or a piece of the curve runs
    along the line.

    Example:
        >>> from blockwright import Point, on_line, polyline
        >>> dart = polyline([Point(-10.0, 0.0), Point(0.0, 90.0), Point(10.0, 0.0)])
        >>> [f"{s:.1f}" for s in on_line(dart, Point(0.0, 45.0), Point(1.0, 45.0))]
        ['45.3', '135.8']
    """
    return _distances(curve, *_meetings(curve.control, a, b))


def on_segment(curve: Curve, a: Point, b: Point) -> tuple[float, ...]:
    """The distances along the curve, mm, at which it meets the straight line from a to b, in order.

    As `on_line`, but only between a and b.  What the curve does beyond them is not looked at, so it
    may run along the line there.  Raises GeometryError as `on_line` does.

    Example:
        >>> from blockwright import Point, polyline
        >>> from blockwright.curves.intersect_line import on_segment
        >>> dart = polyline([Point(-10.0, 0.0), Point(0.0, 90.0), Point(10.0, 0.0)])
        >>> [f"{s:.1f}" for s in on_segment(dart, Point(-20.0, 45.0), Point(0.0, 45.0))]
        ['45.3']
    """
    control, way, long = curve.control, (b - a).unit(), abs(b - a)
    far = control @ np.array([way.x, way.y]) - way.dot(a)
    between = (far.max(axis=1) >= -ONE_PLACE) & (far.min(axis=1) <= long + ONE_PLACE)
    number = np.flatnonzero(between)
    pieces, places = _meetings(control[number], a, b)
    index, t = number[pieces], np.array(places)
    met = bezier.evaluate(control[index], t) @ np.array([way.x, way.y]) - way.dot(a)
    inside = (met >= -ONE_PLACE) & (met <= long + ONE_PLACE)
    return _distances(curve, index[inside].tolist(), t[inside].tolist())


def _distances(curve: Curve, pieces: Sequence[int], places: Sequence[float]) -> tuple[float, ...]:
    """The distances along the curve of parameters of its pieces, each once and in order."""
    if not pieces:
        return ()
    along = np.sort(curve.along(np.array(pieces), np.array(places)))
    # The end of one piece is the start of the next, and a touch is met from both sides.
    fresh = np.diff(along, prepend=-np.inf) > TOUCH
    return tuple(along[fresh].tolist())


def points_on_line(curves: Sequence[Curve], a: Point, b: Point) -> list[Point]:
    """The places where curves meet the line through a and b, in the order of the curves.

    A place where two curves meet counts twice.  This is quicker than `on_line`, which finds the
    distances along the curve too.  Raises GeometryError as `on_line` does, and if there is no
    curve.

    Example:
        >>> from blockwright import Point, line, points_on_line
        >>> tip = Point(0.0, 90.0)
        >>> legs = line(Point(-10.0, 0.0), tip), line(tip, Point(10.0, 0.0))
        >>> level = Point(0.0, 45.0), Point(1.0, 45.0)
        >>> [f"({p.x:.1f}, {p.y:.1f})" for p in points_on_line(legs, *level)]
        ['(-5.0, 45.0)', '(5.0, 45.0)']
    """
    if not curves:
        raise GeometryError("no curves for a line to meet: give one or more")
    control = np.concatenate([curve.control for curve in curves])
    pieces, places = _meetings(control, a, b)
    if not pieces:
        return []
    return [Point(*at) for at in bezier.evaluate(control[pieces], np.array(places)).tolist()]


def _meetings(control: np.ndarray, a: Point, b: Point) -> tuple[list[int], list[float]]:
    """The pieces that meet the line through a and b, and the parameters of the meetings."""
    if a == b:
        raise GeometryError(f"no line through one point: ({a.x:.3f}, {a.y:.3f})")
    square = (b - a).unit().left()
    zero = square.dot(a)
    if not math.isfinite(zero):
        raise GeometryError(
            f"no line through ({a.x:g}, {a.y:g}) and ({b.x:g}, {b.y:g}): give two places with "
            "finite numbers"
        )
    # How far each control point lies to the left of the line: a cubic in the same parameter.
    off = control @ np.array([square.x, square.y]) - zero
    near = np.flatnonzero((off.min(axis=1) <= ONE_PLACE) & (off.max(axis=1) >= -ONE_PLACE))
    pieces, places = [], []
    for i in near.tolist():
        cubic = off[i].tolist()
        if max(map(abs, cubic)) <= ONE_PLACE:
            raise GeometryError("the curve runs along the line, so it meets it everywhere")
        for t in _zeros(tuple(cubic)):
            pieces.append(i)
            places.append(t)
    return pieces, places


def _zeros(cubic: Cubic, t0: float = 0.0, t1: float = 1.0, depth: int = 0) -> Iterator[float]:
    """The parameters at which a cubic is zero.  `cubic` has its Bézier ordinates from t0 to t1.

    A cubic lies between its least and its greatest ordinate.  If the ordinates only rise or only
    fall, it has one zero at most.  Otherwise it is halved.
    """
    p, q, r, s = cubic
    if min(cubic) > ONE_PLACE or max(cubic) < -ONE_PLACE:
        return
    rises = (q - p, r - q, s - r)
    if min(rises) >= 0.0 or max(rises) <= 0.0:
        yield t0 + (t1 - t0) * _only_zero(cubic)
    elif depth == DEEPEST or max(map(abs, cubic)) <= ONE_PLACE:
        yield (t0 + t1) / 2.0
    else:
        pq, qr, rs = (p + q) / 2.0, (q + r) / 2.0, (r + s) / 2.0
        pqr, qrs = (pq + qr) / 2.0, (qr + rs) / 2.0
        middle, t = (pqr + qrs) / 2.0, (t0 + t1) / 2.0
        yield from _zeros((p, pq, pqr, middle), t0, t, depth + 1)
        yield from _zeros((middle, qrs, rs, s), t, t1, depth + 1)


def _only_zero(cubic: Cubic) -> float:
    """The zero of a cubic that only rises or only falls, by Newton's method within a bracket.

    If rounding leaves no zero, it is the end nearest to one.
    """
    p, q, r, s = cubic
    if (p > 0.0) == (s > 0.0):
        return 0.0 if abs(p) < abs(s) else 1.0
    low, high = (0.0, 1.0) if p <= 0.0 else (1.0, 0.0)
    t = p / (p - s)
    for _ in range(DEEPEST):
        u = 1.0 - t
        value = u * u * (u * p + 3.0 * t * q) + t * t * (3.0 * u * r + t * s)
        low, high = (t, high) if value <= 0.0 else (low, t)
        slope = 3.0 * (u * u * (q - p) + 2.0 * u * t * (r - q) + t * t * (s - r))
        step = t - value / slope if slope else high
        inside = min(low, high) < step < max(low, high)
        t, last = step if inside else (low + high) / 2.0, t
        if abs(t - last) <= 1e-16:
            break
    return t
