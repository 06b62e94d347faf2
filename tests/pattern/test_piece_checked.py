"""How many pieces are cut is a whole number, even in pairs; and their places are somewhere."""

from __future__ import annotations

import math

import pytest

from blockwright import Draft, Edge, PatternError, Point, polyline

ROUND = [Point(0, 0), Point(200, 0), Point(200, 300), Point(0, 0)]


def cut(count: object, *, mirrored: bool = False) -> int:
    edges = [Edge("round", polyline(ROUND))]
    draft = Draft("test.wedge", "Wedge")
    return draft.piece("wedge", edges, cut=count, mirrored=mirrored).cut  # type: ignore[arg-type]


@pytest.mark.parametrize("count", [0, -1, -2, 1.0, 1.5, "2", None])
def test_nothing_else_is_cut(count: object) -> None:
    with pytest.raises(PatternError, match=r"cut of piece 'wedge' is .*; give how many are cut"):
        cut(count)


def test_pairs_are_even() -> None:
    assert [cut(1), cut(3), cut(2, mirrored=True), cut(4, mirrored=True)] == [1, 3, 2, 4]
    for count in (1, 3):
        with pytest.raises(PatternError, match=f"is {count}, in mirrored pairs; give an even"):
            cut(count, mirrored=True)


@pytest.mark.parametrize(
    "at",
    [(math.inf, 0.0), (0.0, math.inf), (-math.inf, 1.0), (math.inf, math.inf), (0.0, math.nan)],
)
def test_a_label_that_is_nowhere_is_refused(at: tuple[float, float]) -> None:
    edges = [Edge("round", polyline(ROUND))]
    with pytest.raises(PatternError, match=r"label_at of piece 'wedge' is at .* which is nowhere"):
        Draft("test.wedge", "Wedge").piece("wedge", edges, label_at=Point(*at))
    # However far away, a finite place is one.
    far = Point(1e9, -1e9)
    assert Draft("test.wedge", "Wedge").piece("wedge", edges, label_at=far).label_at == far
