"""Darts and folds of every bundled block, counted in its finished files by readers of others.

A dart has a notch for each leg, which points at its point, and a drill hole.  A fold that was
opened out has a notch at both ends.  That these are marked is common practice, no source.
"""

from __future__ import annotations

import io
import json
import math
from functools import cache
from itertools import combinations
from pathlib import Path
from typing import NamedTuple
from xml.etree import ElementTree

import ezdxf
import numpy as np
import pytest
from hpgl_machine import run
from pdf_reader import pages, paths

from blockwright import Document, Finish, Pattern, draft, finish_all, load, load_sheet, prove
from blockwright.formats import layout

WORKROOM = Path(__file__).parents[2] / "examples" / "workroom"
SVG = "{http://www.w3.org/2000/svg}"
# Notches and drill holes of each block for Nora, as the drawings show them: those where it is
# sewn, two a dart, two a fold, and the ends of the hems.
COUNTS = {
    "bodice.easy": (10, 0),
    "bodice.fitted": (26, 8),
    "skirt.circle": (5, 0),
    "skirt.flared": (9, 0),
    "skirt.gored": (4, 0),
    "skirt.straight": (17, 4),
    "sleeve.fitted": (8, 1),
    "sleeve.straight": (6, 0),
    "trousers.straight": (16, 3),
}
# The tiles of a page hold only the pieces that reach it; see the test of its own.
FILES = ("svg", "pdf", "dxf", "dxf-r12", "d6673", "hpgl", "json")
# Of a slit, and of a drill hole, mm.
DEPTH, HOLE = 5.0, 3.0
# How far a plotter's line may lie from its place: half a step of 0.025 mm at either end, for a
# notch of 5 mm that is looked along for the length of a dart.
NEAR = {"hpgl": 1.5}


@pytest.fixture(autouse=True)
def laid_out_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """A document is laid out once, not by each format that writes it: that takes longest."""
    lay_out, sheets = layout.lay_out, {}

    def once(whole: Document, *, words: bool = True) -> layout.Sheet:
        key = (id(whole), words)
        if key not in sheets:
            sheets[key] = whole, lay_out(whole, words=words)
        return sheets[key][1]

    monkeypatch.setattr(layout, "lay_out", once)


class Marks(NamedTuple):
    """Slits (n, 2, 2), each from the edge inward, and the centres of holes (m, 2); mm, y up."""

    slits: np.ndarray
    holes: np.ndarray


class Wanted(NamedTuple):
    """A dart: from its hole to its point, and the ways in along its legs."""

    point: np.ndarray
    ways: list[np.ndarray]


@cache
def document(key: str) -> Document:
    sheet = load_sheet(WORKROOM / "nora.toml")
    pattern = draft(load().block(key), sheet)
    cut = finish_all(pattern, Finish(opened=True))
    return Document(pattern, prove(pattern), sheet.units, cut, opened=True)


# -- readers ---------------------------------------------------------------------------------


def marks(slits: list[object], rings: list[np.ndarray]) -> Marks:
    """Holes are the rings that are round and 3 mm wide."""
    holes = [
        (ring.min(axis=0) + ring.max(axis=0)) / 2.0
        for ring in rings
        if np.allclose(np.ptp(ring, axis=0), HOLE, atol=0.1)
    ]
    return Marks(np.array(slits, float).reshape(-1, 2, 2), np.array(holes, float).reshape(-1, 2))


def by_xml(data: bytes) -> Marks:
    found: dict[str, list[np.ndarray]] = {"notch": [], "drill": []}
    for path in ElementTree.fromstring(data).iter(SVG + "path"):
        if path.get("class") in found:
            numbers = path.get("d", "").translate(str.maketrans("MLCZ", "    ")).split()
            at = np.array(numbers, float).reshape(-1, 2) * [1.0, -1.0]
            found[path.get("class", "")].append(at)
    return marks(found["notch"], found["drill"])


