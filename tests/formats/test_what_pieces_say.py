"""What a piece says, where its words lie, and the key of the lines: measured with shapely."""

from __future__ import annotations

import re
from collections.abc import Sequence
from dataclasses import replace
from functools import cache
from itertools import combinations

import numpy as np
import pytest
import shapely
from drawing_samples import SETS, WORKROOM, written

from blockwright import (
    Curve,
    Document,
    Draft,
    Edge,
    Guide,
    Note,
    Piece,
    Point,
    Unit,
    draft,
    line,
    load,
    load_sheet,
    polyline,
    prove,
)
from blockwright.formats import layout, line_styles, pdf, svg
from blockwright.formats.text_placement import around
from blockwright.job.job import Job, run
from blockwright.pattern.finishing.finish import Finish, finish_all

# Smaller letters are not read on paper: capitals under 1.75 mm (common practice, no source), mm.
LEAST = 2.5


def area(curves: Sequence[Curve]) -> shapely.Polygon:
    return shapely.Polygon(np.concatenate([curve.flatten(accuracy=1e-3) for curve in curves]))


def boxes(placed: layout.Placed) -> list[tuple[str, shapely.Polygon]]:
    return [
        (words.line.text, shapely.Polygon([tuple(at) for at in around(words).corners()]))
        for words in placed.words
    ]


def lines(placed: layout.Placed) -> list[tuple[str, shapely.LineString]]:
    """All that is drawn on a piece, by role."""
    found = [
        (role, shapely.LineString(curve.flatten(accuracy=1e-2)))
        for role, curves in placed.lines
        for curve in curves
    ]
    return found + [
        (role, shapely.LineString([tuple(a), tuple(b)])) for role, a, b in placed.strokes
    ]


def check_places(placed: layout.Placed) -> int:
    """Every text lies whole in the cloth, or beside it with a leader; the number beside it."""
    cloth = area([edge.curve for edge in placed.piece.edges])
    cut = area(placed.lines[0][1])
    every = boxes(placed)
    drawn = [shape for role, shape in lines(placed) if role != "leader"]
    for text, box in every:
        assert cloth.contains(box) or cut.disjoint(box), text
        assert not any(box.intersects(each) for each in drawn), text
    for (one, box), (other, other_box) in combinations(every, 2):
        assert not box.intersects(other_box), (one, other)
    assert min(words.line.size for words in placed.words) >= LEAST
    beside = sum(cut.disjoint(box) for _, box in every)
    leaders = sum(role == "leader" for role, _, _ in placed.strokes)
    assert bool(beside) == bool(leaders)
    return leaders


@cache
def laid(keys: str, finished: bool, opened: bool) -> layout.Sheet:
    whole = written(keys)
    cut = finish_all(whole.pattern, Finish(opened=opened)) if finished else ()
    return layout.lay_out(replace(whole, finished=cut, opened=opened))


def says(placed: layout.Placed) -> str:
    return " | ".join(words.line.text for words in placed.words)


@pytest.mark.parametrize("opened", [False, True])
@pytest.mark.parametrize("finished", [False, True])
@pytest.mark.parametrize("keys", SETS)
def test_words_of_bundled_blocks_lie_in_the_cloth(keys: str, finished: bool, opened: bool) -> None:
    for placed in laid(keys, finished, opened).placed:
        assert check_places(placed) == 0, says(placed)


# -- small pieces ------------------------------------------------------------------------------


def strip(wide: float, high: float, lean: float = 0.0, name: str = "strip") -> Document:
    """A piece of that size with a note and a guide, its proof held."""
    d = Draft("test.strip", "Strip of cloth")
    a, b = Point(0, 0), Point(wide, 0)
    c, e = Point(wide + lean, high), Point(lean, high)
    edge = Edge("edge", polyline([a, b, c, e, a]), "hem")
    up = a.between(e, 0.1) + Point(wide * 0.3, 0), a.between(e, 0.9) + Point(wide * 0.3, 0)
    middle = a.between(c, 0.5)
    d.piece(
        name, [edge], grain=up, label_at=middle, cut=2, notes=[Note(middle, "a note on it")],
        guides=[Guide("middle", line(b.between(c, 0.5), a.between(e, 0.5)))],
    )  # fmt: skip
    d.measure("edge", length=edge.curve.length, runs=[edge])
    pattern = replace(d.pattern(), body="Somebody", measurements={"waist_girth": 700.0})
    return Document(pattern, prove(pattern), Unit.CM)


