"""The fitted sleeve: bent forward at the elbow by a dart, shaped to the wrist."""

from __future__ import annotations

import math
from dataclasses import dataclass

from blockwright import (
    Dart,
    Draft,
    Edge,
    Guide,
    InputError,
    Mark,
    Point,
    Rule,
    arc_between,
    auto_length_option,
    distance,
    length_option,
    line,
    measurement,
    roof_between,
)
from blockwright_sleeve.cap import CROWN, Taper
from blockwright_sleeve.sleeve import CapPlan, Sleeve

# The elbow's point lies a quarter round the arm from the underarm seam; a dart reaching a little
# past it bends the forearm forward by some eight degrees, as a hanging arm does.  Common practice
# is a quarter to a half, no source.
DART_REACH = 0.3
# A shorter dart than this many times its intake opens wider than 29 degrees: it pokes.
SHORTEST_DART = 2.0
# Millimetres; common practice, no source.
USUAL_WRIST_EASE = 50.0


@dataclass(frozen=True, slots=True)
class Arm:
    """The sleeve below the bicep line: its corners, and the way its seams run at each.

    The front seam is an arc from the underarm to the wrist, as long as the plain tapered seam.
    The back seam, elbow dart closed, is its mirror image, so the two agree whatever the dart;
    opening the dart about its point swings the forearm forward.
    """

    elbow: Point  # on the front seam
    wrist: Point
    back_elbow: Point  # upper end of the dart's mouth
    apex: Point
    opening: float  # of the dart, radians; also what the back seam leans more than the front one
    down_wrist: Point  # way of the front seam at the wrist
    turns: tuple[float, float]  # of the front seam, above and below the elbow, to the left

    def opened(self, place: Point) -> Point:
        """Where a place of the front seam below the elbow comes on the back, dart open."""
        return _mirrored(place).turned(self.opening, self.apex)

    def opened_way(self, way: Point) -> Point:
        """Which way the back seam runs where the front one runs `way`."""
        return _mirrored(way).turned(self.opening)

    @property
    def hem_lean(self) -> float:
        """Angle of the hem to its chord at both ends, radians.

        Both ends lean alike, by half of what the seams lean to each other: the corners add up to
        a straight angle, so that the hem is one smooth line when the seam is sewn.
        """
        back, front = self.opened_way(self.down_wrist), self.down_wrist
        return (back.angle - front.angle) / 2.0

    @property
    def hem_length(self) -> float:
        """Length of the hem, an arc over its chord."""
        lean = self.hem_lean
        chord = distance(self.opened(self.wrist), self.wrist)
        return chord * lean / math.sin(lean) if lean else chord


