"""Where ticks stand, how near to a corner or a fold, and which allowance an edge takes."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from blockwright import (
    Dart,
    Draft,
    Edge,
    InputError,
    Notch,
    PatternError,
    Piece,
    Point,
    line,
    polyline,
)
from blockwright.pattern.finishing.finish import USUAL, Finish, finish
from blockwright.pattern.piece import Role

WIDE, TALL = 200.0, 300.0


def panel(*notches: Notch, right: Role = "seam", left: Role = "seam", turn: float = 90.0) -> Piece:
    """A panel 200 mm wide whose right side turns by so many degrees from its hem."""
    way = Point(1, 0).turned(math.radians(turn))
    high = Point(WIDE, 0) + way * TALL
    at = [Point(0, 0), Point(WIDE, 0), high, Point(0, high.y + 100.0), Point(0, 0)]
    roles: list[Role] = ["hem", right, "waist", left]
    edges = tuple(
        Edge(name, line(a, b), role)
        for name, role, a, b in zip(
            ("hem", "right", "top", "left"), roles, at[:-1], at[1:], strict=True
        )
    )
    grain = Point(50, 50), Point(50, 90)
    return Piece("panel", edges, grain, Point(100, 50), notches=notches)


# -- ticks -----------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("count", "places"),
    [(1, [100.0]), (2, [95.0, 105.0]), (3, [90.0, 100.0, 110.0])],
)
def test_ticks_stand_twice_their_depth_apart_about_their_place(
    count: int, places: list[float]
) -> None:
    """Common practice, no source: cloth between two cuts is as wide as both are deep."""
    cut = finish(panel(Notch("middle", "hem", 100.0, count)), Finish(notch_depth=5.0)).notches
    assert [tick.at.x for tick in cut] == pytest.approx(places)
    assert {(tick.name, tick.kind, tick.depth, tick.width) for tick in cut} == {
        ("middle", "slit", 5.0, 4.0)
    }
    for tick in cut:
        assert tick.at.y == pytest.approx(-USUAL["hem"])
        assert (tick.inward.x, tick.inward.y) == pytest.approx((0.0, 1.0))


@pytest.mark.parametrize("end", ["start", "end"])
def test_a_notch_is_kept_clear_of_a_corner(end: str) -> None:
    def at(far: float) -> Piece:
        return panel(Notch("near", "hem", far if end == "start" else WIDE - far))

    how = Finish(notch_clear=8.0)
    assert len(finish(at(8.001), how).notches) == 1
    with pytest.raises(InputError, match=r"near is 8\.0 mm from the end of hem, nearer than the 8"):
        finish(at(7.999), how)
    assert len(finish(at(0.0), Finish(notch_clear=0.0)).notches) == 1


@pytest.mark.parametrize(
    ("turn", "corner"), [(4.9, False), (-4.9, False), (5.1, True), (0.0, False)]
)
def test_edges_that_turn_by_less_than_five_degrees_run_on(turn: float, corner: bool) -> None:
    """There is no corner that a notch need be clear of."""
    for notch in (Notch("near", "hem", WIDE - 1.0), Notch("near", "right", 1.0)):
        piece = panel(notch, turn=turn)
        if corner:
            with pytest.raises(InputError, match=r"near is 1\.0 mm from the end"):
                finish(piece, Finish(roles={"hem": 10.0}))
        else:
            assert len(finish(piece, Finish(roles={"hem": 10.0})).notches) == 1


@pytest.mark.parametrize(("count", "far"), [(2, 5.0), (3, 10.0)])
def test_ticks_side_by_side_have_room_beside_a_fold(count: int, far: float) -> None:
    """The outermost stands half of them from the middle, and no tick may lie on the other half."""

    def at(away: float) -> Piece:
        return panel(Notch("near", "hem", away, count), left="fold")

    how = Finish(notch_clear=0.0, notch_depth=5.0)
    assert len(finish(at(far + 0.01), how).notches) == count
    with pytest.raises(InputError, match=f"near has {count} ticks on the fold"):
        finish(at(far - 0.01), how)
    assert len(finish(replace(at(0.0), notches=(Notch("near", "hem", 0.0),)), how).notches) == 1


# -- which allowance -------------------------------------------------------------------------------


def test_the_usual_allowances() -> None:
    """A centimetre on seams is the industry's (a published book, from memory); that bound or faced
    curves take less and hems more is common practice, no source."""
    assert dict(USUAL) == {
        "seam": 10.0, "armhole": 10.0, "neck": 6.0, "waist": 10.0, "hem": 30.0, "fold": 0.0,
    }  # fmt: skip
    for role, width in USUAL.items():
        edge = Edge("edge", line(Point(0, 0), Point(10, 0)), role)  # type: ignore[arg-type]
        assert Finish().allowance(panel(), edge) == width


def test_an_edge_takes_its_own_allowance_then_that_of_its_role_then_the_usual() -> None:
    piece = panel()
    hem, side = piece.edge("hem"), piece.edge("right")
    assert Finish().allowance(piece, hem) == USUAL["hem"] == 30.0
    assert Finish(roles={"hem": 20.0}).allowance(piece, hem) == 20.0
    both = Finish(roles={"hem": 20.0}, edges={"hem": 0.0})
    assert (both.allowance(piece, hem), both.allowance(piece, side)) == (0.0, 10.0)
    own = Finish(usual={"hem": 55.0})
    assert own.allowance(piece, hem) == 55.0
    with pytest.raises(InputError, match="nothing says how much allowance right takes"):
        own.allowance(piece, side)
    fold = panel(left="fold")
    assert own.allowance(fold, fold.edge("left")) == 0.0
    assert Finish(roles={"fold": 2.0}).allowance(fold, fold.edge("left")) == 2.0


def test_a_name_of_a_set_is_the_label() -> None:
    piece = replace(panel(), word="skirt")
    assert Finish(edges={"skirt hem": 7.0}).allowance(piece, piece.edge("hem")) == 7.0
    assert Finish(edges={"hem": 7.0}).allowance(piece, piece.edge("hem")) == 30.0


def test_the_mouth_of_a_dart_takes_the_allowance_of_the_edge_before_it() -> None:
    piece = panel()
    high = piece.edge("top").curve.start
    mouth = Edge("mouth", polyline([Point(110, 300), Point(90, 300)]), "dart")
    waist = Edge("waist", line(high, Point(110, 300)), "waist")
    rest = Edge("rest", line(Point(90, 300), Point(0, 300)), "armhole")
    left = Edge("left", line(Point(0, 300), Point(0, 0)))
    darts = (Dart("dart", Point(100, 200), "mouth", "end", "pressed left"),)
    darted = replace(piece, edges=(*piece.edges[:2], waist, mouth, rest, left), darts=darts)
    how = Finish(roles={"waist": 14.0, "armhole": 3.0})
    assert how.allowance(darted, mouth) == 14.0


# -- notches on the draft --------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("along", "kept"),
    [(0.0, 0.0), (0.4, 0.4), (-5e-6, 0.0), (TALL - 0.4, TALL - 0.4), (TALL + 5e-6, TALL)],
)
def test_a_notch_stays_where_it_is_put_but_for_what_a_solver_leaves(
    along: float, kept: float
) -> None:
    d = Draft("test.panel", "Panel")
    whole = panel()
    piece = d.piece(
        "panel", whole.edges, grain=whole.grain, label_at=whole.label_at,
        notches=[Notch("end", "right", along)],
    )  # fmt: skip
    assert piece.notch("end").along == kept


@pytest.mark.parametrize("along", [-2e-5, TALL + 2e-5, math.nan])
def test_a_notch_off_its_edge_is_refused(along: float) -> None:
    whole = panel()
    with pytest.raises(PatternError, match=r"notch 'end' at .* is off its edge 'right', 300\.0 mm"):
        Draft("test.panel", "Panel").piece(
            "panel", whole.edges, grain=whole.grain, label_at=whole.label_at,
            notches=[Notch("end", "right", along)],
        )  # fmt: skip
