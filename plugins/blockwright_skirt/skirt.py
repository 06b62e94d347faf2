"""What every skirt here has in common: measurements, length, waist ease."""

from __future__ import annotations

from collections.abc import Sequence

from blockwright import (
    Block,
    Curve,
    Draft,
    Edge,
    Guide,
    LengthOption,
    Notch,
    Point,
    Rule,
    Stretch,
    Traits,
    auto_length_option,
    length_option,
    measurement,
)

# A skirt must reach this far below the hip line, mm, or there is no hem to speak of.
BELOW_HIP = 50.0

# A seam that moves in from hip to waist, or out, by more than this share of the depth of the hip is
# not sewable as one smooth curve: it would lean 24 degrees on the whole, and 38 at the waist.
# Outward it is half of that: the waist stands over the hip.  Common practice, no source.
STEEPEST, STEEPEST_OUT = 0.45, 0.225
# Both side seams, each with a back and a front.
SIDES = 4
HIP_NOTCH = "hip notch"
# The longest stretch of a seam without a notch, mm.  A skirt to the knee has none below its hip
# notch, whose hem is 40 to 48 cm away on every body.  Common practice, no source.
LONG = 500.0
# The measurements that decide how a skirt goes from hip to waist.
GIRTHS = ("waist_girth", "hip_girth", "waist_to_hip")


def auto_length(low: str, high: str, says: str, auto: str) -> LengthOption[float | None]:
    """A length that may be set from `low` to `high`; `auto` is what it is when it is not."""
    return auto_length_option(auto=auto, low=low, high=high, says=says)


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

    # fmt: off
    length = length_option("60 cm", low="15 cm", high="130 cm", says="centre waist to hem")
    waist_ease = length_option("2 cm", low="0 cm", high="10 cm",
                               says="finished waist over the waist girth")
    # fmt: on

    @property
    def finished_waist(self) -> float:
        """Waist girth and ease, mm."""
        return self.waist + self.waist_ease

    def check_length(self, d: Draft) -> None:
        """Refuse a skirt that ends at its hip line or above."""
        least = self.depth + BELOW_HIP
        d.require(
            self.length >= least,
            f"a length of {d.say(self.length)} ends less than {d.say(BELOW_HIP)} below the hip, "
            f"{d.say(self.depth)} from the waist (waist_to_hip)",
            check=("length", "waist_to_hip"), do=f"give a length of {d.say(least)} or more",
        )  # fmt: skip

    def check_waist(self, d: Draft, hip_ease: float) -> None:
        """Refuse a waist so far over the hip that no skirt goes from one to the other.

        Four seams lean out by as much as can be sewn; more of them do not make the hip less slim.
        """
        over = self.finished_waist - self.hip - hip_ease
        most = SIDES * STEEPEST_OUT * self.depth
        d.require(
            over <= most,
            f"the skirt would be {d.say(over)} slimmer at the hip, taken where the body is "
            f"fullest, than at the waist, where {d.say(most)} can be sewn",
            check=GIRTHS,
        )

    def check_seam(self, d: Draft, taken: float, without: str, hangs: Sequence[str]) -> None:
        """Refuse a seam that takes in more than can be sewn.

        `taken`: from hip to waist, mm; `without`: what the maker may give, options `hangs`.
        """
        most = STEEPEST * self.depth
        d.require(
            taken <= most,
            f"a seam takes in {d.say(taken)} from hip to waist, where {d.say(most)} can be sewn "
            f"without {without}",
            check=(*hangs, *GIRTHS),
        )

    def add_panel(
        self, d: Draft, edges: Sequence[Edge], hip: Curve, at_hip: tuple[float, float], *,
        times: int, grain: tuple[Point, Point], label_at: Point, notches: Sequence[Notch] = (),
    ) -> None:  # fmt: skip
        """Add the panel of a skirt of equal panels, and promise its seam and its waist.

        `edges`: hem, right seam, waist and left seam; `at_hip`: how far along the right and the
        left seam the hip line ends, mm; `times`: how many panels.
        """
        hem, right, waist, left = edges
        below, above = at_hip
        d.piece(
            "panel", edges, grain=grain, label_at=label_at, cut=times,
            notches=[Notch(HIP_NOTCH, right.name, below), *notches,
                     Notch(HIP_NOTCH, left.name, above)],
            guides=[Guide("hip line", hip)],
        )  # fmt: skip
        d.seam("seam", right, -left, stretches=[Stretch(HIP_NOTCH, (0.0, 0.0))], last=0.0)
        d.balance("seam", every=LONG)
        d.unsewn(waist, "left open")
        d.corner("waist over a seam", (right.name, waist.name), (waist.name, left.name))
        d.corner("hem over a seam", (left.name, hem.name), (hem.name, right.name))
        d.girth("waist", body=self.waist, ease=self.waist_ease, runs=[waist], times=times)
