"""Bodies, drafts and measuring that the bodice tests share."""

from __future__ import annotations

import math

import numpy as np
from shapely.geometry import LineString, Polygon

from blockwright import (
    BodySheet,
    Curve,
    Dart,
    Mark,
    Pattern,
    Piece,
    Proof,
    Unit,
    distance,
    draft,
    prove,
)
from blockwright.body.survey import measured, rows

INCH = 25.4

# The body a Japanese textbook block is drafted for: bust 83, waist 64, back length 38
# (yuzuandpear.com).  Back and front width are an eighth of bust and 7.4 or 6.2 cm, and the
# shoulder is as long as the block draws it: (B/8 + 6.2 + 1.8 - B/24 - 3.4) / cos 22, 12.42 cm
# (from memory).  Arm: the row of bust 33 in of a table of misses' sizes (from memory).  Neck base:
# the girth whose fifth less 2 mm is that block's back neck width, B/24 + 3.6.
BODY = {
    "bust_girth": 830.0,
    "chest_girth": 830.0,
    "waist_girth": 640.0,
    "back_neck_point_to_waist": 380.0,
    "upper_arm_girth": 260.0,
    "shoulder_length": 124.2,
    "across_back_width": 355.5,
    "across_front_width": 331.5,
    "neck_base_girth": 363.0,
}
# For the sleeve; invented.
ARM = {"wrist_girth": 150.0, "outer_arm_length": 560.0, "upper_arm_length": 315.0}

WOMEN = [measured(row) for row in rows() if row["sex"] == "female"]
MEN = [measured(row) for row in rows() if row["sex"] == "male"]


def sheet(values: dict[str, float], unit: Unit = Unit.CM) -> BodySheet:
    """A sheet of values in mm, printed in `unit`."""
    return BodySheet(name="Test body", units=unit, values=values)


def drafted(block, values: dict[str, float], **settings) -> tuple[Pattern, Proof]:
    """The pattern and its proof."""
    pattern = draft(block, sheet(values), settings)
    return pattern, prove(pattern)


def without(*names: str, **changes: float) -> dict[str, float]:
    """The body without some measurements, and others changed."""
    return {name: value for name, value in BODY.items() if name not in names} | changes


def curve(pattern: Pattern, name: str) -> Curve:
    """The curve of an edge."""
    return pattern.edge(name).curve


def dart(pattern: Pattern, name: str) -> tuple[Piece, Dart]:
    """A dart and the piece that has it."""
    return next((p, d) for p in pattern.pieces for d in p.darts if d.name == name)


def opening(pattern: Pattern, name: str) -> float:
    """Angle of a dart at its point, degrees."""
    piece, found = dart(pattern, name)
    a, b = (leg - found.apex for leg in piece.dart_legs(found))
    return math.degrees(abs(math.atan2(a.cross(b), a.dot(b))))


def intake(pattern: Pattern, name: str) -> float:
    """Width of a dart at its mouth, mm."""
    piece, found = dart(pattern, name)
    return distance(*piece.dart_legs(found))


def mark(pattern: Pattern, name: str) -> Mark:
    """The mark of that name."""
    return next(mark for mark in pattern.marks if mark.name == name)


def polygon(piece: Piece) -> Polygon:
    """The outline as straight lines, for a judge that knows nothing of our curves."""
    return Polygon(np.concatenate([edge.curve.flatten()[:-1] for edge in piece.edges]))


def width_at(piece: Piece, height: float) -> float:
    """Level width of a piece at a height, as that judge finds it."""
    return LineString([(-2000.0, height), (2000.0, height)]).intersection(polygon(piece)).length
