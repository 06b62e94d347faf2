"""Trouser blocks: straight trousers for women and men.

The classes are imported when they are drafted.
"""

from __future__ import annotations

from blockwright import BlockEntry, hookimpl

blockwright_api = "4.0"


@hookimpl
def blockwright_blocks() -> list[BlockEntry]:
    """The trousers."""
    return [
        BlockEntry(
            "trousers.straight",
            "Straight trousers to the waist: the seat seam is as long as the body's, ease added.",
            "blockwright_trousers.straight:StraightTrousers",
        ),
    ]
