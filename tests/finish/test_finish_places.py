"""Where ticks stand, how near to a corner or a fold, and which allowance an edge takes."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from finish_samples import own

from blockwright import (
    Dart,
    Draft,
    Edge,
    InputError,
    Notch,
    PatternError,
    Piece,
    Point,
    arc,
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
    cut = own(finish(panel(Notch("middle", "hem", 100.0, count)), Finish(notch_depth=5.0)))
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
    assert len(own(finish(at(8.001), how))) == 1
    with pytest.raises(InputError, match=r"near is 8\.0 mm from the end of hem, nearer than the 8"):
        finish(at(7.999), how)
    assert len(own(finish(at(0.0), Finish(notch_clear=0.0)))) == 1


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
            assert len(own(finish(piece, Finish(roles={"hem": 10.0})))) == 1


@pytest.mark.parametrize(("count", "far"), [(2, 5.0), (3, 10.0)])
def test_ticks_side_by_side_have_room_beside_a_fold(count: int, far: float) -> None:
    """The outermost stands half of them from the middle, and no tick may lie on the other half."""

    def at(away: float) -> Piece:
        return panel(Notch("near", "hem", away, count), left="fold")

    how = Finish(notch_clear=0.0, notch_depth=5.0)
    assert len(own(finish(at(far + 0.01), how))) == count
    with pytest.raises(InputError, match=f"near has {count} ticks on the fold"):
        finish(at(far - 0.01), how)
    assert len(own(finish(replace(at(0.0), notches=(Notch("near", "hem", 0.0),)), how))) == 1


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


def test_the_usual_marks() -> None:
    """Common practice, no source; the drill hole half an inch from the point of its dart."""
    how = Finish()
    assert (how.notch, how.notch_depth, how.notch_width, how.notch_clear) == ("slit", 5, 4, 3)
    assert (how.drill_inset, how.drill_diameter) == (25.4 / 2.0, 3)


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
    [
        (0.0, 0.0),
        (0.4, 0.4),
        (-5e-6, 0.0),
        (-1e-5, 0.0),
        (TALL - 0.4, TALL - 0.4),
        (TALL + 5e-6, TALL),
        (TALL + 1e-5, TALL),
    ],
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


def test_a_notch_on_an_edge_without_an_allowance_lies_on_the_sew_line() -> None:
    piece = replace(panel(), notches=(Notch("middle", "right", TALL / 2.0),))
    curve, along = piece.notch_at(piece.notches[0])
    notches = finish(piece, Finish(edges={"right": 0.0})).notches
    (notch,) = [each for each in notches if each.name == "middle"]
    assert tuple(notch.at) == pytest.approx(tuple(curve.point_at(along)))


@pytest.mark.parametrize("turn", [0.0, 20.0])
def test_how_a_bent_edge_begins_says_whether_the_one_before_runs_on(turn: float) -> None:
    """A notch 1 mm before a quarter circle."""
    bent = arc(Point(100, 100), 100.0, -math.pi / 2.0, 0.0)
    begin = Point(100, 0)
    low = begin - Point(100, 0).turned(math.radians(turn))
    at = [Point(200, 100), Point(low.x, 100), low]
    straight = Edge("straight", line(low, begin))
    edges = straight, Edge("bent", bent), Edge("rest", polyline(at))
    piece = Piece(
        "panel", edges, (Point(50, 50), Point(50, 90)), Point(100, 50),
        notches=(Notch("near", "straight", straight.curve.length - 1.0),),
    )  # fmt: skip
    if turn:
        with pytest.raises(InputError, match="near is"):
            finish(piece, Finish())
    else:
        assert len(finish(piece, Finish()).notches) == 1


@pytest.mark.parametrize("turn", [0.0, 20.0])
def test_how_a_bent_edge_ends_says_whether_it_runs_on(turn: float) -> None:
    """A notch 1 mm past the end of a quarter circle: clear of a corner, or of none."""
    bent = arc(Point(100, 100), 100.0, -math.pi / 2.0, 0.0)
    end = Point(200, 100)
    high = end + Point(0, 200).turned(math.radians(turn))
    at = [high, Point(0, high.y), Point(0, 0), Point(100, 0)]
    edges = Edge("bent", bent), Edge("straight", line(end, high)), Edge("rest", polyline(at))
    piece = Piece(
        "panel", edges, (Point(50, 50), Point(50, 90)), Point(100, 50),
        notches=(Notch("near", "straight", 1.0),),
    )  # fmt: skip
    if turn:
        with pytest.raises(InputError, match="near is"):
            finish(piece, Finish())
    else:
        assert len(finish(piece, Finish()).notches) == 1
