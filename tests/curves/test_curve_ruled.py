"""Where a ruled line meets a curve, against closed forms and shapely."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from blockwright import (
    GeometryError,
    Point,
    arc,
    arc_between,
    fair_curve,
    fair_spline,
    line,
    on_line,
    points_on_line,
    polyline,
)
from blockwright.curves.intersect_line import on_segment

CAP = [
    (-170, 0),
    (-140, 12),
    (-95, 62),
    (-45, 128),
    (0, 150),
    (48, 130),
    (92, 66),
    (135, 10),
    (170, 0),
]


@pytest.mark.parametrize("height", [-99.0, -40.0, 0.0, 60.0, 99.9])
def test_line_across_a_circle(height: float) -> None:
    circle = arc(Point(0.0, 0.0), 100.0, 0.0, math.tau)
    found = on_line(circle, Point(-1.0, height), Point(1.0, height))
    angles = sorted(
        a % math.tau for a in (math.asin(height / 100.0), math.pi - math.asin(height / 100.0))
    )
    expected = [a * 100.0 for a in angles] + ([math.tau * 100.0] if height == 0.0 else [])
    assert found == pytest.approx(expected, abs=2e-4)  # an arc is within 1.4e-7 of its radius


@pytest.mark.parametrize(
    ("low", "high", "expected"),
    [(-20.0, 20.0, 2), (-20.0, 0.0, 1), (-4.9, 4.9, 0), (5.0, 20.0, 1), (6.0, 20.0, 0)],
)
def test_a_segment_meets_what_lies_between_its_ends(low: float, high: float, expected: int) -> None:
    roof = polyline([Point(-10.0, 0.0), Point(0.0, 90.0), Point(10.0, 0.0)])
    a, b = Point(low, 45.0), Point(high, 45.0)
    every = on_line(roof, a, b)
    found = on_segment(roof, a, b)
    assert [s for s in every if low - 1e-9 <= roof.point_at(s).x <= high + 1e-9] == [*found]
    assert len(found) == expected
    exact = shapely.LineString([(-10, 0), (0, 90), (10, 0)])
    assert shapely.distance(exact, shapely.LineString([[*a], [*b]])) == pytest.approx(
        0.0 if expected else min(abs(5.0 - abs(x)) for x in (low, high)) * math.sin(math.atan(9)),
        abs=1e-9,
    )


def test_a_curve_may_run_along_the_line_beyond_a_segment() -> None:
    hook = polyline([Point(0.0, -5.0), Point(0.0, 5.0), Point(50.0, 5.0), Point(50.0, 0.0),
                     Point(80.0, 0.0)])  # fmt: skip
    assert on_segment(hook, Point(-9.0, 0.0), Point(9.0, 0.0)) == pytest.approx([5.0])
    with pytest.raises(GeometryError, match="runs along the line"):
        on_line(hook, Point(-9.0, 0.0), Point(9.0, 0.0))
    with pytest.raises(GeometryError, match="runs along the line"):
        on_segment(hook, Point(-9.0, 0.0), Point(60.0, 0.0))


def test_line_that_touches_counts_once() -> None:
    circle = arc(Point(0.0, 0.0), 100.0, 0.1, 3.0)
    top = circle.bounds[3]
    assert len(on_line(circle, Point(0.0, top - 1e-10), Point(1.0, top - 1e-10))) <= 2
    assert on_line(circle, Point(0.0, 101.0), Point(1.0, 101.0)) == ()


def test_corner_of_two_pieces_counts_once() -> None:
    roof = polyline([Point(0.0, 0.0), Point(10.0, 10.0), Point(20.0, 0.0)])
    assert on_line(roof, Point(10.0, -5.0), Point(10.0, 5.0)) == pytest.approx(
        [10.0 * math.sqrt(2.0)]
    )


@pytest.mark.parametrize("angle", np.linspace(0.05, 3.0, 12))
def test_random_lines_against_shapely(angle: float) -> None:
    cap = fair_curve(CAP)
    a, step = Point(10.0, 70.0), Point.polar(600.0, float(angle))
    polygon = shapely.LineString(cap.flatten(accuracy=1e-6))
    ruler = shapely.LineString([tuple(a - step), tuple(a + step)])
    expected = sorted(polygon.project(p) for p in _points(polygon.intersection(ruler)))
    assert on_line(cap, a, a + step) == pytest.approx(expected, abs=2e-3)


def _points(shape: shapely.Geometry) -> list[shapely.Point]:
    return list(getattr(shape, "geoms", [shape])) if not shape.is_empty else []


def test_refusals() -> None:
    with pytest.raises(GeometryError, match="no line"):
        on_line(fair_curve(CAP), Point(1.0, 1.0), Point(1.0, 1.0))
    with pytest.raises(GeometryError, match="runs along"):
        on_line(line(Point(0.0, 0.0), Point(9.0, 0.0)), Point(-1.0, 0.0), Point(1.0, 0.0))


@pytest.mark.parametrize(
    "place", [(math.nan, 0.0), (0.0, math.nan), (math.inf, 0.0), (1, -math.inf)]
)
def test_no_line_through_what_is_no_place(place: tuple[float, float]) -> None:
    cap, here, wrong = fair_curve(CAP), Point(1.0, 60.0), Point(*place)
    for ends in ((wrong, here), (here, wrong)):
        for meet in (on_line, lambda curve, *ends: points_on_line([curve], *ends)):
            with pytest.raises(GeometryError, match=r"no line through \(.*finite numbers"):
                meet(cap, *ends)


def test_no_curves_meet_no_line() -> None:
    with pytest.raises(GeometryError, match="no curves for a line to meet"):
        points_on_line([], Point(0.0, 0.0), Point(1.0, 0.0))


@pytest.mark.parametrize("turn", [0.0, 1e-9, 0.3, -1.2, 3.0, -5.5])
def test_arc_between_has_its_length_and_tangents(turn: float) -> None:
    a, b = Point(3.0, -2.0), Point(120.0, 45.0)
    drawn = arc_between(a, b, turn)
    chord = b - a
    half = turn / 2.0
    assert (drawn.start, drawn.end) == (a, b)
    assert drawn.length == pytest.approx(
        abs(chord) * (half / math.sin(half) if half else 1.0), rel=1e-7
    )
    assert drawn.start_tangent.cross(chord.unit().turned(-half)) == pytest.approx(0.0, abs=1e-12)
    assert drawn.end_tangent.cross(chord.unit().turned(half)) == pytest.approx(0.0, abs=1e-12)


def test_arc_between_refuses_a_full_turn_and_one_point() -> None:
    with pytest.raises(GeometryError):
        arc_between(Point(0.0, 0.0), Point(1.0, 0.0), math.tau)
    with pytest.raises(GeometryError):
        arc_between(Point(1.0, 0.0), Point(1.0, 0.0), 1.0)


def test_length_without_drawing_is_the_drawn_length() -> None:
    start, end = Point(1.0, 0.1), Point(1.0, -0.2)
    drawn = fair_curve(CAP, start, end).length
    assert fair_spline(CAP, start, end).length == pytest.approx(drawn, rel=1e-7)
