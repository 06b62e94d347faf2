"""Distributions made on the spot: a module, and a .dist-info folder that points at it."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest

HOOKS = "from blockwright import Block, Format, hookimpl\n"
HALF = '''
class Half(Block):
    """A test block."""
    key = "test.half"
    title = "Half"
    def draft(self, d):
        pass
'''


class Shelf:
    """A folder of distributions on the path Python imports from."""

    def __init__(self, folder: Path, monkeypatch: pytest.MonkeyPatch) -> None:
        self.folder = folder
        self.monkeypatch = monkeypatch
        monkeypatch.syspath_prepend(str(folder))

    def put(
        self,
        name: str,
        source: str,
        *,
        plugin: str | None = None,
        version: str = "1.0",
        points: str | None = None,
    ) -> None:
        """A distribution with one module of its name and one entry point (or `points`)."""
        module = name.replace("-", "_")
        (self.folder / f"{module}.py").write_text(source, encoding="utf-8")
        info = self.folder / f"{module}-{version}.dist-info"
        info.mkdir()
        (info / "METADATA").write_text(
            f"Metadata-Version: 2.1\nName: {name}\nVersion: {version}\n", encoding="utf-8"
        )
        lines = points or f"{plugin or name} = {module}"
        (info / "entry_points.txt").write_text(f"[blockwright]\n{lines}\n", encoding="utf-8")
        # What another test imported under this name is not this module.
        self.monkeypatch.delitem(sys.modules, module, raising=False)


def block(key: str, title: str = "Half", draft: str = "pass") -> str:
    """The source of a module that offers one block."""
    return (
        HOOKS
        + HALF.replace("test.half", key).replace('"Half"', repr(title)).replace("pass", draft)
        + "@hookimpl\ndef blockwright_blocks():\n    return [Half]\n"
    )
