"""What bodices are drafted from, and what may be chosen; neck width and shoulder seams."""

from __future__ import annotations

import math
from abc import abstractmethod
from typing import ClassVar

from blockwright import (
    Block,
    Point,
    Rule,
    auto_length_option,
    choice_option,
    length_option,
    measurement,
    optional_measurement,
    ratio_option,
)
from blockwright_bodice.half import Shoulder, darted_shoulder, plain_shoulder

# Side neck point over the back neck point, as a share of the back neck width; from memory of a
# published block.
NECK_RISE = 1.0 / 3.0
# The front neck is this much narrower than the back one; from memory of two published blocks.
NARROWER_FRONT_NECK = 2.0
# The front shoulder falls this much more than the mean and the back one as much less, degrees: the
# seam lies a little to the front of the shoulder's ridge.  From memory of a published block
# (22 and 18).
SEAM_FORWARD = 2.0
# A back shoulder eased on to the front one is a quarter inch longer; the tests name the source.
EASED_SHOULDER = 6.0
# Down towards the blade, square to the seam.  Common practice is 5 to 9 cm, no source.
SHOULDER_DART_LENGTH, USUAL_SHOULDER_DART = 75.0, 12.0
# A fifth of the ease goes to the back width, the rest to the armhole; a published lesson.
EASE_TO_BACK = 0.2
# Both pieces are cut on the fold, so widths are counted twice.
WHOLE_BODY = 2

NECK_BASE = Rule(
    needs=("neck_girth",), find=lambda neck: neck + 40.0,
    says="neck girth and 4 cm (difference of the medians of the 2012 US Army survey)",
)  # fmt: skip
ACROSS_FRONT = Rule(
    needs=("across_back_width",), find=lambda back: back - 20.0,
    says="across back width less 2 cm (from memory of published size tables)",
)  # fmt: skip


def scye_rule(girth: str) -> Rule:
    """Scye depth from a chest or bust girth and the upper arm."""
    said = girth.replace("_", " ")
    return Rule(
        needs=(girth, "upper_arm_girth"),
        find=lambda chest, arm: ((chest / 12.0 + 137.0) + (arm / 4.0 + 140.0)) / 2.0 - 5.0,
        says=f"mean of a twelfth of {said} and 13.7 cm (from memory), and a quarter of upper arm "
        "girth and 14 cm (US patent 4,899,448), less the 5 mm of ease in them",
    )


