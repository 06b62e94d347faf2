"""The SVG, read back by readers that are not ours."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from dataclasses import replace
from itertools import combinations

import pytest
import shapely
from format_samples import BLOCKS, BODIES, bent, document, estimated, two_pieces
from svg_reader import Group, Page, corners, line, read

from blockwright import Affine, Mark, Point, Unit, signed_area
from blockwright.formats import line_styles, svg

# Smaller letters are not read on paper: capitals under 1.75 mm (common practice, no source), mm.
LEAST = 2.5
EVERY = [(block, body) for block in BLOCKS for body in BODIES]
ODD_NAME = 'Zoë <b>&amp;</b> "O\'Hara" 王芳 🧵'


def page(block: str, body: str) -> Page:
    return read(svg.write(document(block, BODIES[body])))


@pytest.mark.parametrize(("block", "body"), EVERY)
def test_edge_lengths_and_area_are_the_pieces(block: str, body: str) -> None:
    whole = document(block, BODIES[body])
    sheet = read(svg.write(whole))
    (piece,) = whole.pattern.pieces
    (outline,) = sheet.pieces[0].of("outline")
    rest = list(outline)
    start = rest[0].start
    first = piece.edges[0].curve.start
    for edge in piece.edges:
        end = edge.curve.end
        want = start + complex(end.x - first.x, first.y - end.y)
        length = 0.0
        while True:
            segment = rest.pop(0)
            length += segment.length(error=1e-7)
            if abs(segment.end - want) < 0.001:
                break
        assert length == pytest.approx(edge.curve.length, abs=0.01), edge.name
    assert not rest
    area = signed_area([edge.curve for edge in piece.edges])
    assert abs(outline.area()) == pytest.approx(area, rel=1e-4)


@pytest.mark.parametrize(("block", "body"), EVERY)
def test_nothing_is_outside_the_page_and_a_unit_is_a_millimetre(block: str, body: str) -> None:
    sheet = page(block, body)
    x, y, width, height = sheet.box
    assert (x, y) == (0.0, 0.0)
    assert sheet.width.endswith("mm")
    assert sheet.height.endswith("mm")
    assert float(sheet.width.removesuffix("mm")) == width
    assert float(sheet.height.removesuffix("mm")) == height
    paper = shapely.box(0.0, 0.0, width, height)
    for group in sheet.groups.values():
        for _, path in group.paths:
            assert paper.contains(line(path))
        for text in group.texts:
            assert paper.contains(text.box), text.words


def test_the_bars_are_ten_centimetres_and_four_inches() -> None:
    strip = page("sleeve.fitted", "middling").groups["strip"]
    lengths = sorted((bar.length() for bar in strip.of("test-bar")), reverse=True)
    assert lengths[:2] == pytest.approx([101.6, 100.0], abs=1e-6)
    assert {"10 cm", "4 in"} <= {text.words for text in strip.texts}
    ticks = [bar for bar in strip.of("test-bar") if bar.length() < 10.0]
    assert len(ticks) == 11 + 5


def check_words(group: Group) -> None:
    """No text crosses a line or another text, and all lie inside the outline."""
    (outline,) = group.of("outline")
    inside = shapely.Polygon(corners(outline))
    lines = shapely.union_all([line(path) for _, path in group.paths])
    assert group.texts
    for text in group.texts:
        assert inside.contains(text.box), text.words
        assert not text.box.intersects(lines), text.words
    for one, other in combinations(group.texts, 2):
        assert not one.box.intersects(other.box), (one.words, other.words)


@pytest.mark.parametrize("unit", [Unit.CM, Unit.IN])
@pytest.mark.parametrize(("block", "body"), EVERY)
def test_no_words_on_lines(block: str, body: str, unit: Unit) -> None:
    sheet = read(svg.write(document(block, BODIES[body], unit=unit)))
    check_words(sheet.pieces[0])


@pytest.mark.parametrize(("block", "body"), EVERY)
def test_no_words_on_lines_with_a_long_label(block: str, body: str) -> None:
    """Estimates, a very long name and UNPROVED make the longest label there is."""
    whole = bent(document(block, estimated(body), name="Maximiliane " * 8))
    check_words(read(svg.write(whole)).pieces[0])


def test_a_text_that_crosses_a_line_is_noticed() -> None:
    data = svg.write(document()).decode()
    for text in read(data.encode()).pieces[0].texts:
        y = data.index(f">{text.words}<")
        start = data.rindex(' y="', 0, y) + 4
        moved = data[:start] + "-40.5" + data[data.index('"', start) :]
        with pytest.raises(AssertionError):
            check_words(read(moved.encode()).pieces[0])


@pytest.mark.parametrize("block", BLOCKS)
def test_what_the_label_says(block: str) -> None:
    sheet = read(svg.write(document(block, estimated("middling"), name="Ada")))
    words = [text.words for text in sheet.pieces[0].texts]
    assert "estimated, not measured: front armhole length, " in " ".join(words)
    for expected in (
        "SLEEVE",
        "for Ada",
        "cut 2, a mirrored pair",
        "no seam allowance",
        "piece 1 of 1",
        "sew a toile first",
        "grain",
        "bicep line",
        "front",
        "back",
    ):
        assert expected in words, expected
    strip = [text.words for text in sheet.groups["strip"].texts]
    assert any("Measure both bars" in line for line in strip)
    assert any(block in line for line in strip)


def test_the_dart_says_intake_and_pressing_in_the_makers_unit() -> None:
    sheet = read(svg.write(document(unit=Unit.IN)))
    assert "elbow dart, 1 in, pressed down" in [text.words for text in sheet.pieces[0].texts]


def test_roles_differ_without_colour() -> None:
    strokes = {name: (s.width, s.dashes) for name, s in line_styles.STROKES.items()}
    assert len(set(strokes.values())) >= len(strokes) - 1  # notch and test bar are alike
    used = {role for role, _ in page("sleeve.fitted", "middling").pieces[0].paths}
    assert used == set(strokes) - {"test-bar", "sew", "drill", "fold", "leader"}


def test_unproved_is_on_the_piece_and_on_the_sheet() -> None:
    whole = document()
    proved, broken = svg.write(whole).decode(), svg.write(bent(whole)).decode()
    assert "UNPROVED" not in proved
    sheet = read(broken.encode())
    assert "UNPROVED" in [t.words for t in sheet.pieces[0].texts if "warning" in t.kind]
    assert any("UNPROVED" in t.words and "warning" in t.kind for t in sheet.groups["strip"].texts)


def test_a_gap_in_the_outline_is_drawn_as_a_gap() -> None:
    (whole,) = read(svg.write(document())).pieces[0].of("outline")
    (bare,) = read(svg.write(bent(document()))).pieces[0].of("outline")
    assert whole.isclosed()
    assert len(bare) == len(whole)  # not one line more, to close it
    jumps = [abs(a.end - b.start) for a, b in zip(bare, bare[1:], strict=False)]
    assert sorted(jumps)[-2:] == pytest.approx([1.0, 1.0], abs=0.001)


def test_odd_names_are_text_and_nothing_else() -> None:
    data = svg.write(document(name=ODD_NAME))
    words = [text.words for text in read(data).pieces[0].texts]
    assert f"for {ODD_NAME}" in words
    assert "<b>" not in data.decode()


def test_a_name_no_file_can_hold_is_still_xml() -> None:
    data = svg.write(document(name="a\x00b\ud800c\nd\x1f"))
    assert "for a\ufffdb\ufffdc d" in read(data).text


def test_pieces_lie_side_by_side() -> None:
    sheet = read(svg.write(two_pieces(document())))
    first, second = (shapely.Polygon(corners(g.of("outline")[0])) for g in sheet.pieces)
    assert first.distance(second) >= 30.0
    assert first.bounds[3] == pytest.approx(second.bounds[3])
    paper = shapely.box(*sheet.box)
    assert paper.contains(first)
    assert paper.contains(second)
    for group in sheet.pieces:
        check_words(group)


def test_words_meant_for_a_place_off_the_piece_lie_on_it() -> None:
    whole = document()
    piece = whole.pattern.pieces[0]
    notes = tuple(replace(note, at=Point(500.0, 40.0 * i)) for i, note in enumerate(piece.notes))
    piece = replace(piece, label_at=Point(-400.0, 0.0), notes=notes)
    pattern = replace(whole.pattern, pieces=(piece,))
    check_words(read(svg.write(replace(whole, pattern=pattern))).pieces[0])


def test_marks_off_the_piece_are_not_drawn() -> None:
    whole = document()
    far = Mark(2000.0, 50.0, "far", "two metres to the front")
    inside = Mark(10.0, -20.0, "near", "within")
    pattern = replace(whole.pattern, marks=(*whole.pattern.marks, far, inside))
    sheet = read(svg.write(replace(whole, pattern=pattern)))
    marks = sheet.pieces[0].of("mark")
    assert len(marks) == len(whole.pattern.marks) + 1
    assert all(shapely.box(*sheet.box).contains(line(mark)) for mark in marks)


@pytest.mark.parametrize("shrink", [0.3, 0.05, 0.001])
def test_a_piece_too_small_for_its_words_still_has_them(shrink: float) -> None:
    whole = document()
    piece = whole.pattern.pieces[0]
    small = Affine.scale(shrink)
    edges = tuple(replace(edge, curve=edge.curve.moved(small)) for edge in piece.edges)
    tiny = replace(
        piece,
        edges=edges,
        grain=(small(piece.grain[0]), small(piece.grain[1])),
        label_at=small(piece.label_at),
        darts=tuple(replace(dart, apex=small(dart.apex)) for dart in piece.darts),
        notches=tuple(replace(notch, along=notch.along * shrink) for notch in piece.notches),
        guides=tuple(replace(g, curve=g.curve.moved(small)) for g in piece.guides),
        notes=tuple(replace(note, at=small(note.at)) for note in piece.notes),
    )
    sheet = read(svg.write(replace(whole, pattern=replace(whole.pattern, pieces=(tiny,)))))
    large = read(svg.write(whole)).pieces[0]
    small_one = sheet.pieces[0]
    every, there = (" ".join(t.words for t in one.texts) for one in (large, small_one))
    # Names of the edges need not be there, all other words are, broken otherwise.
    left_out = "|".join([*(edge.name for edge in piece.edges), r"\d+\.\d cm"])
    wanted = sorted(re.sub(left_out, "", every).split())
    assert sorted(re.sub(left_out, "", there).split()) == wanted
    assert min(text.size for text in small_one.texts) >= LEAST
    check_beside(small_one)
    paper = shapely.box(*sheet.box)
    assert all(paper.contains(text.box) for text in small_one.texts)


def check_beside(group: Group) -> None:
    """A text lies whole in the cloth or whole beside it; leaders alone come from those beside."""
    (outline,) = group.of("outline")
    cloth = shapely.Polygon(corners(outline))
    leaders = [line(path) for path in group.of("leader")]
    beside = [text for text in group.texts if not cloth.contains(text.box)]
    assert all(cloth.disjoint(text.box) for text in beside), [text.words for text in beside]
    assert bool(beside) == bool(leaders)
    others = [line(path) for role, path in group.paths if role != "leader"]
    for text in group.texts:
        assert not text.box.intersects(shapely.union_all(others)), text.words
    for leader in leaders:
        start = shapely.Point(leader.geoms[0].coords[0])
        assert min(text.box.distance(start) for text in beside) < 6.0  # centred lines
        assert cloth.distance(leader) < 0.1
    for one, other in combinations(group.texts, 2):
        assert not one.box.intersects(other.box), (one.words, other.words)


_WRITE = """
import sys
sys.path.insert(0, sys.argv[1])
from blockwright.formats import svg, dxf, json
from format_samples import document
for form in (svg, dxf, json):
    sys.stdout.buffer.write(form.write(document()))
"""


def test_the_same_bytes_in_every_process() -> None:
    found = set()
    for seed in ("0", "1", "4711"):
        run = subprocess.run(
            [sys.executable, "-c", _WRITE, os.path.dirname(__file__)],
            env=os.environ | {"PYTHONHASHSEED": seed},
            capture_output=True,
            check=True,
        )
        found.add(run.stdout)
    assert len(found) == 1
    assert len(found.pop()) > 10_000
