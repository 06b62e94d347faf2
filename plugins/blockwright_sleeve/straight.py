"""The straight sleeve: no dart, straight or tapered to the hem."""

from __future__ import annotations

import math
from contextlib import suppress

from blockwright import (
    Draft,
    Edge,
    GeometryError,
    Guide,
    Point,
    arc_between,
    auto_length_option,
    line,
)
from blockwright_sleeve.armhole import cap_notches
from blockwright_sleeve.cap import CROWN, Taper, taper
from blockwright_sleeve.checks import check_below, check_hem
from blockwright_sleeve.placket import placket
from blockwright_sleeve.plan import CapPlan
from blockwright_sleeve.promises import promise_cap, promise_hem, promise_length
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

    bicep_ease = auto_length_option(
        auto="what the cap height leaves, and 5 cm at least; bicep_width sets it as well",
        low="0 cm", high="20 cm", says="bicep width over the upper arm girth",
    )  # fmt: skip
    bicep_width = auto_length_option(
        auto="solved for the cap height and the cap ease; upper arm girth and 5 cm at least",
        low="10 cm", high="90 cm", says="width of the sleeve at the underarm",
    )  # fmt: skip
    cap_height = auto_length_option(
        auto="0.28 of the armhole; solved when the bicep is given or would have less than 5 cm",
        low="2 cm", high="40 cm", says="height of the crown over the bicep line",
    )  # fmt: skip
    cap_ease = auto_length_option(
        auto="1 cm; solved when both cap height and bicep are given",
        low="0 cm", high="8 cm", says="cap longer than armhole, all of it above the notches",
    )  # fmt: skip

    hem = auto_length_option(
        auto="the bicep width", low="10 cm", high="120 cm",
        says="finished hem; narrower than the bicep tapers the sleeve",
    )  # fmt: skip

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
        hem_width = self.hem_width(plan.bicep)
        check_hem(d, self, hem_width)
        drawn = plan.cap
        marks = [d.keep(mark) for mark in drawn.marks]
        under_front, crown, under_back = marks[0], marks[CROWN], marks[-1]
        below = self.taper(plan.bicep, plan.crown)
        down_front = Point(-math.sin(below.lean), -math.cos(below.lean))
        down_back = Point(math.sin(below.lean), -math.cos(below.lean))
        front_hem = d.mark(
            "front hem", under_front + down_front * below.seam, "seam length down from the underarm"
        )
        back_hem = d.mark(
            "back hem", under_back + down_back * below.seam, "seam length down from the underarm"
        )
        hem = Edge("hem", arc_between(back_hem, front_hem, -2.0 * below.lean), "hem")
        front = Edge("front underarm", line(front_hem, under_front))
        cap = Edge("cap", drawn.spline.curve(), "armhole")
        back = Edge("back underarm", line(under_back, back_hem))
        low = Point(crown.x, plan.height - self.length)
        notches, guides = placket(self, hem, below.seam)
        d.piece(
            "sleeve",
            [hem, front, cap, back],
            grain=(Point(low.x, low.y * 0.85), Point(crown.x, plan.height * 0.6)),
            label_at=Point(plan.bicep * 0.22, low.y * 0.3),
            cut=2,
            mirrored=True,
            notches=[*cap_notches(d, self, plan, cap), *notches],
            guides=[Guide("bicep line", line(under_back, under_front)), *guides],
            notes=plan.side_notes,
        )
        promise_cap(d, self, plan, cap, marks)
        d.seam("underarm", -front, back)
        d.corner("cap under the arm", (front.name, cap.name), (cap.name, back.name))
        d.corner("hem at the underarm seam", (back.name, hem.name), (hem.name, front.name))
        promise_hem(d, self, "hem", hem_width, hem)
        promise_length(d, self, plan, line(crown, low), front, below.seam)
