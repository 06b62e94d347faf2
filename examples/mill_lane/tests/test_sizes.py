"""The size chart: every size makes a sheet, and sizes grow."""

from __future__ import annotations

from itertools import pairwise

import pytest

from blockwright import InputError, draft, load, prove

CHART = load(only=["mill-lane"]).bodies["mill-lane"]
SIZES = list(CHART.names())


def test_sizes_are_even_numbers_in_order() -> None:
    assert [int(size) for size in SIZES] == [34, 36, 38, 40, 42, 44, 46]


def test_every_measurement_grows_with_the_size() -> None:
    for small, large in pairwise(CHART.sheet(size).values for size in SIZES):
        assert small.keys() == large.keys()
        assert [name for name in small if small[name] >= large[name]] == []


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("key", ["skirt.straight", "skirt.circle", "sleeve.straight"])
def test_every_size_can_be_drafted_for(key: str, size: str) -> None:
    sheet = CHART.sheet(size)
    assert sheet.name == f"Mill Lane {size}"
    assert prove(draft(load().block(key), sheet)).held


def test_a_size_that_is_not_there_is_told() -> None:
    with pytest.raises(InputError, match="mill-lane has no body '39'"):
        CHART.sheet("39")
