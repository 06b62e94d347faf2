"""Long tests in parts: the first runs every time, the others with `pytest -m whole`, as in CI."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import pytest


def parts(count: int) -> list[Any]:
    """Numbers of the parts, from 0, for `pytest.mark.parametrize`."""
    return [0, *(pytest.param(part, marks=pytest.mark.whole) for part in range(1, count))]


def sampled(every: int, count: int) -> list[Any]:
    """A slice of one in `every` that runs every time; the `count` parts of all with the others."""
    others = (slice(part, None, count) for part in range(count))
    return [
        slice(0, None, every),
        *(pytest.param(each, marks=pytest.mark.whole) for each in others),
    ]


def thinned(cases: Iterable[tuple[Any, ...]], keep: int = 2) -> list[Any]:
    """Cases of which every so manieth runs every time, the others with the other parts."""
    return [
        pytest.param(*case, marks=[pytest.mark.whole] if i % keep else [])
        for i, case in enumerate(cases)
    ]
