"""The fork: crotch seams of front and back, one line as sewn over the inside leg seam."""

from __future__ import annotations

import math
from dataclasses import dataclass

from blockwright import (
    Affine,
    Curve,
    FairSpline,
    Part,
    Point,
    distance,
    fair_spline,
    join,
    line,
    true_line,
)
from blockwright_trousers.leg import Half, start_way


@dataclass(frozen=True, slots=True)
class Levels:
    """Heights of the lines, mm; the waist line is 0."""

    hip: float
    crotch: float
    knee: float
    hem: float


@dataclass(frozen=True, slots=True)
class Crotch:
    """The crotch seam of a half: straight down from the waist, then curved to the tip."""

    half: Half
    top: Point
    start: Point  # where the straight centre line ends and the curve begins
    mark: tuple[Point, ...]  # the place the curve passes on its way, if one is set
    tip: Point

    @property
    def up(self) -> Point:
        """Direction of the centre line, going up."""
        return (self.top - self.start).unit()

    @property
    def square(self) -> Point:
        """Direction square to the centre line, toward the side seam."""
        return self.up.left() * self.half.inward

    @property
    def straight(self) -> float:
        """Length of the centre line, mm."""
        return distance(self.top, self.start)

    @property
    def width(self) -> float:
        """Of the fork, from its upright to the tip, mm."""
        return self.half.reach(self.tip) - self.half.reach(self.start)


def corner_mark(half: Half, root: float, crotch_y: float, off: float | None) -> tuple[Point, ...]:
    """The mark of a crotch curve on the 45 degree line out of the corner of its fork, if any.

    `root`: the corner, inward from the crease on the crotch line; `off`: distance from it, mm.
    Source: both published drafts set such a mark (see tests).
    """
    if off is None:
        return ()
    step = off / math.sqrt(2.0)
    return (half.at(root + step, crotch_y + step),)


@dataclass(frozen=True, slots=True)
class Fork:
    """Front and back crotch with the inside legs laid together at the tips."""

    front: Crotch
    back: Crotch
    front_leg: FairSpline
    back_leg: FairSpline

    @property
    def lay(self) -> Affine:
        """Lays the back on the front, inside leg on inside leg at the tips."""
        back, front = self.back.tip, self.front.tip
        return Affine.laying(
            back, back + start_way(self.back_leg), front, front + start_way(self.front_leg)
        )

    @property
    def stretch(self) -> float:
        """How much the back inside leg is shorter than the front one above the knee, mm."""
        return self.front_leg.length - self.back_leg.length

    @property
    def curved(self) -> FairSpline:
        """The curved part of the seat seam, down the front and up the back, as sewn."""
        lay, front, back = self.lay, self.front, self.back
        return fair_spline(
            [front.start, *front.mark, front.tip, *map(lay, back.mark), lay(back.start)],
            -front.up,
            lay(back.top) - lay(back.start),
        )

    @property
    def length(self) -> float:
        """The whole seat seam, waist to waist, mm."""
        return self.front.straight + self.curved.length + self.back.straight

    def seams(self) -> tuple[Curve, Curve]:
        """Front and back crotch seam, each from the tip up to the waist."""
        lay, front, back = self.lay, self.front, self.back
        down, up = true_line(
            [
                Part([front.start, *front.mark, front.tip]),
                Part([back.tip, *back.mark, back.start], lay),
            ],
            -front.up,
            lay(back.top) - lay(back.start),
        )
        return (
            join([down.reversed(), line(front.start, front.top)]),
            join([up, line(back.start, back.top)]),
        )


@dataclass(frozen=True, slots=True)
class HipLine:
    """The hip line of a half: its crotch, its side end, and the width of its cloth, mm."""

    crotch: Crotch
    side: Point
    cloth: float

    @property
    def width(self) -> float:
        """From the upright of the fork to the side."""
        return distance(self.side, Point(self.crotch.start.x, self.side.y))

    @property
    def inner(self) -> Point:
        """Its end on the crotch seam."""
        return Point(self.side.x + self.crotch.half.at(self.cloth, 0.0).x, self.side.y)

    @property
    def centre_lean(self) -> float:
        """How far the centre line leans to the side at the waist."""
        return self.crotch.half.reach(self.crotch.start) - self.crotch.half.reach(self.crotch.top)
