"""Drawings read back: the same lengths, the same promises held, and nothing dropped unsaid."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import ezdxf
import numpy as np
import pytest
import shapely
from drawing_samples import EVERY, SETS, outlines, ring, written

from blockwright import (
    Affine,
    Dart,
    Notch,
    Pattern,
    Point,
    Unit,
    arc,
    distance,
    join,
    nearest,
    prove,
)
from blockwright.formats import dxf, dxf_r12, exchange, layout
from blockwright.formats.dxf_reading import smooth
from blockwright.formats.dxf_reading.drawing import ReadDrawing, read_drawing
from blockwright.pattern.finishing.finish import Finish, finish_all
from blockwright.pattern.piece import Piece


def read(data: bytes) -> ReadDrawing:
    return read_drawing(data, "x.dxf")


def upright(piece: Piece, like: Piece) -> Piece:
    """The piece turned as the one it was written from: exchange files lay the grain along x."""
    way, there = (one.grain[1] - one.grain[0] for one in (piece, like))
    return piece.moved(Affine.turn(there.angle - way.angle))


def regrouped(piece: Piece, like: Piece) -> Piece:
    """The piece with the names and roles of the one it was written from, by the order of its edges.

    Edges parted at a corner, as the mouths of darts at their tips, are put together again; darts
    are made of their legs, which come last among the lines inside.
    """
    edges = list(piece.edges)
    notches, named, done = list(piece.notches), [], []
    sewn = dict.fromkeys(like.edge_names(), 0.0)  # how much of an edge lies before a stretch of it
    for original in like.edges:
        parts = [edges.pop(0)]
        while distance(parts[-1].curve.end, original.curve.end) > 0.01:
            parts.append(edges.pop(0))
        whole = join([part.curve for part in parts])
        starts = np.cumsum([0.0, *(part.curve.length for part in parts)]).tolist()
        offset = dict(zip((part.name for part in parts), starts, strict=False))
        named += [
            replace(
                notch,
                edge=original.name,
                along=sewn[original.name] + offset[notch.edge] + notch.along,
            )
            for notch in notches
            if notch.edge in offset
        ]
        sewn[original.name] += whole.length
        done.append(replace(original, curve=whole))
    assert not edges
    for original in like.notches:
        of_edge = sorted((n for n in named if n.edge == original.edge), key=lambda n: n.along)
        near = sorted(of_edge, key=lambda n: abs(n.along - original.along))[: original.count]
        along = math.fsum(notch.along for notch in near) / original.count
        named = [n for n in named if n not in near]
        named.append(Notch(original.name, original.edge, along, original.count))
    assert len(named) == len(like.notches)
    legs = piece.guides[len(piece.guides) - 2 * len(like.darts) :]
    darts = [
        Dart(original.name, one.curve.end, original.mouth, original.pressed, original.says)
        for original, one in zip(like.darts, legs[::2], strict=True)
    ]
    return replace(like, edges=tuple(done), notches=tuple(named), darts=tuple(darts))


def put_back(found: ReadDrawing, like: Pattern) -> Pattern:
    pieces = [
        regrouped(upright(piece, original), original)
        for piece, original in zip(found.pieces, like.pieces, strict=True)
    ]
    return replace(like, pieces=tuple(pieces))


@pytest.mark.parametrize("unit", [Unit.CM, Unit.IN])
@pytest.mark.parametrize("keys", SETS)
def test_the_promises_hold_on_what_is_read_from_an_exchange_file(keys: str, unit: Unit) -> None:
    whole = written(keys, unit=unit)
    found = read(exchange.write(whole))
    assert found.kind == "exchange"
    assert found.units == ("in" if unit is Unit.IN else "mm")
    assert found.not_understood == ()
    pattern = put_back(found, whole.pattern)
    for piece, original in zip(pattern.pieces, whole.pattern.pieces, strict=True):
        for edge, was in zip(piece.edges, original.edges, strict=True):
            assert edge.curve.length == pytest.approx(was.curve.length, abs=0.05), edge.name
            there = shapely.LineString(edge.curve.flatten(accuracy=1e-3))
            here = shapely.LineString(was.curve.flatten(accuracy=1e-3))
            assert there.hausdorff_distance(here) < 0.02, edge.name
    proof = prove(pattern)
    assert proof.held, [(result.code, result.subject) for result in proof.broken]
    results = whole.proof.results
    assert [(r.code, r.subject) for r in proof.results] == [(r.code, r.subject) for r in results]
    lengths = [r.measured for r in proof.results if r.quantity == "length"]
    were = [r.measured for r in results if r.quantity == "length"]
    assert lengths == pytest.approx(were, abs=0.05)


def test_a_promise_that_is_broken_in_the_file_is_broken_when_read() -> None:
    whole = written("trousers.straight")
    front = whole.pattern.piece("front").moved(Affine.scale(1.002))
    pattern = whole.pattern.with_piece(front)
    read_back = put_back(read(exchange.write(replace(whole, pattern=pattern))), pattern)
    broken = {(result.code, result.subject) for result in prove(read_back).broken}
    assert broken == {(result.code, result.subject) for result in prove(pattern).broken}
    assert broken


@pytest.mark.parametrize(("keys", "finished"), EVERY)
def test_a_plain_drawing_comes_back_exactly(keys: str, finished: bool) -> None:
    whole = written(keys, finished)
    found = read(dxf.write(whole))
    assert found.kind == "drawing"
    for i, (piece, original) in enumerate(zip(found.pieces, whole.pattern.pieces, strict=True)):
        assert piece.name == original.label
        assert (piece.cut, piece.mirrored) == (original.cut, original.mirrored)
        assert piece.grain == original.grain
        pairs = [*zip(piece.guides, original.guides, strict=False)]
        pairs += [*zip(piece.edges, original.edges, strict=True)]
        if finished:
            pairs += [*zip(found.finished[i].cut, whole.finished[i].cut, strict=True)]
        for read_one, was in pairs:
            if layout.is_straight(was.curve):
                ends = [*read_one.curve.start, *read_one.curve.end]
                assert ends == pytest.approx([*was.curve.start, *was.curve.end], abs=1e-6)
                assert layout.is_straight(read_one.curve)
            else:
                assert np.abs(read_one.curve.control - was.curve.control).max() < 1e-6
        sets = (found.finished[i].notches, whole.finished[i].notches) if finished else ((), ())
        for there, here in zip(*sets, strict=True):
            assert distance(there.at, here.at) < 1e-6
            assert (there.depth, there.kind) == (pytest.approx(here.depth, abs=1e-6), here.kind)
        for there, here in zip(
            found.finished[i].drills, whole.finished[i].drills if finished else (), strict=True
        ):
            assert distance(there.at, here.at) < 1e-6
            assert there.diameter == pytest.approx(here.diameter, abs=1e-5)
        along = [n.along for n in regrouped(piece, original).notches]
        # Carried to the cut line and back, by way of flat stretches.
        for one, was in zip(along, [n.along for n in original.notches], strict=True):
            assert one == pytest.approx(was, abs=0.1 if finished else 1e-4)
    marks = sum(len(placed.marks) for placed in layout.lay_out(whole).placed)
    wanted = [f"POINT on layer 'MARK' (a mark): {marks}"] if marks else []
    assert list(found.not_understood) == wanted


@pytest.mark.parametrize(("keys", "finished"), EVERY[::3])
def test_r12_comes_back_smooth_with_its_corners(keys: str, finished: bool) -> None:
    whole = written(keys, finished)
    found = read(dxf_r12.write(whole))
    for one, curves in zip(found.finished, outlines(whole), strict=True):
        there, here = [edge.curve for edge in one.cut], curves
        assert sum(c.length for c in there) == pytest.approx(sum(c.length for c in here), abs=0.05)
        assert (
            shapely.LineString(ring(there)).hausdorff_distance(shapely.LineString(ring(here))) < 0.1
        )
        ends = [curve.start for curve in here]
        for before, after in zip(there[-1:] + there[:-1], there, strict=True):
            turn = before.end_tangent.cross(after.start_tangent)
            assert abs(math.degrees(math.asin(max(-1.0, min(1.0, turn))))) > 4.0
            assert min(distance(after.start, end) for end in ends) < 60.0


@pytest.mark.parametrize("keys", SETS[::2])
def test_a_finished_exchange_file_has_both_lines(keys: str) -> None:
    whole = written(keys, finished=True)
    found = read(exchange.write(whole))
    assert found.not_understood == ()
    for one, was in zip(found.finished, whole.finished, strict=True):
        turn = Affine.turn((was.piece.grain[1] - was.piece.grain[0]).angle)
        for there, here in ((one.cut, was.cut), (one.piece.edges, was.piece.edges)):
            curves = [edge.curve.moved(turn) for edge in there]
            wanted = [edge.curve for edge in here]
            lengths = [math.fsum(c.length for c in each) for each in (curves, wanted)]
            assert lengths[0] == pytest.approx(lengths[1], abs=0.05)
            rings = [shapely.LineString(ring(each)) for each in (curves, wanted)]
            assert rings[0].hausdorff_distance(rings[1]) < 0.02
        assert [turn(n.at) for n in one.notches] == [near(n.at) for n in was.notches]
        assert [turn(d.at) for d in one.drills] == [near(d.at) for d in was.drills]
        assert [n.kind for n in one.notches] == [n.kind for n in was.notches]
        folds = [sum(e.role == "fold" for e in each) for each in (one.cut, one.piece.edges)]
        assert folds[1] == sum(e.role == "fold" for e in was.piece.edges)
        assert (folds[0] > 0) is (folds[1] > 0)
        back = regrouped(upright(one.piece, was.piece), was.piece)
        for there, here in zip(back.notches, was.piece.notches, strict=True):
            assert there.along == pytest.approx(here.along, abs=0.1)
        assert (one.piece.cut, one.piece.mirrored) == (was.piece.cut, was.piece.mirrored)
        assert one.piece.name == was.piece.label


def near(place: Point) -> Point:
    class Near(Point):
        def __eq__(self, other: object) -> bool:
            return isinstance(other, Point) and distance(self, other) < 1e-4

        __hash__ = Point.__hash__

    return Near(place.x, place.y)


@pytest.mark.parametrize("kind", ["slit", "V", "T"])
def test_kinds_of_notches_drawn_and_pointed(kind: str) -> None:
    whole = written("trousers.straight")
    whole = replace(whole, finished=finish_all(whole.pattern, Finish(notch=kind)))
    for write in (dxf.write, dxf_r12.write, exchange.write):
        for one, was in zip(read(write(whole)).finished, whole.finished, strict=True):
            assert len(one.notches) == len(was.notches)
            for there, here in zip(one.notches, was.notches, strict=True):
                # An exchange file has slits and V on one layer.
                assert there.kind == ("slit" if write is exchange.write and kind == "V" else kind)
                assert there.depth == pytest.approx(here.depth, abs=0.01)


def test_what_is_read_can_be_written_and_read_again() -> None:
    whole = written("bodice.fitted+sleeve.fitted", finished=True)
    first = read(dxf.write(whole))
    pattern = replace(whole.pattern, pieces=first.pieces, marks=(), promises=())
    again = read(dxf.write(replace(whole, pattern=pattern, finished=first.finished)))
    for one, other in zip(first.finished, again.finished, strict=True):
        assert len(one.cut) == len(other.cut)
        for a, b in zip(one.cut, other.cut, strict=True):
            assert a.curve.length == pytest.approx(b.curve.length, abs=1e-6)


# -- files from elsewhere --------------------------------------------------------------------


def foreign(version: str = "R12", units: int = 4):
    drawing = ezdxf.new(version, units=units)
    block = drawing.blocks.new("FRONT-38")
    drawing.modelspace().add_blockref("FRONT-38", (0, 0))
    return drawing, block


def saved(drawing) -> bytes:
    import io

    stream = io.StringIO()
    drawing.write(stream)
    return stream.getvalue().encode("cp1252")


SQUARE = [(0, 0), (200, 0), (200, 100), (0, 100)]


def test_lines_in_any_order_and_direction_make_an_outline() -> None:
    drawing, block = foreign()
    ends = [(SQUARE[2], SQUARE[1]), (SQUARE[0], SQUARE[1]), (SQUARE[0], SQUARE[3]),
            (SQUARE[2], SQUARE[3])]  # fmt: skip
    for a, b in ends:
        block.add_line(a, b, dxfattribs={"layer": "1"})
    for at in SQUARE:
        block.add_point(at, dxfattribs={"layer": "2"})
    (piece,) = read(saved(drawing)).pieces
    assert [edge.curve.length for edge in piece.edges] == pytest.approx([100, 200, 100, 200])
    assert all(b.curve.start == a.curve.end for a, b in pairwise(piece.edges))
    assert shapely.Polygon(ring([e.curve for e in piece.edges])).exterior.is_ccw
    assert piece.name == "FRONT-38"


@pytest.mark.parametrize("clockwise", [False, True])
def test_arcs_splines_and_bulges(clockwise: bool) -> None:
    drawing, block = foreign("R2000")
    corners = SQUARE[::-1] if clockwise else SQUARE
    block.add_lwpolyline([(x, y, 0.5) for x, y in corners], format="xyb", close=True,
                         dxfattribs={"layer": "1"})  # fmt: skip
    block.add_circle((50, 50), 4, dxfattribs={"layer": "13"})
    spline = block.add_spline(dxfattribs={"layer": "8"})
    spline.control_points = [(20, 20), (60, 90), (90, 10), (120, 80), (150, 50), (180, 60)]
    spline.knots = [0, 0, 0, 0, 1.5, 2, 3, 3, 3, 3]
    found = read(saved(drawing))
    (piece,) = found.pieces
    angle = 4 * math.atan(0.5)
    arcs = [w * angle / (2 * math.sin(angle / 2)) for w in (200, 100)]
    assert sorted(e.curve.length for e in piece.edges) == pytest.approx(sorted(arcs * 2), rel=1e-6)
    (hole,) = found.finished[0].drills
    assert (hole.at, hole.diameter) == (near(Point(50, 50)), pytest.approx(8.0))
    (guide,) = piece.guides
    there = [tuple(p)[:2] for p in spline.construction_tool().approximate(segments=300)]
    assert max(nearest(guide.curve, Point(*p)).distance for p in there) < 1e-6


def test_everything_that_is_not_understood_is_told() -> None:
    drawing, block = foreign("R2000")
    block.add_lwpolyline(SQUARE, close=True, dxfattribs={"layer": "1"})
    block.add_mtext("words", dxfattribs={"layer": "15"})
    block.add_solid([(0, 0), (9, 0), (9, 9)], dxfattribs={"layer": "8"})
    block.add_solid([(0, 0), (9, 0), (9, 9)], dxfattribs={"layer": "8"})
    block.add_line((0, 0), (9, 9), dxfattribs={"layer": "5"})
    block.add_point((50, 50), dxfattribs={"layer": "2"})
    block.add_line((1, 1), (1, 1), dxfattribs={"layer": "7"})
    block.add_point((100, 0.0), dxfattribs={"layer": "82"})
    block.add_text("QUANTITY: many", dxfattribs={"layer": "1"})
    block.add_lwpolyline([(10, 10), (20, 10), (20, 20)], close=True, dxfattribs={"layer": "11"})
    block.add_lwpolyline([(10, 10), (20, 10), (20, 20)], dxfattribs={"layer": "14"})
    block.add_lwpolyline([(10, 30), (20, 30), (20, 50)], close=True, dxfattribs={"layer": "1"})
    block.add_line((300, 0), (400, 0), dxfattribs={"layer": "6"})
    block.add_lwpolyline(SQUARE, dxfattribs={"layer": "8", "extrusion": (0, 1, 1)})
    drawing.modelspace().add_line((0, 0), (9, 9), dxfattribs={"layer": "ODD"})
    drawing.modelspace().add_blockref("FRONT-38", (500, 0), dxfattribs={"rotation": 90})
    drawing.modelspace().add_blockref("NOWHERE", (0, 0), dxfattribs={"layer": "9"})
    block.add_blockref("GRID", (0, 0), dxfattribs={"row_count": 3, "layer": "9"})
    other = drawing.blocks.new("EMPTY")
    other.add_lwpolyline(SQUARE, dxfattribs={"layer": "1"})
    block.add_blockref("FRONT-38", (0, 0))
    told = "\n".join(read(saved(drawing)).not_understood)
    for words in (
        "MTEXT on layer '15': 1", "SOLID on layer '8': 2", "LINE on layer '5': 1",
        "1 turn points lie on no vertex", "LINE on layer '7' (it has no length)", "no grain line",
        "POINT on layer '82' (a notch, taken as a slit): 1", "quantity 'many'", "1 cutouts",
        "its sew lines do not close", "1 more closed lines", "mirror line lies along no edge",
        "LWPOLYLINE on layer '8' (it is drawn aslant (extrusion)): 1",
        "LINE on layer 'ODD' (outside every piece): 1",
        "block 'FRONT-38' is placed 2 times; each shape is read once",
        "INSERT on layer '9' (its block is not in the file): 1",
        "INSERT on layer '9' (a block in rows and columns): 1",
        "block 'EMPTY': its boundary does not close", "(a block in a block)",
    ):  # fmt: skip
        assert words in told, (words, told)


@pytest.mark.parametrize(
    ("code", "size", "name"), [(0, 1.0, "mm"), (1, 25.4, "in"), (5, 10.0, "cm"), (6, 1000.0, "m")]
)
def test_units(code: int, size: float, name: str) -> None:
    drawing, block = foreign("R2000", code)
    block.add_lwpolyline(SQUARE, close=True, dxfattribs={"layer": "1"})
    if size == 1000.0:
        block.delete_all_entities()
        points = [(x / 1000, y / 1000) for x, y in SQUARE]
        block.add_lwpolyline(points, close=True, dxfattribs={"layer": "1"})
        size = 1.0
    found = read(saved(drawing))
    assert found.units == name
    assert found.pieces[0].edges[0].curve.length == pytest.approx(200.0 * size)
    assert ("the file does not say its unit" in " ".join(found.not_understood)) is (code == 0)


def test_a_drawing_without_blocks_and_the_same_name_twice() -> None:
    drawing = ezdxf.new("R12")
    drawing.modelspace().add_polyline2d(SQUARE, close=True, dxfattribs={"layer": "OUTLINE"})
    assert [piece.name for piece in read(saved(drawing)).pieces] == ["piece"]
    drawing = ezdxf.new("R12")
    for number in range(4):
        block = drawing.blocks.new(f"B{number}")
        block.add_polyline2d(SQUARE, close=True, dxfattribs={"layer": "1"})
        block.add_text("PIECE NAME: a/b'\"x", dxfattribs={"layer": "1"})
        block.add_text(f"SIZE: {36 + number // 2}", dxfattribs={"layer": "1"})
    names = [piece.name for piece in read(saved(drawing)).pieces]
    assert names == ["a b x", "a b x 36", "a b x 37", "a b x 37 2"]
    edges = [edge.name for piece in read(saved(drawing)).pieces for edge in piece.edges]
    assert len(set(edges)) == len(edges)


# -- vertices to curves ----------------------------------------------------------------------


def test_vertices_on_a_circle_give_the_circle() -> None:
    angles = np.linspace(0.0, 2.0, 30)
    found = smooth.curve_through(np.column_stack([np.cos(angles), np.sin(angles)]) * 80.0)
    radii = np.hypot(*found.points_at(np.linspace(0.0, found.length, 500)).T)
    assert radii == pytest.approx(80.0, abs=1e-4)
    assert found.length == pytest.approx(160.0, abs=1e-3)


def test_a_rectangle_is_no_circle_and_a_bevel_keeps_its_corners() -> None:
    square = np.array(SQUARE, dtype=float)
    assert smooth.corners(square, closed=True).tolist() == [0, 1, 2, 3]
    bevel = np.array([(0, 0), (100, 0), (104, 1.5), (107, 4), (170, 80)], dtype=float)
    assert smooth.corners(bevel, closed=False).tolist() == [1, 2, 3]


def test_a_coarse_circle_has_no_corners() -> None:
    angles = np.linspace(0.0, math.tau, 25)[:-1]
    coarse = np.column_stack([np.cos(angles), np.sin(angles)]) * 50.0
    assert not len(smooth.corners(coarse, closed=True))
    angles = np.linspace(0.0, 2.0, 9)
    coarse = np.column_stack([np.cos(angles), np.sin(angles)]) * 50.0
    assert not len(smooth.corners(coarse, closed=False))


def test_a_small_corner_is_not_smeared_over_a_long_line() -> None:
    bow = arc(Point(0.0, 80.0), 80.0, -math.pi / 2, 0.0)
    tilted = Point(-300.0, 0.0).turned(-math.radians(3.0))
    vertices = np.concatenate([[[*tilted]], bow.flatten(accuracy=0.02)])
    found = smooth.curve_through(vertices)
    straight = shapely.LineString([[*tilted], [0.0, 0.0]])
    early = found.points_at(np.linspace(0.0, 295.0, 100))
    assert shapely.distance(shapely.points(early), straight).max() < 0.3


def test_a_curve_never_leaves_its_stretches_by_much() -> None:
    random = np.random.default_rng(7)
    for _ in range(50):
        points = np.cumsum(random.uniform(-1.0, 1.0, (40, 2)) * random.uniform(0.1, 80.0), axis=0)
        found = shapely.LineString(smooth.curve_through(points).flatten(accuracy=1e-3))
        assert found.hausdorff_distance(shapely.LineString(points)) < 0.35
