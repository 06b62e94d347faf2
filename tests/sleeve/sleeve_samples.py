"""Bodies and drafts that the sleeve tests share."""

from __future__ import annotations

from pathlib import Path

from blockwright import BodySheet, Pattern, Proof, Unit, draft, prove
from blockwright_sleeve.fitted import FittedSleeve
from blockwright_sleeve.straight import StraightSleeve

INCH = 25.4
WORKROOM = Path(__file__).parent.parent.parent / "examples" / "workroom"

# Invented, of middling proportions; millimetres.
MIDDLING = {
    "upper_arm_girth": 290.0,
    "wrist_girth": 160.0,
    "outer_arm_length": 585.0,
    "upper_arm_length": 330.0,
    "front_armhole_length": 220.0,
    "back_armhole_length": 230.0,
}

# Invented: a small child.
CHILD = {
    "upper_arm_girth": 165.0,
    "wrist_girth": 115.0,
    "outer_arm_length": 300.0,
    "upper_arm_length": 165.0,
    "front_armhole_length": 118.0,
    "back_armhole_length": 122.0,
}

# A misses' sleeve in common practice (no source; values in inches: length 22, bicep 13, wrist 9;
# marks at the quarters from the crown down; elbow dart 1), as explicit values.  The armhole is
# stated here: front 8 1/4, back 8 3/4.
MISSES_BODY = {
    "upper_arm_girth": 11.0 * INCH,
    "wrist_girth": 6.25 * INCH,
    "outer_arm_length": 22.0 * INCH,
    "upper_arm_length": 12.5 * INCH,
    "front_armhole_length": 8.25 * INCH,
    "back_armhole_length": 8.75 * INCH,
}
MISSES_SETTINGS = {
    "bicep_width": "13 in",
    "wrist_width": "9 in",
    "cap_ease": "1 in",
    "back_upper": "5/8 in",
    "back_middle": "3/16 in",
    "back_lower": "-3/8 in",
    "front_upper": "3/4 in",
    "front_middle": "3/16 in",
    "front_lower": "-1/2 in",
    "elbow_dart": "1 in",
}

BOTH = (FittedSleeve, StraightSleeve)


def sheet(values: dict[str, float], unit: Unit = Unit.CM, name: str = "Test body") -> BodySheet:
    """A sheet of values in mm, printed in `unit`."""
    return BodySheet(name=name, units=unit, values=values)


def drafted(
    block, values: dict[str, float], unit: Unit = Unit.CM, **settings
) -> tuple[Pattern, Proof]:
    """The pattern and its proof."""
    pattern = draft(block, sheet(values, unit), settings)
    return pattern, prove(pattern)
