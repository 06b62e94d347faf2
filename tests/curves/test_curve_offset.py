"""Parallel curves against closed forms, shapely and OCCT."""

from __future__ import annotations

import math
import re

import cadquery as cq
import numpy as np
import pytest
import shapely
from cadquery.func import offset2D
from curve_samples import CAP, SPIRAL
from curve_samples import CURVES as SAMPLES
from curve_strategies import curves
from hypothesis import assume, given, settings
from hypothesis import strategies as st

from blockwright import Curve, GeometryError, Point, arc, fair_curve, line, nearest, parallel
from blockwright.curves.chain import corners

CURVES = {"cap": fair_curve(CAP), "spiral": fair_curve(SPIRAL)}
# The tightest radius of the cap is 42 mm, of the spiral some 75.
WIDTHS = (6.0, 15.0, 30.0)


@pytest.mark.parametrize("way", [1.0, -1.0])
@pytest.mark.parametrize("width", WIDTHS)
@pytest.mark.parametrize("name", CURVES)
def test_every_point_is_at_the_distance(name: str, width: float, way: float) -> None:
    """A thousand points of the parallel, by shapely's distance to a fine polyline."""
    curve = CURVES[name]
    beside = parallel(curve, way * width, accuracy=1e-3)
    fine = shapely.LineString(curve.flatten(accuracy=1e-5))
    points = shapely.points(beside.points_at(np.linspace(0.0, beside.length, 1000)))
    assert np.abs(shapely.distance(points, fine) - width).max() < 1e-3 + 1e-5


@pytest.mark.parametrize("accuracy", [0.1, 1e-2, 1e-3, 1e-5])
def test_the_stated_accuracy_is_kept(accuracy: float) -> None:
    curve = CURVES["cap"]
    beside = parallel(curve, 20.0, accuracy=accuracy)
    fine = shapely.LineString(curve.flatten(accuracy=1e-7))
    points = shapely.points(beside.points_at(np.linspace(0.0, beside.length, 2000)))
    assert np.abs(shapely.distance(points, fine) - 20.0).max() <= accuracy + 1e-7


@pytest.mark.parametrize("width", WIDTHS)
def test_against_occt_edge_by_edge(width: float) -> None:
    """OCCT's offset of one edge; ours of the same Bézier piece has its length and its points."""
    for piece in CURVES["cap"].control[::3]:
        single = Curve(piece[None])
        ours = parallel(single, width, accuracy=1e-5)
        own = cq.Edge.makeBezier([cq.Vector(*p) for p in piece])
        plane = cq.Face.makePlane(2000.0, 2000.0)
        theirs = [offset2D(own, sign * width, ctx=plane, closed=False) for sign in (1.0, -1.0)]
        middle = cq.Vector(*ours.point_at(ours.length / 2.0))
        gaps = [shape.distance(cq.Vertex.makeVertex(*middle.toTuple())) for shape in theirs]
        near = theirs[int(np.argmin(gaps))]
        assert min(gaps) < 1e-4
        assert sum(e.Length() for e in near.Edges()) == pytest.approx(ours.length, abs=1e-3)


def test_arc_and_line_in_closed_form() -> None:
    quarter = arc(Point(0.0, 0.0), 100.0, 0.0, math.pi / 2.0)
    inside = parallel(quarter, 30.0)  # left of a counter-clockwise arc is inside
    radii = np.hypot(*inside.points_at(np.linspace(0.0, inside.length, 200)).T)
    assert np.abs(radii - 70.0).max() < 1e-3
    assert parallel(quarter, -30.0).length == pytest.approx(130.0 * math.pi / 2.0, rel=1e-6)
    straight = parallel(line(Point(0.0, 0.0), Point(30.0, 40.0)), 5.0)
    assert (straight.start, straight.end) == (Point(-4.0, 3.0), Point(26.0, 43.0))


@pytest.mark.parametrize("width", [12.0, -12.0])
def test_length_of_a_parallel(width: float) -> None:
    """It is shorter by distance times turning (Steiner); turning by the tangents at the ends."""
    curve = CURVES["cap"]
    first, last = curve.start_tangent, curve.end_tangent
    turning = math.atan2(first.cross(last), first.dot(last))
    beside = parallel(curve, width, accuracy=1e-6)
    assert beside.length == pytest.approx(curve.length - width * turning, abs=1e-4)


