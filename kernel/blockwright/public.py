"""Public names of a package, each loaded from its home when it is first asked for."""

from __future__ import annotations

import sys
from collections.abc import Callable
from importlib import import_module
from pathlib import Path
from typing import Any


def public(package: str, file: str) -> tuple[list[str], Callable[[str], Any]]:
    """The names of a package, sorted, and its `__getattr__`.

    They stand in the stub beside its `file`, a line each: `from HOME import NAME as NAME`.
    """
    lines = Path(file).with_suffix(".pyi").read_text(encoding="utf-8").splitlines()
    words = (line.split() for line in lines if line.startswith("from "))
    home = {name: module for _, module, _, name, *_ in words}

    def load(name: str) -> Any:
        """Load a public name from its home, once."""
        if name not in home:
            raise AttributeError(f"module {package!r} has no public name {name!r}")
        value = getattr(import_module(home[name]), name)
        setattr(sys.modules[package], name, value)
        return value

    return sorted(home), load
