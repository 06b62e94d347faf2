"""Where curves meet each other, and the place nearest to a point."""

from __future__ import annotations

import itertools
import math

import numpy as np
import pytest
import shapely
from curve_samples import CAP, CURVES, bezier
from curve_strategies import control_points, curves, points
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from blockwright.curves.affine import Affine
from blockwright.curves.curve import Curve
from blockwright.curves.fair import fair_curve
from blockwright.curves.intersect import Crossing, intersections
from blockwright.curves.nearest import nearest
from blockwright.curves.point import Point, distance
from blockwright.curves.primitives import arc, line, polyline
from blockwright.errors import GeometryError

CIRCLE = arc(Point(0.0, 0.0), 100.0, 0.0, math.tau)
# How far the circle of Bézier pieces may stray from the true one.
ROUND = 7e-8 * 100.0


def check(a: Curve, b: Curve, found: tuple[Crossing, ...], accuracy: float = 1e-6) -> None:
    """In order, on both curves, and told apart."""
    for one in found:
        assert abs(a.point_at(one.along_a) - one.point) < 1e-9
        assert abs(b.point_at(one.along_b) - one.point) < accuracy + 1e-9
    assert [one.along_a for one in found] == sorted(one.along_a for one in found)
    for one, other in itertools.combinations(found, 2):
        apart = abs(one.along_a - other.along_a), abs(one.along_b - other.along_b)
        assert max(apart) > accuracy


# -- crossings by hand ---------------------------------------------------------------------------


@pytest.mark.parametrize("height", [-99.0, -50.0, 0.0, 1.0, 60.0, 99.99])
@pytest.mark.parametrize("turn", [0.1, 0.7, 2.0])
def test_a_line_across_a_circle(height: float, turn: float) -> None:
    by = Affine.turn(turn)
    chord = line(Point(-150.0, height), Point(180.0, height)).moved(by)
    found = intersections(chord, CIRCLE)
    check(chord, CIRCLE, found)
    half = math.sqrt(1e4 - height * height)
    # A circle off by ROUND moves a flat crossing by so much more.
    near = 1e-9 + ROUND * 100.0 / half
    # A chord through the place where the circle starts and ends meets both.
    places = sorted({round(one.along_a, 5): one.along_a for one in found}.values())
    assert places == pytest.approx([150.0 - half, 150.0 + half], abs=near)
    back = intersections(CIRCLE, chord)
    assert sorted(one.along_a for one in back) == pytest.approx(
        sorted(one.along_b for one in found), abs=1e-9
    )


@pytest.mark.parametrize("gap", [0.0, 1e-8, -1e-8, 5e-7])
def test_a_line_that_touches_a_circle(gap: float) -> None:
    """At the joint of two pieces, where the Bézier circle is the true one."""
    tangent = line(Point(-150.0, 100.0 + gap), Point(180.0, 100.0 + gap))
    (one,) = intersections(tangent, CIRCLE)
    assert one.along_a == pytest.approx(150.0, abs=0.01)
    assert one.along_b == pytest.approx(50.0 * math.pi, abs=0.01)


@pytest.mark.parametrize("gap", [2e-6, 1e-3, 1.0])
def test_a_line_that_misses_a_circle(gap: float) -> None:
    above = line(Point(-150.0, 100.0 + gap), Point(180.0, 100.0 + gap))
    assert intersections(above, CIRCLE) == ()


def test_a_near_miss_is_met_at_a_coarser_accuracy() -> None:
    above = line(Point(-150.0, 100.0 + 2e-6), Point(180.0, 100.0 + 2e-6))
    assert intersections(above, CIRCLE) == ()
    assert len(intersections(above, CIRCLE, accuracy=2.1e-6)) == 1


@pytest.mark.parametrize("depth", [1e-5, 1e-4, 1e-2])
def test_two_crossings_close_together_stay_two(depth: float) -> None:
    chord = line(Point(-150.0, 100.0 - depth), Point(180.0, 100.0 - depth))
    found = intersections(chord, CIRCLE)
    half = math.sqrt(200.0 * depth - depth * depth)
    assert [one.along_a for one in found] == pytest.approx([150.0 - half, 150.0 + half], rel=1e-2)


