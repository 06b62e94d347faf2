"""The curve value: length, places along it, cutting, moving, bounds and polylines."""

from __future__ import annotations

import itertools
import math

import mpmath
import numpy as np
import pytest
import shapely
from curve_samples import CURVES, bezier
from curve_strategies import CUSP, curves
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.optimize import minimize_scalar

from blockwright.curves.affine import Affine
from blockwright.curves.curve import Curve
from blockwright.curves.fair import fair_curve
from blockwright.curves.point import Point
from blockwright.curves.primitives import arc, line, polyline
from blockwright.errors import GeometryError

every_sample = pytest.mark.parametrize("curve", CURVES.values(), ids=CURVES.keys())


def reference_length(control: np.ndarray) -> float:
    """By quadrature in 30 digits, cut where the speed is least, so that a cusp is an end."""
    steps = np.diff(control, axis=1)
    total = mpmath.mpf(0)
    for step in steps:
        c = [3.0 * step[0], 6.0 * (step[1] - step[0]), 3.0 * (step[0] - 2.0 * step[1] + step[2])]
        square = sum(np.convolve(*([[c[2][k], c[1][k], c[0][k]]] * 2)) for k in (0, 1))
        stops = np.roots(np.polyder(square)) if square.any() else np.array([])
        inner = sorted(float(t.real) for t in stops if abs(t.imag) < 1e-3 and 0.0 < t.real < 1.0)
        exact = [[mpmath.mpf(float(value)) for value in part] for part in c]

        def speed(t: mpmath.mpf, c: list[list[mpmath.mpf]] = exact) -> mpmath.mpf:
            return mpmath.hypot(*(c[0][k] + t * (c[1][k] + t * c[2][k]) for k in (0, 1)))

        total += mpmath.quad(speed, [0.0, *inner, 1.0])
    return float(total)


# -- length --------------------------------------------------------------------------------------


@every_sample
def test_length_of_the_samples(curve: Curve) -> None:
    assert curve.length == pytest.approx(reference_length(curve.control), rel=1e-9)


@settings(max_examples=150, deadline=None)
@given(curve=curves(pieces=2))
def test_length_against_quadrature(curve: Curve) -> None:
    assert curve.length == pytest.approx(reference_length(curve.control), rel=1e-9)


def test_length_in_closed_form() -> None:
    """A parabola y = x^2 on -1..1, raised to a cubic; a line; a cusp, by hand."""
    parabola = bezier(-1.0, 1.0, -1.0 / 3.0, -1.0 / 3.0, 1.0 / 3.0, -1.0 / 3.0, 1.0, 1.0)
    assert parabola.length == pytest.approx(math.sqrt(5.0) + math.asinh(2.0) / 2.0, rel=1e-12)
    assert CURVES["line"].length == pytest.approx(math.hypot(117.0, 57.0), rel=1e-14)
    # On a line from 0 by 150 and -50 to 100 the curve turns back where its speed is nothing.
    turns = np.sort(np.roots([700.0 * 3.0, -700.0 * 3.0, 450.0]))
    x = [450.0 * t - 1050.0 * t**2 + 700.0 * t**3 for t in (0.0, *turns, 1.0)]
    assert CURVES["there and back"].length == pytest.approx(np.abs(np.diff(x)).sum(), rel=1e-9)


@pytest.mark.parametrize("off", [0.0, *(10.0**-k for k in range(1, 14))])
def test_length_on_the_way_to_a_cusp(off: float) -> None:
    control = CUSP.copy()
    control[2, 0] += off
    curve = Curve(control[None])
    assert curve.length == pytest.approx(reference_length(curve.control), rel=1e-9)


# -- places along it -----------------------------------------------------------------------------


@settings(max_examples=200, deadline=None)
@given(curve=curves(), share=st.floats(0.0, 1.0))
def test_a_place_lies_as_far_along_as_was_asked(curve: Curve, share: float) -> None:
    """Cut there and measured anew, by the rule that `reference_length` has judged."""
    distance = share * curve.length
    if 1e-3 < share < 1.0 - 1e-3:
        before, after = curve.split_at(distance)
        assert before.length == pytest.approx(distance, abs=1e-9 * curve.length)
        assert after.length == pytest.approx(curve.length - distance, abs=1e-9 * curve.length)
        gap = curve.point_at(distance) - before.end
        assert abs(gap) < 1e-9 * (1.0 + curve.length)
        assert before.end == after.start


