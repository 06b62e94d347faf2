"""The fitted sleeve: bent forward at the elbow by a dart, shaped to the wrist."""

from __future__ import annotations

import math
from contextlib import suppress
from dataclasses import dataclass

from blockwright import (
    Dart,
    Draft,
    Edge,
    GeometryError,
    Guide,
    Point,
    Rule,
    arc_between,
    distance,
    length_option,
    line,
    measurement,
    polyline,
    roof_between,
    solve,
)
from blockwright_sleeve.body import auto_length
from blockwright_sleeve.cap import CROWN, CapPlan, Taper, taper
from blockwright_sleeve.limits import PRINTED_INSIDE, check_hem, leave_one_out
from blockwright_sleeve.sewing import add_sleeve
from blockwright_sleeve.sleeve import Sleeve

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
    seam: float  # of the front, mm
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
    def middle(self) -> tuple[Point, Point]:
        """The middles of the elbow line and of the hem."""
        back, way = self.opened(self.wrist), self.wrist - self.opened(self.wrist)
        rise = math.tan(self.hem_lean / 2.0) / 2.0
        return Point(0.0, self.elbow.y), back + way / 2.0 + way.left() * rise

    @property
    def hem_length(self) -> float:
        """Length of the hem, an arc over its chord."""
        lean = self.hem_lean
        chord = distance(self.opened(self.wrist), self.wrist)
        return chord * lean / math.sin(lean) if lean else chord


@dataclass(frozen=True, slots=True)
class Bending:
    """A tapered sleeve that is to bend at the elbow.

    `underarm`: of its front seam; `below`: its taper; `upper`: seam from there to the elbow;
    `dart`: what the elbow dart takes in; `leg`: how long it is if that is given, mm.
    """

    underarm: Point
    below: Taper
    upper: float
    dart: float
    leg: float | None

    @property
    def reach(self) -> float:
        """The wrist swings forward by so much at most, or back: half a radian."""
        return self.below.seam / 2.0

    @property
    def likely(self) -> float:
        """About how far it swings."""
        leg = self._leg(self.underarm.x - self.upper * math.sin(self.below.lean))
        return self.dart / 2.0 / leg * self.below.seam if leg else 0.0

    def _leg(self, half: float) -> float:
        """Length of the dart on a sleeve of that half width at the elbow."""
        return 2.0 * DART_REACH * half if self.leg is None else self.leg

    def arm(self, swing: float) -> Arm:
        """The arm whose wrist swings forward by so much, mm along the seam's arc."""
        lean, seam = self.below.lean, self.below.seam
        down, turn = Point(-math.sin(lean), -math.cos(lean)), swing / seam
        to_elbow = turn * self.upper / seam
        elbow = self.underarm + _arc_step(down, self.upper, to_elbow)
        back_elbow = _mirrored(elbow)
        leg = self._leg(elbow.x)
        if leg < self.dart / 2.0:
            raise GeometryError("the sleeve is too narrow at the elbow for its dart")
        return Arm(
            elbow=elbow, wrist=self.underarm + _arc_step(down, seam, turn), back_elbow=back_elbow,
            apex=back_elbow + Point(leg, 0.0), opening=2.0 * math.asin(self.dart / 2.0 / leg),
            seam=seam, down_wrist=down.turned(turn), turns=(to_elbow, turn - to_elbow),
        )  # fmt: skip


def _mirrored(place: Point) -> Point:
    return Point(-place.x, place.y)


