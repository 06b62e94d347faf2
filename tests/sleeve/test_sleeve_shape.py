"""The shape of the cap: hollow, full, hollow, without hook or overhang, ends on its bicep line."""

from __future__ import annotations

import math
import random
import re

import pytest
from sleeve_samples import BOTH, CHILD, MIDDLING, WORKROOM, drafted

from blockwright import InputError, Unit, draft, load_sheet, prove
from blockwright_sleeve import sleeve
from blockwright_sleeve.cap import flared, taper
from blockwright_sleeve.fitted import FittedSleeve
from blockwright_sleeve.limits import MARKS
from blockwright_sleeve.straight import StraightSleeve

# Millimetres: at the widest hem allowed the ends of a cap may dip by this much.
DIP = 2.0
# A wide arm and a short sleeve: it has to taper faster than its flat cap rises.
WIDE_AND_SHORT = MIDDLING | {
    "upper_arm_girth": 560.0,
    "outer_arm_length": 410.0,
    "upper_arm_length": 240.0,
    "wrist_girth": 215.0,
    "front_armhole_length": 345.0,
    "back_armhole_length": 370.0,
}


def shape(proof) -> tuple[float, float]:
    """How often the cap changes from hollow to full, and how far it turns back, degrees."""
    found = {result.code: result.measured for result in proof.results}
    return found["shape.bends"], found["shape.turns-back"]


@pytest.mark.parametrize("block", BOTH)
def test_the_cap_has_a_hollow_a_full_stretch_and_a_hollow(block) -> None:
    _, proof = drafted(block, MIDDLING)
    bends, turned = shape(proof)
    assert bends == 2.0
    assert 45.0 < turned < 80.0
    assert proof.held


# -- marks set by hand -------------------------------------------------------------------------

STEEP = {"cap_height": "8.5cm", "bicep_ease": "0"}
SPOILED = [
    (MIDDLING, {"front_lower": "-28mm"}, "not hollow, full, hollow but changes 3 times", {"shape"}),
    (MIDDLING, {"back_lower": "-26mm"}, "not hollow, full, hollow but changes 3 times", {"shape"}),
    (MIDDLING, {"back_lower": "-4mm"}, "not hollow, full, hollow but changes 4 times", {"shape"}),
    (MIDDLING, {"front_upper": "12mm"}, r"tilts \d\.\d degrees at the crown", {"level"}),
    (MIDDLING, {"back_upper": "26mm"}, r"tilts \d\.\d degrees at the crown", {"level"}),
    (CHILD, STEEP | {"front_upper": "26mm"}, "the cap overhangs", {"shape", "level"}),
]
WOULD_DO = re.compile(r"a ((?:front|back)_\w+) of (-?[\d./ ]+ \w+) to (-?[\d./ ]+ \w+)")


@pytest.mark.parametrize(
    ("body", "settings", "says", "broken"), SPOILED, ids=[str(each[1]) for each in SPOILED]
)
def test_a_mark_that_spoils_the_cap_is_refused(
    monkeypatch, body, settings, says: str, broken
) -> None:
    """What is refused would have broken the proof, which measures the drawn cap on its own."""
    block = StraightSleeve if body is CHILD else FittedSleeve
    with pytest.raises(InputError, match=says) as refused:
        drafted(block, body, **settings)
    (mark,) = settings.keys() & set(MARKS)
    assert mark in str(refused.value)
    monkeypatch.setattr(sleeve, "check_marks", lambda *_: None)
    _, proof = drafted(block, body, **settings)
    assert {result.kind for result in proof.broken} == broken


@pytest.mark.parametrize("block", BOTH, ids=lambda block: block.key)
@pytest.mark.parametrize("unit", [Unit.MM, Unit.CM, Unit.IN])
def test_marks_at_random_are_proved_or_told_what_would_do(block, unit: Unit) -> None:
    """Either end of what a refusal says would do draws and is proved, as it is printed."""
    dice = random.Random(f"{block.key} {unit}")
    proved = told = 0
    for _ in range(16):
        chosen = dice.sample(MARKS, dice.choice([1, 1, 2, 3]))
        ranges = {name: getattr(block, name) for name in chosen}
        settings = {n: f"{dice.uniform(each.low, each.high):.2f}mm" for n, each in ranges.items()}
        held, refusal = held_or_refused(block, unit, settings)
        assert held or refusal.endswith(("leave it out", "leave some of them out")), settings
        proved += held
        for name, *ends in WOULD_DO.findall(refusal):
            told += 1
            for end in ends:
                assert held_or_refused(block, unit, settings | {name: end}) == (True, "")
    assert min(proved, told) >= 2


