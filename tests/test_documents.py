"""Every snippet of the documents runs, in the order a reader meets them."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import tomllib
from pathlib import Path
from types import ModuleType

import pytest

from blockwright import load
from blockwright.plugin.api import PROJECT
from blockwright.testing import check_block, run
from blockwright.testing.bodies import few

ROOT = Path(__file__).parent.parent
FENCE = re.compile(r"^```(\w*)\n(.*?)^```$", re.DOTALL | re.MULTILINE)
LINK = re.compile(r"\]\(([^)#:]+)\)")
COLLAR = "class TurnedCollar"


def fences(name: str) -> list[tuple[str, str]]:
    """Language and text of every snippet."""
    found = FENCE.findall((ROOT / name).read_text(encoding="utf-8"))
    assert found
    return found


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md"])
def test_python_runs(name: str, monkeypatch: pytest.MonkeyPatch, capsys) -> None:
    monkeypatch.chdir(ROOT)
    page = ModuleType("reader")  # a module, as a reader's file is: a dataclass looks for its own
    monkeypatch.setitem(sys.modules, page.__name__, page)
    for language, snippet in fences(name):
        if language == "python":
            exec(compile(snippet, name, "exec", dont_inherit=True), vars(page))
    assert "promises held" in capsys.readouterr().out


def test_the_first_block_is_tried_and_checked_as_the_page_says(tmp_path: Path) -> None:
    """Its file and its commands, in a folder of the reader's own."""
    snippets = fences("DEVELOPERS.md")
    (collar,) = [text for language, text in snippets if language == "python" and COLLAR in text]
    (tmp_path / "collar.py").write_text(collar, encoding="utf-8")
    commands = [
        line for language, text in snippets if language == "sh" for line in text.split("\n")
    ]
    commands = [command for command in commands if command]
    assert len(commands) == 3
    here = f"{Path(sys.executable).parent}{os.pathsep}{os.environ['PATH']}"
    for command in commands:
        done = subprocess.run(
            command, shell=True, cwd=tmp_path, capture_output=True, text=True, check=False,
            env={**os.environ, "PATH": here},
        )  # fmt: skip
        assert (done.returncode, done.stderr) == (0, ""), done.stdout
    assert len(list(tmp_path.glob("*.svg"))) == 2


@pytest.mark.parametrize("beside", [None, "skirt.straight", "skirt.flared", "trousers.straight"])
def test_the_waistband_is_proved_alone_and_sewn_on(
    beside: str | None, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On a dozen bodies; by the slow checks on three."""
    monkeypatch.setattr(run, "few", lambda blocks: few(blocks)[:3])
    (snippet,) = [text for _, text in fences("DEVELOPERS.md") if "class Waistband" in text]
    reader: dict[str, object] = {"__name__": "reader"}
    exec(compile(snippet, "DEVELOPERS.md", "exec"), reader)
    others = [load(only=[PROJECT]).block(beside)] if beside else []
    checks = None if beside in (None, "skirt.straight") else ["drafts", "proof-holds"]
    report = check_block(reader["Waistband"], beside=others, bodies=12, checks=checks)
    assert report.passed, report.text()


def test_settings_name_our_entry_points() -> None:
    tables = [
        tomllib.loads(text) for language, text in fences("DEVELOPERS.md") if language == "toml"
    ]
    assert [list(table["project"]["entry-points"]) for table in tables] == [[PROJECT]]


@pytest.mark.parametrize("name", ["README.md", "DEVELOPERS.md"])
def test_links_lead_somewhere(name: str) -> None:
    links = LINK.findall((ROOT / name).read_text(encoding="utf-8"))
    assert links
    assert [link for link in links if not (ROOT / link).exists()] == []