@pytest.mark.parametrize("lean", [0.0, 60.0])
@pytest.mark.parametrize("wide", [200.0, 80.0, 55.0, 40.0, 25.0, 12.0, 5.0])
def test_a_narrow_piece_has_a_narrow_label_or_one_beside_it(wide: float, lean: float) -> None:
    sheet = layout.lay_out(strip(wide, 300.0, lean))
    (placed,) = sheet.placed
    leaders = check_places(placed)
    if wide >= 55.0:
        assert leaders == 0
    if wide <= 12.0:
        assert leaders > 0
    paper = shapely.box(0.0, 0.0, sheet.width, sheet.height)
    step = placed.step
    for text, box in boxes(placed):
        assert paper.contains(shapely.affinity.translate(box, step.x, step.y)), text


def test_a_label_is_turned_along_the_grain_where_that_fits() -> None:
    (placed,) = layout.lay_out(strip(70.0, 300.0, name="forearmbinding")).placed
    name = next(words for words in placed.words if words.line.text == "FOREARMBINDING")
    assert abs(name.angle) == pytest.approx(np.pi / 2.0)
    assert check_places(placed) == 0


def test_a_box_that_sticks_out_is_noticed() -> None:
    (placed,) = layout.lay_out(strip(200.0, 300.0)).placed
    first, *rest = placed.words
    for at in (Point(199.0, 100.0), Point(0.0, 100.0), rest[-1].at):
        moved = replace(placed, words=(first._replace(at=at), *rest))
        with pytest.raises(AssertionError):
            check_places(moved)
    gone = replace(placed, words=(first._replace(at=Point(400.0, 100.0)), *rest))
    with pytest.raises(AssertionError):
        check_places(gone)  # beside it, and no leader


# -- what it says ------------------------------------------------------------------------------


@cache
def bodice(**chosen: object) -> Document:
    sheet = load_sheet(WORKROOM / "nora.toml")
    blocks = [load().block(key) for key in ("bodice.fitted", "sleeve.fitted")]
    pattern = draft(blocks, sheet, chosen)  # type: ignore[arg-type]
    return Document(pattern, prove(pattern), sheet.units)


def told(whole: Document) -> list[str]:
    return [
        " ".join(words.line.text for words in one.words) for one in layout.lay_out(whole).placed
    ]


def test_number_block_body_and_toile() -> None:
    back, front, sleeve = told(bodice())
    for text, name, number, block in (
        (back, "BODICE BACK", 1, "Fitted bodice"), (front, "BODICE FRONT", 2, "Fitted bodice"),
        (sleeve, "SLEEVE", 3, "Fitted sleeve"),
    ):  # fmt: skip
        for wanted in (name, f"piece {number} of 3", block, "for Nora", "sew a toile first"):
            assert wanted in text, wanted
    assert "ease: neck 1.0 cm, bust 8.0 cm, waist 4.0 cm, scye 0.5 cm" in back
    assert "chosen" not in back
    assert "ease" not in sleeve  # what the block decides is none that was asked for


def test_what_differs_from_the_usual() -> None:
    back, front, sleeve = told(bodice(bust_ease="10 cm", bust_dart="shoulder", opening="placket"))
    assert "bust 10.0 cm" in front
    assert "chosen: bust dart shoulder" in front
    assert "chosen: bust dart shoulder" in back
    assert "chosen: opening placket" in sleeve


def test_of_a_file_without_measurements_no_toile_is_asked() -> None:
    whole = strip(200.0, 300.0)
    assert "toile" in told(whole)[0]
    assert "toile" not in told(replace(whole, pattern=replace(whole.pattern, measurements={})))[0]


def test_no_word_twice() -> None:
    whole = bodice()
    (sleeve,) = (piece for piece in whole.pattern.pieces if piece.name == "sleeve")
    for name, called in (
        ("under sleeve", "UNDER SLEEVE"), ("sleeve", "SLEEVE"), ("cuff", "SLEEVE CUFF"),
        ("sleeveless", "SLEEVE SLEEVELESS"),
    ):  # fmt: skip
        pieces = (*whole.pattern.pieces[:2], replace(sleeve, name=name))
        drawn = replace(whole, pattern=replace(whole.pattern, pieces=pieces))
        (placed,) = (one for one in layout.lay_out(drawn).placed if one.piece.name == name)
        assert [w.line.text for w in placed.words if w.line.text.isupper()] == [called]


