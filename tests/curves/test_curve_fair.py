"""The fair curve gives back circles, lines and spirals, and says why when it cannot."""

from __future__ import annotations

import math

import numpy as np
import pytest
from curve_samples import CAP, CIRCLE, SPIRAL, SPIRAL_BENDS, Marks, euler_spiral
from fair_measures import Fit, across

from blockwright.curves.fair import fair_curve, fair_spline
from blockwright.curves.point import Point
from blockwright.errors import GeometryError


def test_marks_on_a_circle_give_the_circle() -> None:
    curve = fair_curve(CIRCLE)
    places = curve.points_at(np.linspace(0.0, curve.length, 2000))
    assert np.abs(np.hypot(*places.T) - 100.0).max() < 1e-3
    assert curve.length == pytest.approx(100.0 * math.radians(150.0), abs=1e-3)
    assert (curve.end - Point(*CIRCLE[-1])) == Point(0.0, 0.0)


@pytest.mark.parametrize("sweep", [-239.0, -120.0, -1.0, 1e-3, 30.0, 180.0, 239.0])
def test_two_marks_and_a_direction_give_the_arc(sweep: float) -> None:
    half = math.radians(sweep) / 2.0
    radius = 50.0 / math.sin(half)
    curve = fair_curve([(0.0, 0.0), (100.0, 0.0)], start=Point.polar(3.0, half))
    centre = np.array([50.0, -50.0 / math.tan(half)])
    off = np.hypot(*(curve.points_at(np.linspace(0.0, curve.length, 500)) - centre).T)
    assert np.abs(off - abs(radius)).max() < max(1e-3, 1e-9 * abs(radius))
    assert curve.length == pytest.approx(2.0 * half * radius, abs=1e-3)
    # Left of the chord first, so it turns right.
    assert math.copysign(1.0, curve.curvature_at(10.0)) == -math.copysign(1.0, sweep)


@pytest.mark.parametrize("ends", [(None, None), (Point(3.0, 4.0), Point(0.3, 0.4))])
def test_marks_on_a_line_give_the_line(ends: tuple[Point | None, Point | None]) -> None:
    marks = [Point(3.0, 4.0) * s for s in (0.0, 0.01, 4.0, 5.0, 30.0)]
    curve = fair_curve(marks, *ends)
    assert curve.length == pytest.approx(150.0, abs=1e-12)
    places = curve.points_at(np.linspace(0.0, 150.0, 100))
    assert np.abs(places @ np.array([-0.8, 0.6])).max() < 1e-12


@pytest.mark.parametrize(
    ("bends", "at"),
    [
        (SPIRAL_BENDS, (0.0, 60.0, 150.0, 230.0, 310.0, 400.0)),
        ((0.012, -0.012, 300.0), (0.0, 100.0, 130.0, 300.0)),
        ((0.0, 0.02, 250.0), (0.0, 250.0)),
        ((-0.02, -0.0001, 200.0), (0.0, 3.0, 90.0, 200.0)),
    ],
)
def test_marks_on_a_spiral_give_the_spiral(
    bends: tuple[float, float, float], at: tuple[float, ...]
) -> None:
    first, last, length = bends
    marks = [(float(x), float(y)) for x, y in euler_spiral(np.array(at), *bends)]
    turned = (first + last) / 2.0 * length
    curve = fair_curve(marks, start=Point(1.0, 0.0), end=Point.polar(1.0, turned))
    along = np.linspace(0.0, length, 1000)
    assert curve.length == pytest.approx(length, abs=0.01)
    truth = euler_spiral(along, *bends)
    assert np.hypot(*(curve.points_at(along * curve.length / length) - truth).T).max() < 0.01


def test_the_spiral_of_the_samples_is_one() -> None:
    """Fresnel's integrals against plain quadrature of the direction."""
    first, last, length = SPIRAL_BENDS
    nodes, weights = np.polynomial.legendre.leggauss(60)
    s = (nodes + 1.0) * length / 2.0
    angle = first * s + (last - first) / length * s * s / 2.0
    end = np.array([np.cos(angle) @ weights, np.sin(angle) @ weights]) * length / 2.0
    assert np.abs(end - np.array(SPIRAL[-1])).max() < 1e-10


def test_end_directions_are_kept() -> None:
    fit = Fit(CAP, Point(10.0, -1.0), Point(2.0, 0.4))
    assert fit.off_the_tangents() < 1e-12
    assert fit.off_the_marks() < 1e-12


