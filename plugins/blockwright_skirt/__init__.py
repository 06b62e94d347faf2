"""Skirt blocks: straight with darts, flared, circle and gored.

The classes are imported when they are drafted.
"""

from __future__ import annotations

from blockwright import BlockEntry, hookimpl

blockwright_api = "4.0"


@hookimpl
def blockwright_blocks() -> list[BlockEntry]:
    """The four skirts."""
    return [
        BlockEntry(
            "skirt.straight",
            "Straight skirt: one or two darts a quarter, side seams straight down from the hip.",
            "blockwright_skirt.straight:StraightSkirt",
        ),
        BlockEntry(
            "skirt.flared",
            "Flared skirt: waist darts closed into the hem, side seams flared to go with it.",
            "blockwright_skirt.flared:FlaredSkirt",
        ),
        BlockEntry(
            "skirt.circle",
            "Circle skirt: any part of a circle up to two, cut in equal panels.",
            "blockwright_skirt.circle:CircleSkirt",
        ),
        BlockEntry(
            "skirt.gored",
            "Gored skirt: four to twelve equal panels, shaped by their seams, flared to the hem.",
            "blockwright_skirt.gored:GoredSkirt",
        ),
    ]
