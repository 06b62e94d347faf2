"""Hard templates, read back: STEP by OCCT by way of cadquery, STL by its triangles, and shapely."""

from __future__ import annotations

import hashlib
import math
import os
import subprocess
import sys
from collections import Counter
from dataclasses import replace
from functools import cache
from pathlib import Path

import cadquery as cq
import numpy as np
import pytest
import shapely
from format_samples import bent, document
from workroom_documents import EVERY, SET, renamed, workroom

from blockwright import Document, InputError, load, signed_area
from blockwright.curves.affine import Affine
from blockwright.formats import hpgl, layout, template
from blockwright.pattern.copies import unfold
from blockwright.plugin.format import Flat
from parts import thinned

DOCUMENTS = [(keys, how) for keys in EVERY for how in ("bare", "slit")]


@pytest.fixture(scope="module")
def solids(tmp_path_factory):
    """The solids of a document's STEP, left to right."""

    def read(whole: Document) -> list[cq.Solid]:
        path = tmp_path_factory.mktemp("step") / "plates.step"
        path.write_bytes(template.step(whole))
        found = cq.importers.importStep(str(path)).solids().vals()
        return sorted(found, key=lambda solid: solid.BoundingBox().xmin)

    return read


def unnotched(whole: Document) -> Document:
    pieces = tuple(replace(piece, notches=()) for piece in whole.pattern.pieces)
    finished = tuple(replace(each, notches=()) for each in whole.finished)
    return replace(whole, pattern=replace(whole.pattern, pieces=pieces), finished=finished)


def cut(whole: Document) -> list[list]:
    """Curves of each plate's edge as they lie on the sheet."""
    return [
        [curve.moved(Affine.move(placed.step)) for curve in placed.lines[0][1]]
        for placed in layout.lay_out(whole).placed
    ]


def holes(whole: Document) -> list[int]:
    return [len(each.drills) for each in whole.finished] or [0] * len(whole.pattern.pieces)


def triangles(data: bytes) -> np.ndarray:
    """Corners (n, 3, 3) in the file's own single precision; the rest of the file is checked."""
    assert not data.startswith(b"solid"), "readers would take it for text"
    count = int.from_bytes(data[80:84], "little")
    assert len(data) == 84 + 50 * count
    kind = [("normal", "<f4", 3), ("at", "<f4", (3, 3)), ("attribute", "<u2")]
    rows = np.frombuffer(data, dtype=kind, offset=84)
    assert not rows["attribute"].any()
    at = rows["at"].astype(float)
    across = np.cross(at[:, 1] - at[:, 0], at[:, 2] - at[:, 0])
    across /= np.linalg.norm(across, axis=1, keepdims=True)
    assert np.abs(across - rows["normal"]).max() < 0.01
    return np.array(rows["at"])


def volume(corners: np.ndarray) -> float:
    a, b, c = corners.astype(float).transpose(1, 0, 2)
    return float(np.einsum("ij,ij->i", a, np.cross(b, c)).sum() / 6.0)


def check_watertight(corners: np.ndarray) -> None:
    """Every side of every triangle is the side of one other, walked the other way."""
    names = [[at.tobytes() for at in triangle] for triangle in corners]
    sides = Counter((row[i], row[i - 2]) for row in names for i in range(3))
    assert set(sides.values()) == {1}
    assert all((b, a) in sides for a, b in sides)


# -- STEP ------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("keys", "how", "thickness"),
    thinned([*((*each, 3.0) for each in DOCUMENTS), (SET, "slit", 0.8)]),
)
def test_volumes_and_extents(solids, keys: str, how: str, thickness: float) -> None:
    whole = unnotched(workroom(keys, how, {"thickness": thickness}))
    plates = solids(whole)
    assert len(plates) == len(whole.pattern.pieces)
    for plate, curves, drilled in zip(plates, cut(whole), holes(whole), strict=True):
        assert plate.isValid()
        area = signed_area(curves) - drilled * math.pi * 1.5**2
        assert plate.Volume() == pytest.approx(area * thickness, rel=1e-4)
        box = plate.BoundingBox(1e-4)
        extents = (box.xmin, box.ymin, box.xmax, box.ymax)
        assert extents == pytest.approx(layout.bounds(curves), abs=2e-3)
        assert (box.zmin, box.zmax) == pytest.approx((0.0, thickness), abs=1e-3)


