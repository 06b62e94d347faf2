"""Balance notches: at equal shares of both sides of a seam, ease and all.

How far apart they are is common practice, no source.
"""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

from blockwright import (
    Draft,
    Edge,
    Given,
    Notch,
    PatternError,
    Piece,
    Point,
    Stretch,
    draft,
    finish_all,
    line,
    load,
    load_sheet,
    polyline,
)
from blockwright.pattern.finishing.finish import Finish
from promised import prove_promised as prove

WORKROOM = Path(__file__).parents[2] / "examples" / "workroom"


def two(front: float = 1000.0, back: float = 1010.0, *notches: tuple[str, float, float]) -> Draft:
    """A front and a back with sides of these lengths, both from the hem up, and their notches."""
    d = Draft("test.robe", "Robe")
    for name, long, i in (("front", front, 1), ("back", back, 2)):
        side = Edge(f"{name} side", line(Point(300, 0), Point(300, long)))
        rest = Edge(f"{name} rest", polyline([Point(300, long), Point(0, long), Point(0, 0)]))
        hem = Edge(f"{name} hem", line(Point(0, 0), Point(300, 0)), "hem")
        its = [Notch(notch[0], side.name, notch[i]) for notch in notches]
        d.piece(name, [hem, side, rest], cut=2, mirrored=True, notches=its)
    return d


def along(d: Draft, edge: str) -> dict[str, float]:
    return {notch.name: notch.along for notch in d.pattern().notches_on(edge)}


@pytest.mark.parametrize(
    ("every", "shares"), [(1000.0, 1), (999.9, 2), (500.0, 2), (499.0, 3), (334.0, 3), (200.0, 5)]
)
def test_no_stretch_stays_longer_than_asked(every: float, shares: int) -> None:
    d = two()
    d.seam("side", "front side", "back side", ease=-10.0)
    d.balance("side", every=every)
    names = [f"side balance {i}" for i in range(1, shares)]
    for edge, long in (("front side", 1000.0), ("back side", 1010.0)):
        wanted = {name: long * i / shares for i, name in enumerate(names, 1)}
        assert along(d, edge) == pytest.approx(wanted)
    proof = prove(d.pattern())
    assert proof.held
    parts = [result for result in proof.results if result.code == "seam.stretch"]
    assert [part.measured for part in parts[: shares - 1]] == pytest.approx(
        [-10.0 / shares] * (shares - 1)
    )


def test_each_stretch_keeps_its_own_ease() -> None:
    """Even up to the knee, and above it the back is stretched by 12 mm, as in trousers."""
    d = two(1000.0, 988.0, ("knee", 400.0, 400.0))
    d.seam(
        "leg", "front side", "back side", ease=(8.0, 16.0),
        stretches=[Stretch("knee", (0.0, 0.0))], last=(8.0, 16.0),
    )  # fmt: skip
    d.balance("leg", every=300.0)
    assert along(d, "front side") == pytest.approx(
        {"leg balance 1": 200.0, "knee": 400.0, "leg balance 2": 700.0}
    )
    assert along(d, "back side") == pytest.approx(
        {"leg balance 1": 200.0, "knee": 400.0, "leg balance 2": 694.0}
    )
    (seam,) = d.pattern().promises
    assert [(each.to, each.ease) for each in seam.stretches] == [
        ("leg balance 1", (0.0, 0.0)),
        ("knee", (0.0, 0.0)),
        ("leg balance 2", (4.0, 8.0)),
    ]
    assert seam.last == (4.0, 8.0)
    assert prove(d.pattern()).held


def test_a_balance_notch_that_is_moved_breaks_its_seam() -> None:
    d = two(1000.0, 1000.0)
    d.seam("side", "front side", "back side")
    d.balance("side", every=600.0)
    pattern = d.pattern()
    assert prove(pattern).held
    front = pattern.piece("front")
    (notch,) = front.notches
    for off, held in ((0.09, True), (0.11, False)):
        moved = replace(front, notches=(replace(notch, along=notch.along + off),))
        # With no ease after the last notch, the stretch up to it is what tells.
        assert prove(pattern.with_piece(moved)).held is held


def test_a_side_walked_backwards() -> None:
    d = two(1000.0, 1000.0)
    back = d.pattern().piece("back")
    d.seam("side", "front side", -back.edge("back side"))
    d.balance("side", every=400.0)
    assert along(d, "front side") == pytest.approx(
        {"side balance 1": 1000 / 3, "side balance 2": 2000 / 3}
    )
    assert along(d, "back side") == pytest.approx(
        {"side balance 2": 1000 / 3, "side balance 1": 2000 / 3}
    )


