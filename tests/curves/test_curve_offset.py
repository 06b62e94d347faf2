"""Parallel curves against closed forms, shapely and OCCT."""

from __future__ import annotations

import math

import cadquery as cq
import numpy as np
import pytest
import shapely
from cadquery.func import offset2D
from curve_samples import CAP, SPIRAL

from blockwright import Curve, GeometryError, Point, arc, fair_curve, line, parallel, polyline
from parts import thinned

CURVES = {"cap": fair_curve(CAP), "spiral": fair_curve(SPIRAL)}
# The tightest radius of the cap is 42 mm, of the spiral some 75.
WIDTHS = (6.0, 15.0, 30.0)


def edge(curve: Curve) -> cq.Wire:
    return cq.Wire.assembleEdges(
        [cq.Edge.makeBezier([cq.Vector(*p) for p in piece]) for piece in curve.control]
    )


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


@pytest.mark.parametrize("accuracy", thinned([(0.1,), (1e-2,), (1e-3,), (1e-5,)]))
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


def test_length_of_a_parallel() -> None:
    """A parallel is shorter by distance times turning: Steiner's formula."""
    curve = CURVES["cap"]
    turning = math.fsum(
        (curve.curvatures_at(mid) * step).sum()
        for mid, step in [
            (
                np.linspace(0.0, curve.length, 200001)[:-1] + curve.length / 400000.0,
                curve.length / 200000.0,
            )
        ]
    )
    assert parallel(curve, 12.0, accuracy=1e-6).length == pytest.approx(
        curve.length - 12.0 * turning, abs=1e-3
    )


def test_refusals() -> None:
    with pytest.raises(GeometryError, match="corner"):
        parallel(polyline([Point(0, 0), Point(10, 0), Point(10, 10)]), 1.0)
    with pytest.raises(GeometryError, match="radius is 10 mm"):
        parallel(arc(Point(0.0, 0.0), 10.0, 0.0, 1.0), 12.0)
    with pytest.raises(GeometryError, match="accuracy"):
        parallel(CURVES["cap"], 1.0, accuracy=0.0)
