"""A whole fitted sleeve, solved and proved, beside the same sleeve scripted on a CAD kernel."""

from __future__ import annotations

import statistics
import time

import pytest
from cadquery_sleeve import Body
from cadquery_sleeve import draft as scripted
from pace import pace
from sleeve_samples import sheet

from blockwright import draft, prove
from blockwright_sleeve.fitted import FittedSleeve

MOST_MS = 8.0
# Three times on an idle machine is the aim, and what the printed medians show there; the limit
# leaves room for one that is busy.
LEAST_TIMES_FASTER = 2.5
ROUNDS, OURS_A_ROUND, THEIRS_A_ROUND = 10, 15, 8

VALUES = {
    "upper_arm_girth": 280.0,
    "wrist_girth": 158.0,
    "outer_arm_length": 585.0,
    "upper_arm_length": 317.5,
    "front_armhole_length": 215.0,
    "back_armhole_length": 226.0,
}
BODY = Body(bicep=330, wrist=208, length=585, elbow=317.5, front=215, back=226, ease=25, dart=25)


def timed(function) -> float:
    begin = time.perf_counter()
    function()
    return (time.perf_counter() - begin) * 1e3


@pytest.mark.bench
def test_fitted_sleeve_beside_a_cad_script() -> None:
    sleeve = sheet(VALUES)

    def ours() -> None:
        assert prove(draft(FittedSleeve, sleeve)).held

    def theirs() -> None:
        scripted(BODY)

    ours()
    theirs()
    mine, other = [], []
    # In turns, so that both meet the machine's good and bad moments; several in a row, as when
    # a size range is drafted.
    for _ in range(ROUNDS):
        mine += [timed(ours) for _ in range(OURS_A_ROUND)]
        other += [timed(theirs) for _ in range(THEIRS_A_ROUND)]
    a, b = statistics.median(mine), statistics.median(other)
    print(f"\nsleeve.fitted, proved: {a:.2f} ms; cadquery script {b:.2f} ms; {b / a:.2f} times")
    assert a <= MOST_MS * pace()
    assert b >= LEAST_TIMES_FASTER * a


@pytest.mark.bench
def test_the_script_draws_the_same_sleeve() -> None:
    """The alternative is honest: same lengths, and an area within half a percent of ours.

    Its cap is an interpolating spline, so the two curves differ by a millimetre or two.
    """
    from blockwright import signed_area

    pattern = draft(FittedSleeve, sheet(VALUES))
    _, found = scripted(BODY)
    piece = pattern.piece("sleeve")
    assert found["cap"] == pytest.approx(pattern.edge("cap").curve.length, abs=1e-3)
    assert found["wrist"] == pytest.approx(pattern.edge("wrist").curve.length, abs=1e-3)
    area = signed_area([edge.curve for edge in piece.edges])
    assert found["area"] == pytest.approx(area, rel=5e-3)
