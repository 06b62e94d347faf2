"""The fitted bodice: front and back to the waist, shaped by bust, waist and shoulder darts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from typing import Literal

from blockwright import (
    Curve,
    Dart,
    Draft,
    Edge,
    Guide,
    Note,
    Pattern,
    Piece,
    Traits,
    line,
    move_dart,
    roof_between,
)
from blockwright_bodice.bodice import FittedBody
from blockwright_bodice.fitted_frame import NECK_TO_WAIST, SHOULDER_DART_AT, Plan, solved_frame
from blockwright_bodice.lines import Over, lines_over
from blockwright_bodice.pieces import (
    add_pieces,
    back_piece,
    front_piece,
    promise_across,
    promise_widths,
)

PRESSED = "pressed to the centre"


class FittedBodice(FittedBody):
    """Women's front and back to the waist, with bust, waist and back shoulder darts."""

    key = "bodice.fitted"
    title = "Fitted bodice"
    girth_line = "bust line"
    traits = Traits(
        wearers="women",
        steps="waist darts under 8 mm are not worth sewing: the side seams take all of a waist "
        "that is hardly narrower than the bust",
    )

    def draft(self, d: Draft) -> None:
        """Draw front and back."""
        plan = solved_frame(d, self)
        front_over, back_over = lines_over(d, self, plan.front, plan.back)
        waist = plan.waist().curves()
        half = len(waist) // 2
        bottom, darts = _bottom(plan, "back", waist[:half], "start")
        back = back_piece(self, bottom, back_over, plan.back_bust_line, darts)
        front = self._front(d, plan, front_over, *_bottom(plan, "front", waist[half:], "end"))
        front = replace(front, notes=(*front.notes, Note(plan.bust_point, "bust point")))
        add_pieces(d, self, front, back)
        self._mark(d, plan)
        promise_widths(d, self, front, back, self.waist_ease)
        if self.bust_dart == "side":
            promise_across(d, self, plan.front, plan.back)

    def _front(
        self, d: Draft, plan: Plan, over: Over, bottom: Sequence[Edge], darts: Sequence[Dart]
    ) -> Piece:
        low, leg = plan.front_side[1], plan.side_leg
        upper = Edge("front side", line(over.armhole.curve.end, plan.turn(leg)))
        side = Edge("front side", line(leg, low))
        hangs = ("shallower_front", *NECK_TO_WAIST)
        with d.drawing("the bust dart in the side seam", check=hangs):
            roof = roof_between(plan.dart_point, upper.curve, side.curve, "end")
        mouth = Edge("bust dart mouth", roof, "dart")
        bust_dart = Dart("bust dart", plan.dart_point, mouth.name, "end", "pressed down")
        edges = [upper, mouth, side]
        piece = front_piece(self, bottom, over, plan.closed_bust_line, edges, [*darts, bust_dart])
        return piece if self.bust_dart == "side" else self._turned_to_shoulder(d, plan, piece)

    def _turned_to_shoulder(self, d: Draft, plan: Plan, piece: Piece) -> Piece:
        """The front with its bust dart turned from the side seam to the shoulder."""
        shoulder = piece.edge("front shoulder")
        drawn = Pattern(self.key, self.title, (replace(piece, guides=piece.guides[1:]),))
        hangs = ("bust_dart", "shoulder_length", *NECK_TO_WAIST)
        with d.drawing("the bust dart in the shoulder seam", check=hangs):
            turned, _ = move_dart(
                drawn, piece.name, "bust dart", shoulder.name,
                SHOULDER_DART_AT * shoulder.curve.length, pressed="start", says=PRESSED,
            )  # fmt: skip
        opened = turned.piece(piece.name)
        bust_line = Guide(self.girth_line, plan.front_bust_line)
        return replace(opened, guides=(bust_line, *opened.guides))

    def _mark(self, d: Draft, plan: Plan) -> None:
        across = plan.front.across
        if self.bust_dart == "shoulder":
            across = plan.turn.inverse()(across)
        rule = "side neck point to bust point, half the width out"
        d.mark("bust point", plan.bust_point, rule, piece="front")
        rule = "half the across front, half way down"
        d.mark("across front", across, rule, piece="front")
        rule = "half the across back and its ease, half way down"
        d.mark("across back", plan.back.across, rule, piece="back")


def _bottom(
    plan: Plan, side: str, curves: Sequence[Curve], pressed: Literal["start", "end"]
) -> tuple[list[Edge], list[Dart]]:
    """The waist of back or front in outline order, with the mouth of its dart, and the dart."""
    waist = [Edge(f"{side} waist", curve, "waist") for curve in curves]
    if not plan.waist_darts:
        return waist, []
    cut = plan.waist_darts[side == "front"]
    mouth = Edge(f"{side} waist dart mouth", cut.roof(waist, pressed), "dart")
    dart = Dart(f"{side} waist dart", cut.apex, mouth.name, pressed, PRESSED)
    return [waist[0], mouth, waist[1]], [dart]
