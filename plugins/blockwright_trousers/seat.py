"""The legs, the fork and the hip lines: the rise at the centre back is solved for the seat seam."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from functools import cache

from blockwright import Curve, Draft, FairSpline, solve
from blockwright_trousers import limits
from blockwright_trousers.body import USUAL_SEAT_EASE, USUAL_STRETCH, Range, TrousersBody
from blockwright_trousers.fork import Crotch, Fork, HipLine, Levels, corner_mark
from blockwright_trousers.leg import BACK, FRONT, Leg, at_level, hem_reach

# The published draft's rise at the centre back, mm, and the range in which one is looked for: a
# seam from level to leaning by some 20 degrees (a published seat slope is 15).
USUAL_RISE, LOWEST_RISE, HIGHEST_RISE = 20.0, 0.0, 80.0
# What a body wants whose seat seam is long for its rise, for every mm of rise at the centre back:
# it is deeper from front to back, in belly and in seat, so front and back forks grow, the centre
# front rises, and the crotch hangs a little lower.  In these shares no part goes to extremes on
# the bodies of the survey; common practice, no source.
BACK_FORK_PER_RISE, FRONT_FORK_PER_RISE = 0.8, 0.3
FRONT_PER_RISE, DEPTH_PER_RISE = 0.35, 0.5
# The whole seat seam grows so much.
SEAM_PER_RISE = 2.9
USUAL_CROTCH_EASE = 25.0
# The back upright stands a quarter of the way from the front one to the crease, as published.
BACK_NEARER = 0.25
# Of what the front waist is narrower than the hip, 6.75 cm, the published draft's centre takes 1.
FRONT_CENTRE = 1.0 / 6.75
# A back crotch curve begins no higher over the crotch line than this many forks are long; 1.18 on
# the published draft.
LONGEST_CURVE = 1.3
# How far the tip of the back fork may be dropped, mm.
DROPS = (-30.0, 100.0)


@dataclass(frozen=True, slots=True)
class Rise:
    """How high the centre back stands over the waist line, and how long its fork is, mm.

    `fork` None is the fork that goes with the rise.
    """

    back: float
    fork: float | None = None

    @property
    def more(self) -> float:
        """Rise beyond the published one."""
        return self.back - USUAL_RISE


class Seat(TrousersBody):
    """What is found below the waist, in this order: legs, fork, hip lines."""

    # -- uprights and forks ------------------------------------------------------------------

    @property
    def upright(self) -> float:
        """Crease to the upright of the front fork."""
        given = self.crease_to_fork
        return self.hip / 12.0 + 15.0 if given is None else given

    @property
    def usual_fork(self) -> float:
        """The front fork, but for what a long or short seat seam adds to it."""
        return self.hip / 16.0 + 5.0 if self.front_fork is None else self.front_fork

    @property
    def usual_back_fork(self) -> float:
        """The back fork, likewise: as published, half as long again from the same upright."""
        usual = BACK_NEARER * self.upright + 1.5 * self.usual_fork
        return usual if self.back_fork is None else self.back_fork

    # -- what goes with a rise ---------------------------------------------------------------

    def levels(self, rise: Rise) -> Levels:
        """The lines across.

        The hip line lies where the body's hips do, but no nearer the crotch line than the usual
        front fork is long; both published drafts keep that, and below it the cloth only widens.
        """
        depth = self.crotch_depth
        if depth is None:
            ease = USUAL_CROTCH_EASE + DEPTH_PER_RISE * rise.more
            depth = self.rise + (ease if self.crotch_ease is None else self.crotch_ease)
        return Levels(
            hip=-min(self.waist_to_hip, depth - self.usual_fork),
            crotch=-depth,
            knee=self.knee_height - self.outside_leg,
            hem=-self.length,
        )

    def front_crotch(self, rise: Rise) -> Crotch:
        """The front crotch.

        Its curve begins at the hip line, or as high over the crotch line as the fork is long, so
        that it has room to turn.  The crease keeps its place between side and fork.
        """
        at = self.levels(rise)
        more = FRONT_FORK_PER_RISE * rise.more if self.front_fork is None else 0.0
        fork = self.usual_fork + more
        root = self.upright - more / 2.0
        lean = self.front_in
        if lean is None:
            lean = FRONT_CENTRE * (self.hip_quarter - self.hip_shift - self.front_net)
        top = FRONT_PER_RISE * rise.more if self.front_rise is None else self.front_rise
        return Crotch(
            FRONT,
            top=FRONT.at(root - lean, top),
            start=FRONT.at(root, max(at.hip, at.crotch + fork)),
            mark=corner_mark(FRONT, root, at.crotch, self.front_curve),
            tip=FRONT.at(root + fork, at.crotch),
        )

    def back_crotch(self, rise: Rise, drop: float) -> Crotch:
        """The back crotch, the tip of its fork dropped by so much."""
        at = self.levels(rise)
        fork = rise.fork
        if fork is None:
            more = BACK_FORK_PER_RISE * rise.more if self.back_fork is None else 0.0
            fork = self.usual_back_fork + more
        root = (1.0 - BACK_NEARER) * self.upright - (fork - self.usual_back_fork) / 2.0
        # Less, and the curve has no room to turn; more, and it has to turn back to be so long.
        height = max(self.seat_curve_from * -at.crotch, fork)
        height = min(height, LONGEST_CURVE * fork)
        lean = self.seat_slant
        if lean is None:
            # Square to it, the waist falls by the rise from centre to side.
            lean = rise.back * (rise.back - at.crotch - height) / self.back_net
        return Crotch(
            BACK,
            top=BACK.at(root - lean, rise.back),
            start=BACK.at(root, at.crotch + height),
            mark=corner_mark(BACK, root, at.crotch, self.back_curve),
            tip=BACK.at(root + fork, at.crotch - drop),
        )

    # -- legs --------------------------------------------------------------------------------

    def legs(self) -> tuple[Leg, Leg]:
        """Front and back from the knee down, equally wide either side of the crease.

        The back is wider all the way, so that both lean alike and their seams are equally long.
        """
        at = self.levels(Rise(USUAL_RISE))
        knee, more = self.knee_around / 4.0, self.back_wider / 2.0
        hem = hem_reach(knee, self.hem_around / 4.0, at.knee - at.hem)
        return (
            Leg(FRONT, knee - more, hem - more, at.knee, at.hem),
            Leg(BACK, knee + more, hem + more, at.knee, at.hem),
        )

    # -- the fork ----------------------------------------------------------------------------

    def find_fork(self, d: Draft, legs: tuple[Leg, Leg]) -> tuple[Rise, Fork]:
        """Solve rise or fork at the back for the seat seam."""
        forked = cache(lambda rise: self._fork(legs, rise))
        if self.back_rise is None:
            found = self._solve_seat(
                d, "centre back rise", lambda value: forked(Rise(value)).length,
                (LOWEST_RISE, self._highest_rise), (USUAL_RISE, SEAM_PER_RISE),
            )  # fmt: skip
            return Rise(found), forked(Rise(found))
        given = self.back_rise
        if self.back_fork is None:
            found = self._solve_seat(
                d, "back fork", lambda value: forked(Rise(given, value)).length,
                (self.usual_fork, 4.0 * self.usual_fork), (self.usual_back_fork, 0.7),
            )  # fmt: skip
            return Rise(given, found), forked(Rise(given, found))
        hang = ("back_fork", "back_rise", "inside_leg_stretch", *limits.OF_SEAT)
        with d.drawing("a back fork whose inside leg agrees with the front one", check=hang):
            return Rise(given), forked(Rise(given))

    @property
    def _highest_rise(self) -> float:
        """The highest rise to look for: without a slant given, the waist slopes by the rise."""
        if self.seat_slant is not None:
            return HIGHEST_RISE
        return min(HIGHEST_RISE, self.back_net * math.tan(math.radians(limits.SLOPES["back"][1])))

    def _fork(self, legs: tuple[Leg, Leg], rise: Rise) -> Fork:
        """The fork for a rise, the tip of the back dropped for the inside leg."""
        front = self.front_crotch(rise)
        front_leg = legs[0].inside(front.tip, self.front_hollow)

        def back_leg(drop: float) -> FairSpline:
            return legs[1].inside(self.back_crotch(rise, drop).tip, self.back_hollow)

        stretch = USUAL_STRETCH if self.inside_leg_stretch is None else self.inside_leg_stretch
        drop = self.back_drop
        if drop is None:
            wanted = front_leg.length - stretch
            drop = solve(lambda drop: back_leg(drop).length, wanted, *DROPS, near=(10.0, -0.9))
        return Fork(front, self.back_crotch(rise, drop), front_leg, back_leg(drop))

    def _solve_seat(
        self, d: Draft, name: str, seat: Callable[[float], float], span: Range, near: Range
    ) -> float:
        """The value for which the seat seam is as long as wanted."""
        ease = USUAL_SEAT_EASE if self.seat_ease is None else self.seat_ease
        return d.solve(
            name, seat, target=self.total_crotch + ease, low=span[0], high=span[1], near=near,
            so_that="the seat seam is the total crotch length and its ease",
            goal="seat ease", offset=self.total_crotch, check=limits.SEAT_SEAM,
        )  # fmt: skip

    # -- the hip -----------------------------------------------------------------------------

    def hip_lines(
        self, fork: Fork, seams: tuple[Curve, Curve], y: float
    ) -> tuple[HipLine, HipLine]:
        """The hip lines: given from the upright, or what the other leaves of hip and ease."""
        # What each seam has left its upright by.
        front_past, back_past = (
            crotch.half.reach(at_level(seam, y)) - crotch.half.reach(crotch.start)
            for crotch, seam in zip((fork.front, fork.back), seams, strict=True)
        )
        front = None if self.front_hip is None else self.front_hip + front_past
        back = None if self.back_hip is None else self.back_hip + back_past
        if front is None:
            usual = self.hip_quarter - self.hip_shift
            front = usual if back is None else 2.0 * self.hip_quarter - back
        if back is None:
            back = 2.0 * self.hip_quarter - front

        def hip_line(crotch: Crotch, past: float, cloth: float) -> HipLine:
            reach = crotch.half.reach(crotch.start) + past - cloth
            return HipLine(crotch, crotch.half.at(reach, y), cloth)

        return hip_line(fork.front, front_past, front), hip_line(fork.back, back_past, back)
