"""Every hook a plugin can answer, in one place."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TYPE_CHECKING

import pluggy

if TYPE_CHECKING:
    from blockwright.plugin.block import Block
    from blockwright.plugin.format import Format

PROJECT = "blockwright"
"""Name of the hook project and of the entry-point group."""

hookspec = pluggy.HookspecMarker(PROJECT)
hookimpl = pluggy.HookimplMarker(PROJECT)


@hookspec
def blockwright_blocks() -> Iterable[type[Block]]:  # type: ignore[empty-body]
    """Block classes this plugin offers."""


@hookspec
def blockwright_formats() -> Iterable[Format]:  # type: ignore[empty-body]
    """File formats this plugin offers."""
