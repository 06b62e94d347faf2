"""One half of a bodice over the arm: its shoulder seam, and the places its armhole passes."""

from __future__ import annotations

import math
from dataclasses import dataclass

from blockwright import Affine, Point

TO_LEFT, TO_RIGHT = Point(-1.0, 0.0), Point(1.0, 0.0)


@dataclass(frozen=True, slots=True)
class ShoulderDart:
    """A dart from the shoulder seam: the ends of its mouth, and its point."""

    inner: Point
    outer: Point
    apex: Point


@dataclass(frozen=True, slots=True)
class Shoulder:
    """The shoulder seam from the side neck point to its tip at the armhole."""

    neck: Point
    tip: Point
    dart: ShoulderDart | None = None

    @property
    def beside_neck(self) -> Point:
        """Where the seam runs to from the neck: its tip, or the dart."""
        return self.dart.inner if self.dart else self.tip

    @property
    def beside_tip(self) -> Point:
        """Where the seam runs to from its tip: the neck, or the dart."""
        return self.dart.outer if self.dart else self.neck


def plain_shoulder(neck: Point, length: float, direction: float) -> Shoulder:
    """A straight shoulder of that length in a direction, radians."""
    return Shoulder(neck, neck + Point(length, 0.0).turned(direction))


def darted_shoulder(
    neck: Point, length: float, slope: float, intake: float, deep: float
) -> Shoulder:
    """A shoulder to the right with a dart at its middle; closed, it is straight and that long.

    `slope`: fall of the way from neck to tip with the dart open, radians.  `intake` of the dart
    at the seam and its length `deep`, mm; it runs down square to the seam.
    """
    # Drawn level and closed; opening the dart turns its outer side down about its point.
    half = length / 2.0
    apex = Point(half, -deep)
    opened = Affine.turn(-2.0 * math.asin(intake / 2.0 / deep), apex)
    inner, outer, tip = Point(half, 0.0), opened(Point(half, 0.0)), opened(Point(length, 0.0))
    lay = Affine.turn(-slope - tip.angle).then(Affine.move(neck))
    return Shoulder(neck, lay(tip), ShoulderDart(lay(inner), lay(outer), lay(apex)))


@dataclass(frozen=True, slots=True)
class Half:
    """Where the armhole of a front or back runs: its shoulder, half way down, its underarm.

    `low` is the lower end of its straight side seam.
    """

    shoulder: Shoulder
    across: Point
    underarm: Point
    low: Point

    @property
    def side(self) -> Point:
        """The way the side seam leaves the underarm, downward; of length 1."""
        return (self.low - self.underarm).unit()


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
