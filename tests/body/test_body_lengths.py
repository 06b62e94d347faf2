"""Lengths in and out: what is read, what is refused and how, and what printing loses."""

from __future__ import annotations

from fractions import Fraction

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockwright.body.lengths import ERROR_MATTERS, Unit, format_length, parse_length
from blockwright.errors import InputError

ANY_LENGTH = st.floats(-1e5, 1e5, allow_nan=False)
UNITS = st.sampled_from(Unit)
HALF_STEP = {Unit.MM: 0.05, Unit.CM: 0.5, Unit.IN: 25.4 / 32}
SLACK = 1e-9

READ = [
    ("34.3 cm", Unit.IN, 343.0),
    ("343 mm", Unit.IN, 343.0),
    ("343mm", Unit.IN, 343.0),
    ("13 1/2 in", Unit.CM, 342.9),
    ('13.5"', Unit.CM, 342.9),
    ('13 1/2"', Unit.CM, 342.9),
    ('13 1/2 "', Unit.CM, 342.9),
    ("1/2 in", Unit.CM, 12.7),
    ("-3 mm", Unit.CM, -3.0),
    ("- 3 mm", Unit.CM, -3.0),
    ("+3 mm", Unit.CM, 3.0),
    ("-13 1/2 in", Unit.CM, -342.9),
    ("5/8", Unit.IN, 15.875),
    ("5/8", Unit.CM, 6.25),
    ("13 1/2", Unit.IN, 342.9),
    ("13  1 / 2", Unit.IN, 342.9),
    ("27/2 in", Unit.MM, 342.9),
    ("13 1/2 cm", Unit.MM, 135.0),
    ("88", Unit.CM, 880.0),
    ("88", Unit.MM, 88.0),
    ("  88.  ", Unit.CM, 880.0),
    (".5", Unit.CM, 5.0),
    ("34 CM", Unit.MM, 340.0),
    ("13 In", Unit.MM, 330.2),
    ("0", Unit.IN, 0.0),
    (88, Unit.CM, 880.0),
    (13.5, Unit.IN, 342.9),
    (-2, Unit.MM, -2.0),
    (Fraction(27, 2), Unit.IN, 342.9),
    # what telephones put in place of what was typed, allowed on purpose
    ("13½″", Unit.CM, 342.9),
    ("13 ½ in", Unit.CM, 342.9),
    ("½ in", Unit.CM, 12.7),
    ("13 1⁄2”", Unit.CM, 342.9),
    ("−3 mm", Unit.CM, -3.0),
    ("13\u00a01/2 in", Unit.CM, 342.9),
]

POINT = "write the decimal with a point and no commas, as in 34.3 cm"
FEET = "feet and yards are not read; write it all in inches, as in 65 1/2 in"
HYPHEN = "a hyphen between numbers is not read; write one number, as in 13 1/2 in"
SPELLINGS = 'write a number, then mm, cm, in or ", as in 34.3 cm, 343 mm or 13 1/2 in'
UNIT = 'is not a unit here; write mm, cm, in or "'
EMPTY = "it is empty; write for instance 34.3 cm"
TEXT_OR_NUMBER = "give a number, or a text such as '34.3 cm'"

REFUSED = [
    ("34,3 cm", f"'34,3 cm' is not a length: {POINT}"),
    ("1,000 mm", f"'1,000 mm' is not a length: {POINT}"),
    ("", f"'' is not a length: {EMPTY}"),
    (" \t\n", f"' \\t\\n' is not a length: {EMPTY}"),
    ("5'3\"", f"'5\\'3\"' is not a length: {FEET}"),
    ("5'", f'"5\'" is not a length: {FEET}'),
    ("5 ft", f"'5 ft' is not a length: {FEET}"),
    ("5 feet 3 in", f"'5 feet 3 in' is not a length: {FEET}"),
    ("2 yards", f"'2 yards' is not a length: {FEET}"),
    ("12 inches", f"'12 inches' is not a length: 'inches' {UNIT}"),
    ("12 inch", f"'12 inch' is not a length: 'inch' {UNIT}"),
    ("1 m", f"'1 m' is not a length: 'm' {UNIT}"),
    ("88 cmm", f"'88 cmm' is not a length: 'cmm' {UNIT}"),
    ('13""', f"'13\"\"' is not a length: '\"\"' {UNIT}"),
    ("88 cm\nor so", f"'88 cm\\nor so' is not a length: 'cm\\nor so' {UNIT}"),
    ("12 in.", f"'12 in.' is not a length: {SPELLINGS}"),
    ("13 1/2 / 2", f"'13 1/2 / 2' is not a length: {SPELLINGS}"),
    ("13.5 1/2 in", f"'13.5 1/2 in' is not a length: {SPELLINGS}"),
    ("13-1/2 in", f"'13-1/2 in' is not a length: {HYPHEN}"),
    ("88-90 cm", f"'88-90 cm' is not a length: {HYPHEN}"),
    ("88–90 cm", f"'88–90 cm' is not a length: {HYPHEN}"),
    ("--3 mm", f"'--3 mm' is not a length: {SPELLINGS}"),
    ("1 000 mm", f"'1 000 mm' is not a length: {SPELLINGS}"),
    ("1_000 mm", f"'1_000 mm' is not a length: {SPELLINGS}"),
    ("1e2", f"'1e2' is not a length: {SPELLINGS}"),
    ("1e999", f"'1e999' is not a length: {SPELLINGS}"),
    ("cm", f"'cm' is not a length: {SPELLINGS}"),
    ("cm 88", f"'cm 88' is not a length: {SPELLINGS}"),
    ("about 88", f"'about 88' is not a length: {SPELLINGS}"),
    ("nan", f"'nan' is not a length: {SPELLINGS}"),
    ("inf", f"'inf' is not a length: {SPELLINGS}"),
    ("٣ cm", f"'٣ cm' is not a length: {SPELLINGS}"),
    ("1.2.3", f"'1.2.3' is not a length: {SPELLINGS}"),
    ("1/0", "'1/0' is not a length: its fraction has a zero below the bar"),
    ("3 1/0 in", "'3 1/0 in' is not a length: its fraction has a zero below the bar"),
    (
        "13 3/2 in",
        "'13 3/2 in' is not a length: its fraction is not less than one; write for instance 13 1/2",
    ),
    ("9" * 400, f"'{'9' * 36}... is too large for a length"),
    (f"1/{'9' * 400} {'9' * 400}", f"'1/{'9' * 34}... is not a length: {SPELLINGS}"),
    (1e308, "1e+308 is too large for a length"),
    (10**400, "a number of that size is too large for a length"),
    (float("nan"), "nan is not a length: give a number"),
    (float("inf"), "inf is not a length: give a number"),
    (float("-inf"), "-inf is not a length: give a number"),
    (True, f"True is not a length: {TEXT_OR_NUMBER}"),
    (None, f"None is not a length: {TEXT_OR_NUMBER}"),
    ([88], f"[88] is not a length: {TEXT_OR_NUMBER}"),
]


