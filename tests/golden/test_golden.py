"""Today's sleeves lie on those that were looked at: lines to a thousandth, words to the letter."""

from __future__ import annotations

import re

import pytest
from redraw import BLOCKS, HERE, PEOPLE, PICTURE, PICTURED, ROOT, WORKROOM, draw, golden

NEAR = 0.001
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
WORDS = re.compile(r">([^<]*)<")


def differences(old: str, new: str) -> list[str]:
    """What differs: words, the drawing apart from its numbers, numbers by more than NEAR mm."""
    found = []
    if WORDS.findall(old) != WORDS.findall(new):
        found.append("words")
    if NUMBER.sub("#", old) != NUMBER.sub("#", new):
        found.append("drawing")
    pairs = zip(NUMBER.findall(old), NUMBER.findall(new), strict=False)
    found += [f"{a} is now {b}" for a, b in pairs if abs(float(a) - float(b)) > NEAR]
    return found


@pytest.mark.parametrize("block", BLOCKS)
@pytest.mark.parametrize("person", PEOPLE)
def test_golden(person: str, block: str) -> None:
    old = golden(person, block).read_text(encoding="utf-8")
    assert differences(old, draw(person, block).decode()) == []


def test_the_pictures_are_of_today() -> None:
    old = PICTURE.read_text(encoding="utf-8")
    assert differences(old, draw(*PICTURED).decode()) == []
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert f"]({PICTURE.relative_to(ROOT).as_posix()})" in readme
    assert f"draft {PICTURED[1]} --body examples/workroom/{PICTURED[0]}.toml" in readme


def test_every_drawing_is_of_somebody() -> None:
    assert len(PEOPLE) >= 2
    assert {path.name for path in HERE.glob("*.svg")} == {
        golden(person, block).name for person in PEOPLE for block in BLOCKS
    }
    assert all((WORKROOM / f"{person}.toml").is_file() for person in PEOPLE)


def test_a_difference_is_seen() -> None:
    old = golden(*PICTURED).read_text(encoding="utf-8")
    number = re.search(r"C(\d+\.\d+)", old)
    assert number
    start, end = number.span(1)
    for by, seen in ((0.0008, False), (0.0012, True)):
        moved = f"{old[:start]}{float(number[1]) + by:.4f}{old[end:]}"
        assert bool(differences(old, moved)) is seen
    assert "words" in differences(old, old.replace("no seam allowance", "seam allowance"))
    assert "words" in differences(old, old.replace("4 in<", "4.0001 in<"))
    assert "drawing" in differences(old, old.replace(' class="outline"', "", 1))
