"""Curves and pieces as shapes of cadquery, and back; mm, in the XY plane, y up."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import TYPE_CHECKING, Any

from blockwright.curves._numpy import np
from blockwright.curves.chain import join, signed_area
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point, distance
from blockwright.curves.primitives import ARC_PIECE, arc, line
from blockwright.errors import GeometryError, InputError
from blockwright.formats import layout
from blockwright.pattern.finishing.finish import FinishedPiece
from blockwright.pattern.piece import Piece

if TYPE_CHECKING:
    import cadquery as cq

# What lies nearer to the plane than this, mm, lies in it.
OFF_PLANE = 1e-6
# How far a curve may stray from the shape it comes from, mm: an arc, and what is neither a line,
# an arc nor a cubic.
ARC_STRAYS = 1e-6
OTHER_STRAYS = 1e-3
# Edges of a wire whose ends are this far apart at most, mm, meet: files are no truer.
OPEN = 1e-3
# A Bézier piece that turns by ARC_PIECE strays by this share of the radius; by the sixth power
# of the angle when it turns by less.
ARC_SHARE = 7e-8
# A curve of another kind is laid at these places between its ends; halved so often at most.
CHECKED = (0.125, 0.25, 0.375, 0.5, 0.625, 0.75, 0.875)
DEEPEST = 24


def to_cadquery(thing: Curve | Piece | FinishedPiece) -> Any:
    """A curve as a wire of cadquery, a piece as a flat face, exactly: Béziers stay Béziers.

    In mm, in the XY plane, y up; a face looks up.  A piece is its outline as sewn, a finished one
    its cut line, without notches and drill holes.  What is straight to a millionth of a
    millimetre becomes a line.

    Raises GeometryError when the outline of a piece does not close, and InputError when
    cadquery is not there.

    Example:
        >>> from blockwright import Edge, Piece, Point, polyline, to_cadquery
        >>> hem = Edge("hem", polyline([Point(0, 0), Point(200, 0)]), "hem")
        >>> rest = Edge("rest", polyline([Point(200, 0), Point(200, 300), Point(0, 0)]))
        >>> wedge = Piece("wedge", (hem, rest), (Point(180, 20), Point(180, 250)), Point(150, 80))
        >>> face = to_cadquery(wedge)
        >>> round(face.Area(), 1), len(face.Edges())
        (30000.0, 3)
    """
    if isinstance(thing, Curve):
        return wire([thing])
    edges = thing.cut if isinstance(thing, FinishedPiece) else thing.edges
    return face([edge.curve for edge in edges])


def from_cadquery(shape: Any) -> Curve | list[Curve]:
    """A curve from an edge or a wire of cadquery; from a flat face its outline, then its holes.

    Lines, Bézier curves and B-splines up to the third degree are exact (knots are inserted);
    arcs are within 1e-6 mm.  Everything else, ellipses, rational curves and higher degrees, is
    approximated within 1e-3 mm, with the tangents at its ends.  A wire keeps its direction and
    a closed one its start; a face's outline runs counter-clockwise, its holes clockwise.  Edges
    whose ends are up to 1e-3 mm apart are moved to meet.

    Raises GeometryError for what is off the XY plane (by more than 1e-6 mm), for a wire that
    branches, and for any other kind of shape; InputError when cadquery is not there.

    Example:
        >>> import cadquery
        >>> from blockwright import from_cadquery
        >>> round(from_cadquery(cadquery.Edge.makeCircle(10.0)).length, 2)
        62.83
        >>> outline, *holes = from_cadquery(cadquery.Face.makePlane(40.0, 20.0))
        >>> round(outline.length, 1), holes
        (120.0, [])
    """
    cadquery = library()
    if isinstance(shape, cadquery.Edge):
        return _from_edge(shape.wrapped)
    if isinstance(shape, cadquery.Wire):
        return _from_wire(shape)
    if isinstance(shape, cadquery.Face):
        if shape.geomType() != "PLANE":
            raise GeometryError(
                f"a {shape.geomType().lower()} face is not flat; give a face that lies in the "
                "XY plane"
            )
        outline = _turning(_from_wire(shape.outerWire()), 1.0)
        return [outline, *(_turning(_from_wire(inner), -1.0) for inner in shape.innerWires())]
    raise GeometryError(
        f"{type(shape).__name__} is not an edge, a wire or a face of cadquery; take one from it"
    )


def library() -> Any:
    """The library, which takes a second to load."""
    try:
        import cadquery
    except ImportError:
        raise InputError.coded("cad.missing") from None
    return cadquery


# -- to cadquery -----------------------------------------------------------------------------


def wire(curves: Sequence[Curve]) -> cq.Wire:
    """Curves that follow one another as one wire, closed when the last ends where it began.

    Raises GeometryError if two do not meet within a millionth of a millimetre.
    """
    cadquery = library()
    from OCP.BRep import BRep_Builder
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeEdge, BRepBuilderAPI_MakeVertex
    from OCP.TopoDS import TopoDS_Wire

    # Joints are snapped and vertices shared, so that nothing has to be found by nearness.
    chain = join(curves).control.copy()
    chain[:-1, 3] = chain[1:, 0]
    closed = distance(Point(*chain[0, 0]), Point(*chain[-1, 3])) <= OFF_PLANE
    if closed:
        chain[-1, 3] = chain[0, 0]
    corners = [BRepBuilderAPI_MakeVertex(_corner(piece[0])).Vertex() for piece in chain]
    last = chain[-1, 3]
    corners.append(corners[0] if closed else BRepBuilderAPI_MakeVertex(_corner(last)).Vertex())
    builder, made = BRep_Builder(), TopoDS_Wire()
    builder.MakeWire(made)
    for i, piece in enumerate(chain):
        edge = BRepBuilderAPI_MakeEdge(_geometry(piece), corners[i], corners[i + 1])
        if not edge.IsDone():
            raise GeometryError(f"piece {i + 1} of the curve makes no edge: {edge.Error()}")
        builder.Add(made, edge.Edge())
    made.Closed(closed)
    return cadquery.Wire(made)  # type: ignore[no-any-return]


def face(outline: Sequence[Curve]) -> cq.Face:
    """What an outline encloses, looking up.

    Raises GeometryError if two curves do not meet within a millionth of a millimetre, or the
    last does not end where the first begins.
    """
    cadquery = library()
    from OCP.BRepBuilderAPI import BRepBuilderAPI_MakeFace
    from OCP.gp import gp_Ax3, gp_Pln

    signed_area(outline)  # says where it does not close
    return cadquery.Face(  # type: ignore[no-any-return]
        BRepBuilderAPI_MakeFace(gp_Pln(gp_Ax3()), wire(outline).wrapped, True).Face()
    )


def _geometry(piece: np.ndarray) -> Any:
    """One Bézier piece as OCCT's own curve, a line where it is straight."""
    from OCP.GC import GC_MakeSegment
    from OCP.Geom import Geom_BezierCurve
    from OCP.TColgp import TColgp_Array1OfPnt

    if layout.is_straight(Curve(piece[None])):
        return GC_MakeSegment(_corner(piece[0]), _corner(piece[3])).Value()
    poles = TColgp_Array1OfPnt(1, 4)
    for i, place in enumerate(piece, start=1):
        poles.SetValue(i, _corner(place))
    return Geom_BezierCurve(poles)


