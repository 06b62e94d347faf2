"""Folders of shared samples that tests import from, and how property tests draw."""

from __future__ import annotations

import gc
import sys
from collections import Counter
from pathlib import Path

import pytest
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

# Of the cases of each long test in these modules every second runs every time, the others with
# `pytest -m whole`: they differ by body, format or option and take most of the time.
EVERY_SECOND = {
    "test_bundled.py", "test_curve_fair_hard.py", "test_curve_value.py", "test_dxf_hostile.py",
    "test_dxf_r12.py", "test_dxf_read.py", "test_finish_usual_notches.py", "test_hpgl.py",
    "test_pdf.py", "test_placing.py", "test_readback_pairs.py", "test_skirt_sewn.py",
    "test_sleeve_shape.py", "test_svg.py", "test_template.py", "test_tiles.py",
    "test_what_pieces_say.py",
}  # fmt: skip


@pytest.hookimpl(tryfirst=True)
def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """Leave every second case of the long tests to the whole."""
    seen: Counter[tuple[Path, str]] = Counter()
    for item in items:
        if item.path.name in EVERY_SECOND and hasattr(item, "callspec"):
            test = item.path, item.name.partition("[")[0]
            seen[test] += 1
            if not seen[test] % 2:
                item.add_marker(pytest.mark.whole)