def test_the_widths_of_the_allowances() -> None:
    whole = written("skirt.straight")
    how = Finish(roles={"hem": 40.0, "waist": 12.0}, edges={"centre back": 25.0})
    back, front = told(replace(whole, finished=finish_all(whole.pattern, how)))
    assert "allowances hem 4.0 cm, back side 1.0 cm, centre back 2.5 cm, waist 1.2 cm" in back
    assert "allowances hem 4.0 cm, waist 1.2 cm, seam 1.0 cm" in front
    alike = told(replace(whole, finished=finish_all(whole.pattern, Finish())))
    assert all("allowances 1.0 cm, hem 3.0 cm" in text for text in alike), alike


def test_a_stamp_is_there_only_when_asked_for() -> None:
    body = WORKROOM / "nora.toml"
    job = Job(("skirt.circle",), body, outputs=("svg",))
    (plain,) = run(job).files.values()
    (again,) = run(job).files.values()
    (stamped,) = run(replace(job, stamp="2 May")).files.values()
    version = load().block("skirt.circle").version
    assert plain == again
    assert b"2 May" not in plain
    assert f"version {version}".encode() not in plain
    assert f"2 May, Circle skirt version {version}".encode() in stamped
    (today,) = run(replace(job, stamp="today")).files.values()
    assert re.search(rb">\d{4}-\d{2}-\d{2}, Circle skirt version", today)


@pytest.mark.parametrize(
    ("keys", "wanted"),
    [
        ("bodice.fitted+sleeve.fitted",
         ({"centre back, fold", "across back line", "bust line", "back waist"},
          {"centre front, fold", "across front line", "bust line", "front waist", "bust point"},
          {"bicep line", "elbow line"})),
        ("bodice.easy+sleeve.straight",
         ({"centre back, fold", "across back line", "chest line", "back waist"},
          {"centre front, fold", "across front line", "chest line", "front waist"},
          {"bicep line"})),
        ("skirt.straight",
         ({"centre back", "hip line", "back waist"},
          {"centre front, fold", "hip line", "front waist"})),
        ("trousers.straight",
         ({"centre back", "hip line", "crotch line", "knee line", "back waist"},
          {"centre front", "hip line", "crotch line", "knee line", "front waist"})),
        ("skirt.circle", ({"hip line", "waist"},)),
        ("skirt.gored", ({"hip line", "waist"},)),
    ],
)  # fmt: skip
def test_the_lines_that_cutters_expect(keys: str, wanted: tuple[set[str], ...]) -> None:
    """Common practice, no source."""
    for placed, names in zip(laid(keys, False, False).placed, wanted, strict=True):
        assert names <= {words.line.text for words in placed.words}, says(placed)


@pytest.mark.parametrize("dart", ["side", "shoulder"])
def test_across_lines_lie_where_the_width_is_promised(dart: str) -> None:
    """Half way down the armhole, from centre to armhole, and all guides in the cloth."""
    pattern = bodice(bust_dart=dart).pattern
    for name in ("back", "front"):
        piece = pattern.piece(f"bodice {name}")
        cloth = area([edge.curve for edge in piece.edges]).buffer(0.5)
        parts = [guide.curve for guide in piece.guides if guide.name == f"across {name} line"]
        assert parts
        for guide in piece.guides:
            assert cloth.contains(shapely.LineString(guide.curve.flatten(accuracy=1e-3)))
        promised = [p for p in pattern.promises if p.name == f"across {name}"]
        for promise in promised:
            (level,) = promise.levels  # type: ignore[attr-defined]
            ends = {tuple(level.parts[0].start), tuple(level.parts[0].end)}
            assert ends == {tuple(parts[0].start), tuple(parts[0].end)}
        assert bool(promised) is (dart == "side")
    front = pattern.piece("bodice front")
    (note,) = front.notes
    (mark,) = (mark for mark in pattern.marks if mark.name == "bust point")
    assert (note.words, tuple(note.at)) == ("bust point", tuple(Point(mark.x, mark.y)))


# -- the key -----------------------------------------------------------------------------------


@pytest.mark.parametrize("finished", [False, True])
@pytest.mark.parametrize("keys", SETS)
def test_every_kind_of_line_is_in_the_key_and_no_other(keys: str, finished: bool) -> None:
    sheet = laid(keys, finished, False)
    drawn = {role for one in sheet.placed for role, _ in one.parted()}
    drawn |= {role for one in sheet.placed for role, _, _ in one.strokes}
    drawn |= {"mark"} if any(one.marks for one in sheet.placed) else set()
    assert [sample.role for sample in sheet.key] == [
        role for role in ("outline", "sew", "fold", "grain", "dart", "guide", "notch", "drill",
                          "mark") if role in drawn
    ]  # fmt: skip
    paper = shapely.box(0.0, 0.0, sheet.width, sheet.height)
    every = [around(words) for words in (*sheet.words, *(sample.words for sample in sheet.key))]
    shapes = [shapely.Polygon([tuple(at) for at in box.corners()]) for box in every]
    shapes += [shapely.LineString([tuple(a), tuple(b)]) for _, a, b in sheet.bars]
    for sample in sheet.key:
        shapes.append(
            shapely.MultiLineString([(tuple(a), tuple(b)) for a, b in sample.lines]).buffer(0.2)
        )
    assert all(paper.contains(shape) for shape in shapes)
    bars = len(sheet.bars)
    key = shapes[len(every) :][bars:]
    texts = shapes[: len(every)]
    assert not any(one.intersects(other) for one in key for other in texts)
    assert not any(one.intersects(other) for one, other in combinations(texts, 2))


