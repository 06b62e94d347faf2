"""Lengths as people write and read them.  Inside the kernel they are millimetres."""

from __future__ import annotations

import math
import re
from enum import StrEnum
from numbers import Real
from typing import NamedTuple
from unicodedata import normalize

from blockwright.errors import InputError

SIXTEENTHS = 16
"""Inches are printed in sixteenths, the finest lines on most tapes."""
ERROR_MATTERS = 0.25
"""Millimetres, about the width of a pencil line.  Less cannot be marked on paper."""

_LONGEST_QUOTE = 40
_PER_UNIT = {"mm": 1.0, "cm": 10.0, "in": 25.4}
_SIGNS = str.maketrans({"″": '"', "”": '"', "−": "-", "⁄": "/"})
_VULGAR_FRACTION = re.compile("[¼-¾⅐-⅞]")
_LENGTH = re.compile(
    r"""(?P<sign>[+-]?)\s*
    (?: (?:(?P<whole>[0-9]+)\s+)? (?P<top>[0-9]+)\s*/\s*(?P<bottom>[0-9]+)
      | (?P<decimal>[0-9]+(?:\.[0-9]*)?|\.[0-9]+) )
    \s*(?P<unit>[^0-9.,/+-]*)""",
    re.VERBOSE,
)
_FEET_OR_YARDS = re.compile(r"['’′]|f(oo|ee)?t\b|y(ar)?ds?\b", re.IGNORECASE)
_HYPHEN = re.compile(r"[0-9]\s*[-–—]\s*[0-9]")


class Unit(StrEnum):
    """A unit that people measure in: "mm", "cm" or "in".  It is text of that spelling.

    `Unit("cm")` is the unit of that name.  Any other text raises ValueError, "CM" too.

    Example:
        >>> from blockwright import Unit
        >>> Unit("in").millimetres
        25.4
        >>> [str(unit) for unit in Unit]
        ['mm', 'cm', 'in']
    """

    MM = "mm"
    CM = "cm"
    IN = "in"

    @property
    def millimetres(self) -> float:
        """The millimetres in one unit.  An inch is exactly 25.4."""
        return _PER_UNIT[self.value]


class Length(NamedTuple):
    """A value of a message: a length of `mm` millimetres, printed in `unit`."""

    mm: float
    unit: Unit


def parse_length(text_or_number: str | float, unit: Unit) -> float:
    """The millimetres of a written length.  A bare number is in `unit`.

    Text is a decimal, a fraction, or a whole number and a fraction.  Then comes a unit: mm, cm, in
    or ", in small or large letters, after a space or none.  Examples are '34.3 cm', '13 1/2 in',
    '13.5"' and '-5/8'.  The signs that a telephone writes are read too: ″ and ” as ", − as -, and ½
    and its like as 1/2.
    Raises InputError for anything else, such as other units, a decimal comma, an exponent, a zero
    below the fraction bar, a boolean or a number that is not finite.  The message says what to
    write.

    Example:
        >>> from blockwright import Unit, parse_length
        >>> parse_length("34.5", Unit.CM), parse_length("34.5 mm", Unit.CM)
        (345.0, 34.5)
        >>> parse_length("-2 1/2 in", Unit.CM)
        -63.5
    """
    amount, written = read_length(text_or_number)
    millimetres = amount * (written or unit).millimetres
    if not math.isfinite(millimetres):
        raise _too_large(text_or_number)
    return millimetres


def read_length(text_or_number: str | float) -> tuple[float, Unit | None]:
    """The number and the unit of a written length; see `parse_length`.  The unit may be None."""
    if isinstance(text_or_number, str):
        return _read_text(text_or_number)
    return _read_number(text_or_number), None


