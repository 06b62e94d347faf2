"""Lines, arcs and single pieces are what they are called."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
from curve_strategies import points
from hypothesis import assume, given
from hypothesis import strategies as st

from blockwright.curves.curve import Curve
from blockwright.curves.point import Point, distance
from blockwright.curves.primitives import (
    ARC_PIECE,
    arc,
    arc_between,
    arc_through,
    bezier_curve,
    line,
    polyline,
)
from blockwright.errors import GeometryError

# How far an arc may stray from its circle, as a share of the radius.
ROUND = 7e-8
O = Point(0.0, 0.0)  # noqa: E741 - the origin


def dense(curve: Curve) -> np.ndarray:
    return curve.points_at(np.linspace(0.0, curve.length, 997))


@given(a=points, b=points, share=st.floats(0.0, 1.0))
def test_a_line_is_straight_and_even(a: Point, b: Point, share: float) -> None:
    assume(distance(a, b) > 1e-3)
    drawn = line(a, b)
    assert (drawn.start, drawn.end) == (a, b)
    assert drawn.length == pytest.approx(distance(a, b), rel=1e-12)
    assert abs(drawn.point_at(share * drawn.length) - a.between(b, share)) < 1e-9
    assert drawn.curvature_at(share * drawn.length) == pytest.approx(0.0, abs=1e-9)


def test_a_polyline_passes_its_points() -> None:
    corners = [O, Point(3.0, 4.0), Point(3.0, 16.0), Point(-2.0, 16.0)]
    drawn = polyline(corners)
    assert drawn.joints == pytest.approx([0.0, 5.0, 17.0, 22.0], abs=1e-12)
    assert [drawn.point_at(s) for s in (0.0, 22.0)] == [corners[0], corners[-1]]
    assert abs(drawn.point_at(17.0) - corners[2]) < 1e-12


@pytest.mark.parametrize(
    ("sweep", "pieces"), [(22.5, 1), (-22.5, 1), (22.6, 2), (90.0, 4), (360.0, 16), (1e-6, 1)]
)
def test_an_arc_keeps_to_its_circle(sweep: float, pieces: int) -> None:
    centre, radius, first = Point(7.0, -5.0), 130.0, 0.3
    last = first + math.radians(sweep)
    drawn = arc(centre, radius, first, last)
    assert len(drawn.control) == pieces
    away = np.hypot(*(dense(drawn) - np.array([7.0, -5.0])).T)
    assert np.abs(away / radius - 1.0).max() < ROUND
    assert drawn.length == pytest.approx(radius * abs(math.radians(sweep)), rel=ROUND)
    for angle, at, ahead in (
        (first, drawn.start, drawn.start_tangent),
        (last, drawn.end, drawn.end_tangent),
    ):
        assert abs(at - (centre + Point.polar(radius, angle))) < 1e-12
        # A piece two thousandths of a millimetre long has its direction to eight digits.
        assert abs(ahead - Point.polar(math.copysign(1.0, sweep), angle).left()) < 2e-8


def test_the_stated_error_of_an_arc_is_reached() -> None:
    """The bound is no idle one: a piece of the largest angle comes near it."""
    away = np.hypot(*dense(arc(O, 1.0, 0.0, ARC_PIECE)).T)
    assert 0.9 * ROUND < np.abs(away - 1.0).max() < ROUND


def test_a_full_turn_closes() -> None:
    for end in (0.7 + math.tau, 0.7 - math.tau):
        drawn = arc(Point(1.0, 1.0), 50.0, 0.7, end)
        assert drawn.start == drawn.end


@pytest.mark.parametrize(
    ("radius", "end", "says"),
    [
        (0.0, 1.0, "radius of an arc must be more than 0 mm, not 0"),
        (-2.0, 1.0, "radius of an arc must be more than 0 mm, not -2"),
        (math.nan, 1.0, "radius of an arc must be more than 0 mm"),
        (5.0, 0.0, "at most 360 degrees, not 0"),
        (5.0, 7.0, "at most 360 degrees, not 401"),
        (5.0, math.nan, "at most 360 degrees"),
    ],
)
def test_what_is_no_arc(radius: float, end: float, says: str) -> None:
    with pytest.raises(GeometryError, match=says):
        arc(O, radius, 0.0, end)


@given(a=points, b=points, c=points)
def test_an_arc_through_three_points(a: Point, b: Point, c: Point) -> None:
    ab, bc, ac = b - a, c - b, c - a
    area = ab.cross(ac)
    assume(min(abs(ab), abs(bc), abs(ac)) > 1.0 and abs(area) > 1.0)
    radius = abs(ab) * abs(bc) * abs(ac) / abs(2.0 * area)
    assume(radius < 1e6)
    drawn = arc_through(a, b, c)
    assert (drawn.start, drawn.end) == (a, c)
    assert any(np.array_equal(piece[3], [b.x, b.y]) for piece in drawn.control)
    # Its centre by perpendicular bisectors.
    d = 2.0 * area
    u = a + Point(
        (ac.y * ab.dot(ab) - ab.y * ac.dot(ac)) / d, (ab.x * ac.dot(ac) - ac.x * ab.dot(ab)) / d
    )
    away = np.hypot(*(dense(drawn) - np.array([u.x, u.y])).T)
    assert np.abs(away - radius).max() < 2.0 * ROUND * radius + 1e-9
    # It turns the way of the three points, and never goes round more than once.
    assert math.copysign(1.0, drawn.curvature_at(drawn.length / 2.0)) == math.copysign(1.0, area)
    assert drawn.length < math.tau * radius * (1.0 + ROUND)


@pytest.mark.parametrize("sag", [10.0**-k for k in range(3, 17)] + [0.0])
def test_an_arc_that_is_nearly_straight(sag: float) -> None:
    drawn = arc_through(O, Point(50.0, sag), Point(100.0, 0.0))
    assert drawn.length == pytest.approx(100.0 + 8.0 * sag * sag / 300.0, rel=1e-12)
    assert abs(drawn.point_at(drawn.length / 2.0) - Point(50.0, sag)) < 1e-9


@pytest.mark.parametrize(
    ("b", "c", "says"),
    [
        (O, Point(9.0, 0.0), "three different points"),
        (Point(9.0, 0.0), O, "three different points"),
        (Point(9.0, 0.0), Point(5.0, 0.0), "unless the second lies between"),
        (Point(-9.0, 0.0), Point(5.0, 0.0), "unless the second lies between"),
    ],
)
def test_no_arc_through_three_points(b: Point, c: Point, says: str) -> None:
    with pytest.raises(GeometryError, match=says):
        arc_through(O, b, c)


@pytest.mark.parametrize("which", [0, 1, 2])
@pytest.mark.parametrize("wrong", [math.nan, math.inf, -math.inf])
@pytest.mark.parametrize("axis", ["x", "y"])
def test_no_arc_through_what_is_no_place(which: int, wrong: float, axis: str) -> None:
    places = [O, Point(50.0, 20.0), Point(100.0, 0.0)]
    places[which] = replace(places[which], **{axis: wrong})
    with pytest.raises(GeometryError, match=r"no arc through \(.*finite numbers"):
        arc_through(*places)


@given(a=points, b=points, turn=st.floats(-6.2, 6.2))
def test_an_arc_between_two_points(a: Point, b: Point, turn: float) -> None:
    assume(distance(a, b) > 1e-2)
    drawn = arc_between(a, b, turn)
    assert (drawn.start, drawn.end) == (a, b)
    turned = turn / 2.0
    long = distance(a, b)
    if abs(turn) > 1e-6:
        long *= turned / math.sin(turned)
    assert drawn.length == pytest.approx(long, rel=2.0 * ROUND)
    chord = (b - a).unit()
    assert abs(drawn.start_tangent - chord.turned(-turned)) < 1e-7
    assert abs(drawn.end_tangent - chord.turned(turned)) < 1e-7


@pytest.mark.parametrize(
    ("b", "turn"), [(O, 1.0), (Point(1.0, 0.0), math.tau), (Point(1, 0), -7.0)]
)
def test_no_arc_between(b: Point, turn: float) -> None:
    with pytest.raises(GeometryError, match="no arc between"):
        arc_between(O, b, turn)


def test_one_piece() -> None:
    drawn = bezier_curve(O, Point(1.0, 2.0), Point(3.0, 2.0), Point(4.0, 0.0))
    assert drawn.control.tolist() == [[[0.0, 0.0], [1.0, 2.0], [3.0, 2.0], [4.0, 0.0]]]
    with pytest.raises(GeometryError, match="no length"):
        bezier_curve(O, O, O, O)


@pytest.mark.parametrize(
    ("corners", "says"),
    [
        ([], "two points or more, not 0"),
        ([O], "two points or more, not 1"),
        (
            [O, Point(1.0, 0.0), Point(1.0, 0.0)],
            r"points 2 and 3 .* one place: \(1\.0+, 0\.0+\)",
        ),
        ([O, Point(math.inf, 0.0)], "not a finite number"),
    ],
)
def test_what_is_no_line(corners: list[Point], says: str) -> None:
    with pytest.raises(GeometryError, match=says):
        polyline(corners)
