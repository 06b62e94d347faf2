"""What cannot be drawn is told where the piece is made, and not by whoever would draw it."""

from __future__ import annotations

import math

import pytest

from blockwright import Dart, Draft, Edge, Guide, Mark, Notch, Note, PatternError, Point, polyline

NOWHERE = Point(math.nan, 1.0)
A, B, C = Point(0.0, 0.0), Point(200.0, 0.0), Point(200.0, 300.0)


def put(name: object = "wedge", edge: object = "rest", **more: object) -> None:
    """A wedge with this on it."""
    hem, rest = Edge("hem", polyline([A, B]), "hem"), Edge(edge, polyline([B, C, A]))
    given = {"grain": (Point(180.0, 20.0), Point(180.0, 250.0)), "label_at": Point(150.0, 80.0)}
    Draft("test.wedge", "Wedge").piece(name, [hem, rest], **{**given, **more})


@pytest.mark.parametrize(
    ("on", "says"),
    [
        ({"name": 5}, "a name of piece 5 is a value of type int; give text of one line"),
        ({"edge": 1}, "a name of piece 'wedge' is a value of type int; give text"),
        ({"name": "a\0b"}, r"a name of piece 'a\\x00b' is 'a\\x00b'; give text of one line"),
        ({"grain": A}, "grain of piece 'wedge' is a value of type Point; give its lower and its"),
        ({"grain": (A, (5, 5))}, "an end of grain of piece 'wedge' is a value of type tuple; give"),
        ({"grain": (B, B)}, "grain of piece 'wedge' begins where it ends; give its lower and its"),
        ({"label_at": (150, 80)}, "label_at of piece 'wedge' is a value of type tuple; give a Poi"),
        ({"label_at": NOWHERE}, r"label_at of piece 'wedge' is at \(nan, 1.0\), which is nowhere"),
        ({"notes": [Note("front", A)]}, "the words of a note of piece 'wedge' is a value of type "),
        ({"notes": [Note(NOWHERE, "front")]}, "note 'front' is at .*, which is nowhere; give fini"),
        ({"notes": ["front"]}, "a note of piece 'wedge' is a value of type str; give a Note"),
        ({"guides": [Guide("line", None)]}, "the curve of guide 'line' is None; give a Curve"),
        ({"guides": [polyline([A, B])]}, "a guide of piece 'wedge' is a value of type Curve; give"),
        ({"notches": [Notch("n", "hem", 50.0, 1.5)]}, "count of notch 'n' is 1.5; give a whole nu"),
        ({"notches": [Notch("n", "hem", 50.0, -3)]}, "count of notch 'n' is -3; give a whole numb"),
        ({"notches": [Notch("n", "hem", 50.0, 10**6)]}, "count of notch 'n' is 1000000; give a wh"),
        ({"darts": [Dart("d", (5, 5), "hem", "end", "down")]}, "the apex of dart 'd' is a value o"),
        ({"darts": [Dart("d", A, "hem", "end", None)]}, "says of dart 'd' is None; give text of o"),
    ],
)  # fmt: skip
def test_what_is_on_a_piece_can_be_drawn(on: dict[str, object], says: str) -> None:
    put()
    with pytest.raises(PatternError, match=says):
        put(**on)


@pytest.mark.parametrize("x", [math.nan, math.inf, "a"])
def test_a_mark_is_somewhere(x: object) -> None:
    d = Draft("test.wedge", "Wedge")
    for put_down in (
        lambda: d.mark("m", Point(x, 1.0), "a rule"),
        lambda: d.keep(Mark(x, 1.0, "m", "a rule")),
    ):
        with pytest.raises(PatternError, match=r"mark 'm' is at .*, which is nowhere"):
            put_down()
