"""Trousers on every body of the survey: drafted and proved, or refused by name.

Bodies: ANSUR II, see blockwright/body/ansur2-sample.md.
Columns are mapped as blockwright/body/survey.py says; the waist
is at navel level and the rise is standing, some 3 cm shorter than to the seat of a chair.
"""

from __future__ import annotations

import math

import numpy as np
import pytest
from shapely import LineString, Point, Polygon
from trousers_samples import sheet

from blockwright import Curve, InputError, Pattern, draft, prove, signed_area
from blockwright.body.survey import body, rows
from blockwright_trousers.straight import StraightTrousers
from parts import sampled

ROWS = list(rows())
PARTS = 5
EVERY_TIME = 15
MOST_REFUSED = 0.01
# Flattened to this, mm, an outline of some three metres differs in area by less than that times it.
FLAT = 0.02


@pytest.mark.parametrize("some", sampled(EVERY_TIME, PARTS))
def test_every_body(some: slice) -> None:
    refused = []
    mine = ROWS[some]
    for i, row in enumerate(mine):
        values = body(row)
        try:
            pattern = draft(StraightTrousers, sheet(values))
        except InputError as error:
            refused.append(str(error))
            continue
        proof = prove(pattern)
        assert proof.held, (i * some.step + some.start, list(proof.broken))
        _looks_right(pattern)
    for message in refused:
        assert any(name in message for name in body(ROWS[0])), message
    assert len(refused) <= MOST_REFUSED * len(mine), refused


def _looks_right(pattern: Pattern) -> None:
    """What a cutter would see at a glance, and what another library says, beyond the promises."""
    for piece in pattern.pieces:
        curves = [edge.curve for edge in piece.edges]
        outline = Polygon(_flat(curves))
        assert outline.is_valid
        # A mouth is a roof over the waist, so the area is that of the outline as cut.
        assert outline.area == pytest.approx(signed_area(curves), abs=FLAT * outline.length)
        for dart in piece.darts:
            assert outline.contains(Point(dart.apex.x, dart.apex.y))
            for leg in piece.dart_legs(dart):
                line = LineString([tuple(dart.apex), tuple(leg)])
                # But for rounding at its end, a leg lies inside.
                assert outline.buffer(0.05).contains(line)
        # The crease halves the leg at the knee and runs all the way up inside the piece.
        low, high = piece.grain
        assert outline.contains(LineString([tuple(low), tuple(high)]))
    front, back = pattern.piece("front"), pattern.piece("back")
    tip, back_tip = front.edge("front crotch").curve.start, back.edge("back crotch").curve.end
    centre = next(mark for mark in pattern.marks if mark.name == "front seat")
    seat = next(mark for mark in pattern.marks if mark.name == "back seat")
    # The fork stands out from the centre seam, the back one further and lower.
    assert tip.x - centre.x > 40.0
    assert seat.x - back_tip.x > tip.x - centre.x
    assert back_tip.y < tip.y
    # Neither tip is a spike, nor blunt.
    for first, second in (
        (front.edge("front inside leg").curve, front.edge("front crotch").curve),
        (back.edge("back crotch").curve, back.edge("back inside leg").curve),
    ):
        a, b = first.end_tangent, second.start_tangent
        corner = 180.0 - math.degrees(math.atan2(a.cross(b), a.dot(b)))
        assert 70.0 < corner < 110.0


def _flat(curves: list[Curve]) -> np.ndarray:
    return np.concatenate([curve.flatten(accuracy=FLAT)[:-1] for curve in curves])


def test_the_whole_survey_is_here() -> None:
    assert sum(row["sex"] == "female" for row in ROWS) == 497
    assert sum(row["sex"] == "male" for row in ROWS) == 1021
