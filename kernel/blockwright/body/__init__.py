"""Measurement names, lengths and body sheets; knows no block and no curve."""

from blockwright.body.lengths import Unit, format_length, parse_length
from blockwright.body.measurements import Measurement, contradictions, lookup, measurements
from blockwright.body.sheet import BodySheet, load_sheet, parse_sheet

__all__ = [
    "BodySheet",
    "Measurement",
    "Unit",
    "contradictions",
    "format_length",
    "load_sheet",
    "lookup",
    "measurements",
    "parse_length",
    "parse_sheet",
]
