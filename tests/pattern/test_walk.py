"""Runs of edges walked over a dart, one way and the other, and what is said of edges apart."""

from __future__ import annotations

import pytest

from blockwright import Dart, Draft, Edge, Pattern, PatternError, Point, Ref, Way, line
from blockwright.pattern.walk import walk

BLOCK = "test.panel"
WAIST, HEM, SIDE, CENTRE = (Way(Ref(BLOCK, name)) for name in ("waist", "hem", "side", "centre"))


@pytest.fixture
def panel() -> Pattern:
    """200 by 300 mm with a dart of 20 mm in its waist."""
    right, left = Point(110, 300), Point(90, 300)
    edges = [
        Edge("hem", line(Point(0, 0), Point(200, 0)), "hem"),
        Edge("side", line(Point(200, 0), Point(200, 300))),
        Edge("waist", line(Point(200, 300), right), "waist"),
        Edge("mouth", line(right, left), "dart"),
        Edge("waist", line(left, Point(0, 300)), "waist"),
        Edge("centre", line(Point(0, 300), Point(0, 0))),
    ]
    d = Draft(BLOCK, "Panel")
    d.piece("panel", edges, darts=[Dart("dart", Point(100, 180), "mouth", "end", "pressed left")])
    return d.pattern()


@pytest.mark.parametrize(
    "run", [(SIDE, WAIST, CENTRE), (-CENTRE, -WAIST, -SIDE), (WAIST, CENTRE), (-WAIST, -SIDE)]
)
def test_an_edge_with_a_dart_in_it_goes_on_from_its_last_stretch(panel: Pattern, run) -> None:
    long = {WAIST.edge: 180.0, SIDE.edge: 300.0, CENTRE.edge: 300.0}
    assert walk(panel, run).length == pytest.approx(sum(long[way.edge] for way in run))


def test_edges_apart_are_named(panel: Pattern) -> None:
    with pytest.raises(PatternError) as apart:
        walk(panel, (HEM, WAIST))
    assert str(apart.value) == "'waist' does not follow 'hem'"
