"""No setting in range crashes: every draft holds all its promises or is refused by name."""

from __future__ import annotations

import random
from collections.abc import Iterator
from pathlib import Path

import pytest

from blockwright import BodySheet, InputError, LengthOption, draft, load_sheet, prove
from blockwright_trousers.straight import StraightTrousers
from parts import parts

WORKROOM = Path(__file__).parents[2] / "examples" / "workroom"
DRAWS = 30
PARTS = 5
# Options given at once in a random draw, and how often each number.
AT_ONCE = (1, 1, 2, 2, 3, 4)
# A woman and a man every time, the others with the other parts.
TWO_OF_FOUR = [
    "nora",
    "tom",
    *(pytest.param(who, marks=pytest.mark.whole) for who in ("ines", "stand")),
]
Settings = dict[str, str | float]


def setting(option, share: float) -> str | float:
    """What lies so far on the way from the least to the most an option may be."""
    value = option.low + (option.high - option.low) * share
    if isinstance(option, LengthOption):
        return f"{value} mm"
    return round(value) if isinstance(option.low, int) else value


def ends() -> Iterator[Settings]:
    """Every option at both ends, alone."""
    for option in StraightTrousers.options():
        for share in (0.0, 1.0):
            yield {option.name: setting(option, share)}


def draws(seed: str) -> Iterator[Settings]:
    """Some options anywhere in their ranges; half of them low, where most bodies are."""
    chance = random.Random(seed)
    for _ in range(DRAWS):
        chosen = chance.sample(StraightTrousers.options(), chance.choice(AT_ONCE))
        most = chance.choice((0.35, 1.0))
        yield {option.name: setting(option, most * chance.random()) for option in chosen}


def tried(sheet: BodySheet, settings: Settings) -> bool:
    """Whether it could be drafted; if so all holds, if not one of the settings is named."""
    try:
        pattern = draft(StraightTrousers, sheet, settings)
    except InputError as error:
        message = str(error)
        assert "\n" not in message
        assert any(name in message for name in settings), (settings, message)
        return False
    proof = prove(pattern)
    assert proof.held, (settings, list(proof.broken))
    return True


@pytest.mark.parametrize("who", TWO_OF_FOUR)
def test_every_end_holds_or_is_refused(who: str) -> None:
    sheet = load_sheet(WORKROOM / f"{who}.toml")
    assert sum(tried(sheet, settings) for settings in ends()) > 15


@pytest.mark.parametrize("part", parts(PARTS))
@pytest.mark.parametrize("who", ["nora", "tom", "ines", "stand"])
def test_every_setting_holds_or_is_refused(who: str, part: int) -> None:
    sheet = load_sheet(WORKROOM / f"{who}.toml")
    assert sum(tried(sheet, settings) for settings in draws(f"{who} {part}")) > DRAWS / 5


@pytest.mark.parametrize("who", TWO_OF_FOUR)
def test_usual_settings_are_not_refused(who: str) -> None:
    """What is often asked for is drafted on all of them."""
    sheet = load_sheet(WORKROOM / f"{who}.toml")
    waist = sheet.values["waist_girth"]
    for settings in (
        {"hip_ease": "3 cm"}, {"hip_ease": "10 cm"}, {"crotch_ease": "1.5 cm"},
        {"seat_ease": "2 cm"}, {"front_darts": 0}, {"front_darts": 2, "front_dart_intake": "1 cm"},
        {"back_darts": 1}, {"front_waist": f"{waist / 4.0 + 10.0} mm"}, {"leg_length": "90 cm"},
        {"hem_width": f"{sheet.values['knee_girth'] * 1.15} mm"}, {"back_wider": "2 cm"},
        {"inside_leg_stretch": 0.0}, {"hip_shift": "0 cm"}, {"hip_shift": "2 cm"},
    ):  # fmt: skip
        assert tried(sheet, settings), settings
