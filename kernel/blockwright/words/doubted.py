"""The words about a sheet that hardly goes together, or hardly goes with a block."""

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


def worn_by_others(block: str, meant: str, found: str) -> str:
    """That the block of this key is drawn for other wearers than the sheet's."""
    return said("body.other-wearer", {"block": block, "meant": meant, "found": found})
