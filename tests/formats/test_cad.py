"""Curves and pieces to cadquery and back, judged by OCCT and by closed forms."""

from __future__ import annotations

import math
import sys
from dataclasses import replace

import cadquery as cq
import numpy as np
import pytest
from OCP.BRep import BRep_Builder
from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge
from OCP.Geom import Geom_BSplineCurve
from OCP.GeomConvert import GeomConvert
from OCP.gp import gp_Pnt
from OCP.TColgp import TColgp_Array1OfPnt
from OCP.TColStd import TColStd_Array1OfInteger, TColStd_Array1OfReal
from OCP.TopoDS import TopoDS_Wire
from workroom_documents import EVERY, workroom

from blockwright import (
    Curve,
    GeometryError,
    InputError,
    Point,
    arc,
    fair_curve,
    line,
    polyline,
    signed_area,
)
from blockwright.curves.bezier import halves
from blockwright.formats.cad import from_cadquery, to_cadquery
from blockwright.pattern.finishing.finish import FinishedPiece
from blockwright.pattern.piece import Piece

P = Point
CURVES = {
    "line": line(P(3.0, 4.0), P(-100.0, 250.0)),
    "corner": polyline([P(0.0, 0.0), P(200.0, 10.0), P(150.0, 90.0)]),
    "cap": fair_curve([P(0.0, 0.0), P(60.0, 40.0), P(150.0, 130.0), P(240.0, 40.0), P(300.0, 0.0)]),
    "clockwise arc": arc(P(5.0, 5.0), 120.0, 2.0, -1.0),
    "circle": arc(P(-20.0, 30.0), 80.0, 0.5, 0.5 + math.tau),
    "one piece": Curve([[(0, 0), (90, 200), (-40, 190), (120, 0)]]),
    "crosses itself": Curve([[(0, 0), (200, 150), (-100, 150), (100, 0)]]),
    "there and back": polyline([P(0.0, 0.0), P(100.0, 0.0), P(20.0, 0.0)]),
    "square": polyline([P(0.0, 0.0), P(9.0, 0.0), P(9.0, 9.0), P(0.0, 9.0), P(0.0, 0.0)]),
}


def vectors(*places: tuple[float, float]) -> list[cq.Vector]:
    return [cq.Vector(*place) for place in places]


def sampled(curve: Curve, count: int = 200) -> np.ndarray:
    return curve.points_at(np.linspace(0.0, curve.length, count))


def strays(curve: Curve, shape: cq.Shape, count: int = 60) -> float:
    """The most that points of a curve are off an edge or wire of OCCT, mm."""
    return max(shape.distance(cq.Vertex.makeVertex(x, y, 0.0)) for x, y in sampled(curve, count))


def check_ends(curve: Curve, edge: cq.Edge) -> None:
    for ours, theirs in ((curve.start, edge.startPoint()), (curve.end, edge.endPoint())):
        assert tuple(ours) == pytest.approx((theirs.x, theirs.y), abs=1e-7)


# -- to cadquery -----------------------------------------------------------------------------


@pytest.mark.parametrize("name", CURVES)
def test_a_curve_is_a_wire_of_the_same_beziers(name: str) -> None:
    curve = CURVES[name]
    wire = to_cadquery(curve)
    assert isinstance(wire, cq.Wire)
    assert wire.IsClosed() == (curve.start == curve.end)
    edges = list(wire)
    assert len(edges) == len(curve.control)
    for edge, piece in zip(edges, curve.control, strict=True):
        one = Curve(piece[None])
        straight = name in ("line", "corner", "there and back", "square")
        assert edge.geomType() == ("LINE" if straight else "BEZIER")
        check_ends(one, edge)
        if not straight:
            for t in (0.25, 0.5, 0.9):
                at = edge.positionAt(t, mode="parameter")
                s = 1.0 - t
                true = np.array([s**3, 3 * s * s * t, 3 * s * t * t, t**3]) @ piece
                assert (at.x, at.y, at.z) == pytest.approx((*true, 0.0), abs=1e-12)


@pytest.mark.parametrize("name", CURVES)
def test_there_and_back_again(name: str) -> None:
    curve = CURVES[name]
    back = from_cadquery(to_cadquery(curve))
    assert isinstance(back, Curve)
    assert back.length == pytest.approx(curve.length, abs=1e-6)
    assert np.abs(sampled(back) - sampled(curve)).max() < 1e-6


