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
    "fold": Stroke(0.7, (12.0, 3.0), INK),
    "sew": Stroke(0.25, (9.0, 1.5), INK),
    "drill": Stroke(0.35, (), INK),
    "notch": Stroke(0.5, (), INK),
    "dart": Stroke(0.4, (4.0, 2.0), "#7a3e2b"),
    "guide": Stroke(0.25, (1.5, 1.5), "#4d6a5e"),
    "grain": Stroke(0.35, (14.0, 2.0, 2.0, 2.0), "#35506b"),
    "mark": Stroke(0.3, (), "#4d6a5e"),
    "leader": Stroke(0.2, (), INK),
    "test-bar": Stroke(0.5, (), INK),
}
"""Stroke of each role of line, by the role's name."""
