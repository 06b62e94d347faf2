"""Names beside lines on a picture: how large, where, and which way they run."""

from __future__ import annotations

import math
from xml.etree import ElementTree

import pytest

from blockwright import Curve, Point, arc, line
from blockwright.pattern.sketch import LETTER, SHARE, STAND_OFF, Pen, escaped, lines, number, stroke

PEN = Pen(0.5)


def word(curve: Curve, name: str = "side", most: float = 13.0) -> tuple[float, Point, float]:
    """Letters in pixels, the middle of the word (y up), and its turn in degrees, read back."""
    text = ElementTree.fromstring(PEN.beside(name, curve, most))
    turn = text.attrib["transform"].removeprefix("rotate(").removesuffix(")").split()
    at = Point(float(text.attrib["x"]), -float(text.attrib["y"]))
    assert (float(turn[1]), -float(turn[2])) == (at.x, at.y)
    assert text.text == name
    return float(text.attrib["font-size"]) / PEN.pixel, at, float(turn[0])


@pytest.mark.parametrize(("long", "size"), [(1000.0, 13.0), (20.0, 0.75 * 20.0 / 0.5 / 0.6 / 4.0)])
def test_a_name_is_as_large_as_fits_beside_its_line(long: float, size: float) -> None:
    """Four letters, each 0.6 of its size wide, on three quarters of the line; half a mm a pixel."""
    assert (LETTER, SHARE) == (0.6, 0.75)
    letters, at, turn = word(line(Point(0, 0), Point(long, 0)))
    assert letters == pytest.approx(size)
    assert (at.x, at.y) == pytest.approx((long / 2.0, STAND_OFF * size * 0.5), abs=1e-4)
    assert turn == 0.0


@pytest.mark.parametrize(
    ("end", "turn", "left"),
    [
        (Point(0, 800), -90.0, Point(-1, 0)),
        (Point(800, 800), -45.0, Point(-1, 1).unit()),
        (Point(-800, 800), 45.0, Point(-1, -1).unit()),
        (Point(-800, 0), 0.0, Point(0, -1)),
    ],
)
def test_a_name_stands_left_of_its_line_and_is_never_upside_down(
    end: Point, turn: float, left: Point
) -> None:
    letters, at, found = word(line(Point(0, 0), end))
    seat = end * 0.5 + left * (STAND_OFF * letters * PEN.pixel)
    assert abs(found) == pytest.approx(abs(turn))
    assert abs(found) <= 90.0
    if abs(turn) < 90.0:
        assert found == pytest.approx(turn, abs=1e-9)
    assert (at.x, at.y) == pytest.approx((seat.x, seat.y), abs=1e-3)


def test_where_a_line_bends_over_its_name_the_name_gives_way() -> None:
    """On the hollow side of a circle it moves to the middle by the height of the arc over it."""
    radius = 60.0
    hollow = arc(Point(0, 0), radius, -math.pi, 0.0)  # from left to right below its middle
    letters, at, turn = word(hollow, "a long name")
    half = LETTER * 11 * letters * PEN.pixel / 2.0
    rise = radius * (1.0 - math.cos(half / radius))
    assert rise > 1.0
    assert at.y == pytest.approx(-radius + rise + STAND_OFF * letters * PEN.pixel, abs=1e-3)
    assert (at.x, turn) == (pytest.approx(0.0, abs=1e-3), pytest.approx(0.0, abs=1e-3))
    full, over, _ = word(hollow.reversed(), "a long name")
    assert over.y == pytest.approx(-radius - STAND_OFF * full * PEN.pixel, abs=1e-3)


@pytest.mark.parametrize(
    ("value", "text"),
    [(0.0, "0"), (-0.00001, "0"), (1.0, "1"), (-2.5, "-2.5"), (0.12346, "0.1235"), (100.0, "100")],
)
def test_numbers_have_four_decimals_and_no_needless_zeros(value: float, text: str) -> None:
    assert number(value) == text


def test_lines_run_down_where_the_draft_runs_up() -> None:
    ends = (Point(0, 0), Point(1, 2)), (Point(3, -4), Point(5, 6.5))
    assert lines(*ends) == "M0 0 L1 -2 M3 4 L5 -6.5"


def test_what_xml_cannot_hold_is_replaced() -> None:
    assert escaped('a <b> & "c"\x00\ud800') == "a &lt;b&gt; &amp; &quot;c&quot;\ufffd\ufffd"
    dashed = ElementTree.fromstring(stroke("fold", "M0 0", "a <fold>").replace("vector", "v"))
    assert dashed.attrib["stroke-dasharray"] == "12 3 2 3"
    assert dashed[0].text == "a <fold>"
    assert "stroke-dasharray" not in stroke("seam", "M0 0", "a seam")


@pytest.mark.parametrize(("text", "size"), [("", 10.0), ("a", 10.0), ("ab", 5.0)])
def test_letters_are_as_wide_as_the_room_divided_among_them(text: str, size: float) -> None:
    """3 mm are six pixels, and a letter is 0.6 of its size wide.  No text takes one letter."""
    assert PEN.fitting(text, 99.0, 3.0) == pytest.approx(size)
