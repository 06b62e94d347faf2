"""Darts turned, split, shortened, spread and taken in: what is sewn stays what it was.

Every promise of the pattern goes along: it holds as before, breaks by as much as the cloth says, or
is given up and on record.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from bending import with_edge

from blockwright import (
    Across,
    BodySheet,
    Curve,
    Dart,
    Draft,
    Edge,
    GeometryError,
    Given,
    Guide,
    InputError,
    Notch,
    Pattern,
    PatternError,
    Piece,
    Point,
    Ref,
    Result,
    Stretch,
    distance,
    draft,
    line,
    load,
    move_dart,
    polyline,
    prove,
    roof_between,
    shorten_dart,
    signed_area,
    spread,
    take_in,
)
from blockwright.pattern.dart import opening, sewn_outline
from blockwright.pattern.widths import width_across

WIDE, TALL, INTAKE, DEEP = 240.0, 300.0, 30.0, 120.0
LEVELS = {"high": 290.0, "middle": 200.0, "hip": 100.0}
"""Heights of levels across: near the mouth of the dart, just over its point, and below that."""
OPENS = 2.0 * math.atan(INTAKE / 2.0 / DEEP)


def folded(height: float, deep: float = DEEP) -> float:
    """Cloth of the dart at a level, mm, by similar triangles."""
    return INTAKE * max(height - (TALL - deep), 0.0) / deep


def level(height: float) -> list[Across]:
    return [Across("panel", line(Point(0.0, height), Point(WIDE, height)))]


@pytest.fixture
def pattern() -> Pattern:
    """A panel 240 by 300 with a waist dart in the middle of its top, and what it promises."""
    apex = Point(120.0, TALL - DEEP)
    right, left = Point(120.0 + INTAKE / 2, TALL), Point(120.0 - INTAKE / 2, TALL)
    inner = line(Point(WIDE, TALL), right)
    outer = line(left, Point(0.0, TALL))
    mouth = Edge("waist dart mouth", roof_between(apex, inner, outer, "end"), "dart")
    hem = Edge("hem", line(Point(0.0, 0.0), Point(WIDE, 0.0)), "hem")
    side = Edge("side", line(Point(WIDE, 0.0), Point(WIDE, TALL)))
    centre = Edge("centre", line(Point(0.0, TALL), Point(0.0, 0.0)), "fold")
    waist = Edge("waist", inner, "waist")
    d = Draft("test.panel", "Panel")
    dart = Dart("waist dart", apex, mouth.name, "end", "pressed to the centre")
    d.piece(
        "panel", [hem, side, waist, mouth, Edge("waist", outer, "waist"), centre],
        grain=(Point(60.0, 20.0), Point(60.0, 150.0)), label_at=Point(60.0, 80.0), darts=[dart],
        notches=[Notch("hip notch", "side", 100.0), Notch("hem notch", "hem", 200.0)],
        guides=[Guide("hip line", line(Point(0.0, 100.0), Point(WIDE, 100.0)))],
    )  # fmt: skip
    tape = Given("tape", TALL, {"hip notch": 100.0})
    d.seam("side", side, tape, stretches=[Stretch("hip notch", (0.0, 0.0))], last=0.0)
    d.girth("waist", runs=[waist], body=WIDE - INTAKE, ease=0.0)
    d.girth("hem", runs=[hem], body=WIDE, ease=0.0)
    for name, height in LEVELS.items():
        d.girth(name, levels=level(height), body=WIDE - folded(height), ease=0.0)
    # Two right angles, and the dart closed between them.
    d.corner("waist over the dart", dart, angle=180.0 + math.degrees(OPENS))
    d.corner("hem at the side", (hem, side), angle=90.0)
    d.corner("waist at the centre", (waist, centre), angle=90.0)
    d.level("hem near the side", hem, Point(220.0, 0.0), within=0.01)
    d.level("hem near the centre", hem, Point(20.0, 0.0), within=0.01)
    made = d.pattern()
    assert prove(made).held
    return made


@pytest.fixture
def panel(pattern: Pattern) -> Piece:
    return pattern.piece("panel")


def cloth(pattern: Pattern) -> float:
    """Area that shows when the darts are sewn."""
    return signed_area(sewn_outline(pattern.piece("panel")))


def angle(pattern: Pattern, name: str) -> float:
    piece = pattern.piece("panel")
    dart = piece.dart(name)
    return opening(dart.apex, *piece.dart_legs(dart))


def broken(pattern: Pattern) -> dict[str, Result]:
    """What broke, by the name of its promise, the whole seam before its stretches."""
    return {result.subject.name: result for result in reversed(prove(pattern).broken)}


def given_up(pattern: Pattern) -> dict[str, str]:
    """Why each promise was given up, by its name."""
    return {each.promise.name: each.why.code for each in pattern.given_up}


def check_proved(pattern: Pattern) -> None:
    """Every promise was kept, and holds."""
    proof = prove(pattern)
    assert proof.held, [(proof.say(each), proof.off(each)) for each in proof.broken]
    assert not pattern.given_up


def to_side(pattern: Pattern, share: float = 1.0) -> Pattern:
    return move_dart(
        pattern, "panel", "waist dart", "side", 220.0, name="side dart", pressed="start",
        says="pressed down", share=share,
    )[0]  # fmt: skip


def to_hem(pattern: Pattern) -> Pattern:
    return move_dart(
        pattern, "panel", "waist dart", "hem", 120.0, pressed="start", says="pressed to the centre"
    )[0]


# -- turned ----------------------------------------------------------------------------------------


def test_a_dart_moved_keeps_cloth_angle_and_seams(pattern: Pattern) -> None:
    moved = to_side(pattern)
    check_proved(moved)
    assert cloth(moved) == pytest.approx(cloth(pattern), rel=1e-12)
    piece = moved.piece("panel")
    assert [dart.name for dart in piece.darts] == ["side dart"]
    assert angle(moved, "side dart") == pytest.approx(angle(pattern, "waist dart"), abs=1e-12)
    for name in ("hem", "waist", "side", "centre"):
        assert moved.length(name) == pytest.approx(pattern.length(name))
    assert [edge.curve.length for edge in moved.stretches("side")] == pytest.approx([220.0, 80.0])
    # The waist is one line again: the dart is closed.
    assert len(pattern.stretches("waist")) == 2
    assert moved.edge("waist").curve.length == pytest.approx(WIDE - INTAKE)


def test_promises_are_measured_on_the_cloth_that_was_turned(pattern: Pattern) -> None:
    """As far as before, to a thousandth, over a dart that is somewhere else; and they can break."""
    before, after = ({r.subject: r for r in prove(p).results} for p in (pattern, to_side(pattern)))
    for name in (*LEVELS, "waist", "hem", "waist over the dart", "waist at the centre"):
        ref = Ref("test.panel", name)
        assert after[ref].measured == pytest.approx(before[ref].measured, abs=1e-3), name
        assert after[ref].wanted == before[ref].wanted
    moved = to_side(pattern)
    piece = moved.piece("panel")
    (dart,) = piece.darts
    aside = replace(dart, apex=dart.apex + Point(0.0, 2.0))
    assert {"middle", "side dart"} <= broken(
        moved.with_piece(replace(piece, darts=(aside,)))
    ).keys()


def test_a_corner_stays_where_its_dart_stood(pattern: Pattern) -> None:
    moved = to_side(pattern)
    waist = moved.edge("waist").curve
    ahead, behind = waist.tangent_at(105.1), waist.tangent_at(104.9)
    assert math.atan2(ahead.cross(behind), ahead.dot(behind)) == pytest.approx(OPENS)
    straight = with_edge(moved, "waist", line(waist.start, waist.end))
    assert broken(straight)["waist over the dart"].miss == pytest.approx(math.degrees(OPENS))


def test_a_dart_keeps_its_name_unless_another_is_given(pattern: Pattern) -> None:
    (dart,) = to_hem(pattern).piece("panel").darts
    assert (dart.name, dart.mouth, dart.pressed) == ("waist dart", "waist dart mouth", "start")


def test_a_notch_stays_on_its_cloth(pattern: Pattern) -> None:
    moved = to_hem(pattern)
    piece = moved.piece("panel")
    notch = piece.notch("hem notch")
    assert (notch.edge, notch.along) == ("hem", 200.0)
    curve, along = piece.notch_at(notch)
    assert curve is moved.stretches("hem")[1].curve
    assert along == pytest.approx(80.0)
    # It is as far from the point of the dart as before, where the cloth was turned about that.
    (dart,) = piece.darts
    assert distance(curve.point_at(along), dart.apex) == pytest.approx(
        distance(Point(200.0, 0.0), Point(120.0, TALL - DEEP))
    )


def test_a_guide_crossed_by_the_cut_is_turned_and_goes_on_over_the_dart(pattern: Pattern) -> None:
    (guide,) = to_hem(pattern).piece("panel").guides
    still, over, turned = (Curve(piece[None]) for piece in guide.curve.control)
    assert (still.length, turned.length) == pytest.approx((WIDE / 2.0, WIDE / 2.0))
    assert over.length == pytest.approx(2.0 * (TALL - DEEP - 100.0) * math.sin(OPENS / 2.0))
    assert still.end_tangent.dot(turned.start_tangent) == pytest.approx(math.cos(OPENS))


def test_what_is_turned_against_the_grain_is_not_level_and_is_again_when_turned_back(
    pattern: Pattern,
) -> None:
    away = to_hem(pattern)
    assert given_up(away) == {"hem near the side": "turned"}
    assert prove(away).held
    back, _ = move_dart(
        away, "panel", "waist dart", "waist", 105.0, pressed="end", says="pressed to the centre"
    )
    check_proved(back)
    assert [p.ref for p in back.promises] == [p.ref for p in pattern.promises]


def test_moving_there_and_back_is_no_move(pattern: Pattern) -> None:
    away = to_side(pattern)
    back, _ = move_dart(
        away, "panel", "side dart", "waist", 105.0, name="waist dart", pressed="end",
        says="pressed to the centre",
    )  # fmt: skip
    check_proved(back)
    piece, was = back.piece("panel"), pattern.piece("panel")
    assert [edge.name for edge in piece.edges] == [edge.name for edge in was.edges]
    for new, old in zip(piece.edges, was.edges, strict=True):
        assert new.curve.length == pytest.approx(old.curve.length, abs=1e-9)
        assert distance(new.curve.start, old.curve.start) < 1e-9
    (dart,), (first,) = piece.darts, was.darts
    assert replace(dart, apex=first.apex) == first
    assert distance(dart.apex, first.apex) < 1e-9
    assert cloth(back) == pytest.approx(cloth(pattern), rel=1e-9)


def test_a_piece_is_given_by_its_identity_or_its_name(pattern: Pattern) -> None:
    ref = Ref("test.panel", "panel")
    by_ref, lineage = shorten_dart(pattern, ref, "waist dart", 20.0)
    by_name, _ = shorten_dart(pattern, "panel", "waist dart", 20.0)
    assert by_ref.piece(ref) == by_name.piece("panel")
    assert lineage.before is pattern


def test_a_change_is_on_record(pattern: Pattern) -> None:
    assert not pattern.changes
    moved = to_side(pattern, 0.4)
    short, _ = shorten_dart(moved, "panel", "side dart", 20.0)
    assert [change.verb for change in short.changes] == ["move_dart", "shorten_dart"]
    told = short.changes[0].values
    assert (told["dart"], told["edge"], told["along"], told["share"]) == (
        "waist dart", "side", 220.0, 0.4,
    )  # fmt: skip


# -- split and shortened ---------------------------------------------------------------------------


def test_a_share_splits_one_dart_in_two(pattern: Pattern) -> None:
    split = to_side(pattern, 0.4)
    whole = angle(pattern, "waist dart")
    check_proved(split)
    assert angle(split, "side dart") == pytest.approx(0.4 * whole)
    assert angle(split, "waist dart") == pytest.approx(0.6 * whole)
    assert cloth(split) == pytest.approx(cloth(pattern), rel=1e-12)


def test_split_on_its_own_edge_then_shortened_apart(pattern: Pattern) -> None:
    split, _ = move_dart(
        pattern, "panel", "waist dart", "waist", 50.0, name="second dart", pressed="end",
        says="pressed to the centre", share=0.5,
    )  # fmt: skip
    check_proved(split)
    lengths = [edge.curve.length for edge in split.stretches("waist")]
    assert lengths == pytest.approx([50.0, 55.0, 105.0])
    piece = split.piece("panel")
    assert [dart.name for dart in piece.darts_on("waist")] == ["second dart", "waist dart"]
    apart, _ = shorten_dart(split, "panel", "second dart", 20.0)
    first, second = (angle(apart, name) for name in ("waist dart", "second dart"))
    assert angle(split, "waist dart") == pytest.approx(angle(split, "second dart"))
    assert first + second > angle(pattern, "waist dart")  # a shorter dart opens wider
    assert cloth(split) == pytest.approx(cloth(pattern), rel=1e-12)
    # Cloth that the longer dart had folded away shows now, at the levels that cross it.
    assert set(broken(apart)) == {"high", "middle"}
    assert not apart.given_up


def test_a_shortened_dart_keeps_its_mouth_and_equal_legs(pattern: Pattern, panel: Piece) -> None:
    short, _ = shorten_dart(pattern, "panel", "waist dart", 25.0)
    piece = short.piece("panel")
    (dart,) = piece.darts
    assert dart.apex.y == pytest.approx(TALL - DEEP + 25.0)
    assert piece.dart_legs(dart) == panel.dart_legs(panel.darts[0])
    assert "dart-legs" not in {result.kind for result in prove(short).broken}


def test_a_shortened_dart_breaks_what_it_changes_and_no_more(pattern: Pattern) -> None:
    by = 25.0
    short, _ = shorten_dart(pattern, "panel", "waist dart", by)
    found = broken(short)
    assert set(found) == {"high", "middle", "waist over the dart"}
    for name in ("high", "middle"):
        height = LEVELS[name]
        more = folded(height) - folded(height, DEEP - by)
        assert found[name].miss == pytest.approx(more, abs=1e-6)
    wider = 2.0 * math.atan(INTAKE / 2.0 / (DEEP - by)) - OPENS
    assert found["waist over the dart"].miss == pytest.approx(math.degrees(wider))


@pytest.mark.parametrize("by", [DEEP, DEEP + 1.0, 0.0, -5.0, math.nan])
def test_a_dart_is_shortened_by_less_than_it_is_deep(pattern: Pattern, by: float) -> None:
    with pytest.raises(GeometryError, match=r"cannot be shortened by .* than the 120\.0 mm"):
        shorten_dart(pattern, "panel", "waist dart", by)


# -- spread and taken in ---------------------------------------------------------------------------


def test_spread_closes_the_dart_into_a_smooth_wider_hem(pattern: Pattern) -> None:
    flared, _ = spread(pattern, "panel", "waist dart", "hem", 120.0)
    piece = flared.piece("panel")
    assert not piece.darts
    added = (TALL - DEEP) * angle(pattern, "waist dart")
    hem = flared.edge("hem").curve
    assert hem.length == pytest.approx(WIDE + added)
    for along in (119.0, 121.0 + added):
        ahead, behind = hem.tangent_at(along + 1.1), hem.tangent_at(along - 1.1)
        assert ahead.dot(behind) == pytest.approx(1.0, abs=2e-4)
    # Notches keep their distance from the end they are measured from.
    assert piece.notch("hem notch").along == pytest.approx(200.0 + added)
    assert len(flared.stretches("waist")) == 1
    assert flared.length("waist") == pytest.approx(WIDE - INTAKE)


def test_a_width_that_was_asked_for_grows_by_what_is_let_in(pattern: Pattern) -> None:
    flared, _ = spread(pattern, "panel", "waist dart", "hem", 120.0)
    assert prove(flared).held
    assert given_up(flared) == {"hem near the side": "turned"}
    wanted = {r.subject.name: r.wanted for r in prove(flared).results if r.kind == "girth"}
    # An arc at the hem; the straight way over the gap at a level.
    let_in = {
        "hem": (TALL - DEEP) * OPENS,
        "hip": 2.0 * (TALL - DEEP - LEVELS["hip"]) * math.sin(OPENS / 2.0),
    }
    widths = {"waist": WIDE - INTAKE, "hem": WIDE}
    widths |= {name: WIDE - folded(height) for name, height in LEVELS.items()}
    assert wanted.keys() == widths.keys()
    for name, width in widths.items():
        wide = width + let_in.get(name, 0.0)
        assert wanted[name] == pytest.approx((wide, wide)), name


def test_a_width_that_the_body_needs_does_not_grow(pattern: Pattern) -> None:
    held = tuple(
        replace(promise, asked=False) if promise.name in ("hem", "hip") else promise
        for promise in pattern.promises
    )
    flared, _ = spread(replace(pattern, promises=held), "panel", "waist dart", "hem", 120.0)
    found = broken(flared)
    assert set(found) == {"hem", "hip"}
    assert found["hem"].miss == pytest.approx((TALL - DEEP) * OPENS)


def test_a_seam_that_is_spread_breaks_until_its_other_side_is_as_long(pattern: Pattern) -> None:
    wide, _ = spread(pattern, "panel", "waist dart", "side", 200.0)
    found = broken(wide)
    assert set(found) == {"side"}
    assert (found["side"].code, dict(found["side"].values)) == ("seam", {})
    added = wide.length("side") - TALL
    assert added == pytest.approx(distance(Point(120.0, 180.0), Point(WIDE, 200.0)) * OPENS)
    assert found["side"].miss == pytest.approx(added)
    # The notch is below where it was let in, so only what comes after it is too long.
    stretches = [r for r in prove(wide).broken if r.code == "seam.stretch"]
    assert [dict(each.values) for each in stretches] == [{"since": "hip notch", "to": ""}]


def test_spread_closes_a_share_of_the_dart(pattern: Pattern) -> None:
    half, _ = spread(pattern, "panel", "waist dart", "hem", 120.0, share=0.5)
    assert prove(half).held
    assert angle(half, "waist dart") == pytest.approx(0.5 * angle(pattern, "waist dart"))


def test_taken_in_at_the_side_the_waist_is_as_long_as_before(pattern: Pattern) -> None:
    taken, _ = take_in(pattern, "panel", "waist dart", "side", 200.0)
    assert not taken.piece("panel").darts
    assert taken.edge("waist").curve.length == pytest.approx(WIDE - INTAKE, abs=1e-6)
    side = taken.edge("side").curve
    assert side.end.x == pytest.approx(WIDE - INTAKE, abs=0.5)
    assert side.point_at(90.0).x == pytest.approx(WIDE)
    assert taken.piece("panel").notch("hip notch").along == 100.0
    # The corner that the dart made is drawn away, and the side is longer than its tape.
    assert given_up(taken) == {"waist over the dart": "drawn-anew"}
    found = broken(taken)
    assert set(found) == {"side", "high", "middle"}
    assert found["side"].miss == pytest.approx(side.length - TALL)
    assert "waist" not in found


def test_a_notch_on_what_is_drawn_anew_is_left_out_and_its_stretches_joined(
    pattern: Pattern,
) -> None:
    taken, _ = take_in(pattern, "panel", "waist dart", "side", 250.0)
    assert [notch.name for notch in taken.piece("panel").notches] == ["hem notch"]
    side = [r for r in prove(taken).results if r.subject.name == "side"]
    assert [(r.code, dict(r.values)) for r in side] == [
        ("seam", {}), ("seam.stretch", {"since": "", "to": ""}),
    ]  # fmt: skip


# -- refused ---------------------------------------------------------------------------------------


def test_what_cannot_be_done_is_said(pattern: Pattern, panel: Piece) -> None:
    with pytest.raises(PatternError, match=r"'bust dart'; did you mean waist dart\? It has"):
        shorten_dart(pattern, "panel", "bust dart", 5.0)
    with pytest.raises(PatternError, match=r"no piece 'panl'; did you mean panel\?"):
        shorten_dart(pattern, "panl", "waist dart", 5.0)
    with pytest.raises(PatternError, match=r"no edge 'sid'; did you mean side\?"):
        spread(pattern, "panel", "waist dart", "sid", 5.0)
    bare = Pattern("test.panel", "Panel", (replace(panel, darts=()),))
    with pytest.raises(PatternError, match="no dart 'x'; it has none"):
        shorten_dart(bare, "panel", "x", 5.0)
    with pytest.raises(PatternError, match="'hem' does not meet 'waist'"):
        take_in(pattern, "panel", "waist dart", "hem", 10.0)
    with pytest.raises(PatternError, match="'centre' is on the fold and takes no dart"):
        spread(pattern, "panel", "waist dart", "centre", 150.0)


def test_only_a_dart_that_is_alone_in_an_edge_is_taken_in(pattern: Pattern) -> None:
    split, _ = move_dart(
        pattern, "panel", "waist dart", "waist", 50.0, name="second dart", pressed="end",
        says="pressed to the centre", share=0.5,
    )  # fmt: skip
    with pytest.raises(PatternError, match="'waist dart' is not the only one in an edge"):
        take_in(split, "panel", "waist dart", "side", 200.0)


def test_darts_of_one_piece_have_names_of_their_own(pattern: Pattern) -> None:
    more = {"pressed": "start", "says": "pressed down", "share": 0.5}
    with pytest.raises(PatternError, match="the new dart has no name; give name="):
        move_dart(pattern, "panel", "waist dart", "side", 220.0, **more)
    with pytest.raises(PatternError, match="two darts would be called 'waist dart'; give name="):
        move_dart(pattern, "panel", "waist dart", "side", 220.0, name="waist dart", **more)


@pytest.mark.parametrize("share", [2.0, 1.0 + 1e-9, 0.0, -0.5, math.nan])
def test_a_dart_is_closed_wholly_or_in_part(pattern: Pattern, share: float) -> None:
    for close in (
        lambda: to_side(pattern, share),
        lambda: spread(pattern, "panel", "waist dart", "hem", 120.0, share=share),
    ):
        with pytest.raises(PatternError, match=f"share of {share:g} of 'waist dart'"):
            close()


def test_a_slash_that_leaves_the_piece_is_refused() -> None:
    """A notch-shaped piece: the straight way from the point to the place lies outside it."""
    apex = Point(20.0, 60.0)
    bay = ((100, 100), (80, 100), (80, 20), (40, 20), (40, 100))
    inner, outer = (
        line(Point(40.0, 100.0), Point(25.0, 100.0)),
        line(Point(15.0, 100.0), Point(0.0, 100.0)),
    )
    edges = (
        Edge("foot", polyline([Point(0, 0), Point(100, 0), Point(100, 100)])),
        Edge("bay", polyline([Point(x, y) for x, y in bay])),
        Edge("top", inner, "waist"),
        Edge("mouth", roof_between(apex, inner, outer, "end"), "dart"),
        Edge("top", outer, "waist"),
        Edge("centre", line(Point(0.0, 100.0), Point(0.0, 0.0))),
    )
    piece = Piece(
        "bay", edges, (Point(5, 5), Point(5, 50)), Point(20, 10),
        darts=(Dart("dart", apex, "mouth", "end", ""),),
    )  # fmt: skip
    pattern = Pattern("test.bay", "Bay", (piece,))
    with pytest.raises(GeometryError, match="leaves the piece"):
        move_dart(pattern, "bay", "dart", "foot", 150.0, pressed="start", says="")


# -- levels ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", LEVELS)
def test_levels_are_measured_with_the_dart_folded_away(panel: Piece, name: str) -> None:
    height = LEVELS[name]
    across = [line(Point(0.0, height), Point(WIDE, height))]
    assert width_across(panel, across).width == pytest.approx(WIDE - folded(height))


def bodice() -> Pattern:
    values = {
        "bust_girth": 88, "waist_girth": 70, "neck_girth": 36, "shoulder_length": 12,
        "across_back_width": 34, "upper_arm_girth": 28, "back_neck_point_to_waist": 40,
        "bust_point_width": 18, "side_neck_point_to_bust_point": 26,
        "front_neck_point_to_waist": 34,
    }  # fmt: skip
    body = BodySheet.from_values(values, units="cm", name="Trial")
    return draft(load().block("bodice.fitted"), body)


@pytest.mark.parametrize(
    ("name", "says", "words"),
    [
        ("back waist dart", "down", "an edge of another piece is called 'back waist dart mouth'"),
        ("a\nb", "down", "give text of one line"),
        ("new dart", "up\ndown", "give text of one line"),
    ],
)
def test_a_name_that_cannot_be_is_refused(name: str, says: str, words: str) -> None:
    with pytest.raises(PatternError, match=words):
        move_dart(
            bodice(), "front", "bust dart", "front shoulder", 57.0, name=name, pressed="start",
            says=says,
        )  # fmt: skip


@pytest.mark.parametrize("near", [5e-4, 5e-3])
def test_a_dart_does_not_open_within_a_hundredth_of_an_end(near: float) -> None:
    pattern = bodice()
    for along in (near, pattern.length("front shoulder") - near):
        with pytest.raises(GeometryError, match="no room to open 'front shoulder'"):
            move_dart(
                pattern, "front", "bust dart", "front shoulder", along, pressed="start", says=""
            )


def test_a_fold_is_not_taken_in() -> None:
    with pytest.raises(PatternError, match="'centre back' is on the fold and stays straight"):
        take_in(bodice(), "back", "back waist dart", "centre back", 100.0)


def test_a_block_is_not_drafted_twice_nor_for_two_bodies() -> None:
    pattern = bodice()
    body = BodySheet.from_values(pattern.measurements, units="mm", name="Trial")
    with pytest.raises(InputError, match=r"bodice\.fitted is there already"):
        draft(load().block("bodice.fitted"), body, beside=pattern)
    values = {"waist_girth": 70, "hip_girth": 96, "waist_to_hip": 20}
    other = BodySheet.from_values(values, units="cm", name="Another")
    with pytest.raises(InputError, match="drafted for 'Trial' and this sheet is of 'Another'"):
        draft(load().block("skirt.straight"), other, beside=pattern)