class Bodice(Block):
    """Common ground of the bodices: measurements, options, neck and shoulders.

    The back lies right of its centre line, back neck point at the origin; the front left of its
    own, so that the side seams face each other.
    """

    offers = ("front armhole", "back armhole", "back neck", "front neck")

    girth_line: ClassVar[str]
    """What the level line round the body is called."""

    neck_base = measurement("neck_base_girth", estimate=NECK_BASE)
    shoulder_length = measurement("shoulder_length")
    across_back = measurement("across_back_width")
    across_front = measurement("across_front_width", estimate=ACROSS_FRONT)
    back_waist = measurement("back_neck_point_to_waist")
    armscye = optional_measurement("armscye_girth")
    upper_arm = optional_measurement("upper_arm_girth")

    # fmt: off
    neck_ease = length_option("1 cm", low="0 cm", high="10 cm", says="neck line over the neck "
                              "base girth; it makes the front neck deeper")
    shoulder_slope = ratio_option(20.0, low=8.0, high=32.0, says="fall of the shoulder, degrees; "
                                  "the front takes 2 more and the back 2 less")
    back_shoulder = choice_option("dart", of=("dart", "ease"),
                                  says="back shoulder shaped over the blade by a dart, or left 6 "
                                  "mm longer and eased in")
    shoulder_dart = auto_length_option(auto="1.2 cm, where there is one", low="5 mm", high="25 mm",
                                       says="intake of the back shoulder dart")
    shallower_front = length_option("3 cm", low="-2 cm", high="6 cm",
                                    says="front armhole shallower than the back one")
    armhole_notch = ratio_option(0.33, low=0.15, high=0.5,
                                 says="share of each armhole half from underarm to its notch")
    # fmt: on

    # -- shoulders ---------------------------------------------------------------------------

    @property
    def neck_width(self) -> float:
        """Half width of the back neck: a fifth of the neck base less 2 mm (from memory)."""
        return self.neck_base / 5.0 - 2.0

    @property
    @abstractmethod
    def back_ease(self) -> float:
        """Ease over half the across back; each bodice has its own rule."""

    @property
    def arm_girths(self) -> list[tuple[str, float]]:
        """The girths of the arm that the sheet has, by name: an armhole goes round them."""
        girths = (("armscye_girth", self.armscye), ("upper_arm_girth", self.upper_arm))
        return [(name, girth) for name, girth in girths if girth is not None]

    @property
    def underarm(self) -> float:
        """Height of the underarm over the back neck point, mm."""
        depth: float = self.values["scye_depth"] + self.values["scye_ease"]
        return -depth

    @property
    def front_neck_width(self) -> float:
        """Half width of the front neck."""
        return self.neck_width - NARROWER_FRONT_NECK

    def back_shoulder_seam(self, length: float) -> Shoulder:
        """The back shoulder that is so long when sewn, its dart open."""
        neck = Point(self.neck_width, self.neck_width * NECK_RISE)
        slope = math.radians(self.shoulder_slope - SEAM_FORWARD)
        if self.back_shoulder == "ease":
            return plain_shoulder(neck, length + EASED_SHOULDER, -slope)
        intake = USUAL_SHOULDER_DART if self.shoulder_dart is None else self.shoulder_dart
        return darted_shoulder(neck, length, slope, intake, SHOULDER_DART_LENGTH)

    def front_shoulder_seam(self, length: float, height: float) -> Shoulder:
        """The front shoulder of that length from a side neck point at that height."""
        slope = math.radians(self.shoulder_slope + SEAM_FORWARD)
        return plain_shoulder(Point(-self.front_neck_width, height), length, math.pi + slope)


class FittedBody(Bodice):
    """Measurements and options of the fitted bodice."""

    bust = measurement("bust_girth")
    waist = measurement("waist_girth")
    scye_depth = measurement("scye_depth", estimate=scye_rule("bust_girth"))
    bust_point_width = measurement(
        "bust_point_width",
        estimate=Rule(
            ("bust_girth",), lambda bust: bust / 5.0 + 8.0,
            "a fifth of bust girth and 8 mm (common practice, no source)",
        ),
    )  # fmt: skip
    neck_to_bust = measurement(
        "side_neck_point_to_bust_point",
        estimate=Rule(
            ("bust_girth",), lambda bust: bust / 4.0 + 50.0,
            "a quarter of bust girth and 5 cm (common practice, no source)",
        ),
    )  # fmt: skip
    neck_to_waist = measurement(
        "side_neck_point_to_waist",
        estimate=Rule(
            ("back_neck_point_to_waist", "bust_girth"),
            lambda back, bust: back + bust * 7.0 / 60.0 - 53.0,
            "back neck point to waist and seven sixtieths of bust girth less 5.3 cm (from memory "
            "of a published block)",
        ),
    )  # fmt: skip

    # fmt: off
    bust_ease = length_option("8 cm", low="0 cm", high="30 cm", says="bust over the bust girth")
    waist_ease = length_option("4 cm", low="0 cm", high="30 cm", says="waist over the waist girth")
    scye_ease = length_option("5 mm", low="0 cm", high="4 cm",
                              says="armhole deeper than the scye depth")
    bust_dart = choice_option("side", of=("side", "shoulder"),
                              says="seam that the bust dart opens at")
    bust_dart_back = length_option("25 mm", low="0 cm", high="6 cm",
                                   says="bust and waist darts end this far from the bust point")
    # fmt: on

    @property
    def back_ease(self) -> float:
        """A share of the ease of half the body."""
        return EASE_TO_BACK * self.bust_ease / 2.0

    @property
    def narrower(self) -> float:
        """How much half the finished waist is narrower than half the finished bust."""
        return (self.bust + self.bust_ease - self.waist - self.waist_ease) / 2.0
