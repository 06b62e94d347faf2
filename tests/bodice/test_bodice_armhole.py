"""An armhole is longer than the arm's root, and not so much that it is no armhole."""

from __future__ import annotations

import pytest
from bending import with_edge
from bodice_samples import BODY, drafted

from blockwright import Pattern, Point, line, prove
from blockwright_bodice.easy import EasyBodice
from blockwright_bodice.fitted import FittedBodice

NAME = "armhole round the upper arm"
# Half a metre over the arm: common practice, no source; a cape has no armhole.
ROOMIEST = 500.0


def with_armhole(pattern: Pattern, long: float) -> Pattern:
    """Both armholes made straight lines of that length together; the outline is left open."""
    for name in ("front armhole", "back armhole"):
        start = pattern.edge(name).curve.start
        pattern = with_edge(pattern, name, line(start, start + Point(0.0, long / 2.0)))
    return pattern


def held(pattern: Pattern) -> bool:
    (result,) = (each for each in prove(pattern).results if each.subject.name == NAME)
    return result.held


@pytest.mark.parametrize("block", [FittedBodice, EasyBodice])
def test_an_armhole_is_as_long_as_the_arm_to_half_a_metre_more(block) -> None:
    pattern, proof = drafted(block, BODY)
    assert proof.held
    arm = BODY["upper_arm_girth"]
    for more, holds in (
        (-1.0, False),
        (1.0, True),
        (ROOMIEST - 1.0, True),
        (ROOMIEST + 1.0, False),
    ):
        assert held(with_armhole(pattern, arm + more)) is holds, more