def _arc_step(way: Point, length: float, turn: float) -> Point:
    """From start to end of an arc that starts in direction `way` and turns left by `turn`."""
    half = turn / 2.0
    return way.turned(half) * (length * (math.sin(half) / half if half else 1.0))


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

    # fmt: off
    wrist_ease = auto_length("0 cm", "20 cm", "finished wrist over the wrist girth",
                             "5 cm, or what hand_girth needs to pass where nothing opens, unless "
                             "the wrist width is given")
    wrist_width = auto_length("10 cm", "60 cm", "finished wrist", "wrist girth and wrist ease")
    elbow_dart = length_option("2.5 cm", low="5 mm", high="5 cm",
                               says="intake of the elbow dart at the back seam")
    elbow_dart_length = auto_length("3 cm", "20 cm", "length of the elbow dart",
                                    "three tenths of the sleeve's width at the elbow")
    # fmt: on

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
        leave_one_out(d, self, "wrist_width", "wrist_ease")
        given = self.elbow_dart_length or math.inf
        d.require(
            given >= SHORTEST_DART * self.elbow_dart,
            f"an elbow_dart_length of {d.say(given)} is too short to take in an elbow_dart of "
            f"{d.say(self.elbow_dart)}",
            check=("elbow_dart_length", "elbow_dart"),
            do=f"give {SHORTEST_DART:g} times that or more",
        )
        plan = self.plan(d)
        self._check(d, plan)
        marks = [d.keep(mark) for mark in plan.cap.marks]
        under_front, crown, under_back = marks[0], marks[CROWN], marks[-1]
        arm = self._bend(d, plan)
        half = arm.elbow.x
        d.require(
            arm.apex.x <= 0.0,
            f"an elbow_dart_length of {d.say(half + arm.apex.x)} points past the middle of the "
            f"sleeve, {d.say(2.0 * half)} wide at the elbow",
            check=["elbow_dart_length"], do=f"give {d.say(half - PRINTED_INSIDE)} or less",
        )  # fmt: skip
        back_wrist = arm.opened(arm.wrist)
        # A mirrored arc turns the other way.
        upper = arc_between(under_back, arm.back_elbow, -arm.turns[0])
        lower = arc_between(arm.opened(arm.elbow), back_wrist, -arm.turns[1])

        hem = Edge("wrist", arc_between(back_wrist, arm.wrist, -2.0 * arm.hem_lean), "hem")
        front = Edge("front underarm", arc_between(arm.wrist, under_front, -sum(arm.turns)))
        cap = Edge("cap", plan.cap.spline.curve(), "armhole")
        back = Edge("back underarm", upper)
        forearm = Edge(back.name, lower)
        mouth = Edge("elbow dart mouth", roof_between(arm.apex, upper, lower, "end"), "dart")
        dart = Dart("elbow dart", arm.apex, mouth.name, "end", "pressed down")
        front_elbow = d.mark("front elbow", arm.elbow, "elbow depth, on the front seam")
        d.mark("back elbow", arm.back_elbow, "elbow depth, on the back seam")
        d.mark("elbow dart point", arm.apex, "dart length in from the back elbow, level")
        d.mark("front wrist", arm.wrist, "end of the front seam")
        d.mark("back wrist", back_wrist, "the front wrist mirrored, dart opened")

        low = arm.elbow.y
        add_sleeve(
            d, self, plan, marks, [hem, front, cap, back, mouth, forearm],
            grain_from=Point(crown.x, low * 1.4), label_at=Point(plan.bicep * 0.22, low * 0.5),
            middle=polyline([crown, *arm.middle]), seam=arm.seam,
            guides=[Guide("elbow line", line(arm.apex, front_elbow))], darts=[dart],
        )  # fmt: skip

    def _check(self, d: Draft, plan: CapPlan) -> None:
        """Refuse an elbow that is nowhere, or too near to either end for its dart."""
        hangs = ("sleeve_length", "upper_arm_length", "outer_arm_length")
        at = f"the elbow at {d.say(self.elbow_depth)} (upper_arm_length)"
        d.require(
            plan.height < self.elbow_depth < self.length,
            f"{at} is not between the bicep line at {d.say(plan.height)} and the wrist at "
            f"{d.say(self.length)} below the crown",
            check=hangs,
        )
        # The dart is pressed down over the seam below it, and opens over the seam above.
        above, below = self.elbow_depth - plan.height, self.length - self.elbow_depth
        room, side = min((above, "bicep line"), (below, "wrist"))
        d.require(
            room >= self.elbow_dart,
            f"{at} is {d.say(room)} from the {side}, which leaves no room for an elbow_dart of "
            f"{d.say(self.elbow_dart)}",
            check=("elbow_dart", *hangs),
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
            "forward swing of the wrist", lambda trial: bend.arm(trial).hem_length, target=hem,
            low=-bend.reach, high=bend.reach, near=(swing, 1.0),
            so_that="the wrist is as wide as asked with the elbow dart closed", goal="wrist width",
            check=(
                "wrist_width",
                "elbow_dart",
                "elbow_dart_length",
                "wrist_girth",
                "upper_arm_length",
                "outer_arm_length",
            ),
        )  # fmt: skip
        return bend.arm(swing)
