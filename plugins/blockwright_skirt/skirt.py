"""What every skirt here has in common: measurements, length, waist ease."""

from __future__ import annotations

from blockwright import Block, Draft, InputError, Rule, length_option, measurement

# A skirt must reach this far below the hip line, mm, or there is no hem to speak of.
BELOW_HIP = 50.0

# A seam that moves in from hip to waist, or out, by more than this share of the depth of the hip is
# not sewable as one smooth curve: it would lean 24 degrees on the whole, and 38 at the waist.
# Outward it is half of that: the waist stands over the hip.  Common practice, no source.
STEEPEST, STEEPEST_OUT = 0.45, 0.225


class Skirt(Block):
    """Common ground of the skirts."""

    waist = measurement("waist_girth")
    hip = measurement("hip_girth")
    depth = measurement(
        "waist_to_hip",
        estimate=Rule(
            needs=("height",),
            find=lambda height: height / 8.0,
            says="an eighth of height (20.6 cm at a height of 165 cm; from memory of a "
            "published size table)",
        ),
    )

    length = length_option("60 cm", low="15 cm", high="130 cm", says="centre waist to hem")
    waist_ease = length_option(
        "2 cm", low="0 cm", high="10 cm", says="finished waist over the waist girth"
    )

    @property
    def finished_waist(self) -> float:
        """Waist girth and ease, mm."""
        return self.waist + self.waist_ease

    def check_length(self, d: Draft) -> None:
        """InputError for a skirt that ends at its hip line or above."""
        if self.length < self.depth + BELOW_HIP:
            raise InputError(
                f"{self.key}: a length of {d.say(self.length)} ends less than {d.say(BELOW_HIP)} "
                f"below the hip, {d.say(self.depth)} from the waist (waist_to_hip); give a length "
                f"of {d.say(self.depth + BELOW_HIP)} or more"
            )

    def check_seam(self, d: Draft, taken: float, to_take: str, to_lean: str) -> None:
        """InputError for a seam that takes in, or leans out, more than can be sewn.

        `taken`: from hip to waist, mm; `to_take`, `to_lean`: what else the maker may give if it
        takes in, or leans out, too much.
        """
        girths = (
            f"{self.key}: waist_girth {d.say(self.waist)} with hip_girth {d.say(self.hip)} and "
            f"waist_to_hip {d.say(self.depth)} makes"
        )
        if taken > STEEPEST * self.depth:
            raise InputError(
                f"{girths} a seam take in {d.say(taken)} from hip to waist, where "
                f"{d.say(STEEPEST * self.depth)} can be sewn; check these three, or give {to_take}"
            )
        if taken < -STEEPEST_OUT * self.depth:
            raise InputError(
                f"{girths} a seam lean out {d.say(-taken)} from hip to waist, where "
                f"{d.say(STEEPEST_OUT * self.depth)} can be sewn; check these three (the hip is "
                f"taken where the body is fullest), or give a larger hip_ease or {to_lean}"
            )
