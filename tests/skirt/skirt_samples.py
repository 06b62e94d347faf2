"""Bodies, published settings and drafts that the skirt tests share."""

from __future__ import annotations

import numpy as np
from shapely.geometry import Polygon

from blockwright import BodySheet, Pattern, Piece, Proof, Unit, draft, prove
from blockwright_skirt.circle import CircleSkirt
from blockwright_skirt.flared import FlaredSkirt
from blockwright_skirt.gored import GoredSkirt
from blockwright_skirt.straight import StraightSkirt

ALL = (StraightSkirt, FlaredSkirt, CircleSkirt, GoredSkirt)
DARTED = (StraightSkirt, FlaredSkirt)
PANELLED = (CircleSkirt, GoredSkirt)

# The body that the published drafts are worked for here, mm.  The hip line of the second lies
# 20.6 cm down in the size table it belongs to (from memory); the first does not say.
BODY = {"waist_girth": 680.0, "hip_girth": 940.0, "waist_to_hip": 206.0}

# A home economics handout, wikieducator.org/Handout_for_drafting_skirt_block, cm.
HANDOUT = {
    "hip_ease": "5 cm",
    "waist_ease": "2.4 cm",
    "hip_shift": "0.75 cm",
    "waist_shift": "0.6 cm",
    "side_rise": "1 cm",
    "back_darts": "1",
    "front_darts": "1",
    "back_dart": "2 cm",
    "front_dart": "2 cm",
    "back_dart_length": "12 cm",
    "front_dart_length": "10 cm",
}
# A lesson at project-patterns.co.uk, 2018/11/22; dart widths and lengths, front waist and waist
# ease from memory of the book it follows, cm.
LESSON = {
    "hip_ease": "3 cm",
    "waist_ease": "1 cm",
    "hip_shift": "0.75 cm",
    "waist_shift": "0 cm",
    "side_rise": "1.25 cm",
    "back_darts": "2",
    "front_darts": "1",
    "back_dart": "2 cm",
    "front_dart": "2 cm",
    "back_dart_length": "14 cm",
    "outer_dart": "0.892857",
    "front_dart_length": "10 cm",
}


def sheet(values: dict[str, float], unit: Unit = Unit.CM, name: str = "Test body") -> BodySheet:
    """A sheet of values in mm, printed in `unit`."""
    return BodySheet(name=name, units=unit, values=values)


def drafted(block, values: dict[str, float], **settings) -> tuple[Pattern, Proof]:
    """The pattern and its proof."""
    pattern = draft(block, sheet(values), settings)
    return pattern, prove(pattern)


def polygon(piece: Piece) -> Polygon:
    """The outline as straight lines, for a judge that knows nothing of our curves."""
    return Polygon(np.concatenate([edge.curve.flatten()[:-1] for edge in piece.edges]))


def waist_of(piece: Piece) -> list:
    """The stretches of waist in outline order."""
    return [edge for edge in piece.edges if edge.role == "waist"]
