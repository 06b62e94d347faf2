"""A skirt drawn by a wrong rule breaks a promise, though all of it agrees with itself.

Widths are promised against the body and what was asked for, not against what was drawn.
"""

from __future__ import annotations

import pytest
from bending import told
from skirt_samples import BODY, drafted

from blockwright_skirt import flared
from blockwright_skirt.circle import CircleSkirt
from blockwright_skirt.flared import FlaredSkirt
from blockwright_skirt.gored import GoredSkirt
from blockwright_skirt.quarter import Flare

# On a waist with much to take in.
SMALL = BODY | {"waist_girth": 600.0}
EVEN = "back hem, flared as the front's"
HALF = {"closed": "0.5"}
SPREAD, FLARE, RADIUS = flared.spread, Flare.to, CircleSkirt.radius.fget


def closing_times(back: float, front: float):
    """Darts closed by so many times what was asked for."""
    times = {"back": back, "front": front}

    def bend(patch) -> None:
        def spread(pattern, piece, *args, share):
            return SPREAD(pattern, piece, *args, share=share * times[piece])

        patch.setattr(flared, "spread", spread)

    return bend


def flaring_times(times: float):
    """Seams that flare by so many times what was asked for."""

    def bend(patch) -> None:
        patch.setattr(Flare, "to", lambda out, *args: FLARE(times * out, *args))

    return bend


def radius_times(times: float):
    """A waist of another radius than the one that was asked for."""

    def bend(patch) -> None:
        patch.setattr(CircleSkirt, "radius", property(lambda skirt: times * RADIUS(skirt)))

    return bend


@pytest.mark.parametrize(
    ("block", "settings", "bend", "names"),
    [
        (FlaredSkirt, {}, closing_times(0.9, 0.9), {"hem"}),
        (FlaredSkirt, {}, flaring_times(0.5), {"hem"}),
        (FlaredSkirt, {}, flaring_times(1.5), {"hem"}),
        (FlaredSkirt, {"side_flare": "12 cm"}, flaring_times(1.3), {"hem"}),
        # As wide as it should be, but too much of it behind, or before.
        (FlaredSkirt, HALF, closing_times(1.95, 0.05), {EVEN}),
        (FlaredSkirt, HALF, closing_times(0.05, 1.95), {EVEN}),
        (CircleSkirt, {}, radius_times(1.1), {"waist", "hip line", "hem"}),
        (CircleSkirt, {"circles": "0.5"}, radius_times(1.1), {"waist", "hip line", "hem"}),
        # Hardly more than the hip, and then less than it.
        (CircleSkirt, {"circles": "0.27"}, radius_times(0.9), {"waist", "hip", "hip line", "hem"}),
        (GoredSkirt, {}, flaring_times(0.0), {"hem"}),
        (GoredSkirt, {}, flaring_times(2.0), {"hem"}),
    ],
)  # fmt: skip
def test_a_bent_rule_breaks_its_promise(monkeypatch, block, settings, bend, names) -> None:
    assert drafted(block, SMALL, **settings)[1].held
    bend(monkeypatch)
    broken = {told(result) for result in drafted(block, SMALL, **settings)[1].broken}
    assert broken == {("girth", name) for name in names}
