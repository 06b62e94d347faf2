"""The drafting table: what it records, and the slips of an author that it names."""

from __future__ import annotations

import itertools
import json
import math
from dataclasses import replace

import pytest

from blockwright import (
    Across,
    Dart,
    Draft,
    Edge,
    GeometryError,
    Given,
    Mark,
    NoSolutionError,
    Notch,
    PatternError,
    Point,
    Stretch,
    Unit,
    line,
)
from promised import prove_promised as prove

A, B, C, D = Point(0.0, 0.0), Point(100.0, 0.0), Point(100.0, 50.0), Point(0.0, 50.0)


def oblong(prefix: str = "") -> list[Edge]:
    return [
        Edge(f"{prefix}bottom", line(A, B), "hem"),
        Edge(f"{prefix}right", line(B, C)),
        Edge(f"{prefix}top", line(C, D)),
        Edge(f"{prefix}left", line(D, A)),
    ]


def table() -> Draft:
    return Draft("test.oblong", "Oblong", Unit.CM)


def put(d: Draft, name: str = "oblong", prefix: str = "", **more):
    return d.piece(
        name,
        oblong(prefix),
        grain=(Point(5.0, 5.0), Point(5.0, 45.0)),
        label_at=Point(50.0, 25.0),
        **more,
    )


def test_a_plain_piece_is_proved() -> None:
    d = table()
    put(d)
    d.seam("ends", d.pattern().edge("right"), -d.pattern().edge("left"))
    d.corner("square", ("bottom", "right"), angle=90.0)
    d.girth("round", body=90.0, ease=10.0, runs=[d.pattern().edge("bottom")])
    d.girth(
        "between", body=100.0, ease=(-5.0, 5.0), spans=[(("left", "bottom"), ("bottom", "right"))]
    )
    proof = prove(d.pattern())
    assert proof.held, proof.text(Unit.CM)
    assert [result.kind for result in proof.results] == [
        "outline",
        "outline",
        "outline",
        "outline",
        "outline",
        "seam",
        "corner",
        "girth",
        "girth",
    ]


def test_marks_keep_their_rule_and_work_as_points() -> None:
    d = table()
    mark = d.mark("corner", A + B, "sum of two corners")
    assert mark + Point(1.0, 2.0) == Point(101.0, 2.0)
    assert d.pattern().marks == (replace(mark, block=d.block),)
    with pytest.raises(PatternError, match="two marks are called 'corner'"):
        d.mark("corner", D, "elsewhere")


