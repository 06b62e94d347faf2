"""Made-up bodies: larger and smaller than those of the survey, to try blocks on."""

from __future__ import annotations

import math
import random
import re
from collections.abc import Iterator, Mapping, Sequence
from itertools import count

from blockwright.body.measurements import impossible_pairs, measurements

PREFIX = "made-"
AFTER = re.compile(rf"{PREFIX}(?:[0-9]+-)?(.+)")
"""The name of a body made after a real one: 'made-female-17', then 'made-2-female-17'."""
RUNGS = (15, 50, 85)
"""Bodies with every measurement this far up its range, per cent."""
SCALES = (0.6, 1.45)
"""The least and the greatest size beside a real body: a child of five, a giant."""
STRAY = 0.05
"""How far a measurement strays from the real proportions (sigma of the logarithm)."""
TRIES = 100


def names(real: Sequence[str]) -> Iterator[str]:
    """Endless names of made-up bodies after these real ones.  Rungs are among the first."""
    strays = [f"{PREFIX}{name}" for name in real]
    rungs = [f"{PREFIX}rung-{rung}" for rung in RUNGS]
    yield from (strays[0], rungs[1], strays[-1], rungs[2], rungs[0], *strays[1:-1])
    for again in count(2):
        yield from (f"{PREFIX}{again}-{name}" for name in real)


def made_after(name: str) -> str:
    """The name of the real body that a made-up one is made after."""
    found = AFTER.fullmatch(name)
    return found[1] if found else name


def rung(per_cent: int) -> dict[str, float]:
    """Every measurement of a body at a share of its range, by ratio, mm."""
    return {
        name: known.low * (known.high / known.low) ** (per_cent / 100.0)
        for name, known in measurements().items()
        if known.of == "body"
    }


def stray(real: Mapping[str, float], name: str) -> dict[str, float]:
    """A real body made smaller or larger, with slightly other proportions, mm.

    A name always gives the same body.  Every measurement is within its range, and none contradicts
    another.
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
