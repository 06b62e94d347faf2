"""Cut lines at their distance from the sew lines, judged by shapely; outlines closed and simple."""

from __future__ import annotations

import random
from itertools import pairwise

import cadquery as cq
import numpy as np
import pytest
import shapely
from cadquery.func import offset2D
from finish_samples import EVERY, SETS, drafted, of_row, polygon, sampled

from blockwright import Curve, GeometryError, InputError, distance, signed_area
from blockwright.body.survey import rows
from blockwright.curves.chain import corners
from blockwright.curves.offset import trimmed_parallel
from blockwright.formats import layout
from blockwright.pattern.finishing.finish import Finish, finish, finish_all
from parts import parts

WIDTHS = (6.0, 10.0, 20.0, 35.0, 50.0)
TRUE = 0.01
BODIES = 300
PARTS = 10


@pytest.mark.parametrize("keys", EVERY)
def test_every_edge_has_a_true_parallel_on_both_sides(keys: str) -> None:
    """A thousand places on each: none nearer than the width, every one at it."""
    looked = 0
    for piece in drafted(keys, "tom" if "easy" in keys else "nora").pieces:
        for edge in piece.edges:
            if edge.role == "dart" or corners(edge.curve):
                continue
            fine = shapely.LineString(edge.curve.flatten(accuracy=1e-4))
            for width in WIDTHS:
                for way in (width, -width):
                    beside = _beside(edge.curve, way)
                    if beside is None:
                        continue
                    away = shapely.distance(shapely.points(sampled(beside, 1000)), fine)
                    assert np.abs(away - width).max() < TRUE, (piece.name, edge.name, way)
                    looked += 1
    assert looked > 30


def _beside(curve, way: float):
    """The parallel, or None where the curve bends so sharply that none is left."""
    try:
        return trimmed_parallel(curve, way)
    except GeometryError:
        bends = curve.curvatures_at(np.linspace(0.0, curve.length, 400))
        assert (way * bends).max() > 1.0
        return None


def _simple_and_closed(piece, finished) -> None:
    curves = [edge.curve for edge in finished.cut]
    gaps = [distance(a.end, b.start) for a, b in pairwise([*curves, curves[0]])]
    assert max(gaps) < 1e-6
    cut, sewn = polygon(curves), polygon([edge.curve for edge in piece.edges])
    assert cut.is_valid, shapely.is_valid_reason(cut)
    assert signed_area(curves) > 0.0
    # All that is sewn lies inside what is cut.
    assert cut.buffer(0.1).contains(sewn)


def seeded() -> list[int]:
    return random.Random(1).sample(range(len(rows())), BODIES)


@pytest.mark.parametrize("part", parts(PARTS))
def test_cut_outlines_of_many_bodies(part: int) -> None:
    """A seeded 300 of the survey; every second one with other allowances, some of them wide."""
    wide = Finish(roles={"seam": 20.0, "hem": 50.0, "armhole": 15.0, "neck": 12.0, "waist": 25.0})
    done = 0
    for i, number in enumerate(seeded()[part::PARTS]):
        sets = SETS[rows()[number]["sex"]]
        try:
            pattern = of_row(number, sets[i % len(sets)])
        except InputError:
            continue
        pieces = finish_all(pattern, wide if i % 2 else Finish())
        for piece, finished in zip(pattern.pieces, pieces, strict=True):
            _simple_and_closed(piece, finished)
            done += 1
    assert done > BODIES // PARTS


@pytest.mark.parametrize("keys", EVERY)
def test_opened_pieces_are_simple_and_twice_as_large(keys: str) -> None:
    for piece in drafted(keys, "tom" if "easy" in keys else "nora").pieces:
        whole = finish(piece, Finish(opened=True))
        _simple_and_closed(whole.piece, whole)
        folded = any(edge.role == "fold" for edge in piece.edges)
        half = signed_area([edge.curve for edge in piece.edges])
        area = signed_area([edge.curve for edge in whole.piece.edges])
        assert area == pytest.approx(half * (2.0 if folded else 1.0), rel=1e-9)
        cut = signed_area([edge.curve for edge in finish(piece, Finish()).cut])
        opened = signed_area([edge.curve for edge in whole.cut])
        assert opened == pytest.approx(cut * (2.0 if folded else 1.0), rel=1e-4)


@pytest.mark.parametrize("width", [6.0, 15.0])
@pytest.mark.parametrize("keys", ["bodice.fitted+sleeve.fitted", "trousers.straight"])
def test_parallels_are_occts_edge_by_edge(keys: str, width: float) -> None:
    """OCCT's offset of one edge of a piece passes through the middle and the ends of ours."""
    looked = 0
    for piece in drafted(keys, "nora").pieces:
        for edge in piece.edges:
            if edge.role == "dart" or corners(edge.curve):
                continue
            for part in edge.curve.control[:: max(1, len(edge.curve.control) // 3)]:
                single = Curve(part[None])
                beside = _beside(single, -width)
                if beside is None or layout.is_straight(single):
                    continue
                own = cq.Edge.makeBezier([cq.Vector(*p) for p in part])
                plane = cq.Face.makePlane(5000.0, 5000.0)
                theirs = [offset2D(own, sign * width, ctx=plane, closed=False) for sign in (1, -1)]
                at = [cq.Vertex.makeVertex(*p, 0.0) for p in sampled(beside, 3)]
                assert min(max(shape.distance(v) for v in at) for shape in theirs) < TRUE
                looked += 1
    assert looked > 8
