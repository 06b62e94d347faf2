"""What an author declares is looked at where it is written, or when the block is loaded."""

from __future__ import annotations

import pickle
from enum import Enum

import numpy as np
import pytest

from blockwright import (
    Block,
    BodySheet,
    PatternError,
    auto_length_option,
    choice_option,
    count_option,
    draft,
    length_option,
    load,
    measurement,
    ratio_option,
)
from blockwright.plugin.block import block_fault, first_line

RANGE = {"low": "1 cm", "high": "9 cm"}


class Tier(Enum):
    """No word."""

    ONE = 1


@pytest.mark.parametrize(
    ("declare", "says"),
    [
        (lambda: length_option("4 cm", says=None, **RANGE), "says of an option is None; give text"),
        (lambda: auto_length_option(auto=5, says="x", **RANGE), "auto of an option is a value of"),
        (lambda: ratio_option(0.5, low="a", high=1, says="x"), "low of an option is 'a'; give a n"),
        (
            lambda: ratio_option([], low=0, high=1, says="x"),
            r"default of an option is \[\]; give a",
        ),
        (
            lambda: ratio_option(float("nan"), low=0, high=1, says="x"),
            "default of an option is nan",
        ),
        (
            lambda: count_option(2.5, low=1, high=3, says="x"),
            "default of an option is 2.5; give a w",
        ),
        (lambda: count_option(True, low=1, high=3, says="x"), "default of an option is True; give"),
        (
            lambda: choice_option("a", of="abc", says="x"),
            "of is a value of type str; give the words",
        ),
        (
            lambda: choice_option("a", of=None, says="x"),
            "of is None; give the words to choose from",
        ),
        (
            lambda: choice_option(2, of=(1, 2), says="x"),
            "default of an option is a value of type i",
        ),
        (
            lambda: choice_option("1", of=(Tier.ONE,), says="x"),
            "of of an option is a value of type T",
        ),
        (
            lambda: measurement("height", estimate=lambda hip: hip),
            "estimate of height is a value of",
        ),
    ],
)
def test_a_slip_in_a_declaration_is_told_where_it_is(declare, says: str) -> None:
    with pytest.raises(PatternError, match=says):
        declare()


def test_numbers_of_a_library_become_plain_ones() -> None:
    option = count_option(np.int64(5), low=np.int64(1), high=9, says="panels")
    assert [type(each) for each in (option.default, option.low)] == [int, int]
    assert type(ratio_option(np.float64(0.5), low=0, high=1, says="share").default) is float


def whole(**declared: object) -> type[Block]:
    """A block with this beside what it must have."""

    def draft(self, d) -> None:
        """Nothing."""

    return type("Odd", (Block,), {"key": "test.odd", "title": "Odd", "draft": draft, **declared})


OPTION = length_option("4 cm", says="depth", **RANGE)


@pytest.mark.parametrize(
    ("declared", "says"),
    [
        ({"offers": None}, "Odd.offers is None; give names of runs, such as ('waist',)"),
        ({"takes": "waist"}, "Odd.takes is 'waist'; give names of runs, such as ('waist',)"),
        ({"offers": (5,)}, "Odd.offers is (5,); give names of runs, such as ('waist',)"),
        ({"allowances": "4 cm"}, "Odd.allowances is '4 cm'; give lengths by role"),
        ({"options": OPTION}, "Odd.options is a name that every block has; use another"),
        ({"takes": OPTION}, "Odd.takes is a name that every block has; use another"),
        ({"draft": 5}, "Odd.draft is not a method; write def draft(self, d)"),
        (
            {"draft": property(lambda self: None)},
            "Odd.draft is not a method; write def draft(self, d)",
        ),
        (
            {"height": length_option("4 cm", says="x", **RANGE), "stature": measurement("height")},
            "option 'height' of Odd has the name of a measurement of the block; rename it",
        ),
    ],
)
def test_a_block_that_is_not_whole_is_told(declared, says: str) -> None:
    assert block_fault(whole(**declared)) == says


def test_a_whole_one_is() -> None:
    assert block_fault(whole(depth=length_option("4 cm", says="depth", **RANGE))) == ""


def test_what_a_block_is_comes_from_itself() -> None:
    assert first_line(whole()) == "Odd"
    assert first_line(whole(__doc__="An odd one.\n\nMore.")) == "An odd one."
    above = whole(__doc__="An odd one.")
    assert first_line(type("Odder", (above,), {"key": "test.odder"})) == "An odd one."


def test_what_it_was_drafted_from_cannot_be_changed_afterwards() -> None:
    values = {"waist_girth": 70, "hip_girth": 96, "waist_to_hip": 20}
    body = BodySheet.from_values(values, units="cm", name="Trial")
    pattern = draft(load(only=["skirt"]).block("skirt.circle"), body)
    for kept in (pattern.measurements, pattern.options, pattern.offers):
        with pytest.raises(TypeError, match="does not support item assignment"):
            kept["lie"] = 1.0
    again = pickle.loads(pickle.dumps(pattern))
    assert (again.options, again.measurements) == (pattern.options, pattern.measurements)
