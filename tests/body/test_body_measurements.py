"""Measurement names, their sources, ranges against published bodies, and contradictions.

Published figures: ISO 8559-1:2017 clause numbers after a secondary page (a body-measuring
service's definitions, which cross-refer to the standard); ANSUR II, NATICK/TR-15/007, 2014; ASTM
D5585-11e1, Table 1, as on its astm.org page.
"""

from __future__ import annotations

import re
from fractions import Fraction

import pytest

from blockwright.body.lengths import Unit
from blockwright.body.measurements import (
    NEVER_LONGER,
    NEVER_LONGER_THAN_BOTH,
    contradictions,
    lookup,
    measurements,
    nearest_name,
)
from blockwright.body.survey import COLUMNS, DIFFERENCES, armscye_rule, body, rows
from blockwright.errors import InputError

CLAUSES = {
    "neck_girth": ("Neck girth", "5.3.2"),
    "neck_base_girth": ("Neck base girth", "5.3.3"),
    "bust_girth": ("Bust girth", "5.3.4"),
    "under_bust_girth": ("Under bust girth", "5.3.8"),
    "waist_girth": ("Waist girth", "5.3.10"),
    "top_hip_girth": ("Top hip girth", "5.3.12"),
    "hip_girth": ("Hip girth", "5.3.13"),
    "upper_arm_girth": ("Upper-arm girth", "5.3.16"),
    "wrist_girth": ("Wrist girth", "5.3.19"),
    "thigh_girth": ("Thigh girth", "5.3.20"),
    "mid_thigh_girth": ("Mid-thigh girth", "5.3.21"),
    "across_back_shoulder_width": (
        "Across back shoulder width (through the back neck point)",
        "5.4.3",
    ),
    "back_neck_point_to_waist": ("Back neck point to waist", "5.4.5"),
    "back_neck_point_to_wrist_length": ("Back neck point to wrist length", "5.4.17"),
    "outer_arm_length": ("Outer arm length", "5.7.8"),
}

# ANSUR II: 5th and 95th percentiles, women (n 1986) then men (n 4082), mm.
PERCENTILES = {
    "height": (1525, 1740, 1648, 1870),
    "bust_girth": (824, 1094, 922, 1207),
    "chest_girth": (824, 1094, 922, 1207),
    "waist_girth": (710, 1040, 768, 1131),
    "hip_girth": (901, 1156, 899, 1149),
    "upper_arm_girth": (259, 360, 303, 418),
    "wrist_girth": (142, 168, 162, 191),
    "neck_base_girth": (340, 405, 395, 479),
    "shoulder_length": (120, 153, 133, 167),
    "back_neck_point_to_waist": (384, 470, 433, 524),
    "back_neck_point_to_wrist_length": (746, 870, 831, 963),
    "outer_arm_length": (497, 594, 545, 645),
    "upper_arm_length": (307, 363, 334, 394),
    "inside_leg_height": (712, 857, 771, 925),
    "total_crotch_length": (553, 692, 549, 701),
    "thigh_girth": (527, 711, 532, 723),
}

# ASTM D5585-11e1, Table 1: sizes 00 and 20, inches.
D5585 = {
    "head_girth": ("21 1/4", "22 1/2"),
    "neck_base_girth": ("13 1/4", "16 3/8"),
    "neck_girth": ("12 3/8", "16"),
    "bust_girth": ("31 1/8", "46"),
    "chest_girth": ("31 1/8", "46"),
    "under_bust_girth": ("25 3/4", "39 5/8"),
    "upper_chest_girth": ("31 3/4", "43 7/8"),
    "waist_girth": ("23 7/8", "40 1/2"),
}


def test_clauses_and_terms() -> None:
    known = {m.name: (m.term, m.clause) for m in measurements().values() if m.clause}
    assert known == CLAUSES


def test_clauses_are_in_the_source() -> None:
    for name, (_, clause) in CLAUSES.items():
        source = f"ISO 8559-1:2017, {clause}, after a secondary page"
        assert lookup(name).source == source


@pytest.mark.parametrize("name", measurements())
def test_every_measurement_is_whole(name: str) -> None:
    known = lookup(name)
    term = re.sub(r" \(.*\)", "", known.term)
    assert known.name == name == re.sub("[^a-z]+", "_", term.lower())
    assert 0.0 < known.low < known.high
    assert known.high / known.low < 16.0
    assert known.how[0].isupper()
    assert known.how.endswith(".")
    assert "\n" not in known.how
    assert known.source.startswith(("ISO", "EN", "a row of ASTM", "term of", "common practice"))


def test_only_armhole_lengths_are_of_a_garment() -> None:
    garment = {m.name for m in measurements().values() if m.of == "garment"}
    assert garment == {"front_armhole_length", "back_armhole_length"}


def test_names_are_read_only() -> None:
    with pytest.raises(TypeError):
        measurements()["tail_length"] = lookup("height")  # type: ignore[index]


@pytest.mark.parametrize(("name", "values"), PERCENTILES.items())
def test_range_holds_survey_percentiles(name: str, values: tuple[float, ...]) -> None:
    known = lookup(name)
    # a third more than the middle nine tenths of soldiers, either way, is still a body
    assert known.low < min(values) * 0.75
    assert known.high > max(values) * 1.33


@pytest.mark.parametrize(("name", "inches"), D5585.items())
def test_range_holds_published_sizes(name: str, inches: tuple[str, str]) -> None:
    known = lookup(name)
    small, large = (25.4 * float(sum(map(Fraction, text.split()))) for text in inches)
    assert known.low < small * 0.75
    assert known.high > large * 1.33


