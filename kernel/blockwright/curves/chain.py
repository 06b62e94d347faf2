"""Chains of curves: joining them, the area they enclose, what lies inside, their corners."""

from __future__ import annotations

import math
from collections.abc import Sequence

from blockwright.curves import bezier, tolerance
from blockwright.curves._numpy import np
from blockwright.curves.curve import Curve, directions
from blockwright.curves.point import Point, distance
from blockwright.errors import GeometryError


def join(curves: Sequence[Curve]) -> Curve:
    """One curve made of all curves in order.

    Each curve must start within a millionth of a millimetre of the end of the one before it.  Its
    start is moved to that end.  Nothing else changes, and corners stay corners.

    Raises GeometryError if there is no curve or two do not meet; the message names them and the
    gap.

    Example:
        >>> from blockwright import Point, join, line
        >>> knee = Point(0.0, 400.0)
        >>> leg = join([line(Point(0.0, 0.0), knee), line(knee, Point(30.0, 800.0))])
        >>> f"{leg.length:.1f} mm"
        '801.1 mm'
    """
    if not curves:
        raise GeometryError("no curves to join")
    controls = [curves[0].control]
    for i, curve in enumerate(curves[1:], start=1):
        _check_meets(curves[i - 1], curve, i)
        control = curve.control.copy()
        # The handle goes with its point, so that the direction there stays.
        control[0, :2] += controls[-1][-1, 3] - control[0, 0]
        control[0, 0] = controls[-1][-1, 3]
        controls.append(control)
    return Curve.unchecked(np.concatenate(controls))


def rejoin(first: Curve, second: Curve) -> Curve:
    """One curve of two that follow one another, without a trace of a cut between them.

    Two halves of a cubic become one cubic again if they lie on it to a hundred-millionth of a
    millimetre.  Any other two are joined as `join` does.  Raises GeometryError if they do not meet.
    """
    whole = _uncut(first.control[-1], second.control[0])
    if whole is None or not meet(first, second):
        return join([first, second])
    return Curve(np.concatenate([first.control[:-1], whole[None], second.control[1:]]))


def _uncut(a: np.ndarray, b: np.ndarray) -> np.ndarray | None:
    """The cubic that two were cut from.  None if there is none."""
    arrives, leaves = float(np.hypot(*(a[3] - a[2]))), float(np.hypot(*(b[1] - b[0])))
    if not min(arrives, leaves) > 0.0:
        return None
    share = arrives / (arrives + leaves)
    whole = np.array(
        [a[0], a[0] + (a[1] - a[0]) / share, b[3] + (b[2] - b[3]) / (1.0 - share), b[3]]
    )
    halves = bezier.split(whole, share)
    return whole if np.abs(np.array(halves) - np.array([a, b])).max() < tolerance.UNCUT else None


def signed_area(curves: Sequence[Curve]) -> float:
    """The area that a closed chain of curves encloses, mm^2.

    It is positive if the chain runs counter-clockwise, and exact except for rounding.  An area that
    is run round twice counts twice.  Loops run clockwise are subtracted.

    Raises GeometryError if there is no curve, or if a curve does not start where the one before it
    ends; the message states the gap.

    Example:
        >>> from blockwright import Point, line, polyline, signed_area
        >>> a, b, c = Point(0.0, 0.0), Point(200.0, 0.0), Point(200.0, 300.0)
        >>> f"{signed_area([polyline([a, b, c]), line(c, a)]):.1f} mm^2"
        '30000.0 mm^2'
        >>> f"{signed_area([polyline([a, c, b, a])]):.1f} mm^2"
        '-30000.0 mm^2'
    """
    if not curves:
        raise GeometryError("no curves, so no area")
    for i, curve in enumerate(curves):
        _check_meets(curves[i - 1], curve, i)
    control = np.concatenate([curve.control for curve in curves])
    p = (control - control[0, 0]).transpose(1, 2, 0)
    # Half the integral of x dy - y dx, which for a cubic is a sum of six cross products.
    twenty = (
        6.0 * (_cross(p[0], p[1]) + _cross(p[2], p[3]))
        + 3.0 * (_cross(p[0], p[2]) + _cross(p[1], p[2]) + _cross(p[1], p[3]))
        + _cross(p[0], p[3])
    )
    return math.fsum((twenty / 20.0).tolist())


