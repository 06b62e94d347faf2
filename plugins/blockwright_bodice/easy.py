"""The easy bodice: no darts, roomy; for men, for knits and for loose styles."""

from __future__ import annotations

from dataclasses import dataclass

from blockwright import (
    Across,
    Affine,
    Draft,
    Edge,
    LaidLine,
    Part,
    Point,
    Rule,
    choice_option,
    lay_line,
    length_option,
    line,
    measurement,
    solve,
)
from blockwright_bodice.bodice import EASE_TO_BACK, WHOLE_BODY, Bodice, scye_rule
from blockwright_bodice.checks import check_armhole, check_depth, check_round_arm
from blockwright_bodice.finished_shoulder import finished_shoulder, tell_shoulder
from blockwright_bodice.half import TO_RIGHT, Half, half_way
from blockwright_bodice.lines import armhole_line, armhole_notches, neck_line
from blockwright_bodice.pieces import back_piece, front_piece
from blockwright_bodice.promises import promise_across, promise_seams

# The chest line lies so far down the side seam, as a share of it: clear of the armhole, which dips
# a little where the seam hangs outward.
CHEST_LINE = 0.1


@dataclass(frozen=True, slots=True)
class Frame:
    """Both halves, and their side seams from underarm to waist."""

    front: Half
    back: Half
    front_side: tuple[Point, Point]
    back_side: tuple[Point, Point]


class EasyBodice(Bodice):
    """Front and back to the waist without bust or waist darts, for men, knits and loose styles."""

    key = "bodice.easy"
    title = "Easy bodice"
    girth_line = "chest line"

    chest = measurement(
        "chest_girth", estimate=Rule(("bust_girth",), lambda bust: bust, "the bust girth")
    )
    waist = measurement("waist_girth")
    scye_depth = measurement(
        "scye_depth", estimate=(scye_rule("chest_girth"), scye_rule("bust_girth"))
    )

    chest_ease = length_option(
        "12 cm", low="-10 cm", high="50 cm", says="chest over the chest girth"
    )
    waist_ease = length_option(
        "6 cm", low="-10 cm", high="50 cm",
        says="least ease at the waist; the side seams hang straight unless it needs more width",
    )  # fmt: skip
    scye_ease = length_option(
        "25 mm", low="0 cm", high="10 cm", says="armhole deeper than the scye depth"
    )
    back_shoulder = choice_option(
        "ease", of=("dart", "ease"),
        says="back shoulder left 6 mm longer and eased in, or shaped over the blade by a dart",
    )  # fmt: skip
    shallower_front = length_option(
        "1 cm", low="-2 cm", high="6 cm", says="front armhole shallower than the back one"
    )

    @property
    def back_ease(self) -> float:
        """A share of the ease of half the body."""
        return EASE_TO_BACK * self.chest_ease / 2.0

    def draft(self, d: Draft) -> None:
        """Draw front and back."""
        frame = self.frame(d, self._outward(d))
        front_half, back_half = frame.front, frame.back
        front_neck, back_neck = neck_line(d, self, front_half.shoulder, back_half.shoulder)
        front_armhole, back_armhole = armhole_line(front_half, back_half)
        front_notch, back_notch = armhole_notches(self, front_armhole, back_armhole)
        back_waist, front_waist = self._waist(frame)
        (back_under, back_low), (front_under, front_low) = frame.back_side, frame.front_side
        chest = back_under.between(back_low, CHEST_LINE), front_under.between(front_low, CHEST_LINE)
        back = back_piece(
            self, [back_waist], back_half, back_armhole, back_neck, back_notch,
            line(Point(0.0, chest[0].y), chest[0]),
        )  # fmt: skip
        front = front_piece(
            self, [front_waist], front_half, front_armhole, front_neck, front_notch,
            line(chest[1], Point(0.0, chest[1].y)),
            [Edge("front side", line(front_under, front_low))],
        )  # fmt: skip
        d.add(back)
        d.add(front)
        tell_shoulder(d, front_half.shoulder)
        check_round_arm(d, self, [front_armhole, back_armhole])
        promise_seams(d, self, front, back)
        d.girth(
            "chest", body=self.chest, ease=self.chest_ease, times=WHOLE_BODY,
            levels=[Across(piece.name, piece.guides[0].curve) for piece in (back, front)],
        )  # fmt: skip
        d.girth(
            "waist", body=self.waist, times=WHOLE_BODY, runs=[back_waist, front_waist],
            ease=(self.waist_ease, max(self.waist_ease, self.chest + self.chest_ease - self.waist)),
        )  # fmt: skip
        promise_across(d, self, front_half, back_half)

    def _outward(self, d: Draft) -> float:
        """How far each side seam hangs outward: not at all, or until the waist is wide enough."""
        wider = (self.waist + self.waist_ease - self.chest - self.chest_ease) / 4.0
        if wider <= 0.0:
            return 0.0
        # The waist is drawn square to the seams and curves down to them, which makes it longer.
        straight = wider / (1.0 - CHEST_LINE)
        return solve(
            lambda outward: self._waist_line(self.frame(d, outward)).length,
            target=(self.waist + self.waist_ease) / 2.0,
            low=0.0,
            high=straight,
            near=(straight, 2.0 * (1.0 - CHEST_LINE)),
        )

    def frame(self, d: Draft, outward: float) -> Frame:
        """Both halves of the bodice, armholes as deep past the across points on either.

        `outward`: how far each side seam hangs out from underarm to waist.
        """
        check_depth(d, self, self.scye_depth, self.scye_ease)
        underarm = -(self.scye_depth + self.scye_ease)
        length = finished_shoulder(d, self, underarm)
        back_shoulder = self.back_shoulder_seam(length)
        level = self.front_shoulder_seam(length, 0.0)
        front_shoulder = self.front_shoulder_seam(
            length, back_shoulder.tip.y - self.shallower_front - level.tip.y
        )
        back_across, front_across = (
            half_way(shoulder, underarm) for shoulder in (back_shoulder, front_shoulder)
        )
        # Where the seams hang outward from the underarm the chest line takes its share of that.
        half = (self.chest + self.chest_ease) / 2.0 - 2.0 * CHEST_LINE * outward
        hollow = (half - back_across.x + front_across.x) / 2.0
        check_armhole(d, self, hollow, "chest_girth", self.chest)
        back_under = Point(back_across.x + hollow, underarm)
        front_under = Point(front_across.x - hollow, underarm)
        back_low = Point(back_under.x + outward, -self.back_waist)
        front_low = Point(front_under.x - outward, -self.back_waist)
        return Frame(
            Half(front_shoulder, front_across, front_under, (front_low - front_under).unit()),
            Half(back_shoulder, back_across, back_under, (back_low - back_under).unit()),
            (front_under, front_low),
            (back_under, back_low),
        )

    def _waist(self, frame: Frame) -> tuple[Edge, Edge]:
        """Back and front waist."""
        back, front = self._waist_line(frame).curves()
        return Edge("back waist", back, "waist"), Edge("front waist", front, "waist")

    def _waist_line(self, frame: Frame) -> LaidLine:
        """The waist, one fair line over the side seam."""
        (back_under, back_low), (front_under, front_low) = frame.back_side, frame.front_side
        lay = Affine.laying(front_low, front_under, back_low, back_under)
        centre = Point(0.0, -self.back_waist)
        return lay_line(
            [Part((centre, back_low)), Part((front_low, centre), lay)], TO_RIGHT, lay.way(TO_RIGHT)
        )
