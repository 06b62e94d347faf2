"""Real bodies to test on: the rows of a survey, as measurements by our names.

Source: ANSUR II, NATICK/TR-15/007, 2014; see ansur2-sample.md.
"""

from __future__ import annotations

import csv
from collections.abc import Callable, Mapping
from dataclasses import replace
from functools import cache
from itertools import count
from pathlib import Path
from typing import NamedTuple

from blockwright.body import made_up_bodies
from blockwright.body.lengths import Unit
from blockwright.body.sheet import BodySheet

NAME = "survey"
"""The name of this source of bodies."""
SAMPLE = Path(__file__).with_name("ansur2-sample.csv")

Row = Mapping[str, str]
"""A row of the file: `sex` ('female' or 'male') and columns in millimetres."""


@cache
def rows() -> tuple[Row, ...]:
    """All rows of the sample, in the file's order."""
    with SAMPLE.open(encoding="utf-8", newline="") as file:
        return tuple(csv.DictReader(file))


def armscye_rule(chest: float, upper_arm: float) -> float:
    """Armscye girth, mm.  The survey lacks it; the rule is common practice, no source.

    It is a quarter of the chest, two fifths of the upper arm, and 7 cm for the height of the
    shoulder, which hardly grows with girth.  Chest 880 and arm 280 give 402 mm, 1060 and 350 give
    475 mm, and a child of 560 and 180 has 282 mm.  It is larger than the arm on every body here.
    """
    return 0.25 * chest + 0.40 * upper_arm + 70.0


# Our name: survey column, and where the two differ.
COLUMNS: dict[str, tuple[str, str]] = {
    "height": ("stature", ""),
    "neck_girth": ("neckcircumference", ""),
    "neck_base_girth": ("neckcircumferencebase", ""),
    "bust_girth": ("chestcircumference", "on men it is the chest girth, at the same level"),
    "chest_girth": ("chestcircumference", "on women it is the bust girth, at the same level"),
    "waist_girth": ("waistcircumference", "at the navel: often larger and lower"),
    "hip_girth": ("buttockcircumference", ""),
    "upper_arm_girth": ("bicepscircumferenceflexed", "flexed: a little large"),
    "forearm_girth": ("forearmcircumferenceflexed", "flexed: a little large"),
    "wrist_girth": ("wristcircumference", ""),
    "thigh_girth": ("thighcircumference", ""),
    "knee_girth": ("lowerthighcircumference", "just above the knee"),
    "calf_girth": ("calfcircumference", ""),
    "ankle_girth": ("anklecircumference", "where it is least, above the bones: a little small"),
    "shoulder_length": ("shoulderlength", ""),
    "across_back_width": ("interscyei", "between the back folds, which is where an armhole runs"),
    "back_neck_point_to_waist": ("waistbacklength", "to navel level"),
    "front_neck_point_to_waist": ("waistfrontlengthsitting", "seated, to navel level"),
    "upper_arm_length": ("acromionradialelength", "to the radiale, just below the elbow point"),
    "outer_arm_length": ("sleeveoutseam", ""),
    "back_neck_point_to_wrist_length": ("sleevelengthspinewrist", ""),
    "outside_leg_length": ("waistheightomphalion", "from navel level, not over the hip"),
    "inside_leg_height": ("crotchheight", ""),
    "total_crotch_length": ("crotchlengthomphalion", "from navel level"),
    "back_crotch_length": ("crotchlengthposterioromphalion", "from navel level"),
    "knee_height": ("kneeheightmidpatella", ""),
}

# The survey's armpit is its front fold, some 5 cm above the level of a tape under the arms, so the
# scye depth is left to the blocks' own rule.
# Our name: the upper and the lower of two heights in the survey, and where it differs.
DIFFERENCES: dict[str, tuple[str, str, str]] = {
    "body_rise": ("waistheightomphalion", "crotchheight", "from navel level, standing"),
    "waist_to_hip": ("waistheightomphalion", "buttockheight", "from navel level, straight"),
    "waist_to_knee": ("waistheightomphalion", "kneeheightmidpatella", "from navel level, straight"),
}


class Guess(NamedTuple):
    """A rule for a measurement that the survey lacks: what it needs, mm, and its words."""

    find: Callable[..., float]
    needs: tuple[str, ...]
    says: str


