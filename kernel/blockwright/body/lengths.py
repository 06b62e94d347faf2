"""Lengths as people write them, in and out; millimetres inside."""

from __future__ import annotations

import math
import re
from enum import StrEnum
from numbers import Real
from unicodedata import normalize

from blockwright.errors import InputError

SIXTEENTHS = 16
"""Inches are printed to 1/16, the finest line on most tapes."""
ERROR_MATTERS = 0.25
"""Millimetres: about the width of a pencil line.  Less than this cannot be marked on paper."""

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
_SPELLINGS = 'mm, cm, in or "'


class Unit(StrEnum):
    """A unit that people measure in: "mm", "cm" or "in", and text of that spelling.

    `Unit("cm")` is the one of that name; ValueError for any other, large letters included.

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
        """Millimetres in one of it; an inch is 25.4 exactly."""
        return _PER_UNIT[self.value]


def parse_length(text_or_number: str | float, unit: Unit) -> float:
    """Millimetres of a written length, any sign; a bare number or fraction takes `unit`.

    Text is a decimal, a fraction or a whole number and a fraction, then mm, cm, in or " (large
    letters too, a space before it or not): '34.3 cm', '13 1/2 in', '13.5"', '-5/8'.  The signs a
    telephone puts in their place are read as them: ″ and ” as ", − as -, ½ and its like as 1/2.
    Nothing else is: raises InputError, in one line that says what to write, for other units, a
    decimal comma, exponents, a zero below the fraction bar, booleans and what is not finite.

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
    """The number and the unit of a written length, None when it has none; see `parse_length`."""
    if isinstance(text_or_number, str):
        return _read_text(text_or_number)
    return _read_number(text_or_number), None


def format_length(mm: float, unit: Unit, *, show_error: bool = False) -> str:
    """A length in millimetres as a maker reads it: '343.0 mm', '34.3 cm', '13 1/2 in'.

    Millimetres and centimetres to one decimal, inches to the nearest 1/16, reduced, the sign
    before the whole.  With `show_error` what is left over follows, true length less printed
    length, if it is at least ERROR_MATTERS: '13 1/2 in (+0.3 mm)'; in centimetres too, never in
    millimetres.  NaN and infinity are printed as such: 'nan cm'.

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
    """What a person wrote, for a message: quoted if text, on one line, cut when very long."""
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
        raise InputError(
            f"{quoted(number)} is not a length: give a number, or a text such as '34.3 cm'"
        )
    try:
        amount = float(number)
    except OverflowError:
        raise InputError("a number of that size is too large for a length") from None
    if not math.isfinite(amount):
        raise InputError(f"{amount} is not a length: give a number")
    return amount


def _read_text(text: str) -> tuple[float, Unit | None]:
    plain = _VULGAR_FRACTION.sub(lambda sign: " " + normalize("NFKC", sign[0]), text)
    match = _LENGTH.fullmatch(plain.translate(_SIGNS).strip())
    if match is None:
        raise _refused(text, _advice(text))
    amount = _amount(text, match)
    if not math.isfinite(amount):
        raise _too_large(text)
    return -amount if match["sign"] == "-" else amount, _unit(text, match["unit"].strip())


def _amount(text: str, match: re.Match[str]) -> float:
    if match["decimal"] is not None:
        return float(match["decimal"])
    top, bottom = float(match["top"]), float(match["bottom"])
    if bottom == 0.0:
        raise _refused(text, "its fraction has a zero below the bar")
    if match["whole"] is None:
        return top / bottom
    if top >= bottom:
        raise _refused(text, "its fraction is not less than one; write for instance 13 1/2")
    return float(match["whole"]) + top / bottom


def _unit(text: str, written: str) -> Unit | None:
    if not written:
        return None
    if written == '"':
        return Unit.IN
    if written.lower() in _PER_UNIT:
        return Unit(written.lower())
    if _FEET_OR_YARDS.search(written):
        raise _refused(text, _advice(text))
    raise _refused(text, f"{quoted(written)} is not a unit here; write {_SPELLINGS}")


def _advice(text: str) -> str:
    if not text.strip():
        return "it is empty; write for instance 34.3 cm"
    if "," in text:
        return "write the decimal with a point and no commas, as in 34.3 cm"
    if _FEET_OR_YARDS.search(text):
        return "feet and yards are not read; write it all in inches, as in 65 1/2 in"
    if _HYPHEN.search(text):
        return "a hyphen between numbers is not read; write one number, as in 13 1/2 in"
    return f"write a number, then {_SPELLINGS}, as in 34.3 cm, 343 mm or 13 1/2 in"


def _refused(text: str, why: str) -> InputError:
    return InputError(f"{quoted(text)} is not a length: {why}")


def _too_large(value: object) -> InputError:
    return InputError(f"{quoted(value)} is too large for a length")
