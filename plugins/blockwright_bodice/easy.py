"""The easy bodice: no darts, roomy; for men, for knits and for loose styles."""

from __future__ import annotations

from blockwright import (
    Draft,
    Edge,
    LaidLine,
    Point,
    Rule,
    choice_option,
    length_option,
    line,
    measurement,
    solve,
)
from blockwright_bodice.bodice import EASE_TO_BACK, Bodice, scye_rule
from blockwright_bodice.half import Half, half_way
from blockwright_bodice.lines import (
    check_armhole,
    check_depth,
    finished_shoulder,
    lines_over,
    plain_waist,
    tell_shoulder,
)
from blockwright_bodice.pieces import (
    add_pieces,
    back_piece,
    front_piece,
    promise_across,
    promise_widths,
)

# The chest line lies so far down the side seam, as a share of it: clear of the armhole, which dips
# a little where the seam hangs outward.
CHEST_LINE = 0.1


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

    # fmt: off
    chest_ease = length_option("12 cm", low="-10 cm", high="50 cm",
                               says="chest over the chest girth")
    waist_ease = length_option("6 cm", low="-10 cm", high="50 cm",
                               says="least ease at the waist; the side seams hang straight "
                                    "unless it needs more width")
    scye_ease = length_option("25 mm", low="0 cm", high="10 cm",
                              says="armhole deeper than the scye depth")
    back_shoulder = choice_option("ease", of=("dart", "ease"),
                                  says="back shoulder left 6 mm longer and eased in, or shaped "
                                  "over the blade by a dart")
    shallower_front = length_option("1 cm", low="-2 cm", high="6 cm",
                                    says="front armhole shallower than the back one")
    # fmt: on

    @property
    def back_ease(self) -> float:
        """A share of the ease of half the body."""
        return EASE_TO_BACK * self.chest_ease / 2.0

    def draft(self, d: Draft) -> None:
        """Draw front and back."""
        front_half, back_half = self.halves(d, self._outward(d))
        front_over, back_over = lines_over(d, self, front_half, back_half)
        back_waist, front_waist = _waist(front_half, back_half).curves()
        chest = [half.underarm.between(half.low, CHEST_LINE) for half in (back_half, front_half)]
        back = back_piece(
            self, [Edge("back waist", back_waist, "waist")], back_over,
            line(Point(0.0, chest[0].y), chest[0]),
        )  # fmt: skip
        front = front_piece(
            self, [Edge("front waist", front_waist, "waist")], front_over,
            line(chest[1], Point(0.0, chest[1].y)),
            [Edge("front side", line(front_half.underarm, front_half.low))],
        )  # fmt: skip
        tell_shoulder(d, self, front_half.shoulder)
        add_pieces(d, self, front, back)
        spare = self.chest + self.chest_ease - self.waist
        promise_widths(d, self, front, back, (self.waist_ease, max(self.waist_ease, spare)))
        promise_across(d, self, front_half, back_half)

    def _outward(self, d: Draft) -> float:
        """How far each side seam hangs outward: not at all, or until the waist is wide enough."""
        wider = (self.waist + self.waist_ease - self.chest - self.chest_ease) / 4.0
        if wider <= 0.0:
            return 0.0
        # The waist is drawn square to the seams and curves down to them, which makes it longer.
        straight = wider / (1.0 - CHEST_LINE)
        return solve(
            lambda outward: _waist(*self.halves(d, outward)).length,
            target=(self.waist + self.waist_ease) / 2.0, low=0.0, high=straight,
            near=(straight, 2.0 * (1.0 - CHEST_LINE)),
        )  # fmt: skip

    def halves(self, d: Draft, outward: float) -> tuple[Half, Half]:
        """Front and back of the bodice, armholes as deep past the across points on either.

        `outward`: how far each side seam hangs out from underarm to waist.
        """
        check_depth(d, self)
        underarm, length = self.underarm, finished_shoulder(d, self)
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
        check_armhole(d, self, hollow, "chest_girth")
        back_under = Point(back_across.x + hollow, underarm)
        front_under = Point(front_across.x - hollow, underarm)
        low = -self.back_waist
        return (
            Half(front_shoulder, front_across, front_under, Point(front_under.x - outward, low)),
            Half(back_shoulder, back_across, back_under, Point(back_under.x + outward, low)),
        )


def _waist(front: Half, back: Half) -> LaidLine:
    return plain_waist((front.underarm, front.low), (back.underarm, back.low))
