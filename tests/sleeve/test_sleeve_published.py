"""Sleeves against published drafts and ease ranges; the source is named beside each."""

from __future__ import annotations

import math

import pytest
from sleeve_samples import BOTH, INCH, MIDDLING, drafted

from blockwright import Unit, distance
from blockwright_sleeve.fitted import FittedSleeve
from blockwright_sleeve.limits import CAP_SHARES
from blockwright_sleeve.straight import StraightSleeve


def ease_by_stretch(proof) -> dict[tuple[str, str], float]:
    """Ease by the notches it lies between; no name for an end of the seam."""
    return {
        (result.values["since"], result.values["to"]): result.measured
        for result in proof.results
        if result.code == "seam.stretch"
    }


def test_cap_height_is_a_third_of_the_armscye() -> None:
    """Cap height = armscye / 3: a men's shirt lesson, opensourcestitches.wordpress.com; 45 cm
    gives 15.  Solved here from ease alone, for an upper arm such an armhole goes with, it comes
    within a twentieth of that."""
    pattern, _ = drafted(FittedSleeve, MIDDLING)
    (height,) = [s.value for s in pattern.solved if s.name == "cap height"]
    assert height == pytest.approx(150.0, rel=0.05)


def test_cap_height_is_overarm_less_underarm() -> None:
    """Cap height = overarm length less underarm length: emmakespatterns.com (sleeve block) and
    mymeasuringtape.com 2010/08.  Measured on a sleeve as wide at the hem as at the bicep."""
    pattern, _ = drafted(StraightSleeve, MIDDLING)
    (height,) = [s.value for s in pattern.solved if s.name == "cap height"]
    overarm = MIDDLING["outer_arm_length"]
    underarm = pattern.edge("front underarm").curve.length
    assert height == pytest.approx(overarm - underarm, abs=0.1)


@pytest.mark.parametrize("block", BOTH)
def test_cap_of_24_on_an_armhole_of_23(block) -> None:
    """Armhole 23 in and cap 24 in on the seam line: ease 1 in, worked example at
    fitforartpatterns.com 2024/03/05 (on the cut line the same pair would read 2 3/8)."""
    body = MIDDLING | {
        "front_armhole_length": 11.25 * INCH,
        "back_armhole_length": 11.75 * INCH,
        "upper_arm_girth": 15.0 * INCH,
    }
    pattern, proof = drafted(block, body, Unit.IN, cap_ease="1 in")
    assert proof.held
    assert pattern.edge("cap").curve.length == pytest.approx(24.0 * INCH, abs=0.1)


@pytest.mark.parametrize("block", BOTH)
def test_three_eighths_before_and_behind(block) -> None:
    """3/8 in front and 3/8 in back, 3/4 in in all: D. McCunn, patternmaking-classes.com."""
    _, proof = drafted(block, MIDDLING, Unit.IN, cap_ease="3/4 in")
    ease = ease_by_stretch(proof)
    assert ease["front notch", "crown notch"] == pytest.approx(3 / 8 * INCH, abs=0.1)
    assert ease["crown notch", "back notch"] == pytest.approx(3 / 8 * INCH, abs=0.1)


@pytest.mark.parametrize("block", BOTH)
def test_back_half_inch_front_less(block) -> None:
    """Back 1/2 to 5/8 in, front 3/8 to 1/2 in: sfdlearningcenter.com, SleeveFacts."""
    _, proof = drafted(block, MIDDLING, Unit.IN, cap_ease="1 in", front_ease_share="0.45")
    ease = ease_by_stretch(proof)
    assert 3 / 8 * INCH <= ease["front notch", "crown notch"] <= 1 / 2 * INCH
    assert 1 / 2 * INCH <= ease["crown notch", "back notch"] <= 5 / 8 * INCH


@pytest.mark.parametrize("block", BOTH)
def test_no_ease_under_the_arm(block) -> None:
    """Ease lies between the notches over the cap: emmakespatterns.com (cap ease)."""
    _, proof = drafted(block, MIDDLING)
    ease = ease_by_stretch(proof)
    assert ease["", "front notch"] == pytest.approx(0.0, abs=0.1)
    assert ease["back notch", ""] == pytest.approx(0.0, abs=0.1)


