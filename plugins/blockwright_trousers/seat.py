"""Where everything above the knee lies, for a rise at the centre back."""

from __future__ import annotations

from dataclasses import dataclass

from blockwright_trousers.draw import Levels
from blockwright_trousers.fork import Crotch, corner_mark
from blockwright_trousers.half import BACK, FRONT
from blockwright_trousers.widths import Widths

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


class Seat(Widths):
    """Uprights, forks and crotch lines; all that depends on measurements and the rise only."""

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
