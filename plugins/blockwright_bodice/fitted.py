"""The fitted bodice: front and back to the waist, shaped by bust, waist and shoulder darts."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from blockwright import (
    Across,
    Dart,
    Draft,
    Edge,
    GeometryError,
    Guide,
    Notch,
    Pattern,
    Piece,
    Traits,
    line,
    move_dart,
    roof_between,
)
from blockwright_bodice.bodice import WHOLE_BODY
from blockwright_bodice.checks import check_round_arm
from blockwright_bodice.fitted_body import FittedBody
from blockwright_bodice.fitted_checks import bust_dart_too_wide
from blockwright_bodice.fitted_frame import SHOULDER_DART_AT, solved_frame
from blockwright_bodice.fitted_plan import Plan
from blockwright_bodice.lines import armhole_line, armhole_notches, neck_line
from blockwright_bodice.pieces import back_piece, front_piece
from blockwright_bodice.promises import promise_across, promise_seams

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
        front_neck, back_neck = neck_line(d, self, plan.front.shoulder, plan.back.shoulder)
        front_armhole, back_armhole = armhole_line(plan.front, plan.back)
        front_notch, back_notch = armhole_notches(self, front_armhole, back_armhole)
        curves = plan.waist().curves()
        half = len(curves) // 2
        behind = [Edge("back waist", curve, "waist") for curve in curves[:half]]
        before = [Edge("front waist", curve, "waist") for curve in curves[half:]]
        back = self._back(plan, behind, back_armhole, back_neck, back_notch)
        front = self._front(d, plan, before, front_armhole, front_neck, front_notch)
        d.add(back)
        d.add(front)
        self._mark(d, plan)
        check_round_arm(d, self, [front_armhole, back_armhole])
        promise_seams(d, self, front, back)
        self._promise_girths(d, plan, front, back)

    def _back(
        self, plan: Plan, waist: Sequence[Edge], armhole: Edge, neck: Edge, notch: Notch
    ) -> Piece:
        bottom, darts = list(waist), []
        if plan.waist_darts:
            cut = plan.waist_darts[0]
            mouth = Edge("back waist dart mouth", cut.roof(waist, "start"), "dart")
            bottom.insert(1, mouth)
            darts = [Dart("back waist dart", cut.apex, mouth.name, "start", PRESSED)]
        return back_piece(self, bottom, plan.back, armhole, neck, notch, plan.back_bust_line, darts)

    def _front(
        self, d: Draft, plan: Plan, waist: Sequence[Edge], armhole: Edge, neck: Edge, notch: Notch
    ) -> Piece:
        bottom, darts = list(waist), []
        if plan.waist_darts:
            cut = plan.waist_darts[1]
            mouth = Edge("front waist dart mouth", cut.roof(waist, "end"), "dart")
            bottom.insert(1, mouth)
            darts = [Dart("front waist dart", cut.apex, mouth.name, "end", PRESSED)]
        low, leg = plan.front_side[1], plan.side_leg
        upper = Edge("front side", line(armhole.curve.end, plan.turn(leg)))
        side = Edge("front side", line(leg, low))
        try:
            roof = roof_between(plan.dart_point, upper.curve, side.curve, "end")
        except GeometryError as error:
            raise bust_dart_too_wide(
                d, self, "the side seam", error, "set shallower_front"
            ) from error
        mouth = Edge("bust dart mouth", roof, "dart")
        bust_dart = Dart("bust dart", plan.dart_point, mouth.name, "end", "pressed down")
        piece = front_piece(
            self, bottom, plan.front, armhole, neck, notch, plan.closed_bust_line,
            [upper, mouth, side], [*darts, bust_dart],
        )  # fmt: skip
        return piece if self.bust_dart == "side" else self._turned_to_shoulder(d, plan, piece)

    def _turned_to_shoulder(self, d: Draft, plan: Plan, piece: Piece) -> Piece:
        """The front with its bust dart turned from the side seam to the shoulder."""
        shoulder = piece.edge("front shoulder")
        drawn = Pattern(self.key, self.title, (replace(piece, guides=()),))
        try:
            turned, _ = move_dart(
                drawn, piece.name, "bust dart", shoulder.name,
                SHOULDER_DART_AT * shoulder.curve.length, pressed="start", says=PRESSED,
            )  # fmt: skip
        except GeometryError as error:
            seam = f"a shoulder_length of {d.say(self.shoulder_length)}"
            raise bust_dart_too_wide(d, self, seam, error, "set bust_dart to side") from error
        opened = turned.piece(piece.name)
        return replace(opened, guides=(Guide(self.girth_line, plan.front_bust_line),))

    def _mark(self, d: Draft, plan: Plan) -> None:
        front, back = plan.front, plan.back
        across = front.across
        if self.bust_dart == "shoulder":
            across = plan.turn.inverse()(across)
        for name, at, rule, piece in (
            ("bust point", plan.bust_point, "side neck point to bust point, half the width out",
             "front"),
            ("across front", across, "half the across front, half way down", "front"),
            ("across back", back.across, "half the across back and its ease, half way down",
             "back"),
        ):  # fmt: skip
            d.mark(name, at, rule, piece=piece)

    def _promise_girths(self, d: Draft, plan: Plan, front: Piece, back: Piece) -> None:
        d.girth(
            "bust", body=self.bust, ease=self.bust_ease, times=WHOLE_BODY,
            levels=[Across(piece.name, piece.guides[0].curve) for piece in (back, front)],
        )  # fmt: skip
        d.girth(
            "waist", body=self.waist, ease=self.waist_ease, times=WHOLE_BODY,
            runs=["back waist", "front waist"],
        )  # fmt: skip
        if self.bust_dart == "side":
            promise_across(d, self, plan.front, plan.back)