def test_survey_is_whole_and_mapped() -> None:
    found = rows()
    assert len(found) == 1518
    assert sum(row["sex"] == "female" for row in found) == 497
    assert set(body(found[0])) == {*COLUMNS, *DIFFERENCES, "armscye_girth"}
    assert set(body(found[0])) <= set(measurements())


def test_every_surveyed_body_is_plausible() -> None:
    for number, row in enumerate(rows()):
        values = body(row)
        outside = [n for n, v in values.items() if not lookup(n).low <= v <= lookup(n).high]
        assert not outside, (number, outside)
        assert not contradictions(values), (number, contradictions(values))
        assert values["armscye_girth"] > 1.1 * values["upper_arm_girth"]


@pytest.mark.parametrize(
    ("chest", "upper_arm", "about"), [(880, 280, 400), (1060, 350, 470), (560, 180, 282)]
)
def test_armscye_rule(chest: float, upper_arm: float, about: float) -> None:
    assert armscye_rule(chest, upper_arm) == pytest.approx(about, abs=8.0)


@pytest.mark.parametrize(
    ("name", "hint"),
    [
        ("waist_girht", "waist_girht: no such measurement; did you mean waist_girth?"),
        ("Waist_Girth", "Waist_Girth: no such measurement; did you mean waist_girth?"),
        ("waist girth", "'waist girth': no such measurement; did you mean waist_girth?"),
        ("waist-girth", "waist-girth: no such measurement; did you mean waist_girth?"),
        ("bicep", "bicep: no such measurement; did you mean upper_arm_girth?"),
        ("inseam", "inseam: no such measurement; did you mean inside_leg_height?"),
        ("seat", "seat: no such measurement; did you mean hip_girth?"),
        ("thigh", "thigh: no such measurement; did you mean thigh_girth?"),
        (
            "head_circumference",
            "head_circumference: no such measurement; did you mean head_girth?",
        ),
        (
            "Bust circumference",
            "'Bust circumference': no such measurement; did you mean bust_girth?",
        ),
        ("tail", "tail: no such measurement; 'blockwright measurements' lists them"),
        ("", "'': no such measurement; 'blockwright measurements' lists them"),
        ("a\nb", "'a\\nb': no such measurement; 'blockwright measurements' lists them"),
        (
            "x" * 99,
            f"'{'x' * 60}': no such measurement; 'blockwright measurements' lists them",
        ),
    ],
)  # fmt: skip
def test_unknown_names_get_the_nearest(name: str, hint: str) -> None:
    with pytest.raises(InputError) as refusal:
        lookup(name)
    assert str(refusal.value) == hint


TORN = {"wist_girth", "hnad_girth", "had_girth"}  # as near to wrist, to head


def test_one_slip_of_the_pen_is_always_understood() -> None:
    for name in measurements():
        for at in range(1, len(name) - 1):
            swapped = name[:at] + name[at + 1] + name[at] + name[at + 2 :]
            missing = name[:at] + name[at + 1 :]
            for slip in {swapped, missing} - TORN:
                assert nearest_name(slip) == name, slip


@pytest.mark.parametrize(("shorter", "longer"), NEVER_LONGER)
def test_contradictions_name_both(shorter: str, longer: str) -> None:
    values = {shorter: 300.0, longer: 299.0}
    assert [str(each) for each in contradictions(values)] == [
        f"{shorter} 30.0 cm is more than {longer} 29.9 cm, which no body has; measure both again"
    ]
    assert contradictions({shorter: 299.0, longer: 299.0}) == []
    assert contradictions({shorter: 300.0}) == contradictions({longer: 1.0}) == []
    assert {shorter, longer} <= set(measurements())


def test_contradictions_in_the_maker_s_unit() -> None:
    values = {"waist_to_hip": 1143.0, "outside_leg_length": 1066.8}
    assert [str(each) for each in contradictions(values, Unit.IN)] == [
        "waist_to_hip 45 in is more than outside_leg_length 42 in, "
        "which no body has; measure both again"
    ]


@pytest.mark.parametrize(("shorter", "both"), NEVER_LONGER_THAN_BOTH)
def test_contradictions_name_all_three(shorter: str, both: tuple[str, str]) -> None:
    one, other = both
    values = {shorter: 401.0, one: 190.0, other: 210.0}
    assert [str(each) for each in contradictions(values)] == [
        f"{shorter} 40.1 cm is more than {one} 19.0 cm and {other} 21.0 cm together, "
        "too small for the arm to pass; measure all three again"
    ]
    assert contradictions(values | {shorter: 400.0}) == []
    for absent in values:
        assert not contradictions({n: v for n, v in values.items() if n != absent})
    assert {shorter, one, other} <= set(measurements())


def test_a_sum_in_inches_is_no_contradiction() -> None:
    """Eighths of an inch turned into millimetres do not add up to the last digit."""
    whole, front, back = (25.4 * inches for inches in (16.25, 8.125, 8.125))
    for off in (-1e-12, 0.0, 1e-12):
        values = {"armscye_girth": whole + off, "front_armhole_length": front}
        assert contradictions(values | {"back_armhole_length": back}) == []


def test_contradictions_have_no_circle() -> None:
    longer_than: dict[str, set[str]] = {}
    for shorter, longer in NEVER_LONGER:
        longer_than.setdefault(shorter, set()).add(longer)
    for start in longer_than:
        reached, ahead = set(), {start}
        while ahead:
            ahead = {n for a in ahead for n in longer_than.get(a, ())} - reached
            reached |= ahead
        assert start not in reached