def contains(curves: Sequence[Curve], point: Point) -> bool:
    """Whether a point lies inside a closed chain of curves, in either direction.

    Every piece is taken as a chain of 16 straight lines.  So the answer is uncertain for a point on
    the outline or within some thousandths of a piece's length of it.  A point is inside if the
    chain goes round it at least once, so both loops of an eight are inside.  It is not checked that
    the chain closes.  Raises GeometryError if there is no curve.

    Example:
        >>> from math import tau
        >>> from blockwright import Point, arc, contains
        >>> circle = [arc(Point(0.0, 0.0), 100.0, 0.0, tau)]
        >>> contains(circle, Point(60.0, 60.0)), contains(circle, Point(80.0, 80.0))
        (True, False)
    """
    return inside(curves, [point])[0]


def inside(curves: Sequence[Curve], points: Sequence[Point]) -> list[bool]:
    """For each point, whether it lies inside a closed chain of curves.

    See `contains`.  Raises GeometryError if there is no curve.
    """
    if not curves:
        raise GeometryError("no curves, so nothing is inside: give one or more that close")
    chain = bezier.points_at(np.concatenate([c.control for c in curves]), np.arange(16.0) / 16.0)
    return [bool(times) for times in _turns_round(chain, np.array([[*point] for point in points]))]


def _turns_round(polygon: np.ndarray, points: np.ndarray) -> np.ndarray:
    """How often a closed polygon (n, 2) turns round each of the points (m, 2).

    Each edge that crosses the ray from a point to the right counts, up or down.
    """
    ahead = np.concatenate([polygon[1:], polygon[:1]])
    x, y = points[:, :1], points[:, 1:]
    (x0, y0), (x1, y1) = polygon.T, ahead.T
    starts_below, ends_below = y0 <= y, y1 <= y
    left = (x1 - x0) * (y - y0) > (x - x0) * (y1 - y0)
    up, down = starts_below & ~ends_below & left, ends_below & ~starts_below & ~left
    return np.asarray(up.sum(axis=1) - down.sum(axis=1))


def outside_by(polygon: np.ndarray, points: np.ndarray) -> np.ndarray:
    """How far each of the points (m, 2) lies outside a closed polygon (n, 2), mm; 0 inside."""
    off = np.zeros(len(points))
    outside = np.flatnonzero(_turns_round(polygon, points) == 0)
    if len(outside):
        x, y = points[outside, :1] - polygon[:, 0], points[outside, 1:] - polygon[:, 1]
        step_x, step_y = (np.roll(polygon, -1, axis=0) - polygon).T
        long = np.maximum(step_x * step_x + step_y * step_y, np.finfo(float).tiny)
        share = np.clip((x * step_x + y * step_y) / long, 0.0, 1.0)
        off[outside] = np.hypot(x - step_x * share, y - step_y * share).min(axis=1)
    return off


def corners(curve: Curve, *, over: float = tolerance.SMOOTH) -> list[float]:
    """The distances along the curve, mm, at which it turns suddenly by more than `over` radians.

    Only the joints of its pieces are looked at.  So the ends of the curve and a cusp inside a piece
    are no corners.
    """
    control = curve.control
    ones = np.ones(len(control))
    before = directions(control, ones)[:-1]
    after = directions(control, 0.0 * ones)[1:]
    turn = np.arctan2(_cross(before.T, after.T), (before * after).sum(axis=1))
    joint = np.flatnonzero(np.abs(turn) > over)
    return [float(s) for s in curve.along(joint, np.ones(len(joint)))]


def meet(before: Curve, after: Curve) -> bool:
    """Whether a curve starts where the one before it ends."""
    return distance(before.end, after.start) <= tolerance.MEETS


def _check_meets(before: Curve, after: Curve, i: int) -> None:
    """Raises GeometryError unless curve `i` starts where the one before it, or the last, ends."""
    if not meet(before, after):
        gap = distance(before.end, after.start)
        if i == 0:
            raise GeometryError(
                f"the outline is not closed: a gap of {gap:.4g} mm from the end of the last "
                "curve to the start of the first"
            )
        raise GeometryError(
            f"curve {i + 1} does not start where curve {i} ends: a gap of {gap:.4g} mm"
        )


def _cross(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """Cross products of (2, n) and (2, n)."""
    return np.asarray(a[0] * b[1] - a[1] * b[0])
