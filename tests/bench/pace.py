"""How slow the machine is just now: limits in seconds are for a quiet one of the usual speed.

A shared machine may be three times slower from one minute to the next, whatever our code does.
"""

from __future__ import annotations

import statistics
import time

import numpy as np

# Seconds that the work below takes on the machine, quiet, for which the limits were set.
NOMINAL = 0.0062
TRIALS = 9


def pace() -> float:
    """How many times slower than that machine this one is now; 1 where it is no slower."""
    return max(1.0, statistics.median(_took() for _ in range(TRIALS)) / NOMINAL)


def _took() -> float:
    """Plain Python and small arrays, as in a draft."""
    begin = time.perf_counter()
    points = np.linspace(0.0, 1.0, 32).reshape(8, 4)
    total = 0.0
    for i in range(3000):
        total += sum(value * i for value in (0.1, 0.2, 0.3, 0.4))
        total += float((points * total).max() > 0.0)
    return time.perf_counter() - begin
