"""Seams that the copies as they are cut cannot make, and runs that go on over a seam.

How pieces come together is geometry of plane outlines: cloth of one piece lies to the left of a
seam, cloth of the other to its right, and a piece cut the other way up is its mirror image.
"""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from blockwright import (
    Across,
    Draft,
    Edge,
    Notch,
    Point,
    Proof,
    Result,
    Stretch,
    arc,
    arc_through,
    line,
)
from blockwright.pattern.copies import copies
from promised import prove_promised as prove

WIDE, HIGH = 300.0, 80.0


def box(prefix: str = "", wide: float = WIDE, high: float = HIGH) -> dict[str, Edge]:
    """Edges of a rectangle, counter-clockwise from the bottom."""
    at = [Point(0.0, 0.0), Point(wide, 0.0), Point(wide, high), Point(0.0, high)]
    names = ("bottom", "right", "top", "left")
    sides = zip(names, at, at[1:] + at[:1], strict=True)
    return {name: Edge(f"{prefix}{name}", line(a, b)) for name, a, b in sides}


def put(d: Draft, name: str, edges: dict[str, Edge], **more) -> None:
    at = Point(20.0, HIGH / 2.0)
    d.piece(name, list(edges.values()), grain=(at, at + Point(0.0, 5.0)), label_at=at, **more)


def result(proof: Proof, name: str) -> Result:
    """What was measured of the promise of that name."""
    (found,) = [each for each in proof.results if each.subject.name == name]
    return found


def why(proof: Proof, name: str) -> str:
    """Why nothing was measured of the promise of that name, in words."""
    return proof.why(result(proof, name).why)


# -- copies ---------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("cut", "mirrored", "folds", "as_drawn", "turned"),
    [(1, False, 0, 1, 0), (3, False, 0, 3, 0), (2, True, 0, 1, 1), (1, False, 1, 1, 1),
     (2, False, 1, 2, 2), (1, False, 2, 2, 2)],
)  # fmt: skip
def test_how_many_are_cut_each_way_up(cut, mirrored, folds, as_drawn, turned) -> None:
    d, edges = Draft("test.box", "Box"), box()
    for side in ("left", "bottom")[:folds]:
        edges[side] = Edge(side, edges[side].curve, "fold")
    put(d, "box", edges, cut=cut, mirrored=mirrored)
    assert copies(d.pattern().piece("box")) == {True: as_drawn, False: turned}


def hood(**cut) -> Proof:
    """A side sewn to both long edges of a strip; seen from outside it lies on either side of it."""
    d, side, strip = Draft("test.hood", "Hood"), box("side "), box("strip ", high=60.0)
    put(d, "side", side, **cut)
    put(d, "strip", strip)
    d.seam("left", side["top"], -strip["bottom"])
    d.seam("right", side["top"], strip["top"])
    return prove(d.pattern())


def test_two_sides_of_a_strip_need_a_mirrored_pair() -> None:
    assert hood(cut=2, mirrored=True).held
    for cut in (1, 2):
        broken = hood(cut=cut)
        assert [each.subject.name for each in broken.broken] == ["right"]
        assert math.isnan(result(broken, "right").measured)
        assert why(broken, "right") == (
            "no 'strip top' is cut the other way up; cut mirrored pairs, or walk it the other way"
        )


def test_an_edge_sewn_to_itself_needs_its_mirror_image() -> None:
    for mirrored in (True, False):
        d, side = Draft("test.hood", "Hood"), box()
        put(d, "side", side, cut=2, mirrored=mirrored)
        d.seam("crown", side["top"], side["top"])
        assert prove(d.pattern()).held == mirrored


def test_a_walk_the_wrong_way_round_is_told() -> None:
    d, one, other = Draft("test.skirt", "Skirt"), box("one "), box("other ")
    put(d, "one", one)
    put(d, "other", other)
    d.seam("side", one["right"], -other["left"])
    d.seam("mistaken", one["right"], other["left"])
    proof = prove(d.pattern())
    assert result(proof, "side").held
    assert "cut mirrored pairs, or walk it the other way" in why(proof, "mistaken")


