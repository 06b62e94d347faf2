"""The straight sleeve: no dart, straight or tapered to the hem."""

from __future__ import annotations

import math
from contextlib import suppress

from blockwright import (
    Draft,
    Edge,
    GeometryError,
    Point,
    arc_between,
    line,
)
from blockwright_sleeve.body import auto_length
from blockwright_sleeve.cap import CROWN, CapPlan, Taper, taper
from blockwright_sleeve.limits import check_below, check_hem
from blockwright_sleeve.sewing import add_sleeve
from blockwright_sleeve.sleeve import Sleeve

# The cap height as a share of the armhole: between the quarter of a published school draft, flat
# for work, and the third of a men's shirt lesson (see the tests), so that the bicep widens with a
# roomy armhole and the cap stays as flat as it is.  The value itself common practice, no source.
CAP_SHARE = 0.28


class StraightSleeve(Sleeve):
    """One-piece sleeve without a dart, straight from the bicep line or tapered to the hem."""

    key = "sleeve.straight"
    title = "Straight sleeve"
    hem_option = "hem"
    # A flat cap takes little ease: shirts have little or none.  Common practice, no source; knits
    # half an inch or none, and any cap half an inch at least, are published (see the tests).
    usual_cap_ease = 10.0

    # fmt: off
    bicep_ease = auto_length("0 cm", "20 cm", "bicep width over the upper arm girth",
                             "what the cap height leaves, and 5 cm at least; bicep_width sets it "
                             "as well")
    bicep_width = auto_length("10 cm", "90 cm", "width of the sleeve at the underarm",
                              "solved for the cap height and the cap ease; upper arm girth and 5 "
                              "cm at least")
    cap_height = auto_length("2 cm", "40 cm", "height of the crown over the bicep line",
                             "0.28 of the armhole; solved when the bicep is given or would have "
                             "less than 5 cm")
    cap_ease = auto_length("0 cm", "8 cm", "cap longer than armhole, all of it above the notches",
                           "1 cm; solved when both cap height and bicep are given")

    hem = auto_length("10 cm", "120 cm", "finished hem; narrower than the bicep tapers the sleeve",
                      "the bicep width")
    # fmt: on

    def hem_width(self, bicep: float) -> float:
        """The hem asked for, or as wide as the bicep."""
        return bicep if self.hem is None else self.hem

    def undecided(self, d: Draft, ease: float) -> CapPlan:
        """The usual cap height and the bicep it leaves, or the least bicep and its height."""
        height = CAP_SHARE * self.armhole
        check_below(d, self, height)
        # A hem that the usual bicep cannot flare to may do with the one that is found.
        with suppress(GeometryError):
            if self.cap(self.usual_bicep, height, ease).spline.length >= self.armhole + ease:
                return self.solve_height(d, self.usual_bicep, ease)
        d.found("cap height", height, f"it is {CAP_SHARE:g} of the armhole")
        return self.solve_bicep(d, height, ease)

    def from_height(self, d: Draft, height: float, ease: float) -> CapPlan:
        """That height, the usual ease and the bicep they leave."""
        return self.solve_bicep(d, height, ease)

    def taper(self, bicep: float, crown: Point) -> Taper:
        """Straight down or tapered, as long as asked from the crown straight down to the hem."""
        hem, drop = self.hem_width(bicep), self.length - crown.y
        middle = taper(bicep, hem, drop)
        hang = middle.hang(crown.x, hem)
        return taper(bicep, hem, drop - hang) if hang else middle

    def draft(self, d: Draft) -> None:
        """Draw the sleeve."""
        plan = self.plan(d)
        check_hem(d, self, self.hem_width(plan.bicep))
        marks = [d.keep(mark) for mark in plan.cap.marks]
        under_front, crown, under_back = marks[0], marks[CROWN], marks[-1]
        below = self.taper(plan.bicep, plan.crown)
        down = Point(-math.sin(below.lean), -math.cos(below.lean))
        front_hem, back_hem = (
            d.mark(name, under + way * below.seam, "seam length down from the underarm")
            for name, under, way in (
                ("front hem", under_front, down), ("back hem", under_back, Point(-down.x, down.y))
            )
        )  # fmt: skip
        hem = Edge("hem", arc_between(back_hem, front_hem, -2.0 * below.lean), "hem")
        front = Edge("front underarm", line(front_hem, under_front))
        cap = Edge("cap", plan.cap.spline.curve(), "armhole")
        back = Edge("back underarm", line(under_back, back_hem))
        low = Point(crown.x, plan.height - self.length)
        add_sleeve(
            d, self, plan, marks, [hem, front, cap, back],
            grain_from=Point(low.x, low.y * 0.85), label_at=Point(plan.bicep * 0.22, low.y * 0.3),
            middle=line(crown, low), seam=below.seam,
        )  # fmt: skip
