"""Darts turned, split and shortened: what is sewn stays what it was.

Every promise of the pattern goes along: it holds as before, breaks by as much as the cloth says, or
is given up and on record.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from bending import with_edge
from dart_panel import (
    DEEP,
    INTAKE,
    LEVELS,
    OPENS,
    TALL,
    WIDE,
    angle,
    broken,
    check_proved,
    cloth,
    folded,
    given_up,
    to_hem,
    to_side,
)

from blockwright import (
    GeometryError,
    Pattern,
    Piece,
    Point,
    Ref,
    distance,
    line,
    move_dart,
    shorten_dart,
)
from blockwright.pattern.widths import width_across
from promised import prove_promised as prove

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


def test_a_guide_crossed_by_the_cut_is_turned_and_ends_at_the_dart(pattern: Pattern) -> None:
    """Drawn on over the opening it could leave the cloth."""
    still, turned = (guide.curve for guide in to_hem(pattern).piece("panel").guides)
    assert (still.length, turned.length) == pytest.approx((WIDE / 2.0, WIDE / 2.0))
    across = distance(still.end, turned.start)
    assert across == pytest.approx(2.0 * (TALL - DEEP - 100.0) * math.sin(OPENS / 2.0))
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


# -- levels ----------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", LEVELS)
def test_levels_are_measured_with_the_dart_folded_away(panel: Piece, name: str) -> None:
    height = LEVELS[name]
    across = [line(Point(0.0, height), Point(WIDE, height))]
    assert width_across(panel, across).width == pytest.approx(WIDE - folded(height))
