"""A shirt cuff for Blockwright: a block that others ship, in a package of its own."""

from __future__ import annotations

from blockwright import BlockEntry, hookimpl

blockwright_api = "4.0"


@hookimpl
def blockwright_blocks() -> list[BlockEntry]:
    """The cuff, imported when it is drafted."""
    return [
        BlockEntry(
            "cuff.shirt",
            "Buttoned shirt cuff, folded at the wrist or seamed there to a facing.",
            "shirt_cuff.block:ShirtCuff",
        )
    ]
