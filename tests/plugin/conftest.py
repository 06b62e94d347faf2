"""What the tests of plugins share."""

from __future__ import annotations

import pytest
from stub_distributions import Shelf


@pytest.fixture
def shelf(tmp_path, monkeypatch) -> Shelf:
    folder = tmp_path / "shelf"
    folder.mkdir()
    return Shelf(folder, monkeypatch)
