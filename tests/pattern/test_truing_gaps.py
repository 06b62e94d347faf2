"""Edges are trued over seams that meet; over a gap there is no line to draw."""

from __future__ import annotations

import pytest

from blockwright import GeometryError, Part, Point, lay_line, true_line

LEFT = Part([Point(0.0, 0.0), Point(50.0, 4.0), Point(100.0, 10.0)])


def right(gap: Point) -> Part:
    """What goes on from there, off by `gap`."""
    return Part([LEFT.marks[-1] + gap, Point(150.0, 12.0), Point(200.0, 10.0)])


@pytest.mark.parametrize("draw", [lay_line, true_line])
@pytest.mark.parametrize(
    ("gap", "says"),
    [
        (Point(5.0, 0.0), "a gap of 5 mm"),
        (Point(-5.0, 0.0), "a gap of 5 mm"),
        (Point(3.0, -4.0), "a gap of 5 mm"),
        (Point(0.0, 0.1), r"a gap of 0\.1 mm"),
        (Point(0.0011, 0.0), r"a gap of 0\.0011 mm"),
    ],
)
def test_parts_with_a_gap_between_them_are_refused(draw, gap: Point, says: str) -> None:
    """However small, it would be drawn over: common practice, no source, is to pin the seam."""
    with pytest.raises(GeometryError, match=f"do not meet: {says}"):
        draw([LEFT, right(gap)])
    with pytest.raises(GeometryError, match=f"do not meet: {says}"):
        draw([Part([Point(-50.0, -9.0), LEFT.marks[0]]), LEFT, right(gap)])


def test_a_thousandth_of_a_millimetre_is_no_gap() -> None:
    first, second = true_line([LEFT, right(Point(9e-4, 0.0))])
    assert first.end == second.start == LEFT.marks[-1]
