"""Files after ASTM D6673: read by others, and everything where it says it is.

What layers are called is from memory (see the module), so this holds the file to what is published
of the standard - a block a piece, curves through their curve points - and to its own word.
"""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np
import pytest
import shapely
from drawing_samples import EVERY, SETS, by_ezdxf, by_gdal, outlines, ring, written
from ezdxf.layouts import BlockLayout
from format_samples import bent, document

from blockwright import Affine, Point, Unit, line, load, nearest
from blockwright.formats import exchange
from blockwright.pattern.finishing.finish import Finish, finish_all


def blocks(data: bytes) -> list[BlockLayout]:
    drawing = by_ezdxf(data)
    return [drawing.blocks[insert.dxf.name] for insert in drawing.modelspace().query("INSERT")]


def upright(piece) -> Affine:
    """Back from the file's lay, grain along x, to the piece's."""
    low, high = piece.grain
    return Affine.turn((high - low).angle)


def corners(line, size: float = 1.0) -> np.ndarray:
    return np.array([tuple(v.dxf.location)[:2] for v in line.vertices]) * size


def points(block: BlockLayout, layer: str) -> np.ndarray:
    found = block.query(f'POINT[layer=="{layer}"]')
    return np.array([tuple(p.dxf.location)[:2] for p in found]).reshape(-1, 2)


@pytest.mark.parametrize(("keys", "finished"), EVERY)
def test_every_line_is_its_curve_and_every_point_lies_on_it(keys: str, finished: bool) -> None:
    whole = written(keys, finished)
    found = blocks(exchange.write(whole))
    for i, (block, cut) in enumerate(zip(found, outlines(whole), strict=True)):
        piece = whole.finished[i].piece if finished else whole.pattern.pieces[i]
        back = upright(piece)
        wanted = {"1": cut} | ({"14": [e.curve for e in piece.edges]} if finished else {})
        vertices = []
        for layer, curves in wanted.items():
            (line,) = block.query(f'POLYLINE[layer=="{layer}"]')
            assert line.is_closed
            vertices.append(back.apply(corners(line)))
            here = shapely.LineString(ring(curves))
            assert shapely.LinearRing(vertices[-1]).hausdorff_distance(here) <= 0.051
            # Every edge begins at a turn point.
            turns = back.apply(points(block, "2"))
            for curve in curves:
                assert np.hypot(*(turns - [*curve.start]).T).min() < 2e-4
        inner = block.query('POLYLINE[layer=="8"]')
        vertices += [back.apply(corners(line)) for line in inner]
        every = np.concatenate(vertices)
        curves = [curve for each in wanted.values() for curve in each]
        curves += [guide.curve for guide in piece.guides]
        lines = shapely.MultiLineString([c.flatten(accuracy=1e-4) for c in curves])
        for layer in ("2", "3"):
            at = back.apply(points(block, layer))
            if not len(at):
                continue
            assert len(np.unique(at.round(5), axis=0)) == len(at), "a point twice"
            assert shapely.distance(shapely.points(at), lines).max() < 0.001
            nearest = [np.abs(every - place).max(axis=1).min() for place in at]
            assert max(nearest) < 2e-6, "a point at no vertex"


@pytest.mark.parametrize("keys", SETS)
def test_a_curve_through_the_points_is_the_curve(keys: str) -> None:
    """Published: an interpolated curve passes through every curve point; so no curve is without."""
    whole = written(keys)
    for block, piece in zip(blocks(exchange.write(whole)), whole.pattern.pieces, strict=True):
        back = upright(piece)
        at = shapely.points(back.apply(np.concatenate([points(block, "2"), points(block, "3")])))
        for edge in piece.edges:
            sag = edge.curve.length - abs(edge.curve.end - edge.curve.start)
            on = shapely.distance(at, shapely.LineString(edge.curve.flatten(accuracy=1e-4)))
            assert (on < 0.001).sum() >= (3 if sag > 0.01 else 2), edge.name


@pytest.mark.parametrize(
    ("keys", "unit"), [*((keys, Unit.CM) for keys in SETS), (SETS[0], Unit.IN)]
)
def test_another_reader_finds_the_same_areas(keys: str, unit: Unit) -> None:
    whole = written(keys, finished=True, unit=unit)
    size = 25.4 if unit is Unit.IN else 1.0
    found = by_gdal(exchange.write(whole))
    lines = [shape for layer, shape in found if layer == "1" and shape.geom_type != "Point"]
    for there, curves in zip(lines, outlines(whole), strict=True):
        here = shapely.Polygon(ring(curves))
        assert there.length * size == pytest.approx(here.length, abs=0.2)
        assert abs(shapely.Polygon(there).area * size**2 - here.area) < 0.05 * here.length
    kinds = {(layer, shape.geom_type) for layer, shape in found}
    assert kinds >= {("2", "Point"), ("4", "Point"), ("7", "LineString"), ("15", "Point")}