# Common practice, no source: near enough to try a block on the body, no more.
ESTIMATES: dict[str, Guess] = {
    "armscye_girth": Guess(
        armscye_rule,
        ("chest_girth", "upper_arm_girth"),
        "a quarter of the chest girth, 0.4 of the upper arm girth and 7 cm",
    ),
    "head_girth": Guess(
        lambda height: 400.0 + 0.095 * height, ("height",), "0.095 of the height and 40 cm"
    ),
    "hand_girth": Guess(lambda wrist: 1.22 * wrist, ("wrist_girth",), "1.22 times the wrist girth"),
    "elbow_girth": Guess(
        lambda arm, forearm: 0.47 * (arm + forearm),
        ("upper_arm_girth", "forearm_girth"),
        "0.47 of the girths of upper arm and forearm together",
    ),
    "upper_chest_girth": Guess(lambda bust: 0.95 * bust, ("bust_girth",), "0.95 of the bust girth"),
    "under_bust_girth": Guess(lambda bust: 0.86 * bust, ("bust_girth",), "0.86 of the bust girth"),
    "top_hip_girth": Guess(
        lambda waist, hip: 0.45 * waist + 0.55 * hip,
        ("waist_girth", "hip_girth"),
        "0.45 of the waist girth and 0.55 of the hip girth",
    ),
    "mid_thigh_girth": Guess(
        lambda thigh: 0.90 * thigh, ("thigh_girth",), "0.9 of the thigh girth"
    ),
    "across_back_shoulder_width": Guess(
        lambda shoulder, neck: 2.0 * shoulder + 0.32 * neck,
        ("shoulder_length", "neck_base_girth"),
        "twice the shoulder length and 0.32 of the neck base girth",
    ),
    "across_front_width": Guess(
        lambda back: 0.92 * back, ("across_back_width",), "0.92 of the across back width"
    ),
    "bust_point_width": Guess(lambda bust: 0.20 * bust, ("bust_girth",), "0.2 of the bust girth"),
    "scye_depth": Guess(
        lambda bust, arm: (bust / 12.0 + 137.0 + arm / 4.0 + 140.0) / 2.0 - 5.0,
        ("bust_girth", "upper_arm_girth"),
        "mean of a twelfth of bust girth and 13.7 cm, and a quarter of upper arm girth and 14 cm, "
        "less 5 mm of ease",
    ),
    "side_neck_point_to_bust_point": Guess(
        lambda bust: 0.28 * bust, ("bust_girth",), "0.28 of the bust girth"
    ),
    "side_neck_point_to_waist": Guess(
        lambda back, bust: back + 0.03 * bust,
        ("back_neck_point_to_waist", "bust_girth"),
        "the back neck point to waist and 0.03 of the bust girth",
    ),
    "underarm_length": Guess(
        lambda arm: 0.76 * arm, ("outer_arm_length",), "0.76 of the outer arm length"
    ),
    "front_armhole_length": Guess(
        lambda chest, arm: 0.51 * armscye_rule(chest, arm),
        ("chest_girth", "upper_arm_girth"),
        "0.51 of the armscye girth, itself estimated",
    ),
    "back_armhole_length": Guess(
        lambda chest, arm: 0.57 * armscye_rule(chest, arm),
        ("chest_girth", "upper_arm_girth"),
        "0.57 of the armscye girth, itself estimated",
    ),
}
UNMEASURED = "{}: not taken in the survey, common practice, no source"
"""The sentence of a sheet about an estimated value."""


MEASURED = frozenset((*COLUMNS, *DIFFERENCES))
"""Our names for the measurements that the survey has."""


def measured(row: Row) -> dict[str, float]:
    """The measurements of a row that the survey has, mm, by our names."""
    values = {name: float(row[column]) for name, (column, _) in COLUMNS.items()}
    for name, (upper, lower, _) in DIFFERENCES.items():
        values[name] = float(row[upper]) - float(row[lower])
    return values


def estimated(values: Mapping[str, float], name: str) -> float:
    """A measurement that the survey lacks, mm, by its rule."""
    rule = ESTIMATES[name]
    return rule.find(*(values[need] for need in rule.needs))


def body(row: Row) -> dict[str, float]:
    """The measurements of a row with the armscye girth, which a sleeve needs."""
    values = measured(row)
    return values | {"armscye_girth": estimated(values, "armscye_girth")}


def names() -> list[str]:
    """The names of the bodies in the file's order: 'female-1' and so on."""
    return list(_by_name())


def row(name: str) -> Row:
    """The row of that name.  Raises KeyError if there is none."""
    return _by_name()[name]


_RUNG = f"{made_up_bodies.PREFIX}rung-"
_PER_CENT = {f"{per_cent}": per_cent for per_cent in range(101)}


def sheet(name: str) -> BodySheet:
    """The sheet of a body, in whole millimetres.  Raises KeyError if there is no such body.

    'female-17' has the measurements of the survey.  'female-17+head_girth' has that estimate as
    well, and says that it is one.  'made-female-17' is made up after that body.  'made-rung-50' has
    every measurement half way up its range.
    """
    who, *wanted = name.split("+")
    if who.startswith(_RUNG):
        values = made_up_bodies.rung(_PER_CENT[who.removeprefix(_RUNG)])
    elif who.startswith(made_up_bodies.PREFIX):
        values = made_up_bodies.stray(measured(row(made_up_bodies.made_after(who))), who)
    else:
        values = measured(row(who))
    added = {what: estimated(values, what) for what in wanted if what not in values}
    whole = {what: round(value) for what, value in (values | added).items()}
    found = BodySheet.from_values(whole, units=Unit.MM, name=who)
    rules = {what: UNMEASURED.format(ESTIMATES[what].says) for what in added}
    return replace(found, where=f"{NAME}:{name}", estimates=rules)


@cache
def _by_name() -> dict[str, Row]:
    counts = {"female": count(1), "male": count(1)}
    return {f"{row['sex']}-{next(counts[row['sex']])}": row for row in rows()}