@pytest.mark.parametrize("how", ["bare", "slit"])
def test_edges_are_the_true_curves(solids, how: str) -> None:
    whole = unnotched(workroom(SET, how))
    for plate, curves in zip(solids(whole), cut(whole), strict=True):
        sides = cq.Compound.makeCompound([f for f in plate.Faces() if abs(f.normalAt().z) < 0.5])
        for curve in curves:
            for x, y in curve.points_at(np.linspace(0.0, curve.length, 4)):
                assert sides.distance(cq.Vertex.makeVertex(x, y, 1.0)) < 1e-5


def test_drill_holes_go_through(solids) -> None:
    whole = workroom(SET)
    drills = [
        tuple(drill.at + placed.step)
        for placed, each in zip(layout.lay_out(whole).placed, whole.finished, strict=True)
        for drill in each.drills
    ]
    round_ones = [
        face for plate in solids(whole) for face in plate.Faces() if face.geomType() == "CYLINDER"
    ]
    assert len(round_ones) == len(drills) >= 4
    found = []
    for face in round_ones:
        box = face.BoundingBox(1e-4)
        assert (box.zmin, box.zmax) == pytest.approx((0.0, 3.0), abs=1e-3)
        assert (box.xlen, box.ylen) == pytest.approx((3.0, 3.0), abs=1e-2)
        found.append((box.center.x, box.center.y))
    for near, at in zip(sorted(found), sorted(drills), strict=True):
        assert near == pytest.approx(at, abs=1e-3)


def lost(whole: Document, notch: str) -> list[float]:
    """Area that notches take from each piece, drawn again with shapely."""
    areas = []
    for each in whole.finished:
        points = [e.curve.flatten(accuracy=1e-4)[:-1] for e in each.cut]
        plate = shapely.Polygon(np.concatenate(points))
        gone = []
        for n in each.notches:
            at, way = np.array([*n.at]), np.array([*n.inward])
            side = np.array([-way[1], way[0]])
            foot = at + n.depth * way
            if n.kind == "V":
                # Half as wide as the mouth at half the depth, and so on outward.
                gone.append(
                    shapely.Polygon(
                        [foot, foot - 9 * way + 3.6 * side, foot - 9 * way - 3.6 * side]
                    )
                )
                continue
            slot = shapely.LineString([at - 2.0 * way, foot]).buffer(0.5, cap_style="flat")
            bar = foot - 0.5 * way
            gone.append(slot)
            if n.kind == "T":
                ends = [bar - 2.0 * side, bar + 2.0 * side]
                gone.append(shapely.LineString(ends).buffer(0.5, cap_style="flat"))
        areas.append(plate.intersection(shapely.union_all(gone)).area)
    return areas


@pytest.mark.parametrize(
    ("keys", "notch", "each"),
    [("trousers.straight", "slit", 5.0), (SET, "V", 10.0), ("trousers.straight", "T", 8.0)],
)
def test_notches_are_cut_out_of_the_edge(solids, keys: str, notch: str, each: float) -> None:
    """What is lost is the notches: a slit of 1 x 5 mm, a V of 4 x 5, a T with its bar of 4 x 1."""
    whole = workroom(keys, notch)
    before, after = solids(unnotched(whole)), solids(whole)
    counts = [len(finished.notches) for finished in whole.finished]
    assert sum(counts) > 2
    by_shapely = lost(whole, notch)
    for full, left, count, area in zip(before, after, counts, by_shapely, strict=True):
        gone = (full.Volume() - left.Volume()) / 3.0
        assert gone == pytest.approx(area, abs=0.01 * max(count, 1))
        assert gone == pytest.approx(count * each, rel=0.08, abs=0.01)
        assert left.isValid()


