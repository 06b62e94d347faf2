"""The darts of the waist: how many, how wide and how long."""

from __future__ import annotations

from blockwright import Draft, InputError
from blockwright_trousers.waist import DartPlan
from blockwright_trousers.widths import Widths

# What the darts take of what the waist is narrower than the hip, beside the leaning centre back:
# on the published draft 2 of 6.75 cm at the front, 4 of 5.75 at the back; and how long they are, as
# a share of the way to the hip line: 10 cm of 20.6 at the front as published.
USUAL = {"front": (2.0 / 6.75, 0.485), "back": (4.0 / 5.75, 0.6)}
# Less than this is not worth a dart, more is worth two; mm.
LEAST_DART, MOST_OF_ONE = 8.0, 25.0
# A dart shorter than four times its intake opens wider than 14 degrees and pokes; the side seam
# takes the rest.  Common practice, no source.
WIDEST_DART = 0.25


def plan_darts(d: Draft, block: Widths, half: str, spare: float, deepest: float) -> DartPlan:
    """The darts of a half.

    `spare`: what its waist is narrower than its hip, beside the leaning centre; `deepest`: waist
    to hip line; mm.
    """
    share, usual = USUAL[half]
    wanted = share * spare
    count: int | None = block.values[f"{half}_darts"]
    intake: float | None = block.values[f"{half}_dart_intake"]
    length: float = block.values[f"{half}_dart_length"] or usual * deepest
    number = (wanted > LEAST_DART) + (wanted > MOST_OF_ONE) if count is None else count
    if not number:
        _check_no_darts(d, block, half)
        return DartPlan(0, 0.0, length)
    if intake is None:
        if wanted <= 0.0:
            raise InputError(
                f"{block.key}: {half}_darts is {count}, but waist_girth {d.say(block.waist)} "
                f"leaves nothing to take in from hip_girth {d.say(block.hip)}; give "
                f"{half}_dart_intake, or no darts"
            )
        intake = min(wanted / number, WIDEST_DART * length)
    if not 2.0 * intake <= length <= deepest:
        raise InputError(
            f"{block.key}: {half} darts of {d.say(length)} taking in {d.say(intake)} each are "
            f"not between twice that and the hip line {d.say(deepest)} down; set "
            f"{half}_dart_length, {half}_dart_intake or {half}_darts, or check waist_to_hip"
        )
    return DartPlan(number, intake, length)


def _check_no_darts(d: Draft, block: Widths, half: str) -> None:
    """Refuse the size of darts where there are none."""
    for what in ("intake", "length"):
        name = f"{half}_dart_{what}"
        size: float | None = block.values[name]
        if size is not None:
            why = "is 0" if block.values[f"{half}_darts"] == 0 else "comes to 0 for this body"
            raise InputError(
                f"{block.key}: {name} {d.say(size)} has no effect: {half}_darts {why}; leave "
                f"{name} out, or set {half}_darts to 1 or 2"
            )
