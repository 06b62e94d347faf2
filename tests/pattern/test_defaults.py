"""What promises and names are where nothing more is said, and what a twin needs."""

from __future__ import annotations

import pytest

from blockwright import Draft, Edge, Piece, Point, Ref, line, polyline
from blockwright.pattern.promises.corner import CornerAngle
from blockwright.pattern.promises.twin import Twin
from blockwright.pattern.ref import Joint

BLOCK = "test.strip"


def test_a_corner_runs_on_smoothly_unless_it_has_an_angle() -> None:
    top = polyline([Point(200, 40), Point(0, 40), Point(0, 0)])
    edges = [
        Edge("left hem", line(Point(0, 0), Point(100, 0)), "hem"),
        Edge("right hem", line(Point(100, 0), Point(200, 0)), "hem"),
        Edge("end", line(Point(200, 0), Point(200, 40))),
        Edge("rest", top),
    ]
    d = Draft(BLOCK, "Strip")
    d.piece("strip", edges)
    left, right, end = (Ref(BLOCK, name) for name in ("left hem", "right hem", "end"))
    for first, second, held in ((left, right, True), (right, end, False)):
        promise = CornerAngle(Ref(BLOCK, "smooth"), (Joint(first, second),))
        (result,) = promise.measure(d.pattern())
        assert result.held == held


@pytest.mark.parametrize(
    ("word", "label"), [("", "sleeve"), ("sleeve", "sleeve"), ("blouse", "blouse sleeve")]
)
def test_a_piece_that_is_called_as_its_block_is_not_called_so_twice(word: str, label: str) -> None:
    at = Point(0, 0)
    assert Piece("sleeve", (), (at, at), at, word=word).label == label


@pytest.mark.parametrize(
    ("cut", "fold", "mirrored", "copies"),
    [(2, True, False, 2.0), (2, False, True, 2.0), (2, False, False, 1.0), (1, True, False, 1.0)],
)
def test_a_twin_needs_its_mirror_image(cut: int, fold: bool, mirrored: bool, copies) -> None:
    """A piece on the fold is its own, and one cut in mirrored pairs has it in the other."""
    at = [Point(0, 0), Point(100, 0), Point(0, 100), Point(0, 0)]
    roles = ("seam", "seam", "fold" if fold else "seam")
    edges = [Edge(f"{i}", line(*at[i : i + 2]), role) for i, role in enumerate(roles)]
    d = Draft(BLOCK, "Strip")
    d.piece("strip", edges, cut=cut, mirrored=mirrored)
    (result,) = Twin(Ref(BLOCK, "twin"), Ref(BLOCK, "1")).measure(d.pattern())
    assert result.measured == copies
