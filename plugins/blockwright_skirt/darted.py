"""The darted skirt: what the straight and the flared skirt are both drawn from."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from typing import ClassVar

from blockwright import (
    Draft,
    InputError,
    Piece,
    Stretch,
    Traits,
    auto_count_option,
    auto_length_option,
    length_option,
    ratio_option,
    solve,
)
from blockwright_skirt.pieces import HIP_NOTCH
from blockwright_skirt.quarter import Flare, Quarter, side_lean, waist_length
from blockwright_skirt.sharing import LEAST, Asked, Darts, share
from blockwright_skirt.skirt import STEEPEST_OUT, Skirt

# A side waist this share as high over the centre waist as an arc square to centre and side would
# have it: in the published draft that raises it 1.25 cm for 4 cm taken in, so much (see the tests).
RISE_SHARE = 0.4
# Back and front side seam may take in amounts that differ by this share of the depth of the hip:
# beyond, the front's waist must drop or rise by over a centimetre for them to be one length.
MOST_APART = 0.15
# A dart is at most this share of the distance from one to the next: pressed over, half of it lies
# on the waist between them, which is so much less.  Its point stays within this share of the width.
DART_ROOM, REACHES_OUT = 0.55, 0.9


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

    hip_ease = length_option(
        "5 cm", low="0 cm", high="30 cm", says="finished hip over the hip girth"
    )
    hip_shift = length_option(
        "7.5 mm", low="-5 cm", high="5 cm",
        says="back wider at the hip than a quarter, front narrower by as much",
    )  # fmt: skip
    waist_shift = auto_length_option(
        auto="so that back and front side seam have one shape", low="-5 cm", high="5 cm",
        says="back wider at the finished waist than a quarter, front narrower by as much",
    )  # fmt: skip
    side_rise = auto_length_option(
        auto="two fifths of the rise of an arc square to centre and side seam",
        low="-1 cm", high="4 cm", says="side waist over the centre waist",
    )  # fmt: skip
    back_darts = auto_count_option(
        auto="as many as the shape needs", low=0, high=2, says="darts in each half of the back"
    )
    front_darts = auto_count_option(
        auto="as many as the shape needs", low=0, high=2, says="darts in each half of the front"
    )
    back_dart = auto_length_option(
        auto="a share of what is taken in, so that the side seam is a gentle curve",
        low="5 mm", high="5 cm", says="intake of each back dart",
    )  # fmt: skip
    front_dart = auto_length_option(
        auto="a share of what is taken in, so that the side seam is a gentle curve",
        low="5 mm", high="5 cm", says="intake of each front dart",
    )  # fmt: skip
    back_dart_length = auto_length_option(
        auto="two thirds of waist to hip", low="3 cm", high="25 cm",
        says="length of the back dart, of the inner one of two",
    )  # fmt: skip
    front_dart_length = auto_length_option(
        auto="half of waist to hip; two thirds in a flared skirt", low="3 cm", high="25 cm",
        says="length of the front dart, of the inner one of two",
    )  # fmt: skip
    outer_dart = ratio_option(
        0.9, low=0.5, high=1.2, says="length of the outer of two darts as a share of the inner"
    )

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
        back_asked = self._asked(
            self.back_dart_length, self.reaches[0], self.back_darts, self.back_dart
        )
        front_asked = self._asked(
            self.front_dart_length, self.reaches[1], self.front_darts, self.front_dart
        )
        behind, before = share(
            half_hip - half_waist, self.depth, self.back_share, back_asked, front_asked
        )
        self._check_used(d, behind, before)
        self._check_darts(d, "back", behind, back_asked)
        self._check_darts(d, "front", before, front_asked)
        sides = half_hip - half_waist - behind.total - before.total
        back_hip, front_hip = half_hip / 2.0 + self.hip_shift, half_hip / 2.0 - self.hip_shift
        back_side = sides / 2.0
        if self.waist_shift is not None:
            even = back_hip - half_waist / 2.0 - behind.total - back_side
            back_side += even - self.waist_shift
            self._check_alike(d, back_side, sides - back_side, even)
        front_side = sides - back_side
        for side in (back_side, front_side):
            self.check_seam(d, side, "more or wider darts")
            self._check_out(d, side)

        intakes = [
            (darts.intake, long)
            for darts, asked in ((behind, back_asked), (before, front_asked))
            for long in self._lengths(darts, asked)
        ]
        chord = math.atan2(min(back_side, front_side), self.depth)
        flare = self.flare(d, min(back_hip, front_hip), chord, intakes)

        def planned(extra: float) -> Plan:
            back = self._quarter(back_hip, back_side + extra, flare, behind, back_asked)
            front = self._quarter(front_hip, front_side + extra, flare, before, front_asked)
            return _agreeing(Plan(back, front))

        def waist(extra: float) -> float:
            trial = planned(extra)
            return waist_length(trial.back, trial.front)

        extra = d.solve(
            "side seams taken in more",
            waist,
            target=half_waist,
            low=-self.depth / 4.0,
            high=self.depth / 4.0,
            near=(1.0, -2.0),
            so_that="the waist, which is a curve, is as long as the waist girth and its ease",
            goal="half of the waist",
            advice="check waist_girth, hip_girth and waist_to_hip",
        )
        plan = planned(extra)
        self._check_room(d, "back", plan.back)
        self._check_room(d, "front", plan.front)
        return plan

    def _asked(
        self, length: float | None, reach: float, count: int | None, intake: float | None
    ) -> Asked:
        long = reach * self.depth if length is None else length
        return Asked(long, count, intake)

    def _check_darts(self, d: Draft, side: str, darts: Darts, asked: Asked) -> None:
        if darts.count and darts.intake < LEAST:
            raise InputError(
                f"{self.key}: {side}_darts {darts.count} would take in {d.say(darts.intake)} each, "
                f"for waist_girth {d.say(self.waist)} and hip_girth {d.say(self.hip)} leave no "
                f"more for them; give fewer {side}_darts, or leave {side}_darts out"
            )
        shortest = asked.length * (self.outer_dart if darts.count > 1 else 1.0)
        if darts.intake > shortest / 2.0:
            raise InputError(
                f"{self.key}: a {side} dart of {d.say(darts.intake)} is too wide for its length "
                f"of {d.say(shortest)}; give a {side}_dart_length of twice its intake or more, or "
                f"a smaller {side}_dart"
            )

    def _check_used(self, d: Draft, behind: Darts, before: Darts) -> None:
        """InputError for a dart option that has no dart to shape, by the maker's own count.

        A body that needs no dart where its maker left the count to the block is no fault.
        """
        for side in ("back", "front"):
            for name in (f"{side}_dart", f"{side}_dart_length"):
                if self.values[f"{side}_darts"] == 0 and self.values[name] is not None:
                    raise InputError(
                        f"{self.key}: {name} {d.say(self.values[name])} is set, but {side}_darts "
                        f"is 0; leave {name} out, or give {side}_darts 1 or 2"
                    )
        if self.outer_dart != type(self).outer_dart.default and max(behind.count, before.count) < 2:
            raise InputError(
                f"{self.key}: outer_dart is set, but neither back nor front has an outer dart; "
                "leave it out, or give back_darts or front_darts 2"
            )

    def _check_out(self, d: Draft, taken: float) -> None:
        """InputError for a side seam that leans out to the waist more than can be sewn."""
        if taken < -STEEPEST_OUT * self.depth:
            raise InputError(
                f"{self.key}: {self.girths(d)} makes a side seam lean out {d.say(-taken)} from hip "
                f"to waist, where {d.say(STEEPEST_OUT * self.depth)} can be sewn; check these "
                "three, or give smaller darts, a larger hip_ease or a waist_shift nearer zero"
            )

    def _check_room(self, d: Draft, side: str, quarter: Quarter) -> None:
        """InputError for darts that do not fit on the waist, or end beyond hip line or side."""
        apart = abs(quarter.side_waist) / (len(quarter.dart_lengths) + 1)
        if quarter.dart_lengths and quarter.intake > DART_ROOM * apart:
            raise InputError(
                f"{self.key}: there is no room for {len(quarter.dart_lengths)} of "
                f"{d.say(quarter.intake)} on a {side} waist of {d.say(abs(quarter.side_waist))}; "
                f"give fewer {side}_darts or a smaller {side}_dart, or check waist_girth and "
                "hip_girth"
            )
        if any(dart.apex.y < -self.depth for dart in quarter.darts):
            raise InputError(
                f"{self.key}: a {side} dart {d.say(max(quarter.dart_lengths))} long ends below the "
                f"hip line, {d.say(self.depth)} from the waist (waist_to_hip); give a smaller "
                f"{side}_dart_length"
            )
        if any(dart.apex.x > REACHES_OUT * quarter.hip for dart in quarter.darts):
            raise InputError(
                f"{self.key}: a {side} dart, square to a waist that rises {d.say(quarter.rise)} to "
                f"the side, points out at the side seam; give a smaller side_rise, a shorter "
                f"{side}_dart_length or fewer {side}_darts"
            )

    def _check_alike(self, d: Draft, back: float, front: float, even: float) -> None:
        if abs(back - front) > MOST_APART * self.depth:
            raise InputError(
                f"{self.key}: the side seam takes in {d.say(back)} on the back and {d.say(front)} "
                f"on the front from hip to waist; with waist_to_hip {d.say(self.depth)} they may "
                f"differ by {d.say(MOST_APART * self.depth)}; give a waist_shift nearer "
                f"{d.say(even)}, or leave it out, or give another hip_shift, or check waist_girth "
                "and hip_girth"
            )

    def _quarter(
        self, hip: float, taken: float, flare: Flare, darts: Darts, asked: Asked
    ) -> Quarter:
        rise = self.side_rise
        if rise is None:
            lean = side_lean(math.atan2(taken, self.depth), flare.first)
            rise = RISE_SHARE * (hip - taken) * math.tan(lean / 2.0)
        return Quarter(
            hip, taken, rise, self.depth, self.length,
            darts.intake, self._lengths(darts, asked), flare,
        )  # fmt: skip

    def _lengths(self, darts: Darts, asked: Asked) -> tuple[float, ...]:
        """Length of each dart from the centre out, mm."""
        return (asked.length, asked.length * self.outer_dart)[: darts.count]

    # -- promises ----------------------------------------------------------------------------

    def promise(self, d: Draft, back: Piece, front: Piece) -> None:
        """What both darted skirts promise: the side seam, smooth and square corners, the waist."""
        d.seam(
            "side", -back.edge("back side"), front.edge("front side"),
            stretches=[Stretch(HIP_NOTCH, (0.0, 0.0))], last=0.0,
        )  # fmt: skip
        behind, before = back.stretches("back waist")[0], front.stretches("front waist")[0]
        d.offer("back waist", -behind)  # from the centre back
        d.offer("front waist", -before)  # to the centre front
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
            d.girth(f"length at {centre.name}", body=self.length, ease=0.0, runs=[centre])

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
        lambda rise: replace(front, rise=rise).side_spline().length,
        back.side_spline().length,
        -back.depth / 2.0,
        back.depth,
        near=(back.rise, 1.0),
    )
    return Plan(back, replace(front, rise=rise))