@settings(max_examples=100, deadline=None)
@given(curve=curves(), parts=st.integers(1, 12))
def test_equal_parts_are_equal(curve: Curve, parts: int) -> None:
    points = curve.divide(parts)
    assert len(points) == parts + 1
    assert (points[0], points[-1]) == (curve.start, curve.end)
    size = 1e-9 * (1.0 + curve.length)
    for i in range(parts):
        piece = curve.part(curve.length * i / parts, curve.length * (i + 1) / parts)
        assert piece.length == pytest.approx(curve.length / parts, abs=size)
        assert abs(piece.start - points[i]) < 10.0 * size
        assert abs(piece.end - points[i + 1]) < 10.0 * size


@every_sample
def test_ends_are_exact(curve: Curve) -> None:
    assert abs(curve.point_at(0.0) - curve.start) == 0.0
    assert abs(curve.point_at(curve.length) - curve.end) == 0.0
    assert abs(curve.tangent_at(0.0) - curve.start_tangent) < 1e-9
    assert abs(curve.tangent_at(curve.length) - curve.end_tangent) < 1e-9
    assert abs(curve.start_tangent) == pytest.approx(1.0, abs=1e-14)


@every_sample
def test_joints_are_the_lengths_so_far(curve: Curve) -> None:
    lengths = [reference_length(curve.control[i : i + 1]) for i in range(len(curve.control))]
    so_far = list(itertools.accumulate(lengths))
    assert curve.joints == pytest.approx(np.array([0.0, *so_far]), rel=1e-9, abs=1e-9)
    ends = curve.along(np.arange(len(curve.control)), np.ones(len(curve.control)))
    assert ends == pytest.approx(curve.joints[1:], rel=1e-12)


@pytest.mark.parametrize("beyond", [-1e-3, 100.1, math.nan, math.inf])
def test_no_place_outside(beyond: float) -> None:
    curve = bezier(0.0, 0.0, 10.0, 0.0, 90.0, 0.0, 100.0, 0.0)
    with pytest.raises(GeometryError, match=r"no point at .* mm: the curve is 100\.0000 mm long"):
        curve.point_at(beyond)


def test_directions_and_bends() -> None:
    curve = arc(Point(0.0, 0.0), 50.0, 0.0, math.pi)
    at = np.linspace(0.0, curve.length, 50)
    angle = at / 50.0
    tangents = np.column_stack([-np.sin(angle), np.cos(angle)])
    assert np.abs(curve.tangents_at(at) - tangents).max() < 1e-5
    # A Bézier piece of an arc keeps its bend to a ten-thousandth.
    assert np.abs(curve.curvatures_at(at) - 0.02).max() < 2e-6
    assert np.abs(curve.reversed().curvatures_at(at) + 0.02).max() < 2e-6


def test_directions_where_the_speed_is_nothing() -> None:
    assert CURVES["no handle at the start"].start_tangent == Point(0.6, 0.8)
    line = CURVES["no handles"]
    ahead = Point(90.0, 30.0).unit()
    for tangent in (line.start_tangent, line.end_tangent, line.tangent_at(line.length)):
        assert abs(tangent - ahead) < 1e-12


# -- cutting and moving --------------------------------------------------------------------------


@settings(max_examples=100, deadline=None)
@given(curve=curves(), shares=st.lists(st.floats(0.01, 0.99), min_size=1, max_size=4, unique=True))
def test_lengths_of_parts_add_up(curve: Curve, shares: list[float]) -> None:
    cuts = [0.0, *sorted(curve.length * share for share in shares), curve.length]
    parts = [curve.part(a, b) for a, b in itertools.pairwise(cuts) if b > a]
    assert sum(part.length for part in parts) == pytest.approx(curve.length, rel=1e-9)
    for before, after in itertools.pairwise(parts):
        assert abs(before.end - after.start) < 1e-9 * (1.0 + curve.length)


@pytest.mark.parametrize(("begin", "end"), [(5.0, 5.0), (9.0, 2.0), (0.0, math.nan)])
def test_a_part_runs_forwards(begin: float, end: float) -> None:
    with pytest.raises(GeometryError, match="a part must begin before it ends"):
        CURVES["cap"].part(begin, end)


