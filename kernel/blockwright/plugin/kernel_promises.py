"""The kernel's own kinds of promise, offered as a plugin offers its kinds."""

from __future__ import annotations

from blockwright.pattern.promises.kinds import KINDS
from blockwright.plugin.api import API_VERSION, hookimpl
from blockwright.plugin.entries import PromiseKind

blockwright_api = API_VERSION


@hookimpl
def blockwright_promises() -> list[PromiseKind]:
    """Seams, twins, corners, girths, shapes, lines through marks and levels."""
    return [PromiseKind(name, at) for name, at in KINDS.items()]
