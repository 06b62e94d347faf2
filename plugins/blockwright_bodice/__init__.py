"""Bodice blocks: fitted with bust and waist darts, and easy without any.

The classes are imported when they are drafted.
"""

from __future__ import annotations

from blockwright import BlockEntry, hookimpl

blockwright_api = "4.0"


@hookimpl
def blockwright_blocks() -> list[BlockEntry]:
    """The two bodices."""
    return [
        BlockEntry(
            "bodice.fitted",
            "Women's front and back to the waist, with bust, waist and back shoulder darts.",
            "blockwright_bodice.fitted:FittedBodice",
        ),
        BlockEntry(
            "bodice.easy",
            "Front and back to the waist without bust or waist darts, for men, knits and "
            "loose styles.",
            "blockwright_bodice.easy:EasyBodice",
        ),
    ]
