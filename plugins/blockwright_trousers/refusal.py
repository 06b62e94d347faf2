"""How a refusal is said: what was looked at, what it may be, what it hangs on, what to do."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from dataclasses import dataclass

from blockwright import Draft, GeometryError, InputError
from blockwright_trousers.body import TrousersBody
from blockwright_trousers.limits import Range
from blockwright_trousers.names import Names

# A value this little beyond a limit is on it: above rounding, below anything seen.
ROUNDING = 1e-6

# A message names no more than the first so many measurements, and options that are not given.
MOST_MEASURED, MOST_OPTIONS = 5, 4


@dataclass(frozen=True, slots=True)
class Look:
    """One thing looked at: what it is, what was found, and between what it may lie.

    Lengths, mm, or angles, degrees; `options` and `measurements` are what it hangs on.
    """

    says: str
    found: float
    allowed: Range
    options: Names
    measurements: Names
    angle: bool = False

    @property
    def passed(self) -> bool:
        """Whether it lies where it may."""
        low, high = self.allowed
        return low - ROUNDING <= self.found <= high + ROUNDING


def advice(
    d: Draft, block: TrousersBody, options: Sequence[str], measurements: Sequence[str]
) -> str:
    """What to do: about the options that are given, else the first few, and measurements."""
    declared = {option.name: option for option in block.options()}
    given = [
        f"{name} ({declared[name].shown(block.values[name], d.unit)})"
        for name in dict.fromkeys(options)
        if block.values[name] != declared[name].default
    ]
    first = list(dict.fromkeys(measurements))[:MOST_MEASURED]
    measured = [f"{name} ({d.say(block.values[name])})" for name in first]
    again = f"measure {_listed(measured, 'and')} again"
    if given:
        return f"give {_listed(given, 'or')} another value, or leave it out; or {again}"
    return f"{again}, or set {_listed(list(dict.fromkeys(options))[:MOST_OPTIONS], 'or')}"


def refusal(
    d: Draft, block: TrousersBody, says: str, options: Sequence[str], measurements: Sequence[str]
) -> InputError:
    """One line: what is wrong, what it hangs on, what to do."""
    return InputError(f"{block.key}: {says}; {advice(d, block, options, measurements)}")


@contextmanager
def drawing(
    d: Draft, block: TrousersBody, what: str, options: Sequence[str], measurements: Sequence[str]
) -> Iterator[None]:
    """Where nothing can be drawn, say what and what it hangs on."""
    try:
        yield
    except GeometryError as error:
        says = f"{what} cannot be drawn from these values"
        raise refusal(d, block, says, options, measurements) from error


def look_at(d: Draft, block: TrousersBody, looks: Sequence[Look]) -> None:
    """Refuse the first that lies outside what it may."""
    for each in looks:
        if not each.passed:
            found, low, high = (
                f"{value:.0f}°" if each.angle else d.say(value)
                for value in (each.found, *each.allowed)
            )
            between = f"{low} to {high}" if math.isfinite(each.allowed[0]) else f"up to {high}"
            fault = f"{each.says} is {found}; it may be {between}"
            raise refusal(d, block, fault, each.options, each.measurements)


def _listed(names: Sequence[str], last: str) -> str:
    """Names with commas between, and a word before the last."""
    *most, end = names
    return f"{', '.join(most)} {last} {end}" if most else end