def test_two_circles() -> None:
    """Crossing, touching from outside and from inside, apart."""
    for away, radius, expected in (
        (120.0, 60.0, 2),
        (160.0, 60.0, 1),
        (40.0, 60.0, 1),
        (161.0, 60.0, 0),
        (30.0, 60.0, 0),
    ):
        other = arc(Point(away, 0.0), radius, math.pi, -math.pi)
        found = intersections(CIRCLE, other, accuracy=2.0 * ROUND)
        # The pieces of a circle begin at 0 degrees, where these touch.
        places = {(round(one.point.x, 1), round(one.point.y, 1)) for one in found}
        assert len(places) == expected, (away, found)
        for x, y in places:
            assert math.hypot(x, y) == pytest.approx(100.0, abs=0.1)


def test_ends_count() -> None:
    base = line(Point(0.0, 0.0), Point(100.0, 0.0))
    for other in (
        line(Point(100.0, 0.0), Point(100.0, 50.0)),
        line(Point(30.0, 40.0), Point(0.0, 0.0)),
        line(Point(60.0, -20.0), Point(60.0, 0.0)),
        line(Point(60.0, -20.0), Point(60.0, -9e-7)),
        line(Point(40.0, -20.0), Point(60.0, -9e-7)),
        line(Point(100.0, 0.0), Point(180.0, 0.0)),
        line(Point(100.0 + 9e-7, 0.0), Point(180.0, 0.0)),
    ):
        (one,) = intersections(base, other)
        assert distance(one.point, Point(one.along_a, 0.0)) < 1e-9
        assert one.along_b == pytest.approx(0.0, abs=1e-5) or one.along_b == pytest.approx(
            other.length, abs=1e-5
        )
    for other in (
        line(Point(60.0, -20.0), Point(60.0, -1.1e-6)),
        line(Point(100.0 + 1.1e-6, 0.0), Point(180.0, 0.0)),
        line(Point(0.0, 1.1e-6), Point(100.0, 1.1e-6)),
    ):
        assert intersections(base, other) == ()


def test_through_a_joint_once() -> None:
    corner = polyline([Point(0.0, 0.0), Point(50.0, 50.0), Point(100.0, 0.0)])
    (one,) = intersections(corner, line(Point(50.0, 0.0), Point(50.0, 90.0)))
    assert abs(one.point - Point(50.0, 50.0)) < 1e-9
    (two,) = intersections(corner, line(Point(0.0, 50.0), Point(100.0, 50.0)))
    assert two.along_a == pytest.approx(math.hypot(50.0, 50.0))


def test_a_curve_that_passes_a_place_twice_meets_there_twice() -> None:
    loop = CURVES["loop"]
    # Its own crossing is at (50, 300/7); its top, at half its length, at (50, 75).
    ruler = line(Point(50.0, 0.0), Point(50.0, 60.0))
    found = intersections(ruler, loop)
    assert [one.point.y for one in found] == pytest.approx([300.0 / 7.0, 300.0 / 7.0])
    assert found[0].along_b + found[1].along_b == pytest.approx(loop.length)


# -- crossings of random curves ------------------------------------------------------------------


@settings(max_examples=200, deadline=None)
@given(control=control_points(), a=points, b=points)
def test_a_line_across_a_piece(control: np.ndarray, a: Point, b: Point) -> None:
    """Against the roots of the cubic by numpy."""
    assume(distance(a, b) > 1.0)
    curve, ruler = Curve(control[None]), line(a, b)
    ahead = (b - a).unit()
    off = (control - [a.x, a.y]) @ [-ahead.y, ahead.x]
    power = np.array(
        [
            off[0],
            3.0 * (off[1] - off[0]),
            3.0 * (off[0] - 2.0 * off[1] + off[2]),
            off[3] - off[0] + 3.0 * (off[1] - off[2]),
        ]
    )
    assume(np.abs(off).max() > 1e-3)
    roots = np.roots(power[::-1])
    slope = np.polyval(np.polyder(power[::-1]), roots)
    # Clear crossings only: neither a touch, nor at an end of either.
    clear = (np.abs(roots.imag) < 1e-9) & (roots.real > 1e-3) & (roots.real < 1.0 - 1e-3)
    doubtful = (np.abs(roots.imag) < 1e-2) & ~clear & (roots.real > -2e-3) & (roots.real < 1.002)
    assume(not doubtful.any() and (np.abs(slope[clear]) > 0.1).all())
    t = np.sort(roots.real[clear])
    s = 1.0 - t
    places = np.stack([s**3, 3 * s * s * t, 3 * s * t * t, t**3], axis=1) @ control
    along = (places - [a.x, a.y]) @ [ahead.x, ahead.y]
    assume((np.abs(along) > 1e-3).all() and (np.abs(along - ruler.length) > 1e-3).all())
    inside = (along > 0.0) & (along < ruler.length)
    found = intersections(curve, ruler)
    check(curve, ruler, found)
    truth = curve.along(np.zeros(int(inside.sum()), dtype=int), t[inside])
    assert [one.along_a for one in found] == pytest.approx(truth.tolist(), abs=1e-6)


