"""What the tests of the command line share."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from cli_samples import Workroom

sys.path.insert(0, str(Path(__file__).parent.parent / "plugin"))


@pytest.fixture
def workroom(tmp_path, monkeypatch, capsys) -> Workroom:
    folder = tmp_path / "workroom"
    folder.mkdir()
    monkeypatch.chdir(folder)
    return Workroom(folder, capsys)


@pytest.fixture
def shelf(tmp_path, monkeypatch):
    from stub_distributions import Shelf

    folder = tmp_path / "shelf"
    folder.mkdir()
    return Shelf(folder, monkeypatch)