def by_pypdf(data: bytes, number: int = 0) -> Marks:
    """A notch is the only unbroken line as thick and as long as it is."""
    drawn = paths(pages(data)[number])
    slits = [
        [path.pieces[0, 0], path.pieces[0, 3]]
        for path in drawn
        if abs(path.width - 0.5) < 0.01 and not path.dashes and abs(path.length - DEPTH) < 0.01
    ]
    return marks(slits, [path.pieces[:, 0] for path in drawn if path.closed])


def by_ezdxf(data: bytes) -> Marks:
    """Pieces of the exchange file lie with the grain along x, so they are turned back."""
    drawing = ezdxf.read(io.StringIO(data.decode("ascii"), newline=None))
    slits, rings, points = [], [], []
    for insert in drawing.modelspace().query("INSERT"):
        for each in insert.virtual_entities():
            kind, layer = each.dxftype(), each.dxf.layer
            if (kind, layer) == ("LINE", "NOTCH"):
                slits.append([each.dxf.start.vec2, each.dxf.end.vec2])
            elif (kind, layer) == ("SPLINE", "DRILL"):
                rings.append(np.array([[at.x, at.y] for at in each.flattening(0.001)]))
            elif (kind, layer) == ("POLYLINE", "DRILL"):
                rings.append(np.array([[at.x, at.y] for at in each.points()]))
            elif (kind, layer) == ("POINT", "4"):
                way, at = math.radians(each.dxf.angle), each.dxf.location.vec2
                foot = at + DEPTH * ezdxf.math.Vec2(math.cos(way), math.sin(way))
                slits.append([(-at.y, at.x), (-foot.y, foot.x)])
            elif (kind, layer) == ("POINT", "13"):
                points.append((-each.dxf.location.y, each.dxf.location.x))
    found = marks(slits, rings)
    return found._replace(holes=np.array(points).reshape(-1, 2)) if points else found


def by_machine(data: bytes) -> Marks:
    """A plotter may draw a notch from either end; both are told, and one will do."""
    drawn = run(data)
    slits = [[line[0], line[-1]] for line in drawn.of(2)]
    return marks(slits, [np.array(line) for line in drawn.of(3) if line[0] == line[-1]])


def by_json(data: bytes) -> Marks:
    """Places are those of each piece, which all begin at their own origin."""
    slits, holes = [], []
    for apart, piece in enumerate(json.loads(data)["finished"]):
        shift = np.array([1e4 * apart, 0.0])
        for notch in piece["notches"]:
            at = np.array(notch["at"]) + shift
            slits.append([at, at + DEPTH * np.array(notch["inward"])])
        holes += [np.array(drill["at"]) + shift for drill in piece["drills"]]
    return marks(slits, [])._replace(holes=np.array(holes).reshape(-1, 2))


READERS = {
    "svg": by_xml,
    "pdf": by_pypdf,
    "dxf": by_ezdxf,
    "dxf-r12": by_ezdxf,
    "d6673": by_ezdxf,
    "hpgl": by_machine,
    "json": by_json,
}


# -- what is wanted --------------------------------------------------------------------------


def wanted(pattern: Pattern) -> tuple[list[Wanted], list[float]]:
    """The darts of a pattern, twice on a piece that lies on the fold, and its folds' lengths."""
    darts, folds = [], []
    for piece in pattern.pieces:
        own = []
        for dart in piece.darts:
            legs = [np.array([*end]) - [*dart.apex] for end in piece.dart_legs(dart)]
            middle = (legs[0] + legs[1]) / 2.0
            inset = min(12.7, float(np.hypot(*middle)) / 2.0)
            ways = [-leg / np.hypot(*leg) for leg in legs]
            own.append(Wanted(-inset * middle / np.hypot(*middle), ways))
        on_fold = [edge.curve for edge in piece.edges if edge.role == "fold"]
        for fold in on_fold:
            assert abs(fold.end.x - fold.start.x) < 1e-9, "the mirror below is upright"
        folds += [fold.length for fold in on_fold]
        darts += own
        if on_fold:
            flip = np.array([-1.0, 1.0])
            darts += [Wanted(d.point * flip, [way * flip for way in d.ways]) for d in own]
    return darts, folds


