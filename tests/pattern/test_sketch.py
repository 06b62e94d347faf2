"""Sketches and the proof's table, read back by an XML parser, svgpathtools, shapely and IPython."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import FrozenInstanceError, replace
from itertools import combinations, pairwise
from pathlib import Path
from xml.etree import ElementTree

import numpy as np
import pytest
import shapely
import svgpathtools
from bending import stretched
from IPython.core.formatters import DisplayFormatter

from blockwright import (
    Dart,
    Edge,
    Finish,
    Mark,
    Notch,
    Pattern,
    PatternError,
    Piece,
    Point,
    Proof,
    Ref,
    Result,
    Sketch,
    draft,
    fair_curve,
    finish_all,
    line,
    load,
    load_sheet,
    polyline,
    prove,
    sketch,
)
from blockwright.pattern.sketch import LOOKS

SVG = "{http://www.w3.org/2000/svg}"
NORA = Path(__file__).parents[2] / "examples" / "workroom" / "nora.toml"
WARDROBE = ("bodice.fitted", "sleeve.fitted", "skirt.straight", "trousers.straight")
# Coordinates are written to 0.0001 mm, so either of two may be half of that off.
WRITTEN = 0.00005 * math.sqrt(2.0) * 1.01
AWKWARD = "a<b> & \"c\" 'd' \u00e9"


@pytest.fixture(scope="module")
def wardrobe() -> Pattern:
    host = load()
    return draft([host.block(key) for key in WARDROBE], load_sheet(NORA))


def read(picture: Sketch | str) -> ElementTree.Element:
    root = ElementTree.fromstring(picture if isinstance(picture, str) else picture.svg)
    assert root.tag == f"{SVG}svg"
    return root


def paths(root: ElementTree.Element, role: str | None = None) -> dict[str, svgpathtools.Path]:
    """Paths by what they say of themselves, up to the colon if there is one."""
    return {
        path.findtext(f"{SVG}title", "").split(":")[0]: svgpathtools.parse_path(path.get("d"))
        for path in root.iter(f"{SVG}path")
        if role in (None, path.get("data-role"))
    }


def strokes(root: ElementTree.Element) -> dict[str, list[svgpathtools.Path]]:
    """Paths as in `paths`; the stretches of an edge with darts in it say the same of themselves."""
    found: dict[str, list[svgpathtools.Path]] = {}
    for path in root.iter(f"{SVG}path"):
        name = path.findtext(f"{SVG}title", "").split(":")[0]
        found.setdefault(name, []).append(svgpathtools.parse_path(path.get("d")))
    return found


def paired(group: ElementTree.Element, piece: Piece) -> Iterator[tuple[svgpathtools.Path, Edge]]:
    """Every edge of a piece, its stretches too, with the path it was drawn as."""
    for name, drawn in strokes(group).items():
        edges = [edge for edge in piece.edges if edge.name == name]
        if edges:
            yield from zip(drawn, edges, strict=True)


def words(root: ElementTree.Element) -> list[str]:
    return [text.text or "" for text in root.iter(f"{SVG}text")]


def control(path: svgpathtools.Path) -> np.ndarray:
    """Control points of cubic segments, y up."""
    assert all(isinstance(segment, svgpathtools.CubicBezier) for segment in path)
    return np.array([[(p.real, -p.imag) for p in segment.bpoints()] for segment in path])


def outline(group: ElementTree.Element) -> shapely.Polygon:
    """The outline of a drawn piece, y up, from the paths of its edges in their order."""
    ring = []
    for path in group.iter(f"{SVG}path"):
        if path.get("data-role") in ("seam", "fold", "dart"):
            for segment in svgpathtools.parse_path(path.get("d")):
                ring += [(at.real, -at.imag) for at in (segment.point(i / 16) for i in range(16))]
    return shapely.Polygon(ring)


def test_a_curve_keeps_its_control_points() -> None:
    curve = fair_curve([Point(0, 0), Point(70, 40), Point(90, 130)], start=Point(1, 0))
    (path,) = paths(read(sketch(curve))).values()
    assert np.abs(control(path) - curve.control).max() <= WRITTEN
    assert abs(path.start - complex(curve.start.x, -curve.start.y)) <= WRITTEN
    assert abs(path.end - complex(curve.end.x, -curve.end.y)) <= WRITTEN
    assert path.length() == pytest.approx(curve.length, abs=2e-3)


def test_every_edge_of_a_piece_is_drawn_as_it_is_and_named(wardrobe: Pattern) -> None:
    for piece in wardrobe.pieces:
        root = read(sketch(piece))
        drawn = list(paired(root, piece))
        assert len(drawn) == len(piece.edges)
        for path, edge in drawn:
            assert np.abs(control(path) - edge.curve.control).max() <= WRITTEN
            assert (edge.name in words(root)) is (edge.role != "dart")
        folds = {edge.name for edge in piece.edges if edge.role == "fold"}
        mouths = {edge.name for edge in piece.edges if edge.role == "dart"}
        assert set(paths(root, "fold")) == folds
        assert set(paths(root, "dart")) == mouths
        assert piece.label in words(root)


def on_edge(piece: Piece, notch: Notch) -> Point:
    """Where a notch lies, so far along the stretches of its edge one after the other."""
    along = notch.along
    *before, last = (edge.curve for edge in piece.stretches(notch.edge))
    for curve in before:
        if along <= curve.length:
            return curve.point_at(along)
        along -= curve.length
    return last.point_at(along)


def test_darts_notches_and_grain_are_where_they_are(wardrobe: Pattern) -> None:
    for piece in wardrobe.pieces:
        root = read(sketch(piece))
        cloth = outline(root)
        legs = paths(root, "leg")
        assert set(legs) == {dart.name for dart in piece.darts}
        for dart in piece.darts:
            first, second = legs[dart.name]
            found = [first.start, first.end, second.start, second.end]
            start, end = piece.dart_legs(dart)
            wanted = [complex(p.x, -p.y) for p in (start, dart.apex, dart.apex, end)]
            assert np.abs(np.subtract(found, wanted)).max() <= WRITTEN
            assert dart.name in words(root)
        for notch in piece.notches:
            ticks = paths(root, "notch")[notch.name]
            assert len(ticks) == notch.count
            place = on_edge(piece, notch)
            middle = sum(tick.start for tick in ticks) / notch.count
            assert abs(middle - complex(place.x, -place.y)) < 1.0  # twins stand on a curve
            for tick in ticks:
                assert cloth.covers(shapely.Point(tick.end.real, -tick.end.imag))
        thread = paths(root, "grain")["grain"][0]
        low, high = piece.grain
        assert abs(thread.start - complex(low.x, -low.y)) <= WRITTEN
        assert abs(thread.end - complex(high.x, -high.y)) <= WRITTEN


def test_names_beside_edges_stand_inside_the_piece(wardrobe: Pattern) -> None:
    for piece in wardrobe.pieces:
        root = read(sketch(piece))
        cloth = outline(root)
        for text in root.iter(f"{SVG}text"):
            at = shapely.Point(float(text.get("x", "")), -float(text.get("y", "")))
            assert cloth.covers(at), text.text


def test_pieces_of_a_pattern_stand_apart_and_keep_their_shape(wardrobe: Pattern) -> None:
    root = read(sketch(wardrobe))
    groups = root.findall(f"{SVG}g")
    assert [group.get("data-piece") for group in groups] == [p.label for p in wardrobe.pieces]
    shapes = [outline(group) for group in groups]
    assert min(a.distance(b) for a, b in combinations(shapes, 2)) > 20.0
    assert all(a.bounds[2] < b.bounds[0] for a, b in pairwise(shapes))
    for group, piece in zip(groups, wardrobe.pieces, strict=True):
        drawn = list(paired(group, piece))
        assert len(drawn) == len(piece.edges)
        steps = np.concatenate(
            [(control(path) - edge.curve.control).reshape(-1, 2) for path, edge in drawn]
        )
        assert np.ptp(steps, axis=0).max() <= 2.0 * WRITTEN
    # As drafted they lie over each other, so that the step to the side is needed.
    lying = [outline(read(sketch(piece))) for piece in wardrobe.pieces]
    assert any(a.intersects(b) for a, b in combinations(lying, 2))
    first = np.subtract(shapes[0].bounds, lying[0].bounds)
    assert np.abs(first).max() <= WRITTEN


def test_all_is_on_the_picture_at_a_size_for_a_screen(wardrobe: Pattern) -> None:
    marks = [mark for mark in wardrobe.marks if mark.piece == "sleeve"]
    assert marks
    for things in ([wardrobe], [wardrobe.piece("sleeve"), *marks], [Point(3.0, 4.0)]):
        root = read(sketch(*things))
        x, y, wide, high = map(float, root.get("viewBox", "").split())
        assert 0.0 < float(root.get("width", "")) <= 900.0
        assert 0.0 < float(root.get("height", "")) <= 480.0
        pixel = wide / float(root.get("width", ""))
        assert pixel == pytest.approx(high / float(root.get("height", "")), rel=0.02)
        for path in root.iter(f"{SVG}path"):
            assert path.get("vector-effect") == "non-scaling-stroke"
            x0, x1, y0, y1 = svgpathtools.parse_path(path.get("d")).bbox()
            assert x <= x0 <= x1 <= x + wide
            assert y <= y0 <= y1 <= y + high
        # Names of marks too; the widest letters of common faces are 0.6 of their size on average.
        for text in root.iter(f"{SVG}text"):
            size, at = float(text.get("font-size", "")), float(text.get("x", ""))
            long = 0.6 * size * len(text.text or "")
            back = {"start": 0.0, "middle": 0.5, "end": 1.0}[text.get("text-anchor", "")]
            if not text.get("transform"):
                assert x <= at - back * long <= at + (1.0 - back) * long <= x + wide


def awkward_piece() -> Piece:
    apex, right, left = Point(50, 60), Point(55, 100), Point(45, 100)
    edges = (
        Edge(AWKWARD, polyline([Point(0, 0), Point(100, 0), Point(100, 100), right])),
        Edge("mouth", line(right, left), "dart"),
        Edge("left", polyline([left, Point(0, 100), Point(0, 0)]), "fold"),
    )
    return Piece(
        AWKWARD, edges, (Point(20, 10), Point(20, 80)), Point(60, 40),
        darts=(Dart(f"{AWKWARD} dart", apex, "mouth", "end", "pressed"),),
        notches=(Notch(f"{AWKWARD} notch", AWKWARD, 20.0, 2),),
    )  # fmt: skip


def test_names_are_escaped() -> None:
    mark = Mark(120.0, 50.0, AWKWARD, "x < y")
    root = read(sketch(awkward_piece(), mark))
    assert words(root).count(AWKWARD) == 3  # edge, piece, mark
    assert f"{AWKWARD} dart" in words(root)
    assert f"{AWKWARD}: x < y" in [title.text for title in root.iter(f"{SVG}title")]
    assert root.findall(f"{SVG}g")[0].get("data-piece") == AWKWARD
    # XML cannot hold a bell or half of a surrogate pair, however they are written.
    root = read(sketch(replace(mark, name="bell\x07 and \ud800")))
    assert words(root) == ["bell\ufffd and \ufffd"]


def test_names_can_be_left_out() -> None:
    mark = Mark(10.0, 10.0, "a mark", "anywhere")
    assert set(words(read(sketch(awkward_piece(), mark)))) == {
        AWKWARD, f"{AWKWARD} dart", "left", "a mark",
    }  # fmt: skip
    assert words(read(sketch(awkward_piece(), mark, names=False))) == [AWKWARD]


def test_points_marks_curves_and_edges_lie_where_they_were_drafted() -> None:
    mark, point = Mark(10.0, 20.0, "pitch", "a third up"), Point(-30.0, 5.0)
    curve, edge = line(point, mark), Edge("side", line(mark, Point(40.0, 90.0)))
    root = read(sketch(point, mark, curve, edge))
    drawn = paths(root)
    cross = drawn["pitch"]
    assert {tick.point(0.5) for tick in cross} == {complex(10.0, -20.0)}
    assert {tick.point(0.5) for tick in drawn["(-30.0, 5.0)"]} == {complex(-30.0, -5.0)}
    assert np.abs(control(drawn["side"]) - edge.curve.control).max() <= WRITTEN
    assert words(root) == ["pitch", "side"]


@pytest.mark.parametrize(
    ("things", "says"),
    [
        ([], "nothing to sketch"),
        ([Pattern("test.none", "None", ())], "nothing to sketch"),
        (["cap"], "cannot sketch a str"),
        ([Point(math.nan, 0.0)], "not a finite number"),
        ([Point(0.0, math.inf), Point(0.0, 0.0)], "not a finite number"),
    ],
)
def test_what_cannot_be_sketched_is_said(things: list[Point], says: str) -> None:
    with pytest.raises(PatternError, match=says):
        sketch(*things)


def test_finished_pieces_and_guides_are_refused_by_name(wardrobe: Pattern) -> None:
    skirt = wardrobe.piece("skirt front")
    for thing in (finish_all(wardrobe, Finish())[0], skirt.guides[0]):
        with pytest.raises(PatternError, match=f"cannot sketch a {type(thing).__name__}"):
            sketch(thing)


def test_a_sketch_is_a_value() -> None:
    first, second = sketch(Point(1.0, 2.0)), sketch(Point(1.0, 2.0))
    assert first == second
    with pytest.raises(FrozenInstanceError):
        first.svg = ""


def luminance(colour: str) -> float:
    """Relative luminance, WCAG 2.2 (W3C, 2023), 'relative luminance'."""
    shares = [int(colour[i : i + 2], 16) / 255.0 for i in (1, 3, 5)]
    linear = [s / 12.92 if s <= 0.04045 else ((s + 0.055) / 1.055) ** 2.4 for s in shares]
    return math.fsum(w * v for w, v in zip((0.2126, 0.7152, 0.0722), linear, strict=True))


@pytest.mark.parametrize("role", LOOKS)
def test_every_colour_reads_on_white_and_on_black(role: str) -> None:
    light = luminance(LOOKS[role][0])
    # WCAG 2.2, success criterion 1.4.3: text against its ground by 4.5 to 1; (L1 + 0.05) over
    # (L2 + 0.05), white being 1 and black 0.
    assert 1.05 / (light + 0.05) >= 4.5
    assert (light + 0.05) / 0.05 >= 4.5


# -- in a notebook ---------------------------------------------------------------------------


def shown(thing: object) -> dict[str, str]:
    """What IPython makes of a thing for a notebook, by kind."""
    made, _ = DisplayFormatter().format(thing)
    return made


def test_ipython_shows_pictures(wardrobe: Pattern) -> None:
    piece = wardrobe.piece("sleeve")
    for thing in (wardrobe, piece, sketch(piece)):
        assert read(shown(thing)["image/svg+xml"]).find(f".//{SVG}path") is not None
    assert shown(piece)["image/svg+xml"] == sketch(piece).svg
    assert "image/svg+xml" not in shown(Pattern("test.none", "None", ()))


def rows(proof: Proof) -> list[tuple[bool, list[str]]]:
    """Rows of the proof as a notebook shows it: whether they are marked, and their cells."""
    root = ElementTree.fromstring(f"<div>{shown(proof)['text/html']}</div>")
    return [
        (row.get("class") == "broken", ["".join(cell.itertext()) for cell in row])
        for row in root.iter("tr")
    ]


def test_ipython_shows_a_proof_that_held(wardrobe: Pattern) -> None:
    proof = prove(wardrobe)
    assert proof.held
    head, *found = rows(proof)
    assert head == (False, ["", "promise", "wanted", "measured", "off"])
    assert [cells[1] for _, cells in found] == [proof.say(r) for r in proof.results]
    assert {(marked, cells[0]) for marked, cells in found} == {(False, "held")}
    root = ElementTree.fromstring(f"<div>{shown(proof)['text/html']}</div>")
    assert root.findtext(".//caption", "").endswith(f"all {len(proof.results)} promises held")
    lines = [item.text or "" for item in root.iter("li")]
    assert len([line for line in lines if line.startswith("solved: ")]) == len(proof.solved)
    assert [line for line in lines if line.startswith("taken: front_armhole_length ")]
    assert not [line for line in lines if line.startswith("estimated: ")]
    hip = Ref("skirt.straight", "hip")
    (girth,) = (r for r in proof.results if (r.code, r.subject) == ("girth", hip))
    cells = next(cells for _, cells in found if cells[1] == "girth: skirt hip")
    assert cells[3] == f"{girth.measured / 10.0:.2f} cm"


def test_a_broken_proof_is_marked(wardrobe: Pattern) -> None:
    proof = prove(stretched(wardrobe, "sleeve cap"))
    broken = [proof.say(result) for result in proof.broken]
    assert "seam: sleeve cap to armhole" in broken
    found = rows(proof)
    assert [cells[1] for marked, cells in found if marked] == broken
    assert [cells[1] for _, cells in found if cells[0] == "BROKEN"] == broken
    page = shown(proof)["text/html"]
    assert f"UNPROVED, {len(broken)} of {len(proof.results)} promises broken" in page


def test_estimates_stand_under_the_table() -> None:
    proof = prove(draft(load().block("sleeve.straight"), load_sheet(NORA)))
    assert proof.estimates
    root = ElementTree.fromstring(f"<div>{shown(proof)['text/html']}</div>")
    lines = [item.text or "" for item in root.iter("li")]
    for estimate in proof.estimates:
        wanted = f"estimated: {estimate.name} {estimate.value / 10.0:.1f} cm, {estimate.rule}"
        assert wanted in lines


def test_what_a_proof_says_is_escaped() -> None:
    result = Result("seam", Ref("<b>.block", AWKWARD), "length", (10.0, 20.0), math.nan, 0.1)
    proof = Proof("<b>.block", (result,))
    assert rows(proof)[1] == (
        True, ["BROKEN", f"seam: {AWKWARD}", "1.00 cm to 2.00 cm", "not found", ""],
    )  # fmt: skip
    assert "<b>" not in shown(proof)["text/html"]


def test_curves_are_shown_by_sketching_them() -> None:
    curve = line(Point(0, 0), Point(1, 1))
    assert "image/svg+xml" not in shown(curve)
    assert "image/svg+xml" in shown(sketch(curve))