@pytest.mark.parametrize(
    ("make", "says"),
    [
        (lambda d: (put(d), put(d, prefix="x")), "two pieces are called 'oblong'"),
        (lambda d: (put(d), put(d, "other")), "two edges are called 'bottom'"),
        (
            lambda d: put(d, notches=[Notch("n", "bottom", 101.0)]),
            "off its edge 'bottom', 100.0 mm",
        ),
        (
            lambda d: put(d, notches=[Notch("n", "botom", 1.0)]),
            r"no edge 'botom'; did you mean bottom\? It has 'bottom', 'right', 'top', 'left'",
        ),
        (
            lambda d: put(d).edge("sleeve"),
            "piece 'oblong' has no edge 'sleeve'; it has 'bottom', 'r",
        ),
        (lambda d: put(d, darts=[Dart("d", A, "top", "end", "down")]), "needs role 'dart'"),
        (lambda d: put(d).notch("none"), "no notch 'none'"),
        (lambda d: d.pattern().piece("none"), "no piece 'none'; it has none"),
        (
            lambda d: put(d) and d.pattern().piece("obling"),
            r"did you mean oblong\? It has 'oblong'",
        ),
        (lambda d: put(d) and d.pattern().owner("letf"), r"no edge 'letf'; did you mean left\?"),
        (lambda d: d.through("hem", oblong()[0], []), "through 'hem' names no mark; give one"),
        (
            lambda d: d.shape("hem", oblong()[0], bends=0, toward=Point(0.0, 0.0)),
            r"shape 'hem' is toward \(0, 0\), which points nowhere",
        ),
        (
            lambda d: d.shape("hem", oblong()[0], bends=0, toward=Point(math.nan, 1.0)),
            r"toward \(nan, 1\), which points nowhere",
        ),
        (
            lambda d: d.seam("side", oblong()[1].curve, oblong()[3]),
            "a value of type Curve is no edge; give an edge, -edge, a Given or a Taken",
        ),
        (lambda d: d.seam("side", oblong()[1], 300.0), "a value of type float is no edge"),
        (lambda d: d.twin("side", -oblong()[1]), "type Way is no edge; give an edge or its name"),
        (
            lambda d: d.corner("hem", "bottom"),
            r"type str is no corner; give two edges .*first, sec",
        ),
        (lambda d: d.corner("hem", ("left", 3)), "type int is no edge"),
        (
            lambda d: put(d, notches=[Notch("n", "top", 20.0, 10)]),
            "count of notch 'n' is 10; give a whole number from 1 to 9",
        ),
        (
            lambda d: d.corner("hem", Dart("dart", A, "mouth", "end", "pressed down")),
            r"dart 'dart' is on no piece that was drawn; call d\.piece",
        ),
        (
            lambda d: d.piece("oblong", oblong(), grain=(A, B, C), label_at=A),
            "grain of piece 'oblong' is .*; give its lower and its upper end, two points",
        ),
        (
            lambda d: d.piece("oblong", [replace(oblong()[0], role="hemm"), *oblong()[1:]]),
            "has role 'hemm'; there are seam, armhole, neck, waist, hem, fold, dart",
        ),
        (lambda d: d.corner("hem", ("left", "bottom", "right")), "is no corner; give two edges"),
        (
            lambda d: d.girth("hem", body=1.0, ease=(9.0, 1.0)),
            r"ease of girth 'hem' \(9, 1\) is upside down; write the least first",
        ),
        (
            lambda d: d.piece("oblong", oblong(), grain=line(A, C), label_at=A),
            "grain of piece 'oblong' is a value of type Curve; give its lower and its upper end",
        ),
        (
            lambda d: (put(d), put(d, "other", "x"), d.mark("middle", B, "half"), d.pattern()),
            "mark 'middle' does not say which piece it lies on; give piece=, one of oblong, other",
        ),
        (
            lambda d: (put(d), d.mark("middle", B, "half", piece="obling"), d.pattern()),
            r"mark 'middle': test.oblong has no piece 'obling'; did you mean oblong\?",
        ),
        (
            lambda d: Draft("test.band", "Band", takes=["back waist"]).taken("back wast"),
            r"takes of test.band has no run 'back wast'; did you mean back waist\?",
        ),
    ],
)
def test_slips_of_an_author_are_named(make, says: str) -> None:
    with pytest.raises(PatternError, match=says):
        make(table())


MISSPELT, TAPE = Edge("botom", line(A, B)), Given("tape", 100.0)
NEAR = r"has no edge 'botom'; did you mean bottom\? It has 'bottom', 'right', 'top', 'left'$"