def _corner(place: np.ndarray) -> Any:
    from OCP.gp import gp_Pnt

    return gp_Pnt(float(place[0]), float(place[1]), 0.0)


# -- from cadquery ---------------------------------------------------------------------------


def _from_wire(shape: Any) -> Curve:
    from OCP.BRepTools import BRepTools_WireExplorer

    explorer = BRepTools_WireExplorer(shape.wrapped)
    curves = []
    while explorer.More():
        curves.append(_from_edge(explorer.Current()))
        explorer.Next()
    count = len(shape.Edges())
    if not curves or len(curves) != count:
        raise GeometryError(
            f"the wire is not one chain: {len(curves)} of its {count} edges follow one another"
        )
    for i in range(1, len(curves)):
        curves[i] = _onto(curves[i], curves[i - 1].end)
    curves[0] = _onto(curves[0], curves[-1].end)
    return join(curves)


def _onto(curve: Curve, start: Point) -> Curve:
    """The curve from exactly there, if it starts so near."""
    if not 0.0 < distance(curve.start, start) <= OPEN < curve.length:
        return curve
    control = curve.control.copy()
    control[0, :2] += [*(start - curve.start)]
    control[0, 0] = [*start]
    return Curve(control)


def _turning(outline: Curve, way: float) -> Curve:
    """A closed curve, counter-clockwise for 1 and clockwise for -1."""
    return outline if signed_area([outline]) * way > 0.0 else outline.reversed()


def _from_edge(edge: Any) -> Curve:
    from OCP.BRepAdaptor import BRepAdaptor_Curve
    from OCP.GeomAbs import GeomAbs_CurveType as Kind
    from OCP.TopAbs import TopAbs_Orientation

    shape = BRepAdaptor_Curve(edge)
    kind = shape.GetType()
    if kind == Kind.GeomAbs_Line:
        curve = line(*(_flat(shape.Value(t)) for t in _range(shape)))
    elif kind == Kind.GeomAbs_Circle:
        curve = _from_arc(shape)
    elif kind in (Kind.GeomAbs_BezierCurve, Kind.GeomAbs_BSplineCurve) and _is_cubic(shape):
        curve = _from_spline(shape, kind == Kind.GeomAbs_BezierCurve)
    else:
        curve = _from_other(shape)
    return curve.reversed() if edge.Orientation() == TopAbs_Orientation.TopAbs_REVERSED else curve


