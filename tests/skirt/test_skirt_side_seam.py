"""How far the side seams of a darted skirt lean in from hip to waist."""

from __future__ import annotations

import pytest
from skirt_samples import BODY, drafted

from blockwright import distance
from blockwright_skirt.straight import StraightSkirt

# A lesson at project-patterns.co.uk, 2018/11/22, takes 4 cm in at each side over a hip depth of
# 20 cm, and 8 of the 14 cm of half a skirt at its sides (widths of the darts from memory of the
# book it follows).
STEEPEST, SIDES = 4.0 / 20.0, 1.0 / 2.0
# The waist is a curve, so its ends come that much nearer than its length is taken in, mm.
CURVED = 3.0


def taken(values: dict[str, float]) -> tuple[list[float], float]:
    """What the side seam of back and front moves in, and what half a skirt takes in, mm."""
    pattern, proof = drafted(StraightSkirt, values)
    assert proof.held
    hip, sides, darts = -values["waist_to_hip"], [], 0.0
    for name in ("back", "front"):
        piece = pattern.piece(name)
        seam = piece.edge(f"{name} side").curve
        points = seam.points_at([seam.length * i / 4000.0 for i in range(4001)])
        at_hip = points[abs(points[:, 1] - hip).argmin()]
        at_waist = points[points[:, 1].argmax()]
        sides.append(abs(at_hip[0] - at_waist[0]))
        darts += sum(distance(*piece.dart_legs(dart)) for dart in piece.darts)
    return sides, sum(sides) + darts


@pytest.mark.parametrize(("depth", "hip"), [(180.0, 990.0), (206.0, 1040.0), (230.0, 1070.0)])
def test_side_seams_lean_no_more_than_the_published_draft(depth: float, hip: float) -> None:
    """On a body with much to take in, where half of it would lean more: the darts take the rest."""
    sides, whole = taken(BODY | {"hip_girth": hip, "waist_to_hip": depth})
    most = 2.0 * STEEPEST * depth
    assert SIDES * whole > most + 10.0
    assert most <= sum(sides) < most + CURVED


def test_side_seams_take_half_where_that_leans_less() -> None:
    sides, whole = taken(BODY)
    assert sum(sides) < 2.0 * STEEPEST * BODY["waist_to_hip"] - 5.0
    assert sum(sides) == pytest.approx(SIDES * whole, abs=CURVED)
