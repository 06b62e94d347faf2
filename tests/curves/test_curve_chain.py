"""Joining curves, the area they enclose, and their corners."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from curve_samples import CURVES, SMOOTH
from curve_strategies import curves, points
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from blockwright.curves.affine import Affine
from blockwright.curves.chain import contains, corners, inside, join, signed_area
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point
from blockwright.curves.primitives import arc, line, polyline
from blockwright.errors import GeometryError

SQUARE = [Point(0.0, 0.0), Point(30.0, 0.0), Point(30.0, 30.0), Point(0.0, 30.0)]


def outline(corner: list[Point]) -> list[Curve]:
    return [line(a, b) for a, b in zip(corner, [*corner[1:], corner[0]], strict=True)]


# -- joining -------------------------------------------------------------------------------------


@given(curve=curves(), shares=st.lists(st.floats(0.05, 0.95), min_size=1, max_size=3, unique=True))
def test_what_was_cut_is_joined(curve: Curve, shares: list[float]) -> None:
    cuts = [0.0, *sorted(share * curve.length for share in shares), curve.length]
    joined = join([curve.part(a, b) for a, b in zip(cuts, cuts[1:], strict=False)])
    assert (joined.start, joined.end) == (curve.start, curve.end)
    assert joined.length == pytest.approx(curve.length, rel=1e-9)
    assert np.array_equal(joined.control[1:, 0], joined.control[:-1, 3])


def test_a_small_gap_is_closed_exactly() -> None:
    first = line(Point(0.0, 0.0), Point(10.0, 0.0))
    second = line(Point(10.0 + 9e-7, 0.0), Point(20.0, 0.0))
    joined = join([first, second])
    assert joined.control[1, 0].tolist() == [10.0, 0.0]
    assert joined.end == second.end
    assert joined.control[1, 1] - joined.control[1, 0] == pytest.approx(
        second.control[0, 1] - second.control[0, 0], abs=1e-12
    )


def test_what_does_not_join() -> None:
    first, second = outline(SQUARE)[:2]
    with pytest.raises(GeometryError, match="no curves to join"):
        join([])
    with pytest.raises(
        GeometryError, match=r"curve 3 does not start where curve 2 ends: a gap of 42\.43 mm"
    ):
        join([first, second, first])


# -- area ----------------------------------------------------------------------------------------


def test_area_of_polygons_in_closed_form() -> None:
    square = outline(SQUARE)
    assert signed_area(square) == 900.0
    assert signed_area([curve.reversed() for curve in reversed(square)]) == -900.0
    assert signed_area([polyline([*SQUARE, SQUARE[0]])]) == 900.0
    # Two loops of a bow tie go round opposite ways.
    bow = [SQUARE[0], SQUARE[2], SQUARE[1], SQUARE[3]]
    assert signed_area(outline(bow)) == 0.0
    assert signed_area(square * 2) == 1800.0


def test_area_of_circle_and_ellipse() -> None:
    circle = arc(Point(400.0, 300.0), 80.0, 0.0, math.tau)
    assert signed_area([circle]) == pytest.approx(math.pi * 6400.0, rel=1.5e-7)
    ellipse = circle.moved(Affine(a=1.5, d=0.25))
    assert signed_area([ellipse]) == pytest.approx(math.pi * 6400.0 * 0.375, rel=1.5e-7)
    half = arc(Point(0.0, 0.0), 80.0, 0.0, math.pi)
    assert signed_area([half, line(half.end, half.start)]) == pytest.approx(
        math.pi * 3200.0, rel=1.5e-7
    )


def test_area_under_a_parabola() -> None:
    """y = x^2 from 0 to 3 encloses 9/2 with its chord."""
    curve = Curve([[(0.0, 0.0), (1.0, 0.0), (2.0, 3.0), (3.0, 9.0)]])
    assert signed_area([curve, line(curve.end, curve.start)]) == pytest.approx(4.5, rel=1e-14)


@settings(deadline=None)
@given(curve=curves(), far=st.sampled_from([0.0, 1e4]))
def test_area_against_a_polygon(curve: Curve, far: float) -> None:
    assume(abs(curve.end - curve.start) > 1e-3)
    curve = curve.moved(Affine.move(Point(far, -far)))
    closed = [curve, line(curve.end, curve.start)]
    x, y = (curve.flatten(accuracy=1e-3) - [curve.start.x, curve.start.y]).T
    shoelace = float((x * np.roll(y, -1) - np.roll(x, -1) * y).sum() / 2.0)
    assert signed_area(closed) == pytest.approx(shoelace, abs=1e-3 * curve.length + 1e-9)


@given(corner=st.lists(points, min_size=3, max_size=8, unique=True))
def test_area_and_turn_against_shapely(corner: list[Point]) -> None:
    ring = shapely.LinearRing([tuple(point) for point in corner])
    assume(ring.is_simple and shapely.Polygon(ring).area > 1e-3)
    area = signed_area(outline(corner))
    assert abs(area) == pytest.approx(shapely.Polygon(ring).area, rel=1e-9)
    assert (area > 0.0) == ring.is_ccw


def test_no_area_of_what_is_open() -> None:
    square = outline(SQUARE)
    with pytest.raises(GeometryError, match=r"outline is not closed: a gap of 30 mm"):
        signed_area(square[:3])
    with pytest.raises(GeometryError, match="curve 2 does not start where curve 1 ends"):
        signed_area([square[0], square[2], square[3]])
    with pytest.raises(GeometryError, match="no curves, so no area"):
        signed_area([])


# -- inside --------------------------------------------------------------------------------------


@pytest.mark.parametrize("ask", [contains, lambda curves, point: inside(curves, [point])[0]])
def test_nothing_is_inside_no_curves(ask) -> None:
    assert ask(outline(SQUARE), Point(15.0, 15.0))
    with pytest.raises(GeometryError, match="no curves, so nothing is inside"):
        ask([], Point(0.0, 0.0))


# -- corners -------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", SMOOTH)
def test_smooth_curves_have_no_corner(name: str) -> None:
    assert corners(CURVES[name]) == []
    assert corners(CURVES[name].reversed(), over=1e-9) == []


def test_corners_are_where_they_are() -> None:
    chain = polyline([Point(0.0, 0.0), Point(3.0, 4.0), Point(6.0, 8.0), Point(6.0, 20.0)])
    assert corners(chain) == pytest.approx([10.0])
    # It turns there by 36.87 degrees.
    assert corners(chain, over=math.radians(36.8)) == pytest.approx([10.0])
    assert corners(chain, over=math.radians(36.9)) == []
    back = polyline([Point(0.0, 0.0), Point(9.0, 0.0), Point(1.0, 0.0)])
    assert corners(back, over=3.14) == pytest.approx([9.0])