@pytest.mark.parametrize("unit", [Unit.MM, Unit.IN])
def test_notches_holes_grain_and_mirror_line(unit: Unit) -> None:
    whole = written("bodice.fitted+sleeve.fitted", finished=True, unit=unit)
    size = 25.4 if unit is Unit.IN else 1.0
    for block, each in zip(blocks(exchange.write(whole)), whole.finished, strict=True):
        lay = upright(each.piece).inverse()
        notches = block.query('POINT[layer=="4"]')
        for there, here in zip(notches, each.notches, strict=True):
            assert tuple(there.dxf.location * size)[:2] == pytest.approx((*lay(here.at),), abs=1e-4)
            assert there.dxf.thickness * size == pytest.approx(here.depth, abs=1e-4)
            assert there.dxf.location.z * size == pytest.approx(here.depth, abs=1e-4)
            angle = math.degrees(lay.way(here.inward).angle)
            assert math.remainder(there.dxf.angle - angle, 360.0) == pytest.approx(0.0, abs=1e-4)
        holes = points(block, "13") * size
        assert [(*lay(d.at),) for d in each.drills] == [pytest.approx(h, abs=1e-4) for h in holes]
        (grain,) = block.query('LINE[layer=="7"]')
        low, high = each.piece.grain
        step = (grain.dxf.end - grain.dxf.start) * size
        assert tuple(step)[:2] == pytest.approx((abs(high - low), 0.0), abs=1e-4)
        mirrors = block.query('LINE[layer=="6"]')
        folds = [edge.curve for edge in each.piece.edges if edge.role == "fold"]
        assert len(mirrors) == len(folds)
        for there, fold in zip(mirrors, folds, strict=True):
            a, b = (Point(end.x * size, end.y * size) for end in (there.dxf.start, there.dxf.end))
            mirror, cut = line(a, b), [edge.curve.moved(lay) for edge in each.cut]
            assert abs(b - a) > fold.length  # it runs on over the allowances
            for end in (a, b):
                assert min(nearest(curve, end).distance for curve in cut) < 1e-4
            for end in (fold.start, fold.end):
                assert nearest(mirror, lay(end)).distance < 1e-4
        legs = block.query('LINE[layer=="8"]')
        assert len(legs) == 2 * len(each.piece.darts)
    assert sum(len(each.drills) for each in whole.finished) == 5


def test_a_t_notch_has_its_own_layer() -> None:
    whole = written("skirt.gored")
    whole = replace(whole, finished=finish_all(whole.pattern, Finish(notch="T")))
    (block,) = blocks(exchange.write(whole))
    assert len(points(block, "80")) == len(whole.finished[0].notches) > 0
    assert not len(points(block, "4"))


def test_the_texts() -> None:
    whole = written("trousers.straight", finished=True)
    drawing = by_ezdxf(exchange.write(whole))
    style = [text.dxf.text for text in drawing.modelspace().query("TEXT")]
    assert style == [
        f"STYLE NAME: {whole.pattern.title}", "AUTHOR: BLOCKWRIGHT", "SAMPLE SIZE: Tom",
        "UNITS: METRIC",
    ]  # fmt: skip
    texts = [t.dxf.text for t in blocks(exchange.write(whole))[0].query('TEXT[layer=="1"]')]
    assert texts == [
        "PIECE NAME: back", "SIZE: Tom", "QUANTITY: 2", "CATEGORY: trousers.straight",
        "MATERIAL: MAIN", "ANNOTATION: allowances included; a mirrored pair",
    ]  # fmt: skip
    english = exchange.write(written("trousers.straight", unit=Unit.IN))
    assert b"UNITS: ENGLISH" in english


def test_what_is_not_proved_says_so_and_what_is_from_memory_too() -> None:
    assert exchange.write(bent(document())).count(b"UNPROVED") == 2
    assert b"UNPROVED" not in exchange.write(document())
    form = load().format("d6673")
    assert "after ASTM D6673" in form.says
    assert "from memory" in form.says
    for word in ("certified", "conform", "complian"):
        assert word not in form.says.lower()
        assert word not in (exchange.__doc__ or "").lower()


def test_seven_bits_and_the_same_bytes_every_time() -> None:
    whole = written(SETS[0], finished=True)
    named = replace(whole, pattern=replace(whole.pattern, body="Zoë 王"))
    data = exchange.write(named)
    assert data.isascii()
    assert b"SIZE: Zoe ?" in data
    written.cache_clear()
    assert exchange.write(written(SETS[0], finished=True)) == exchange.write(whole)
