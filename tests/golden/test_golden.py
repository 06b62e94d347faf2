"""Today's drawings lie on those that were looked at: lines to a thousandth, words to the letter."""

from __future__ import annotations

import re

import pytest
from redraw import (
    DRAWN,
    FINISHED,
    HERE,
    PICTURED,
    PICTURES,
    ROOT,
    draw,
    draw_finished,
    finished_picture,
    golden,
    map_picture,
    picture,
)

from blockwright import load

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


@pytest.mark.parametrize(("person", "blocks"), DRAWN)
def test_golden(person: str, blocks: str) -> None:
    old = golden(person, blocks).read_text(encoding="utf-8")
    assert differences(old, draw(person, blocks).decode()) == []


@pytest.mark.parametrize(("person", "blocks"), PICTURED)
def test_the_pictures_are_of_today(person: str, blocks: str) -> None:
    old = picture(blocks).read_text(encoding="utf-8")
    assert differences(old, draw(person, blocks).decode()) == []
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert f"]({picture(blocks).relative_to(ROOT).as_posix()})" in readme


def test_the_pictures_of_finished_pieces_are_of_today() -> None:
    old = finished_picture().read_text(encoding="utf-8")
    assert differences(old, draw_finished(*FINISHED).decode()) == []
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    for path in (finished_picture(), map_picture()):
        assert f"]({path.relative_to(ROOT).as_posix()})" in readme


def test_every_bundled_block_is_drawn_and_nothing_else_is_kept() -> None:
    assert {path.name for path in HERE.glob("*.svg")} == {golden(*each).name for each in DRAWN}
    kept = [path for path in PICTURES.iterdir() if path.suffix in (".svg", ".png")]
    assert {path.name for path in kept} == {
        *(picture(blocks).name for _, blocks in PICTURED),
        finished_picture().name,
        map_picture().name,
    }
    drawn = {key for _, blocks in DRAWN for key in blocks.split("+")}
    assert drawn == set(load().blocks)


def test_a_difference_is_seen() -> None:
    old = golden(*DRAWN[0]).read_text(encoding="utf-8")
    number = re.search(r"C(\d+\.\d+)", old)
    assert number
    start, end = number.span(1)
    for by, seen in ((0.0008, False), (0.0012, True)):
        moved = f"{old[:start]}{float(number[1]) + by:.4f}{old[end:]}"
        assert bool(differences(old, moved)) is seen
    assert "words" in differences(old, old.replace("no seam allowance", "seam allowance"))
    assert "words" in differences(old, old.replace("4 in<", "4.0001 in<"))
    assert "drawing" in differences(old, old.replace(' class="outline"', "", 1))
