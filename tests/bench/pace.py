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


def pace(*took: float) -> float:
    """How many times slower than that machine this one is; 1 where it is no slower.

    `took` are the seconds of the work below, each timed beside what is judged by them.  Without
    them the machine is timed as it is now.
    """
    each = took or [pace_work() for _ in range(TRIALS)]
    return max(1.0, statistics.median(each) / NOMINAL)


def pace_work() -> float:
    """The seconds of plain Python and small arrays, as in a draft."""
    begin = time.perf_counter()
    points = np.linspace(0.0, 1.0, 32).reshape(8, 4)
    total = 0.0
    for i in range(3000):
        total += sum(value * i for value in (0.1, 0.2, 0.3, 0.4))
        total += float((points * total).max() > 0.0)
    return time.perf_counter() - begin
