"""The pictures of the drafting vocabulary are what their script draws today, and can be read."""

from __future__ import annotations

import re
import runpy
from collections.abc import Callable
from itertools import combinations
from pathlib import Path
from typing import Any
from xml.etree import ElementTree

import pytest
import shapely
from svgpathtools import parse_path

PICTURES = Path(__file__).parents[1] / "examples" / "pictures"
KEPT = PICTURES / "vocabulary"
SVG = "{http://www.w3.org/2000/svg}"
DRAWN: dict[str, Callable[[], Any]] = runpy.run_path(str(PICTURES / "draw_vocabulary.py"))[
    "PICTURES"
]
NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
# Coordinates are written to a hundredth of a pixel: rounding may differ by one.
NEAR = 0.0101
# A letter's average width, height above the baseline and depth below, as shares of its size.
LETTER, ASCENT, DESCENT = 0.6, 0.75, 0.22


def differences(old: str, new: str) -> list[str]:
    if NUMBER.sub("#", old) != NUMBER.sub("#", new):
        return ["drawing"]
    pairs = zip(NUMBER.findall(old), NUMBER.findall(new), strict=True)
    return [f"{a} is now {b}" for a, b in pairs if abs(float(a) - float(b)) > NEAR]


@pytest.mark.parametrize("name", DRAWN)
def test_a_picture_is_of_today(name: str) -> None:
    kept = (KEPT / f"{name}.svg").read_text(encoding="utf-8")
    assert differences(kept, DRAWN[name]().svg().decode()) == []


def test_a_difference_is_seen() -> None:
    kept = DRAWN["fair_curve"]().svg().decode()
    number = re.search(r"C(\d+\.\d+)", kept)
    assert number
    start, end = number.span(1)
    for by, seen in ((0.01, False), (0.02, True)):
        moved = f"{kept[:start]}{float(number[1]) + by:.2f}{kept[end:]}"
        assert bool(differences(kept, moved)) is seen
    assert differences(kept, kept.replace(">marks<", ">places<")) == ["drawing"]


def test_every_picture_is_kept_and_nothing_else() -> None:
    assert {path.name for path in KEPT.iterdir()} == {f"{name}.svg" for name in DRAWN}


def _box(text: ElementTree.Element, letters: float) -> shapely.Polygon:
    x, y = float(text.get("x", "")), float(text.get("y", ""))
    wide = LETTER * letters * len(text.text or "")
    left = x - {"start": 0.0, "middle": 0.5, "end": 1.0}[text.get("text-anchor", "start")] * wide
    return shapely.box(left, y - ASCENT * letters, left + wide, y + DESCENT * letters)


@pytest.mark.parametrize("name", DRAWN)
def test_a_picture_can_be_read(name: str) -> None:
    """Small; all of it on the paper; no words over each other or over a thick line."""
    path = KEPT / f"{name}.svg"
    assert path.stat().st_size < 12_000
    root = ElementTree.parse(path).getroot()
    x, y, wide, high = map(float, root.get("viewBox", "").split())
    assert (x, y, wide) == (0.0, 0.0, 300.0)
    assert float(root.get("width", "")) == wide
    paper = shapely.box(0.0, 0.0, wide, high)
    letters = float(root.get("font-size", ""))
    assert letters >= 10.0
    boxes = {text.text: _box(text, letters) for text in root.iter(f"{SVG}text")}
    assert boxes
    for words, box in boxes.items():
        assert paper.covers(box), words
    for a, b in combinations(boxes, 2):
        assert not boxes[a].intersects(boxes[b]), (a, b)
    for element in root.iter(f"{SVG}path"):
        curve = parse_path(element.get("d"))
        dots = [segment.point(i / 24) for segment in curve for i in range(25)]
        chain = shapely.LineString([(dot.real, dot.imag) for dot in dots])
        if name != "dart":  # where the cloth goes on below the picture
            assert paper.covers(chain)
        if float(element.get("stroke-width", "")) >= 2.0:
            for words, box in boxes.items():
                assert not chain.intersects(box), words
