"""Functions imported when they are first called."""

from __future__ import annotations

from collections.abc import Callable
from importlib import import_module
from typing import Any


def lazy(at: str) -> Callable[..., Any]:
    """The function at 'package.module:function', imported when it is called.

    For the functions of a Format or a BodySource, so that a plugin can tell what it offers
    without loading what that takes.  ImportError or AttributeError when it is called, if there is
    none.

    Example:
        >>> from blockwright import lazy
        >>> root = lazy("math:sqrt")
        >>> root(9.0)
        3.0
    """
    module, _, name = at.partition(":")

    def call(*arguments: Any) -> Any:
        return getattr(import_module(module), name)(*arguments)

    return call
