"""What the maker gives, and what is estimated or found from it."""

from __future__ import annotations

import pytest
from bending import told
from sleeve_samples import BOTH, MIDDLING, drafted

from blockwright import InputError, distance
from blockwright.cli.main import run
from blockwright_sleeve.fitted import FittedSleeve
from blockwright_sleeve.straight import StraightSleeve

ARMSCYE = 400.0
HALVES = ("front_armhole_length", "back_armhole_length")


def without(*names: str, **changes: float) -> dict[str, float]:
    """The middling body without some measurements, and others changed."""
    return {name: value for name, value in MIDDLING.items() if name not in names} | changes


# -- the armhole -------------------------------------------------------------------------------


@pytest.mark.parametrize("block", BOTH)
@pytest.mark.parametrize(("measured", "absent"), [HALVES, HALVES[::-1]])
def test_a_half_that_is_measured_leaves_the_rest_to_the_other(block, measured, absent) -> None:
    """Armscye girth and 2 cm are the whole armhole (common practice, no source)."""
    pattern, proof = drafted(block, without(absent, armscye_girth=ARMSCYE, **{measured: 190.0}))
    (estimate,) = pattern.estimates
    assert (estimate.name, estimate.value) == (absent, ARMSCYE + 20.0 - 190.0)
    assert measured in estimate.rule
    assert "12 mm" not in estimate.rule
    assert proof.held
    whole = ARMSCYE + 20.0 + block.usual_cap_ease
    assert pattern.edge("cap").curve.length == pytest.approx(whole, abs=0.1)


def test_with_neither_half_the_back_is_12_mm_longer() -> None:
    pattern, proof = drafted(StraightSleeve, without(*HALVES, armscye_girth=ARMSCYE))
    assert {e.name: e.value for e in pattern.estimates} == dict(
        zip(HALVES, (204.0, 216.0), strict=True)
    )
    assert proof.held


def test_the_least_that_would_do_is_asked_for() -> None:
    """Armscye girth alone gives both halves: the rule that needs the other half is not named."""
    with pytest.raises(InputError, match="needs front_armhole_length, or armscye_girth to") as both:
        drafted(StraightSleeve, without(*HALVES))
    assert "needs back_armhole_length, or armscye_girth to" in str(both.value)


def test_both_rules_are_shown(capsys) -> None:
    assert run(["blocks", "sleeve.fitted"]) == 0
    shown = capsys.readouterr().out
    for half, other in (HALVES, HALVES[::-1]):
        (line,) = [line for line in shown.splitlines() if line.split()[:1] == [half]]
        assert f"If absent: armscye girth and 2 cm ease, less {other}" in line
        assert "; or else half of armscye girth and 2 cm ease" in line


@pytest.mark.parametrize(("measured", "absent"), [HALVES, HALVES[::-1]])
def test_halves_too_unlike_for_a_cap_are_refused(measured: str, absent: str) -> None:
    body = without(absent, armscye_girth=ARMSCYE)
    with pytest.raises(InputError, match=r"too unlike for one cap.*armscye_girth") as refused:
        drafted(FittedSleeve, body | {measured: 290.0})
    assert all(half in str(refused.value) for half in HALVES)
    _, proof = drafted(FittedSleeve, body | {measured: 260.0})
    assert proof.held


# -- options -----------------------------------------------------------------------------------


@pytest.mark.parametrize("block", BOTH)
@pytest.mark.parametrize("settings", [
    {"bicep_width": "33cm", "bicep_ease": "4cm"},
    {"bicep_ease": "4cm", "cap_height": "15cm", "cap_ease": "2cm"},
    {"bicep_width": "33cm", "cap_height": "15cm", "cap_ease": "2cm"},
], ids=", ".join)  # fmt: skip
def test_an_option_without_effect_is_refused(block, settings: dict[str, str]) -> None:
    with pytest.raises(InputError, match=r"given; leave one out") as refused:
        drafted(block, MIDDLING, **settings)
    assert all(name in str(refused.value) for name in settings)
    for left_out in settings:
        kept = {name: value for name, value in settings.items() if name != left_out}
        _, proof = drafted(block, MIDDLING, **kept)
        assert proof.held, kept


def test_wrist_ease_beside_wrist_width_is_refused() -> None:
    with pytest.raises(InputError, match=r"wrist_width and wrist_ease are both given"):
        drafted(FittedSleeve, MIDDLING, wrist_width="22cm", wrist_ease="5cm")


