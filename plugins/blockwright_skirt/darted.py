"""The darted skirt: what the straight and the flared skirt are both drawn from."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import ClassVar

from blockwright import (
    Draft,
    Piece,
    Stretch,
    Traits,
    auto_count_option,
    length_option,
    ratio_option,
    solve,
)
from blockwright_skirt.quarter import Flare, Quarter, side_lean, waist_length
from blockwright_skirt.sharing import LEAST, Asked, Darts, share
from blockwright_skirt.skirt import GIRTHS, HIP_NOTCH, LONG, STEEPEST_OUT, Skirt, auto_length

# A side waist this share as high over the centre waist as an arc square to centre and side would
# have it: in the published draft that raises it 1.25 cm for 4 cm taken in, so much (see the tests).
RISE_SHARE = 0.4
# Back and front side seam may take in amounts that differ by this share of the depth of the hip:
# beyond, the front's waist must drop or rise by over a centimetre for them to be one length.
MOST_APART = 0.15
# A dart is at most this share of the distance from one to the next: pressed over, half of it lies
# on the waist between them, which is so much less.  Its point stays within this share of the width.
DART_ROOM, REACHES_OUT = 0.55, 0.9
# Back and front, and the options that say how much their darts take in.
SIDES_OF = ("back", "front")
DARTS = ("back_darts", "front_darts", "back_dart", "front_dart")


@dataclass(frozen=True, slots=True)
class Plan:
    """Back and front quarter, agreed with each other."""

    back: Quarter
    front: Quarter

    @property
    def darts(self) -> list[tuple[float, float]]:
        """Intake and length of every dart, mm."""
        quarters = (self.back, self.front)
        return [(each.intake, long) for each in quarters for long in each.dart_lengths]


class DartedSkirt(Skirt):
    """Common ground of the skirts that are shaped by darts and side seams."""

    traits = Traits(
        wearers="women",
        steps="a dart under 1 cm is not worth sewing, and one over 3 cm or three tenths of its "
        "length would poke: none, one or two, as the waist is narrower than the hip",
    )

    offers = ("back waist", "front waist")
    back_share: ClassVar[float]
    """What the back darts take of what all darts do, while there is room."""
    reaches: ClassVar[tuple[float, float]]
    """Length of the back and the front darts as a share of the depth of the hip."""

    # fmt: off
    hip_ease = length_option("5 cm", low="0 cm", high="30 cm",
                             says="finished hip over the hip girth")
    hip_shift = length_option("7.5 mm", low="-5 cm", high="5 cm",
                              says="back wider at the hip than a quarter, front narrower by as "
                                   "much")
    waist_shift = auto_length("-5 cm", "5 cm", "back wider at the finished waist than a quarter, "
                              "front narrower by as much",
                              "so that back and front side seam have one shape")
    side_rise = auto_length("-1 cm", "4 cm", "side waist over the centre waist",
                            "two fifths of the rise of an arc square to centre and side seam")
    back_darts = auto_count_option(auto="as many as the shape needs", low=0, high=2,
                                   says="darts in each half of the back")
    front_darts = auto_count_option(auto="as many as the shape needs", low=0, high=2,
                                    says="darts in each half of the front")
    back_dart = auto_length("5 mm", "5 cm", "intake of each back dart",
                            "a share of what is taken in, so that the side seam is a gentle curve")
    front_dart = auto_length("5 mm", "5 cm", "intake of each front dart",
                             "a share of what is taken in, so that the side seam is a gentle "
                             "curve")
    back_dart_length = auto_length("3 cm", "25 cm", "length of the back dart, of the inner one "
                                   "of two", "two thirds of waist to hip")
    front_dart_length = auto_length("3 cm", "25 cm", "length of the front dart, of the inner one "
                                    "of two", "half of waist to hip; two thirds in a flared skirt")
    outer_dart = ratio_option(0.9, low=0.5, high=1.2,
                              says="length of the outer of two darts as a share of the inner")
    # fmt: on

    # -- the plan ----------------------------------------------------------------------------

    def flare(
        self, d: Draft, hip: float, chord: float, intakes: Sequence[tuple[float, float]]
    ) -> Flare:
        """How the side seams run below the hip: straight down, unless a skirt has its own way.

        `hip`: width of the narrower quarter, mm; `chord`: lean of the side seam from waist to hip,
        radians; `intakes`: intake and length of every dart, mm.
        """
        return Flare(0.0, 0.0, 0.0, self.length - self.depth, hip)

    def plan(self, d: Draft) -> Plan:
        """Share what is taken in, then find the side waist that makes the waist as asked."""
        self.check_length(d)
        self.check_waist(d, self.hip_ease)
        half_hip, half_waist = (self.hip + self.hip_ease) / 2.0, self.finished_waist / 2.0
        behind, before = share(
            half_hip - half_waist, self.depth, self.back_share, *map(self._asked, SIDES_OF)
        )
        self._check_used(d, behind, before)
        self._check_darts(d, "back", behind)
        self._check_darts(d, "front", before)
        sides = half_hip - half_waist - behind.total - before.total
        back_hip, front_hip = half_hip / 2.0 + self.hip_shift, half_hip / 2.0 - self.hip_shift
        back_side = sides / 2.0
        if self.waist_shift is not None:
            even = back_hip - half_waist / 2.0 - behind.total - back_side
            back_side += even - self.waist_shift
            self._check_alike(d, back_side, sides - back_side, even)
        front_side = sides - back_side
        for side in (back_side, front_side):
            self.check_seam(d, side, "more or wider darts", DARTS)
            most = STEEPEST_OUT * self.depth
            d.require(
                side >= -most,
                f"a side seam would lean out {d.say(-side)} from hip to waist, where {d.say(most)} "
                "can be sewn: smaller darts or a larger hip_ease make it less",
                check=(*DARTS, "hip_ease", "waist_shift", *GIRTHS),
            )

        intakes = [(darts.intake, long) for darts in (behind, before) for long in darts.lengths]
        chord = math.atan2(min(back_side, front_side), self.depth)
        flare = self.flare(d, min(back_hip, front_hip), chord, intakes)

        def planned(extra: float) -> Plan:
            back = self._quarter(back_hip, back_side + extra, flare, behind)
            front = self._quarter(front_hip, front_side + extra, flare, before)
            return _agreeing(Plan(back, front))

        def waist(extra: float) -> float:
            trial = planned(extra)
            return waist_length(trial.back, trial.front)

        extra = d.solve(
            "side seams taken in more", waist, target=half_waist, low=-self.depth / 4.0,
            high=self.depth / 4.0, near=(1.0, -2.0),
            so_that="the waist, which is a curve, is as long as the waist girth and its ease",
            goal="half of the waist", check=GIRTHS,
        )  # fmt: skip
        plan = planned(extra)
        self._check_room(d, "back", plan.back)
        self._check_room(d, "front", plan.front)
        return plan

    def _asked(self, side: str) -> Asked:
        """What the maker asks of the darts of the back or the front."""
        count, intake, length = (
            self.values[f"{side}_{name}"] for name in ("darts", "dart", "dart_length")
        )
        usual = self.reaches[SIDES_OF.index(side)] * self.depth
        return Asked(usual if length is None else length, self.outer_dart, count, intake)

    def _check_used(self, d: Draft, behind: Darts, before: Darts) -> None:
        """Refuse a dart option that has no dart to shape, by the maker's own count.

        A body that needs no dart where its maker left the count to the block is no fault.
        """
        for side in SIDES_OF:
            for name in (f"{side}_dart", f"{side}_dart_length"):
                d.require(
                    self.values[f"{side}_darts"] != 0 or self.values[name] is None,
                    f"{name} {d.say(self.values[name] or 0.0)} is set, but {side}_darts is 0",
                    check=(name, f"{side}_darts"),
                    do=f"leave {name} out, or give {side}_darts 1 or 2",
                )
        d.require(
            self.outer_dart == type(self).outer_dart.default
            or max(len(behind.lengths), len(before.lengths)) > 1,
            "outer_dart is set, but neither back nor front has an outer dart",
            check=("outer_dart", "back_darts", "front_darts"),
            do="leave it out, or give back_darts or front_darts 2",
        )

    def _check_darts(self, d: Draft, side: str, darts: Darts) -> None:
        """Refuse darts too narrow to sew, or too wide for their length."""
        if not darts.lengths:
            return
        d.require(
            darts.intake >= LEAST,
            f"{side}_darts {len(darts.lengths)} would take in {d.say(darts.intake)} each; there is "
            "no more for them between hip and waist",
            check=(f"{side}_darts", "waist_girth", "hip_girth"),
        )
        d.require(
            darts.intake <= darts.lengths[-1] / 2.0,
            f"a {side} dart of {d.say(darts.intake)} is too wide for its length of "
            f"{d.say(darts.lengths[-1])}, which must be twice that or more",
            check=(f"{side}_dart_length", f"{side}_dart", f"{side}_darts"),
        )

    def _check_room(self, d: Draft, side: str, quarter: Quarter) -> None:
        """Refuse darts that do not fit on the waist, or end beyond hip line or side."""
        if not quarter.dart_lengths:
            return
        count, wide = len(quarter.dart_lengths), abs(quarter.side_waist)
        hangs = (f"{side}_dart_length", f"{side}_darts")
        d.require(
            quarter.intake <= DART_ROOM * wide / (count + 1),
            f"there is no room for {count} of {d.say(quarter.intake)} on a {side} waist of "
            f"{d.say(wide)}",
            check=(f"{side}_darts", f"{side}_dart", "waist_girth", "hip_girth"),
        )
        d.require(
            all(dart.apex.y >= -self.depth for dart in quarter.darts),
            f"a {side} dart {d.say(max(quarter.dart_lengths))} long ends below the hip line, "
            f"{d.say(self.depth)} from the waist (waist_to_hip)",
            check=(*hangs, "waist_to_hip"),
        )
        d.require(
            all(dart.apex.x <= REACHES_OUT * quarter.hip for dart in quarter.darts),
            f"a {side} dart, square to a waist that rises {d.say(quarter.rise)} to the side, "
            "points out at the side seam",
            check=("side_rise", *hangs),
        )

    def _check_alike(self, d: Draft, back: float, front: float, even: float) -> None:
        """Refuse side seams of back and front that take in amounts too unlike."""
        most = MOST_APART * self.depth
        d.require(
            abs(back - front) <= most,
            f"the side seam takes in {d.say(back)} on the back and {d.say(front)} on the front "
            f"from hip to waist, which may differ by {d.say(most)}",
            check=("waist_shift", "hip_shift", *GIRTHS),
            do=f"give a waist_shift nearer {d.say(even)}, or leave it out, or give another "
            "hip_shift, or check waist_girth and hip_girth",
        )

    def _quarter(self, hip: float, taken: float, flare: Flare, darts: Darts) -> Quarter:
        rise = self.side_rise
        if rise is None:
            lean = side_lean(math.atan2(taken, self.depth), flare.first)
            rise = RISE_SHARE * (hip - taken) * math.tan(lean / 2.0)
        return Quarter(
            hip, taken, rise, self.depth, self.length, darts.intake, darts.lengths, flare
        )

    # -- promises ----------------------------------------------------------------------------

    def promise(self, d: Draft, back: Piece, front: Piece) -> None:
        """What both darted skirts promise: the side seam, smooth and square corners, the waist."""
        d.seam(
            "side", -back.edge("back side"), front.edge("front side"),
            stretches=[Stretch(HIP_NOTCH, (0.0, 0.0))], last=0.0,
        )  # fmt: skip
        d.balance("side", every=LONG)
        behind, before = back.stretches("back waist")[0], front.stretches("front waist")[0]
        d.offer("back waist", -behind)  # from the centre back
        d.offer("front waist", -before)  # to the centre front
        d.unsewn(["back waist", "front waist"], "left open")
        d.twin("centre back", "centre back")
        d.corner(
            "waist over the side seam", ("back side", "back waist"), ("front waist", "front side")
        )
        d.corner("waist at centre back", ("back waist", "centre back"), angle=90.0)
        d.corner("waist at centre front", ("centre front", "front waist"), angle=90.0)
        d.corner("hem over the side seam", ("back hem", "back side"), ("front side", "front hem"))
        d.corner("hem at centre back", ("centre back", "back hem"), angle=90.0)
        d.corner("hem at centre front", ("front hem", "centre front"), angle=90.0)
        waist = ["back waist", "front waist"]
        d.girth("waist", body=self.waist, ease=self.waist_ease, runs=waist, times=2)
        for piece in (back, front):
            centre = piece.edge(f"centre {piece.name}")
            d.measure(f"length at {centre.name}", length=self.length, runs=[centre])

    @staticmethod
    def promise_darts(d: Draft, piece: Piece) -> None:
        """The waist runs on over the darts that a piece is drawn with."""
        for dart in piece.darts:
            d.corner(f"waist over the {dart.name}", dart)


def _agreeing(plan: Plan) -> Plan:
    """The front's side waist raised or lowered until its side seam is as long as the back's."""
    back, front = plan.back, plan.front
    if (back.taken, back.rise) == (front.taken, front.rise):
        return plan
    rise = solve(
        lambda rise: replace(front, rise=rise).side_spline().length, back.side_spline().length,
        -back.depth / 2.0, back.depth, near=(back.rise, 1.0),
    )  # fmt: skip
    return Plan(back, replace(front, rise=rise))
