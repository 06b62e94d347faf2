"""Documents that the tests of the formats write: both sleeves over a spread of bodies."""

from __future__ import annotations

from dataclasses import replace

from blockwright import BodySheet, Curve, Document, Pattern, Unit, draft, prove
from blockwright_sleeve.fitted import FittedSleeve
from blockwright_sleeve.straight import StraightSleeve

BLOCKS = {"sleeve.fitted": FittedSleeve, "sleeve.straight": StraightSleeve}

# Invented, millimetres: upper arm, wrist, outer arm, upper arm length, front and back armhole.
_SPREAD = {
    "small child": (150, 110, 300, 165, 110, 116),
    "child": (190, 130, 430, 240, 150, 156),
    "slight": (230, 140, 540, 300, 190, 196),
    "middling": (290, 160, 585, 330, 220, 230),
    "short arms": (330, 165, 500, 280, 240, 250),
    "long arms": (300, 180, 720, 400, 235, 245),
    "strong": (380, 190, 640, 355, 270, 280),
    "full": (450, 190, 590, 330, 290, 300),
    "fullest": (560, 230, 610, 340, 350, 365),
}
_NAMES = (
    "upper_arm_girth",
    "wrist_girth",
    "outer_arm_length",
    "upper_arm_length",
    "front_armhole_length",
    "back_armhole_length",
)
BODIES = {name: dict(zip(_NAMES, map(float, row), strict=True)) for name, row in _SPREAD.items()}


def estimated(body: str) -> dict[str, float]:
    """The same body with its armhole and elbow left to be estimated."""
    values = dict(BODIES[body])
    around = values.pop("front_armhole_length") + values.pop("back_armhole_length")
    del values["upper_arm_length"]
    return values | {"armscye_girth": around - 20.0}


def document(
    block: str = "sleeve.fitted",
    values: dict[str, float] | None = None,
    name: str = "Test body",
    unit: Unit = Unit.CM,
) -> Document:
    """A proved draft."""
    sheet = BodySheet(name, unit, values or BODIES["middling"])
    pattern = draft(BLOCKS[block], sheet)
    return Document(pattern, prove(pattern), unit)


def bent(whole: Document) -> Document:
    """The same draft with its cap lifted a millimetre off its ends: its proof is broken."""
    piece = whole.pattern.piece("sleeve")
    cap = piece.edge("cap")
    control = cap.curve.control.copy()
    control[:, :, 1] += 1.0
    edges = tuple(replace(e, curve=Curve(control)) if e is cap else e for e in piece.edges)
    pattern = whole.pattern.with_piece(replace(piece, edges=edges))
    return replace(whole, pattern=pattern, proof=prove(pattern))


def two_pieces(whole: Document) -> Document:
    """The draft with its sleeve twice, the second one renamed throughout."""
    first = whole.pattern.piece("sleeve")
    edges = tuple(replace(edge, name=f"{edge.name} 2") for edge in first.edges)
    darts = tuple(replace(dart, mouth=f"{dart.mouth} 2") for dart in first.darts)
    notches = tuple(replace(notch, edge=f"{notch.edge} 2") for notch in first.notches)
    second = replace(first, name="sleeve: 2", edges=edges, darts=darts, notches=notches)
    pattern: Pattern = replace(whole.pattern, pieces=(first, second))
    return replace(whole, pattern=pattern)