def test_eases_are_five_centimetres_or_what_is_given() -> None:
    for settings, ease in (({}, 50.0), ({"bicep_ease": "4cm", "wrist_ease": "4cm"}, 40.0)):
        pattern, _ = drafted(FittedSleeve, MIDDLING, **settings)
        cap, wrist = pattern.edge("cap").curve, pattern.edge("wrist").curve
        assert distance(cap.start, cap.end) == pytest.approx(290.0 + ease, abs=0.1)
        assert wrist.length == pytest.approx(160.0 + ease, abs=0.1)


# -- what is found -----------------------------------------------------------------------------


@pytest.mark.parametrize("block", BOTH)
def test_an_ease_that_is_found_is_told_and_promised_a_range(block) -> None:
    pattern, proof = drafted(
        block, MIDDLING, cap_height="15cm", bicep_ease="5cm", front_ease_share="0.4"
    )
    (found,) = [s.value for s in pattern.solved if s.name == "cap ease"]
    assert found == pytest.approx(pattern.edge("cap").curve.length - 450.0, abs=1e-4)
    wanted = {told(result): result.wanted for result in proof.results if result.kind == "seam"}
    assert wanted["seam", "cap to armhole"] == (0.0, 80.0)
    before = wanted["seam.stretch", "cap to armhole", "front notch", "crown notch"]
    behind = wanted["seam.stretch", "cap to armhole", "crown notch", "back notch"]
    assert before == pytest.approx((0.0, 32.0))
    assert behind == pytest.approx((0.0, 48.0))
    assert wanted["seam.stretch", "cap to armhole", "", "front notch"] == (0.0, 0.0)
    assert proof.held


def test_an_ease_that_is_given_is_promised_itself() -> None:
    _, proof = drafted(StraightSleeve, MIDDLING, cap_height="15cm", cap_ease="2cm")
    (wanted,) = [r.wanted for r in proof.results if told(r) == ("seam", "cap to armhole")]
    assert wanted == (20.0, 20.0)


@pytest.mark.parametrize("share", [0.3, 0.7])
def test_the_crown_lies_where_the_ease_that_is_found_puts_it(share: float) -> None:
    pattern, _ = drafted(
        StraightSleeve, MIDDLING, cap_height="14cm", bicep_ease="5cm", front_ease_share=share
    )
    (ease,) = [s.value for s in pattern.solved if s.name == "cap ease"]
    marks = {mark.name: mark for mark in pattern.marks}
    back, front = (distance(marks["crown"], marks[f"{s} underarm"]) for s in ("back", "front"))
    assert back - front == pytest.approx(10.0 + (1.0 - 2.0 * share) * ease, abs=1e-3)


@pytest.mark.parametrize("block", BOTH)
def test_of_three_any_two_may_be_given(block) -> None:
    """Bicep, cap height and cap ease of one draft, two at a time, give the third and one cap."""
    pattern, _ = drafted(block, MIDDLING, bicep_width="34 cm", cap_ease="20mm")
    (height,) = [s.value for s in pattern.solved if s.name == "cap height"]
    cap = pattern.edge("cap").curve
    for settings in (
        {"cap_height": f"{height}mm", "cap_ease": "20mm"},
        {"cap_height": f"{height}mm", "bicep_width": "34cm"},
        {"bicep_ease": "5cm", "cap_ease": "20mm"},
    ):
        other, proof = drafted(block, MIDDLING, **settings)
        assert proof.held
        again = other.edge("cap").curve
        for share in (0.0, 0.2, 0.5, 0.9):
            assert distance(
                cap.point_at(share * cap.length), again.point_at(share * again.length)
            ) == pytest.approx(0.0, abs=0.01)


def test_a_cap_height_alone_is_met_by_the_bicep_or_by_the_ease() -> None:
    """The straight sleeve keeps its ease and finds the bicep, the fitted one the other way."""
    straight, proof = drafted(StraightSleeve, MIDDLING, cap_height="10cm")
    assert proof.held
    assert [s.name for s in straight.solved] == ["bicep width"]
    assert straight.edge("cap").curve.length == pytest.approx(450.0 + 10.0, abs=0.1)
    fitted, proof = drafted(FittedSleeve, MIDDLING, cap_height="15cm")
    assert proof.held
    assert "cap ease" in [s.name for s in fitted.solved]
    cap = fitted.edge("cap").curve
    assert distance(cap.start, cap.end) == pytest.approx(290.0 + 50.0, abs=0.1)


def test_a_bicep_that_is_found_is_promised_a_range() -> None:
    _, proof = drafted(StraightSleeve, MIDDLING, cap_height="15cm", cap_ease="2cm")
    (wanted,) = [r.wanted for r in proof.results if told(r) == ("girth", "upper arm")]
    assert wanted == (290.0, 900.0)
    assert proof.held
