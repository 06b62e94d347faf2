"""How a notebook shows a piece or a pattern."""

from __future__ import annotations

from importlib import import_module

DRAWER = "blockwright.pattern.sketch"
"""The module that draws the picture.  It imports pieces, so it is loaded only for a picture."""


class Shown:
    """A value that a notebook shows as its sketch."""

    __slots__ = ()

    def _repr_svg_(self) -> str | None:
        """The picture as SVG."""
        svg: str = import_module(DRAWER).sketch(self).svg
        return svg
