"""What a block requires of its values, and what a refusal says."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest

from blockwright import (
    Block,
    BodySheet,
    Draft,
    Edge,
    GeometryError,
    InputError,
    NoSolutionError,
    PatternError,
    Point,
    Rule,
    Unit,
    draft,
    length_option,
    line,
    measurement,
    optional_measurement,
)
from blockwright.pattern.table.requirements import InForce

HIP = InForce("measurement", "96.0 cm")
EASE = InForce("option", "4.0 cm", is_set=True)
CURVE = InForce("option", "2.0 cm")
ARM = InForce("taken", "45.0 cm on bodice.plain")
KNOWN = {"hip_girth": HIP, "hip_ease": EASE, "curve": CURVE, "armhole_length": ARM,
         "knee_girth": InForce("measurement", "")}  # fmt: skip


@pytest.mark.parametrize(
    ("check", "advice"),
    [
        ([], ""),
        (["hip_girth"], "; measure hip_girth (96.0 cm) again"),
        (["knee_girth", "hip_girth"], "; measure knee_girth and hip_girth (96.0 cm) again"),
        (["curve"], "; set curve"),
        (["curve", "hip_girth"], "; measure hip_girth (96.0 cm) again, or set curve"),
        (["hip_ease"], "; give hip_ease (4.0 cm) another value, or leave it out"),
        (
            ["hip_ease", "curve", "hip_girth", "hip_ease"],
            "; give hip_ease (4.0 cm) another value, or leave it out; or measure hip_girth "
            "(96.0 cm) again",
        ),
        (
            ["armhole_length"],
            "; change the block that armhole_length (45.0 cm on bodice.plain) is taken from",
        ),
    ],
)
def test_advice_is_made_of_what_it_hangs_on(check: list[str], advice: str) -> None:
    d = Draft("test.x", "X", in_force=KNOWN)
    d.require(True, "not so", check=check)
    with pytest.raises(InputError) as refused:
        d.require(False, "not so", check=check)
    assert str(refused.value) == f"test.x: not so{advice}"
    assert refused.value.code == "block.refused"
    assert refused.value.values["check"] == list(dict.fromkeys(check))


def test_the_block_may_know_better() -> None:
    with pytest.raises(InputError) as refused:
        Draft("test.x", "X").require(False, "no", check=["a"], do="do that", code="test.no")
    assert (str(refused.value), refused.value.code) == ("test.x: no; do that", "test.no")


def test_advice_that_takes_time_is_found_only_for_a_refusal() -> None:
    asked = []

    def advice() -> str:
        asked.append(1)
        return "give less"

    d = Draft("test.x", "X", in_force=KNOWN)
    d.require(True, "not so", do=advice)
    with d.drawing("the hem", do=advice):
        pass
    d.within("it", 1.0, 0.0, 2.0, do=advice)
    assert not asked
    with pytest.raises(InputError, match=r"^test\.x: not so; give less$") as refused:
        d.require(False, "not so", do=advice)
    assert refused.value.values["advice"] == "give less"


def test_a_table_made_by_hand_prints_names_alone() -> None:
    with pytest.raises(InputError, match=r"^test.x: no; check a, b and c$"):
        Draft("test.x", "X").require(False, "no", check=["a", "b", "c"])


def test_a_name_that_is_not_declared_is_the_authors_slip_though_it_holds() -> None:
    d = Draft("test.x", "X", in_force=KNOWN)
    with pytest.raises(PatternError, match=r"no option or measurement 'hip_eas'; did you mean"):
        d.require(True, "no", check=["hip_eas"])


@pytest.mark.parametrize(
    ("found", "low", "high", "angle", "says"),
    [
        (180.0, 100.0, 150.0, False, "it is 18.0 cm; it may be 10.0 cm to 15.0 cm"),
        (150.000002, 100.0, 150.0, False, "it is 15.0 cm; it may be 10.0 cm to 15.0 cm"),
        (99.9, 100.0, math.inf, False, "it is 10.0 cm; it may be 10.0 cm or more"),
        (50.0, -math.inf, 45.0, True, "it is 50°; it may be up to 45°"),
        (math.nan, 0.0, 45.0, True, "it is nan°; it may be 0° to 45°"),
    ],
)
def test_a_range(found: float, low: float, high: float, angle: bool, says: str) -> None:
    with pytest.raises(InputError) as refused:
        Draft("test.x", "X").within("it", found, low, high, angle=angle)
    assert str(refused.value) == f"test.x: {says}"
    assert refused.value.code == "block.out-of-range"


def test_a_range_holds_its_limits_but_for_rounding() -> None:
    d = Draft("test.x", "X", Unit.IN)
    for found in (100.0, 150.0, 99.9999999, 150.0000001):
        d.within("it", found, 100.0, 150.0)
    # A millionth beyond a limit is rounding, and more is not.
    for off in (0.9e-6, -0.9e-6):
        d.within("it", off, 0.0, 0.0)
    for off in (1.1e-6, -1.1e-6):
        with pytest.raises(InputError):
            d.within("it", off, 0.0, 0.0)


def test_what_cannot_be_drawn_is_named() -> None:
    d = Draft("test.x", "X", in_force=KNOWN)
    with pytest.raises(InputError) as refused, d.drawing("the waist", check=["curve"]):
        raise GeometryError("no")
    assert str(refused.value) == "test.x: the waist cannot be drawn from these values; set curve"
    assert refused.value.code == "block.cannot-be-drawn"
    with pytest.raises(ZeroDivisionError), d.drawing("the waist"):
        raise ZeroDivisionError


class Strict(Block):
    """Needs more hip than there is."""

    key = "test.strict"
    title = "Strict"
    hip = measurement("hip_girth")
    thigh = optional_measurement("thigh_girth")
    ease = length_option("2 cm", low="0 cm", high="9 cm", says="more than the hip")

    def draft(self, d: Draft) -> None:
        """Refuse."""
        if self.ease < 50.0:
            d.require(self.hip < 0.0, "too much", check=["ease", "hip_girth", "thigh_girth"])
        d.solve("x", lambda x: x, target=5.0, low=0.0, high=1.0, so_that="it is", goal="length",
                check=["ease", "hip_girth"])  # fmt: skip


def test_a_draft_knows_the_values_and_its_refusal_keeps_the_code() -> None:
    sheet = BodySheet.from_values({"hip_girth": 96}, units="cm", name="Trial")
    with pytest.raises(InputError) as refused:
        draft(Strict, sheet)
    assert str(refused.value) == (
        "test.strict: too much; measure hip_girth (96.0 cm) and thigh_girth again, or set ease"
    )
    assert refused.value.code == "block.refused"
    with pytest.raises(NoSolutionError) as unsolved:
        draft(Strict, sheet, {"ease": "6 cm"})
    assert str(unsolved.value) == (
        "test.strict: length of 0.5 cm cannot be reached: with x from 0.0 cm to 0.1 cm it can be "
        "0.0 cm to 0.1 cm; give ease (6.0 cm) another value, or leave it out; or measure hip_girth "
        "(96.0 cm) again"
    )
    assert unsolved.value.code == "block.no-solution"


class Giver(Block):
    """A square whose top edge another block takes."""

    key = "test.giver"
    title = "Giver"
    offers = ("top",)

    def draft(self, d: Draft) -> None:
        """Draw the square."""
        corners = [Point(0, 0), Point(200, 0), Point(200, 200), Point(0, 200), Point(0, 0)]
        names = ("hem", "right", "top", "left")
        edges = [Edge(n, line(a, b)) for n, (a, b) in zip(names, pairwise(corners), strict=True)]
        d.piece("square", edges)
        d.offer("top", edges[2])


class Taker(Block):
    """Refuses the length it takes."""

    key = "test.taker"
    title = "Taker"
    waist = measurement("waist_girth", taken="top")

    def draft(self, d: Draft) -> None:
        """Refuse."""
        d.within("the waist", self.waist, 500.0, 900.0, check=["waist_girth"])


def test_a_length_taken_from_another_block_is_not_measured_again() -> None:
    sheet = BodySheet.from_values({"waist_girth": 70}, units="cm", name="Trial")
    with pytest.raises(InputError) as refused:
        draft([Giver, Taker], sheet)
    assert str(refused.value) == (
        "test.taker: the waist is 20.0 cm; it may be 50.0 cm to 90.0 cm; "
        "change the block that waist_girth (20.0 cm on test.giver) is taken from"
    )


class Guesser(Block):
    """Refuses what it estimates."""

    key = "test.guesser"
    title = "Guesser"
    depth = measurement(
        "waist_to_hip", estimate=Rule(("height",), lambda height: height / 8.0, "an eighth")
    )

    def draft(self, d: Draft) -> None:
        """Refuse."""
        d.within("the hip", self.depth, 100.0, 150.0, check=["waist_to_hip"])


def test_what_was_not_measured_is_not_measured_again() -> None:
    sheet = BodySheet.from_values({"height": 160}, units="cm", name="Trial")
    with pytest.raises(InputError) as refused:
        draft(Guesser, sheet)
    assert str(refused.value) == (
        "test.guesser: the hip is 20.0 cm; it may be 10.0 cm to 15.0 cm; "
        "measure waist_to_hip (20.0 cm is estimated from height)"
    )


def test_advice_names_five_measurements_and_four_options_at_most() -> None:
    known = {f"girth_{i}": InForce("measurement", "") for i in range(9)}
    known |= {f"ease_{i}": InForce("option", "") for i in range(9)}
    with pytest.raises(InputError) as refused:
        Draft("test.x", "X", in_force=known).require(False, "not so", check=known)
    assert str(refused.value) == (
        "test.x: not so; measure girth_0, girth_1, girth_2, girth_3 and girth_4 again, or set "
        "ease_0, ease_1, ease_2 or ease_3"
    )
