"""R12 DXF: plain enough for the oldest reader, and true within the flatness asked for."""

from __future__ import annotations

import re
import time
from collections.abc import Callable
from dataclasses import replace

import numpy as np
import pytest
import shapely
from drawing_samples import EVERY, SETS, by_ezdxf, by_gdal, outlines, ring, written
from format_samples import bent, document

from blockwright import Curve, Document, Finish, Point, arc, finish, finish_all, line
from blockwright.formats import dxf, dxf_r12, layout
from blockwright.formats.dxf_reading.drawing import read_drawing

Writer = Callable[[Document], bytes]
NAME = re.compile(r"[A-Z0-9_$-]{1,31}")


def pairs(data: bytes) -> list[tuple[int, str]]:
    lines = data.decode("ascii").split("\r\n")
    assert lines.pop() == ""
    return [(int(code), value) for code, value in zip(lines[::2], lines[1::2], strict=True)]


@pytest.mark.parametrize(("keys", "finished"), EVERY)
def test_ezdxf_reads_the_outline_within_the_flatness(keys: str, finished: bool) -> None:
    whole = written(keys, finished)
    drawing = by_ezdxf(dxf_r12.write(whole))
    assert drawing.dxfversion == "AC1009"
    inserts = list(drawing.modelspace().query("INSERT"))
    assert len(inserts) == len(outlines(whole))
    for insert, curves in zip(inserts, outlines(whole), strict=True):
        block = drawing.blocks[insert.dxf.name]
        (outline,) = block.query('POLYLINE[layer=="OUTLINE"]')
        folds = block.query('POLYLINE[layer=="FOLD"]')
        assert outline.is_closed is not bool(folds)
        corners = [tuple(v.dxf.location)[:2] for v in outline.vertices]
        for fold in folds:
            # What is drawn apart closes the outline.
            first, *_, last = (tuple(v.dxf.location)[:2] for v in fold.vertices)
            assert (first, last) == (corners[-1], corners[0])
        there, here = shapely.LinearRing(corners), shapely.LineString(ring(curves))
        assert there.is_simple
        assert there.hausdorff_distance(here) <= 0.05 + 0.001
        assert 0.0 <= here.length - there.length < 0.1 + 2e-4 * here.length
        off = shapely.distance(shapely.points(corners), here)
        assert off.max() < 0.001, "a vertex lies off its curve"


@pytest.mark.parametrize("keys", SETS)
def test_another_reader_finds_the_same_lengths_and_areas(keys: str) -> None:
    whole = written(keys, finished=True)
    found = by_gdal(dxf_r12.write(whole))
    for layer, wanted in (
        ("OUTLINE", outlines(whole)),
        ("SEW", [[edge.curve for edge in w.piece.edges] for w in whole.finished]),
    ):
        lines = [shape for name, shape in found if name == layer]
        assert len(lines) == len(wanted)
        folds = (shape for name, shape in found if name == "FOLD")
        for there, curves in zip(lines, wanted, strict=True):
            here = shapely.Polygon(ring(curves))
            if not there.is_ring and layer == "OUTLINE":
                there = shapely.line_merge(shapely.union(there, next(folds)))
            assert there.is_ring
            # Every stretch is at most the flatness off its curve, so the area at most that along.
            within = 0.05 * here.length
            assert abs(shapely.Polygon(there).area - here.area) < within
            assert there.length == pytest.approx(here.length, abs=0.2)
    assert {name for name, _ in found} >= {"OUTLINE", "SEW", "NOTCH", "GRAIN", "TEST_BAR", "TEXT"}