@settings(max_examples=150, deadline=None)
@given(first=curves(pieces=2), second=curves(pieces=2))
def test_crossings_against_polylines(first: Curve, second: Curve) -> None:
    """Every crossing of fine polylines is near one of ours, and every one of ours near theirs."""
    fine = 1e-4
    polylines = [shapely.LineString(curve.flatten(accuracy=fine)) for curve in (first, second)]
    assume(all(one.length > 1.0 for one in polylines))
    shared = shapely.intersection(*polylines)
    assume(shared.length < fine)
    try:
        found = intersections(first, second)
    except GeometryError as error:
        assume("run together" not in str(error))
        raise
    check(first, second, found)
    ours = shapely.MultiPoint([tuple(one.point) for one in found])
    for place in shapely.get_coordinates(shared):
        near = shapely.distance(shapely.Point(place), ours) if found else math.inf
        # Polylines graze where the curves only come near.
        grazes = any(nearest(curve, Point(*place)).distance > fine for curve in (first, second))
        if near > 0.05 and not grazes:
            at, gap = _closest_approach(first, second, Point(*place))
            assert gap > 1e-6 or any(_one_contact(first, second, at, one) for one in found)
    for one in found:
        assert max(shapely.distance(shapely.Point(tuple(one.point)), p) for p in polylines) < 2e-4


def _closest_approach(a: Curve, b: Curve, place: Point) -> tuple[float, float]:
    """Where along a, within 0.04 mm of a place, the curves come nearest, and how near."""
    at, width = nearest(a, place).along, 0.032
    gap = math.inf
    for _ in range(12):
        around = np.clip(np.linspace(at - width, at + width, 21), 0.0, a.length)
        away = [nearest(b, a.point_at(s)).distance for s in around]
        i = int(np.argmin(away))
        at, gap, width = float(around[i]), min(gap, away[i]), width / 5.0
    return at, gap


def _one_contact(a: Curve, b: Curve, along: float, one: Crossing) -> bool:
    """Whether the curves stay within the accuracy, and a little, from a place to a crossing."""
    way = np.linspace(along, one.along_a, 20)
    return all(nearest(b, a.point_at(s)).distance <= 1.3e-6 for s in way)


@pytest.mark.parametrize("turn", [0.05, 0.3, 1.0, 1.6, 2.5])
def test_a_cap_against_itself_turned(turn: float) -> None:
    cap = fair_curve(CAP)
    other = cap.moved(Affine.turn(turn, Point(170.0, 60.0)))
    found = intersections(cap, other)
    check(cap, other, found)
    fine = [shapely.LineString(curve.flatten(accuracy=1e-5)) for curve in (cap, other)]
    theirs = shapely.get_coordinates(shapely.intersection(*fine))
    assert len(found) == len(theirs)
    for one in found:
        assert np.hypot(*(theirs - [one.point.x, one.point.y]).T).min() < 1e-3


def test_a_cusp_is_met() -> None:
    cusp = CURVES["cusp"]
    (one,) = intersections(cusp, line(Point(0.0, 75.0), Point(100.0, 75.0)))
    assert abs(one.point - Point(50.0, 75.0)) < 1e-5
    (two,) = intersections(cusp, line(Point(50.0, 75.0), Point(50.0, 90.0)))
    assert abs(two.point - Point(50.0, 75.0)) < 1e-5
    across = intersections(cusp, line(Point(0.0, 74.0), Point(100.0, 74.0)))
    assert len(across) == 2


# -- curves that run together --------------------------------------------------------------------


def test_what_runs_together_is_refused() -> None:
    cap = fair_curve(CAP)
    base = line(Point(0.0, 0.0), Point(100.0, 0.0))
    for a, b, long in (
        (cap, cap, cap.length),
        (cap, cap.reversed(), cap.length),
        (cap, cap.part(50.0, 90.0), 40.0),
        (base, line(Point(60.0, 0.0), Point(300.0, 0.0)), 40.0),
        (base, line(Point(300.0, 0.0), Point(99.5, 0.0)), 0.5),
        (base, base.moved(Affine.move(Point(0.0, 5e-7))), 100.0),
        (base, CURVES["there and back"], 100.0),
    ):
        with pytest.raises(GeometryError, match="the curves run together for") as caught:
            intersections(a, b)
        told = float(str(caught.value).split(" for ")[1].split(" mm")[0])
        assert told == pytest.approx(long, rel=0.02)


