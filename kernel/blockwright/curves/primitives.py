"""Simple curves: lines, arcs and one Bézier piece."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable

from blockwright.curves import tolerance
from blockwright.curves._numpy import np
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point, PointLike, as_point
from blockwright.errors import GeometryError

# A Bézier piece that turns by this angle strays outwards from its circle by 7e-8 of the radius.
# Twice the angle would stray sixty-four times as far.  Sixteen pieces make a full turn.
ARC_PIECE = math.radians(22.5)


def line(a: PointLike, b: PointLike) -> Curve:
    """The straight line from `a` to `b`, mm.

    Raises GeometryError if a is b or a number is not finite, PatternError for what is no place.

    Example:
        >>> from blockwright import Point, line
        >>> hem = line(Point(0.0, 0.0), Point(240.0, 0.0))
        >>> f"{hem.length:.1f} mm to ({hem.end.x:.1f}, {hem.end.y:.1f})"
        '240.0 mm to (240.0, 0.0)'
    """
    a, b = as_point(a), as_point(b)
    apart = max(abs(b.x - a.x), abs(b.y - a.y))
    if not (apart > tolerance.ONE_PLACE and math.isfinite(a.x + b.x + a.y + b.y)):
        return polyline([a, b])  # raises the error
    x, y = (b.x - a.x) / 3.0, (b.y - a.y) / 3.0
    control = [[(a.x, a.y), (a.x + x, a.y + y), (b.x - x, b.y - y), (b.x, b.y)]]
    return Curve.unchecked(np.array(control))


def polyline(points: Iterable[PointLike]) -> Curve:
    """Straight lines from point to point, mm.  Each is one piece.

    Raises GeometryError if there are fewer than two points, two neighbours are one point, or a
    number is not finite, and PatternError for what is no place.

    Example:
        >>> from blockwright import Point, polyline
        >>> dart = polyline([Point(-10.0, 0.0), Point(0.0, 90.0), Point(10.0, 0.0)])
        >>> f"{dart.length / 2:.2f} mm a leg"
        '90.55 mm a leg'
    """
    places = [as_point(point) for point in points]
    if len(places) < 2:
        raise GeometryError(f"a line needs two points or more, not {len(places)}")
    for i, (a, b) in enumerate(itertools.pairwise(places)):
        if max(abs(b.x - a.x), abs(b.y - a.y)) <= tolerance.ONE_PLACE:
            raise GeometryError(
                f"points {i + 1} and {i + 2} of a line are one place: ({a.x:.4f}, {a.y:.4f})"
            )
    corner = np.array([(point.x, point.y) for point in places])
    if not np.isfinite(corner).all():
        raise GeometryError("a point of a line is not a finite number")
    first, last = corner[:-1], corner[1:]
    third = (last - first) / 3.0
    return Curve(np.stack([first, first + third, last - third, last], axis=1))


def arc(centre: PointLike, radius: float, start_angle: float, end_angle: float) -> Curve:
    """The arc of a circle from one angle to another, at most a full turn.

    `radius` is in mm.  Angles are in radians from the x axis.  The arc runs counter-clockwise if
    `end_angle` is the greater, and clockwise if it is the less.  Every point is within 7e-8 of the
    radius from the circle.  The ends and the tangents there are exact.

    Raises GeometryError unless the radius is more than zero, the angles differ by a full turn at
    most and are not equal, and every number is finite.

    Example:
        >>> from math import pi
        >>> from blockwright import Point, arc
        >>> waist = arc(Point(0.0, 0.0), 200.0, pi, 2 * pi)  # half a circle, hanging down
        >>> f"{waist.length:.1f} mm, lowest at {waist.bounds[1]:.1f}"
        '628.3 mm, lowest at -200.0'
    """
    centre, sweep = as_point(centre), end_angle - start_angle
    if not 0.0 < radius < math.inf:
        raise GeometryError(f"the radius of an arc must be more than 0 mm, not {radius}")
    # The difference of two angles a full turn apart is rounded.
    if not 0.0 < abs(sweep) <= math.tau * (1.0 + 1e-14):
        raise GeometryError(
            f"an arc turns by more than nothing and at most 360 degrees, not "
            f"{math.degrees(sweep):.4f}; angles are in radians"
        )
    count = _pieces(sweep)
    angle = np.linspace(start_angle, end_angle, count + 1)
    outward = np.column_stack([np.cos(angle), np.sin(angle)])
    forward = np.column_stack([-outward[:, 1], outward[:, 0]])
    at = np.array([centre.x, centre.y]) + radius * outward
    if abs(sweep) >= math.tau:
        at[-1] = at[0]
    handle = radius * 4.0 / 3.0 * math.tan(sweep / count / 4.0) * forward
    return Curve(np.stack([at[:-1], at[:-1] + handle[:-1], at[1:] - handle[1:], at[1:]], axis=1))


def arc_through(a: PointLike, b: PointLike, c: PointLike) -> Curve:
    """The arc of a circle from `a` through `b` to `c`, mm.

    It passes through all three, and every point is within 7e-8 of the radius from the circle.  It
    is a straight line if the three lie on one in that order.

    Raises GeometryError if two of them are one point, they lie on a line with `b` not between the
    others, or a number is not finite.

    Example:
        >>> from blockwright import Point, arc_through
        >>> half = arc_through(Point(100.0, 0.0), Point(0.0, 100.0), Point(-100.0, 0.0))
        >>> f"{half.length:.2f} mm"
        '314.16 mm'
    """
    a, b, c = as_point(a), as_point(b), as_point(c)
    if len({a, b, c}) < 3:
        raise GeometryError("an arc through three points needs three different points")
    if not math.isfinite(a.x + a.y + b.x + b.y + c.x + c.y):
        raise GeometryError(
            f"no arc through ({a.x:g}, {a.y:g}), ({b.x:g}, {b.y:g}) and ({c.x:g}, {c.y:g}): "
            "give three places with finite numbers"
        )
    ab, bc, ac = b - a, c - b, c - a
    if ab.cross(bc) == 0.0 and ab.dot(bc) < 0.0:
        raise GeometryError("no arc through three points on a line unless the second lies between")
    # An angle at the circumference is half the arc it stands on.
    before, after = 2.0 * _turn(ac, bc), 2.0 * _turn(ab, ac)
    return Curve(np.concatenate([_arc_between(a, b, before), _arc_between(b, c, after)]))


def arc_between(a: PointLike, b: PointLike, turn: float) -> Curve:
    """The arc of a circle from `a` to `b` that turns by `turn` radians, positive to the left.

    It is a straight line if `turn` is 0.  Every point is within 7e-8 of the radius from the circle.
    The ends and the tangents there are exact.

    Raises GeometryError unless a and b differ, the turn is less than a full one, and every number
    is finite.

    Example:
        >>> from math import radians
        >>> from blockwright import Point, arc_between
        >>> hollow = arc_between(Point(0.0, 0.0), Point(200.0, 0.0), radians(60.0))
        >>> f"{hollow.length:.1f} mm, {-hollow.bounds[1]:.1f} deep"  # left, so below the chord
        '209.4 mm, 26.8 deep'
    """
    a, b = as_point(a), as_point(b)
    if a == b or not abs(turn) < math.tau:
        raise GeometryError(
            f"no arc between ({a.x:.3f}, {a.y:.3f}) and ({b.x:.3f}, {b.y:.3f}) turning by "
            f"{math.degrees(turn):.1f} degrees: two points and less than 360 degrees are needed"
        )
    return Curve(_arc_between(a, b, turn))


def bezier_curve(p0: Point, p1: Point, p2: Point, p3: Point) -> Curve:
    """One cubic Bézier piece from `p0` to `p3`, with the handles `p1` and `p2`, mm.

    Raises GeometryError if all four are one point or one is not finite.
    """
    return Curve([[(p.x, p.y) for p in (p0, p1, p2, p3)]])


def _pieces(sweep: float) -> int:
    # The small number avoids one piece more by rounding.
    return max(1, math.ceil(abs(sweep) / ARC_PIECE - 1e-9))


def _turn(first: Point, second: Point) -> float:
    return math.atan2(first.cross(second), first.dot(second))


def _arc_between(a: Point, b: Point, sweep: float) -> np.ndarray:
    """The control points of the arc from a to b that turns by `sweep`, a line if that is zero.

    It is found by chords.  The centre would be too far off for a nearly straight arc.
    """
    count = _pieces(sweep)
    step = sweep / count
    chord = b - a
    first = chord.angle - sweep / 2.0
    # The length of a chord of a piece, and of its handles.
    whole = math.sin(sweep / 2.0)
    length = abs(chord) * (math.sin(step / 2.0) / whole if whole else 1.0 / count)
    pace = length / (3.0 * math.cos(step / 4.0) ** 2)
    rows = []
    at, way = a, Point.polar(pace, first)
    for i in range(1, count + 1):
        # The direction of a chord is half way between the tangents at its ends.
        to = at + Point.polar(length, first + (i - 0.5) * step) if i < count else b
        onward = Point.polar(pace, first + i * step)
        rows.append([tuple(at), tuple(at + way), tuple(to - onward), tuple(to)])
        at, way = to, onward
    return np.array(rows)
