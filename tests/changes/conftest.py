"""The panel that tests of darts change."""

from __future__ import annotations

import pytest
from dart_panel import panel_pattern

from blockwright import Pattern, Piece


@pytest.fixture
def pattern() -> Pattern:
    return panel_pattern()


@pytest.fixture
def panel(pattern: Pattern) -> Piece:
    return pattern.piece("panel")
