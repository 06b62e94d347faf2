"""How a value is found: what is enclosed, in how few trials, and what range is told otherwise."""

from __future__ import annotations

import math
from collections.abc import Callable

import pytest

from blockwright import GeometryError
from blockwright.pattern.table.solve import SETTLED, Unreachable, solve


class Counted:
    """A measure that counts its trials."""

    def __init__(self, measure: Callable[[float], float]) -> None:
        self.measure, self.trials = measure, list[float]()

    def __call__(self, value: float) -> float:
        self.trials.append(value)
        return self.measure(value)


# Measure, target, low, high and where the target is met.
SMOOTH: list[tuple[Callable[[float], float], float, float, float, float]] = [
    (lambda x: x**3, 500.0, 0.0, 100.0, 500.0 ** (1.0 / 3.0)),
    (lambda x: -(x**3), -500.0, 0.0, 100.0, 500.0 ** (1.0 / 3.0)),
    (lambda x: math.exp(x / 10.0), 50.0, -100.0, 100.0, 10.0 * math.log(50.0)),
    (lambda x: math.hypot(x, 30.0), 50.0, 0.0, 900.0, 40.0),
    (lambda x: math.atan(x - 70.0), 0.0, -300.0, 300.0, 70.0),
]


@pytest.mark.parametrize(("measure", "target", "low", "high", "answer"), SMOOTH)
def test_a_smooth_measure_takes_far_fewer_trials_than_halving(
    measure, target: float, low: float, high: float, answer: float
) -> None:
    """Halving to SETTLED takes some thirty; the published rule about ten (Chandrupatla 1997)."""
    counted = Counted(measure)
    found = solve(counted, target, low, high)
    assert abs(measure(found) - target) <= SETTLED
    assert found == pytest.approx(answer, abs=1e-3)
    assert len(counted.trials) <= 17
    assert all(low <= trial <= high for trial in counted.trials)


@pytest.mark.parametrize("rate", [1.0, 2.0, 4.0])
def test_from_a_good_guess_a_few_trials_do(rate: float) -> None:
    counted = Counted(lambda x: 2.0 * x + 0.001 * x * x)
    found = solve(counted, 101.0, 0.0, 1000.0, near=(48.0, rate))
    assert abs(counted.measure(found) - 101.0) <= SETTLED
    assert len(counted.trials) <= 6
    assert counted.trials[0] == 48.0


@pytest.mark.parametrize("near", [(900.0, 1.0), (-50.0, 2.0), (20.0, 0.0), (20.0, -2.0)])
def test_from_a_poor_guess_the_answer_is_found_all_the_same(near: tuple[float, float]) -> None:
    counted = Counted(lambda x: math.sqrt(x))
    found = solve(counted, 5.0, 0.0, 100.0, near=near)
    assert found == pytest.approx(25.0, abs=1e-3)
    assert all(0.0 <= trial <= 100.0 for trial in counted.trials)


@pytest.mark.parametrize("target", [0.0, 100.0])
def test_an_end_that_does_is_the_answer(target: float) -> None:
    counted = Counted(lambda x: x)
    assert solve(counted, target, 0.0, 100.0) == target
    assert len(counted.trials) == 2


def test_where_nothing_can_be_drawn_neighbours_are_looked_for() -> None:
    """Neither at its ends nor in its middle, where the first trial is."""

    def measure(x: float) -> float:
        if not 10.0 < x < 90.0 or 45.0 < x < 55.0:
            raise GeometryError("too sharp")
        return x

    assert solve(measure, 60.0, 0.0, 100.0) == pytest.approx(60.0, abs=1e-4)
    with pytest.raises(Unreachable) as refused:
        solve(measure, 95.0, 0.0, 100.0)
    assert 10.0 < refused.value.least < 20.0
    assert 80.0 < refused.value.most < 90.0
    assert refused.value.why == ""


def test_a_measure_that_turns_is_scanned() -> None:
    """Both ends give less than the target."""
    found = solve(lambda x: 100.0 - (x - 50.0) ** 2 / 25.0, 90.0, 0.0, 100.0)
    assert abs(found - 50.0) == pytest.approx(math.sqrt(250.0), abs=1e-3)


def test_what_cannot_be_reached_is_told_with_the_range() -> None:
    with pytest.raises(Unreachable) as refused:
        solve(lambda x: 2.0 * x, 500.0, 10.0, 100.0)
    assert (refused.value.least, refused.value.most) == (20.0, 200.0)

    def never(x: float) -> float:
        raise GeometryError(f"too sharp at {x:g}")

    with pytest.raises(Unreachable) as refused:
        solve(never, 5.0, 10.0, 100.0)
    assert math.isnan(refused.value.least)
    assert math.isnan(refused.value.most)
    assert refused.value.why == "too sharp at 100"


def test_a_measure_that_jumps_over_its_target_is_told() -> None:
    with pytest.raises(Unreachable) as refused:
        solve(lambda x: 0.0 if x < 33.0 else 10.0, 4.0, 0.0, 100.0)
    assert (refused.value.least, refused.value.most) == (0.0, 10.0)
