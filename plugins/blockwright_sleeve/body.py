"""What sleeves are drafted from, and what may be chosen: measurements and options."""

from __future__ import annotations

from abc import abstractmethod
from typing import ClassVar

from blockwright import (
    Block,
    LengthOption,
    Point,
    Rule,
    auto_length_option,
    choice_option,
    measurement,
    optional_measurement,
    ratio_option,
)
from blockwright_sleeve.cap import BACK_SHARES, FRONT_SHARES, Cap, Taper, crown_of, lay_cap

# Millimetres: two inches over the arm are the least that a published guide gives; see the tests.
USUAL_BICEP_EASE = 50.0
# An armhole is cut this much larger than the armscye, its back half this much longer than its
# front one.  Common practice, no source.
ARMHOLE_EASE = 20.0
LONGER_BACK = 12.0
# What a bodice offers to its sleeve: front armhole from underarm to shoulder, back one from there.
FRONT, BACK = "front armhole", "back armhole"
# What the lower marks are shares of; see the cap.
TAPERED = ", or of the crown's height over the line square to a tapered underarm seam"


def _armhole_half(other: str, share: float) -> tuple[Rule, Rule]:
    """What the measured half leaves of the armhole, or else a little more or less than half."""
    sign = "more" if share > 0 else "less"
    return (
        Rule(
            needs=("armscye_girth", other),
            find=lambda girth, measured: girth + ARMHOLE_EASE - measured,
            says=f"armscye girth and 2 cm ease, less {other} (common practice, no source)",
        ),
        Rule(
            needs=("armscye_girth",),
            find=lambda girth: (girth + ARMHOLE_EASE) / 2.0 + share * LONGER_BACK / 2.0,
            says="half of armscye girth and 2 cm ease, 6 mm "
            f"{sign} (back longer by 12 mm; common practice, no source)",
        ),
    )


def auto_length(low: str, high: str, says: str, auto: str) -> LengthOption[float | None]:
    """A length that may be set from `low` to `high`; `auto` is what it is when it is not."""
    return auto_length_option(auto=auto, low=low, high=high, says=says)


def _mark(side: str, place: str, share: float, low: str, high: str) -> LengthOption[float | None]:
    """The option of a cap mark; either end of its range draws on a body of the workroom."""
    way = "out from it" if share > 0 else "out from it; negative, as it usually is, in"
    auto = f"{abs(share):g} of the cap height" + (TAPERED if share < 0.0 else "")
    says = (
        f"{side} cap mark {place} of the way from crown to underarm: how far it lies off the "
        f"straight line between them, {way}"
    )
    return auto_length(low, high, says, auto)


class SleeveBody(Block):
    """Measurements and options of sleeves, and what follows from them alone; lengths in mm."""

    hem_option: ClassVar[str]
    """Which option sets the width of the hem."""
    usual_cap_ease: ClassVar[float]
    """Cap ease where the maker gives none, mm."""

    upper_arm = measurement("upper_arm_girth")
    wrist = measurement("wrist_girth")
    arm_length = measurement("outer_arm_length")
    front_armhole = measurement(
        "front_armhole_length", estimate=_armhole_half("back_armhole_length", -1.0), taken=FRONT
    )
    back_armhole = measurement(
        "back_armhole_length", estimate=_armhole_half("front_armhole_length", 1.0), taken=BACK
    )

    # fmt: off
    bicep_ease = auto_length("0 cm", "20 cm", "bicep width over the upper arm girth",
                             "5 cm, unless the bicep width is given or solved")
    bicep_width = auto_length("10 cm", "90 cm", "width of the sleeve at the underarm",
                              "upper arm girth and bicep ease; solved when cap_height and "
                              "cap_ease are given")
    cap_height = auto_length("2 cm", "40 cm", "height of the crown over the bicep line",
                             "solved for the cap ease")
    cap_ease = auto_length("0 cm", "8 cm", "cap longer than armhole, all of it above the notches",
                           "2.5 cm; solved when cap_height is given and cap_ease is not")
    front_ease_share = ratio_option(
        0.5, low=0.3, high=0.7, says="share of the cap ease that lies before the crown"
    )
    front_upper = _mark("front", "a quarter", FRONT_SHARES[0], "12 mm", "26 mm")
    front_middle = _mark("front", "half", FRONT_SHARES[1], "-2 mm", "24 mm")
    front_lower = _mark("front", "three quarters", FRONT_SHARES[2], "-28 mm", "-6 mm")
    back_upper = _mark("back", "a quarter", BACK_SHARES[0], "12 mm", "26 mm")
    back_middle = _mark("back", "half", BACK_SHARES[1], "0 mm", "16 mm")
    back_lower = _mark("back", "three quarters", BACK_SHARES[2], "-26 mm", "-4 mm")
    notch_height = ratio_option(
        0.33, low=0.15, high=0.5, says="share of each armhole half from underarm to its notch"
    )
    sleeve_length = auto_length("10 cm", "120 cm", "crown to hem", "outer arm length")
    # fmt: on

    hand = optional_measurement("hand_girth")
    opening = choice_option(
        "none", of=("none", "placket"),
        says="how the hand passes the hem: it is wide enough, or a placket opens it at the back",
    )  # fmt: skip

    # -- what follows from them ----------------------------------------------------------------

    @property
    def armhole(self) -> float:
        """Whole armhole on the seam line."""
        return self.front_armhole + self.back_armhole

    @property
    def length(self) -> float:
        """Crown to hem."""
        return self.arm_length if self.sleeve_length is None else self.sleeve_length

    @property
    def opens(self) -> bool:
        """Whether the hem opens for the hand."""
        return self.opening == "placket"

    @property
    def given_bicep(self) -> float | None:
        """The bicep width that is given, itself or by its ease."""
        if self.bicep_ease is not None:
            return self.upper_arm + self.bicep_ease
        return self.bicep_width

    @property
    def usual_bicep(self) -> float:
        """Upper arm and its least ease."""
        return self.upper_arm + USUAL_BICEP_EASE

    @abstractmethod
    def hem_width(self, bicep: float) -> float:
        """Width of the finished hem for a bicep width; each sleeve has its own rule."""

    @abstractmethod
    def taper(self, bicep: float, crown: Point) -> Taper:
        """The sleeve below a cap, so that it is as long as asked; each sleeve has its own way."""

    def cap(self, bicep: float, height: float, ease: float) -> Cap:
        """The cap for these values."""
        longer_back = (
            self.back_armhole - self.front_armhole + (1 - 2 * self.front_ease_share) * ease
        )
        front = self.front_upper, self.front_middle, self.front_lower
        back = self.back_upper, self.back_middle, self.back_lower
        crown = crown_of(bicep, height, longer_back)
        return lay_cap(bicep, crown, self.taper(bicep, crown).lean, front, back)
