"""Line weights, dash patterns and colours, chosen to read in black and white.

Each role differs by weight and dash first; colour only helps.
"""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Stroke:
    """Width and dashes in mm (no dashes: solid), colour as #rrggbb."""

    width: float
    dashes: tuple[float, ...]
    colour: str


OUTLINE = Stroke(0.7, (), "#22303a")
NOTCH = Stroke(0.5, (), "#22303a")
DART = Stroke(0.4, (5.0, 2.0), "#7a3e2b")
GUIDE = Stroke(0.25, (1.5, 1.5), "#4d6a5e")
GRAIN = Stroke(0.35, (14.0, 2.0, 2.0, 2.0), "#35506b")
BAR = Stroke(0.5, (), "#22303a")
MARK = Stroke(0.2, (), "#4d6a5e")
TEXT = "#22303a"
WARNING = "#a01c1c"
