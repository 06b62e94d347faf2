"""What the tests of plugins share."""

from __future__ import annotations

import sys
from pathlib import Path

import pytest
from stub_distributions import Shelf

sys.path.insert(0, str(Path(__file__).parent.parent / "cli"))


@pytest.fixture
def shelf(tmp_path, monkeypatch) -> Shelf:
    folder = tmp_path / "shelf"
    folder.mkdir()
    return Shelf(folder, monkeypatch)


@pytest.fixture
def workroom(tmp_path, monkeypatch, capsys):
    from cli_samples import Workroom

    folder = tmp_path / "workroom"
    folder.mkdir()
    monkeypatch.chdir(folder)
    return Workroom(folder, capsys)
