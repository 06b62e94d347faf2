"""Trouser blocks: straight trousers for women and men."""

from __future__ import annotations

from blockwright import Block, hookimpl
from blockwright_trousers.straight import StraightTrousers


@hookimpl
def blockwright_blocks() -> list[type[Block]]:
    """The trousers."""
    return [StraightTrousers]
