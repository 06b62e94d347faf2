"""The straight skirt: darts to the waist, straight down from the hip."""

from __future__ import annotations

from blockwright import Across, Affine, Draft
from blockwright_skirt.darted import DartedSkirt
from blockwright_skirt.quarter import MIRROR, Quarter, dart_names, make_pieces


class StraightSkirt(DartedSkirt):
    """Straight skirt: one or two darts a quarter, side seams straight down from the hip."""

    key = "skirt.straight"
    title = "Straight skirt"
    # The published draft has two back darts and one front dart of one width, 14 and 10 cm long to
    # a hip line some 20 cm down (see the tests).
    back_share = 2.0 / 3.0
    reaches = (2.0 / 3.0, 0.5)

    def draft(self, d: Draft) -> None:
        """Draw back and front."""
        plan = self.plan(d)
        back, front = make_pieces(plan.back, plan.front)
        d.add(back)
        d.add(front)
        self._mark(d, "back", plan.back, Affine())
        self._mark(d, "front", plan.front, MIRROR)
        self.promise(d, back, front)
        self.promise_darts(d, back)
        self.promise_darts(d, front)
        for edge in (back.edge("back side"), front.edge("front side")):
            d.shape(edge.name, edge, bends=0)
        levels = [Across(piece.name, piece.guides[0].curve) for piece in (back, front)]
        d.girth("hip", body=self.hip, ease=self.hip_ease, levels=levels, times=2)
        hems = [back.edge("back hem"), front.edge("front hem")]
        d.girth("hem", body=self.hip, ease=self.hip_ease, runs=[[hem] for hem in hems], times=2)

    def _mark(self, d: Draft, side: str, quarter: Quarter, lay: Affine) -> None:
        """Marks of a quarter, with the rules that found them."""
        marks = [
            (f"{name} point", dart.apex, "dart length down, square to the waist")
            for name, dart in zip(dart_names(side, len(quarter.darts)), quarter.darts, strict=True)
        ]
        marks += [
            (f"{side} waist at the side", quarter.side_waist, "taken in and raised"),
            (f"{side} hip at the side", quarter.side_hip, "waist to hip down, hip width out"),
        ]
        for name, at, rule in marks:
            d.mark(name, lay(at), rule, piece=side)
