"""What the fitted bodice is drafted from beside what every bodice is, and what may be chosen."""

from __future__ import annotations

from blockwright import Rule, choice_option, length_option, measurement
from blockwright_bodice.bodice import EASE_TO_BACK, Bodice, scye_rule


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

    bust_ease = length_option("8 cm", low="0 cm", high="30 cm", says="bust over the bust girth")
    waist_ease = length_option("4 cm", low="0 cm", high="30 cm", says="waist over the waist girth")
    scye_ease = length_option(
        "5 mm", low="0 cm", high="4 cm", says="armhole deeper than the scye depth"
    )
    bust_dart = choice_option(
        "side", of=("side", "shoulder"), says="seam that the bust dart opens at"
    )
    bust_dart_back = length_option(
        "25 mm",
        low="0 cm",
        high="6 cm",
        says="bust and waist darts end this far from the bust point",
    )

    @property
    def back_ease(self) -> float:
        """A share of the ease of half the body."""
        return EASE_TO_BACK * self.bust_ease / 2.0

    @property
    def narrower(self) -> float:
        """How much half the finished waist is narrower than half the finished bust."""
        return (self.bust + self.bust_ease - self.waist - self.waist_ease) / 2.0
