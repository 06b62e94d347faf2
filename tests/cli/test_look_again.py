"""A measurement that hardly goes with the others is told before the verdict, and with a refusal."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from cli_samples import Workroom

NORA = Path(__file__).parents[2] / "examples" / "workroom" / "nora.toml"


@pytest.fixture
def slipped(workroom: Workroom) -> Workroom:
    """The workroom with Nora's sheet, her hip 70 cm instead of 87."""
    text = NORA.read_text(encoding="utf-8").replace("hip_girth = 87", "hip_girth = 70")
    (workroom.folder / "nora.toml").write_text(text, encoding="utf-8")
    return workroom


def test_it_is_told_before_the_verdict_and_refuses_nothing(slipped: Workroom) -> None:
    result = slipped.run("draft", "skirt.straight", "--body", "nora.toml", "--format", "json")
    assert result.code == 0
    *_, told, verdict, wrote = result.out.splitlines()
    assert told.startswith("look again: hip_girth 70.0 cm: with the rest of the sheet 7")
    assert told.endswith("is usual; was it 80.0 cm?")
    assert verdict == "skirt.straight: all 35 promises held; measure hip_girth again"
    assert wrote.startswith("wrote")
    (written,) = slipped.folder.glob("*.json")
    proof = json.loads(written.read_text(encoding="utf-8"))["proof"]
    assert [each["name"] for each in proof["doubts"]] == ["hip_girth"]
    assert proof["doubts"][0]["was"] == 800.0


def test_a_refusal_is_told_with_it(slipped: Workroom) -> None:
    first, second = slipped.refused("draft", "trousers.straight", "--body", "nora.toml")
    assert "look again: hip_girth 70.0 cm" in first
    assert "trousers.straight: " in second


def test_what_no_block_used_is_listed(workroom: Workroom) -> None:
    out = workroom.run("draft", "skirt.circle", "--body", str(NORA)).out
    (line,) = (line for line in out.splitlines() if line.startswith("not used: "))
    unused = line.removeprefix("not used: ").split(", ")
    assert "wrist_girth" in unused
    assert "waist_girth" not in unused
    both = workroom.run("draft", "skirt.circle", "sleeve.straight", "--body", str(NORA)).out
    (line,) = (line for line in both.splitlines() if line.startswith("not used: "))
    assert {*line.removeprefix("not used: ").split(", ")} < {*unused}


def test_a_sheet_that_is_used_up_lists_nothing(workroom: Workroom) -> None:
    result = workroom.run("draft", "sleeve.fitted", "--body", "ada.toml")
    assert result.code == 0
    assert "not used" not in result.out


def test_what_an_estimate_rests_on_is_used(workroom: Workroom) -> None:
    lines = ["waist_girth = 70", "hip_girth = 96", "height = 165"]
    text = "\n".join(['units = "cm"', "[measurements]", *lines, ""])
    (workroom.folder / "eve.toml").write_text(text, encoding="utf-8")
    out = workroom.run("draft", "skirt.straight", "--body", "eve.toml").out
    assert "estimated: waist_to_hip" in out
    assert "not used" not in out


def test_a_block_for_women_on_a_mans_sheet_says_so(workroom: Workroom) -> None:
    tom = NORA.with_name("tom.toml")
    result = workroom.run("draft", "skirt.straight", "--body", str(tom))
    assert result.code == 0
    assert "skirt.straight is drawn for women, and these measurements are far more" in result.err
    assert workroom.run("draft", "skirt.straight", "--body", str(NORA)).err == ""
    assert workroom.run("draft", "trousers.straight", "--body", str(tom)).err == ""


def test_a_length_that_is_not_drawn_as_measured_is_said(workroom: Workroom) -> None:
    """Ines's shoulder does not go with her widths across."""
    ines = NORA.with_name("ines.toml")
    out = workroom.run("draft", "bodice.easy", "--body", str(ines)).out
    assert "finished shoulder 5 7/8 in and not 5 1/4 in as measured, so that it agrees" in out
    assert out.splitlines()[-3].endswith("promises held; finished shoulder is not as measured")
    nora = workroom.run("draft", "bodice.easy", "--body", str(NORA)).out
    assert "as measured" not in nora


def test_a_child_is_not_judged(workroom: Workroom) -> None:
    """Height 116: waist 56, hip 64 (from memory); nothing is usual for a model of adults."""
    lines = ["waist_girth = 56", "hip_girth = 64", "height = 116", "waist_to_hip = 14"]
    text = "\n".join(['units = "cm"', "[measurements]", *lines, ""])
    (workroom.folder / "child.toml").write_text(text, encoding="utf-8")
    out = workroom.run(
        "draft", "skirt.straight", "--body", "child.toml", "--set", "length=30cm"
    ).out
    assert "not judged: no adult of the survey is like this body" in out
    assert "look again" not in out
    assert "not judged" not in workroom.run("draft", "skirt.straight", "--body", str(NORA)).out
