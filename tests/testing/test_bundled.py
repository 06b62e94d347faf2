"""Every bundled block passes every check of the conformance kit, by a stranger's own door."""

from __future__ import annotations

from blockwright import load
from blockwright.testing import conformance

HOST = load(only=["blockwright"])
BLOCKS = {key: HOST.block(key) for key in HOST.blocks}

test_block = conformance(*BLOCKS.values())
# Set into a bodice, a sleeve takes armhole and notches from there.
test_fitted_sleeve_set_in = conformance(BLOCKS["sleeve.fitted"], beside=[BLOCKS["bodice.fitted"]])
test_straight_sleeve_set_in = conformance(BLOCKS["sleeve.straight"], beside=[BLOCKS["bodice.easy"]])


def test_none_is_left_out_and_none_excused() -> None:
    families = {key.partition(".")[0] for key in BLOCKS}
    assert families == {"bodice", "skirt", "sleeve", "trousers"}
    assert not [key for key, block in BLOCKS.items() if block.traits.known_failures]