@pytest.mark.parametrize(
    ("promised", "says"),
    [
        (
            lambda d: d.seam("ends", MISSPELT, Given("tape", 1.0)),
            f"seam 'ends': test.oblong {NEAR}",
        ),
        (
            lambda d: d.seam("ends", Given("tape", 1.0), -MISSPELT),
            f"seam 'ends': test.oblong {NEAR}",
        ),
        (lambda d: d.corner("end", ("botom", "right")), f"corner 'end': test.oblong {NEAR}"),
        (lambda d: d.corner("end", ("left", "botom")), f"corner 'end': test.oblong {NEAR}"),
        (lambda d: d.level("end", MISSPELT, A, within=1.0), f"level 'end': test.oblong {NEAR}"),
        (
            lambda d: d.through("end", MISSPELT, [d.mark("a", A, "the corner")]),
            f"through 'end': test.oblong {NEAR}",
        ),
        (lambda d: d.shape("end", MISSPELT, bends=0), f"shape 'end': test.oblong {NEAR}"),
        (
            lambda d: d.girth("end", body=1.0, ease=0.0, runs=[MISSPELT]),
            f"girth 'end': test.oblong {NEAR}",
        ),
        (
            lambda d: d.girth(
                "end", body=1.0, ease=0.0, spans=[(("left", "bottom"), ("botom", "right"))]
            ),
            f"girth 'end': test.oblong {NEAR}",
        ),
        (
            lambda d: d.girth("end", body=1.0, ease=0.0, levels=[Across("oblog", line(A, C))]),
            r"girth 'end': test.oblong has no piece 'oblog'; did you mean oblong\? It has 'ob",
        ),
    ],
)
def test_a_misspelt_name_is_told_with_the_promise_and_the_nearest_one(promised, says: str) -> None:
    d = table()
    put(d)
    promised(d)
    with pytest.raises(PatternError, match=f"^{says}"):
        prove(d.pattern())


def test_a_seam_must_run_on() -> None:
    d = table()
    piece = put(d)
    d.seam("jump", [piece.edge("bottom"), piece.edge("top")], Given("tape", 200.0))
    assert note(d).startswith("'top' does not follow 'bottom': they neither meet nor is there")


def test_seam_walked_backwards_over_a_corner() -> None:
    d = table()
    piece = put(d)
    walked = [-piece.edge("top"), -piece.edge("right")]
    d.seam("round", walked, Given("tape", 150.0), ease=(-1.0, 1.0))
    assert prove(d.pattern()).held


def test_ease_between_notches_is_walked() -> None:
    d = table()
    piece = put(d, notches=[Notch("n", "bottom", 40.0)])
    tape = Given("tape", 95.0, {"n": 38.0})
    d.seam(
        "eased",
        piece.edge("bottom"),
        tape,
        ease=5.0,
        stretches=[Stretch("n", (2.0, 2.0))],
        last=3.0,
    )
    assert prove(d.pattern()).held
    d.seam(
        "wrong",
        piece.edge("bottom"),
        tape,
        ease=5.0,
        stretches=[Stretch("n", (0.0, 0.0))],
        last=5.0,
    )
    proof = prove(d.pattern())
    assert [result.code for result in proof.broken] == ["seam.stretch", "seam.stretch"]
    assert [proof.say(result) for result in proof.broken] == [
        "seam: wrong: start to n", "seam: wrong: n to end",
    ]  # fmt: skip


def test_solved_values_are_recorded_in_the_makers_unit_when_refused() -> None:
    d = Draft("test.x", "X", Unit.IN)
    asked = {"low": 0.0, "high": 254.0, "so_that": "it fits", "goal": "cap ease", "advice": "set y"}
    assert d.solve("height", lambda h: 2.0 * h, target=50.8, **asked) == pytest.approx(25.4)
    assert [(s.name, s.so_that) for s in d.pattern().solved] == [("height", "it fits")]
    with pytest.raises(NoSolutionError) as refused:
        d.solve("height", lambda h: 2.0 * h, target=762.0, offset=254.0, **asked)
    assert str(refused.value) == (
        "test.x: cap ease of 20 in cannot be reached: with height from 0 in to 10 in "
        "it can be -10 in to 10 in; set y"
    )


def test_nothing_can_be_drawn_is_said_so() -> None:
    def refuse(_: float) -> float:
        raise GeometryError("no")

    with pytest.raises(NoSolutionError, match="nothing can be drawn with height"):
        table().solve(
            "height", refuse, target=1.0, low=0.0, high=9.0, so_that="", goal="ease", advice="a"
        )


