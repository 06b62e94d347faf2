"""The size chart, read from its table."""

from __future__ import annotations

import csv
from importlib.resources import files

from blockwright import BodySheet, Unit


def names() -> list[str]:
    """The sizes, smallest first."""
    return list(_table())


def body(size: str) -> BodySheet:
    """The sheet of a size; KeyError when there is none of that name."""
    return BodySheet.from_values(_table()[size], units=Unit.CM, name=f"Mill Lane {size}")


def _table() -> dict[str, dict[str, str]]:
    """Every size with its measurements."""
    text = files("mill_lane").joinpath("sizes.csv").read_text(encoding="utf-8")
    rows = csv.DictReader(row for row in text.splitlines() if not row.startswith("#"))
    return {row.pop("size"): row for row in rows}
