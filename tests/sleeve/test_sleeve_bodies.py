"""Both sleeves on every body of the survey: drafted and proved, or refused by name.

Bodies: ANSUR II, see blockwright/body/ansur2-sample.md.
Columns are mapped, and the armscye estimated, as
blockwright/body/survey.py says.
"""

from __future__ import annotations

import numpy as np
import pytest
from sleeve_samples import BOTH, sheet

from blockwright import InputError, draft, prove
from blockwright.body.survey import body, rows
from parts import parts

ROWS = list(rows())
PARTS = 12
MOST_REFUSED = 0.01


@pytest.mark.parametrize("part", parts(PARTS))
@pytest.mark.parametrize("block", BOTH, ids=lambda block: block.key)
def test_every_body(block, part: int) -> None:
    refused = []
    mine = ROWS[part::PARTS]
    for i, row in enumerate(mine):
        values = body(row)
        try:
            pattern = draft(block, sheet(values))
        except InputError as error:
            refused.append(str(error))
            continue
        proof = prove(pattern)
        assert proof.held, (i * PARTS + part, list(proof.broken))
        _looks_right(pattern)
    for message in refused:
        assert any(name in message for name in body(ROWS[0])), message
    assert len(refused) <= MOST_REFUSED * len(mine), refused


def _looks_right(pattern) -> None:
    """What a cutter would see at a glance, beyond the promises."""
    cap = pattern.edge("cap").curve
    # The cap never overhangs: going round from front to back it always runs backward.
    tangents = cap.tangents_at(np.linspace(0.0, cap.length, 200))
    assert (tangents[:, 0] < 0.0).all()
    # One hollow, one full stretch, one hollow: curvature changes sign twice.
    bends = np.sign(cap.curvatures_at(np.linspace(1.0, cap.length - 1.0, 400)))
    assert int((np.diff(bends) != 0).sum()) == 2
    piece = pattern.piece("sleeve")
    for dart in piece.darts:
        xs = [b for edge in piece.edges for b in (edge.curve.bounds[0], edge.curve.bounds[2])]
        assert min(xs) < dart.apex.x < (min(xs) + max(xs)) / 2.0


def test_the_whole_survey_is_here() -> None:
    assert len(ROWS) == 1518
