"""Drafts to finish: every bundled block, for people of the workroom and bodies of the survey."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import numpy as np
import shapely

from blockwright import BodySheet, Curve, Pattern, Unit, draft, load, load_sheet
from blockwright.body.survey import measured, rows
from blockwright.pattern.finishing.cut_marks import CutNotch
from blockwright.pattern.finishing.finish import FinishedPiece

WORKROOM = Path(__file__).parents[2] / "examples" / "workroom"
SETS = {
    "female": (
        "bodice.fitted+sleeve.fitted",
        "skirt.straight",
        "skirt.flared",
        "skirt.circle",
        "skirt.gored",
        "trousers.straight",
    ),
    "male": ("bodice.easy+sleeve.straight", "trousers.straight"),
}
EVERY = tuple(dict.fromkeys(keys for sets in SETS.values() for keys in sets))


@cache
def host():
    return load()


@cache
def drafted(keys: str, person: str) -> Pattern:
    sheet = load_sheet(WORKROOM / f"{person}.toml")
    return draft([host().block(key) for key in keys.split("+")], sheet)


def of_row(number: int, keys: str) -> Pattern:
    sheet = BodySheet.from_values(measured(rows()[number]), units=Unit.MM)
    return draft([host().block(key) for key in keys.split("+")], sheet)


def polygon(curves, accuracy: float = 0.02) -> shapely.Polygon:
    return shapely.Polygon(np.concatenate([c.flatten(accuracy=accuracy)[:-1] for c in curves]))


def sampled(curve: Curve, count: int) -> np.ndarray:
    return curve.points_at(np.linspace(0.0, curve.length, count))


def own(finished: FinishedPiece) -> list[CutNotch]:
    """The notches that the block put there, not those that every finished piece has."""
    names = {notch.name for notch in finished.piece.notches}
    return [notch for notch in finished.notches if notch.name in names]
