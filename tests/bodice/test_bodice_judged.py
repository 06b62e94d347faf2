"""Areas and lengths of bodice pieces by an independent judge: OCCT, by way of cadquery."""

from __future__ import annotations

import cadquery as cq
import numpy as np
import pytest
from bodice_samples import BODY, WOMEN, drafted

from blockwright import signed_area
from blockwright.curves.bezier import halves
from blockwright_bodice.easy import EasyBodice
from blockwright_bodice.fitted import FittedBodice

# OCCT measures curves to about this share of their length.
OCCT = 1e-7


def wire(curves) -> cq.Wire:
    """The same curves as OCCT's own, every piece cut into quarters.

    OCCT measures a piece that bends much with few nodes.
    """
    pieces = np.concatenate([curve.control for curve in curves])
    for _ in range(2):
        pieces = np.stack(halves(pieces), axis=1).reshape(-1, 4, 2)
    return cq.Wire.assembleEdges(
        [cq.Edge.makeBezier([cq.Vector(*place) for place in piece]) for piece in pieces]
    )


@pytest.mark.parametrize("values", [BODY, WOMEN[100]], ids=["textbook", "survey"])
@pytest.mark.parametrize(
    ("block", "settings"),
    [(FittedBodice, {}), (FittedBodice, {"bust_dart": "shoulder"}), (EasyBodice, {})],
)
def test_areas_and_lengths(block, settings, values) -> None:
    pattern, _ = drafted(block, values, **settings)
    for piece in pattern.pieces:
        outline = [edge.curve for edge in piece.edges]
        judged = cq.Face.makeFromWires(wire(outline))
        assert judged.isValid()
        assert signed_area(outline) == pytest.approx(judged.Area(), rel=1e-6)
        for edge in piece.edges:
            assert edge.curve.length == pytest.approx(wire([edge.curve]).Length(), rel=OCCT)


def test_a_longer_edge_is_noticed() -> None:
    """A millimetre more on one edge, and the judge no longer agrees."""
    pattern, _ = drafted(FittedBodice, BODY)
    armhole = pattern.edge("front armhole").curve
    assert wire([armhole]).Length() != pytest.approx(armhole.length + 1.0, rel=OCCT)
