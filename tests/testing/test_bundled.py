"""Every bundled block passes every check of the conformance kit, by a stranger's own door.

The slow checks look at some of their dozen bodies here, of some blocks.  All twelve have their turn
in the benchmark of the kit, and with `pytest -m whole` for the sleeves that are set in.
"""

from __future__ import annotations

import pytest

from blockwright import load
from blockwright.testing import CHECKS, conformance, steadiness_check
from blockwright.testing.bodies import FEW, few
from blockwright.testing.trial import Trial
from parts import thinned

HOST = load(only=["blockwright"])
BLOCKS = {key: HOST.block(key) for key in HOST.blocks}
SET_IN = (
    (BLOCKS["bodice.fitted"], BLOCKS["sleeve.fitted"]),
    (BLOCKS["bodice.easy"], BLOCKS["sleeve.straight"]),
)
SLOW = (
    "repeatable",
    "stateless",
    "same-in-any-unit",
    "changes-steadily",
    "can-be-finished",
)
QUICK = [name for name in CHECKS if name not in SLOW]

test_block = conformance(*BLOCKS.values(), checks=QUICK)
# Set into a bodice, a sleeve takes armhole and notches from there.
test_fitted_sleeve_set_in = conformance(SET_IN[0][1], beside=[SET_IN[0][0]], checks=QUICK)
test_straight_sleeve_set_in = conformance(SET_IN[1][1], beside=[SET_IN[1][0]], checks=QUICK)
test_fitted_sleeve_set_in_slowly = pytest.mark.whole(
    conformance(SET_IN[0][1], beside=[SET_IN[0][0]], checks=SLOW)
)
test_straight_sleeve_set_in_slowly = pytest.mark.whole(
    conformance(SET_IN[1][1], beside=[SET_IN[1][0]], checks=SLOW)
)


@pytest.mark.parametrize("name", SLOW)
@pytest.mark.parametrize(
    "blocks",
    thinned([*(((block,),) for block in BLOCKS.values()), *((each,) for each in SET_IN)], keep=3),
    ids=lambda blocks: "+".join(block.key for block in blocks),
)
def test_slow_check(blocks, name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """On a middling body, an extreme one and a made-up one; jumps are searched for on the first."""
    monkeypatch.setattr(steadiness_check, "SEARCHED", 1)
    some = few(blocks)[::5]
    assert [body.real for body in some] == [True, True, False]
    assert CHECKS[name].complaints([Trial(blocks, body) for body in some]) == []


def test_none_is_left_out_and_none_excused() -> None:
    families = {key.partition(".")[0] for key in BLOCKS}
    assert families == {"bodice", "skirt", "sleeve", "trousers"}
    assert not [key for key, block in BLOCKS.items() if block.traits.known_failures]
    assert {CHECKS[name].on for name in SLOW} == {"few"}
    assert FEW == 12
