"""Trousers drawn by a wrong rule break a promise, though all of them agrees with itself.

Widths and lengths are promised against the body and what was asked for, not against what was drawn.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
from bending import told
from trousers_samples import MIDDLING, drafted

from blockwright_trousers import seat
from blockwright_trousers.body import TrousersBody
from blockwright_trousers.seat import Seat

QUARTER, LEVELS = TrousersBody.hip_quarter.fget, Seat.levels


def hips_a_centimetre_over(patch) -> None:
    patch.setattr(TrousersBody, "hip_quarter", property(lambda block: QUARTER(block) + 2.5))


def seat_seam_too_long(patch) -> None:
    patch.setattr(seat, "USUAL_SEAT_EASE", 15.0)


def inside_leg_stretched_too_far(patch) -> None:
    patch.setattr(seat, "USUAL_STRETCH", 8.0)


def levels_moved(crotch: float, hem: float):
    """Crotch line and hem higher by so much, mm."""

    def bend(patch) -> None:
        def levels(block, rise):
            at = LEVELS(block, rise)
            return replace(at, crotch=at.crotch + crotch, hem=at.hem + hem)

        patch.setattr(Seat, "levels", levels)

    return bend


@pytest.mark.parametrize(
    ("settings", "bend", "wanted"),
    [
        ({}, hips_a_centimetre_over, {("girth", "hip")}),
        ({"hip_ease": "7 cm"}, hips_a_centimetre_over, {("girth", "hip")}),
        ({"back_hip": "27 cm"}, hips_a_centimetre_over, {("girth", "hip")}),
        ({}, seat_seam_too_long, {("length", "seat seam")}),
        ({}, inside_leg_stretched_too_far,
         {("seam", "inside leg"), ("seam.stretch", "inside leg", "inside knee notch", "")}),
        ({}, levels_moved(0.0, 30.0), {("length", "outside leg length")}),
        ({"crotch_ease": "3 cm"}, levels_moved(0.0, 30.0),
         {("length", "outside leg length"), ("length", "inside leg length")}),
        ({"crotch_ease": "3 cm", "seat_ease": "3 cm"}, levels_moved(-20.0, 0.0),
         {("length", "inside leg length")}),
    ],
)  # fmt: skip
def test_a_bent_rule_breaks_its_promise(monkeypatch, settings, bend, wanted) -> None:
    assert drafted(MIDDLING, **settings)[1].held
    bend(monkeypatch)
    broken = {told(result) for result in drafted(MIDDLING, **settings)[1].broken}
    assert broken == wanted


def test_what_results_is_promised_what_could_be_asked_for() -> None:
    settings = {"front_hip": "25.5 cm", "back_hip": "27.5 cm"}
    _, proof = drafted(MIDDLING, **settings)
    assert proof.held, list(proof.broken)
    (hip,) = (result for result in proof.results if told(result) == ("girth", "hip"))
    assert hip.wanted == (990.0, 990.0 + 200.0)