# -- a run over a seam ------------------------------------------------------------------------


def hat(cut: int = 2, *, sewn: bool = True) -> Draft:
    """A round crown, sewn to the tops of both halves of a band one after the other."""
    d, band = Draft("test.hat", "Hat"), box("band ")
    around = Edge("crown", arc(Point(0.0, 0.0), 2.0 * WIDE / math.tau, 0.0, math.tau))
    middle = (Point(0.0, -20.0), Point(0.0, 20.0))
    d.piece("crown", [around], grain=middle, label_at=Point(0.0, 0.0))
    put(d, "band", band, cut=cut)
    if sewn:
        d.seam("side", band["right"], -band["left"])
    d.seam("crown to band", around, [-band["top"], -band["top"]], shaped=True)
    return d


def test_a_run_goes_on_over_a_promised_seam_to_the_other_copy() -> None:
    proof = prove(hat().pattern())
    assert proof.held
    assert result(proof, "crown to band").measured == pytest.approx(0.0, abs=1e-3)


def test_a_piece_cut_once_is_sewn_once() -> None:
    proof = prove(hat(cut=1).pattern())
    assert not result(proof, "crown to band").held
    assert why(proof, "crown to band") == "2 of 'band top' are sewn and 1 is cut; cut more"


def test_without_the_seam_it_does_not_go_on() -> None:
    proof = prove(hat(sewn=False).pattern())
    assert not result(proof, "crown to band").held
    assert why(proof, "crown to band") == (
        "'band top' does not follow 'band top': they neither meet nor is there a dart or a "
        "promised seam between them"
    )


def skirt() -> tuple[Draft, dict[str, Edge], dict[str, Edge]]:
    """Back and front, sewn at the side."""
    d, back, front = Draft("test.skirt", "Skirt"), box("back "), box("front ")
    put(d, "back", back, cut=2, mirrored=True)
    put(d, "front", front, cut=2, mirrored=True)
    d.seam("side", back["left"], -front["right"])
    return d, back, front


def test_a_run_goes_on_over_the_side_seam_to_the_other_piece() -> None:
    d, back, front = skirt()
    d.girth("waist", body=2.0 * WIDE, ease=0.0, runs=[[back["top"], front["top"]]])
    d.girth("hem", body=2.0 * WIDE, ease=0.0, runs=[[front["bottom"], back["bottom"]]])
    assert prove(d.pattern()).held


@pytest.mark.parametrize(
    "run",
    [
        lambda back, front: [front["top"], back["top"]],  # from side to side, not over it
        lambda back, front: [-back["top"], front["top"]],
        lambda back, front: [back["top"], front["bottom"]],
        lambda back, front: [back["bottom"], -front["bottom"]],
    ],
)
def test_pieces_that_do_not_meet_there_make_no_run(run) -> None:
    d, back, front = skirt()
    d.girth("waist", body=2.0 * WIDE, ease=0.0, runs=[run(back, front)])
    proof = prove(d.pattern())
    assert not result(proof, "waist").held
    assert "' does not follow '" in why(proof, "waist")


def test_a_run_in_the_other_order_is_told() -> None:
    d, back, front = skirt()
    d.girth("waist", body=2.0 * WIDE, ease=0.0, runs=[[back["bottom"], front["bottom"]]])
    told = why(prove(d.pattern()), "waist")
    assert told.startswith("'front bottom' does not follow 'back bottom': they neither meet nor")
    assert told.endswith("between them; 'back bottom' follows 'front bottom'")