def _range(shape: Any) -> tuple[float, float]:
    return shape.FirstParameter(), shape.LastParameter()


def _flat(place: Any) -> Point:
    """A point of the XY plane."""
    if not abs(place.Z()) <= OFF_PLANE:
        raise GeometryError(
            f"a point lies {place.Z():.6g} mm off the XY plane, at ({place.X():.3f}, "
            f"{place.Y():.3f}); lay the shape into the plane first"
        )
    return Point(place.X(), place.Y())


def _from_arc(shape: Any) -> Curve:
    """An arc in as many pieces as its radius needs."""
    circle = shape.Circle()
    centre, radius = _flat(circle.Location()), circle.Radius()
    first, last = _range(shape)
    # With its centre and two places a quarter turn apart all of a circle lies in the plane.
    start, _ = _flat(shape.Value(first)), _flat(shape.Value(first + math.pi / 2.0))
    way = math.copysign(1.0, _velocity(shape, first).dot((start - centre).left()))
    sweep = (last - first) * way
    most = ARC_PIECE * min(1.0, (ARC_STRAYS / (ARC_SHARE * radius)) ** (1.0 / 6.0))
    count = max(1, math.ceil(abs(sweep) / most - 1e-9))
    begin = (start - centre).angle
    angles = [begin + sweep * i / count for i in range(count + 1)]
    pieces = [arc(centre, radius, a, b).control for a, b in pairwise(angles)]
    control = np.concatenate(pieces)
    if abs(sweep) >= math.tau:
        control[-1, 3] = control[0, 0]
    return Curve(control)


def _velocity(shape: Any, t: float) -> Point:
    from OCP.gp import gp_Pnt, gp_Vec

    at, way = gp_Pnt(), gp_Vec()
    shape.D1(t, at, way)
    return Point(way.X(), way.Y())


def _is_cubic(shape: Any) -> bool:
    return not shape.IsRational() and shape.Degree() <= 3


def _from_spline(shape: Any, single: bool) -> Curve:
    """A Bézier curve or B-spline up to the third degree, cut to the edge's stretch of it."""
    from OCP.GeomConvert import GeomConvert_BSplineCurveToBezierCurve

    first, last = _range(shape)
    # Copies: what the shape gives is its own, and would be changed.
    if single:
        whole = shape.Bezier().Copy()
        whole.Segment(first, last)
        arcs = [whole]
    else:
        spline = shape.BSpline().Copy()
        spline.Segment(first, last)
        cut = GeomConvert_BSplineCurveToBezierCurve(spline)
        arcs = [cut.Arc(i) for i in range(1, cut.NbArcs() + 1)]
    rows = []
    for each in arcs:
        each.Increase(3)
        row = [tuple(_flat(each.Pole(i))) for i in range(1, 5)]
        if len(set(row)) > 1:
            rows.append(row)
    return Curve(rows)


def _from_other(shape: Any) -> Curve:
    """Any other curve, by cubics with its places and tangents, halved until they lie on it."""
    from OCP.GeomAbs import GeomAbs_Shape
    from OCP.TColStd import TColStd_Array1OfReal

    smooth = GeomAbs_Shape.GeomAbs_C3
    count = shape.NbIntervals(smooth)
    breaks = TColStd_Array1OfReal(1, count + 1)
    shape.Intervals(breaks, smooth)
    rows: list[np.ndarray] = []
    for i in range(1, count + 1):
        rows += _fitted(shape, breaks.Value(i), breaks.Value(i + 1), DEEPEST)
    return Curve(np.array(rows))


def _fitted(shape: Any, a: float, b: float, deeper: int) -> Iterator[np.ndarray]:
    start, end = (_flat(shape.Value(t)) for t in (a, b))
    third = (b - a) / 3.0
    # Just inside the ends, for the tangent may break there.
    near = (b - a) * 1e-9
    out, back = _velocity(shape, a + near) * third, _velocity(shape, b - near) * third
    row = np.array([tuple(p) for p in (start, start + out, end - back, end)])
    strays = 0.0
    for t in CHECKED:
        s = 1.0 - t
        on = np.array([s**3, 3 * s * s * t, 3 * s * t * t, t**3]) @ row
        strays = max(strays, distance(Point(*on), _flat(shape.Value(a + (b - a) * t))))
    if strays <= OTHER_STRAYS / 2.0:
        yield row
        return
    if not deeper:
        raise GeometryError(
            f"a curve near ({start.x:.3f}, {start.y:.3f}) does not become smooth however often it "
            "is halved; give a simpler one"
        )
    middle = (a + b) / 2.0
    yield from _fitted(shape, a, middle, deeper - 1)
    yield from _fitted(shape, middle, b, deeper - 1)