@pytest.mark.parametrize("share", [0.0, 1.0, -0.1, 1.1])
def test_no_split_at_the_ends(share: float) -> None:
    curve = CURVES["cap"]
    with pytest.raises(GeometryError, match="cannot split at"):
        curve.split_at(share * curve.length)


@every_sample
def test_a_split_at_every_joint(curve: Curve) -> None:
    for joint in curve.joints[1:-1]:
        before, after = curve.split_at(float(joint))
        assert len(before.control) + len(after.control) in {
            len(curve.control),
            len(curve.control) + 1,
        }
        assert before.length + after.length == pytest.approx(curve.length, rel=1e-9)
        assert abs(before.end - after.start) < 1e-9


@settings(max_examples=100, deadline=None)
@given(curve=curves(), angle=st.floats(-7.0, 7.0), factor=st.floats(0.01, 100.0))
def test_moving(curve: Curve, angle: float, factor: float) -> None:
    back = curve.reversed()
    assert back.reversed() == curve
    assert (back.start, back.end) == (curve.end, curve.start)
    assert back.length == pytest.approx(curve.length, rel=1e-9)
    turned = curve.moved(Affine.turn(angle, Point(3.0, 4.0)))
    assert turned.length == pytest.approx(curve.length, rel=1e-9)
    mirrored = curve.moved(Affine.mirror(Point(1.0, 2.0), Point(4.0, -3.0)))
    assert mirrored.length == pytest.approx(curve.length, rel=1e-9)
    scaled = curve.moved(Affine.scale(factor, Point(9.0, 9.0)))
    assert scaled.length == pytest.approx(factor * curve.length, rel=1e-9)
    at = 0.3 * curve.length
    still = Affine.turn(angle, Point(3.0, 4.0))(curve.point_at(at))
    assert abs(turned.point_at(at) - still) < 1e-7 * (1.0 + curve.length)


def test_affine_maps_by_hand() -> None:
    point = Point(3.0, 1.0)
    assert Affine.move(Point(1.0, 2.0))(point) == Point(4.0, 3.0)
    assert abs(Affine.turn(math.pi / 2.0, Point(1.0, 1.0))(point) - Point(1.0, 3.0)) < 1e-15
    assert abs(Affine.mirror(Point(0.0, 0.0), Point(5.0, 5.0))(point) - Point(1.0, 3.0)) < 1e-15
    assert Affine.scale(2.0, Point(1.0, 0.0))(point) == Point(5.0, 2.0)
    both = Affine.move(Point(1.0, 0.0)).then(Affine.scale(3.0))
    assert both(point) == Point(12.0, 3.0)
    assert both.apply(np.array([[3.0, 1.0]])).tolist() == [[12.0, 3.0]]


# -- seen from outside ---------------------------------------------------------------------------


@settings(max_examples=150, deadline=None)
@given(curve=curves(pieces=2))
def test_bounds_hold_the_curve_and_touch_it(curve: Curve) -> None:
    x0, y0, x1, y1 = curve.bounds
    t = np.linspace(0.0, 1.0, 401)
    s = 1.0 - t
    basis = np.stack([s**3, 3.0 * s * s * t, 3.0 * s * t * t, t**3])
    size = 1e-9 * (1.0 + np.abs(curve.control).max())
    for axis, (low, high) in enumerate(((x0, x1), (y0, y1))):
        for sign, bound in ((1.0, low), (-1.0, high)):
            truth = math.inf
            for piece in curve.control[:, :, axis]:
                value = sign * piece @ basis
                assert (value >= sign * bound - size).all()
                i = int(value.argmin())
                span = t[max(0, i - 1)], t[min(400, i + 1)]
                best = minimize_scalar(
                    lambda u, p=piece, g=sign: (
                        g
                        * float(p @ [(1 - u) ** 3, 3 * (1 - u) ** 2 * u, 3 * (1 - u) * u * u, u**3])
                    ),
                    bounds=span,
                    method="bounded",
                    options={"xatol": 1e-12},
                )
                truth = min(truth, float(value.min()), best.fun)
            assert sign * bound == pytest.approx(truth, abs=max(size, 1e-7))


