"""The solver: closed forms first, then what it says when there is no answer."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockwright import GeometryError, solve
from blockwright.pattern.table.solve import Unreachable

CASES = [
    (lambda x: x**3, 27.0, 0.0, 10.0, 3.0),
    (math.exp, 20.0, 0.0, 10.0, math.log(20.0)),
    (lambda x: math.cos(x), 0.5, 0.0, math.pi, math.pi / 3.0),
    (lambda x: 5.0 - x, 2.0, 0.0, 10.0, 3.0),
    (lambda x: math.atan(50.0 * (x - 7.0)), 0.0, 0.0, 10.0, 7.0),
    (lambda x: abs(x) ** 0.3 * math.copysign(1.0, x), 0.0, -3.0, 5.0, 0.0),
]


@pytest.mark.parametrize("near", [None, (0.1, 1.0), (2.0, -3.0), (9.9, 50.0)])
@pytest.mark.parametrize(("measure", "target", "low", "high", "root"), CASES)
def test_known_roots(measure, target, low, high, root, near) -> None:
    found = solve(measure, target, low, high, near=near)
    assert measure(found) == pytest.approx(target, abs=2e-5) or found == pytest.approx(
        root, abs=1e-9
    )
    assert found == pytest.approx(root, abs=1e-4)


@given(st.floats(-5.0, 5.0), st.floats(0.1, 3.0))
def test_any_root_of_a_rising_curve(root: float, steepness: float) -> None:
    found = solve(lambda x: math.sinh(steepness * (x - root)), 0.0, -6.0, 6.0)
    assert found == pytest.approx(root, abs=2e-5 / steepness + 1e-12)


def test_few_trials() -> None:
    trials = []

    def measure(x: float) -> float:
        trials.append(x)
        return math.hypot(150.0, x) * 2.0

    solve(measure, 450.0, 30.0, 240.0)
    assert len(trials) <= 12
    trials.clear()
    solve(measure, 450.0, 30.0, 240.0, near=(160.0, 1.4))
    assert len(trials) <= 5


def test_out_of_reach_says_what_is_possible() -> None:
    with pytest.raises(Unreachable) as refused:
        solve(lambda x: x * x, 200.0, 0.0, 10.0)
    assert (refused.value.least, refused.value.most) == (0.0, 100.0)


def test_found_between_ends_that_do_not_enclose_it() -> None:
    found = solve(lambda x: -((x - 5.0) ** 2), -4.0, 0.0, 10.0)
    assert (found - 5.0) ** 2 == pytest.approx(4.0, abs=2e-5)


def test_places_that_cannot_be_drawn_are_passed_over() -> None:
    def measure(x: float) -> float:
        if x < 4.0:
            raise GeometryError("cannot be drawn")
        return x

    assert solve(measure, 7.0, 0.0, 10.0) == pytest.approx(7.0, abs=2e-5)
    with pytest.raises(Unreachable) as refused:
        solve(measure, 3.0, 0.0, 10.0)
    assert refused.value.least >= 4.0
    assert refused.value.most == 10.0


def test_nothing_can_be_drawn() -> None:
    def measure(x: float) -> float:
        raise GeometryError("no")

    with pytest.raises(Unreachable) as refused:
        solve(measure, 1.0, 0.0, 1.0)
    assert math.isnan(refused.value.least)


def test_a_measure_that_jumps_over_the_target_has_no_answer() -> None:
    with pytest.raises(Unreachable):
        solve(lambda x: -1.0 if x < 3.3 else 1.0, 0.0, 0.0, 10.0)


def test_a_gap_in_what_can_be_drawn_is_not_taken_for_an_answer() -> None:
    def measure(x: float) -> float:
        if 4.0 < x < 6.0:
            raise GeometryError("cannot be drawn")
        return x

    assert solve(measure, 3.0, 0.0, 10.0) == pytest.approx(3.0, abs=2e-5)
    assert solve(measure, 7.0, 0.0, 10.0) == pytest.approx(7.0, abs=2e-5)
    with pytest.raises(Unreachable):
        solve(measure, 5.0, 0.0, 10.0)


@pytest.mark.parametrize("off", [-5e-6, -1e-12, 0.0, 1e-12, 5e-6])
@pytest.mark.parametrize("end", [0.0, 10.0])
def test_an_end_of_the_range_that_is_as_good_as_it_is_the_answer(end: float, off: float) -> None:
    assert solve(lambda x: x, end + off, 0.0, 10.0) == pytest.approx(end, abs=1e-5)


def test_an_end_is_the_answer_where_nothing_can_be_drawn_at_the_other() -> None:
    def measure(x: float) -> float:
        if x > 9.0:
            raise GeometryError("too far")
        return x

    assert solve(measure, 0.0, 0.0, 10.0) == 0.0


def test_a_measure_that_is_flat_for_a_while_is_halved_until_it_rises() -> None:
    found = solve(lambda x: max(x - 10.0, 0.0), 0.5, 0.0, 16.0)
    assert found == pytest.approx(10.5, abs=1e-5)


def test_a_target_that_the_measure_only_touches_is_found_there() -> None:
    """Both ends give less; the place between them that is looked at gives it."""
    assert solve(lambda x: -((x - 8.0) ** 2), 0.0, 0.0, 16.0) == 8.0


@pytest.mark.parametrize("end", [0.0, 10.0])
def test_a_step_from_a_guess_may_end_at_an_end_of_the_range(end: float) -> None:
    """Two trials: the guess, and where the slope there leads."""
    trials: list[float] = []

    def measure(x: float) -> float:
        trials.append(x)
        return x

    assert solve(measure, end, 0.0, 10.0, near=(5.0, 1.0)) == end
    assert trials == [5.0, end]


def test_what_is_out_of_reach_is_looked_for_at_both_ends_and_seventeen_places() -> None:
    trials: list[float] = []

    def measure(x: float) -> float:
        trials.append(x)
        return x

    with pytest.raises(Unreachable):
        solve(measure, 99.0, 0.0, 16.0)
    assert trials == [0.0, 16.0, *map(float, range(17))]


@pytest.mark.parametrize(
    "measure", [lambda x: 100.0 * x**12 - 1.0, lambda x: 1.0 - 101.0 * (1.0 - x) ** 6]
)
def test_where_three_trials_lie_on_no_gentle_curve_the_range_is_halved(measure) -> None:
    """Source: Chandrupatla 1997, his two conditions for the curve through three trials."""
    trials: list[float] = []

    def watched(x: float) -> float:
        trials.append(x)
        return measure(x)

    assert abs(measure(solve(watched, 0.0, 0.0, 1.0))) <= 1e-5
    assert trials[:4] == [0.0, 1.0, 0.5, 0.75]
