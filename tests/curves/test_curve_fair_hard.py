"""Marks that no cutter would lay: the promises hold, or a plain refusal comes."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest
from curve_samples import CAP, Marks, random_marks
from fair_measures import Fit, control_gap

from blockwright.curves.fair import fair_curve
from blockwright.curves.intersect import self_crossings
from blockwright.curves.point import Point
from blockwright.errors import GeometryError
from parts import thinned

REFUSALS = re.compile(
    r"the marks double back at mark \d+, a turn of \d+ degrees: add marks around it or split.*"
    r"|marks \d+ and \d+ are at the same place(, \S+ mm apart)?: leave one out"
    r"|no fair curve between mark \d+ and mark \d+: (it would curl round|the marks double back).*"
    r"|no fair curve settles through these marks; the sharpest turn is \d+ degrees at mark \d+.*"
    r"|the (start|end) direction points back along the marks"
)
# No stretch is longer than the arc of 240 degrees, and its direction varies by no more.
LONGEST = 4.0 * math.pi / 3.0 / math.sqrt(3.0)


def refused(fit: Fit) -> bool:
    """Whether no curve came; the message must be one of the known ones."""
    message = ""
    try:
        fit.spans, fit.curve  # noqa: B018 - fitted here, and kept
    except GeometryError as error:
        message = str(error)
    assert not message or REFUSALS.fullmatch(message)
    return bool(message)


def holds_or_refuses(fit: Fit) -> bool:
    """Whether a curve came; the promises are checked on it."""
    if refused(fit):
        return False
    assert fit.off_the_marks() < 1e-6
    assert fit.off_the_tangents() < 1e-6
    assert fit.tangent_jump() < 1e-6
    assert fit.span_jump() < 1e-6
    assert fit.chain_jump() < 0.01
    assert fit.wobble() < 0.01
    assert fit.off_the_spirals() < 5e-6
    assert max(span.length / span.chord for span in fit.spans) < LONGEST * (1.0 + 1e-9)
    assert max(span.turning for span in fit.spans) < math.radians(240.0 + 1e-6)
    assert control_gap(fit.reversed().curve.reversed(), fit.curve) < 1e-6
    return True


def a_new_mark_leaves_it(fit: Fit, distance: float) -> bool:
    """Whether the curve with one more mark came; it must then be the same."""
    again = fit.with_mark_at(distance)
    if refused(again):
        return False
    assert fit.strays(again.curve) < 0.01
    return True


# How many of the four hundred must come, and what share of those with a mark more.
@pytest.mark.parametrize(
    ("turning", "drawn", "again_share"),
    thinned([(90.0, 400, 1.0), (120.0, 392, 1.0), (180.0, 152, 0.98)]),
)
def test_ugly_marks(turning: float, drawn: int, again_share: float) -> None:
    random = np.random.default_rng(int(turning))
    came = again = 0
    for marks, start, end in random_marks(400, seed=99, turning=turning):
        fit = Fit(marks, start, end)
        if holds_or_refuses(fit):
            came += 1
            again += a_new_mark_leaves_it(fit, random.uniform(0.02, 0.98) * fit.curve.length)
    print(f"turning {turning:.0f}: {came} of 400 drawn, {again} of them with one more mark")
    assert came >= drawn
    assert again >= again_share * came


@pytest.mark.parametrize("gap", [10.0**-k for k in range(1, 10)])
def test_near_coincident_marks(gap: float) -> None:
    random = np.random.default_rng(round(-math.log10(gap)))
    came = 0
    for marks, start, end in random_marks(100, seed=7):
        i = int(random.integers(1, len(marks)))
        (x0, y0), (x, y) = marks[i - 1], marks[i]
        heading = math.atan2(y - y0, x - x0) + random.uniform(-1.0, 1.0)
        twin = (x + gap * math.cos(heading), y + gap * math.sin(heading))
        came += holds_or_refuses(Fit([*marks[: i + 1], twin, *marks[i + 1 :]], start, end))
    # A thousandth of a millimetre in some 400 mm is told apart, a ten-thousandth is not.
    assert came == 100 if gap > 1e-3 else came > 90 if gap == 1e-3 else came == 0


@pytest.mark.parametrize("index", range(len(CAP)))
def test_a_mark_laid_twice_is_named(index: int) -> None:
    with pytest.raises(GeometryError, match=f"marks {index + 1} and {index + 2} are at the same"):
        fair_curve([*CAP[: index + 1], *CAP[index:]])


@pytest.mark.parametrize("width", [80.0, 20.0, 5.0, 1.0, 0.01])
@pytest.mark.parametrize("top", [1, 2, 5])
def test_hairpins(width: float, top: int) -> None:
    """Up one side and down the other, with one mark or more at the turn.

    One mark alone turns by 150 degrees where the hairpin is 73 wide.
    """
    angles = np.linspace(math.pi, 0.0, top) if top > 1 else np.array([math.pi / 2.0])
    bend = [(width / 2.0 * math.cos(a), 100.0 + width / 2.0 * math.sin(a)) for a in angles]
    marks: Marks = [(-width / 2.0, 0.0), *bend, (width / 2.0, 0.0)]
    came = holds_or_refuses(Fit(marks, None, None))
    assert came == (top > 1 or width > 73.0)


@pytest.mark.parametrize("turns", [0.5, 1.0, 3.0])
@pytest.mark.parametrize("marks_a_turn", [3, 4, 6, 20])
def test_tight_spirals(turns: float, marks_a_turn: int) -> None:
    """Winding in to a tenth of the radius each turn."""
    angle = np.arange(0.0, turns * math.tau + 1e-9, math.tau / marks_a_turn)
    radius = 100.0 * 10.0 ** (-angle / math.tau)
    marks = [
        (float(r * math.cos(a)), float(r * math.sin(a))) for r, a in zip(radius, angle, strict=True)
    ]
    came = len(marks) > 1 and holds_or_refuses(Fit(marks, None, None))
    assert came or marks_a_turn == 3 or len(marks) < 2


@pytest.mark.parametrize("back", [100.0, 60.0, 20.0])
def test_doubling_back_on_a_line_is_refused(back: float) -> None:
    with pytest.raises(GeometryError, match="double back at mark 2, a turn of 180 degrees"):
        fair_curve([(0.0, 0.0), (100.0, 0.0), (100.0 - back, 0.0)])


def test_two_marks_with_wild_directions() -> None:
    drawn = 0
    for first in range(-175, 176, 14):
        for last in range(-175, 176, 14):
            start, end = (Point.polar(1.0, math.radians(a)) for a in (first, last))
            fit = Fit([(20.0, 10.0), (120.0, 10.0)], start, end)
            came = holds_or_refuses(fit)
            assert came or max(abs(first), abs(last)) > 90
            drawn += came
    print(f"{drawn} of {26 * 26} drawn")
    assert drawn > 26 * 26 / 3


@pytest.mark.parametrize(
    ("first", "last"),
    [(119.0, -119.0), (119.0, 119.0), (140.0, 100.0), (30.0, 145.0), (145.0, -60.0)],
)
def test_a_span_does_not_cross_itself(first: float, last: float) -> None:
    """The fullest C, the fullest S, and what lies between."""
    start, end = (Point.polar(1.0, math.radians(a)) for a in (first, last))
    assert self_crossings([fair_curve([(0.0, 0.0), (100.0, 0.0)], start, end)]) == ()
