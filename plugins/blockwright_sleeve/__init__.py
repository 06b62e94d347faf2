"""Sleeve blocks: fitted with an elbow dart, and straight or tapered without one.

The classes are imported when they are drafted.
"""

from __future__ import annotations

from blockwright import BlockEntry, hookimpl

blockwright_api = "4.0"


@hookimpl
def blockwright_blocks() -> list[BlockEntry]:
    """The two sleeves."""
    return [
        BlockEntry(
            "sleeve.fitted",
            "One-piece sleeve with an elbow dart at the back, bent forward and shaped to the "
            "wrist.",
            "blockwright_sleeve.fitted:FittedSleeve",
        ),
        BlockEntry(
            "sleeve.straight",
            "One-piece sleeve without a dart, straight from the bicep line or tapered to the hem.",
            "blockwright_sleeve.straight:StraightSleeve",
        ),
    ]
