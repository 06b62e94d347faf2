"""Folders of shared samples that tests import from."""

from __future__ import annotations

import sys
from pathlib import Path

HERE = Path(__file__).parent
for folder in (HERE, HERE / "sleeve", HERE / "pattern", HERE / "bench"):
    sys.path.insert(0, str(folder))