def format_length(mm: float, unit: Unit, *, show_error: bool = False) -> str:
    """A length in millimetres as a maker reads it: '343.0 mm', '34.3 cm', '13 1/2 in'.

    Millimetres and centimetres have one decimal.  Inches are rounded to the nearest 1/16 and
    reduced, with the sign before the whole.  With `show_error` the true length less the printed
    length follows, if it is at least ERROR_MATTERS: '13 1/2 in (+0.3 mm)'.  NaN and infinity are
    printed by their names, as in 'nan cm'.

    Example:
        >>> from blockwright import Unit, format_length
        >>> format_length(345.0, Unit.CM), format_length(345.0, Unit.IN)
        ('34.5 cm', '13 9/16 in')
        >>> format_length(345.0, Unit.IN, show_error=True)
        '13 9/16 in (+0.5 mm)'
    """
    if not math.isfinite(mm):
        return f"{mm} {unit}"
    if unit is Unit.IN:
        sixteenths = round(mm / unit.millimetres * SIXTEENTHS)
        amount, printed = _mixed(sixteenths), sixteenths * unit.millimetres / SIXTEENTHS
    else:
        tenths = round(mm / unit.millimetres, 1) + 0.0  # no minus on a zero
        amount, printed = f"{tenths:.1f}", tenths * unit.millimetres
    left = mm - printed
    error = f" ({left:+.1f} mm)" if show_error and abs(left) >= ERROR_MATTERS else ""
    return f"{amount} {unit}{error}"


def quoted(value: object) -> str:
    """A value that a person wrote, for a message: on one line, text quoted, cut if very long."""
    text = repr(value)
    return text if len(text) <= _LONGEST_QUOTE else text[: _LONGEST_QUOTE - 3] + "..."


def _mixed(sixteenths: int) -> str:
    sign = "-" if sixteenths < 0 else ""
    whole, top = divmod(abs(sixteenths), SIXTEENTHS)
    if top == 0:
        return f"{sign}{whole}"
    shared = math.gcd(top, SIXTEENTHS)
    fraction = f"{top // shared}/{SIXTEENTHS // shared}"
    return f"{sign}{whole} {fraction}" if whole else f"{sign}{fraction}"


def _read_number(number: object) -> float:
    if isinstance(number, bool) or not isinstance(number, Real):
        raise InputError.coded("length.no-number", value=quoted(number))
    try:
        amount = float(number)
    except OverflowError:
        raise InputError.coded("length.huge") from None
    if not math.isfinite(amount):
        raise InputError.coded("length.not-finite", amount=amount)
    return amount


def _read_text(text: str) -> tuple[float, Unit | None]:
    plain = _VULGAR_FRACTION.sub(lambda sign: " " + normalize("NFKC", sign[0]), text)
    match = _LENGTH.fullmatch(plain.translate(_SIGNS).strip())
    if match is None:
        raise _unreadable(text)
    amount = _amount(text, match)
    if not math.isfinite(amount):
        raise _too_large(text)
    return -amount if match["sign"] == "-" else amount, _unit(text, match["unit"].strip())


def _amount(text: str, match: re.Match[str]) -> float:
    if match["decimal"] is not None:
        return float(match["decimal"])
    top, bottom = float(match["top"]), float(match["bottom"])
    if bottom == 0.0:
        raise _refused("length.zero-below", text)
    if match["whole"] is None:
        return top / bottom
    if top >= bottom:
        raise _refused("length.fraction", text)
    return float(match["whole"]) + top / bottom


def _unit(text: str, written: str) -> Unit | None:
    if not written:
        return None
    if written == '"':
        return Unit.IN
    if written.lower() in _PER_UNIT:
        return Unit(written.lower())
    if _FEET_OR_YARDS.search(written):
        raise _unreadable(text)
    raise _refused("length.unknown-unit", text, unit=quoted(written))


def _unreadable(text: str) -> InputError:
    """The error for text that is no length, by its likely mistake."""
    if not text.strip():
        return _refused("length.empty", text)
    if "," in text:
        return _refused("length.comma", text)
    if _FEET_OR_YARDS.search(text):
        return _refused("length.feet", text)
    return _refused("length.hyphen" if _HYPHEN.search(text) else "length.unreadable", text)


def _refused(code: str, text: str, **values: str) -> InputError:
    return InputError.coded(code, value=quoted(text), **values)


def _too_large(value: object) -> InputError:
    return InputError.coded("length.too-large", value=quoted(value))