def test_a_bare_block_has_slits_at_its_ticks(solids) -> None:
    whole = workroom(SET, "bare")
    before, after = solids(unnotched(whole)), solids(whole)
    for full, left, piece in zip(before, after, whole.pattern.pieces, strict=True):
        count = sum(notch.count for notch in unfold(piece).notches)
        assert (full.Volume() - left.Volume()) / 3.0 == pytest.approx(count * 5.0, rel=0.05)


def test_parts_are_named_after_their_pieces() -> None:
    text = template.step(workroom(SET)).decode("ascii")
    for name in ("PIECE_1_BODICE_BACK", "PIECE_2_BODICE_FRONT", "PIECE_3_SLEEVE"):
        assert f"PRODUCT('{name}','{name}'" in text
        assert f"MANIFOLD_SOLID_BREP('{name}'" in text


@pytest.mark.parametrize("how", ["bare", "slit"])
def test_any_name_is_safe(solids, how: str) -> None:
    whole = workroom("trousers.straight", how)
    odd = renamed(whole)
    assert [p.Volume() for p in solids(odd)] == pytest.approx([p.Volume() for p in solids(whole)])
    text = template.step(odd).decode("ascii")
    assert all(len(line) < 200 for line in text.splitlines())
    assert text.count("'PIECE_1____A_B_C") == 3
    assert template.stl(odd) == template.stl(whole)


# -- STL -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("keys", "how"),
    thinned(
        [*DOCUMENTS[1::2], ("skirt.circle", "bare"), *(("trousers.straight", how) for how in "VT")]
    ),
)
def test_stl_is_watertight_and_of_its_volume(solids, keys: str, how: str) -> None:
    whole = workroom(keys, how)
    corners = triangles(template.stl(whole))
    check_watertight(corners)
    plates = solids(whole)
    assert volume(corners) == pytest.approx(sum(p.Volume() for p in plates), rel=1e-3)
    assert (corners[..., 2].min(), corners[..., 2].max()) == (0.0, 3.0)
    boxes = [plate.BoundingBox(1e-4) for plate in plates]
    low = min(b.xmin for b in boxes), min(b.ymin for b in boxes)
    high = max(b.xmax for b in boxes), max(b.ymax for b in boxes)
    assert corners.min(axis=(0, 1))[:2] == pytest.approx(low, abs=Flat(whole.options).flat)
    assert corners.max(axis=(0, 1))[:2] == pytest.approx(high, abs=Flat(whole.options).flat)


@pytest.mark.parametrize("flat", [0.01, 0.05, 0.3])
def test_facets_are_as_near_as_asked_for(flat: float) -> None:
    whole = unnotched(workroom(SET, options={"flat": flat}))
    corners = triangles(template.stl(whole)).astype(float)
    top = corners[(corners[..., 2] == 3.0).all(axis=1)][..., :2]
    plates = shapely.union_all(shapely.polygons(top))
    for curves in cut(whole):
        true = np.concatenate([c.points_at(np.linspace(0.0, c.length, 200)) for c in curves])
        assert shapely.distance(shapely.points(true), plates.boundary).max() <= flat + 1e-3
    # Corners are on the curve, to what single precision holds.
    lines = shapely.MultiLineString(
        [c.flatten(accuracy=1e-4) for curves in cut(whole) for c in curves]
    )
    rim = [p for shape in plates.geoms for p in shape.exterior.coords]
    assert shapely.distance(shapely.points(rim), lines).max() < 1e-3


def test_coarser_facets_are_fewer() -> None:
    counts = [
        len(triangles(template.stl(workroom("skirt.circle", options={"flat": flat}))))
        for flat in (0.03, 0.1, 0.5)
    ]
    assert counts == sorted(set(counts), reverse=True)


