"""Lengths, equal divisions and areas by an independent judge: OCCT, by way of cadquery."""

from __future__ import annotations

import math

import cadquery as cq
import numpy as np
import pytest
from curve_samples import CAP, CURVES, SMOOTH

from blockwright.curves.bezier import halves
from blockwright.curves.chain import join, signed_area
from blockwright.curves.curve import Curve
from blockwright.curves.fair import fair_curve
from blockwright.curves.offset import parallel
from blockwright.curves.point import Point
from blockwright.curves.primitives import line

# OCCT measures curves to about this share of their length.
OCCT = 1e-7


def wire(*curves: Curve) -> cq.Wire:
    """The same curves as OCCT's own, every piece cut into eighths.

    OCCT measures a piece that bends much with few nodes: of "one piece" whole it finds 182.79 mm
    where quadrature in thirty digits finds 182.857.
    """
    pieces = np.concatenate([curve.control for curve in curves])
    for _ in range(3):
        pieces = np.stack(halves(pieces), axis=1).reshape(-1, 4, 2)
    return cq.Wire.assembleEdges(
        [cq.Edge.makeBezier([cq.Vector(*place) for place in piece]) for piece in pieces]
    )


@pytest.mark.parametrize("name", [*SMOOTH, "corner", "loop"])
def test_length(name: str) -> None:
    curve = CURVES[name]
    assert curve.length == pytest.approx(wire(curve).Length(), rel=OCCT)


@pytest.mark.parametrize("name", ["cap", "spiral", "one piece", "clockwise arc", "corner", "loop"])
def test_a_hundred_equal_parts(name: str) -> None:
    curve = CURVES[name]
    ours = np.array([tuple(point) for point in curve.divide(100)])
    judged = wire(curve).positions(np.linspace(0.0, 1.0, 101).tolist())
    theirs = np.array([(place.x, place.y) for place in judged])
    assert np.hypot(*(ours - theirs).T).max() < 10.0 * OCCT * curve.length


@pytest.mark.parametrize("name", ["cap", "spiral", "clockwise arc", "one piece"])
def test_direction_and_bend(name: str) -> None:
    curve = CURVES[name]
    # The middles of pieces: at joints the bend of a chain jumps a little.
    for i, piece in enumerate(curve.control):
        edge = cq.Edge.makeBezier([cq.Vector(*place) for place in piece])
        theirs = edge.tangentAt(0.5, mode="parameter")
        along = float(curve.along(np.array([i]), np.array([0.5]))[0])
        assert abs(curve.tangent_at(along) - Point(theirs.x, theirs.y)) < 1e-9
        assert abs(curve.curvature_at(along)) == pytest.approx(
            edge.curvatureAt(0.5, mode="parameter"), rel=1e-6, abs=1e-12
        )


def closed(curve: Curve) -> list[Curve]:
    return [curve, line(curve.end, curve.start)]


@pytest.mark.parametrize("name", ["cap", "spiral", "clockwise arc", "circle"])
def test_area(name: str) -> None:
    curve = CURVES[name]
    outline = [curve] if curve.start == curve.end else closed(curve)
    theirs = cq.Face.makeFromWires(wire(*outline)).Area()
    assert abs(signed_area(outline)) == pytest.approx(theirs, rel=1e-6)


def test_area_of_a_cap_and_its_seam_allowance() -> None:
    """The strip beside a curve: distance times length, less half the square times the turning."""
    cap = fair_curve(CAP)
    beside = parallel(cap, 15.0, accuracy=1e-5)
    strip = [
        cap.reversed(),
        line(cap.start, beside.start),
        beside,
        line(beside.end, cap.end),
    ]
    turning = _turning(cap)
    exact = 15.0 * cap.length - 15.0 * 15.0 / 2.0 * turning
    theirs = cq.Face.makeFromWires(wire(*strip)).Area()
    assert abs(signed_area(strip)) == pytest.approx(exact, abs=1e-3)
    assert theirs == pytest.approx(exact, rel=1e-6)
    assert join(strip).length == pytest.approx(wire(*strip).Length(), rel=OCCT)


def _turning(curve: Curve) -> float:
    """Angle between the tangents at the ends; the cap turns right by less than half a turn."""
    first, last = curve.start_tangent, curve.end_tangent
    return math.atan2(first.cross(last), first.dot(last))
