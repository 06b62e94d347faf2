"""Bodies that nobody has: beyond the survey in size, and by the ranges of the measurements."""

from __future__ import annotations

import math
import random
from collections.abc import Mapping, Sequence

from blockwright.body.measurements import impossible_pairs, measurements

PREFIX = "made-"
RUNGS = (15, 50, 85)
"""Per cent of the way from the least to the most of every measurement."""
SCALES = (0.6, 1.45)
"""How much smaller or larger than a real body one may be: a child of five, a giant."""
STRAY = 0.05
"""How far one measurement strays from the real proportions (logarithm, one sigma)."""
TRIES = 100


def names(real: Sequence[str]) -> list[str]:
    """Names of made-up bodies after these real ones: two rungs of the ladder among the first."""
    strays = [f"{PREFIX}{name}" for name in real]
    rungs = [f"{PREFIX}rung-{rung}" for rung in RUNGS]
    return [strays[0], rungs[1], strays[-1], rungs[2], rungs[0], *strays[1:-1]]


def rung(per_cent: int) -> dict[str, float]:
    """Every measurement of a body so far up its range, by ratio, mm."""
    return {
        name: known.low * (known.high / known.low) ** (per_cent / 100.0)
        for name, known in measurements().items()
        if known.of == "body"
    }


def stray(real: Mapping[str, float], name: str) -> dict[str, float]:
    """A real body made smaller or larger, its proportions a little off; the same for a name.

    Within the range of every measurement, and free of contradictions.
    """
    known = measurements()
    draw = random.Random(name)
    for _ in range(TRIES):
        scale = draw.uniform(*SCALES)
        found = {
            what: min(max(value * scale * math.exp(draw.gauss(0.0, STRAY)), known[what].low),
                      known[what].high)
            for what, value in real.items()
        }  # fmt: skip
        if not impossible_pairs(found):
            return found
    return dict(real)