def held_or_refused(block, unit: Unit, settings) -> tuple[bool, str]:
    """Whether the middling body is proved with these, or what it is refused with."""
    try:
        return drafted(block, MIDDLING, unit, **settings)[1].held, ""
    except InputError as error:
        return False, str(error)


def test_marks_that_only_spoil_it_together_may_each_move() -> None:
    both = {"front_upper": "21mm", "back_upper": "14.8mm"}
    for name in both:
        assert drafted(FittedSleeve, MIDDLING, **{name: both[name]})[1].held
    with pytest.raises(InputError, match=r"front_upper 2.1 cm and back_upper 1.5 cm") as refused:
        drafted(FittedSleeve, MIDDLING, **both)
    assert [name for name, *_ in WOULD_DO.findall(str(refused.value))] == [*both]
    assert str(refused.value).endswith("or leave some of them out")


@pytest.mark.parametrize("option", MARKS)
@pytest.mark.parametrize("end", ["low", "high"])
def test_either_end_of_a_mark_s_range_draws_on_somebody(option: str, end: str) -> None:
    """A range is what a usual body may ask for: one of the workroom can have its end."""
    value = getattr(getattr(FittedSleeve, option), end)
    proofs = []
    for person in ("nora", "tom", "ines", "stand"):
        for block in BOTH:
            body = load_sheet(WORKROOM / f"{person}.toml")
            try:
                proofs.append(prove(draft(block, body, {option: f"{value}mm"})).held)
            except InputError:
                proofs.append(False)
    assert any(proofs)
    assert not all(proofs) or option == "front_middle"


@pytest.mark.parametrize("side", ["front", "back"])
def test_a_mark_below_the_bicep_line_is_refused(side: str) -> None:
    with pytest.raises(InputError, match=rf"{side}_lower -2.6 cm the .* below the bicep line"):
        drafted(StraightSleeve, CHILD, **{f"{side}_lower": "-2.6cm"})


@pytest.mark.parametrize(
    ("block", "option", "widest"), [(StraightSleeve, "hem", 120), (FittedSleeve, "wrist_width", 60)]
)
def test_a_hem_that_makes_the_cap_dip_is_refused_with_the_widest(block, option, widest) -> None:
    body = MIDDLING | {
        "upper_arm_girth": 250.0,
        "front_armhole_length": 190.0,
        "back_armhole_length": 200.0,
    }
    with pytest.raises(InputError, match=f"{option} {widest}.0 cm flares") as refused:
        drafted(block, body, **{option: f"{widest}cm"})
    (limit,) = re.findall(rf"give a {option} of ([0-9.]+) cm or less", str(refused.value))
    # The cap is a little higher on a narrower hem, and so the limit a little nearer.
    pattern, proof = drafted(block, body, **{option: f"{0.97 * float(limit):.1f}cm"})
    assert proof.held
    assert -DIP < pattern.edge("cap").curve.bounds[1] < -0.1


@pytest.mark.parametrize(
    ("block", "option"), [(StraightSleeve, "hem"), (FittedSleeve, "wrist_width")]
)
def test_a_taper_steeper_than_the_cap_rises_is_refused(block, option: str) -> None:
    narrow, wide = "27cm", "46cm"
    with pytest.raises(InputError, match=rf"{option} 27.0 cm the sleeve tapers as steeply"):
        drafted(block, WIDE_AND_SHORT, **{option: narrow})
    _, proof = drafted(block, WIDE_AND_SHORT, **{option: wide})
    assert proof.held


@pytest.mark.parametrize("drop", [40.0, 120.0, 450.0])
@pytest.mark.parametrize("hem", [200.0, 568.0, 644.0, 650.0])
def test_a_hem_narrower_than_the_bicep_tapers_and_a_wider_one_flares(drop, hem) -> None:
    """On a short sleeve one hem comes at two angles; it was the wrong one once."""
    bicep = 644.0
    lean = taper(bicep, hem, drop).lean
    assert flared(bicep, -lean, drop) == pytest.approx(hem, abs=1e-4)
    assert math.copysign(1.0, lean) == math.copysign(1.0, bicep - hem) or hem == bicep
    assert lean > -0.2
