"""The words about a measurement that hardly goes with the others."""

from __future__ import annotations

from blockwright.body.body_model import Doubt
from blockwright.body.lengths import Length, Unit
from blockwright.words.catalogue import said


def doubted(doubt: Doubt, unit: Unit) -> str:
    """What is usual with the rest of the sheet, and what may have been meant."""
    values: dict[str, object] = {
        "name": doubt.name,
        "value": Length(doubt.value, unit),
        "low": Length(doubt.low, unit),
        "high": Length(doubt.high, unit),
    }
    if doubt.was is None:
        return said("measurement.doubted", values)
    return said("measurement.doubted-was", values | {"was": Length(doubt.was, unit)})