def pieces(keys: str) -> list[Piece | FinishedPiece]:
    whole = workroom(keys)
    return [*whole.pattern.pieces, *whole.finished]


def outline(piece: Piece | FinishedPiece) -> list[Curve]:
    edges = piece.cut if isinstance(piece, FinishedPiece) else piece.edges
    return [edge.curve for edge in edges]


@pytest.mark.parametrize("keys", EVERY)
def test_pieces_are_faces(keys: str) -> None:
    for piece in pieces(keys):
        face = to_cadquery(piece)
        assert isinstance(face, cq.Face)
        assert face.isValid()
        assert face.geomType() == "PLANE"
        assert face.normalAt().toTuple() == pytest.approx((0.0, 0.0, 1.0))
        curves = outline(piece)
        assert face.Area() == pytest.approx(signed_area(curves), rel=1e-5)
        (back,) = from_cadquery(face)
        assert signed_area([back]) == pytest.approx(signed_area(curves), abs=1e-3)
        assert back.length == pytest.approx(sum(c.length for c in curves), abs=1e-6)
        joints = np.concatenate([c.control.reshape(-1, 2) for c in curves])
        there = back.control.reshape(-1, 2)
        # Handles of straight lines come back at thirds, where ours are too.
        gaps = np.hypot(*(joints[:, None] - there[None]).transpose(2, 0, 1)).min(axis=1)
        assert gaps.max() < 1e-6


def test_a_finished_piece_is_its_cut_line() -> None:
    whole = workroom("skirt.gored")
    (piece,), (own,) = whole.pattern.pieces, whole.finished
    assert to_cadquery(own).Area() > to_cadquery(piece).Area() * 1.05


def test_an_outline_with_a_gap_is_told() -> None:
    (piece,) = workroom("skirt.gored").pattern.pieces
    with pytest.raises(GeometryError, match="a gap of"):
        to_cadquery(replace(piece, edges=piece.edges[:-1]))


def test_without_cadquery_it_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "cadquery", None)
    for call in (lambda: to_cadquery(CURVES["line"]), lambda: from_cadquery(None)):
        with pytest.raises(InputError, match="pip install cadquery"):
            call()


# -- lines and arcs --------------------------------------------------------------------------


def test_a_line() -> None:
    back = from_cadquery(cq.Edge.makeLine(*vectors((1, 2), (30, -4))))
    assert back == line(P(1.0, 2.0), P(30.0, -4.0))


@pytest.mark.parametrize("radius", [0.5, 40.0, 500.0, 20000.0])
@pytest.mark.parametrize(("begin", "end"), [(10.0, 75.0), (200.0, 460.0), (-3.0, 0.5)])
@pytest.mark.parametrize("turned_over", [False, True])
def test_arcs(radius: float, begin: float, end: float, turned_over: bool) -> None:
    """Within a millionth of a millimetre of the circle, and of the length of the closed form."""
    way = cq.Vector(0.0, 0.0, -1.0 if turned_over else 1.0)
    edge = cq.Edge.makeCircle(radius, cq.Vector(7.0, -9.0), way, begin, end)
    back = from_cadquery(edge)
    off = np.hypot(*(sampled(back, 2000) - [7.0, -9.0]).T) - radius
    assert np.abs(off).max() < 1e-6
    turn = math.radians(end - begin)
    assert back.length == pytest.approx(radius * turn, abs=1e-6 * turn)
    check_ends(back, edge)
    middle = edge.positionAt(0.5)
    half = back.point_at(back.length / 2.0)
    assert tuple(half) == pytest.approx((middle.x, middle.y), abs=1e-6)


def test_a_circle_closes() -> None:
    back = from_cadquery(cq.Edge.makeCircle(300.0))
    assert back.start == back.end
    assert signed_area([back]) == pytest.approx(math.pi * 9e4, abs=2e-3)


def test_arcs_through_points_and_backwards() -> None:
    edge = cq.Edge.makeThreePointArc(*vectors((0, 0), (50, 20), (100, 0)))
    back = from_cadquery(edge)
    check_ends(back, edge)
    assert strays(back, edge) < 1e-6
    turned = from_cadquery(cq.Edge(edge.wrapped.Reversed()))
    assert turned == back.reversed()


