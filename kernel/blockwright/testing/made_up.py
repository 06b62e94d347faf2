"""Bodies that nobody has: beyond the survey in size, and by the ranges of the measurements."""

from __future__ import annotations

import math
import random
import re
from collections.abc import Iterator, Mapping, Sequence
from itertools import count

from blockwright.body.measurements import impossible_pairs, measurements

PREFIX = "made-"
AFTER = re.compile(rf"{PREFIX}(?:[0-9]+-)?(.+)")
"""The name of a body made after another: 'made-female-17', the second one 'made-2-female-17'."""
RUNGS = (15, 50, 85)
"""Per cent of the way from the least to the most of every measurement."""
SCALES = (0.6, 1.45)
"""How much smaller or larger than a real body one may be: a child of five, a giant."""
STRAY = 0.05
"""How far one measurement strays from the real proportions (logarithm, one sigma)."""
TRIES = 100


def names(real: Sequence[str]) -> Iterator[str]:
    """Names of made-up bodies after these real ones, without end: two rungs among the first."""
    strays = [f"{PREFIX}{name}" for name in real]
    rungs = [f"{PREFIX}rung-{rung}" for rung in RUNGS]
    yield from (strays[0], rungs[1], strays[-1], rungs[2], rungs[0], *strays[1:-1])
    for again in count(2):
        yield from (f"{PREFIX}{again}-{name}" for name in real)


def made_after(name: str) -> str:
    """The real body that a made-up one is named after."""
    found = AFTER.fullmatch(name)
    return found[1] if found else name


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
