"""Skirt blocks: straight with darts, flared, circle and gored."""

from __future__ import annotations

from blockwright import Block, hookimpl
from blockwright_skirt.circle import CircleSkirt
from blockwright_skirt.flared import FlaredSkirt
from blockwright_skirt.gored import GoredSkirt
from blockwright_skirt.straight import StraightSkirt

__all__ = ["CircleSkirt", "FlaredSkirt", "GoredSkirt", "StraightSkirt"]


@hookimpl
def blockwright_blocks() -> list[type[Block]]:
    """The four skirts."""
    return [StraightSkirt, FlaredSkirt, CircleSkirt, GoredSkirt]
