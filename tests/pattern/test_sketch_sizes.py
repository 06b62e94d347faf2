"""Sizes on a picture, in pixels: its border, its strokes and its arrow heads."""

from __future__ import annotations

import re
from xml.etree import ElementTree

import pytest

from blockwright import Dart, Edge, Guide, Mark, Notch, Piece, Point, Sketch, line, polyline, sketch

SVG = "{http://www.w3.org/2000/svg}"


def page(picture: Sketch) -> list[float]:
    """Left, top, width and height of a picture, mm, y down."""
    return [*map(float, ElementTree.fromstring(picture.svg).attrib["viewBox"].split())]


def strokes(picture: Sketch, role: str) -> list[list[Point]]:
    """The straight strokes of a role, from place to place, y down."""
    root = ElementTree.fromstring(picture.svg)
    drawn = [p.attrib["d"] for p in root.iter(f"{SVG}path") if p.attrib["data-role"] == role]
    return [
        [Point(*map(float, place.split())) for place in each.split("L")]
        for path in drawn
        for each in re.findall(r"M([^M]+)", path)
    ]


def test_a_border_of_sixteen_pixels_is_kept() -> None:
    """448 mm upright fill 480 pixels less the border on both sides: one mm is a pixel."""
    assert page(sketch(line(Point(0, 0), Point(0, 448)))) == pytest.approx([-16.5, -464, 33, 480])


@pytest.mark.parametrize(("letters", "border"), [(10, 16.0 + 0.6 * 11.0 * 10), (60, 200.0)])
def test_a_border_has_room_for_the_names_of_marks_and_no_more_than_200(
    letters: int, border: float
) -> None:
    """A letter of 11 pixels is 0.6 of that wide."""
    wide = 900.0 - 2.0 * border  # the marks stand as far apart as fits at one mm a pixel
    marks = Mark(0.0, 0.0, "m" * letters, "here"), Mark(wide, 0.0, "n", "there")
    left, _, whole, _ = page(sketch(*marks))
    assert (left, whole) == pytest.approx((-border, 900.0))


def darted() -> Piece:
    """A piece with a dart, a fold, a notch and a guide."""
    right, left = Point(55, 100), Point(45, 100)
    edges = (
        Edge("outer", polyline([Point(0, 0), Point(100, 0), Point(100, 100), right])),
        Edge("mouth", line(right, left), "dart"),
        Edge("top", line(left, Point(0, 100))),
        Edge("centre", line(Point(0, 100), Point(0, 0)), "fold"),
    )
    return Piece(
        "panel", edges, (Point(20, 10), Point(20, 80)), Point(60, 40),
        darts=(Dart("dart", Point(50, 60), "mouth", "end", "pressed left"),),
        notches=(Notch("hip", "outer", 150.0),),
        guides=(Guide("hip line", line(Point(0, 50), Point(100, 50))),),
    )  # fmt: skip


def test_what_is_cut_is_drawn_heavier_than_what_is_not() -> None:
    """Of one to two pixels both."""
    root = ElementTree.fromstring(sketch(darted(), Mark(70.0, 70.0, "m", "here")).svg)
    width = {
        path.attrib["data-role"]: float(path.attrib["stroke-width"])
        for path in root.iter(f"{SVG}path")
    }
    cut = [width.pop(role) for role in ("seam", "fold", "notch")]
    assert set(width) == {"dart", "leg", "guide", "grain", "mark"}
    assert min(cut) > max(width.values())
    assert max(cut) < 2.0
    assert min(width.values()) >= 1.0


def wedge(count: int = 1) -> Piece:
    at = [Point(0, 0), Point(200, 0), Point(200, 400), Point(0, 0)]
    notch = Notch("middle", "outline", 100.0, count)
    return Piece(
        "wedge", (Edge("outline", polyline(at)),), (Point(150, 50), Point(150, 250)),
        Point(120, 100), notches=(notch,),
    )  # fmt: skip


