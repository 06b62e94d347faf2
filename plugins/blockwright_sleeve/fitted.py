"""The fitted sleeve: bent forward at the elbow by a dart, shaped to the wrist."""

from __future__ import annotations

import math
from dataclasses import dataclass

from blockwright import (
    Affine,
    Curve,
    Dart,
    Draft,
    Edge,
    Guide,
    InputError,
    Mark,
    Point,
    Rule,
    auto_length_option,
    fair_curve,
    length_option,
    line,
    measurement,
    roof_between,
)

from blockwright_sleeve.cap import Taper
from blockwright_sleeve.sleeve import CapPlan, Sleeve


# The elbow's point lies a quarter round the arm from the underarm seam; a dart reaching a little
# past it bends the forearm forward by some eight degrees, as a hanging arm does.  Common practice
# is a quarter to a half, no source.
DART_REACH = 0.3


@dataclass(frozen=True, slots=True)
class Arm:
    """The sleeve below the bicep line.  Curves run downward; `hem` from back to front."""

    front: Curve
    back_upper: Curve
    back_lower: Curve
    hem: Curve
    apex: Point
    elbow: float  # along the front seam, mm


class FittedSleeve(Sleeve):
    """One-piece sleeve with an elbow dart at the back, bent forward and shaped to the wrist."""

    key = "sleeve.fitted"
    title = "Fitted sleeve"

    elbow_depth = measurement(
        "upper_arm_length",
        estimate=Rule(
            needs=("outer_arm_length",),
            find=lambda arm: arm / 2.0 + 25.0,
            says="half of outer arm length and 2.5 cm (from memory of a published draft)",
        ),
    )

    wrist_ease = length_option(
        "5 cm", low="0 cm", high="20 cm", says="finished wrist over the wrist girth"
    )
    wrist_width = auto_length_option(
        auto="wrist girth and wrist ease", low="10 cm", high="60 cm", says="finished wrist"
    )
    elbow_dart = length_option(
        "2.5 cm", low="5 mm", high="5 cm", says="intake of the elbow dart at the back seam"
    )
    elbow_dart_length = auto_length_option(
        auto="three tenths of the sleeve's width at the elbow", low="3 cm", high="20 cm",
        says="length of the elbow dart",
    )  # fmt: skip

    def hem_width(self, bicep: float) -> float:
        """The finished wrist."""
        return self.wrist + self.wrist_ease if self.wrist_width is None else self.wrist_width

    def draft(self, d: Draft) -> None:
        """Draw the sleeve."""
        plan = self.plan(d)
        self._check(d, plan)
        drawn = self.cap(plan.bicep, plan.height, plan.ease)
        for mark in drawn.marks:
            d.keep(mark)
        under_front, under_back = drawn.marks[0], drawn.marks[-1]
        arm = self._bend(d, plan, under_front)

        hem = Edge("wrist", arm.hem, "hem")
        front = Edge("front underarm", arm.front.reversed())
        cap = Edge("cap", drawn.curve, "armhole")
        back = Edge("back underarm", arm.back_upper)
        forearm = Edge("back forearm", arm.back_lower)
        mouth = Edge(
            "elbow dart mouth", roof_between(arm.apex, arm.back_upper, arm.back_lower, "end"), "dart"
        )
        dart = Dart("elbow dart", arm.apex, mouth.name, "end", "pressed down")
        front_elbow = d.mark("front elbow", arm.front.point_at(arm.elbow), "elbow depth, front seam")
        back_elbow = d.mark("back elbow", arm.back_upper.end, "elbow depth, back seam")
        d.mark("elbow dart point", arm.apex, "dart length in along the elbow line")
        d.mark("front wrist", arm.front.end, "end of the front seam")
        d.mark("back wrist", arm.back_lower.end, "end of the back seam, dart open")

        elbow_y = front_elbow.y
        d.piece(
            "sleeve",
            [hem, front, cap, back, mouth, forearm],
            grain=(Point(drawn.crown.x, elbow_y * 1.4), Point(drawn.crown.x, plan.height * 0.6)),
            label_at=Point(plan.bicep * 0.22, elbow_y * 0.5),
            cut=2,
            mirrored=True,
            darts=[dart],
            notches=self.cap_notches(plan, cap),
            guides=[
                Guide("bicep line", line(under_back, under_front)),
                Guide("elbow line", line(arm.apex, front_elbow)),
            ],
            notes=self.side_notes(plan),
        )
        self.promise_cap(d, plan, cap, drawn)
        d.seam("underarm", -front, [back, forearm])
        d.corner("cap under the arm", (front.name, cap.name), (cap.name, back.name))
        d.corner("back seam over the closed dart", (back.name, forearm.name))
        d.corner("wrist at the underarm seam", (forearm.name, hem.name), (hem.name, front.name))
        d.girth("wrist", body=self.wrist, ease=self.hem_width(0.0) - self.wrist, runs=[hem])

    def _check(self, d: Draft, plan: CapPlan) -> None:
        if not plan.height < self.elbow_depth < self.length:
            raise InputError(
                f"{self.key}: the elbow at {d.say(self.elbow_depth)} (upper_arm_length) is not "
                f"between the bicep line at {d.say(plan.height)} and the wrist at "
                f"{d.say(self.length)} below the crown; check upper_arm_length, outer_arm_length "
                "and sleeve_length"
            )
        wrist = self.hem_width(plan.bicep)
        if wrist < self.wrist:
            raise InputError(
                f"{self.key}: a wrist_width of {d.say(wrist)} is less than wrist_girth "
                f"{d.say(self.wrist)}; give a wider one"
            )

    def _bend(self, d: Draft, plan: CapPlan, underarm: Mark) -> Arm:
        """Bend the forearm until the wrist is as wide as asked."""
        taper = self.taper(plan.bicep, plan.height)
        upper = (self.elbow_depth - plan.height) / math.cos(taper.lean)

        def bent(outward: float) -> Arm:
            return self._arm(underarm, taper, upper, outward / taper.seam)

        # The free value is how far the wrist swings forward of the straight seam; a quarter of
        # the seam is some 30 degrees of forearm.
        reach = taper.seam / 2.0
        width = plan.bicep - 2.0 * upper * math.sin(taper.lean)
        swing = d.solve(
            "forward swing of the wrist",
            lambda outward: bent(outward).hem.length,
            target=self.hem_width(plan.bicep),
            low=-reach,
            high=reach,
            near=self.elbow_dart / 2.0 / self._dart_leg(width) * taper.seam,
            so_that="the wrist is as wide as asked with the elbow dart closed",
            goal="wrist width",
            advice="check wrist_girth, or set wrist_width, elbow_dart or elbow_dart_length",
        )
        return bent(swing)

    def _dart_leg(self, elbow_width: float) -> float:
        given = self.elbow_dart_length
        return DART_REACH * elbow_width if given is None else given

    def _arm(self, underarm: Mark, taper: Taper, upper: float, outward: float) -> Arm:
        """The arm with its forearm turned `outward` radians forward of the straight seam.

        The front seam is one sweep from underarm to wrist.  The back seam, elbow dart closed, is
        its mirror image, so the two agree whatever the dart; opening the dart about its point
        swings the forearm forward.
        """
        down = Point(-math.sin(taper.lean), -math.cos(taper.lean))
        forearm = down.turned(outward)
        elbow = underarm + down * upper
        front = fair_curve(
            [underarm, elbow + forearm * (taper.seam - upper)], start=down, end=forearm
        )
        to_elbow = front.length * upper / taper.seam
        closed = front.moved(Affine(a=-1.0))
        back_upper, back_lower = closed.split_at(to_elbow)
        leg = self._dart_leg(-2.0 * back_upper.end.x)
        apex = back_upper.end + Point(leg, 0.0)
        opened = back_lower.moved(Affine.turn(2.0 * math.asin(self.elbow_dart / 2.0 / leg), apex))
        hem = _hem(opened, front)
        return Arm(front, back_upper, opened, hem, apex, to_elbow)


def _hem(back: Curve, front: Curve) -> Curve:
    """The hem: an arc that makes one smooth line when the seam is sewn.

    Both ends lean from the chord alike, by half of what the seams lean to each other, so that
    the two corners add up to a straight angle and the wrist lies square to the forearm.
    """
    chord = front.end - back.end
    lean = (back.end_tangent.left().angle - front.end_tangent.left().angle) / 2.0
    return fair_curve([back.end, front.end], start=chord.turned(lean), end=chord.turned(-lean))
