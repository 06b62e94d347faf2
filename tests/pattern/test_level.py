"""Edges that are square to the grain, and edges that are not."""

from __future__ import annotations

import math

import pytest

from blockwright import Draft, Edge, Point, polyline, prove
from blockwright.curves.primitives import line


@pytest.mark.parametrize("slope", [0.0, 0.4, 30.0, 60.0, 89.0, -60.0])
@pytest.mark.parametrize("grain", [0.0, 25.0])
def test_an_edge_is_as_far_from_level_as_it_slopes(slope: float, grain: float) -> None:
    """Against the square of the grain, which here leans over with the whole piece."""
    lean = math.radians(grain)
    way = Point(1.0, 0.0).turned(math.radians(slope) + lean)
    inside = way.left() * 90.0
    corners = [way * 100.0, way * 100.0 + inside, inside, Point(0, 0)]
    middle, up = way * 50.0 + inside * 0.5, Point(0.0, 10.0).turned(lean)
    d = Draft("test.slope", "Slope")
    hem = Edge("hem", line(Point(0, 0), way * 100.0), "hem")
    d.piece("piece", [hem, Edge("rest", polyline(corners))], grain=(middle - up, middle + up))
    d.level("level hem", hem, way * 50.0, within=0.5)
    (result,) = [each for each in prove(d.pattern()).results if each.code == "level"]
    assert result.measured == pytest.approx(slope)
    assert result.held == (abs(slope) < 0.5)