def test_proof_as_json_has_no_nan() -> None:
    d = table()
    piece = put(d)
    d.seam(
        "lost", piece.edge("bottom"), Given("tape", 100.0), stretches=[Stretch("none", (0.0, 0.0))]
    )
    values = prove(d.pattern()).to_json()
    text = json.dumps(values, allow_nan=False)
    assert '"measured": null' in text
    assert values["held"] is False


def test_proof_in_print_says_what_is_broken_and_by_how_much() -> None:
    d = table()
    piece = put(d)
    d.seam("short", piece.edge("bottom"), Given("tape", 98.75))
    text = prove(d.pattern()).text(Unit.CM)
    assert "BROKEN" in text
    assert "1.250 mm" in text
    assert "UNPROVED, 1 of 6 promises broken" in text


# -- promises take edges or their names, and say why nothing is found -----------------------------


@pytest.mark.parametrize("name", [lambda edge: edge, lambda edge: edge.name])
def test_an_edge_or_its_name_is_the_same(name) -> None:
    d, (bottom, right, top, left) = table(), oblong()
    put(d, cut=2, mirrored=True)
    d.twin("centre", name(top))
    d.seam("ends", name(right), -left)
    d.corner("square", (name(bottom), name(right)), angle=90.0)
    d.shape("hem", name(bottom), bends=0)
    d.level("hem", name(bottom), A, within=1.0)
    d.girth("hem", body=90.0, ease=10.0, runs=[name(bottom)])
    d.girth("high", body=90.0, ease=(0.0, math.inf), runs=[name(bottom)])
    d.through("hem", name(bottom), [d.mark("middle", Point(50.0, 0.0), "half")])
    assert prove(d.pattern()).held
    assert [promise.name for promise in d.pattern().promises] == [
        "centre", "ends", "square", "hem", "hem", "hem", "high", "hem",
    ]  # fmt: skip


def note(d: Draft) -> str:
    """What the only broken promise says beside what is off."""
    proof = prove(d.pattern())
    (broken,) = proof.broken
    return proof.why(broken.why)


def test_a_corner_the_wrong_way_round_is_told() -> None:
    d = table()
    put(d)
    d.corner("square", ("right", "bottom"), angle=90.0)
    assert note(d) == "the outline runs from 'bottom' to 'right'; write ('bottom', 'right')"
    text = prove(d.pattern()).text(Unit.CM)
    assert "not found  the outline runs from 'bottom' to 'right'; write" in text


def test_a_corner_of_edges_that_do_not_meet_is_told() -> None:
    d = table()
    put(d)
    d.corner("square", ("bottom", "top"), angle=90.0)
    assert note(d) == "after 'bottom' comes 'right' on piece 'oblong'"


def test_a_notch_that_one_side_has_not_is_told() -> None:
    d, (_, right, _, left) = table(), oblong()
    put(d, notches=[Notch("hip", "right", 20.0), Notch("knee", "left", 30.0)])
    d.seam("ends", right, -left, stretches=[Stretch("hip", (0.0, 0.0))])
    assert note(d) == "there is no notch 'hip' on 'left'; there is 'knee'"


def test_notches_of_other_ticks_do_not_meet() -> None:
    d = table()
    put(d, notches=[Notch("hip", "right", 20.0, count=2)])
    put(d, "other", "x", notches=[Notch("hip", "xleft", 30.0)])
    side = Given("side", 50.0, {"hip": 20.0})
    d.seam("given", "right", side, stretches=[Stretch("hip", (0.0, 0.0))])
    d.seam("ends", "right", -oblong("x")[3], stretches=[Stretch("hip", (0.0, 0.0))])
    assert note(d) == "notch 'hip' is 2 on one side and 1 on the other; give both one count"


