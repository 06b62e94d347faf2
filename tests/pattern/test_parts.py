"""What cannot be drawn is told where the piece is made, and not by whoever would draw it."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from blockwright import (
    Dart,
    Draft,
    Edge,
    Guide,
    Mark,
    Notch,
    Note,
    Pattern,
    PatternError,
    Point,
    arc_through,
    as_document,
    fair_curve,
    line,
    polyline,
)
from blockwright.curves.point import as_point
from blockwright.testing.differences import difference

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
        ({"grain": (A, "up")}, "an end of grain of piece 'wedge' is 'up'; give a Point or a pair"),
        ({"grain": (B, B)}, "grain of piece 'wedge' begins where it ends; give its lower and its"),
        ({"label_at": (150, 8, 0)}, r"label_at of piece 'wedge' is \(150, 8, 0\); give a Po"),
        ({"label_at": 150.0}, "label_at of piece 'wedge' is a value of type float; give a Poi"),
        ({"label_at": NOWHERE}, r"label_at of piece 'wedge' is at \(nan, 1.0\), which is nowhere"),
        ({"notes": [Note(A, 5)]}, "the words of a note of piece 'wedge' is a value of type int; g"),
        ({"notes": [Note(NOWHERE, "front")]}, "note 'front' is at .*, which is nowhere; give fini"),
        ({"notes": ["front"]}, "a note of piece 'wedge' is a value of type str; give a Note"),
        ({"guides": [Guide("line", None)]}, "the curve of guide 'line' is None; give a Curve"),
        ({"guides": [polyline([A, B])]}, "a guide of piece 'wedge' is a value of type Curve; give"),
        ({"notches": [Notch("n", "hem", 50.0, 1.5)]}, "count of notch 'n' is 1.5; give a whole nu"),
        ({"notches": [Notch("n", "hem", 50.0, -3)]}, "count of notch 'n' is -3; give a whole numb"),
        ({"notches": [Notch("n", "hem", 50.0, 10**6)]}, "count of notch 'n' is 1000000; give a wh"),
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


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda: Note("front", A), "the place of a note is 'front'; give a Point or a pair"),
        (lambda: Dart("d", "5, 5", "hem", "end", "down"), "the apex of dart 'd' is '5, 5'; give a"),
        (lambda: Dart("d", A, 5, "end", "down"), "type int is no edge; give an edge or its name"),
        (lambda: Notch("n", -Edge("hem", line(A, B)), 40.0), "type Way is no edge; give an edge"),
        (lambda: line(A, "B"), "a place is 'B'; give a Point or a pair"),
        (lambda: line(A, (1.0, "B")), r"a place is \(1.0, 'B'\); give a Point or a pair"),
        (lambda: polyline([A, (1.0, 2.0, 3.0)]), r"a place is \(1.0, 2.0, 3.0\); give a Point"),
        (lambda: polyline([A, np.zeros((2, 2))]), "a place is a value of type ndarray; give a"),
        (lambda: polyline([A, {1.0, 2.0}]), "a place is a value of type set; give a Point"),
        (lambda: fair_curve([A, "BC"]), "a mark is 'BC'; give a Point or a pair"),
        (lambda: fair_curve([A, B], start=90.0), "the start direction is a value of type float"),
        (lambda: Draft("a.b", "B").mark("m", 5.0, "a rule"), "mark 'm' is a value of type float;"),
    ],
)
def test_what_is_no_place_or_no_edge_is_told_where_it_is_given(
    make: Callable[[], object], says: str
) -> None:
    with pytest.raises(PatternError, match=says):
        make()


PLACES = {"a pair": tuple, "a list": list, "a row": np.array}


@pytest.mark.parametrize("kind", PLACES)
def test_a_pair_of_numbers_is_a_place_wherever_a_place_is_meant(kind: str) -> None:
    """The same drawing is made of points and of pairs."""

    def drawn(at: Callable[[Point], object]) -> Pattern:
        d = Draft("test.wedge", "Wedge")
        tip, near = Point(100.0, 60.0), Point(-10.0, 0.0)
        hem = fair_curve([at(A), at(Point(100.0, -5.0)), at(B)], start=at(Point(1.0, -0.1)))
        right = Edge("right", line(at(B), at(C)))
        top = Edge("top", line(at(C), at(tip - near)), "waist")
        mouth = Edge("mouth", polyline([at(tip - near), at(tip + near)]), "dart")
        left = Edge("left", polyline([at(tip + near), at(A)]))
        dart = Dart("dart", at(Point(100.0, 30.0)), mouth, "end", "pressed left")
        d.piece(
            "wedge", [Edge("hem", hem, "hem"), right, top, mouth, left],
            grain=(at(Point(180.0, 20.0)), at(Point(180.0, 200.0))), label_at=at(Point(150, 40)),
            darts=[dart], notches=[Notch("notch", right, 40.0)],
            notes=[Note(at(Point(150.0, 60.0)), "front")],
            guides=[Guide("arc", arc_through(at(A), at(Point(100.0, 10.0)), at(B)))],
        )  # fmt: skip
        dip = d.mark("dip", at(Point(100.0, -5.0)), "5 mm down")
        d.through("hem", "hem", dip)
        d.level("hem", "hem", at(Point(100.0, -5.0)), within=3.0)
        d.shape("hem", "hem", bends=0, toward=at(Point(1.0, 0.0)))
        return d.pattern()

    pairs = drawn(lambda point: PLACES[kind]([point.x, point.y]))
    assert difference(pairs, drawn(lambda point: point), within=0.0) == ""
    assert as_document(pairs) == as_document(drawn(lambda point: point))
    (wedge,) = pairs.pieces
    assert (wedge.darts[0].mouth, wedge.notches[0].edge) == ("mouth", "right")


def test_a_pair_is_made_a_point_of_plain_numbers() -> None:
    (point,) = {as_point(np.array([1, 2])), as_point((1, 2.0)), as_point([1.0, 2])}
    assert type(point.x) is type(point.y) is float
    mark = Mark(1.0, 2.0, "m", "a rule")
    assert as_point(mark) is mark
