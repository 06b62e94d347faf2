"""Sleeve blocks: fitted with an elbow dart, and straight or tapered without one."""

from __future__ import annotations

from blockwright import Block, hookimpl
from blockwright_sleeve.fitted import FittedSleeve
from blockwright_sleeve.straight import StraightSleeve


@hookimpl
def blockwright_blocks() -> list[type[Block]]:
    """The two sleeves."""
    return [FittedSleeve, StraightSleeve]
