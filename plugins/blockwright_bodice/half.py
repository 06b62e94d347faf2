"""One half of a bodice at its armhole, and the places an armhole passes on its way."""

from __future__ import annotations

import math
from dataclasses import dataclass

from blockwright import Point
from blockwright_bodice.shoulder import Shoulder

TO_LEFT, TO_RIGHT = Point(-1.0, 0.0), Point(1.0, 0.0)


@dataclass(frozen=True, slots=True)
class Half:
    """Where the armhole of a front or back runs: its shoulder, half way down, its underarm.

    `side` is the way the side seam leaves the underarm, downward.
    """

    shoulder: Shoulder
    across: Point
    underarm: Point
    side: Point


def half_way(shoulder: Shoulder, underarm: float) -> Point:
    """The place on an armhole half way down from the tip of its shoulder to the underarm's height.

    An armhole leaves the shoulder square to it and is upright half way down; between, it leans as
    much as half of the shoulder's slope on average.
    """
    down = (shoulder.tip.y - underarm) / 2.0
    run = shoulder.tip - shoulder.beside_tip
    slope = math.atan2(-run.y, abs(run.x))
    inward = math.copysign(down * math.tan(slope / 2.0), run.x)
    return Point(shoulder.tip.x - inward, shoulder.tip.y - down)


def hollow(half: Half) -> list[Point]:
    """Two places on a quarter of an ellipse from the across point down to the underarm.

    It leaves the one upright and meets the other square to the side seam, so that a narrow armhole
    stays round below and nearly straight above, as an arm is.
    """
    square = half.side.left()
    along = (half.across.x - half.underarm.x) / square.x
    corner = half.underarm + square * along
    down, out = corner - half.across, half.underarm - corner
    return [
        half.across + down * math.sin(turn) + out * (1.0 - math.cos(turn))
        for turn in (math.pi / 6.0, math.pi / 3.0)
    ]