@pytest.mark.parametrize("finished", [False, True])
@pytest.mark.parametrize("write", [dxf.write, dxf_r12.write])
def test_the_fold_is_not_on_the_layer_that_is_cut(write: Writer, finished: bool) -> None:
    whole = written("skirt.straight", finished)
    found = by_gdal(write(whole))
    (fold,) = (shape for name, shape in found if name == "FOLD")
    (piece,) = (p for p in whole.pattern.pieces if any(e.role == "fold" for e in p.edges))
    (edge,) = (edge for edge in piece.edges if edge.role == "fold")
    # It runs on over the hem's and the waist's allowance.
    longer = 40.0 if finished else 0.0
    assert fold.length == pytest.approx(edge.curve.length + longer, abs=0.01)
    cut = shapely.union_all([shape for name, shape in found if name == "OUTLINE"])
    assert shapely.intersection(cut, fold.buffer(0.01)).length < 0.1
    lines = shapely.set_precision(shapely.union(cut, fold), 0.01)
    closed = shapely.polygonize([shapely.union_all(lines)])
    areas = sorted(shapely.Polygon(ring(curves)).area for curves in outlines(whole))
    assert sorted(part.area for part in closed.geoms) == pytest.approx(areas, rel=1e-3)


@pytest.mark.parametrize("write", [dxf.write, dxf_r12.write])
def test_a_piece_opened_has_its_fold_among_the_lines_inside(write: Writer) -> None:
    whole = written("skirt.straight")
    whole = replace(whole, finished=finish_all(whole.pattern, Finish(opened=True)))
    found = by_gdal(write(whole))
    assert not [shape for name, shape in found if name == "FOLD"]
    assert all(shape.is_ring or write is dxf.write for name, shape in found if name == "OUTLINE")


@pytest.mark.parametrize("finished", [False, True])
@pytest.mark.parametrize("write", [dxf.write, dxf_r12.write])
def test_the_fold_comes_back_as_a_fold(write: Writer, finished: bool) -> None:
    whole = written("bodice.fitted+sleeve.fitted", finished)
    found = read_drawing(write(whole), "x.dxf")
    for one, was in zip(found.finished, whole.pattern.pieces, strict=True):
        folds = [e.curve.length for e in was.edges if e.role == "fold"]
        back = [e.curve.length for e in one.piece.edges if e.role == "fold"]
        assert back == pytest.approx(folds, abs=0.01)
        assert sum(e.role == "fold" for e in one.cut) == len(folds)
        assert finish(one.piece, Finish(opened=True)).piece.name == was.label
    assert not [line for line in found.not_understood if "MARK" not in line]


@pytest.mark.parametrize("flat", [0.005, 0.05, 0.5])
def test_the_flatness_is_that_asked_for(flat: float) -> None:
    keys = "bodice.fitted+sleeve.fitted"
    worst = 0.0
    for curves in outlines(written(keys)):
        chain = dxf_r12.chain(curves, flat, closed=True)
        there = shapely.LinearRing(chain.points)
        worst = max(worst, there.hausdorff_distance(shapely.LineString(ring(curves))))
    assert worst <= flat + 1e-4
    sizes = [
        len(dxf_r12.write(replace(written(keys), options={"flat": f}))) for f in (flat, flat / 10.0)
    ]
    assert sizes[0] < sizes[1], "a finer line has more vertices"


def test_no_smooth_place_looks_like_a_corner() -> None:
    small = arc(Point(0.0, 0.0), 4.0, 0.0, 3.0)
    chain = dxf_r12.chain([small], 1.0, closed=False)
    steps = np.diff(chain.points, axis=0)
    turns = np.diff(np.unwrap(np.arctan2(steps[:, 1], steps[:, 0])))
    assert np.degrees(np.abs(turns)).max() < 3.0


def test_vertices_at_one_place_are_one() -> None:
    a, b, c = Point(0.0, 0.0), Point(5e-5, 0.0), Point(100.0, 0.0)
    chain = dxf_r12.chain([line(a, b), line(b, c), line(c, a)], 0.05, closed=True)
    assert chain.points.tolist() == [[0.0, 0.0], [100.0, 0.0]]
    assert chain.turns == [0, 1]