def test_one_of_several_copies_is_named_as_often_as_it_is_cut() -> None:
    for often, held in ((6, True), (7, False)):
        d, panel = Draft("test.cap", "Cap"), [Point(0, 0), Point(100, 0), Point(50, 86.60254)]
        edges = [Edge(f"{i}", line(a, b)) for i, (a, b) in enumerate(pairwise([*panel, panel[0]]))]
        d.piece("panel", edges, cut=6)
        d.corner("apex", *[("1", "2")] * often, angle=60.0 * often)
        proof = prove(d.pattern())
        assert result(proof, "apex").held == held
    assert why(proof, "apex") == "corner ('1', '2') is named 7 times and cut 6"
    told = result(proof, "apex").why
    assert told
    assert (told.values["first"], told.values["second"]) == (d.ref("1"), d.ref("2"))


# -- girths -----------------------------------------------------------------------------------


def test_a_girth_counts_no_more_than_is_cut() -> None:
    for cut, held in ((1, False), (2, True), (4, True)):
        d, edges = Draft("test.box", "Box"), box()
        put(d, "box", edges, cut=cut)
        level = Across("box", line(Point(0.0, 40.0), Point(WIDE, 40.0)))
        d.girth("hem", body=2.0 * WIDE, ease=0.0, runs=[edges["bottom"]], times=2)
        d.girth("twice", body=2.0 * WIDE, ease=0.0, runs=[edges["top"], edges["top"]])
        d.girth("middle", body=2.0 * WIDE, ease=0.0, levels=[level], times=2)
        proof = prove(d.pattern())
        assert proof.held == held
        if not held:
            assert [(each.subject.name, proof.why(each.why)) for each in proof.broken] == [
                ("hem", "'bottom' is counted 2 times and cut 1; check cut and times"),
                ("twice", "'top' is counted 2 times and cut 1; check cut and times"),
                ("middle", "piece 'box' is counted 2 times and cut 1; check cut and times"),
            ]


def test_half_a_piece_on_a_fold_counts_twice() -> None:
    d, edges = Draft("test.box", "Box"), box()
    edges["left"] = Edge("left", edges["left"].curve, "fold")
    put(d, "box", edges)
    d.girth("hem", body=2.0 * WIDE, ease=0.0, runs=[edges["bottom"]], times=2)
    assert prove(d.pattern()).held


REACHES = {-20.0: True, 0.0: True, 59.0: True, 61.0: False}
"""Whether a level that begins so far inside is carried on to the edge."""


@pytest.mark.parametrize("start", REACHES)
@pytest.mark.parametrize("bent", [False, True])
def test_a_level_that_ends_in_the_cloth_has_no_width(start: float, *, bent: bool) -> None:
    d, edges = Draft("test.box", "Box"), box()
    put(d, "box", edges)
    a, b = Point(start, 40.0), Point(WIDE, 40.0)
    level = arc_through(a, a.between(b, 0.5) + Point(0.0, 0.5), b) if bent else line(a, b)
    d.girth("middle", body=WIDE, ease=(-0.1, 1.0), levels=[Across("box", level)])
    proof = prove(d.pattern())
    found = result(proof, "middle")
    assert found.held == REACHES[start], found
    if not found.held:
        assert why(proof, "middle") == (
            "the level across 'box' ends in the cloth, over 60 mm from its edge; draw it from "
            "edge to edge"
        )


def test_a_notch_that_is_come_by_twice_is_none_to_meet_at() -> None:
    d, top, base = Draft("test.hat", "Hat"), box("top "), box("base ", wide=2.0 * WIDE)
    put(d, "top", top, cut=2, notches=[Notch("middle", "top bottom", WIDE / 2.0)])
    put(d, "base", base, notches=[Notch("middle", "base top", 1.5 * WIDE)])
    d.seam("side", top["right"], -top["left"])
    stretches = [Stretch("middle", (0.0, 0.0))]
    d.seam("to base", [top["bottom"], top["bottom"]], -base["top"], stretches=stretches)
    proof = prove(d.pattern())
    (found,) = [each for each in proof.results if each.code == "seam.stretch"]
    assert (found.subject.name, dict(found.values)) == ("to base", {"since": "", "to": "middle"})
    assert proof.why(found.why) == (
        "there are two 'middle' on 'top bottom' and 'top bottom'; promise each part by itself"
    )