def marked(found: Marks, dart: Wanted, hole: np.ndarray, near: float, undirected: bool) -> bool:
    """Whether one slit on each leg of a dart, and no other, points at its point."""
    starts, feet = found.slits[:, 0], found.slits[:, 1]
    if undirected:
        starts, feet = np.concatenate([starts, feet]), np.concatenate([feet, starts])
    ways = (feet - starts) / np.linalg.norm(feet - starts, axis=1, keepdims=True)
    reach = hole + dart.point - starts
    off = np.abs(ways[:, 0] * reach[:, 1] - ways[:, 1] * reach[:, 0])
    ahead = (off < near) & ((ways * reach).sum(axis=1) > 0.0)
    return all((ahead & (ways @ leg > 0.9998)).sum() == 1 for leg in dart.ways)


def opened_folds(found: Marks, undirected: bool) -> list[float]:
    """Lengths between two upright slits over one another that point at each other."""
    upright = [
        (at, to - at) for at, to in found.slits if abs(to[0] - at[0]) < 1e-3 * abs(to[1] - at[1])
    ]
    return [
        abs(b[1] - a[1])
        for (a, one), (b, other) in combinations(upright, 2)
        if abs(a[0] - b[0]) < 0.03
        and (undirected or one[1] * (b[1] - a[1]) > 0.0 > one[1] * other[1])
    ]


def check(key: str, name: str, found: Marks) -> None:
    darts, folds = wanted(document(key).pattern)
    undirected = name == "hpgl"
    near = NEAR.get(name, 0.02)
    free = [*found.holes]
    for dart in darts:
        own = [i for i, hole in enumerate(free) if marked(found, dart, hole, near, undirected)]
        assert own, f"no hole of a dart with two notches that point at it; {len(free)} left"
        del free[own[0]]
    assert not free
    between = opened_folds(found, undirected)
    assert len(between) == len(folds)
    for length, fold in zip(sorted(between), sorted(folds), strict=True):
        assert fold - 0.05 < length < fold + 45.0, "from cut line to cut line"


@pytest.mark.parametrize("key", COUNTS)
def test_two_notches_and_a_hole_a_dart_and_two_notches_a_fold(key: str) -> None:
    whole = document(key)
    darts, folds = wanted(whole.pattern)
    assert COUNTS[key][0] >= 2 * len(darts) + 2 * len(folds)
    for name in FILES:
        found = READERS[name](load().format(name).write(whole))
        assert (len(found.slits), len(found.holes)) == COUNTS[key], name
        check(key, name, found)


@pytest.mark.parametrize("key", ["skirt.straight"])
def test_tiles_have_the_same_marks(key: str) -> None:
    """A middle tile is reached by both pieces, so all marks stand in it, cut off by its edges."""
    data = load().format("tiles").write(document(key))
    found = [by_pypdf(data, number) for number in range(1, len(pages(data)))]
    most = max(found, key=lambda each: len(each.slits))
    assert (len(most.slits), len(most.holes)) == COUNTS[key]
    check(key, "tiles", most)


def test_a_mark_that_is_missing_would_be_noticed() -> None:
    found = by_xml(load().format("svg").write(document("skirt.straight")))
    check("skirt.straight", "svg", found)
    for i in range(len(found.holes)):
        with pytest.raises(AssertionError):
            check("skirt.straight", "svg", found._replace(holes=np.delete(found.holes, i, 0)))
    missed = 0
    for i in range(len(found.slits)):
        try:
            check("skirt.straight", "svg", found._replace(slits=np.delete(found.slits, i, 0)))
        except AssertionError:
            missed += 1
    assert missed == 2 * 4 + 2, "those of four darts and of a fold"