def test_free_ends_are_arcs() -> None:
    fit = Fit(CAP, None, None)
    for span in (fit.spans[0], fit.spans[-1]):
        assert span.start_curvature == pytest.approx(span.end_curvature, rel=1e-9)


@pytest.mark.parametrize("marks", [CIRCLE, CAP, SPIRAL])
def test_a_mark_on_the_curve_leaves_it(marks: Marks) -> None:
    fit = Fit(marks, None, None)
    for share in (0.01, 0.3, 0.77):
        assert fit.strays(fit.with_mark_at(share * fit.curve.length).curve) < 0.001


def test_a_moved_mark_moves_the_curve() -> None:
    """The measure of straying bites."""
    fit = Fit(CAP, None, None)
    moved = [*CAP[:4], (170.0, 150.1), *CAP[5:]]
    assert 0.09 < fit.strays(fair_curve(moved)) < 0.11
    assert across(fit.curve, np.array([100.0]), fit.curve.points_at([101.0]))[0] < 0.01


def test_a_thousand_marks_on_a_circle() -> None:
    angle = np.linspace(0.0, 6.0, 1000)
    curve = fair_curve([(100.0 * math.cos(a), 100.0 * math.sin(a)) for a in angle])
    assert curve.length == pytest.approx(600.0, abs=1e-6)


@pytest.mark.parametrize(
    ("marks", "ends", "says"),
    [
        ([(0, 0)], {}, "a curve needs two marks or more, not 1"),
        ([(0, 0), (1, math.nan)], {}, "mark 2 is not a place"),
        ([(0, 0), (1, math.inf)], {}, "mark 2 is not a place"),
        ([(0, 0), (50, 0), (50, 0), (80, 0)], {}, "marks 2 and 3 are at the same place: leave one"),
        ([(0, 0), (50, 0), (50, 1e-5)], {}, "marks 2 and 3 are at the same place, 1e-05 mm apart"),
        ([(7, 7), (7, 7)], {}, "marks 1 and 2 are at the same place"),
        ([(0, 0), (50, 0), (5, 3)], {}, "double back at mark 2, a turn of 176 degrees"),
        ([(0, 0), (50, 0)], {"start": Point(0, 0)}, "the start direction .* points nowhere"),
        ([(0, 0), (50, 0)], {"end": Point(math.nan, 0)}, "the end direction .* points nowhere"),
        ([(0, 0), (50, 0)], {"start": Point(-1, 0.1)}, "the start direction points back"),
        ([(0, 0), (50, 0)], {"end": Point(-1, -0.1)}, "the end direction points back"),
        (
            [(0, 0), (50, 0)],
            {"start": Point.polar(1, math.radians(121))},
            "between mark 1 and mark 2: it would curl round",
        ),
    ],
)
def test_what_cannot_be_fitted_says_why(marks: Marks, ends: dict[str, Point], says: str) -> None:
    with pytest.raises(GeometryError, match=says) as caught:
        fair_curve(marks, **ends)
    assert "\n" not in str(caught.value)


@pytest.mark.parametrize(
    ("first", "last"), [(0, 0), (2, 1), (3, 9), (9, 12), (-1, 2), (-3, -1), (-2, 9), (0, -1)]
)
def test_no_span_lies_between(first: int, last: int) -> None:
    spline = fair_spline([(0, 0), (50, 30), (100, 0), (150, -20)])
    with pytest.raises(GeometryError, match=f"from mark {first} to mark {last}: .* are 0 to 3"):
        spline.between(first, last)


def test_the_stretch_between_two_marks() -> None:
    spline = fair_spline([(0, 0), (50, 30), (100, 0), (150, -20)])
    parts = [spline.between(i, i + 1) for i in range(3)]
    assert [tuple(part.end) for part in parts] == spline.points[1:]
    assert spline.between(0, 9).length == pytest.approx(sum(part.length for part in parts))


def test_it_is_drawn_beyond_a_half_circle_up_to_240_degrees() -> None:
    drawn = fair_curve([(0, 0), (50, 0)], start=Point.polar(1, math.radians(119.9)))
    assert drawn.length / 50.0 == pytest.approx(4.0 * math.pi / 3.0 / math.sqrt(3.0), rel=0.01)
