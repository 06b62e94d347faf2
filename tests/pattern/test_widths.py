"""Widths along a level, judged by shapely on the cloth that is left when darts are sewn."""

from __future__ import annotations

import math

import numpy as np
import pytest
import shapely

from blockwright import Curve, Dart, Edge, Piece, Point, arc_between, join, line, polyline
from blockwright.pattern.results import Reason
from blockwright.pattern.widths import PAST_ENDS, width_across

WIDE, TALL = 200.0, 300.0
TIP, HALF = Point(100.0, 150.0), 15.0


def panel() -> Piece:
    """A square with a dart from the middle of its top, and a bay cut into its right side."""
    right, left = Point(TIP.x + HALF, TALL), Point(TIP.x - HALF, TALL)
    bay = [
        Point(0, 0), Point(WIDE, 0), Point(WIDE, 40), Point(150, 60), Point(WIDE, 80),
        Point(WIDE, TALL), right,
    ]  # fmt: skip
    edges = (
        Edge("right of the dart", polyline(bay)),
        Edge("mouth", polyline([right, Point(100, TALL + 3), left]), "dart"),
        Edge("left of the dart", polyline([left, Point(0, TALL), Point(0, 0)])),
    )
    dart = Dart("dart", TIP, "mouth", "end", "pressed left")
    grain = Point(30, 30), Point(30, 250)
    return Piece("panel", edges, grain, Point(60, 100), darts=(dart,))


SEWN = shapely.Polygon(
    [(0, 0), (WIDE, 0), (WIDE, 40), (150, 60), (WIDE, 80), (WIDE, TALL), (TIP.x + HALF, TALL),
     (TIP.x, TIP.y), (TIP.x - HALF, TALL), (0, TALL)]
)  # fmt: skip


def judged(level: Curve) -> float:
    """Length of the level within the cloth, by shapely; the curve as many straight lines."""
    points = level.points_at(np.linspace(0.0, level.length, 4001))
    return shapely.intersection(SEWN, shapely.LineString(points)).length


def across(y: float, start: float = 0.0, end: float = WIDE) -> Curve:
    return line(Point(start, y), Point(end, y))


WAVE = join(
    [
        arc_between(Point(-5, 60), Point(100, 60), 0.8),
        arc_between(Point(100, 60), Point(205, 60), -0.8),
    ]
)
BENT = polyline([Point(-5, 100), Point(80, 200), Point(120, 200), Point(205, 260)])


@pytest.mark.parametrize(
    "level",
    [across(10.0), across(60.0), across(150.0), across(200.0), across(299.0), BENT, WAVE,
     line(Point(0, 20), Point(WIDE, 280)), line(Point(WIDE, 280), Point(0, 20))],
)  # fmt: skip
def test_a_level_is_as_long_as_the_cloth_it_lies_on(level: Curve) -> None:
    found = width_across(panel(), [level])
    assert found.why is None
    assert found.width == pytest.approx(judged(level), abs=0.01)


@pytest.mark.parametrize(("start", "end"), [(59.9, 140.1), (20.0, WIDE), (0.0, 150.0), (-9, 209)])
@pytest.mark.parametrize("backward", [False, True])
def test_a_level_is_carried_on_to_the_edge_within_sixty_millimetres(
    start: float, end: float, backward: bool
) -> None:
    level = across(120.0, start, end)
    found = width_across(panel(), [level.reversed() if backward else level])
    assert found.width == pytest.approx(WIDE)


def test_a_curved_level_is_carried_on_straight() -> None:
    short = arc_between(Point(40, 100), Point(160, 100), 0.5)
    found = width_across(panel(), [short])
    ends = [40.0 / short.start_tangent.x, 40.0 / short.end_tangent.x]
    assert found.width == pytest.approx(short.length + sum(ends), abs=1e-6)


@pytest.mark.parametrize(("start", "end"), [(60.1, 200.0), (0.0, 139.9), (70.0, 130.0)])
def test_a_level_that_ends_further_in_the_cloth_has_no_width(start: float, end: float) -> None:
    found = width_across(panel(), [across(120.0, start, end)])
    assert math.isnan(found.width)
    reason = Reason("level.ends-in-cloth", {"piece": panel().ref, "past": PAST_ENDS})
    assert (found.why, PAST_ENDS) == (reason, 60.0)


def test_cloth_that_the_level_does_not_itself_reach_is_left_out() -> None:
    """Past the legs of the dart, and over the bay, there is more cloth."""
    to_the_dart = across(250.0, 0.0, 85.0)
    assert width_across(panel(), [to_the_dart]).width == pytest.approx(90.0)
    over_the_bay = across(60.0, 0.0, 145.0)
    assert width_across(panel(), [over_the_bay]).width == pytest.approx(150.0)


def test_a_level_in_parts_is_not_carried_on_between_them() -> None:
    parts = [across(120.0, 20.0, 70.0), across(130.0, 90.0, 110.0), across(120.0, 130.0, 180.0)]
    assert width_across(panel(), parts).width == pytest.approx(70.0 + 20.0 + 70.0)
    # The ends between parts may lie far in the cloth; those at both ends may not.
    parts = [across(120.0, 90.0, 100.0), across(120.0, 100.0, 190.0)]
    found = width_across(panel(), parts)
    assert found.why is not None
    assert found.why.code == "level.ends-in-cloth"


@pytest.mark.parametrize(
    "level",
    [across(0.0), line(Point(0, 0), Point(0, TALL)), line(Point(WIDE, 90), Point(WIDE, 290))],
)
def test_a_level_along_an_edge_has_no_width(level: Curve) -> None:
    found = width_across(panel(), [level])
    assert math.isnan(found.width)
    assert found.why == Reason("level.along-edge", {"piece": panel().ref})


def test_a_level_beside_the_piece_crosses_no_cloth() -> None:
    assert width_across(panel(), [across(-20.0)]).width == 0.0


def test_a_part_of_a_level_that_is_only_a_corner_adds_nothing() -> None:
    """Less than a hundredth of a millimetre is a corner that was met twice."""
    parts = [across(120.0, 20.0, 70.0), across(130.0, 90.0, 90.009), across(120.0, 130.0, 180.0)]
    assert width_across(panel(), parts).width == pytest.approx(70.0 + 70.0, abs=1e-6)
