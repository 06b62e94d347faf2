"""The fitted sleeve: bent forward at the elbow by a dart, shaped to the wrist."""

from __future__ import annotations

import math
from contextlib import suppress

from blockwright import (
    Dart,
    Draft,
    Edge,
    GeometryError,
    Guide,
    InputError,
    Point,
    Rule,
    arc_between,
    auto_length_option,
    distance,
    length_option,
    line,
    measurement,
    polyline,
    roof_between,
    solve,
)
from blockwright_sleeve.arm import Arm, Bending
from blockwright_sleeve.armhole import cap_notches
from blockwright_sleeve.cap import CROWN, Taper, taper
from blockwright_sleeve.checks import check_hem, refuse_together
from blockwright_sleeve.limits import PRINTED_INSIDE
from blockwright_sleeve.placket import placket
from blockwright_sleeve.plan import CapPlan
from blockwright_sleeve.promises import promise_cap, promise_hem, promise_length
from blockwright_sleeve.sleeve import Sleeve

# A shorter dart than this many times its intake opens wider than 29 degrees: it pokes.
SHORTEST_DART = 2.0
# Millimetres; common practice, no source.
USUAL_WRIST_EASE = 50.0


class FittedSleeve(Sleeve):
    """One-piece sleeve with an elbow dart at the back, bent forward and shaped to the wrist."""

    key = "sleeve.fitted"
    title = "Fitted sleeve"
    hem_option = "wrist_width"
    # An inch is the least that textbooks give for a set-in sleeve, and the tests name which.
    usual_cap_ease = 25.0

    elbow_depth = measurement(
        "upper_arm_length",
        estimate=Rule(
            needs=("outer_arm_length",),
            find=lambda arm: arm / 2.0 + 25.0,
            says="half of outer arm length and 2.5 cm (from memory of a published draft)",
        ),
    )

    wrist_ease = auto_length_option(
        auto="5 cm, or what hand_girth needs to pass where nothing opens, unless the wrist width "
        "is given",
        low="0 cm", high="20 cm", says="finished wrist over the wrist girth",
    )  # fmt: skip
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
        if self.wrist_width is not None:
            return self.wrist_width
        if self.wrist_ease is not None:
            return self.wrist + self.wrist_ease
        usual = self.wrist + USUAL_WRIST_EASE
        return usual if self.opens or self.hand is None else max(usual, self.hand)

    def undecided(self, d: Draft, ease: float) -> CapPlan:
        """Upper arm and its ease, and the cap height they leave."""
        return self.solve_height(d, self.usual_bicep, ease)

    def from_height(self, d: Draft, height: float, ease: float) -> CapPlan:
        """That height on the upper arm and its ease, and the cap ease they leave."""
        return self.solve_ease(d, self.usual_bicep, height)

    def draft(self, d: Draft) -> None:
        """Draw the sleeve."""
        refuse_together(self, "wrist_width", "wrist_ease")
        self._check_dart(d)
        plan = self.plan(d)
        self._check(d, plan)
        drawn = plan.cap
        marks = [d.keep(mark) for mark in drawn.marks]
        under_front, crown, under_back = marks[0], marks[CROWN], marks[-1]
        arm = self._bend(d, plan)
        self._check_reach(d, arm)
        back_wrist = arm.opened(arm.wrist)
        # A mirrored arc turns the other way.
        upper = arc_between(under_back, arm.back_elbow, -arm.turns[0])
        lower = arc_between(arm.opened(arm.elbow), back_wrist, -arm.turns[1])

        hem = Edge("wrist", arc_between(back_wrist, arm.wrist, -2.0 * arm.hem_lean), "hem")
        front = Edge("front underarm", arc_between(arm.wrist, under_front, -sum(arm.turns)))
        cap = Edge("cap", drawn.spline.curve(), "armhole")
        back = Edge("back underarm", upper)
        forearm = Edge(back.name, lower)
        mouth = Edge("elbow dart mouth", roof_between(arm.apex, upper, lower, "end"), "dart")
        dart = Dart("elbow dart", arm.apex, mouth.name, "end", "pressed down")
        front_elbow = d.mark("front elbow", arm.elbow, "elbow depth, on the front seam")
        d.mark("back elbow", arm.back_elbow, "elbow depth, on the back seam")
        d.mark("elbow dart point", arm.apex, "dart length in from the back elbow, level")
        d.mark("front wrist", arm.wrist, "end of the front seam")
        d.mark("back wrist", back_wrist, "the front wrist mirrored, dart opened")

        elbow_y = front_elbow.y
        notches, guides = placket(self, hem, lower.length)
        piece = d.piece(
            "sleeve",
            [hem, front, cap, back, mouth, forearm],
            grain=(Point(crown.x, elbow_y * 1.4), Point(crown.x, plan.height * 0.6)),
            label_at=Point(plan.bicep * 0.22, elbow_y * 0.5),
            cut=2,
            mirrored=True,
            darts=[dart],
            notches=[*cap_notches(d, self, plan, cap), *notches],
            guides=[
                Guide("bicep line", line(under_back, under_front)),
                Guide("elbow line", line(arm.apex, front_elbow)),
                *guides,
            ],
            notes=plan.side_notes,
        )
        promise_cap(d, self, plan, cap, marks)
        d.seam("underarm", -front, back)
        d.corner("cap under the arm", (front.name, cap.name), (cap.name, back.name))
        d.corner("back seam over the closed dart", *piece.darts)
        d.corner("wrist at the underarm seam", (back.name, hem.name), (hem.name, front.name))
        promise_hem(d, self, "wrist", self.hem_width(plan.bicep), hem)
        promise_length(d, self, plan, polyline([crown, *arm.middle]), front, arm.seam)

    def _check_dart(self, d: Draft) -> None:
        given = self.elbow_dart_length
        if given is not None and given < SHORTEST_DART * self.elbow_dart:
            raise InputError(
                f"{self.key}: an elbow_dart_length of {d.say(given)} is too short to take in an "
                f"elbow_dart of {d.say(self.elbow_dart)}; give {SHORTEST_DART:g} times that or more"
            )

    def _check_reach(self, d: Draft, arm: Arm) -> None:
        half = abs(arm.elbow.x)
        if arm.apex.x > 0.0:
            raise InputError(
                f"{self.key}: an elbow_dart_length of {d.say(half + arm.apex.x)} points past the "
                f"middle of the sleeve, {d.say(2.0 * half)} wide at the elbow; give "
                f"{d.say(half - PRINTED_INSIDE)} or less"
            )

    def _check(self, d: Draft, plan: CapPlan) -> None:
        if not plan.height < self.elbow_depth < self.length:
            raise InputError(
                f"{self.key}: the elbow at {d.say(self.elbow_depth)} (upper_arm_length) is not "
                f"between the bicep line at {d.say(plan.height)} and the wrist at "
                f"{d.say(self.length)} below the crown; check upper_arm_length, outer_arm_length "
                "and sleeve_length"
            )
        # The dart is pressed down over the seam below it, and opens over the seam above.
        above, below = self.elbow_depth - plan.height, self.length - self.elbow_depth
        if min(above, below) < self.elbow_dart:
            side, room = ("bicep line", above) if above < below else ("wrist", below)
            raise InputError(
                f"{self.key}: the elbow at {d.say(self.elbow_depth)} (upper_arm_length) is "
                f"{d.say(room)} from the {side}, which leaves no room for an elbow_dart of "
                f"{d.say(self.elbow_dart)}; check upper_arm_length, outer_arm_length and "
                "sleeve_length"
            )
        check_hem(d, self, self.hem_width(plan.bicep))

    def taper(self, bicep: float, crown: Point) -> Taper:
        """Tapered to the wrist, less long by what opening the dart is likely to add."""
        drop = self.length - crown.y - self.elbow_dart / 2.0
        return taper(bicep, self.hem_width(bicep), drop)

    def _bend(self, d: Draft, plan: CapPlan) -> Arm:
        """Bend the forearm until the wrist is as wide as asked, and the middle as long.

        The middle runs from the crown over the elbow to the wrist; how long the seams are for it
        is found with the bend.
        """
        hem, crown = self.hem_width(plan.bicep), plan.crown
        below = self.taper(plan.bicep, crown)
        underarm = Point(plan.bicep / 2.0, 0.0)
        upper = (self.elbow_depth - plan.height) / math.cos(below.lean)

        def bending(seam: float) -> Bending:
            tapered = Taper(below.lean, seam)
            return Bending(underarm, tapered, upper, self.elbow_dart, self.elbow_dart_length)

        swing = bending(below.seam).likely

        def middle(seam: float) -> float:
            nonlocal swing
            bend = bending(seam)
            swing = solve(
                lambda trial: bend.arm(trial).hem_length, hem, -bend.reach, bend.reach,
                near=(swing, 1.0),
            )  # fmt: skip
            elbow, wrist = bend.arm(swing).middle
            return distance(crown, elbow) + distance(elbow, wrist)

        seam, most = below.seam, 2.0 * self.elbow_dart
        # Where nothing can be bent so, the swing below says why.
        with suppress(GeometryError):
            seam = solve(middle, self.length, seam - most, seam + most, near=(seam, 1.0))
        bend = bending(seam)
        swing = d.solve(
            "forward swing of the wrist",
            lambda trial: bend.arm(trial).hem_length,
            target=hem,
            low=-bend.reach,
            high=bend.reach,
            near=(swing, 1.0),
            so_that="the wrist is as wide as asked with the elbow dart closed",
            goal="wrist width",
            advice="check wrist_girth, upper_arm_length and outer_arm_length, or set wrist_width, "
            "elbow_dart or elbow_dart_length",
        )
        return bend.arm(swing)