# -- splines ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "places",
    [
        [(0, 0), (30, 40)],
        [(0, 0), (30, 40), (80, 10)],
        [(0, 0), (30, 40), (80, 10), (90, 90)],
    ],
)
def test_beziers_up_to_cubics_are_exact(places) -> None:
    edge = cq.Edge.makeBezier(vectors(*places))
    back = from_cadquery(edge)
    assert len(back.control) == 1
    for t in np.linspace(0.0, 1.0, 9):
        at = edge.positionAt(float(t), mode="parameter")
        s = 1.0 - t
        ours = np.array([s**3, 3 * s * s * t, 3 * s * t * t, t**3]) @ back.control[0]
        assert tuple(ours) == pytest.approx((at.x, at.y), abs=1e-10)


def spline(degree: int, poles, knots, times, periodic: bool = False, weights=None) -> cq.Edge:
    """A B-spline by its definition."""
    at = TColgp_Array1OfPnt(1, len(poles))
    for i, (x, y) in enumerate(poles, start=1):
        at.SetValue(i, gp_Pnt(x, y, 0.0))
    breaks, counts = TColStd_Array1OfReal(1, len(knots)), TColStd_Array1OfInteger(1, len(knots))
    for i, (knot, count) in enumerate(zip(knots, times, strict=True), start=1):
        breaks.SetValue(i, knot)
        counts.SetValue(i, count)
    if weights:
        heavy = TColStd_Array1OfReal(1, len(weights))
        for i, weight in enumerate(weights, start=1):
            heavy.SetValue(i, weight)
        return cq.Edge(
            BRepBuilderAPI_MakeEdge(Geom_BSplineCurve(at, heavy, breaks, counts, degree)).Edge()
        )
    curve = Geom_BSplineCurve(at, breaks, counts, degree, periodic)
    return cq.Edge(BRepBuilderAPI_MakeEdge(curve).Edge())


ZIGZAG = [(0, 0), (30, 70), (80, -20), (120, 60), (170, 10), (200, 90)]
SPLINES = {
    "cubic": spline(3, ZIGZAG, [0, 1, 2.5, 4], [4, 1, 1, 4]),
    "cubic with a double knot": spline(3, ZIGZAG, [0, 2, 4], [4, 2, 4]),
    "square": spline(2, ZIGZAG, [0, 1, 2, 3, 5], [3, 1, 1, 1, 3]),
    "lines": spline(1, ZIGZAG, [0, 1, 2, 3, 4, 5], [2, 1, 1, 1, 1, 2]),
    "periodic": spline(3, ZIGZAG, [0, 1, 2, 3, 4, 5, 6], [1] * 7, periodic=True),
    "through points": cq.Edge.makeSpline(vectors(*ZIGZAG)),
    "closed through points": cq.Edge.makeSpline(vectors(*ZIGZAG), periodic=True),
    "cut": cq.Edge.makeSpline(vectors(*ZIGZAG)).trim(0.21, 0.83),
    "cut bezier": cq.Edge.makeBezier(vectors(*ZIGZAG[:4])).trim(0.3, 0.7),
}
OTHERS = {
    "ellipse": cq.Edge.makeEllipse(150.0, 60.0),
    "flat ellipse": cq.Edge.makeEllipse(400.0, 2.0),
    "turned part of an ellipse": cq.Edge.makeEllipse(
        90.0, 40.0, cq.Vector(9, 9), cq.Vector(0, 0, -1), cq.Vector(1, 2, 0), 20.0, 290.0
    ),
    "fifth degree": cq.Edge.makeBezier(vectors(*ZIGZAG)),
    "fourth degree with a corner": spline(
        4, [*ZIGZAG, (90, 95), (10, 80), (0, 9)], [0, 1, 2], [5, 4, 5]
    ),
    "rational": spline(3, ZIGZAG, [0, 1, 2.5, 4], [4, 1, 1, 4], weights=[1, 2, 0.5, 1, 3, 1]),
    "circle as a rational spline": cq.Edge(
        BRepBuilderAPI_MakeEdge(
            GeomConvert.CurveToBSplineCurve_s(
                cq.Edge.makeCircle(250.0, angle1=10, angle2=280)._geomAdaptor().Curve().Curve()
            )
        ).Edge()
    ),
}


def check_along(curve: Curve, edge: cq.Edge, near: float) -> None:
    """Every point of either is near the other, and they go the same way."""
    check_ends(curve, edge)
    assert strays(curve, edge) < near
    wire = to_cadquery(curve)
    for t in np.linspace(0.0, 1.0, 101):
        assert wire.distance(cq.Vertex.makeVertex(*edge.positionAt(float(t)).toTuple())) < near