def test_a_straight_sleeve_has_a_cap_between_a_quarter_and_a_third_of_the_armhole() -> None:
    """A quarter: 4 in at an armhole of 16, School Sewing (chestofbooks); a third: men's shirt
    lesson, opensourcestitches.wordpress.com.  The bicep is what that leaves, over the arm by more
    than the normal 2 in and less than the ample 4 of dresspatternmaking.com (sleeve general)."""
    pattern, proof = drafted(StraightSleeve, MIDDLING)
    found = {s.name: s.value for s in pattern.solved}
    assert 450.0 / 4.0 < found["cap height"] < 450.0 / 3.0
    assert found["cap height"] == pytest.approx(0.28 * 450.0)
    assert 2.0 * INCH < found["bicep width"] - MIDDLING["upper_arm_girth"] < 4.0 * INCH
    assert proof.held


def test_ease_of_a_straight_sleeve_is_little() -> None:
    """Knits half an inch or none: madalynne.com; unnecessary in production: fashion-incubator.com;
    at least half an inch: sewandso.wordpress.com.  Ours is 1 cm, within 3 mm of that half inch."""
    pattern, _ = drafted(StraightSleeve, MIDDLING)
    ease = pattern.edge("cap").curve.length - 450.0
    assert 0.0 < ease <= 0.5 * INCH


def test_the_steepest_published_cap_is_the_steepest_allowed() -> None:
    """Cap 6 in, armhole depths 7 5/8 and 6 5/8 in: a fitting shell, retroglam.com."""
    published = 6.0 / (7.625 + 6.625)
    assert pytest.approx(published, abs=0.002) == CAP_SHARES[1]
    assert CAP_SHARES[0] < 1.0 / 4.0


def test_default_ease_is_what_textbooks_give() -> None:
    """Textbooks usually 1 to 1 1/2 in: madalynne.com (sleeve cap ease).  Ours is 2.5 cm, which
    the shops call an inch; a millimetre is allowed for that."""
    pattern, _ = drafted(FittedSleeve, MIDDLING)
    armhole = MIDDLING["front_armhole_length"] + MIDDLING["back_armhole_length"]
    ease = pattern.edge("cap").curve.length - armhole
    assert 1.0 * INCH - 1.0 <= ease <= 1.5 * INCH


def test_guides_as_long_as_the_armhole_give_textbook_ease() -> None:
    """Front slant = front armhole, back slant = back armhole + 1 cm: a Japanese textbook block,
    from memory.  On those guides our marks give the ease textbooks ask for, 1 to 1 1/2 in
    (madalynne.com)."""
    height, front, back = 160.0, 205.0, 215.0
    bicep = math.sqrt(front**2 - height**2) + math.sqrt((back + 10.0) ** 2 - height**2)
    body = MIDDLING | {"front_armhole_length": front, "back_armhole_length": back}
    body["upper_arm_girth"] = bicep - 40.0
    pattern, _ = drafted(StraightSleeve, body, Unit.MM, cap_height=height, bicep_width=bicep)
    ease = pattern.edge("cap").curve.length - front - back
    assert 1.0 * INCH - 1.0 <= ease <= 1.5 * INCH


def test_bicep_is_two_inches_over_the_arm() -> None:
    """Normal bicep ease 2 in, ample 4 (dresspatternmaking.com, sleeve general); at least 2 in over
    the arm (threadsmagazine.com 2021/09/27).  Ours is 5 cm; a millimetre for the inch."""
    pattern, _ = drafted(FittedSleeve, MIDDLING)
    cap = pattern.edge("cap").curve
    ease = distance(cap.start, cap.end) - MIDDLING["upper_arm_girth"]
    assert 2.0 * INCH - 1.0 <= ease <= 4.0 * INCH


@pytest.mark.parametrize("block", BOTH)
def test_one_notch_in_front_two_behind_one_at_the_crown(block) -> None:
    """natalieinstitches.com and rowena.typepad.com: single front notch, double back notch, and
    one for the shoulder at the cap."""
    pattern, _ = drafted(block, MIDDLING)
    counts = {notch.name: notch.count for notch in pattern.notches_on("cap")}
    assert counts == {"front notch": 1, "crown notch": 1, "back notch": 2}


@pytest.mark.parametrize("block", BOTH)
def test_front_is_hollowed_more_than_back(block) -> None:
    """Front more scooped at the underarm than back: lessonotes.com, SS2 sleeve."""
    pattern, _ = drafted(block, MIDDLING)
    marks = {mark.name: mark for mark in pattern.marks}

    def hollow(side: str) -> float:
        a, b, at = marks["crown"], marks[f"{side} underarm"], marks[f"{side} lower cap"]
        return abs((b - a).cross(at - a)) / distance(a, b)

    assert hollow("front") > hollow("back") > 0.0
