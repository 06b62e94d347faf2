"""What every skirt here has in common: measurements, length, waist ease."""

from __future__ import annotations

from blockwright import Block, Draft, InputError, Rule, Traits, length_option, measurement

# A skirt must reach this far below the hip line, mm, or there is no hem to speak of.
BELOW_HIP = 50.0

# A seam that moves in from hip to waist, or out, by more than this share of the depth of the hip is
# not sewable as one smooth curve: it would lean 24 degrees on the whole, and 38 at the waist.
# Outward it is half of that: the waist stands over the hip.  Common practice, no source.
STEEPEST, STEEPEST_OUT = 0.45, 0.225
# Both side seams, each with a back and a front.
SIDES = 4


class Skirt(Block):
    """Common ground of the skirts."""

    traits = Traits(wearers="women")

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

    def girths(self, d: Draft) -> str:
        """The three measurements that decide how a skirt goes from hip to waist, for messages."""
        return (
            f"waist_girth {d.say(self.waist)} with hip_girth {d.say(self.hip)} and waist_to_hip "
            f"{d.say(self.depth)}"
        )

    def check_waist(self, d: Draft, hip_ease: float) -> None:
        """InputError for a waist so far over the hip that no skirt goes from one to the other.

        Four seams lean out by as much as can be sewn; more of them do not make the hip less slim.
        """
        over = self.finished_waist - self.hip - hip_ease
        most = SIDES * STEEPEST_OUT * self.depth
        if over > most:
            raise InputError(
                f"{self.key}: {self.girths(d)} makes a skirt {d.say(over)} slimmer at the hip than "
                f"at the waist, where {d.say(most)} can be sewn; check these three (the hip is "
                "taken where the body is fullest)"
            )

    def check_seam(self, d: Draft, taken: float, to_take: str) -> None:
        """InputError for a seam that takes in more than can be sewn.

        `taken`: from hip to waist, mm; `to_take`: what else the maker may give.
        """
        if taken > STEEPEST * self.depth:
            raise InputError(
                f"{self.key}: {self.girths(d)} makes a seam take in {d.say(taken)} from hip to "
                f"waist, where {d.say(STEEPEST * self.depth)} can be sewn; check these three, or "
                f"give {to_take}"
            )
