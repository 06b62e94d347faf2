"""Odd bodies and settings: drafted and proved, or refused in words; never a crash."""

from __future__ import annotations

import random

import pytest
from sleeve_samples import BOTH, MIDDLING, drafted

from blockwright import InputError
from blockwright_sleeve.fitted import FittedSleeve
from blockwright_sleeve.straight import StraightSleeve

NAMES = (
    "upper_arm_girth",
    "wrist_girth",
    "outer_arm_length",
    "upper_arm_length",
    "front_armhole_length",
    "back_armhole_length",
)

# Centimetres in the order of NAMES, block, settings: each was a crash or a broken promise once.
REFUSED = {
    "a hem far wider than the sleeve is long": (
        (29, 16, 58.5, 33, 22, 23), StraightSleeve, {"hem": "120cm", "sleeve_length": "30cm"},
    ),
    "armhole halves that differ by more than the bicep": (
        (66, 32, 77, 40, 52.7, 65), StraightSleeve, {"bicep_width": "10cm"},
    ),
    "a bicep three times the armhole": (
        (18.5, 11.9, 42.9, 14.2, 15.6, 12.7), FittedSleeve, {"bicep_width": "90cm"},
    ),
    "a sleeve that ends above its bicep line": (
        (80, 32.4, 74.2, 40, 65, 52.4), StraightSleeve,
        {"bicep_ease": "20cm", "sleeve_length": "10cm"},
    ),
    "a dart too short for its intake": (
        (76.7, 28.8, 90.6, 55, 60.3, 60.3), FittedSleeve, {"elbow_dart_length": "3cm"},
    ),
    "a cap so high and uneven that it would overhang": (
        (45.13, 16.8, 51.5, 33.2, 36.25, 44.2), StraightSleeve,
        {"bicep_ease": "4mm", "cap_ease": "25mm"},
    ),
    "an elbow dart past the middle of the sleeve": (
        (29, 16, 58.5, 33, 22, 23), FittedSleeve, {"elbow_dart_length": "20cm"},
    ),
    "an armhole far too large for the arm": (
        (20, 16, 58.5, 33, 35, 35), StraightSleeve, {},
    ),
    "a cap too flat to be one": (
        (29, 16, 58.5, 33, 22, 23), StraightSleeve, {"bicep_width": "44.8cm"},
    ),
    "a cap too steep for its armhole": (
        (20, 12, 58.5, 33, 22, 23), FittedSleeve, {"bicep_width": "29cm", "cap_ease": "8cm"},
    ),
    "a cap as high as the sleeve is long": (
        (29, 16, 58.5, 33, 22, 23), StraightSleeve, {"sleeve_length": "12cm"},
    ),
    "a bicep narrower than the arm": (
        (29, 16, 58.5, 33, 22, 23), FittedSleeve, {"bicep_width": "25cm"},
    ),
}  # fmt: skip


def body(centimetres) -> dict[str, float]:
    return dict(zip(NAMES, (10.0 * value for value in centimetres), strict=True))


@pytest.mark.parametrize("name", REFUSED)
def test_what_cannot_be_is_refused_in_words(name: str) -> None:
    centimetres, block, settings = REFUSED[name]
    with pytest.raises(InputError, match=r"^[^\n]{20,}$"):
        drafted(block, body(centimetres), **settings)


def test_a_sleeve_shorter_than_its_cap_is_told_how_long_would_do() -> None:
    with pytest.raises(InputError, match=r"sleeve_length is 12.0 cm; give .* of 14.1 cm or more"):
        drafted(StraightSleeve, MIDDLING, sleeve_length="12cm")
    _, proof = drafted(StraightSleeve, MIDDLING, sleeve_length="14.1cm")
    assert proof.held


@pytest.mark.parametrize("block", BOTH, ids=lambda block: block.key)
@pytest.mark.parametrize("longer_back", range(-40, 45, 10))
def test_the_crown_stays_level_whichever_half_is_longer(block, longer_back: int) -> None:
    values = MIDDLING | {
        "front_armhole_length": 225.0 - longer_back / 2.0,
        "back_armhole_length": 225.0 + longer_back / 2.0,
    }
    _, proof = drafted(block, values)
    assert proof.held, list(proof.broken)
    (level,) = [result.measured for result in proof.results if result.code == "level"]
    assert abs(level) < 2.0


def test_three_hundred_random_bodies() -> None:
    """Proportions far outside the survey's; most are refused, none is drafted wrong."""
    dice = random.Random(2)
    drawn = 0
    for _ in range(300):
        arm = dice.uniform(180.0, 600.0)
        length = dice.uniform(300.0, 800.0)
        armhole = arm * dice.uniform(1.1, 1.8)
        share = dice.uniform(0.45, 0.55)
        values = {
            "upper_arm_girth": arm,
            "wrist_girth": arm * dice.uniform(0.35, 0.7),
            "outer_arm_length": length,
            "upper_arm_length": length * dice.uniform(0.45, 0.7),
            "front_armhole_length": armhole * share,
            "back_armhole_length": armhole * (1.0 - share),
        }
        block = dice.choice(BOTH)
        settings = {}
        if dice.random() < 0.3:
            settings["bicep_ease"] = f"{dice.uniform(0.0, 12.0):.1f}cm"
        if dice.random() < 0.3:
            settings["cap_ease"] = f"{dice.uniform(0.0, 5.0):.1f}cm"
        if block is StraightSleeve and dice.random() < 0.5:
            settings["hem"] = f"{arm * dice.uniform(0.5, 2.0):.0f}mm"
        if block is FittedSleeve and dice.random() < 0.3:
            settings["elbow_dart"] = f"{dice.uniform(0.5, 5.0):.1f}cm"
        try:
            _, proof = drafted(block, values, **settings)
        except InputError:
            continue
        drawn += 1
        assert proof.held, (values, settings, list(proof.broken))
    assert drawn > 120
