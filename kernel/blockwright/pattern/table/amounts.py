"""Amounts that an author writes in a promise: a number, or the least and the greatest."""

from __future__ import annotations

import math
from numbers import Real

from blockwright.body.lengths import Unit, parse_length
from blockwright.errors import InputError, PatternError
from blockwright.pattern.results import Range
from blockwright.spelling import what_is


def amount(what: str, given: object, unit: str = "mm") -> float:
    """A number as it is given.  Raises PatternError for anything else, and for nan and infinity.

    `what` says in the message what the number is.  A length written as text, such as "2 cm", is
    told in mm there.
    """
    if isinstance(given, Real) and math.isfinite(given):
        return given  # type: ignore[return-value]  # numbers of numpy are Real and not float
    raise _slip(what, given, f"give {unit} as a number{_meant(given, unit)}")


def ease_range(what: str, given: object, unit: str = "mm") -> Range:
    """The least and the greatest of an ease or an angle: one number, or a pair of them.

    An end of the pair may be infinite.  Raises PatternError for anything else, for nan, and for a
    pair upside down.
    """
    if not isinstance(given, tuple | list):
        ease = amount(what, given, unit)
        return ease, ease
    if len(given) != 2 or not all(isinstance(e, Real) and not math.isnan(e) for e in given):
        first = _meant(given[0], unit) if given else ""
        do = f"give {unit} as a number{first}, or the least and the greatest: (low, high)"
        raise _slip(what, given, do)
    low, high = given
    if low > high:
        raise PatternError(f"{what} ({low:g}, {high:g}) is upside down; write the least first")
    if low == high and math.isinf(low):
        raise _slip(what, given, "give at least one finite end")
    return low, high


def _slip(what: str, given: object, do: str) -> PatternError:
    plain = isinstance(given, str | Real | tuple | list)
    return PatternError(f"{what} is {repr(given) if plain else what_is(given)}; {do}")


def _meant(given: object, unit: str) -> str:
    """The number that a length written as text means; an example where it means none."""
    if unit != "mm":
        return ""
    try:
        return f", {parse_length(given, Unit.MM)}" if isinstance(given, str) else ", such as 20.0"
    except InputError:
        return ", such as 20.0"
