"""Bodies and drafts that the trouser tests share."""

from __future__ import annotations

from blockwright import BodySheet, Pattern, Proof, Unit, draft, prove
from blockwright_trousers.straight import StraightTrousers

# Invented, of middling proportions; millimetres.
MIDDLING = {
    "waist_girth": 740.0,
    "hip_girth": 990.0,
    "waist_to_hip": 205.0,
    "outside_leg_length": 1050.0,
    "body_rise": 275.0,
    "total_crotch_length": 700.0,
    "knee_girth": 385.0,
    "knee_height": 455.0,
    "thigh_girth": 590.0,
    "ankle_girth": 235.0,
}


def sheet(values: dict[str, float], unit: Unit = Unit.CM, name: str = "Test body") -> BodySheet:
    """A sheet of values in mm, printed in `unit`."""
    return BodySheet(name=name, units=unit, values=values)


def drafted(values: dict[str, float], unit: Unit = Unit.CM, **settings) -> tuple[Pattern, Proof]:
    """The pattern and its proof."""
    pattern = draft(StraightTrousers, sheet(values, unit), settings)
    return pattern, prove(pattern)
