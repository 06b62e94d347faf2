"""What the kit costs: every bundled block on a thousand bodies; the plugins over the bare host.

pytest -m bench -s tests/bench/test_bench_kit.py
"""

from __future__ import annotations

import statistics
import time

import pytest
from pace import pace
from test_bench_start import timed

from blockwright import load
from blockwright.testing import check_block

pytestmark = pytest.mark.bench

BODIES, PROCESSES, MOST_S = 1000, 2, 30.0
ROUNDS, MOST_MS = 15, 50.0
BARE = ("-c", "from blockwright import load; load([])")
ALL = ("-c", "from blockwright import load; load()")
KEYS = sorted(load().blocks)


@pytest.mark.parametrize("key", KEYS)
def test_a_thousand_bodies(key: str) -> None:
    block = load().block(key)
    slow = pace()
    begin = time.perf_counter()
    report = check_block(block, bodies=BODIES, processes=PROCESSES)
    took = time.perf_counter() - begin
    print(f"\n{key:18} {took:5.1f} s; {report.text().splitlines()[-1]}")
    assert report.bodies == BODIES
    assert report.passed, report.text()
    assert took <= MOST_S * max(slow, pace())


def test_all_plugins_cost_little_over_the_bare_host(tmp_path) -> None:
    """Whole processes taken in turn, so that a busy moment falls on both alike."""
    bare, every = [], []
    for turn in range(ROUNDS + 1):
        pair = timed(BARE, tmp_path), timed(ALL, tmp_path)
        if turn:  # the first one compiles what is imported
            bare.append(pair[0])
            every.append(pair[1])
    less, more = statistics.median(bare) * 1e3, statistics.median(every) * 1e3
    print(f"\nload([]) {less:.0f} ms, load() {more:.0f} ms: {more - less:.0f} ms for the plugins")
    assert more - less <= MOST_MS * pace()
