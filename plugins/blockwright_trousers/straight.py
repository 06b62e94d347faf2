"""Straight trousers: front and back with the crease as grain, seat seam solved."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

from blockwright import Curve, Draft, FairSpline, GeometryError, InputError, Piece, distance, solve
from blockwright_trousers.draw import HipLine, Levels, Lines, draw
from blockwright_trousers.fork import Fork
from blockwright_trousers.half import BACK, FRONT, Leg, at_level
from blockwright_trousers.promises import level, promise_lines, promise_seams, waist_edges
from blockwright_trousers.seat import (
    HIGHEST_RISE,
    LOWEST_RISE,
    SEAM_PER_RISE,
    USUAL_RISE,
    Rise,
    Seat,
)
from blockwright_trousers.waist import DartPlan, Sewn, Top, find_waist

USUAL_SEAT_EASE = 10.0
USUAL_STRETCH = 5.0
# Knee and hem, mm; 1.3 cm each side of both halves between them, as published.
KNEE_EASE = 25.0
KNEE_OVER_HEM = 52.0
# What the darts take of what the waist is narrower than the hip, beside the leaning centre back:
# on the published draft 2 of 6.75 cm at the front, 4 of 5.75 at the back.
FRONT_DART, BACK_DART = 2.0 / 6.75, 4.0 / 5.75
# Less than this is not worth a dart, more is worth two; mm.
LEAST_DART, MOST_OF_ONE = 8.0, 25.0
# Shares of the way to the hip line; 10 cm of 20.6 at the front as published.
FRONT_DART_LENGTH, BACK_DART_LENGTH = 0.485, 0.6
# A dart shorter than four times its intake opens wider than 14 degrees and pokes; the side seam
# takes the rest.  Common practice, no source.
WIDEST_DART = 0.25
# The thigh is measured so far below the tip of the back fork, the lower of the two; the crotch
# hangs lower than the body's, so the body is fullest no lower than that.  A leg wider than the
# thigh by the other is a skirt.  mm.
BELOW_FORK = 5.0
MOST_THIGH_EASE = 400.0
# Hips under nine tenths of the waist, more than so far below the crotch line, or a knee nearer to
# it, are slips of the tape; mm.
LEAST_HIP = 0.9
LOWEST_HIP = 50.0
LEAST_THIGH = 50.0
# How far the tip of the back fork may be dropped, mm.
DROPS = (-30.0, 100.0)
# What results from what, when all of it is given.
RESULTS = (
    ("seat_ease", ("back_fork", "back_rise")),
    ("hip_ease", ("front_hip", "back_hip")),
    ("inside_leg_stretch", ("back_drop",)),
)


@dataclass(frozen=True, slots=True)
class Plan:
    """All that is found before the pieces are drawn; pairs are front and back."""

    at: Levels
    legs: tuple[Leg, Leg]
    fork: Fork
    seams: tuple[Curve, Curve]
    hips: tuple[HipLine, HipLine]
    sewn: Sewn

    @property
    def below_fork(self) -> float:
        """Height at which the thigh is measured."""
        return self.fork.back.tip.y - BELOW_FORK

    @property
    def stretch(self) -> float:
        """How much the back inside leg is shorter than the front one above the knee."""
        return self.fork.front_leg.length - self.fork.back_leg.length


class StraightTrousers(Seat):
    """Straight trousers to the waist: the seat seam is as long as the body's, ease added."""

    key = "trousers.straight"
    title = "Straight trousers"

    def draft(self, d: Draft) -> None:
        """Draw front and back."""
        plan = self.plan(d)
        back, front = (d.add(piece) for piece in self._pieces(plan))
        self._check_thigh(d, plan, front, back)
        self._mark(d, plan)
        promise_seams(d, front, back, plan.stretch)
        promise_lines(d, front, back)
        self._promise_marks(d, plan, front, back)
        self._promise_widths(d, plan, front, back)

    def plan(self, d: Draft) -> Plan:
        """Find fork, hip line and waist, in this order."""
        self._check(d)
        legs = self._legs()
        rise, fork = self._find_fork(d, legs)
        at, seams = self.levels(rise), fork.seams()
        self._check_levels(d, at)
        hips = self._hip_lines(fork, seams, at.hip)
        back_spare = hips[1].width - self.back_net - hips[1].centre_lean
        # Where the back would have to lean out at the side, the front takes half of it, so that
        # the side seams of a large waist spread alike.
        taken = max(-back_spare, 0.0) / 2.0 if self.front_waist is None else 0.0
        nets = self.front_net + taken, self.back_net - taken
        front_spare = hips[0].width - nets[0]
        deep = -at.hip
        darts = (
            self._darts(d, "front", FRONT_DART * front_spare, FRONT_DART_LENGTH * deep, deep),
            self._darts(d, "back", BACK_DART * back_spare, BACK_DART_LENGTH * deep, deep),
        )
        sewn = find_waist(
            Top(fork.front, legs[0], hips[0].side, darts[0], nets[0]),
            Top(fork.back, legs[1], hips[1].side, darts[1], nets[1]),
        )
        plan = Plan(at, legs, fork, seams, hips, sewn)
        self._check_results(d, plan)
        return plan

    # -- legs --------------------------------------------------------------------------------

    @property
    def knee_around(self) -> float:
        """Finished width at the knee."""
        usual = (self.thigh + self.knee_girth) / 2.0 + KNEE_EASE
        return usual if self.knee_width is None else self.knee_width

    @property
    def hem_around(self) -> float:
        """Finished width at the hem."""
        return self.knee_around - KNEE_OVER_HEM if self.hem_width is None else self.hem_width

    def _legs(self) -> tuple[Leg, Leg]:
        """Front and back from the knee down, equally wide either side of the crease."""
        at = self.levels(Rise(USUAL_RISE))
        front, back = (
            (self.knee_around / 4.0 + more, self.hem_around / 4.0 + more)
            for more in (-self.back_wider / 2.0, self.back_wider / 2.0)
        )
        drop = at.knee - at.hem
        return (
            Leg(FRONT, front[0], _hem_reach(*front, drop), at.knee, at.hem),
            Leg(BACK, back[0], _hem_reach(*back, drop), at.knee, at.hem),
        )

    # -- the fork ----------------------------------------------------------------------------

    def _find_fork(self, d: Draft, legs: tuple[Leg, Leg]) -> tuple[Rise, Fork]:
        """Solve rise or fork at the back for the seat seam."""
        forked = cache(lambda rise: self._fork(legs, rise))
        if self.back_rise is None:
            found = self._solve_seat(
                d,
                "centre back rise",
                lambda value: forked(Rise(value)).length,
                (LOWEST_RISE, HIGHEST_RISE),
                (USUAL_RISE, SEAM_PER_RISE),
            )
            rise = Rise(found)
        elif self.back_fork is None:
            given = self.back_rise
            found = self._solve_seat(
                d,
                "back fork",
                lambda value: forked(Rise(given, value)).length,
                (self.usual_fork, 4.0 * self.usual_fork),
                (self.usual_back_fork, 0.7),
            )
            rise = Rise(given, found)
        else:
            rise = Rise(self.back_rise)
            try:
                return rise, forked(rise)
            except GeometryError:
                raise InputError(
                    f"{self.key}: with back_fork {d.say(self.back_fork)} and back_rise "
                    f"{d.say(self.back_rise)} no drop of its tip makes the inside legs agree; "
                    "give a shorter back_fork, or a back_drop"
                ) from None
        return rise, forked(rise)

    def _fork(self, legs: tuple[Leg, Leg], rise: Rise) -> Fork:
        """The fork for a rise, the tip of the back dropped for the inside leg."""
        front = self.front_crotch(rise)
        front_leg = legs[0].inside(front.tip, self.front_hollow)

        def back_leg(drop: float) -> FairSpline:
            return legs[1].inside(self.back_crotch(rise, drop).tip, self.back_hollow)

        stretch = USUAL_STRETCH if self.inside_leg_stretch is None else self.inside_leg_stretch
        drop = self.back_drop
        if drop is None:
            drop = solve(
                lambda drop: back_leg(drop).length,
                front_leg.length - stretch,
                *DROPS,
                near=(10.0, -0.9),
            )
        return Fork(front, self.back_crotch(rise, drop), front_leg, back_leg(drop))

    def _solve_seat(
        self,
        d: Draft,
        name: str,
        seat: Callable[[float], float],
        span: tuple[float, float],
        near: tuple[float, float],
    ) -> float:
        """The value for which the seat seam is as long as wanted."""
        ease = USUAL_SEAT_EASE if self.seat_ease is None else self.seat_ease
        return d.solve(
            name,
            seat,
            target=self.total_crotch + ease,
            low=span[0],
            high=span[1],
            near=near,
            so_that="the seat seam is the total crotch length and its ease",
            goal="seat ease",
            offset=self.total_crotch,
            advice=f"total_crotch_length {d.say(self.total_crotch)} against body_rise "
            f"{d.say(self.rise)} and hip_girth {d.say(self.hip)}: measure them again, or set "
            "crotch_ease or seat_ease",
        )

    # -- the hip -----------------------------------------------------------------------------

    def _hip_lines(
        self, fork: Fork, seams: tuple[Curve, Curve], y: float
    ) -> tuple[HipLine, HipLine]:
        """The hip lines: given from the upright, or what the other leaves of hip and ease."""
        crotches = (fork.front, fork.back)
        # What each seam has left its upright by.
        left = [
            crotch.half.reach(at_level(seam, y)) - crotch.half.reach(crotch.start)
            for crotch, seam in zip(crotches, seams, strict=True)
        ]
        cloths = [
            None if given is None else given + past
            for given, past in zip((self.front_hip, self.back_hip), left, strict=True)
        ]
        front, back = cloths
        if front is None:
            usual = self.hip_quarter - self.hip_shift
            front = usual if back is None else 2.0 * self.hip_quarter - back
        if back is None:
            back = 2.0 * self.hip_quarter - front
        return (
            HipLine(
                fork.front, FRONT.at(FRONT.reach(fork.front.start) + left[0] - front, y), front
            ),
            HipLine(fork.back, BACK.at(BACK.reach(fork.back.start) + left[1] - back, y), back),
        )

    # -- the darts ---------------------------------------------------------------------------

    def _darts(self, d: Draft, half: str, wanted: float, usual: float, deepest: float) -> DartPlan:
        """The darts of a half.

        `wanted`: what they should take in, `usual`: their length, `deepest`: waist to hip line.
        """
        count: int | None = self.values[f"{half}_darts"]
        intake: float | None = self.values[f"{half}_dart_intake"]
        length: float = self.values[f"{half}_dart_length"] or usual
        number = (wanted > LEAST_DART) + (wanted > MOST_OF_ONE) if count is None else count
        if not number:
            return DartPlan(0, 0.0, length)
        if intake is None:
            if wanted <= 0.0:
                raise InputError(
                    f"{self.key}: {half}_darts is {count}, but waist_girth {d.say(self.waist)} "
                    f"leaves nothing to take in from hip_girth {d.say(self.hip)}; give "
                    f"{half}_dart_intake, or no darts"
                )
            intake = min(wanted / number, WIDEST_DART * length)
        if not 2.0 * intake <= length <= deepest:
            raise InputError(
                f"{self.key}: {half} darts of {d.say(length)} taking in {d.say(intake)} each are "
                f"not between twice that and the hip line {d.say(deepest)} down; set "
                f"{half}_dart_length, {half}_dart_intake or {half}_darts, or check waist_to_hip"
            )
        return DartPlan(number, intake, length)

    # -- what cannot be ----------------------------------------------------------------------

    def _check(self, d: Draft) -> None:
        """Refuse what contradicts itself before anything is drawn."""
        if 4.0 * self.hip_quarter < LEAST_HIP * self.waist:
            raise InputError(
                f"{self.key}: hip_girth {d.say(self.hip)} with its ease is less than nine tenths "
                f"of waist_girth {d.say(self.waist)}; measure both again, or set hip_ease"
            )
        if self.knee_around < self.knee_girth:
            raise InputError(
                f"{self.key}: a knee_width of {d.say(self.knee_around)} is less than knee_girth "
                f"{d.say(self.knee_girth)}; give a wider one"
            )
        for result, given in RESULTS:
            if all(self.values[name] is not None for name in (result, *given)):
                raise InputError(
                    f"{self.key}: {result} results from {' and '.join(given)}; leave one out"
                )
        self._check_levels(d, self.levels(Rise(USUAL_RISE)))

    def _check_levels(self, d: Draft, at: Levels) -> None:
        """Refuse lines in an order no body has."""
        if self.waist_to_hip > LOWEST_HIP - at.crotch:
            raise InputError(
                f"{self.key}: waist_to_hip {d.say(self.waist_to_hip)} puts the hips more than "
                f"{d.say(LOWEST_HIP)} below the crotch line at {d.say(-at.crotch)}; measure "
                "waist_to_hip and body_rise again, or set crotch_ease"
            )
        if not at.hem < at.knee < at.crotch - LEAST_THIGH:
            raise InputError(
                f"{self.key}: the knee at {d.say(-at.knee)} below the waist (outside_leg_length "
                f"less knee_height) is not between the crotch line at {d.say(-at.crotch)} and the "
                f"hem at {d.say(-at.hem)}; check knee_height, outside_leg_length, body_rise and "
                "leg_length"
            )

    def _check_results(self, d: Draft, plan: Plan) -> None:
        """Refuse what results from options given if it could not have been asked for."""
        kind = type(self)
        found = (
            (kind.seat_ease, plan.fork.length - self.total_crotch),
            (kind.hip_ease, 2.0 * sum(hip.cloth for hip in plan.hips) - self.hip),
            (kind.inside_leg_stretch, plan.stretch),
        )
        for (option, value), (_, given) in zip(found, RESULTS, strict=True):
            if any(self.values[name] is None for name in given):
                continue
            if not option.low <= value <= option.high:
                raise InputError(
                    f"{self.key}: {' and '.join(given)} as given make {option.name} "
                    f"{d.say(value)}; it may be {d.say(option.low)} to {d.say(option.high)}: "
                    f"give other values, or leave {given[-1]} out"
                )

    def _check_thigh(self, d: Draft, plan: Plan, front: Piece, back: Piece) -> None:
        """Refuse a leg too narrow for the thigh."""
        width = 0.0
        for piece in (front, back):
            inside, side = (
                at_level(piece.edge(f"{piece.name} {seam}").curve, plan.below_fork)
                for seam in ("inside leg", "side")
            )
            width += distance(inside, side)
        if width < self.thigh + self.thigh_ease:
            raise InputError(
                f"{self.key}: the leg is {d.say(width)} wide below the fork, less than thigh_girth "
                f"{d.say(self.thigh)} and thigh_ease {d.say(self.thigh_ease)}; measure thigh_girth "
                "and hip_girth again, or set hip_ease or thigh_ease"
            )

    # -- drawing -----------------------------------------------------------------------------

    def _pieces(self, plan: Plan) -> tuple[Piece, Piece]:
        """Back and front."""
        fork, sewn = plan.fork, plan.sewn
        front_waist, back_waist = sewn.cut()
        # The hip notch lies on the front's hip line; on the back as far down the seam.
        along = sewn.front.side_seam.spans[0].length
        front = Lines(
            plan.at, plan.legs[0], plan.hips[0], plan.seams[0], fork.front_leg.curve(),
            sewn.front, along, front_waist,
        )  # fmt: skip
        back = Lines(
            plan.at, plan.legs[1], plan.hips[1], plan.seams[1], fork.back_leg.curve(),
            sewn.back, along, back_waist,
        )  # fmt: skip
        return draw(back), draw(front)

    def _mark(self, d: Draft, plan: Plan) -> None:
        front, back = plan.fork.front, plan.fork.back
        rows = (
            ("centre front", front.top, "leaning in from the upright of the fork"),
            ("front seat", front.start, "on the upright, where the crotch curve begins"),
            ("front fork", front.tip, "on the crotch line, the front fork beyond its upright"),
            ("front side hip", plan.hips[0].side, "on the hip line, the front hip out"),
            ("front side waist", plan.sewn.front.side, "on the waist line, for the front waist"),
            ("centre back", back.top, "the back rise above the waist line, slanted in"),
            ("back seat", back.start, "on the upright, where the crotch curve begins"),
            ("back fork", back.tip, "the back fork beyond its upright, dropped"),
            ("back side hip", plan.hips[1].side, "on the hip line, the back hip out"),
            ("back side waist", plan.sewn.back.side, "for the back waist and equal side seams"),
        )
        for name, place, rule in rows:
            d.mark(name, place, rule, piece="front" if "front" in name else "back")

    def _promise_marks(self, d: Draft, plan: Plan, front: Piece, back: Piece) -> None:
        """A crotch curve passes the mark set for it."""
        for crotch, piece in ((plan.fork.front, front), (plan.fork.back, back)):
            for place in crotch.mark:
                rule = "out of the corner of the fork at 45 degrees"
                mark = d.mark(f"{piece.name} crotch curve", place, rule, piece=piece.name)
                edge = piece.edge(f"{piece.name} crotch")
                d.through(f"{piece.name} crotch through its mark", edge, [mark])

    def _promise_widths(self, d: Draft, plan: Plan, front: Piece, back: Piece) -> None:
        fork, hips, legs = plan.fork, plan.hips, plan.legs
        d.girth(
            "seat seam",
            body=self.total_crotch,
            ease=fork.length - self.total_crotch,
            runs=[front.edge("front crotch"), back.edge("back crotch")],
        )
        d.girth(
            "waist",
            body=self.waist,
            ease=self.waist_ease,
            runs=[waist_edges(front), waist_edges(back)],
            times=2,
        )
        d.girth(
            "hip",
            body=self.hip,
            ease=2.0 * (hips[0].cloth + hips[1].cloth) - self.hip,
            levels=[level(hip.crotch.half.name, hip.side, hip.inner) for hip in hips],
            times=2,
        )
        d.girth(
            "thigh",
            body=self.thigh,
            ease=(self.thigh_ease, MOST_THIGH_EASE),
            levels=[
                level(hip.crotch.half.name, hip.side, hip.crotch.tip, plan.below_fork)
                for hip in hips
            ],
        )
        d.girth(
            "knee",
            body=self.knee_girth,
            ease=self.knee_around - self.knee_girth,
            levels=[
                level(leg.half.name, leg.place("knee", -1.0), leg.place("knee", 1.0))
                for leg in legs
            ],
        )
        hems = [front.edge("front hem"), back.edge("back hem")]
        d.girth("hem", body=self.hem_around, ease=0.0, runs=hems)


def _hem_reach(knee: float, hem: float, drop: float) -> float:
    """How far either end of a hem lies from the crease, mm.

    The hem is an arc square to both seams, half of it `hem` long, so its ends reach a little less.
    `knee`: half the width at the knee, `drop` mm above.
    """

    def half_arc(reach: float) -> float:
        lean = math.atan2(knee - reach, drop)
        return reach * (lean / math.sin(lean) if lean else 1.0)

    return solve(half_arc, hem, 0.5 * hem, 1.5 * hem, near=(hem, 1.0))
