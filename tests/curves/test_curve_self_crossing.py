"""Outlines that cross themselves, and those that do not."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely
from curve_samples import CAP, CURVES, bezier
from curve_strategies import control_points, points
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from blockwright.curves.affine import Affine
from blockwright.curves.curve import Curve
from blockwright.curves.fair import fair_curve
from blockwright.curves.intersect import self_crossings
from blockwright.curves.point import Point
from blockwright.curves.primitives import arc, arc_through, line, polyline
from blockwright.errors import GeometryError

CAP_CURVE = fair_curve(CAP)


def closed(*curves: Curve) -> list[Curve]:
    """The curves, and the line back."""
    return [*curves, line(curves[-1].end, curves[0].start)]


SLEEVE = [
    CAP_CURVE.reversed(),
    fair_curve([(0.0, 0.0), (25.0, -200.0), (40.0, -420.0)]),
    line(Point(40.0, -420.0), Point(300.0, -420.0)),
    fair_curve([(300.0, -420.0), (315.0, -200.0), (340.0, 0.0)]),
]


@pytest.mark.parametrize(
    "outline",
    [
        SLEEVE,
        [curve.reversed() for curve in reversed(SLEEVE)],
        closed(CAP_CURVE),
        [arc(Point(0.0, 0.0), 80.0, 0.0, math.tau)],
        [arc(Point(0.0, 0.0), 80.0, 0.0, 3.0), arc(Point(0.0, 0.0), 80.0, 3.0, math.tau)],
        # A lens whose sides meet at a sharp tip, and one whose sides part tangentially.
        [
            arc_through(Point(0, 0), Point(50, -5), Point(100, 0)),
            arc_through(Point(100, 0), Point(50, -4), Point(0, 0)),
        ],
        [
            bezier(0, 0, 30, 0, 70, 20, 100, 40),
            line(Point(100, 40), Point(50, 0)),
            line(Point(50, 0), Point(0, 0)),
        ],
        # An open chain.
        [CAP_CURVE],
        [CURVES["cusp"]],
        closed(CURVES["cusp"]),
    ],
    ids=str,
)
def test_good_outlines(outline: list[Curve]) -> None:
    assert self_crossings(outline) == ()


def test_a_tip_of_a_tenth_of_a_degree() -> None:
    tip = Point.polar(200.0, math.radians(0.1))
    spike = [Point(0.0, 0.0), Point(200.0, 0.0), tip, Point(-5.0, 30.0)]
    lines = [line(a, b) for a, b in zip(spike, [*spike[1:], spike[0]], strict=True)]
    assert len(self_crossings(lines)) == 0
    sharp = [Point(200.0, 0.0), Point(0.0, 0.0), tip, Point(230.0, 30.0)]
    lines = [line(a, b) for a, b in zip(sharp, [*sharp[1:], sharp[0]], strict=True)]
    assert self_crossings(lines) == ()


def test_a_bow_tie() -> None:
    corners = [Point(0, 0), Point(100, 100), Point(100, 0), Point(0, 100), Point(0, 0)]
    (one,) = self_crossings([polyline(corners)])
    assert abs(one.point - Point(50.0, 50.0)) < 1e-9
    diagonal = math.hypot(50.0, 50.0)
    assert one.along_a == pytest.approx(diagonal)
    assert one.along_b == pytest.approx(2.0 * diagonal + 100.0 + diagonal)
    lines = [line(a, b) for a, b in zip(corners, corners[1:], strict=False)]
    assert self_crossings(lines) == self_crossings([polyline(corners)])


def test_a_piece_that_loops_in_itself() -> None:
    for outline in ([CURVES["loop"]], closed(CURVES["loop"]), [CURVES["loop"].reversed()]):
        (one,) = self_crossings(outline)
        assert abs(one.point - Point(50.0, 300.0 / 7.0)) < 1e-9
        assert one.along_a < one.along_b


@pytest.mark.parametrize("size", [1.0, 0.1, 0.01, 1e-3])
def test_a_loop_as_small_as_that(size: float) -> None:
    """Just past the cusp: at a thousandth the loop is a few accuracies wide."""
    control = CURVES["cusp"].control.copy()
    control[0, 2, 0] -= size
    (one,) = self_crossings(closed(Curve(control)))
    assert abs(one.point - Point(50.0, 75.0)) < size


@pytest.mark.parametrize("sag", [30.0, 3.0, 0.3, 0.03])
def test_neighbours_that_cross_near_their_corner(sag: float) -> None:
    """An edge comes back over its neighbour just beside the corner they share."""
    first = line(Point(0.0, 0.0), Point(100.0, 0.0))
    # It leaves the corner above the line at 0.3 of its slope, and crosses it on the way down.
    second = bezier(100.0, 0.0, 70.0, sag, 70.0, -3.0 * sag, 20.0, -6.0 * sag)
    (one,) = self_crossings(closed(first, second))
    assert abs(one.point.y) < 1e-9
    assert 50.0 < one.point.x < 99.0
    mirrored = [c.moved(Affine.mirror(Point(0, 0), Point(1, 0))) for c in closed(first, second)]
    assert len(self_crossings(mirrored)) == 1


@pytest.mark.parametrize("near", [10.0, 1.0, 0.1, 0.01])
def test_neighbours_that_cross_at_a_smooth_joint(near: float) -> None:
    """A small loop right after the joint of two edges that run on smoothly."""
    first = line(Point(0.0, 0.0), Point(100.0, 0.0))
    loop = CURVES["loop"].control / 100.0 * near + [100.0, 0.0]
    loop[0, 1] = [100.0 + 1.5 * near, 1.0 * near]
    found = self_crossings([first, Curve(loop)])
    assert len(found) == 1
    assert distance_to(found[0].point, 100.0) < 3.0 * near


def distance_to(point: Point, x: float) -> float:
    return math.hypot(point.x - x, point.y)


def test_edges_that_run_over_each_other() -> None:
    slit = [
        Point(0, 0),
        Point(100, 0),
        Point(100, 60),
        Point(100, 20),
        Point(140, 20),
        Point(140, -50),
    ]
    found = self_crossings([line(a, b) for a, b in zip(slit, [*slit[1:], slit[0]], strict=True)])
    assert found
    assert all(one.point.x == pytest.approx(100.0) for one in found if one.point.y > 1.0)
    dart = [line(Point(0, 0), Point(50, 80)), line(Point(50, 80), Point(0, 0))]
    assert len(self_crossings(dart)) == 1


def test_an_outline_that_touches_itself() -> None:
    """Two corners at one place, and a corner on an edge."""
    eight = [
        Point(0, 0),
        Point(50, 50),
        Point(100, 0),
        Point(100, 100),
        Point(50, 50),
        Point(0, 100),
    ]
    (one,) = self_crossings([polyline([*eight, eight[0]])])
    assert abs(one.point - Point(50.0, 50.0)) < 1e-9
    tee = [Point(0, 0), Point(100, 0), Point(100, 100), Point(50, 0), Point(0, 100)]
    (two,) = self_crossings([polyline([*tee, tee[0]])])
    assert abs(two.point - Point(50.0, 0.0)) < 1e-9


def test_what_is_no_outline() -> None:
    with pytest.raises(GeometryError, match="curve 2 does not start where curve 1 ends"):
        self_crossings([line(Point(0, 0), Point(1, 0)), line(Point(2, 0), Point(3, 0))])
    with pytest.raises(GeometryError, match="accuracy must be 1e-09 mm or coarser"):
        self_crossings(SLEEVE, accuracy=0.0)


@settings(max_examples=200, deadline=None)
@given(corners=st.lists(points, min_size=3, max_size=9, unique=True))
def test_polygons_against_shapely(corners: list[Point]) -> None:
    ring = shapely.LinearRing([tuple(point) for point in corners])
    chain = polyline([*corners, corners[0]])
    # Corners within a hundredth of another edge are for the two to differ about.
    for i, corner in enumerate(corners):
        others = [j for j in range(len(corners)) if j not in (i, (i - 1) % len(corners))]
        for j in others:
            edge = shapely.LineString([tuple(corners[j]), tuple(corners[(j + 1) % len(corners)])])
            assume(shapely.distance(shapely.Point(tuple(corner)), edge) > 0.01)
    assert (self_crossings([chain]) == ()) == ring.is_simple


@settings(max_examples=200, deadline=None)
@given(control=control_points())
def test_one_piece_against_its_loop_in_closed_form(control: np.ndarray) -> None:
    """A cubic meets itself at t and u where (B(t) - B(u)) / (t - u) = 0: two linear equations
    in t + u and t^2 + t u + u^2."""
    # Smaller, or flatter, than the accuracy it touches itself all along.
    size = np.abs(control - control[0]).max()
    assume(size > 0.01)
    flat = np.linalg.svd(control - control.mean(axis=0), compute_uv=False)[-1]
    assume(flat > 1e-3 * size)
    p0, p1, p2, p3 = control
    a, b, c = p3 - p0 + 3.0 * (p1 - p2), 3.0 * (p0 - 2.0 * p1 + p2), 3.0 * (p1 - p0)
    det = a[0] * b[1] - a[1] * b[0]
    assume(abs(det) > 1e-6 * (np.abs(a).max() + 1e-3) * (np.abs(b).max() + 1e-3))
    # a (t^2 + t u + u^2) + b (t + u) + c = 0.
    square = (b[0] * c[1] - b[1] * c[0]) / det
    total = (c[0] * a[1] - c[1] * a[0]) / det
    product = total * total - square
    gap = total * total - 4.0 * product
    t, u = ((total + sign * math.sqrt(max(gap, 0.0))) / 2.0 for sign in (-1.0, 1.0))
    assume(abs(gap) > 1e-3 and min(abs(t), abs(1.0 - u), abs(u), abs(1.0 - t)) > 1e-3)
    loops = gap > 0.0 and t > 0.0 and u < 1.0
    found = self_crossings([Curve(control[None])])
    assert len(found) == loops
    if loops:
        along = Curve(control[None]).along(np.zeros(2, dtype=int), np.array([t, u]))
        assert (found[0].along_a, found[0].along_b) == pytest.approx(tuple(along), abs=1e-5)
