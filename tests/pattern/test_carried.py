"""What each kind of promise says after a change, told by what the change did to edges and cloth."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

import pytest

from blockwright import (
    Affine,
    Curve,
    Draft,
    Edge,
    Given,
    Pattern,
    Piece,
    Point,
    Promise,
    Reason,
    Ref,
    Stretch,
    Way,
    line,
)
from blockwright.pattern.pattern import Became, Carried, CarriedLine, Laid, Lineage
from blockwright.pattern.promises.girth import Girth, LevelLine, Span
from blockwright.pattern.promises.level import Level
from blockwright.pattern.promises.seam import Seam
from blockwright.pattern.promises.shape import EdgeShape
from blockwright.pattern.promises.through import Through
from blockwright.pattern.promises.twin import Twin
from blockwright.pattern.ref import DartJoint, Joint

BLOCK = "test.panel"
WIDE, TALL = 200.0, 300.0
PIECE = Ref(BLOCK, "panel")
HEM, SIDE, WAIST, CENTRE = (Ref(BLOCK, name) for name in ("hem", "side", "waist", "centre"))
NEW, OTHER = Ref(BLOCK, "new"), Ref(BLOCK, "other")


@dataclass(frozen=True)
class Moved:
    """Cloth laid elsewhere as a whole, or right of a line up the piece only."""

    lay: Affine
    right_of: float = -math.inf

    def laid(self, at: Point) -> Laid | None:
        return Laid(PIECE, self.lay if at.x >= self.right_of else Affine())

    def line(self, parts: Sequence[Curve]) -> tuple[CarriedLine, ...]:
        return (CarriedLine(PIECE, tuple(part.moved(self.lay) for part in parts), 3.0),)


class Gone:
    """Cloth cut away."""

    def laid(self, at: Point) -> Laid | None:
        return None

    def line(self, parts: Sequence[Curve]) -> tuple[CarriedLine, ...]:
        return ()


def panel(d: Draft) -> Piece:
    at = [Point(0, 0), Point(WIDE, 0), Point(WIDE, TALL), Point(0, TALL), Point(0, 0)]
    names = ["hem", "side", "waist", "centre"]
    edges = [Edge(n, line(a, b)) for n, a, b in zip(names, at[:-1], at[1:], strict=True)]
    return d.piece("panel", edges, grain=(Point(50, 50), Point(50, 250)), label_at=Point(100, 150))


@pytest.fixture
def plain() -> Pattern:
    d = Draft(BLOCK, "Panel")
    panel(d)
    return d.pattern()


def became(pattern: Pattern, edge: Ref, to: Became) -> Lineage:
    return Lineage(pattern, {edge: to})


def one(carried: Carried) -> Promise:
    """The one promise that it became; nothing was given up."""
    (kept,) = carried.promises
    assert carried.why is None
    return kept


ONE_EDGE: list[Promise] = [
    Twin(Ref(BLOCK, "own copy"), HEM),
    Level(Ref(BLOCK, "level hem"), HEM, Point(100, 0), 0.5),
    EdgeShape(Ref(BLOCK, "shape of the hem"), HEM, 0),
    Through(Ref(BLOCK, "through"), HEM, (Ref(BLOCK, "mark"),)),
]


@pytest.mark.parametrize("promise", ONE_EDGE, ids=lambda promise: promise.kind)
def test_a_promise_of_an_edge_is_of_what_that_became(plain: Pattern, promise) -> None:
    kept = one(promise.carried(became(plain, HEM, Became((Way(NEW),)))))
    assert (kept.edge, kept.ref) == (NEW, promise.ref)
    assert one(promise.carried(Lineage(plain))) == promise


@pytest.mark.parametrize("promise", ONE_EDGE, ids=lambda promise: promise.kind)
@pytest.mark.parametrize("why", [Reason("cut-off", {"edge": HEM}), None])
def test_a_promise_of_an_edge_that_is_gone_is_given_up(plain: Pattern, promise, why) -> None:
    """Why is what the change says, or that it is gone."""
    carried = promise.carried(became(plain, HEM, Became(why=why)))
    assert carried.promises == (promise,)
    assert carried.why == (why or Reason("gone"))


def test_a_twin_of_an_edge_in_two_is_of_both(plain: Pattern) -> None:
    carried = ONE_EDGE[0].carried(became(plain, HEM, Became((Way(NEW), Way(OTHER)))))
    assert [each.edge for each in carried.promises] == [NEW, OTHER]
    assert carried.why is None


@pytest.mark.parametrize("promise", ONE_EDGE[2:], ids=lambda promise: promise.kind)
def test_what_is_said_of_one_edge_is_not_said_of_two(plain: Pattern, promise) -> None:
    carried = promise.carried(became(plain, HEM, Became((Way(NEW), Way(OTHER)))))
    assert (carried.promises, carried.why) == ((promise,), Reason("gone"))


@pytest.mark.parametrize("promise", [ONE_EDGE[1], ONE_EDGE[3]], ids=lambda promise: promise.kind)
def test_a_line_drawn_anew_passes_its_old_places_no_more(plain: Pattern, promise) -> None:
    carried = promise.carried(became(plain, HEM, Became((Way(NEW),), drawn=True)))
    assert (carried.promises, carried.why) == ((promise,), Reason("drawn-anew", {"edge": HEM}))


# -- level -----------------------------------------------------------------------------------------


def test_a_level_edge_is_given_up_while_it_is_turned(plain: Pattern) -> None:
    promise = Level(Ref(BLOCK, "level hem"), HEM, Point(100, 0), 0.5)
    assert promise.turned == 0.0
    turn = Affine.turn(math.radians(7.0), Point(0, 0))
    carried = promise.carried(Lineage(plain, cloths={PIECE: Moved(turn)}))
    (turned,) = carried.promises
    assert carried.why == Reason("turned", {"edge": HEM})
    assert abs(turned.turned) == pytest.approx(7.0)
    assert tuple(turned.at) == pytest.approx(tuple(turn(Point(100, 0))))
    back = turned.carried(Lineage(plain, cloths={PIECE: Moved(turn.inverse())}))
    kept = one(back)
    assert kept.turned == 0.0
    assert tuple(kept.at) == pytest.approx((100.0, 0.0))


def test_a_level_edge_that_is_only_moved_stays_level(plain: Pattern) -> None:
    promise = Level(Ref(BLOCK, "level hem"), HEM, Point(100, 0), 0.5)
    lineage = Lineage(plain, cloths={PIECE: Moved(Affine.move(Point(0, -20)))})
    kept = one(promise.carried(lineage))
    assert (kept.at, kept.turned) == (Point(100, -20), 0.0)
    gone = promise.carried(Lineage(plain, cloths={PIECE: Gone()}))
    assert (gone.promises, gone.why) == ((promise,), Reason("gone"))


# -- the way of a shape ----------------------------------------------------------------------------


def test_the_way_of_a_shape_turns_with_the_start_of_its_edge(plain: Pattern) -> None:
    promise = EdgeShape(Ref(BLOCK, "shape of the hem"), HEM, 0, Point(1, 0))
    turn = Affine.turn(math.pi / 2.0, Point(0, 0))
    kept = one(promise.carried(Lineage(plain, cloths={PIECE: Moved(turn)})))
    assert tuple(kept.toward) == pytest.approx(tuple(turn(Point(1, 0))))
    # The hem begins at the left, so cloth that is turned at its end turns nothing.
    kept = one(promise.carried(Lineage(plain, cloths={PIECE: Moved(turn, right_of=100.0)})))
    assert kept.toward == Point(1, 0)
    # The waist begins at the right.
    waist = EdgeShape(Ref(BLOCK, "shape of the waist"), WAIST, 0, Point(-1, 0))
    kept = one(waist.carried(Lineage(plain, cloths={PIECE: Moved(turn, right_of=100.0)})))
    assert tuple(kept.toward) == pytest.approx(tuple(turn(Point(-1, 0))))


# -- seams -----------------------------------------------------------------------------------------

STRETCHES = (
    Stretch("low", (1.0, 2.0)), Stretch("middle", (10.0, 20.0)), Stretch("high", (100.0, 200.0)),
)  # fmt: skip


def seam() -> Seam:
    tape = Given("tape", TALL, {"low": 50.0, "middle": 100.0, "high": 200.0})
    return Seam(
        Ref(BLOCK, "side"), (Way(SIDE),), (tape,), (1111.0, 2222.0), STRETCHES, (1000.0, 2000.0)
    )


@pytest.mark.parametrize(
    ("lost", "kept", "last"),
    [
        ((), [("low", 1.0, 2.0), ("middle", 10.0, 20.0), ("high", 100.0, 200.0)], (1000.0, 2000.0)),
        (("low",), [("middle", 11.0, 22.0), ("high", 100.0, 200.0)], (1000.0, 2000.0)),
        (("middle",), [("low", 1.0, 2.0), ("high", 110.0, 220.0)], (1000.0, 2000.0)),
        (("high",), [("low", 1.0, 2.0), ("middle", 10.0, 20.0)], (1100.0, 2200.0)),
        (("low", "middle"), [("high", 111.0, 222.0)], (1000.0, 2000.0)),
        (("low", "middle", "high"), [], (1111.0, 2222.0)),
    ],
)
def test_where_a_notch_is_gone_the_ease_on_both_sides_of_it_is_of_one_stretch(
    plain: Pattern, lost: tuple[str, ...], kept: list[tuple[str, float, float]], last
) -> None:
    lineage = Lineage(plain, notches=frozenset((SIDE, name) for name in lost))
    after = one(seam().carried(lineage))
    assert [(each.to, *each.ease) for each in after.stretches] == kept
    assert (after.last, after.ease) == (last, (1111.0, 2222.0))


def test_a_notch_that_is_gone_elsewhere_joins_nothing(plain: Pattern) -> None:
    lineage = Lineage(plain, notches=frozenset({(HEM, "low"), (WAIST, "high")}))
    assert one(seam().carried(lineage)) == seam()


def test_a_seam_is_of_what_both_its_sides_became(plain: Pattern) -> None:
    pair = Seam(Ref(BLOCK, "pair"), (Way(SIDE),), (Way(CENTRE, forward=False),))
    lineage = became(plain, CENTRE, Became((Way(NEW), Way(OTHER))))
    after = one(pair.carried(lineage))
    assert after.a == (Way(SIDE),)
    # Walked backwards, so what it became is, too.
    assert after.b == (Way(OTHER, forward=False), Way(NEW, forward=False))
    for edge in (SIDE, CENTRE):
        for why in (Reason("cut-off", {"edge": edge}), None):
            carried = pair.carried(became(plain, edge, Became(why=why)))
            assert (carried.promises, carried.why) == ((pair,), why or Reason("gone"))


# -- girths ----------------------------------------------------------------------------------------


@pytest.fixture
def widths() -> tuple[Pattern, Girth]:
    """A panel worn twice, its width by a run, a line across and a span."""
    d = Draft(BLOCK, "Panel")
    panel(d)
    d.girth(
        "round", body=390.0, ease=(5.0, 15.0), runs=["hem"], times=2,
        spans=[(("centre", "hem"), ("hem", "side"))],
    )  # fmt: skip
    pattern = d.pattern()
    (girth,) = pattern.promises
    assert isinstance(girth, Girth)
    return pattern, girth


@pytest.mark.parametrize("asked", [True, False])
def test_length_that_is_let_in_is_wanted_where_it_was_asked_for(widths, asked: bool) -> None:
    """As often as the promise counts it."""
    pattern, girth = widths
    girth = Girth(girth.ref, girth.body, girth.ease, girth.runs, girth.spans, times=2, asked=asked)
    after = one(girth.carried(became(pattern, HEM, Became((Way(HEM),), added=7.0))))
    assert after.ease == ((19.0, 29.0) if asked else (5.0, 15.0))
    assert (after.body, after.times, after.runs) == (girth.body, 2, girth.runs)


def test_a_girth_of_an_edge_or_a_corner_that_is_gone_is_given_up(widths) -> None:
    pattern, girth = widths
    for edge in (HEM, SIDE, CENTRE):
        for why in (Reason("cut-off", {"edge": edge}), None):
            carried = girth.carried(became(pattern, edge, Became(why=why)))
            assert (carried.promises, carried.why) == ((girth,), why or Reason("gone"))
    gone = girth.carried(Lineage(pattern, cloths={PIECE: Gone()}))
    assert (gone.promises, gone.why) == ((girth,), Reason("gone"))


# Moved, turned about a place on the piece, and about the origin.
LAYS = [
    Affine.move(Point(30, 0)), Affine.move(Point(0, 30)),
    *(Affine.turn(turn, Point(40.3, 10.7)) for turn in (-1.1, -0.3, 0.1, 0.7, 1.3, 2.9)),
    Affine.turn(0.5, Point(0, 0)), Affine.turn(-0.5, Point(0, 0)),
]  # fmt: skip


@pytest.mark.parametrize("lay", LAYS)
def test_a_span_is_measured_with_its_second_corner_laid_back(widths, lay: Affine) -> None:
    """Only the cloth at its right end was carried away; laid back it is as long as before."""
    pattern, girth = widths
    (span,) = one(girth.carried(Lineage(pattern, cloths={PIECE: Moved(lay, 100.0)}))).spans
    assert tuple(span.lay(lay(Point(WIDE, 0)))) == pytest.approx((WIDE, 0.0))
    # All of it carried away together needs no laying.
    (whole,) = one(girth.carried(Lineage(pattern, cloths={PIECE: Moved(lay)}))).spans
    assert whole == girth.spans[0]
    # Carried back, nothing is left of it.
    again = Girth(girth.ref, 0.0, (0.0, 0.0), spans=(span,))
    lineage = Lineage(pattern, cloths={PIECE: Moved(lay.inverse(), 100.0)})
    assert one(again.carried(lineage)).spans == (Span(span.first, span.second),)


def test_a_span_that_was_laid_back_stays_so_when_all_is_moved(widths) -> None:
    """Laid back and then moved is moved and then laid back."""
    pattern, girth = widths
    laid = replace(girth.spans[0], lay=Affine.turn(0.3, Point(10.0, 20.0)))
    step = Affine.turn(0.5, Point(40.0, 10.0))
    lineage = Lineage(pattern, cloths={PIECE: Moved(step)})
    (after,) = one(replace(girth, spans=(laid,)).carried(lineage)).spans
    corner = Point(WIDE, 0)
    assert tuple(after.lay(step(corner))) == pytest.approx(tuple(step(laid.lay(corner))))


@pytest.mark.parametrize(("step", "stays"), [(0.6e-9, True), (1.6e-9, False)])
def test_what_turns_leave_by_rounding_is_no_step(widths, step: float, stays: bool) -> None:
    """A millionth of a micrometre is rounding."""
    pattern, girth = widths
    cloth = Moved(Affine.move(Point(step, 0)), 100.0)
    (span,) = one(girth.carried(Lineage(pattern, cloths={PIECE: cloth}))).spans
    assert (span.lay == Affine()) == stays


def test_a_level_across_is_what_it_became_as_often_as_it_is_worn(plain: Pattern) -> None:
    across = line(Point(0, 100), Point(WIDE, 100))
    level = LevelLine(PIECE, (across,), 2)
    girth = Girth(Ref(BLOCK, "hip"), 800.0, (0.0, 10.0), levels=(level,), times=2)
    step = Affine.move(Point(0, -20))
    after = one(girth.carried(Lineage(plain, cloths={PIECE: Moved(step)})))
    # 3 mm let in, worn twice on either half.
    assert after.ease == (12.0, 22.0)
    (moved,) = after.levels
    assert (moved.piece, moved.times) == (PIECE, 2)
    assert tuple(moved.parts[0].start) == pytest.approx((0.0, 80.0))
    gone = girth.carried(Lineage(plain, cloths={PIECE: Gone()}))
    assert (gone.promises, gone.why) == ((girth,), Reason("gone"))


# -- corners ---------------------------------------------------------------------------------------


def test_a_corner_is_where_what_its_edges_became_meet(plain: Pattern) -> None:
    """The last of what the first became, and the first of what the second became."""
    corner = Joint(HEM, SIDE)
    assert Lineage(plain).joint(corner) == corner
    two = Became((Way(NEW), Way(OTHER)))
    assert Lineage(plain, {HEM: two}).joint(corner) == Joint(OTHER, SIDE)
    assert Lineage(plain, {SIDE: two}).joint(corner) == Joint(HEM, NEW)
    for edge in (HEM, SIDE):
        for why in (Reason("cut-off", {"edge": edge}), None):
            gone = Lineage(plain, {edge: Became(why=why)}).joint(corner)
            assert gone == (why or Reason("gone"))


def test_a_corner_at_a_dart_moves_along_with_what_is_let_in_before_it(plain: Pattern) -> None:
    corner = DartJoint(WAIST, "dart", 90.0)
    assert Lineage(plain).joint(corner) == corner
    for at, along in ((89.0, 97.0), (90.0, 90.0), (91.0, 90.0)):
        lineage = Lineage(plain, {WAIST: Became((Way(NEW),), added=7.0, at=at)})
        assert lineage.joint(corner) == DartJoint(NEW, "dart", along)
    drawn = Lineage(plain, {WAIST: Became((Way(NEW),), drawn=True)})
    assert drawn.joint(corner) == Reason("drawn-anew", {"edge": WAIST})
    parted = Lineage(plain, {WAIST: Became((Way(NEW), Way(OTHER)))})
    assert parted.joint(corner) == Reason("gone")


def test_a_run_is_all_that_its_steps_became(plain: Pattern) -> None:
    tape = Given("tape", 40.0)
    lineage = Lineage(
        plain,
        {HEM: Became((Way(NEW),), added=3.0), SIDE: Became((Way(OTHER),), added=4.0, drawn=True)},
    )
    after = lineage.run((Way(HEM), tape, -Way(SIDE), Way(WAIST)))
    assert after.run == (Way(NEW), tape, -Way(OTHER), Way(WAIST))
    assert (after.added, after.drawn) == (7.0, True)
    assert not lineage.run((Way(HEM), Way(WAIST))).drawn