def test_turns_are_the_ends_and_the_corners_and_curve_points_lie_between() -> None:
    bow = arc(Point(0.0, 0.0), 100.0, 0.0, 1.0)
    on = Curve(np.concatenate([bow.control, line(bow.end, Point(0.0, 0.0)).control]))
    chain = dxf_r12.chain([on, line(on.end, on.start)], 0.05, closed=True)
    corner = int(np.abs(chain.points - [*bow.end]).sum(axis=1).argmin())
    assert set(chain.turns) == {0, corner, len(chain.points) - 1}
    on_bow = [i for i in chain.curves if i < corner]
    assert len(on_bow) >= 2 * len(bow.control) - 1
    radii = np.hypot(*chain.points[on_bow].T)
    assert radii == pytest.approx(100.0, abs=1e-4)


@pytest.mark.parametrize(("keys", "finished"), EVERY)
def test_only_what_the_oldest_reader_takes(keys: str, finished: bool) -> None:
    whole = written(keys, finished)
    for code, value in pairs(dxf_r12.write(whole)):
        assert len(value) <= 255
        if code in (2, 8, 6) and value not in ("",):
            assert NAME.fullmatch(value) or value.startswith("$"), value
        if 10 <= code < 60:
            assert re.fullmatch(r"-?\d+\.\d{1,6}", value), (code, value)
    kinds = {value for code, value in pairs(dxf_r12.write(whole)) if code == 0}
    assert kinds == {
        "SECTION", "ENDSEC", "EOF", "TABLE", "ENDTAB", "LTYPE", "LAYER", "STYLE", "BLOCK",
        "ENDBLK", "INSERT", "POLYLINE", "VERTEX", "SEQEND", "LINE", "TEXT",
    } | ({"POINT"} if whole.pattern.marks else set())  # fmt: skip


def test_the_same_bytes_every_time() -> None:
    first = dxf_r12.write(written(SETS[0], finished=True))
    time.sleep(1.1)  # a clock in the file would show
    written.cache_clear()
    assert dxf_r12.write(written(SETS[0], finished=True)) == first


def test_what_is_not_proved_says_so() -> None:
    assert b"UNPROVED" in dxf_r12.write(bent(document()))
    assert b"UNPROVED" not in dxf_r12.write(document())


@pytest.mark.parametrize(
    ("text", "plain"),
    [
        ("Zoë Łoś", "Zoe Los"),
        ("Straße, Ærø", "Strasse, AEro"),
        ("13 1⁄2 in × 2 … “x”", '13 1/2 in x 2 ... "x"'),
        ("½", "1/2"),
        ("王 🧵", "? ?"),
        ("100%%d %%%u", "100% %d % % %u"),
        ("a\tb\nc\0", "a?b?c?"),
        ("x" * 300, "x" * 250),
    ],
)
def test_letters_of_a_typewriter(text: str, plain: str) -> None:
    assert dxf_r12.seven_bit(text) == plain


def test_odd_names_of_pieces() -> None:
    names = dxf_r12.block_names(["a/b\\c*?", "Ärmel", "", "x" * 300, "x" * 300, "🧵"])
    assert names == [
        "PIECE_1_A_B_C", "PIECE_2_ARMEL", "PIECE_3", "PIECE_4_" + "X" * 23, "PIECE_5_" + "X" * 23,
        "PIECE_6",
    ]  # fmt: skip


def test_the_bars_and_the_extents() -> None:
    whole = written("skirt.gored")
    drawing = by_ezdxf(dxf_r12.write(whole))
    bars = drawing.modelspace().query('LINE[layer=="TEST_BAR"]')
    lengths = sorted(((e.dxf.end - e.dxf.start).magnitude for e in bars), reverse=True)
    assert lengths[:2] == pytest.approx([101.6, 100.0], abs=1e-5)
    sheet = layout.lay_out(whole)
    assert tuple(drawing.header["$EXTMAX"])[:2] == pytest.approx(
        (sheet.width - layout.MARGIN, sheet.height - layout.MARGIN), abs=1e-5
    )