class FittedSleeve(Sleeve):
    """One-piece sleeve with an elbow dart at the back, bent forward and shaped to the wrist."""

    key = "sleeve.fitted"
    title = "Fitted sleeve"
    hem_option = "wrist_width"

    elbow_depth = measurement(
        "upper_arm_length",
        estimate=Rule(
            needs=("outer_arm_length",),
            find=lambda arm: arm / 2.0 + 25.0,
            says="half of outer arm length and 2.5 cm (from memory of a published draft)",
        ),
    )

    wrist_ease = auto_length_option(
        auto="5 cm, unless the wrist width is given",
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
        return self.wrist + (USUAL_WRIST_EASE if self.wrist_ease is None else self.wrist_ease)

    def draft(self, d: Draft) -> None:
        """Draw the sleeve."""
        self.refuse_together("wrist_width", "wrist_ease")
        plan = self.plan(d)
        self._check(d, plan)
        drawn = plan.cap
        marks = [d.keep(mark) for mark in drawn.marks]
        under_front, crown, under_back = marks[0], marks[CROWN], marks[-1]
        arm = self._bend(d, plan, under_front)
        back_wrist = arm.opened(arm.wrist)
        # A mirrored arc turns the other way.
        upper = arc_between(under_back, arm.back_elbow, -arm.turns[0])
        lower = arc_between(arm.opened(arm.elbow), back_wrist, -arm.turns[1])

        hem = Edge("wrist", arc_between(back_wrist, arm.wrist, -2.0 * arm.hem_lean), "hem")
        front = Edge("front underarm", arc_between(arm.wrist, under_front, -sum(arm.turns)))
        cap = Edge("cap", drawn.spline.curve(), "armhole")
        back = Edge("back underarm", upper)
        forearm = Edge("back forearm", lower)
        mouth = Edge("elbow dart mouth", roof_between(arm.apex, upper, lower, "end"), "dart")
        dart = Dart("elbow dart", arm.apex, mouth.name, "end", "pressed down")
        front_elbow = d.mark("front elbow", arm.elbow, "elbow depth, on the front seam")
        d.mark("back elbow", arm.back_elbow, "elbow depth, on the back seam")
        d.mark("elbow dart point", arm.apex, "dart length in from the back elbow, level")
        d.mark("front wrist", arm.wrist, "end of the front seam")
        d.mark("back wrist", back_wrist, "the front wrist mirrored, dart opened")

        elbow_y = front_elbow.y
        d.piece(
            "sleeve",
            [hem, front, cap, back, mouth, forearm],
            grain=(Point(crown.x, elbow_y * 1.4), Point(crown.x, plan.height * 0.6)),
            label_at=Point(plan.bicep * 0.22, elbow_y * 0.5),
            cut=2,
            mirrored=True,
            darts=[dart],
            notches=self.cap_notches(d, plan, cap),
            guides=[
                Guide("bicep line", line(under_back, under_front)),
                Guide("elbow line", line(arm.apex, front_elbow)),
            ],
            notes=self.side_notes(plan),
        )
        self.promise_cap(d, plan, cap, marks)
        d.seam("underarm", -front, [back, forearm])
        d.corner("cap under the arm", (front.name, cap.name), (cap.name, back.name))
        d.corner("back seam over the closed dart", (back.name, forearm.name))
        d.corner("wrist at the underarm seam", (forearm.name, hem.name), (hem.name, front.name))
        ease = self.hem_width(plan.bicep) - self.wrist
        d.girth("wrist", body=self.wrist, ease=ease, runs=[hem])

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
        given = self.elbow_dart_length
        if given is not None and given < SHORTEST_DART * self.elbow_dart:
            raise InputError(
                f"{self.key}: an elbow_dart_length of {d.say(given)} is too short to take in an "
                f"elbow_dart of {d.say(self.elbow_dart)}; give {SHORTEST_DART:g} times that or more"
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

        def bent(swing: float) -> Arm:
            return self._arm(underarm, taper, upper, swing / taper.seam)

        # The wrist swings forward by so much of the seam's length: up to half a radian either way.
        reach = taper.seam / 2.0
        width = plan.bicep - 2.0 * upper * math.sin(taper.lean)
        swing = d.solve(
            "forward swing of the wrist",
            lambda swing: bent(swing).hem_length,
            target=self.hem_width(plan.bicep),
            low=-reach,
            high=reach,
            near=(self.elbow_dart / 2.0 / self._dart_leg(width) * taper.seam, 1.0),
            so_that="the wrist is as wide as asked with the elbow dart closed",
            goal="wrist width",
            advice="check wrist_girth, upper_arm_length and outer_arm_length, or set wrist_width, "
            "elbow_dart or elbow_dart_length",
        )
        return bent(swing)

    def _dart_leg(self, elbow_width: float) -> float:
        given = self.elbow_dart_length
        return DART_REACH * elbow_width if given is None else given

    def _arm(self, underarm: Mark, taper: Taper, upper: float, turn: float) -> Arm:
        """The arm whose seam turns forward by `turn` radians on its way to the wrist."""
        down = Point(-math.sin(taper.lean), -math.cos(taper.lean))
        to_elbow = turn * upper / taper.seam
        elbow = underarm + _arc_step(down, upper, to_elbow)
        back_elbow = _mirrored(elbow)
        leg = self._dart_leg(2.0 * elbow.x)
        return Arm(
            elbow=elbow,
            wrist=underarm + _arc_step(down, taper.seam, turn),
            back_elbow=back_elbow,
            apex=back_elbow + Point(leg, 0.0),
            opening=2.0 * math.asin(self.elbow_dart / 2.0 / leg),
            down_wrist=down.turned(turn),
            turns=(to_elbow, turn - to_elbow),
        )


def _mirrored(place: Point) -> Point:
    return Point(-place.x, place.y)


def _arc_step(way: Point, length: float, turn: float) -> Point:
    """From start to end of an arc that starts in direction `way` and turns left by `turn`."""
    half = turn / 2.0
    return way.turned(half) * (length * (math.sin(half) / half if half else 1.0))