@pytest.mark.parametrize("name", SPLINES)
def test_splines_up_to_cubics_are_exact(name: str) -> None:
    edge = SPLINES[name]
    back = from_cadquery(edge)
    check_along(back, edge, 1e-7)
    parts = back.control
    for _ in range(3):
        parts = np.stack(halves(parts), axis=1).reshape(-1, 4, 2)
    fine = [cq.Edge.makeBezier(vectors(*part)) for part in parts]
    assert back.length == pytest.approx(sum(part.Length() for part in fine), rel=1e-7)


def test_a_cubic_spline_has_a_piece_between_knots() -> None:
    assert len(from_cadquery(SPLINES["cubic"]).control) == 3
    assert len(from_cadquery(SPLINES["lines"]).control) == 5


@pytest.mark.parametrize("name", OTHERS)
def test_others_are_within_a_thousandth(name: str) -> None:
    edge = OTHERS[name]
    back = from_cadquery(edge)
    check_along(back, edge, 1e-3)
    assert len(back.control) < 120


def test_a_corner_is_met_with_the_tangents_on_either_side() -> None:
    """Otherwise the pieces next to it are halved until they are too small to stray."""
    control = from_cadquery(OTHERS["fourth degree with a corner"]).control
    assert len(control) < 55
    assert np.hypot(*(control[:, 3] - control[:, 0]).T).min() > 0.1


def test_an_ellipse_by_its_equation() -> None:
    back = from_cadquery(OTHERS["ellipse"])
    x, y = sampled(back, 3000).T
    # Near the ellipse the equation changes by 2/a or more a millimetre.
    assert np.abs((x / 150.0) ** 2 + (y / 60.0) ** 2 - 1.0).max() < 1e-3 * 2.0 / 60.0
    assert signed_area([back]) == pytest.approx(math.pi * 150.0 * 60.0, abs=0.5)


# -- wires and faces -------------------------------------------------------------------------


def test_a_wire_of_mixed_edges_in_any_order() -> None:
    a, b, c, d = vectors((0, 0), (100, 0), (100, 60), (0, 60))
    edges = [
        cq.Edge.makeLine(c, d),
        cq.Edge.makeThreePointArc(a, cq.Vector(50, -20), b),
        cq.Edge.makeSpline([d, cq.Vector(-15, 30), a]),
        cq.Edge.makeLine(c, b),
    ]
    back = from_cadquery(cq.Wire.assembleEdges(edges))
    assert back.start == back.end
    # OCCT measures the spline with few nodes.
    assert back.length == pytest.approx(sum(e.Length() for e in edges), abs=1e-3)
    area = cq.Face.makeFromWires(cq.Wire.assembleEdges(edges)).Area()
    assert abs(signed_area([back])) == pytest.approx(area, rel=1e-5)


def test_an_open_wire_keeps_its_ends() -> None:
    places = vectors((0, 0), (100, 0), (100, 60), (0, 60))
    back = from_cadquery(cq.Wire.makePolygon(places))
    assert sorted([tuple(back.start), tuple(back.end)]) == [(0.0, 0.0), (0.0, 60.0)]
    assert back.length == pytest.approx(260.0)


def test_a_face_with_a_hole() -> None:
    """Outline counter-clockwise, hole clockwise, whichever way the face looks."""
    face = cq.Workplane().rect(100.0, 60.0).extrude(1.0).faces("<Z").workplane().hole(20.0)
    bottom = face.faces("<Z").val()
    assert bottom.normalAt().z == pytest.approx(-1.0)
    around, hole = from_cadquery(bottom)
    assert signed_area([around]) == pytest.approx(6000.0)
    assert signed_area([hole]) == pytest.approx(-math.pi * 100.0, abs=1e-4)


def test_moved_and_mirrored_shapes() -> None:
    edge = cq.Edge.makeThreePointArc(*vectors((0, 0), (50, 20), (100, 0)))
    flat = cq.Wire.assembleEdges([edge, cq.Edge.makeLine(*vectors((100, 0), (0, 0)))])
    face = cq.Face.makeFromWires(flat)
    moved = face.moved(cq.Location(cq.Vector(500, -30), cq.Vector(0, 0, 1), 40.0))
    (there,) = from_cadquery(moved)
    assert signed_area([there]) == pytest.approx(face.Area(), rel=1e-6)
    assert strays(there, moved.outerWire()) < 1e-6
    mirrored = face.mirror("YZ")
    (over,) = from_cadquery(mirrored)
    assert signed_area([over]) == pytest.approx(face.Area(), rel=1e-6)
    assert strays(over, mirrored.outerWire()) < 1e-6
    assert over.bounds == pytest.approx((-100.0, 0.0, 0.0, 20.0), abs=1e-6)


