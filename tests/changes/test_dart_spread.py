"""Darts spread and taken in: what was in the dart goes to the hem or to the side."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from dart_panel import DEEP, INTAKE, LEVELS, OPENS, TALL, WIDE, angle, broken, folded, given_up

from blockwright import (
    Pattern,
    Point,
    distance,
    spread,
    take_in,
)
from promised import prove_promised as prove


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
