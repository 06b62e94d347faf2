"""The key of the lines: a sample of each kind that is on a drawing, and what it means; mm, y up."""

from __future__ import annotations

import math
from collections.abc import Collection
from itertools import pairwise
from typing import NamedTuple

from blockwright.curves.point import Point
from blockwright.formats.text_placement import NOTE_SIZE, TextLine, Words
from blockwright.words.catalogue import label

# What each kind of line is called, in the order of the key.
MEANS = {
    "outline": "label.key-outline",
    "sew": "label.key-sew",
    "fold": "label.key-fold",
    "grain": "label.key-grain",
    "dart": "label.key-dart",
    "guide": "label.key-guide",
    "notch": "label.key-notch",
    "drill": "label.key-drill",
    "mark": "label.key-mark",
}
# A line's sample is so long that its dashes show; a notch, a drill hole and a mark are as drawn.
LONG, NOTCH, DRILL, MARK = 27.0, 5.0, 1.5, 2.0
# From a sample to its words, and from these to the next sample.
TO_WORDS, TO_NEXT = 2.0, 7.0
# The hole of a drill is drawn in so many straight lines.
SIDES = 16


class Sample(NamedTuple):
    """A kind of line, straight lines that show it, and what it means."""

    role: str
    lines: tuple[tuple[Point, Point], ...]
    words: Words

    def moved(self, step: Point) -> Sample:
        """The sample at another place."""
        lines = tuple((a + step, b + step) for a, b in self.lines)
        return Sample(self.role, lines, self.words._replace(at=self.words.at + step))


def samples(roles: Collection[str], at: Point, width: float, row: float) -> tuple[Sample, ...]:
    """The key of these kinds of lines, in rows that go into a width, the last one at `at`."""
    found: list[Sample] = []
    place = at
    for role, code in MEANS.items():
        if role not in roles:
            continue
        says = TextLine(label(code), NOTE_SIZE)
        shown = _shown(role)
        long = max(end.x for ends in shown for end in ends) + TO_WORDS
        if place.x > at.x and place.x + long + says.width > at.x + width:
            found = [sample.moved(Point(0.0, row)) for sample in found]
            place = at
        lines = tuple((place + a, place + b) for a, b in shown)
        words = Words(says, place + Point(long, -0.3 * NOTE_SIZE), centred=False)
        found.append(Sample(role, lines, words))
        place += Point(long + says.width + TO_NEXT, 0.0)
    return tuple(found)


def _shown(role: str) -> list[tuple[Point, Point]]:
    """The lines of a sample; it begins at the origin."""
    if role == "notch":
        return [(Point(1.0, NOTCH / 2.0), Point(1.0, -NOTCH / 2.0))]
    if role == "mark":
        return [
            (Point(0.0, 0.0), Point(2.0 * MARK, 0.0)), (Point(MARK, -MARK), Point(MARK, MARK)),
        ]  # fmt: skip
    if role == "drill":
        turns = [2.0 * math.pi * i / SIDES for i in range(SIDES + 1)]
        ring = [Point(DRILL, 0.0) + Point.polar(DRILL, turn) for turn in turns]
        return [*pairwise(ring)]
    return [(Point(0.0, 0.0), Point(LONG, 0.0))]
