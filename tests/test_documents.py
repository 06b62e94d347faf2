"""Every Python snippet of the documents runs, in the order a reader meets them."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

ROOT = Path(__file__).parent.parent
SNIPPET = re.compile(r"```python\n(.*?)```", re.DOTALL)


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md"])
def test_snippets_run(name: str, monkeypatch: pytest.MonkeyPatch, capsys) -> None:
    monkeypatch.chdir(ROOT)
    snippets = SNIPPET.findall((ROOT / name).read_text(encoding="utf-8"))
    assert snippets
    reader: dict[str, object] = {"__name__": "reader"}
    for snippet in snippets:
        exec(compile(snippet, name, "exec"), reader)
    assert "promises held" in capsys.readouterr().out
