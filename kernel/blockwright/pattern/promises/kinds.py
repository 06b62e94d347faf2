"""The kernel's own kinds of promise: the place of each class, by the name of its kind."""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from blockwright.pattern.pattern import Promise

HERE = "blockwright.pattern.promises"
KINDS: Mapping[str, str] = {
    "seam": f"{HERE}.seam:Seam",
    "twin": f"{HERE}.twin:Twin",
    "corner": f"{HERE}.corner:CornerAngle",
    "girth": f"{HERE}.girth:Girth",
    "length": f"{HERE}.girth:FinishedLength",
    "shape": f"{HERE}.shape:EdgeShape",
    "through": f"{HERE}.through:Through",
    "level": f"{HERE}.level:Level",
    "unsewn": f"{HERE}.unsewn:Unsewn",
}


def kernel_kind(name: str) -> type[Promise] | None:
    """The class of one of the kernel's own kinds.  None for any other kind."""
    if name not in KINDS:
        return None
    module, _, member = KINDS[name].partition(":")
    found: type[Promise] = getattr(import_module(module), member)
    return found
