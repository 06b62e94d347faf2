"""The promises of the fair curve, on thousands of random sets of marks."""

from __future__ import annotations

import math
from collections import defaultdict

import numpy as np
import pytest
from curve_samples import random_marks
from fair_measures import Fit, control_gap

from blockwright.curves.affine import Affine
from blockwright.curves.point import Point
from parts import parts

# Here two thousand; ten thousand, by hand, are what the figures beside the bounds are from.
SETS, CHUNKS = 2_000, 8

# Greatest allowed, with what was measured over the ten thousand.
BOUNDS = {
    "mm off a mark": 1e-6,  # 0
    "rad between pieces": 1e-6,  # 2.8e-13
    "rad off a fixed end direction": 1e-6,
    "jump of curvature between spirals": 1e-9,  # 1.2e-11
    "jump of curvature in the chain": 0.01,  # 0.0055
    "chain's curvature off a straight run": 0.005,  # 0.0036
    "chain off the spirals, share of length": 5e-6,  # 3.2e-6
    "length off the spirals', share": 2e-6,  # 1e-6
    "mm moved by a turn": 1e-6,  # 7e-13
    "mm moved by a scale": 1e-6,
    "mm moved by a mirror": 1e-6,
    "mm moved by reading backwards": 1e-6,  # 6e-11
    "mm moved by a mark at a random place": 0.01,  # 0.0012
    "mm moved by a mark in mid span": 0.01,  # 0.0004
}


@pytest.mark.parametrize("chunk", parts(CHUNKS))
def test_every_promise_holds_on_random_marks(chunk: int) -> None:
    worst: dict[str, float] = defaultdict(float)
    random = np.random.default_rng(1000 + chunk)
    for marks, start, end in random_marks(SETS // CHUNKS, seed=chunk):
        for what, value in _measured(Fit(marks, start, end), random):
            worst[what] = max(worst[what], value)
    print("\n".join(f"{what:40s} {worst[what]:.3g}" for what in BOUNDS))
    assert set(worst) == set(BOUNDS)
    assert {what: value for what, value in worst.items() if not value <= BOUNDS[what]} == {}


def _measured(fit: Fit, random: np.random.Generator):
    yield "mm off a mark", fit.off_the_marks()
    yield "rad between pieces", fit.tangent_jump()
    yield "rad off a fixed end direction", fit.off_the_tangents()
    yield "jump of curvature between spirals", fit.span_jump()
    yield "jump of curvature in the chain", fit.chain_jump()
    yield "chain's curvature off a straight run", fit.wobble()
    yield "chain off the spirals, share of length", fit.off_the_spirals()
    length = math.fsum(span.length for span in fit.spans)
    yield "length off the spirals', share", abs(fit.curve.length / length - 1.0)
    for what, by in (
        ("turn", Affine.turn(random.uniform(-3.0, 3.0), Point(*random.uniform(-100.0, 100.0, 2)))),
        ("scale", Affine.scale(math.exp(random.uniform(-2.0, 2.0)))),
        ("mirror", Affine.mirror(Point(0.0, 0.0), Point(*random.uniform(1.0, 2.0, 2)))),
    ):
        size = by.a if what == "scale" else 1.0
        yield f"mm moved by a {what}", control_gap(fit.moved(by).curve, fit.curve.moved(by)) / size
    backwards = fit.reversed().curve.reversed()
    yield "mm moved by reading backwards", control_gap(backwards, fit.curve)
    place = random.uniform(0.02, 0.98) * fit.curve.length
    yield "mm moved by a mark at a random place", fit.strays(fit.with_mark_at(place).curve)
    i = int(random.integers(len(fit.spans)))
    middle = (fit.mark_distances[i] + fit.mark_distances[i + 1]) / 2.0
    yield "mm moved by a mark in mid span", fit.strays(fit.with_mark_at(middle).curve)