@settings(max_examples=100, deadline=None)
@given(curve=curves(pieces=2), accuracy=st.sampled_from([1e-3, 0.01, 0.5, 20.0]))
def test_a_polyline_keeps_its_accuracy(curve: Curve, accuracy: float) -> None:
    corners = curve.flatten(accuracy=accuracy)
    assert (tuple(corners[0]), tuple(corners[-1])) == (tuple(curve.start), tuple(curve.end))
    polyline = shapely.LineString(corners)
    places = shapely.points(curve.points_at(np.linspace(0.0, curve.length, 500)))
    assert shapely.distance(places, polyline).max() <= accuracy + 1e-9
    # Nor is it needlessly fine: a hundredth of the accuracy takes ten times the corners.
    finer = curve.flatten(accuracy=accuracy / 100.0)
    assert len(corners) - 1 <= (len(finer) - 1) / 5.0 + 2.0 * len(curve.control)


@pytest.mark.parametrize("accuracy", [0.0, -1.0, math.nan])
def test_a_polyline_needs_an_accuracy(accuracy: float) -> None:
    with pytest.raises(GeometryError, match="accuracy must be more than 0 mm"):
        CURVES["cap"].flatten(accuracy=accuracy)


# -- what it is ----------------------------------------------------------------------------------


def test_a_curve_is_a_value() -> None:
    a, b = bezier(*range(8)), bezier(*range(8))
    assert a == b
    assert hash(a) == hash(b)
    assert a != a.reversed()
    assert a != "a curve"
    with pytest.raises(ValueError, match="read-only"):
        a.control[0, 0, 0] = 1.0
    assert repr(a) == "<Curve of 1 pieces, 8.49 mm, (0.00, 1.00) to (6.00, 7.00)>"


@pytest.mark.parametrize(
    ("control", "says"),
    [
        ([[0, 0], [1, 1]], "shape"),
        (np.zeros((0, 4, 2)), "shape"),
        ([[(0, 0), (1, 0), (2, 0), (math.nan, 0)]], "not a finite number"),
        ([[(5, 5)] * 4], "no length: all its points are one"),
        ([[(0, 0), (1, 0), (2, 0), (3, 0)], [(3, 0)] * 4], "piece 2 of the curve has no length"),
        (
            [[(0, 0), (1, 0), (2, 0), (3, 0)], [(3.5, 0), (4, 0), (5, 0), (6, 0)]],
            r"pieces do not meet: a gap of 0\.5 mm",
        ),
    ],
)
def test_what_is_no_curve(control: object, says: str) -> None:
    with pytest.raises(GeometryError, match=says):
        Curve(control)  # type: ignore[arg-type]


def test_a_split_within_rounding_of_a_joint_leaves_no_sliver() -> None:
    """Half way of a curve through three marks is a joint but for the last digits."""
    for size in range(200):
        tip = Point(30.0 + size / 7.0, 11.0 + size / 13.0)
        whole = fair_curve([Point(-tip.x, tip.y), Point(0.0, 0.0), tip])
        halves = whole.split_at(whole.length / 2.0)
        for half in halves:
            extents = np.abs(half.control - half.control[:, :1]).max(axis=(1, 2))
            assert extents.min() > 1e-9 * whole.length
            assert half.moved(Affine.turn(1.0)).length == pytest.approx(whole.length / 2.0)
        assert halves[0].length + halves[1].length == pytest.approx(whole.length, rel=1e-12)


def test_a_curve_is_not_split_at_its_end_but_for_rounding() -> None:
    whole = line(Point(0.0, 0.0), Point(300.0, 0.0))
    for at in (math.nextafter(300.0, 0.0), math.nextafter(0.0, 1.0)):
        with pytest.raises(GeometryError, match=r"cannot split at .* mm: the curve ends there"):
            whole.split_at(at)


@pytest.mark.parametrize("apart", [0.0, 1e-15, 9e-10])
def test_points_that_differ_by_rounding_are_one(apart: float) -> None:
    a, b = Point(200.0, 0.0), Point(200.0 + apart, apart)
    with pytest.raises(GeometryError, match="points 1 and 2 of a line are one place"):
        line(a, b)
    with pytest.raises(GeometryError, match="points 2 and 3 of a line are one place"):
        polyline([Point(0.0, 0.0), a, b])
    assert line(a, Point(200.0, 2e-9)).length == pytest.approx(2e-9)
