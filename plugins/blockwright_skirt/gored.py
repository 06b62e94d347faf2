"""The gored skirt: equal panels, shaped from waist to hip by their seams and flared below."""

from __future__ import annotations

import math
from dataclasses import dataclass

from blockwright import (
    Across,
    Curve,
    Draft,
    Edge,
    Point,
    arc_between,
    count_option,
    fair_curve,
    join,
    length_option,
    line,
    solve,
)
from blockwright_skirt.quarter import (
    LONGEST_ARC,
    MIRROR,
    ROUNDING,
    Flare,
    down,
    flare_or_refuse,
    side_lean,
)
from blockwright_skirt.skirt import Skirt, auto_length

# A flare begins at the hip line or this far below it, mm: nearer the two bends would run together.
BELOW_HIP = 100.0


@dataclass(frozen=True, slots=True)
class Top:
    """The end of a panel's seam at the waist, and the seam's leans, radians: there, and on the
    whole from there to the hip."""

    at: Point
    lean: float
    chord: float


class GoredSkirt(Skirt):
    """Gored skirt: four to twelve equal panels, shaped by their seams, flared to the hem."""

    key = "skirt.gored"
    title = "Gored skirt"

    # fmt: off
    hip_ease = length_option("5 cm", low="0 cm", high="30 cm",
                             says="finished hip over the hip girth")
    panels = count_option(6, low=4, high=12, says="panels all round")
    flare = length_option("5 cm", low="0 cm", high="40 cm", says="width added at the hem at each "
                               "side of a panel")
    flare_from = auto_length("10 cm", "120 cm", "how far below the waist the flare begins",
                             "from the hip line")
    # fmt: on

    def draft(self, d: Draft) -> None:
        """Draw one panel, to be cut as often as there are panels."""
        self.check_length(d)
        n = self.panels
        half_hip = (self.hip + self.hip_ease) / (2.0 * n)
        half_waist = self.finished_waist / (2.0 * n)
        self.check_waist(d, self.hip_ease)
        self.check_seam(d, half_hip - half_waist, "more panels", ["panels"])
        top, flare = self._shape(d, half_hip, half_waist)
        side_hip = Point(half_hip, -self.depth)
        at_hip = flare.first if self.flare_from is None else 0.0
        above = fair_curve([top.at, side_hip], down(top.lean), down(at_hip))
        seam = join([above, *self._below(side_hip, flare)])
        end = seam.end

        hem = Edge("hem", arc_between(MIRROR(end), end, 2.0 * flare.last), "hem")
        right = Edge("right seam", seam.reversed())
        waist = Edge("waist", arc_between(top.at, MIRROR(top.at), -2.0 * top.lean), "waist")
        left = Edge("left seam", seam.moved(MIRROR))
        hip = line(MIRROR(side_hip), side_hip)
        middle = line(Point(0.0, 0.0), Point(0.0, -self.length))
        self.add_panel(
            d, [hem, right, waist, left], hip, (seam.length - above.length, above.length), times=n,
            grain=(Point(0.0, -0.92 * self.length), Point(0.0, -0.15 * self.length)),
            label_at=Point(0.45 * half_hip, -0.5 * (self.depth + self.length)),
        )  # fmt: skip
        d.girth("hip", body=self.hip, ease=self.hip_ease, levels=[Across("panel", hip)], times=n)
        d.measure("length", length=self.length, levels=[Across("panel", middle)])
        # Straight across from side to side of a panel, or by how much an arc is longer.
        wide = self.hip + self.hip_ease + 2.0 * n * self.flare
        d.girth(
            "hem", body=self.hip, ease=(wide - self.hip, LONGEST_ARC * wide - self.hip),
            runs=[hem], times=n,
        )  # fmt: skip

    def _shape(self, d: Draft, half_hip: float, half_waist: float) -> tuple[Top, Flare]:
        """How the seam lies at the waist, and how it runs below the hip.

        Above the hip it is never hollow: one that must turn outward there does so below it.
        """
        begin = self.flare_from
        if begin is None:
            top = self._top(half_hip, half_waist, self._flare(d, half_hip, 0.0, math.inf).last)
            return top, self._flare(d, half_hip, 0.0, top.chord)
        low, high = self.depth + BELOW_HIP, self.length - 3.0 * ROUNDING
        d.require(
            low <= high,
            f"a length of {d.say(self.length)} leaves no room for a flare from {d.say(low)} below "
            "the waist, as near the hip as it may begin",
            check=("length", "flare_from", "waist_to_hip"),
            do="leave flare_from out, or give a longer length",
        )
        d.within("flare_from", begin, low, high, check=("flare_from", "length", "waist_to_hip"))
        flare = self._flare(d, half_hip, begin - ROUNDING - self.depth, 0.0)
        return self._top(half_hip, half_waist, 0.0), flare

    def _flare(self, d: Draft, half_hip: float, below_hip: float, first: float) -> Flare:
        """The flare that begins so far below the hip, coming down with the lean `first`."""
        drop = self.length - self.depth - below_hip
        says = (
            f"a flare of {d.say(self.flare)} is too much for {self.panels} panels and the "
            f"{d.say(drop)} from where it begins to the hem"
        )
        hangs = ("flare", "panels", "length", "flare_from")
        return flare_or_refuse(d, says, hangs, self.flare, drop, half_hip, first)

    def _top(self, half_hip: float, half_waist: float, below: float) -> Top:
        """Where the seam ends at the waist; `below`: how it leans at the hip, at most, radians.

        The waist of a panel is an arc square to its seams, so that it runs on when they are sewn;
        how far it rises at the seam and how the seam leans there are found together.
        """

        def top(lean: float) -> Top:
            x = half_waist * (math.sin(lean) / lean if lean else 1.0)
            at = Point(x, x * math.tan(lean / 2.0))
            return Top(at, lean, math.atan2(half_hip - at.x, self.depth + at.y))

        def over(lean: float) -> float:
            chord = top(lean).chord
            return lean - side_lean(chord, min(chord, below))

        likely = math.atan2(half_hip - half_waist, self.depth)
        return top(solve(over, 0.0, -1.5, 1.5, near=(likely, 1.0)))

    def _below(self, hip: Point, flare: Flare) -> list[Curve]:
        """The right seam from the hip down."""
        if self.flare_from is None:
            return flare.seam(hip)
        begin = Point(hip.x, ROUNDING - self.flare_from)
        return [line(hip, begin), *flare.seam(begin)]