def loose(*edges: cq.Edge) -> cq.Wire:
    """A wire of edges that nobody has put in order."""
    builder, made = BRep_Builder(), TopoDS_Wire()
    builder.MakeWire(made)
    for edge in edges:
        builder.Add(made, edge.wrapped)
    return cq.Wire(made)


def test_a_wire_that_is_no_chain_is_told() -> None:
    apart = [cq.Edge.makeLine(*vectors(a, b)) for a, b in (((0, 0), (9, 0)), ((20, 0), (30, 5)))]
    with pytest.raises(GeometryError, match="not one chain: 1 of its 2 edges"):
        from_cadquery(loose(*apart))


UP, ALONG, P0 = cq.Vector(0.0, 0.0, 1.0), cq.Vector(0.0, 1.0, 0.0), cq.Vector(0.0, 0.0, 0.0)
OFF = {
    "raised line": cq.Edge.makeLine(cq.Vector(0, 0, 1), cq.Vector(9, 9, 1)),
    "rising line": cq.Edge.makeLine(cq.Vector(0, 0, 0), cq.Vector(9, 9, 1)),
    "raised circle": cq.Edge.makeCircle(9.0, UP),
    "standing circle": cq.Edge.makeCircle(9.0, dir=cq.Vector(0, 1, 0)),
    "upper half of a standing circle": cq.Edge.makeCircle(9.0, P0, ALONG, 0.0, 180.0),
    "standing circle from a place in the plane": cq.Edge.makeCircle(9.0, P0, ALONG, 90.0, 200.0),
    "tilted ellipse": cq.Edge.makeEllipse(9.0, 5.0, dir=cq.Vector(0, 0.1, 1)),
    "bezier out and back": cq.Edge.makeBezier(
        [cq.Vector(0, 0), cq.Vector(3, 3, 2), cq.Vector(6, 3, -2), cq.Vector(9, 0)]
    ),
    "spline": cq.Edge.makeSpline([cq.Vector(0, 0), cq.Vector(5, 5, 1), cq.Vector(9, 0)]),
    "face above": cq.Face.makePlane(9.0, 9.0, UP),
    "wire above": cq.Wire.makeCircle(9.0, UP, UP),
}


@pytest.mark.parametrize("name", OFF)
def test_what_is_off_the_plane_is_told(name: str) -> None:
    with pytest.raises(GeometryError, match=r"a point lies -?[\d.]+ mm off the XY plane, at \("):
        from_cadquery(OFF[name])


def test_a_face_that_is_not_flat_is_told() -> None:
    dome = cq.Workplane().sphere(9.0).split(keepTop=True).faces(">Z").val()
    with pytest.raises(GeometryError, match="a sphere face is not flat"):
        from_cadquery(dome)


@pytest.mark.parametrize(
    "shape", [cq.Solid.makeBox(1, 1, 1), cq.Vertex.makeVertex(0, 0, 0), "edge"]
)
def test_other_shapes_are_told(shape) -> None:
    with pytest.raises(GeometryError, match="is not an edge, a wire or a face of cadquery"):
        from_cadquery(shape)


def test_edges_that_nearly_meet_are_moved_to_meet() -> None:
    """A corner open by 5e-5 mm."""
    ends = [((0, 0), (50, 0)), ((50.00005, 0), (50, 40)), ((50, 40), (0, 0))]
    edges = [cq.Edge.makeLine(*vectors(a, b)) for a, b in ends]
    (wire,) = cq.Wire.combine(edges, tol=1e-3)
    back = from_cadquery(wire)
    assert back.start == back.end
    assert not np.abs(back.control[1:, 0] - back.control[:-1, 3]).any()
    assert abs(signed_area([back])) == pytest.approx(1000.0, abs=0.01)


@pytest.mark.parametrize("name", SPLINES)
def test_the_shape_given_is_left_as_it_is(name: str) -> None:
    edge = SPLINES[name]
    before = [edge.positionAt(t).toTuple() for t in (0.0, 0.3, 0.8)]
    kind = edge._geomAdaptor().Degree()
    from_cadquery(edge)
    assert [edge.positionAt(t).toTuple() for t in (0.0, 0.3, 0.8)] == before
    assert edge._geomAdaptor().Degree() == kind
