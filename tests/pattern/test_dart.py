"""Darts closed and their roofs folded, checked by moving the paper."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockwright import (
    Affine,
    GeometryError,
    PatternError,
    Point,
    arc_between,
    distance,
    line,
    nearest,
    roof_between,
)
from blockwright.pattern.dart import closing, opening

APEX = Point(0.0, 0.0)


def dart(angle: float, leg: float = 100.0) -> tuple[Point, Point]:
    """Ends of two legs that open downward about the y axis, the first to the left."""
    down = Point(0.0, -leg)
    return down.turned(-angle / 2.0), down.turned(angle / 2.0)


@given(st.floats(-3.0, 3.0).filter(lambda a: abs(a) > 1e-6), st.floats(1.0, 300.0))
def test_closing_lays_one_leg_on_the_other(angle: float, leg: float) -> None:
    start, end = dart(angle, leg)
    assert opening(APEX, start, end) == pytest.approx(angle)
    moved = closing(APEX, start, end)(end)
    assert (moved.x, moved.y) == pytest.approx((start.x, start.y), abs=1e-9)


@pytest.mark.parametrize("pressed", ["start", "end"])
@pytest.mark.parametrize("bend", [0.0, 0.15, -0.15])
@pytest.mark.parametrize("angle", [0.1, 0.25, 0.5])
def test_folded_roof_lies_under_the_seam(angle: float, bend: float, pressed: str) -> None:
    """Fold the paper as the dart is pressed: every point of the roof falls on the seam."""
    start, end = dart(angle)
    before = arc_between(Point(-150.0, -90.0), start, bend)
    after = arc_between(end, Point(150.0, -90.0), bend)
    roof = roof_between(APEX, before, after, pressed)
    assert distance(roof.start, start) < 1e-9
    assert distance(roof.end, end) < 1e-9
    leg, seam, way = (start, before, -1.0) if pressed == "start" else (end, after, 1.0)
    # The half of the roof beside the pressed leg is folded in that leg; the other half in the
    # fold line first.
    fold = leg.turned(-way * angle / 2.0)
    in_leg, in_fold = Affine.mirror(APEX, leg), Affine.mirror(APEX, fold)
    halfway = roof.length / 2.0
    for i in range(21):
        along = roof.length * i / 20.0
        point = roof.point_at(along)
        beside_leg = (along >= halfway) == (pressed == "end")
        folded = in_leg(point if beside_leg else in_fold(point))
        assert nearest(seam, folded).distance < 1e-6


def test_the_two_halves_of_a_roof_are_alike() -> None:
    start, end = dart(0.3)
    roof = roof_between(APEX, line(Point(-150, -90), start), line(end, Point(150, -90)), "end")
    a, b = roof.split_at(roof.length / 2.0)
    assert a.length == pytest.approx(b.length)
    assert abs(roof.point_at(roof.length / 2.0)) > math.cos(0.15) * 100.0  # a roof, not a dent


@pytest.mark.parametrize("pressed", ["", "End", "middle", "centre"])
def test_a_dart_is_pressed_over_its_start_or_its_end(pressed: str) -> None:
    start, end = dart(0.3)
    with pytest.raises(PatternError, match=f"'start' or its 'end', not '{pressed}'"):
        roof_between(APEX, line(Point(-150, -90), start), line(end, Point(150, -90)), pressed)


def test_an_edge_too_short_to_press_over_is_refused() -> None:
    start, end = dart(0.5)
    with pytest.raises(GeometryError, match="wider than the edge"):
        roof_between(APEX, line(Point(-150, -90), start), line(end, end + Point(1.0, 0.2)), "end")