def test_a_hole_left_open_would_be_noticed() -> None:
    corners = triangles(template.stl(workroom("skirt.gored")))
    with pytest.raises(AssertionError):
        check_watertight(corners[1:])
    with pytest.raises(AssertionError):
        check_watertight(np.concatenate([corners[1:], corners[:1, ::-1]]))


# -- both ------------------------------------------------------------------------------------


@pytest.mark.parametrize("write", [template.step, template.stl])
@pytest.mark.parametrize("thickness", [0.0, -3.0, math.nan, math.inf])
def test_a_thickness_that_cannot_be_is_told(write, thickness: float) -> None:
    with pytest.raises(InputError, match=r"^format st..?: no plate is .* mm thick; give more than"):
        write(workroom("skirt.gored", options={"thickness": thickness}))


@pytest.mark.parametrize("flat", [0.0, -1.0, math.nan])
def test_a_flatness_that_cannot_be_is_told(flat: float) -> None:
    with pytest.raises(InputError, match=r"^format stl: straight lines cannot lie within"):
        template.stl(workroom("skirt.gored", options={"flat": flat}))


def test_notches_that_cut_a_plate_apart_are_told() -> None:
    whole = workroom("skirt.gored")
    (panel,) = whole.finished
    deep = tuple(notch._replace(depth=2000.0) for notch in panel.notches)
    assert deep
    whole = replace(whole, finished=(replace(panel, notches=deep),))
    with pytest.raises(InputError, match=r"'panel' makes no plate: its notches and holes cut"):
        template.step(whole)


def test_a_piece_that_does_not_close_is_told() -> None:
    with pytest.raises(InputError, match=r"^format stl: piece 'sleeve' .*: a gap of 1"):
        template.stl(bent(document()))


def test_a_broken_proof_is_said_in_the_file() -> None:
    good = document()
    broken = replace(good, proof=bent(good).proof)
    for write in (template.step, template.stl):
        assert b"UNPROVED" in write(broken)[:300]
        assert b"UNPROVED" not in write(good)


def test_without_cadquery_it_is_told(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setitem(sys.modules, "cadquery", None)
    with pytest.raises(InputError, match="install it with: pip install cadquery"):
        template.step(workroom("skirt.gored"))


def test_formats() -> None:
    forms = [load().format(name) for name in ("step", "stl")]
    assert [(f.name, f.suffix) for f in forms] == [("step", ".step"), ("stl", ".stl")]
    assert all("mm" in f.says and "\n" not in f.says for f in forms)


@cache
def digests() -> list[str]:
    """Of every format of this test, finished and bare; also run by another process."""
    documents = [workroom("skirt.straight", "bare"), workroom("skirt.gored", "T")]
    writers = (hpgl.write, template.step, template.stl)
    return [hashlib.sha256(write(d)).hexdigest() for d in documents for write in writers]


def test_the_same_bytes_every_time() -> None:
    """Twice here, whatever was written before, and in another process."""
    first = digests()
    digests.cache_clear()
    assert digests() == first
    assert len(set(first)) == len(first)
    program = "import test_template; print(*test_template.digests())"
    here = Path(__file__).parent
    path = os.pathsep.join([str(here), str(here.parent), os.environ.get("PYTHONPATH", "")])
    done = subprocess.run(
        [sys.executable, "-c", program],
        env={**os.environ, "PYTHONPATH": path, "PYTHONHASHSEED": "7"},
        check=True,
        capture_output=True,
        text=True,
    )
    assert done.stdout.split() == first, "also: nothing but that is printed"


def test_nothing_is_printed(capfd: pytest.CaptureFixture[str]) -> None:
    """OCCT likes to talk of what it transfers."""
    template.step(workroom("skirt.gored"))
    template.stl(workroom("skirt.gored"))
    assert capfd.readouterr() == ("", "")
