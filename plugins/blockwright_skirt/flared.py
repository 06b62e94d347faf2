"""The flared skirt: the straight skirt with its darts closed into the hem."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace

from blockwright import (
    Across,
    Curve,
    Draft,
    Edge,
    Guide,
    Piece,
    Point,
    Promise,
    fair_curve,
    ratio_option,
    spread,
)
from blockwright_skirt.darted import DartedSkirt, Plan
from blockwright_skirt.quarter import (
    MIRROR,
    Flare,
    Quarter,
    flare_or_refuse,
    make_pieces,
)
from blockwright_skirt.skirt import HIP_NOTCH, SIDES, auto_length

# The side seam gets half of what a closed dart opens, so that the flare goes evenly round: a side
# seam is half of a place.  Common practice, no source.
SIDE_SHARE = 0.5
# Without darts nothing opens, and the side seams flare by so much, mm.
PLAIN_FLARE = 30.0
# Degrees: how unlike back and front may lean at the side seam, off the grain.  Cloth stretches the
# more the further off grain it is cut, so unlike sides pull the seam round to one of them.  Common
# practice is alike, no source; the darts of two published drafts, closed, make it 2 and 6 (see the
# tests), and a dart a third shorter than its fellow 8.
MOST_UNLIKE = 10.0
# The hem rises to the side over this share of a quarter's hip; nearer the centre it is level.
RISING = 0.9
# A hem drawn fair is hip, darts and side seams added up, within this share of it.  Where its side
# seams flare much it is an arc to them, and longer by this much of the square of their slope.  On
# 2600 drafts with settings at random it was 1.3 % shorter at most, 2.4 % longer on plain flares,
# and 7.9 % longer where the sides went out by 47 % of their drop.
FAIRED, ARCHED = 0.025, 1.0 / 3.0


class FlaredSkirt(DartedSkirt):
    """Flared skirt: waist darts closed into the hem, side seams flared to go with it."""

    key = "skirt.flared"
    title = "Flared skirt"
    # Front and back are to flare alike, or the side seams would swing to the front.
    back_share = 0.5
    reaches = (2.0 / 3.0, 2.0 / 3.0)

    closed = ratio_option(
        1.0, low=0.2, high=1.0, says="share of each dart that is closed into the hem"
    )
    # fmt: off
    side_flare = auto_length("0 cm", "40 cm", "width added at the hem at each side seam",
                             "half of what a closed dart opens at the hem, 3 cm where there is "
                             "none")
    # fmt: on

    def flare(
        self, d: Draft, hip: float, chord: float, intakes: Sequence[tuple[float, float]]
    ) -> Flare:
        """Side seams that lean outward from the hip; above it they are never hollow."""
        out = self._side_flare(intakes)
        drop, width = self.length - self.depth, RISING * hip
        says = f"a side_flare of {d.say(out)} is too much for the {d.say(drop)} from hip to hem"
        return flare_or_refuse(d, says, ("side_flare", "length"), out, drop, width, chord)

    def _opened_at_hem(self, intakes: Sequence[tuple[float, float]]) -> list[float]:
        """What each closed dart opens at the hem: as its intake to its length, so the rest."""
        return [self.closed * take * (self.length / long - 1.0) for take, long in intakes]

    def _side_flare(self, intakes: Sequence[tuple[float, float]]) -> float:
        """Width added at the hem at each side seam: as asked, or to go with the darts."""
        if self.side_flare is not None:
            return self.side_flare
        opened = self._opened_at_hem(intakes)
        return SIDE_SHARE * sum(opened) / len(opened) if opened else PLAIN_FLARE

    def draft(self, d: Draft) -> None:
        """Draw back and front."""
        plan = self.plan(d)
        self._check_sides(d, plan)
        drawn = make_pieces(plan.back, plan.front)
        spreads = self._spread(drawn[0], plan.back), self._spread(drawn[1], plan.front)
        back, front = (d.add(piece) for piece, _ in spreads)
        self.promise(d, back, front)
        for each in (promise for _, promises in spreads for promise in promises):
            d.promise(each)
        wider = sum(self._opened(each, self.depth) for each in (plan.back, plan.front))
        d.girth(
            "hip", body=self.hip, ease=(self.hip_ease, self.hip_ease + 2.0 * wider),
            levels=[Across(each.name, each.guides[0].curve) for each in (back, front)], times=2,
        )  # fmt: skip
        self._promise_hems(d, plan, back.edge("back hem"), front.edge("front hem"))

    def _promise_hems(self, d: Draft, plan: Plan, back: Edge, front: Edge) -> None:
        """The hem is as wide as the hip and what flares it, as much of that behind as before."""
        opened, at_side = self._opened_at_hem(plan.darts), self._side_flare(plan.darts)
        wide = self.hip + self.hip_ease + 2.0 * math.fsum(opened) + SIDES * at_side
        arched = ARCHED * (at_side / (self.length - self.depth)) ** 2
        least, most = (1.0 - FAIRED) * wide, (1.0 + FAIRED + arched) * wide
        d.girth(
            "hem", body=self.hip, ease=(least - self.hip, most - self.hip),
            runs=[[back], [front]], times=2,
        )  # fmt: skip
        # Side seams that lean alike make hems that are as unlike as the hips; for each radian that
        # they do not, they differ by less than the length, half of it behind and half before.
        behind, quarter = wide / 4.0 + self.hip_shift, self.hip / 4.0
        unlike = math.radians(MOST_UNLIKE) * self.length / 2.0 + FAIRED * behind
        d.girth(
            "back hem, flared as the front's", body=quarter, runs=[back],
            ease=(behind - unlike - quarter, behind + unlike - quarter),
        )  # fmt: skip

    def _turned(self, quarter: Quarter) -> float:
        """How far closing its darts turns the side seam of a quarter off the grain, radians."""
        return self.closed * math.fsum(quarter.openings)

    def _check_sides(self, d: Draft, plan: Plan) -> None:
        """Refuse side seams that would lean off the grain unlike each other.

        Also darts to close where there are none.
        """
        back, front = (math.degrees(self._turned(each)) for each in (plan.back, plan.front))
        less, more = ("back", "front") if back < front else ("front", "back")
        d.require(
            abs(back - front) <= MOST_UNLIKE,
            f"closing the darts turns the side seam {back:.0f} degrees off the grain on the back "
            f"and {front:.0f} on the front, and more than {MOST_UNLIKE:g} apart it hangs askew",
            check=("closed", "back_darts", "front_darts", "back_dart", "front_dart",
                   "back_dart_length", "front_dart_length", "outer_dart"),
            do=f"give {more} darts that open less or {less} ones that open more (back_darts, "
            "front_darts, back_dart, front_dart and their lengths), or leave them out, or give a "
            "smaller closed",
        )  # fmt: skip
        d.require(
            self.back_darts != 0 or self.front_darts != 0
            or self.closed == type(self).closed.default,
            "closed is set, but back_darts and front_darts are 0",
            check=("closed", "back_darts", "front_darts"),
            do="leave closed out, or give back_darts and front_darts 1 or 2",
        )  # fmt: skip

    def _opened(self, quarter: Quarter, level: float) -> float:
        """What the closed darts of a quarter open straight below, `level` mm from the waist."""
        return math.fsum(
            self.closed * opening * (level + dart.apex.y)
            for dart, opening in zip(quarter.darts, quarter.openings, strict=True)
        )

    def _spread(self, piece: Piece, quarter: Quarter) -> tuple[Piece, tuple[Promise, ...]]:
        """Every dart closed into the hem straight below it, then hem and hip line drawn anew.

        The outermost dart first, so that the next one still stands upright over the hem.  With it
        come the promises of its darts, of the places in the waist where they were.
        """
        hem, side = f"{piece.name} hem", f"{piece.name} side"
        straight = Draft(self.key, self.title)
        straight.add(replace(piece, guides=()))
        self.promise_darts(straight, piece)
        drawn = straight.pattern()
        for dart in sorted(piece.darts, key=lambda dart: -abs(dart.apex.x)):
            # The back's hem starts at the centre, the front's ends there.
            from_start = 0.0 if piece.name == "back" else drawn.length(hem)
            at = from_start + dart.apex.x
            drawn, _ = spread(drawn, piece.name, dart.name, hem, at, share=self.closed)
        made = drawn.piece(piece.name)
        way = Point(1.0, 0.0).turned(self._turned(quarter))
        notch = made.edge(side).curve.point_at(made.notch(HIP_NOTCH).along)
        level = fair_curve(
            [Point(0.0, -quarter.depth), notch],
            Point(notch.x, 0.0),
            way if piece.name == "back" else MIRROR(way),
        )
        edges = [replace(e, curve=_smooth(e.curve)) if e.name == hem else e for e in made.edges]
        made = replace(made, edges=tuple(edges), guides=(Guide("hip line", level),))
        return made, drawn.promises


def _smooth(hem: Curve) -> Curve:
    """The hem drawn fair: where it was spread it is a row of lines and arcs.

    It keeps its ends and its directions there: square to the centre and to the side seam.
    """
    return fair_curve([hem.start, hem.end], hem.start_tangent, hem.end_tangent)
