"""What results where all else is given: it may be no more than could have been asked for."""

from __future__ import annotations

from blockwright import Draft, InputError, LengthOption
from blockwright_trousers.draw import HipLine
from blockwright_trousers.fork import Fork
from blockwright_trousers.limits import Range
from blockwright_trousers.seat import Seat

# What results from what, when all of it is given.
RESULTS: dict[str, tuple[str, ...]] = {
    "crotch_ease": ("crotch_depth",),
    "seat_ease": ("back_fork", "back_rise"),
    "hip_ease": ("front_hip", "back_hip"),
    "inside_leg_stretch": ("back_drop",),
}


def asked(block: Seat, option: LengthOption[float | None], usual: float | None = None) -> Range:
    """What an option may come to: as given, else as usual.

    Where it results from others, or has no one usual value, all that it could be set to.
    """
    value: float | None = block.values[option.name]
    if value is None and any(block.values[name] is None for name in RESULTS[option.name]):
        value = usual
    return (option.low, option.high) if value is None else (value, value)


def check_results(d: Draft, block: Seat, fork: Fork, hips: tuple[HipLine, HipLine]) -> None:
    """Refuse what results from options given if it could not have been asked for."""
    found: tuple[tuple[LengthOption[float | None], float], ...] = (
        (Seat.seat_ease, fork.length - block.total_crotch),
        (Seat.hip_ease, 2.0 * (hips[0].cloth + hips[1].cloth) - block.hip),
        (Seat.inside_leg_stretch, fork.stretch),
    )
    for option, value in found:
        check_result(d, block, option, value)


def check_result(d: Draft, block: Seat, option: LengthOption[float | None], value: float) -> None:
    """Refuse what results from options given, `value` mm, beyond the range it may be set in."""
    given = RESULTS[option.name]
    if any(block.values[name] is None for name in given) or option.low <= value <= option.high:
        return
    make = "make" if len(given) > 1 else "makes"
    raise InputError(
        f"{block.key}: {' and '.join(given)} as given {make} {option.name} {d.say(value)}; it "
        f"may be {d.say(option.low)} to {d.say(option.high)}: give other values, or leave "
        f"{given[-1]} out"
    )
