"""The shoulder seam of one half of a bodice, on the back with its dart."""

from __future__ import annotations

import math
from dataclasses import dataclass

from blockwright import Affine, Point


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
