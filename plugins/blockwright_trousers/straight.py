"""Straight trousers: front and back with the crease as grain, seat seam solved."""

from __future__ import annotations

import math
from collections.abc import Callable
from functools import cache

from blockwright import Curve, Draft, FairSpline, GeometryError, InputError, Piece, Traits, solve
from blockwright_trousers.checks import check, check_levels
from blockwright_trousers.checks_found import (
    check_fork,
    check_hips,
    check_lengths,
    check_sides,
    check_thigh,
    thigh,
)
from blockwright_trousers.darts import plan_darts
from blockwright_trousers.draw import HipLine, Lines, draw
from blockwright_trousers.fork import Fork
from blockwright_trousers.half import BACK, FRONT, Leg, at_level
from blockwright_trousers.limits import SLOPES
from blockwright_trousers.names import (
    CURVES,
    DARTS,
    HIPS,
    INSIDE,
    LEGS,
    OF_LEG,
    OF_SEAT,
    OF_WAIST,
    SEAT,
    WAISTS,
)
from blockwright_trousers.plan import Plan
from blockwright_trousers.promises import (
    promise_lengths,
    promise_lines,
    promise_seams,
    promise_widths,
)
from blockwright_trousers.refusal import advice, drawing
from blockwright_trousers.results import check_results
from blockwright_trousers.seat import (
    HIGHEST_RISE,
    LOWEST_RISE,
    SEAM_PER_RISE,
    USUAL_RISE,
    Rise,
    Seat,
)
from blockwright_trousers.waist import Sewn, Top, find_waist
from blockwright_trousers.widths import USUAL_SEAT_EASE, USUAL_STRETCH

# How far the tip of the back fork may be dropped, mm.
DROPS = (-30.0, 100.0)


class StraightTrousers(Seat):
    """Straight trousers to the waist: the seat seam is as long as the body's, ease added."""

    key = "trousers.straight"
    title = "Straight trousers"
    traits = Traits(
        steps="a dart under 8 mm is not worth sewing and more than 25 mm is worth two: none, one "
        "or two in each half, as its waist is narrower than its hip",
    )

    offers = ("back waist", "front waist")

    def draft(self, d: Draft) -> None:
        """Draw front and back."""
        plan = self.plan(d)
        with drawing(d, self, "the waist", (*WAISTS, *DARTS, *HIPS), OF_WAIST):
            back, front = (d.add(piece) for piece in self._pieces(plan))
        with drawing(d, self, "the leg below the fork", (*INSIDE, *HIPS, *SEAT), OF_LEG):
            thighs = thigh(front, plan.below_fork), thigh(back, plan.below_fork)
        check_thigh(d, self, *thighs)
        self._mark(d, plan)
        promise_seams(d, self, front, back)
        promise_lines(d, front, back)
        self._promise_marks(d, plan, front, back)
        promise_widths(d, self, plan, (front, back), thighs[0])
        promise_lengths(d, self, front, back)

    def plan(self, d: Draft) -> Plan:
        """Find fork, hip line and waist, in this order."""
        check(d, self)
        with drawing(d, self, "the leg", LEGS, OF_LEG):
            legs = self._legs()
        with drawing(d, self, "the fork", (*SEAT, *CURVES, *INSIDE), (*OF_SEAT, *OF_LEG)):
            rise, fork = self._find_fork(d, legs)
            at, seams = self.levels(rise), fork.seams()
        check_levels(d, self, at)
        with drawing(d, self, "the hip line", (*HIPS, *SEAT, *CURVES), OF_WAIST):
            hips = self._hip_lines(fork, seams, at.hip)
        check_results(d, self, fork, hips)
        check_fork(d, self, fork)
        check_hips(d, self, fork, hips)
        with drawing(d, self, "the waist and side seams", (*WAISTS, *DARTS, *HIPS), OF_WAIST):
            sewn = self._find_sewn(d, legs, fork, hips, -at.hip)
        check_sides(d, self, sewn)
        check_lengths(d, self, at, legs[0], fork, sewn)
        return Plan(at, legs, fork, seams, hips, sewn)

    def _find_sewn(
        self,
        d: Draft,
        legs: tuple[Leg, Leg],
        fork: Fork,
        hips: tuple[HipLine, HipLine],
        deep: float,
    ) -> Sewn:
        """The halves above the hip line, `deep` mm down, with darts, waist and side seams."""
        back_spare = hips[1].width - self.back_net - hips[1].centre_lean
        # Where the back would have to lean out at the side, the front takes half of it, so that
        # the side seams of a large waist spread alike.
        taken = max(-back_spare, 0.0) / 2.0 if self.front_waist is None else 0.0
        nets = self.front_net + taken, self.back_net - taken
        front_spare = hips[0].width - nets[0]
        darts = (
            plan_darts(d, self, "front", front_spare, deep),
            plan_darts(d, self, "back", back_spare, deep),
        )
        return find_waist(
            Top(fork.front, legs[0], hips[0].side, darts[0], nets[0]),
            Top(fork.back, legs[1], hips[1].side, darts[1], nets[1]),
        )

    # -- legs --------------------------------------------------------------------------------

    def _legs(self) -> tuple[Leg, Leg]:
        """Front and back from the knee down, equally wide either side of the crease.

        The back is wider all the way, so that both lean alike and their seams are equally long.
        """
        at = self.levels(Rise(USUAL_RISE))
        knee, more = self.knee_around / 4.0, self.back_wider / 2.0
        hem = _hem_reach(knee, self.hem_around / 4.0, at.knee - at.hem)
        return (
            Leg(FRONT, knee - more, hem - more, at.knee, at.hem),
            Leg(BACK, knee + more, hem + more, at.knee, at.hem),
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
                (LOWEST_RISE, self._highest_rise),
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

    @property
    def _highest_rise(self) -> float:
        """The highest rise to look for: without a slant given, the waist slopes by the rise."""
        if self.seat_slant is not None:
            return HIGHEST_RISE
        return min(HIGHEST_RISE, self.back_net * math.tan(math.radians(SLOPES["back"][1])))

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
            advice=advice(
                d, self, ("crotch_ease", "seat_ease", *SEAT, *CURVES, *INSIDE), (*OF_SEAT, *OF_LEG)
            ),
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


def _hem_reach(knee: float, hem: float, drop: float) -> float:
    """How far either end of a hem lies from the crease, mm, on a half between front and back.

    The hem is an arc square to both seams, half of it `hem` long, so its ends reach a little less.
    `knee`: half the width at the knee, `drop` mm above.
    """

    def half_arc(reach: float) -> float:
        lean = math.atan2(knee - reach, drop)
        return reach * (lean / math.sin(lean) if lean else 1.0)

    return solve(half_arc, hem, 0.5 * hem, 1.5 * hem, near=(hem, 1.0))
