"""The straight sleeve: no dart, straight or tapered to the hem."""

from __future__ import annotations

import math

from blockwright import Draft, Edge, Guide, InputError, Point, arc_between, auto_length_option, line
from blockwright_sleeve.cap import CROWN
from blockwright_sleeve.sleeve import Sleeve


class StraightSleeve(Sleeve):
    """One-piece sleeve without a dart, straight from the bicep line or tapered to the hem."""

    key = "sleeve.straight"
    title = "Straight sleeve"
    hem_option = "hem"

    hem = auto_length_option(
        auto="the bicep width", low="10 cm", high="120 cm",
        says="finished hem; narrower than the bicep tapers the sleeve",
    )  # fmt: skip

    def hem_width(self, bicep: float) -> float:
        """The hem asked for, or as wide as the bicep."""
        return bicep if self.hem is None else self.hem

    def draft(self, d: Draft) -> None:
        """Draw the sleeve."""
        plan = self.plan(d)
        hem_width = self.hem_width(plan.bicep)
        if hem_width < self.wrist:
            raise InputError(
                f"{self.key}: a hem of {d.say(hem_width)} is less than wrist_girth "
                f"{d.say(self.wrist)}; give a wider hem"
            )
        drawn = plan.cap
        marks = [d.keep(mark) for mark in drawn.marks]
        under_front, crown, under_back = marks[0], marks[CROWN], marks[-1]
        taper = self.taper(plan.bicep, plan.height)
        down_front = Point(-math.sin(taper.lean), -math.cos(taper.lean))
        down_back = Point(math.sin(taper.lean), -math.cos(taper.lean))
        front_hem = d.mark(
            "front hem", under_front + down_front * taper.seam, "seam length down from the underarm"
        )
        back_hem = d.mark(
            "back hem", under_back + down_back * taper.seam, "seam length down from the underarm"
        )
        hem = Edge("hem", arc_between(back_hem, front_hem, -2.0 * taper.lean), "hem")
        front = Edge("front underarm", line(front_hem, under_front))
        cap = Edge("cap", drawn.spline.curve(), "armhole")
        back = Edge("back underarm", line(under_back, back_hem))
        middle = (crown.x, plan.height - self.length)
        d.piece(
            "sleeve",
            [hem, front, cap, back],
            grain=(Point(middle[0], middle[1] * 0.85), Point(crown.x, plan.height * 0.6)),
            label_at=Point(plan.bicep * 0.22, middle[1] * 0.3),
            cut=2,
            mirrored=True,
            notches=self.cap_notches(d, plan, cap),
            guides=[Guide("bicep line", line(under_back, under_front))],
            notes=self.side_notes(plan),
        )
        self.promise_cap(d, plan, cap, marks)
        d.seam("underarm", -front, back)
        d.corner("cap under the arm", (front.name, cap.name), (cap.name, back.name))
        d.corner("hem at the underarm seam", (back.name, hem.name), (hem.name, front.name))
        d.girth("hem", body=self.wrist, ease=hem_width - self.wrist, runs=[hem])
