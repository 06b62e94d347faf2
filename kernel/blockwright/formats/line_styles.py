"""Line weights, dash patterns and colours, chosen to read in black and white.

Each role differs by weight and dash first; colour only helps.
"""

from __future__ import annotations

from typing import NamedTuple


class Stroke(NamedTuple):
    """Width and dashes in mm (no dashes: solid), colour as #rrggbb."""

    width: float
    dashes: tuple[float, ...]
    colour: str


INK = "#22303a"
WARNING = "#a01c1c"
STROKES = {
    "outline": Stroke(0.7, (), INK),
    "sew": Stroke(0.25, (4.0, 2.0), INK),
    "drill": Stroke(0.35, (), INK),
    "notch": Stroke(0.5, (), INK),
    "dart": Stroke(0.4, (5.0, 2.0), "#7a3e2b"),
    "guide": Stroke(0.25, (1.5, 1.5), "#4d6a5e"),
    "grain": Stroke(0.35, (14.0, 2.0, 2.0, 2.0), "#35506b"),
    "mark": Stroke(0.3, (), "#4d6a5e"),
    "test-bar": Stroke(0.5, (), INK),
}
"""Stroke of each role of line, by the role's name."""
FOLD = Stroke(0.35, (20.0, 3.0), INK)
"""Of the part of an outline that is on the fold, where it is drawn apart from what is cut."""