@pytest.mark.parametrize(
    ("there", "kept"), [(485.5, ["side balance 1"]), (484.5, ["side balance 1", "side balance 2"])]
)
def test_one_is_left_out_beside_a_notch_that_is_there(there: float, kept: list[str]) -> None:
    """15 mm from it; the stretch on either side of the notch left out is one."""
    d = Draft("test.robe", "Robe")
    for piece in two(1500.0, 1500.0).pattern().pieces:
        pocket = (Notch("pocket", "front side", there),) if piece.name == "front" else ()
        d.add(replace(piece, block="", notches=pocket))
    d.seam("side", "front side", "back side", ease=(-3.0, 3.0))
    d.balance("side", every=500.0)
    assert [*along(d, "back side")] == kept
    (seam,) = d.pattern().promises
    if len(kept) == 1:
        assert [each.ease for each in seam.stretches] == [(-2.0, 2.0)]
    assert prove(d.pattern()).held


def test_one_is_left_out_at_the_end_of_an_edge() -> None:
    """The seams of the other side meet there, which is as good as a notch."""
    d = Draft("test.robe", "Robe")
    d.add(replace(two(1000.0, 1000.0).pattern().piece("front"), block=""))
    at = [Point(0, 0), Point(300, 0), Point(300, 505), Point(300, 1000), Point(0, 1000)]
    names = ["hem", "lower side", "upper side", "top", "centre"]
    edges = [Edge(n, line(a, b)) for n, a, b in zip(names, at, [*at[1:], at[0]], strict=True)]
    d.piece("back", edges)
    d.seam("side", "front side", ["lower side", "upper side"])
    d.balance("side", every=600.0)
    assert along(d, "front side") == {}
    d.balance("side", every=400.0)
    assert [*along(d, "front side")] == ["side balance 1", "side balance 2"]


def given() -> Draft:
    d = two()
    d.seam("side", "front side", Given("robe back", 1000.0))
    return d


def over_twice() -> Draft:
    d = two()
    back = d.pattern().piece("back")
    d.seam("side", ["front side", "front side"], ["back side", -back.edge("back side")])
    return d


def no_notch() -> Draft:
    d = two()
    d.seam("side", "front side", "back side", stretches=[Stretch("hip", (0.0, 0.0))])
    return d


def plain() -> Draft:
    d = two()
    d.seam("side", "front side", "back side")
    return d


@pytest.mark.parametrize(
    ("made", "name", "every", "says"),
    [
        (plain, "sides", 400.0, "has no seam 'sides'; did you mean side"),
        (plain, "side", 30.0, r"every 30\.0 mm; give a length over 30 mm"),
        (plain, "side", math.inf, "give a length over 30 mm"),
        (given, "side", 400.0, "has a side that is not drawn here"),
        (over_twice, "side", 400.0, "goes over an edge more than once"),
        (no_notch, "side", 400.0, "has no notch 'hip' on both sides"),
    ],
)
def test_what_cannot_be_balanced(made, name: str, every: float, says: str) -> None:
    with pytest.raises(PatternError, match=says):
        made().balance(name, every=every)


@pytest.mark.parametrize("kind", ["straight", "flared", "gored", "circle"])
@pytest.mark.parametrize(("length", "count"), [("60 cm", 0), ("75 cm", 1), ("130 cm", 2)])
def test_long_skirts_are_balanced(kind: str, length: str, count: int) -> None:
    """None on a skirt to the knee, and none further apart than 50 cm on a longer one."""
    sheet = load_sheet(WORKROOM / "nora.toml")
    pattern = draft([load().block(f"skirt.{kind}")], sheet, {"length": length})
    assert prove(pattern).held
    sides = [e for p in pattern.pieces for e in p.edge_names() if "side" in e or "seam" in e]
    assert len(sides) == 2
    for side in sides:
        places = [notch.along for notch in pattern.notches_on(side)]
        assert len(places) == count + 1
        ends = [0.0, *places, pattern.length(side)]
        assert max(b - a for a, b in zip(ends, ends[1:], strict=False)) < 500.0
    for piece in finish_all(pattern, Finish()):
        marks = [notch for notch in piece.notches if "balance" in notch.name]
        assert len(marks) == count * sum(side in piece.piece.edge_names() for side in sides)


def test_the_piece_in_hand_is_as_it_was() -> None:
    d = plain()
    front: Piece = d.pattern().piece("front")
    d.balance("side", every=600.0)
    assert front.notches == ()
    assert len(d.pattern().piece("front").notches) == 1