def test_the_mouth_of_a_dart_is_no_part_of_a_run() -> None:
    d, (bottom, right, _, left) = table(), oblong()
    top = [C, Point(60.0, 50.0), Point(40.0, 50.0), D]
    t, mouth, u = (line(a, b) for a, b in itertools.pairwise(top))
    edges = [bottom, right, Edge("t", t), Edge("mouth", mouth, "dart"), Edge("u", u), left]
    dart = Dart("dart", Point(50.0, 20.0), "mouth", "end", "to the centre")
    grain = (Point(5.0, 5.0), Point(5.0, 45.0))
    d.piece("oblong", edges, grain=grain, label_at=Point(70.0, 9.0), darts=[dart])
    d.girth("waist", body=80.0, ease=0.0, runs=[["t", "u"]])
    assert prove(d.pattern()).held
    d.girth("mistaken", body=100.0, ease=0.0, runs=[["t", "mouth", "u"]])
    with pytest.raises(PatternError, match="'mouth' is the mouth of a dart, closed when sewn; lea"):
        prove(d.pattern())


@pytest.mark.parametrize(
    ("corners", "says"),
    [
        ([A, C, B, D, A], "'1' crosses '3' at (50, 25)"),
        ([A, B, C, D, D, A + Point(2.0, 0.0)], "edge '5' ends 2.000 mm from where '1' begins"),
    ],
)
def test_an_outline_says_which_edges_are_wrong(corners, says: str) -> None:
    d, pairs = table(), itertools.pairwise(corners)
    edges = [Edge(f"{i}", line(a, b)) for i, (a, b) in enumerate(pairs, 1) if a != b]
    d.piece("oblong", edges, grain=(A, B), label_at=Point(50.0, 5.0))
    proof = prove(d.pattern())
    assert says in proof.why(proof.broken[0].why)


def test_a_notch_past_its_end_by_rounding_only_is_at_the_end() -> None:
    d = table()
    put(d, notches=[Notch("end", "right", 50.0 + 9e-6)])  # what a solved length may be off by
    assert d.pattern().piece("oblong").notch("end").along == 50.0
    d.seam("ends", "right", Given("tape", 50.0, {"end": 50.0}), stretches=[Stretch("end", (0, 0))])
    assert prove(d.pattern()).held
    with pytest.raises(PatternError, match=r"notch 'end' at 50\.0 mm is off its edge 'right'"):
        put(table(), notches=[Notch("end", "right", 50.0 + 2e-5)])


def test_mirrored_pairs_are_an_even_number() -> None:
    with pytest.raises(PatternError, match="cut of piece 'oblong' is 3, in mirrored pairs; give"):
        put(table(), cut=3, mirrored=True)


@pytest.mark.parametrize("turned", [False, True])
def test_what_is_given_or_taken_is_walked_from_its_other_end(*, turned: bool) -> None:
    d = table()
    put(d, notches=[Notch("hip", "right", 20.0)])
    d.offer("side", d.pattern().edge("right"))
    taken = d.offers()["side"]
    given = Given("tape", 50.0, {"hip": 30.0 if turned else 20.0})
    other = table()
    put(other, "other", "x", notches=[Notch("hip", "xright", 30.0 if turned else 20.0)])
    stretches = [Stretch("hip", (0.0, 0.0))]
    other.seam("given", "xright", given, stretches=stretches)
    assert prove(other.pattern()).held
    back = -taken
    assert (back.notches["hip"], back.length, back.run) == (30.0, 50.0, (-taken.run[0],))
    assert -back == taken
    twice = -given
    assert -twice == given


def test_a_piece_is_cut_once_unless_more_are_asked_for() -> None:
    assert put(table()).cut == 1


def test_a_mark_may_be_kept_twice() -> None:
    """A block may make the same mark in two steps.  It is on the draft once."""
    d = table()
    for _ in range(2):
        d.keep(Mark(0.0, 150.0, "crown", "the cap height above the bicep line"))
    assert [mark.name for mark in d.pattern().marks] == ["crown"]