@pytest.mark.parametrize(("written", "unit", "millimetres"), READ)
def test_read(written, unit: Unit, millimetres: float) -> None:
    assert parse_length(written, unit) == pytest.approx(millimetres, rel=1e-12, abs=0.0)


@pytest.mark.parametrize(("written", "message"), REFUSED)
def test_refused_in_one_line(written, message: str) -> None:
    with pytest.raises(InputError) as refusal:
        parse_length(written, Unit.CM)
    assert str(refusal.value) == message
    assert "\n" not in message


@pytest.mark.parametrize(
    ("mm", "unit", "printed"),
    [
        (343.0, Unit.CM, "34.3 cm"),
        (343.0, Unit.MM, "343.0 mm"),
        (342.9, Unit.IN, "13 1/2 in"),
        (-25.4 * 3 / 16, Unit.IN, "-3/16 in"),
        (-342.9, Unit.IN, "-13 1/2 in"),
        (25.4 * 15 / 16, Unit.IN, "15/16 in"),
        (25.4, Unit.IN, "1 in"),
        (25.39, Unit.IN, "1 in"),
        (0.0, Unit.IN, "0 in"),
        (-0.1, Unit.IN, "0 in"),
        (-0.01, Unit.CM, "0.0 cm"),
        (-0.01, Unit.MM, "0.0 mm"),
        (-3.0, Unit.CM, "-0.3 cm"),
        (float("nan"), Unit.IN, "nan in"),
        (float("inf"), Unit.IN, "inf in"),
        (float("-inf"), Unit.CM, "-inf cm"),
    ],
)
def test_printed(mm: float, unit: Unit, printed: str) -> None:
    assert format_length(mm, unit) == printed


@pytest.mark.parametrize(
    ("mm", "unit", "printed"),
    [
        (343.2, Unit.IN, "13 1/2 in (+0.3 mm)"),
        (342.6, Unit.IN, "13 1/2 in (-0.3 mm)"),
        (343.1, Unit.IN, "13 1/2 in"),
        (342.9, Unit.IN, "13 1/2 in"),
        (-343.2, Unit.IN, "-13 1/2 in (-0.3 mm)"),
        (343.4, Unit.CM, "34.3 cm (+0.4 mm)"),
        (343.1, Unit.CM, "34.3 cm"),
        (343.04, Unit.MM, "343.0 mm"),
    ],
)
def test_error_is_shown_when_it_matters(mm: float, unit: Unit, printed: str) -> None:
    assert format_length(mm, unit, show_error=True) == printed


@given(ANY_LENGTH, UNITS)
def test_print_and_read_back_within_half_a_step(mm: float, unit: Unit) -> None:
    for default in Unit:
        read = parse_length(format_length(mm, unit), default)
        assert abs(read - mm) <= HALF_STEP[unit] + SLACK


@given(ANY_LENGTH, UNITS)
def test_printed_and_shown_error_leave_less_than_matters(mm: float, unit: Unit) -> None:
    printed, _, error = format_length(mm, unit, show_error=True).partition(" (")
    left = float(error.removesuffix(" mm)")) if error else 0.0
    assert abs(parse_length(printed, unit) + left - mm) <= ERROR_MATTERS + SLACK


@given(st.integers(-5000, 5000), UNITS)
def test_what_is_printed_is_read_and_printed_alike(steps: int, unit: Unit) -> None:
    printed = format_length(steps * 2 * HALF_STEP[unit], unit)
    assert format_length(parse_length(printed, unit), unit) == printed


@given(st.text(max_size=30), UNITS)
def test_any_text_is_read_or_refused_in_one_line(text: str, unit: Unit) -> None:
    try:
        assert abs(parse_length(text, unit)) < float("inf")
    except InputError as refusal:
        assert len(str(refusal).splitlines()) == 1  # noqa: PT017  (either outcome is right)


@given(st.floats(-1e6, 1e6, allow_nan=False), UNITS)
def test_bare_numbers_take_the_unit(number: float, unit: Unit) -> None:
    plain = f"{number:.6f}"
    assert parse_length(plain, unit) == float(plain) * unit.millimetres
    assert parse_length(number, unit) == number * unit.millimetres
