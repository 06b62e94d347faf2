"""Which outline of a file is compared with which piece: by name, else by what it may be."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from functools import cache
from itertools import permutations, product

import pytest

from blockwright import (
    BodySheet,
    Curve,
    Document,
    Echo,
    Edge,
    Finish,
    Format,
    FormatOptions,
    Guide,
    InputError,
    Notch,
    Pattern,
    Piece,
    Point,
    Unit,
    draft,
    finish_all,
    line,
    load,
    polyline,
    prove,
)
from blockwright.formats import layout
from blockwright.formats.readback import differences
from parts import thinned

READ_AGAIN = ("svg", "pdf", "tiles", "dxf", "dxf-r12", "d6673", "hpgl", "step", "stl", "json")
# In these no outline says which piece it is; in the last two there is none, only plates.
NAMELESS = ("pdf", "tiles", "hpgl", "step", "stl")
OUTLINES = ("json", *READ_AGAIN[:7])
# These cannot tell a fold from a cut.
NO_FOLD = ("hpgl", "step", "stl")
WHOLE = Finish()
# Invented, cm: waist, hip, waist to hip.  Front and back are as high but for the last digit.
TIED = ((64.7, 93.0, 20.5), (89.3, 110.7, 18.6))
RANDOM_BODIES = 24


@pytest.fixture(autouse=True)
def laid_out_once(monkeypatch: pytest.MonkeyPatch) -> None:
    """A document is laid out once, not by all that write and compare it: that takes longest."""
    lay_out, sheets = layout.lay_out, {}

    def once(document: Document, *, words: bool = True) -> layout.Sheet:
        key = (id(document), words)
        if key not in sheets:
            sheets[key] = document, lay_out(document, words=words)
        return sheets[key][1]

    monkeypatch.setattr(layout, "lay_out", once)


@cache
def skirt(waist: float, hip: float, down: float, finished: bool = False) -> Document:
    values = {"waist_girth": waist, "hip_girth": hip, "waist_to_hip": down}
    pattern = draft(load().block("skirt.straight"), BodySheet.from_values(values, units="cm"))
    cut = finish_all(pattern, Finish()) if finished else ()
    return Document(pattern, prove(pattern), Unit.CM, cut)


def taken_by(name: str, whole: Document, finish: Finish = WHOLE) -> Document:
    """Opened out for a format that takes no piece on the fold."""
    if name not in NO_FOLD:
        return whole
    cut = finish_all(whole.pattern, replace(finish, opened=True)) if whole.finished else ()
    return replace(whole, finished=cut, opened=True)


def outlines(whole: Document) -> list[tuple[Curve, ...]]:
    return [placed.lines[0][1] for placed in layout.lay_out(whole).placed]


def heights(whole: Document) -> list[float]:
    return [y1 - y0 for _, y0, _, y1 in map(layout.bounds, outlines(whole))]


def of_outlines(*curves: tuple[Curve, ...], options: type[FormatOptions] = FormatOptions) -> Format:
    """A format without names whose files hold these outlines."""
    return Format("lines", ".x", "", lambda _: b"", lambda _: Echo(curves), options)


def rounded(curves: tuple[Curve, ...], step: float = 1e-4) -> tuple[Curve, ...]:
    """As a file has them: to so many mm, and anywhere on its sheet."""
    off = [31.7, -410.3]
    return tuple(Curve(((curve.control + off) / step).round() * step) for curve in curves)


# -- a tie -----------------------------------------------------------------------------------


@pytest.mark.parametrize("body", TIED)
def test_pieces_as_high_as_each_other_but_for_a_digit(body: tuple[float, float, float]) -> None:
    front, back = heights(skirt(*body))
    assert abs(front - back) < 1e-9


@pytest.mark.parametrize(("body", "finished"), thinned(product(TIED, (False, True)), keep=3))
@pytest.mark.parametrize("name", READ_AGAIN)
def test_a_tie_is_no_difference(
    name: str, body: tuple[float, float, float], finished: bool
) -> None:
    form, whole = load().format(name), taken_by(name, skirt(*body, finished))
    assert differences(form, whole, form.write(whole)) == []


def random_skirts() -> list[Document]:
    draw = random.Random(7)
    found: list[Document] = []
    while len(found) < RANDOM_BODIES:
        waist = round(draw.uniform(55.0, 110.0), 1)
        hip, down = round(waist + draw.uniform(8.0, 35.0), 1), round(draw.uniform(17.0, 24.0), 1)
        try:
            found.append(skirt(waist, hip, down))
        except InputError:
            continue
    return found


def test_random_skirts_are_what_they_are() -> None:
    """Each in one format, in turn, and in an exact one without names."""
    tied = 0
    for number, whole in enumerate(random_skirts()):
        form = load().format(OUTLINES[number % len(OUTLINES)])
        taken = taken_by(form.name, whole)
        assert differences(form, taken, form.write(taken)) == []
        there = [rounded(curves) for curves in outlines(whole)]
        for order in (there, there[::-1]):
            assert differences(of_outlines(*order), whole, b"") == []
        # The same with one of them a tenth of a millimetre wider is not.
        wide = tuple(Curve(curve.control * [1.0004, 1.0]) for curve in there[0])
        assert differences(of_outlines(wide, there[1]), whole, b"")
        front, back = heights(whole)
        tied += abs(front - back) < 1e-3
    assert tied > 0


def rectangles(*sides: tuple[float, float]) -> Document:
    pieces = []
    for number, (wide, high) in enumerate(sides):
        corners = [Point(0, 0), Point(wide, 0), Point(wide, high), Point(0, high), Point(0, 0)]
        edge = Edge(f"edge {number}", polyline(corners))
        grain = Point(wide / 2, high / 4), Point(wide / 2, high / 2)
        pieces.append(Piece(f"piece {number}", (edge,), grain, Point(wide / 3, high / 3)))
    pattern = Pattern("test.rectangles", "Rectangles", tuple(pieces))
    return Document(pattern, prove(pattern), Unit.CM)


def test_whatever_the_order_of_the_file() -> None:
    whole = rectangles((200.0, 300.0), (210.0, 300.0 + 1e-13), (200.0 + 1e-4, 300.0 - 1e-13))
    for order in permutations(map(rounded, outlines(whole))):
        assert differences(of_outlines(*order), whole, b"") == []


def test_one_that_could_be_several_gives_way() -> None:
    """Each of the file is like two neighbours, and only one way leaves none over."""
    whole = rectangles((200.0, 300.0), (200.0, 300.0008), (200.0, 300.0016))
    there = outlines(rectangles((200.0, 300.0008), (200.0, 300.0016), (200.0, 300.0024)))
    for order in permutations(there):
        assert differences(of_outlines(*order), whole, b"") == []
    far = outlines(rectangles((200.0, 300.0008), (200.0, 300.0016), (200.0, 300.0044)))
    for order in permutations(far):
        assert differences(of_outlines(*order), whole, b"")


# -- files that are wrong --------------------------------------------------------------------


def rewritten(name: str, whole: Document, pieces: tuple[Piece, ...]) -> list[str]:
    """What is said of a file with other pieces."""
    form = load().format(name)
    whole = taken_by(name, whole)
    pattern = replace(whole.pattern, pieces=pieces)
    # Promises may speak of a piece that is missing; the skirt's seams have one allowance anyhow.
    bare = replace(pattern, promises=())
    cut = finish_all(bare, Finish(opened=whole.opened)) if whole.finished else ()
    return differences(form, whole, form.write(replace(whole, pattern=pattern, finished=cut)))


CASES = thinned(zip(TIED, (False, True), strict=True))


@pytest.mark.parametrize(("body", "finished"), CASES)
@pytest.mark.parametrize("name", READ_AGAIN)
def test_one_missing(name: str, body: tuple[float, float, float], finished: bool) -> None:
    whole = skirt(*body, finished)
    (says, *_) = rewritten(name, whole, whole.pattern.pieces[:1])
    count = "1 plates, not 2" if name == "step" else "1 pieces, not 2"
    assert says == count or (name in ("step", "stl") and "plates of" in says)


@pytest.mark.parametrize("name", READ_AGAIN)
@pytest.mark.parametrize("which", [0, 1])
def test_one_doubled(name: str, which: int) -> None:
    whole = skirt(*TIED[0])
    pieces = (*whole.pattern.pieces, whole.pattern.pieces[which])
    (says, *_) = rewritten(name, whole, pieces)
    assert says.startswith(("3 pieces, not 2", "3 plates, not 2", "plates of"))


@pytest.mark.parametrize(("body", "finished"), CASES)
@pytest.mark.parametrize("name", OUTLINES)
def test_one_in_the_place_of_the_other(
    name: str, body: tuple[float, float, float], finished: bool
) -> None:
    whole = skirt(*body, finished)
    one, other = whole.pattern.pieces
    for pieces in ((one, replace(one, name=other.name)), (replace(other, name=one.name), other)):
        found = rewritten(name, whole, pieces)
        assert any("outline has the length" in line for line in found)
        named = name not in NAMELESS
        assert any(line.startswith((one.name, other.name)) for line in found) is named


@pytest.mark.parametrize(("body", "finished"), CASES)
@pytest.mark.parametrize("name", [name for name in READ_AGAIN if name not in NAMELESS])
def test_two_swapped(name: str, body: tuple[float, float, float], finished: bool) -> None:
    whole = skirt(*body, finished)
    one, other = whole.pattern.pieces
    swapped = replace(other, name=one.name), replace(one, name=other.name)
    found = rewritten(name, whole, swapped)
    lengths = [line for line in found if "its outline has the length" in line]
    assert sorted(line.partition(":")[0] for line in lengths) == sorted((one.name, other.name))


@pytest.mark.parametrize("name", [name for name in READ_AGAIN if name not in NAMELESS])
def test_another_name(name: str) -> None:
    whole = skirt(*TIED[0])
    one, other = whole.pattern.pieces
    found = rewritten(name, whole, (replace(one, name="side"), other))
    assert len(found) == 1
    assert found[0].startswith("pieces called ")
    assert "side" in found[0].lower()
    assert one.name in found[0].lower()


@pytest.mark.parametrize("name", OUTLINES)
@pytest.mark.parametrize(("which", "edge"), [(0, "hem"), (1, "waist")])
def test_one_outline_changed(name: str, which: int, edge: str) -> None:
    """A line of one piece bulges by 0.3 mm, or by 1.5 mm where curves are written as lines."""
    whole = skirt(*TIED[0])
    pieces = list(whole.pattern.pieces)
    bent = []
    for each in pieces[which].edges:
        control = each.curve.control.copy()
        if each.role == edge:
            control[:, 1:3, 1] += 0.4 if load().format(name).exact else 2.0
        bent.append(replace(each, curve=Curve(control)))
    changed = replace(pieces[which], edges=tuple(bent))
    assert changed.edges != pieces[which].edges
    pieces[which] = changed
    found = rewritten(name, whole, tuple(pieces))
    assert any("outline has the" in line for line in found)
    other = whole.pattern.pieces[1 - which].name
    assert not any(line.startswith(f"{other}:") for line in found)


@pytest.mark.parametrize("said", ["a/b\\c", "Ärmel ß 袖", "", "\r\n\tx", "<&>", "x" * 300])
@pytest.mark.parametrize("name", ["svg", "dxf", "dxf-r12", "d6673", "json"])
def test_odd_names_are_no_difference(name: str, said: str) -> None:
    whole = skirt(*TIED[0])
    pieces = tuple(
        replace(piece, name=f"{said}{end}")
        for piece, end in zip(whole.pattern.pieces, ("", " 2"), strict=True)
    )
    pattern = replace(whole.pattern, pieces=pieces)
    form, whole = load().format(name), replace(whole, pattern=pattern)
    assert differences(form, whole, form.write(whole)) == []


# -- turned, and notches ---------------------------------------------------------------------

CORNERS = [Point(0, 0), Point(200, 0), Point(230, 300), Point(0, 300), Point(0, 0)]


def cloth(*notches: Notch, grain: float = 90.0, finish: Finish | None = None) -> Document:
    edges = tuple(
        Edge(name, line(a, b), role)
        for name, role, a, b in zip(
            ("hem", "side", "top", "fold"),
            ("hem", "seam", "seam", "fold"),
            CORNERS,
            CORNERS[1:],
            strict=False,
        )
    )
    middle = Point(100, 150)
    way = Point(40, 0).turned(math.radians(grain))
    along = middle - way, middle + way
    guide = Guide("line", line(Point(20, 20), Point(60, 20)))
    piece = Piece("cloth", edges, along, middle, notches=notches, guides=(guide,))
    pattern = Pattern("test.cloth", "Cloth", (piece,))
    cut = finish_all(pattern, finish) if finish else ()
    return Document(pattern, prove(pattern), Unit.CM, cut)


@pytest.mark.parametrize("grain", [17.0, 250.0])
@pytest.mark.parametrize("name", OUTLINES)
def test_a_grain_that_is_not_upright_is_no_difference(name: str, grain: float) -> None:
    """An exchange file turns its pieces so that the grain lies along x."""
    form = load().format(name)
    for finish in (None, Finish()):
        whole = taken_by(name, cloth(grain=grain, finish=finish))
        assert differences(form, whole, form.write(whole)) == []
    bare, wider = (taken_by(name, cloth(grain=grain, finish=how)) for how in (None, Finish()))
    found = differences(form, bare, form.write(wider))
    assert any("outline has the" in line for line in found)


def test_a_piece_turned_by_mistake_is_told() -> None:
    """Its length and area are right; that its grain is not, the extents say."""
    form = load().format("d6673")
    (piece,) = cloth(grain=90.0).pattern.pieces
    crooked = replace(piece, grain=(Point(50, 50), Point(80, 250)))
    whole = cloth(grain=90.0)
    wrong = replace(whole, pattern=replace(whole.pattern, pieces=(crooked,)))
    found = differences(form, whole, form.write(wrong))
    assert found
    assert all("extent" in line for line in found)


TOUCHING = {
    "at one corner": (Notch("a", "hem", 200.0), Notch("b", "side", 0.0)),
    "mouth at mouth": (Notch("a", "hem", 100.0), Notch("b", "hem", 104.0)),
    "bar at bar": (Notch("a", "hem", 100.0), Notch("b", "hem", 102.0)),
    "at one place": (Notch("a", "hem", 100.0), Notch("b", "hem", 100.0)),
    "one of a pair": (Notch("a", "hem", 100.0, 2), Notch("b", "hem", 105.0)),
    "pairs": (Notch("a", "hem", 100.0, 2), Notch("b", "side", 100.0, 2)),
}


# Each format with every place and every kind, not each with each.
@pytest.mark.parametrize(
    ("name", "where", "kind"),
    [*product(["svg", "dxf", "dxf-r12", "d6673", "json"], TOUCHING, ["bare", "slit", "V", "T"])][
        ::3
    ],
)
def test_notches_that_touch_are_counted(name: str, where: str, kind: str) -> None:
    form = load().format(name)
    how = None if kind == "bare" else Finish(notch=kind, notch_clear=-1.0)
    whole = cloth(*TOUCHING[where], finish=how)
    assert differences(form, whole, form.write(whole)) == []
    fewer = cloth(finish=how)
    # A finished cloth has these besides: both ends of its fold and one of its hem.
    usual = 3 if how else 0
    ticks = sum(notch.count for notch in TOUCHING[where]) + usual
    assert differences(form, whole, form.write(fewer)) == [f"{usual} notches, not {ticks}"]


def test_a_notch_counts_once_only_where_it_lies_on_another() -> None:
    form = load().format("svg")
    one, near = Notch("a", "hem", 100.0), Notch("b", "hem", 100.5)
    assert differences(form, cloth(one, near), form.write(cloth(one))) == ["1 notches, not 2"]
    assert differences(form, cloth(one, one), form.write(cloth(one))) == []
