"""Curves that follow one another: joining them, the area they enclose, their corners."""

from __future__ import annotations

import math
from collections.abc import Sequence

from blockwright.curves import bezier
from blockwright.curves._numpy import np
from blockwright.curves.curve import MEETS, Curve, directions
from blockwright.curves.point import Point, distance
from blockwright.errors import GeometryError

# Directions that differ by less run on smoothly, radians: over ten metres of straight line it is
# a hundredth of a millimetre.  Rounding in a joined curve stays a thousand times below it.
SMOOTH = 1e-6
# Halves of one cubic lie on it to this, mm: rounding of cuts and turns, far under any drawing.
UNCUT = 1e-8


def join(curves: Sequence[Curve]) -> Curve:
    """One curve of all, in order.

    Each must start where the one before it ends, within a millionth of a millimetre; it is
    moved on to that end exactly.  Nothing else changes, and corners stay corners.

    Raises GeometryError if there is none, or two do not meet, naming them and the gap.

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
    """One curve of two that follow one another; where they were cut from one piece, that piece.

    As `join`, but a cut leaves no trace: the two halves of a cubic are one cubic again when they
    lie on it to a hundred-millionth of a millimetre.  GeometryError if they do not meet.
    """
    whole = _uncut(first.control[-1], second.control[0])
    if whole is None or distance(first.end, second.start) > MEETS:
        return join([first, second])
    return Curve(np.concatenate([first.control[:-1], whole[None], second.control[1:]]))


def _uncut(a: np.ndarray, b: np.ndarray) -> np.ndarray | None:
    """The cubic that two were cut from; None when there is none."""
    arrives, leaves = float(np.hypot(*(a[3] - a[2]))), float(np.hypot(*(b[1] - b[0])))
    if not min(arrives, leaves) > 0.0:
        return None
    share = arrives / (arrives + leaves)
    whole = np.array(
        [a[0], a[0] + (a[1] - a[0]) / share, b[3] + (b[2] - b[3]) / (1.0 - share), b[3]]
    )
    halves = bezier.split(whole, share)
    return whole if np.abs(np.array(halves) - np.array([a, b])).max() < UNCUT else None


def signed_area(curves: Sequence[Curve]) -> float:
    """The area that a closed chain of curves encloses, mm^2; positive counter-clockwise.

    Exact for Bézier pieces but for rounding.  A part run round twice counts twice, and a chain
    that crosses itself counts the loops of either direction against each other.

    Raises GeometryError if there is none, or if one does not start where the one before it
    ends, stating the gap.

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

    Every piece is taken as a chain of 16 straight lines, so a point nearer to the outline than
    some thousandths of a piece's length may come out either way, one on the outline too.  Inside
    is what the chain goes round at least once, both loops of an eight.  That it closes is not
    checked; GeometryError if there is no curve.

    Example:
        >>> from math import tau
        >>> from blockwright import Point, arc, contains
        >>> circle = [arc(Point(0.0, 0.0), 100.0, 0.0, tau)]
        >>> contains(circle, Point(60.0, 60.0)), contains(circle, Point(80.0, 80.0))
        (True, False)
    """
    return inside(curves, [point])[0]


def inside(curves: Sequence[Curve], points: Sequence[Point]) -> list[bool]:
    """Which points lie inside a closed chain of curves.

    Every piece is taken as a chain of 16 straight lines, so a point nearer to the outline than
    some thousandths of a piece's length may come out either way.  GeometryError if there is no
    curve.
    """
    if not curves:
        raise GeometryError("no curves, so nothing is inside: give one or more that close")
    control, t = bezier.sampled(np.concatenate([c.control for c in curves]), np.arange(16.0) / 16.0)
    chain = bezier.evaluate(control, t)
    rays = chain - np.array([[*point] for point in points])[:, None]
    ahead = np.roll(rays, -1, axis=1)
    # How often the chain goes round each point.
    cross = rays[..., 0] * ahead[..., 1] - rays[..., 1] * ahead[..., 0]
    turns = np.arctan2(cross, (rays * ahead).sum(axis=2)).sum(axis=1)
    return [bool(turn) for turn in np.abs(turns) > math.pi]


def corners(curve: Curve, *, over: float = SMOOTH) -> list[float]:
    """Distances along the curve, mm, at which its direction breaks by more than `over` radians.

    Looks at the joints of the pieces, not at the ends of the curve, nor at a cusp inside a
    piece.  Empty for a curve of one piece.
    """
    control = curve.control
    ones = np.ones(len(control))
    before = directions(control, ones)[:-1]
    after = directions(control, 0.0 * ones)[1:]
    turn = np.arctan2(_cross(before.T, after.T), (before * after).sum(axis=1))
    joint = np.flatnonzero(np.abs(turn) > over)
    return [float(s) for s in curve.along(joint, np.ones(len(joint)))]


def _check_meets(before: Curve, after: Curve, i: int) -> None:
    """The curve at index `i` starts where the one before it ends; before the first is the last."""
    gap = distance(before.end, after.start)
    if not gap <= MEETS:
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
