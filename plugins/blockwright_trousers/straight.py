"""Straight trousers: front and back with the crease as grain, seat seam solved."""

from __future__ import annotations

from blockwright import Draft, Piece, Traits
from blockwright_trousers import checks, limits, promises
from blockwright_trousers.fork import HipLine
from blockwright_trousers.leg import Leg
from blockwright_trousers.pieces import Plan, thigh
from blockwright_trousers.seat import Seat
from blockwright_trousers.waist import Sewn, Top, find_waist, plan_darts


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
        with d.drawing("the waist", check=limits.WAIST):
            front, back = plan.pieces()
            d.add(back)
            d.add(front)
        with d.drawing("the leg below the fork", check=limits.THIGH):
            thighs = thigh(front, plan.below_fork), thigh(back, plan.below_fork)
        checks.check_thigh(d, self, *thighs)
        self._mark(d, plan)
        promises.promise_seams(d, self, front, back)
        promises.promise_lines(d, front, back)
        self._promise_marks(d, plan, front, back)
        promises.promise_widths(d, self, plan, (front, back), thighs[0])
        promises.promise_lengths(d, self, front, back)

    def plan(self, d: Draft) -> Plan:
        """Find fork, hip line and waist, in this order."""
        checks.check(d, self)
        with d.drawing("the leg", check=(*limits.LEGS, *limits.OF_LEG)):
            legs = self.legs()
        with d.drawing("the fork", check=limits.SEAT_SEAM):
            rise, fork = self.find_fork(d, legs)
            at, seams = self.levels(rise), fork.seams()
        checks.check_levels(d, self, at)
        with d.drawing("the hip line", check=limits.HIP_LINE):
            hips = self.hip_lines(fork, seams, at.hip)
        checks.check_results(d, self, fork, hips)
        checks.check_fork(d, self, fork)
        checks.check_hips(d, hips)
        with d.drawing("the waist and side seams", check=limits.WAIST):
            sewn = self._find_sewn(d, legs, hips)
        checks.check_sides(d, sewn)
        checks.check_lengths(d, at, legs[0], fork, sewn)
        return Plan(at, legs, fork, seams, hips, sewn)

    def _find_sewn(self, d: Draft, legs: tuple[Leg, Leg], hips: tuple[HipLine, HipLine]) -> Sewn:
        """The halves above the hip line, with darts, waist and side seams."""
        front, back = hips
        back_spare = back.width - self.back_net - back.centre_lean
        # Where the back would have to lean out at the side, the front takes half of it, so that
        # the side seams of a large waist spread alike.
        taken = max(-back_spare, 0.0) / 2.0 if self.front_waist is None else 0.0
        nets = self.front_net + taken, self.back_net - taken
        darts = (
            plan_darts(d, self, "front", front.width - nets[0], -front.side.y),
            plan_darts(d, self, "back", back_spare, -back.side.y),
        )
        tops = map(Top, (front.crotch, back.crotch), legs, (front.side, back.side), darts, nets)
        return find_waist(*tops)

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
