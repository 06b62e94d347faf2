"""Folders of shared samples that tests import from, and how property tests draw."""

from __future__ import annotations

import gc
import sys
from pathlib import Path

from hypothesis import HealthCheck, settings

HERE = Path(__file__).parent
for folder in (HERE, HERE / "sleeve", HERE / "pattern", HERE / "bench"):
    sys.path.insert(0, str(folder))

# Of what the tests make little is garbage in rings: looking for it seldom saves a twentieth.
gc.set_threshold(50_000, 20, 20)

# The same draws every time, so that a suite that passes passes again.  To look for new ones:
# pytest --hypothesis-profile=default
settings.register_profile(
    "same",
    derandomize=True,
    database=None,
    deadline=None,
    # How fast examples are drawn tells how busy the machine is, not whether the code is right.
    suppress_health_check=[HealthCheck.too_slow],
)
settings.load_profile("same")
