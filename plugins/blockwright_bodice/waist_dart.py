"""A dart from a level waist straight up."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass

from blockwright import Affine, Curve, Edge, Point, roof_between


@dataclass(frozen=True, slots=True)
class WaistDart:
    """Its point, the height of the waist, and what it takes in there, mm."""

    apex: Point
    waist: float
    intake: float

    @property
    def start(self) -> Point:
        """Left end of its mouth."""
        return Point(self.apex.x - self.intake / 2.0, self.waist)

    @property
    def end(self) -> Point:
        """Right end of its mouth."""
        return Point(self.apex.x + self.intake / 2.0, self.waist)

    @property
    def closing(self) -> Affine:
        """Lays the right leg on the left one."""
        return Affine.turn(
            -2.0 * math.atan2(self.intake / 2.0, self.apex.y - self.waist), self.apex
        )

    def roof(self, waist: Sequence[Edge], pressed: str) -> Curve:
        """Its mouth between two waist edges."""
        return roof_between(self.apex, waist[0].curve, waist[1].curve, pressed)