def test_the_grain_has_an_even_arrow_head_at_both_ends() -> None:
    (low, high), *heads = strokes(sketch(wedge()), "grain")
    assert len(heads) == 4
    for tip, back in ((high, low), (low, high)):
        way = (back - tip).unit()
        sides = [end - start for start, end in heads if start == tip]
        along = [side.dot(way) for side in sides]
        across = [side.cross(way) for side in sides]
        assert along == pytest.approx([along[0]] * 2, abs=1e-3)
        assert along[0] > 0.0
        assert across == pytest.approx([across[0], -across[0]], abs=1e-3)
        assert abs(across[0]) == pytest.approx(0.35 * along[0], rel=1e-3)


def test_ticks_stand_side_by_side_about_their_place() -> None:
    ticks = strokes(sketch(wedge(3)), "notch")
    feet = [foot.x for foot, _ in ticks]
    assert feet[1] == pytest.approx(100.0, abs=1e-3)
    assert feet[1] - feet[0] == pytest.approx(feet[2] - feet[1])
    assert {round(foot.y, 3) for foot, _ in ticks} == {0.0}


@pytest.mark.parametrize(
    ("places", "anchors"), [((50.0,), ["start"]), ((0.0, 9.0), ["end", "start"])]
)
def test_names_of_marks_stand_away_from_the_middle(places, anchors: list[str]) -> None:
    """One in the middle has its name on the right."""
    picture = sketch(*(Mark(x, 0.0, f"mark {x}", "here") for x in places))
    names = ElementTree.fromstring(picture.svg).iter(f"{SVG}text")
    assert [name.attrib["text-anchor"] for name in names] == anchors


@pytest.mark.parametrize(
    ("wide", "own", "others"),
    [(800.0, 14.0, 11.0), (60.0, 0.38 * 60.0 / (0.6 * 5), 0.065 * 60.0)],
)
def test_letters_on_a_piece_go_by_its_breadth(wide: float, own: float, others: float) -> None:
    """At one mm a pixel: its name of five letters on 0.38 of it, other names 0.065 of it high."""
    at = [Point(0, 0), Point(wide, 0), Point(wide, 448), Point(0, 448), Point(0, 0)]
    piece = Piece(
        "plain", (Edge("outline", polyline(at)),), (Point(9, 9), Point(9, 99)), Point(30, 200)
    )
    texts = ElementTree.fromstring(sketch(piece).svg).iter(f"{SVG}text")
    sizes = {text.text: float(text.attrib["font-size"]) for text in texts}
    assert sizes == pytest.approx({"plain": own, "outline": others}, abs=1e-3)


def test_a_name_stands_nine_tenths_of_its_letters_off_its_line() -> None:
    """At one mm a pixel: letters of 11."""
    root = ElementTree.fromstring(sketch(Edge("hem", line(Point(0, 0), Point(868, 0)), "hem")).svg)
    (name,) = root.iter(f"{SVG}text")
    assert float(name.attrib["y"]) == pytest.approx(-0.9 * 11.0)


def test_a_cross_a_notch_and_an_arrow_head_are_of_one_size_on_the_screen() -> None:
    """At two mm a pixel: arms of 5 pixels, notches of 8 and 5 apart, heads of 9."""
    tall = 2.0 * 448.0
    at = [Point(0, 0), Point(200, 0), Point(200, tall), Point(0, tall), Point(0, 0)]
    edge = Edge("outline", polyline(at))
    piece = Piece(
        "plain", (edge,), (Point(50, 50), Point(50, 250)), Point(100, 200),
        notches=(Notch("middle", "outline", 100.0, 2),),
    )  # fmt: skip
    picture = sketch(piece, Mark(100.0, 400.0, "", "in the middle"))
    assert page(picture)[3] == pytest.approx(2.0 * 480.0)
    assert [abs(b - a) for a, b in strokes(picture, "mark")] == pytest.approx([20.0, 20.0])
    ticks = strokes(picture, "notch")
    assert [abs(b - a) for a, b in ticks] == pytest.approx([16.0, 16.0])
    assert abs(ticks[0][0] - ticks[1][0]) == pytest.approx(10.0)
    _, *heads = strokes(picture, "grain")
    sides = [18.0 * (1.0 + 0.35**2) ** 0.5] * 4
    assert [abs(b - a) for a, b in heads] == pytest.approx(sides, abs=1e-3)