def test_what_comes_near_may_be_told_apart_finer() -> None:
    base = line(Point(0.0, 0.0), Point(100.0, 0.0))
    beside = line(Point(0.0, -5e-7), Point(100.0, 5e-7))
    with pytest.raises(GeometryError, match="run together"):
        intersections(base, beside)
    (one,) = intersections(base, beside, accuracy=1e-9)
    assert one.along_a == pytest.approx(50.0, abs=0.2)
    with pytest.raises(GeometryError, match="accuracy must be 1e-09 mm or coarser"):
        intersections(base, beside, accuracy=1e-10)


# -- nearest -------------------------------------------------------------------------------------


@settings(max_examples=200, deadline=None)
@given(curve=curves(), point=points)
def test_nothing_is_nearer_than_the_nearest(curve: Curve, point: Point) -> None:
    found = nearest(curve, point)
    t = np.linspace(0.0, 1.0, 2001)
    s = 1.0 - t
    basis = np.stack([s**3, 3.0 * s * s * t, 3.0 * s * t * t, t**3], axis=1)
    places = (basis @ curve.control).reshape(-1, 2)
    away = np.hypot(*(places - [point.x, point.y]).T)
    size = 1.0 + abs(point) + np.abs(curve.control).max()
    assert found.distance <= away.min() + 1e-13 * size
    assert found.distance == pytest.approx(distance(found.point, point), abs=1e-13 * size)
    assert abs(curve.point_at(found.along) - found.point) < 1e-8 * size
    # The samples come as near as their steps allow.
    step = np.hypot(*np.diff(places, axis=0).T).max()
    assert away.min() <= found.distance + step


@given(along=st.floats(0.0, 1.0), off=st.floats(-30.0, 30.0))
def test_the_nearest_lies_square_to_the_curve(along: float, off: float) -> None:
    cap = CURVES["cap"]
    place, ahead = cap.point_at(along * cap.length), cap.tangent_at(along * cap.length)
    # Its tightest bend has a radius of 33 mm, and its sides stand further apart.
    found = nearest(cap, place + ahead.left() * off)
    assert found.distance == pytest.approx(abs(off), abs=1e-9)
    assert found.along == pytest.approx(along * cap.length, abs=1e-6)


def test_nearest_by_hand() -> None:
    base = line(Point(0.0, 0.0), Point(100.0, 0.0))
    found = nearest(base, Point(30.0, 40.0))
    assert found.along == pytest.approx(30.0, abs=1e-12)
    assert distance(found.point, Point(30.0, 0.0)) < 1e-12
    assert found.distance == pytest.approx(40.0, abs=1e-12)
    assert nearest(base, Point(-3.0, 4.0)).point == base.start
    assert nearest(base, Point(103.0, 4.0)).along == 100.0
    assert nearest(CIRCLE, Point(0.0, 0.0)).distance == pytest.approx(100.0, abs=ROUND)
    assert nearest(CIRCLE, Point(-160.0, 0.0)).along == pytest.approx(100.0 * math.pi, abs=1e-4)
    assert nearest(CURVES["cusp"], Point(50.0, 80.0)).distance == pytest.approx(5.0)


@pytest.mark.parametrize(
    "point",
    [
        Point(math.nan, 0.0),
        Point(0.0, math.nan),
        Point(math.inf, 0.0),
        Point(5.0, -math.inf),
        Point(math.inf, -math.inf),
    ],
)
@pytest.mark.parametrize("name", ["cap", "cusp"])
def test_nothing_is_nearest_to_no_place(name: str, point: Point) -> None:
    with pytest.raises(GeometryError, match=r"nothing is nearest to \(.*finite numbers"):
        nearest(CURVES[name], point)


def test_of_equally_near_places_the_first() -> None:
    corner = polyline([Point(-50.0, 0.0), Point(0.0, 0.0), Point(0.0, 50.0)])
    assert nearest(corner, Point(-10.0, 10.0)).along == pytest.approx(40.0)
    assert nearest(corner.reversed(), Point(-10.0, 10.0)).along == pytest.approx(40.0)
    half = bezier(0.0, 0.0, 0.0, 100.0, 90.0, 100.0, 90.0, 0.0)
    assert nearest(half, Point(45.0, -20.0)).along == 0.0
