"""Real bodies to test on: the rows of a survey, and each as measurements by our names.

Source: ANSUR II, NATICK/TR-15/007, 2014; see tests/data/README.md.
"""

from __future__ import annotations

import csv
from collections.abc import Callable, Mapping
from pathlib import Path

SAMPLE = Path(__file__).parent / "data" / "ansur2-sample.csv"

Row = Mapping[str, str]
"""A row as it is in the file: `sex` ('female' or 'male') and millimetres."""


def rows() -> list[Row]:
    """All rows of the sample, in the file's order."""
    with SAMPLE.open(encoding="utf-8", newline="") as file:
        return list(csv.DictReader(file))


def armscye_rule(chest: float, upper_arm: float) -> float:
    """Armscye girth, mm, which the survey has not; common practice, no source.

    A quarter of the chest, two fifths of the upper arm, and 7 cm for the height of the shoulder,
    which hardly grows with girth.  402 mm for chest 880 and arm 280; 475 mm for 1060 and 350;
    282 mm for a child of 560 and 180; smooth, and larger than the arm on every body here.
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

# Our name: the rule, and what it is estimated from.
ESTIMATES: dict[str, tuple[Callable[..., float], tuple[str, ...]]] = {
    "armscye_girth": (armscye_rule, ("chest_girth", "upper_arm_girth")),
}


def measured(row: Row) -> dict[str, float]:
    """The measurements of a row, mm, by our names: those that the survey has."""
    values = {name: float(row[column]) for name, (column, _) in COLUMNS.items()}
    for name, (upper, lower, _) in DIFFERENCES.items():
        values[name] = float(row[upper]) - float(row[lower])
    return values


def body(row: Row) -> dict[str, float]:
    """The measurements of a row with those estimated that the survey has not."""
    values = measured(row)
    for name, (rule, needs) in ESTIMATES.items():
        values[name] = rule(*(values[need] for need in needs))
    return values
