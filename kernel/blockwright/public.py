"""Public names of a package, each loaded from its home when it is first asked for."""

from __future__ import annotations

import sys
from collections.abc import Callable, Mapping
from importlib import import_module
from typing import Any


def public(
    package: str, homes: Mapping[str, tuple[str, ...]]
) -> tuple[list[str], Callable[[str], Any]]:
    """The names of a package, sorted, and its `__getattr__`; `homes`: module to names in it."""
    home = {name: module for module, names in homes.items() for name in names}

    def load(name: str) -> Any:
        """Load a public name from its home, once."""
        if name not in home:
            raise AttributeError(f"module {package!r} has no public name {name!r}")
        value = getattr(import_module(f"{package}.{home[name]}"), name)
        setattr(sys.modules[package], name, value)
        return value

    return sorted(home), load
