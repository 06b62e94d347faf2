"""The solver for several values: against scipy, and what it says when there is no answer."""

from __future__ import annotations

import math
from collections.abc import Sequence

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy.optimize import root

from blockwright import Draft, GeometryError, NoSolutionError, solve_many
from blockwright.pattern.table.solve_many import Apart

SEEDS = st.integers(0, 2**32 - 1)


@given(SEEDS, st.integers(1, 5))
def test_random_curved_systems_agree_with_scipy(seed: int, count: int) -> None:
    random = np.random.default_rng(seed)
    # Diagonally dominant, so that there is one answer; the sines bend it.
    matrix = random.uniform(-1.0, 1.0, (count, count)) + 3.0 * count * np.eye(count)
    bend = random.uniform(-0.5, 0.5, count)
    target = random.uniform(-200.0, 200.0, count)
    start = random.uniform(-20.0, 20.0, count)

    def measure(values: Sequence[float]) -> Sequence[float]:
        return (matrix @ np.array(values) + bend * np.sin(np.array(values))).tolist()

    found = solve_many(measure, target.tolist(), start.tolist())
    assert np.abs(np.array(measure(found)) - target).max() <= 1e-5
    known = root(lambda values: np.array(measure(values)) - target, start, tol=1e-12)
    assert known.success
    assert np.allclose(found, known.x, atol=1e-4)


@given(SEEDS)
def test_the_corner_of_a_triangle_by_its_sides(seed: int) -> None:
    random = np.random.default_rng(seed)
    base, x, y = random.uniform(50.0, 300.0), random.uniform(-50.0, 300.0), random.uniform(20, 200)

    def sides(at: Sequence[float]) -> tuple[float, float]:
        return math.hypot(at[0], at[1]), math.hypot(at[0] - base, at[1])

    found = solve_many(sides, sides((x, y)), (base / 2.0, 100.0))
    # A corner low over the base hardly moves the sides: 1e-5 of a side is more of its height.
    assert found[0] == pytest.approx(x, abs=1e-3)
    assert abs(found[1]) == pytest.approx(y, abs=1e-2)
    assert sides(found) == pytest.approx(sides((x, y)), abs=1e-5)


def test_rates_save_trials() -> None:
    trials = []

    def measure(at: Sequence[float]) -> tuple[float, float]:
        trials.append(at)
        return at[0] + 0.05 * at[1], at[1] - 0.03 * math.sin(at[0])

    plain = solve_many(measure, (30.0, 20.0), (0.0, 0.0))
    without = len(trials)
    trials.clear()
    assert solve_many(measure, (30.0, 20.0), (0.0, 0.0), rates=(1.0, 1.0)) == pytest.approx(
        plain, abs=1e-4
    )
    assert len(trials) < without + 2


def test_wrong_rates_are_found_out() -> None:
    found = solve_many(lambda at: (at[1], at[0]), (3.0, 4.0), (0.0, 0.0), rates=(1.0, -1.0))
    assert found == pytest.approx((4.0, 3.0))


def test_places_that_cannot_be_drawn_are_stepped_round() -> None:
    def measure(at: Sequence[float]) -> tuple[float, float]:
        if at[0] <= 0.0:
            raise GeometryError("no length")
        return math.log(at[0]) * 10.0, at[1]

    found = solve_many(measure, (0.0, 1.0), (9.0, 0.0))  # a whole step would pass below nought
    assert found == pytest.approx((1.0, 1.0), abs=1e-5)


def test_no_answer_says_how_near_it_came() -> None:
    with pytest.raises(Apart) as refused:
        solve_many(lambda at: (at[0] ** 2 + 1.0, at[1]), (0.0, 5.0), (2.0, 0.0))
    assert refused.value.gave[0] == pytest.approx(1.0, abs=1e-3)
    with pytest.raises(Apart, match="parallel lines"):
        solve_many(parallel, (0.0, 5.0), (2.0, 0.0))


def parallel(at: Sequence[float]) -> Sequence[float]:
    raise GeometryError("parallel lines")


def test_the_table_records_values_and_refuses_in_the_makers_words() -> None:
    d = Draft("test.x", "X")
    asked = {"so_that": "both fit", "goals": ["front", "back"], "advice": "set y"}
    found = d.solve_many(
        ["a", "b"], lambda at: (at[0] + at[1], at[0] - at[1]),
        target=[30.0, 10.0], start=[0.0, 0.0], **asked,
    )  # fmt: skip
    assert found == pytest.approx((20.0, 10.0))
    assert [(s.name, s.so_that) for s in d.pattern().solved] == [
        ("a", "both fit"), ("b", "both fit"),
    ]  # fmt: skip
    with pytest.raises(NoSolutionError) as refused:
        d.solve_many(
            ["a", "b"], lambda at: (at[0] ** 2 + 10.0, at[1]),
            target=[0.0, 50.0], start=[2.0, 50.0], **asked,
        )  # fmt: skip
    assert str(refused.value) == (
        "test.x: no a and b give front 0.0 cm and back 5.0 cm; "
        "the nearest found give front 1.0 cm and back 5.0 cm; set y"
    )
    assert refused.value.code == "block.no-solution"
    with pytest.raises(NoSolutionError, match=r"from the first guess at a and b \(parallel"):
        d.solve_many(["a", "b"], parallel, target=[0.0, 5.0], start=[2.0, 0.0], **asked)


def test_each_length_has_its_goal() -> None:
    d = Draft("test.dart", "Dart")
    with pytest.raises(ValueError, match="zip"):
        d.solve_many(["across", "up"], lambda at: (1.0, 1.0), target=[130.0, 110.0],
                     start=[20.0, 100.0], so_that="the legs fit", goals=["left leg"])  # fmt: skip


@pytest.mark.parametrize(("off", "trials"), [(8e-6, 1), (1.2e-5, 2)])
def test_a_hundred_thousandth_of_a_millimetre_is_near_enough(off: float, trials: int) -> None:
    """A guess so near is the answer, without another trial."""
    tried: list[float] = []

    def measure(at: tuple[float, ...]) -> tuple[float, ...]:
        tried.append(at[0])
        return at

    (found,) = solve_many(measure, (100.0,), (100.0 + off,), rates=(1.0,))
    assert found == tried[-1] == pytest.approx(100.0, abs=1e-5)
    assert len(tried) == trials