def test_the_key_is_printed_and_no_stroke_of_a_piece() -> None:
    whole = written("skirt.straight", finished=True)
    drawing = svg.write(whole).decode()
    for words in ("cut line", "sew line", "fold", "guide line", "drill hole", "drafting mark"):
        assert f">{words}</text>" in drawing
    assert drawing.count('class="key outline"') == 1
    assert drawing.count('class="outline"') == 2
    assert pdf.write(whole)


def test_kinds_of_lines_differ_in_black_and_white() -> None:
    """By width or dashes; a notch, a drill hole and a leader by their shape too."""
    told_apart = ("outline", "fold", "sew", "dart", "guide", "grain")
    styles = [line_styles.STROKES[role][:2] for role in told_apart]
    assert len(set(styles)) == len(told_apart)


# -- pieces on the fold ------------------------------------------------------------------------


@pytest.mark.parametrize("finish", [None, "usual"])
def test_formats_that_cannot_tell_a_fold_from_a_cut_refuse_it(finish: str | None) -> None:
    body = WORKROOM / "nora.toml"
    for form in ("hpgl", "stl", "step"):
        job = Job(("skirt.straight",), body, finish=finish, outputs=(form,))
        (fault,) = run(job).faults
        assert str(fault) == (
            f"format {form}: piece 'front' is on the fold, and the file cannot tell a fold from a "
            "cut; open it out with --unfold, or opened = true in the finish sheet"
        )
        outcome = run(replace(job, unfold=True))
        assert not outcome.faults
        assert len(outcome.files) == 1


@pytest.mark.parametrize("finish", [None, "usual"])
def test_unfolded_pieces_are_twice_as_large_and_have_no_fold(finish: str | None) -> None:
    forms = ("svg", "pdf", "tiles", "dxf", "dxf-r12", "d6673", "hpgl")
    job = Job(("bodice.fitted",), WORKROOM / "nora.toml", finish=finish, outputs=forms)
    opened = run(replace(job, unfold=True))
    assert not opened.faults  # each was read again and compared
    assert len(opened.files) == len(forms)
    whole, half = opened.document, run(replace(job, outputs=())).document
    assert whole
    assert half
    for one, other in zip(layout.outlines(whole), layout.outlines(half), strict=True):
        assert area(one[1]).area == pytest.approx(2.0 * area(other[1]).area, rel=1e-4)
    text = opened.files["nora-bodice.fitted.svg"].decode()
    assert ", fold<" not in text
    assert "on the fold" not in text
    assert ">centre front<" in text


def test_a_notch_on_the_fold_stays_single_and_a_guide_goes_on_over_it() -> None:
    from blockwright import Notch
    from blockwright.pattern.copies import unfold

    corners = [Point(0, 0), Point(100, 0), Point(100, 200), Point(0, 200)]
    names = (("hem", "hem"), ("side", "seam"), ("top", "seam"), ("centre", "fold"))
    edges = tuple(
        Edge(name, line(a, b), role)  # type: ignore[arg-type]
        for (name, role), a, b in zip(names, corners, corners[1:] + corners[:1], strict=True)
    )
    piece = Piece(
        "half", edges, (Point(20, 20), Point(20, 180)), Point(60, 100),
        notches=(Notch("on it", "top", 100.0), Notch("off it", "top", 40.0)),
        guides=(Guide("level", line(Point(0, 90), Point(100, 90))),),
    )  # fmt: skip
    opened = unfold(piece)
    assert sorted(notch.name for notch in opened.notches) == [
        "off it", "off it, other side", "on it",
    ]  # fmt: skip
    assert [(guide.name, guide.curve.length) for guide in opened.guides] == [
        ("level", pytest.approx(200.0)), ("centre", pytest.approx(200.0)),
    ]  # fmt: skip
    assert area([edge.curve for edge in opened.edges]).area == pytest.approx(40_000.0)
