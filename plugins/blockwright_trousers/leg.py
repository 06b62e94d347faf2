"""The leg: front and back set out alike from the crease, mirrored for the back."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from blockwright import Curve, FairSpline, GeometryError, Point, fair_spline, points_on_line, solve

# A curve of less curvature, 1/mm, is straight: a radius of a hundred metres.
STRAIGHT = 1e-5


@dataclass(frozen=True, slots=True)
class Half:
    """Front or back; inward from its crease is to the right on a front, to the left on a back.

    So front and back face each other at the side seams, both right side up.
    """

    name: str
    inward: float  # 1 to the right, -1 to the left

    def at(self, inward: float, y: float) -> Point:
        """The place so far inward from the crease, at a height, mm."""
        return Point(self.inward * inward, y)

    def reach(self, place: Point) -> float:
        """How far a place lies inward from the crease, mm."""
        return self.inward * place.x


FRONT, BACK = Half("front", 1.0), Half("back", -1.0)


@dataclass(frozen=True, slots=True)
class Leg:
    """The leg of a half from the knee down: straight from the knee to the hem on both sides.

    `knee`, `hem`: half the width either side of the crease, mm; `knee_y`, `hem_y`: heights.
    """

    half: Half
    knee: float
    hem: float
    knee_y: float
    hem_y: float

    def place(self, which: str, side: float) -> Point:
        """The corner at 'knee' or 'hem'; `side` 1 for the inside leg, -1 for the side seam."""
        width, y = (self.knee, self.knee_y) if which == "knee" else (self.hem, self.hem_y)
        return self.half.at(side * width, y)

    def down(self, side: float) -> Point:
        """Direction of a seam below the knee, going down."""
        return (self.place("hem", side) - self.place("knee", side)).unit()

    def inside(self, tip: Point, hollow: float | None) -> FairSpline:
        """The inside leg from the tip of the fork to the knee, running on into the leg below.

        `hollow`: how far it is curved in at its middle, mm.  Left out, the curve begins straight
        and turns more and more toward the knee: at its start it leaves the chord by half of what
        it does at the knee, which makes a spiral of no curvature at the tip.  So the tips stay
        blunt, and the crotch seam has the most to turn in.
        """
        knee, down = self.place("knee", 1.0), self.down(1.0)
        chord = (knee - tip).unit()
        if hollow is None:
            at_knee = math.atan2(chord.cross(down), chord.dot(down))
            return fair_spline([tip, knee], chord.turned(-at_knee / 2.0), down)
        # Toward the crease is to the right of the way down a front, to the left on a back.
        square = chord.left() * -self.half.inward
        return fair_spline([tip, tip.between(knee) + square * hollow, knee], None, down)

    def side(self, waist: Point, hip: Point) -> FairSpline:
        """The side seam from the waist over the hip to the knee, running on into the leg below."""
        return fair_spline([waist, hip, self.place("knee", -1.0)], None, self.down(-1.0))


def start_way(spline: FairSpline) -> Point:
    """Direction of travel at the first mark of a curve not yet drawn."""
    first = spline.spans[0]
    return Point(1.0, 0.0).turned(first.direction + first.alpha)


def ways(spline: FairSpline) -> list[Point]:
    """Directions of travel at both ends of every span.

    A curve that does not change from hollow to full runs in none beyond them.
    """
    angles = [s.direction + turn for s in spline.spans for turn in (s.alpha, s.beta)]
    return [Point(1.0, 0.0).turned(angle) for angle in angles]


def curving(spline: FairSpline) -> list[float]:
    """Curvature at both ends of every span, 1/mm; between them it runs linearly."""
    return [k for s in spline.spans for k in (s.start_curvature, s.end_curvature)]


def bends(curvatures: Sequence[float]) -> int:
    """How often a curve of these curvatures changes from hollow to full."""
    turning = [k for k in curvatures if abs(k) > STRAIGHT]
    return sum((a < 0.0) != (b < 0.0) for a, b in pairwise(turning))


def at_level(curve: Curve, y: float) -> Point:
    """The first place at which a curve meets a level, mm; GeometryError if it does not."""
    met = points_on_line([curve], Point(0.0, y), Point(1.0, y))
    if not met:
        raise GeometryError("the curve does not meet the level")
    return met[0]


def hem_reach(knee: float, hem: float, drop: float) -> float:
    """How far either end of a hem lies from the crease, mm, on a half between front and back.

    The hem is an arc square to both seams, half of it `hem` long, so its ends reach a little less.
    `knee`: half the width at the knee, `drop` mm above.
    """

    def half_arc(reach: float) -> float:
        lean = math.atan2(knee - reach, drop)
        return reach * (lean / math.sin(lean) if lean else 1.0)

    return solve(half_arc, hem, 0.5 * hem, 1.5 * hem, near=(hem, 1.0))