def test_it_runs_the_same_way_at_the_same_distance_from_both_ends() -> None:
    curve = CURVES["spiral"]
    beside = parallel(curve, 10.0)
    for at, far, ahead, along in (
        (curve.start, beside.start, curve.start_tangent, beside.start_tangent),
        (curve.end, beside.end, curve.end_tangent, beside.end_tangent),
    ):
        assert abs(far - at - ahead.left() * 10.0) < 1e-12
        assert abs(ahead - along) < 1e-12
    assert corners(beside) == []
    assert parallel(curve, 0.0) == curve
    mirrored = parallel(curve.reversed(), -10.0).reversed()
    assert np.abs(mirrored.control - beside.control).max() < 1e-9


@settings(max_examples=100, deadline=None)
@given(curve=curves(pieces=1), share=st.floats(-0.95, 0.95))
def test_random_pieces(curve: Curve, share: float) -> None:
    """As near to folding as asked: each point as far from the place it faces as it should be."""
    at = np.linspace(0.0, curve.length, 400)
    bends = np.abs(curve.curvatures_at(at))
    assume(np.isfinite(bends).all() and 0.1 < bends.max() * curve.length < 1e3)
    width = share / float(bends.max())
    assume(abs(width) > 1e-3)
    try:
        beside = parallel(curve, width, accuracy=1e-3)
    except GeometryError as error:
        # The samples missed the tightest place, or a cusp between them.
        assume(not re.search("folds|cusp", str(error)))
        raise
    assert curve.control.shape[0] <= beside.control.shape[0] < 200
    for place in beside.points_at(np.linspace(0.0, beside.length, 60)):
        away = nearest(curve, Point(*place)).distance
        # It may come nearer to another place of a curve that bends back; never further.
        assert away <= abs(width) + 1e-3
        if abs(width) * 4.0 < curve.length and bends.max() * curve.length < 3.0:
            assert away == pytest.approx(abs(width), abs=1e-3)


@pytest.mark.parametrize("share", [0.5, 0.9, 0.99, 0.9999])
def test_just_short_of_folding(share: float) -> None:
    """The cap's tightest left bend, by samples; the parallel there shrinks to a corner."""
    curve = CURVES["cap"]
    at = np.linspace(0.0, curve.length, 20001)
    tightest = 1.0 / float(curve.curvatures_at(at).max())
    beside = parallel(curve, share * tightest)
    fine = shapely.LineString(curve.flatten(accuracy=1e-5))
    points = shapely.points(beside.points_at(np.linspace(0.0, beside.length, 1000)))
    assert np.abs(shapely.distance(points, fine) - share * tightest).max() < 1e-3 + 1e-5
    with pytest.raises(GeometryError, match="folds") as caught:
        parallel(curve, 1.001 * tightest)
    told = re.search(r"radius is ([\d.]+) mm at ([\d.]+) mm along it", str(caught.value))
    assert told
    assert float(told[1]) == pytest.approx(tightest, rel=1e-3)
    assert curve.curvature_at(float(told[2])) == pytest.approx(1.0 / tightest, rel=1e-3)


def test_straight_pieces_are_exact() -> None:
    for piece in ("straight but for rounding", "no handles", "line"):
        beside = parallel(SAMPLES[piece], 7.0)
        ahead = (SAMPLES[piece].end - SAMPLES[piece].start).unit()
        step = ahead.left() * 7.0
        assert np.abs(beside.control - SAMPLES[piece].control - [step.x, step.y]).max() < 1e-12


@pytest.mark.parametrize(
    ("curve", "width", "says"),
    [
        ("corner", 1.0, r"the curve has a corner at 80\.62 mm: split it there first"),
        ("cusp", -1.0, r"the curve has a cusp at 91\.42 mm: split it there first"),
        ("cusp", 1.0, "the curve.s radius is .* mm at 91.42 mm along it"),
        ("there and back", 1.0, r"the curve has a cusp at \d+\.\d\d mm: split it there first"),
        ("no handle at the start", 1.0, r"the curve has a cusp at 0\.00 mm: split it there first"),
        ("circle", 70.01, "a parallel 70.01 mm to the left folds: the curve's radius is 70 mm"),
        (
            "clockwise arc",
            -300.0,
            "a parallel 300 mm to the right folds: the curve's radius is 250",
        ),
        ("cap", math.nan, "a parallel needs a distance, not nan mm"),
    ],
)
def test_what_has_no_parallel(curve: str, width: float, says: str) -> None:
    with pytest.raises(GeometryError, match=says):
        parallel(SAMPLES[curve], width)


@pytest.mark.parametrize("accuracy", [0.0, -1.0, math.nan])
def test_a_parallel_needs_an_accuracy(accuracy: float) -> None:
    with pytest.raises(GeometryError, match="accuracy must be more than 0 mm"):
        parallel(CURVES["cap"], 1.0, accuracy=accuracy)
