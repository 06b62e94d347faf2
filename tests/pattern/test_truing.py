"""One line over several parts: what each needs, and what is left of it when it is cut apart."""

from __future__ import annotations

import pytest

from blockwright import Affine, GeometryError, Part, Point, lay_line, true_line

FRONT = Part([Point(0.0, 0.0), Point(60.0, 5.0), Point(100.0, 10.0)])
BACK = Part([Point(600.0, 10.0), Point(700.0, 0.0)], Affine.move(Point(-500.0, 0.0)))


def test_a_line_cut_apart_is_as_long_as_the_whole() -> None:
    laid = lay_line([FRONT, BACK])
    front, back = laid.curves()
    assert front.length + back.length == pytest.approx(laid.length, rel=2e-6)
    assert (front.start, front.end) == (FRONT.marks[0], FRONT.marks[-1])
    assert (back.start.x, back.end.x) == pytest.approx((600.0, 700.0))


@pytest.mark.parametrize("draw", [lay_line, true_line])
@pytest.mark.parametrize(
    ("parts", "says"),
    [
        ([FRONT, Part(BACK.marks[:1], BACK.lay)], "part 2 of a line .* or more, not 1"),
        ([FRONT, Part([])], "part 2 of a line .* or more, not 0"),
        ([Part(FRONT.marks[-1:]), BACK], "part 1 of a line .* or more, not 1"),
        ([Part([]), BACK], "part 1 of a line .* or more, not 0"),
        ([FRONT, Part(BACK.marks)], "do not meet: a gap of 500 mm"),
        ([], "two marks or more, not 0"),
    ],
)
def test_parts_that_no_line_is_laid_over(draw, parts: list[Part], says: str) -> None:
    with pytest.raises(GeometryError, match=says):
        draw(parts)
