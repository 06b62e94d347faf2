"""Bodice blocks: fitted with bust and waist darts, and easy without any."""

from __future__ import annotations

from blockwright import Block, hookimpl
from blockwright_bodice.easy import EasyBodice
from blockwright_bodice.fitted import FittedBodice


@hookimpl
def blockwright_blocks() -> list[type[Block]]:
    """The two bodices."""
    return [FittedBodice, EasyBodice]
