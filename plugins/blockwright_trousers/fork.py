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
from blockwright_trousers.half import Half, start_way


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
