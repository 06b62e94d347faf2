"""Curves beside the libraries that do the same: medians and ratios, side by side in one run."""

from __future__ import annotations

import statistics
import time
from collections.abc import Callable

import cadquery as cq
import numpy as np
import pytest
from scipy.interpolate import CubicSpline

from blockwright import Curve, fair_curve

# Nine marks like those of a sleeve cap, 340 by 150 mm.
CAP = [
    (0.0, 0.0), (30.0, 8.0), (75.0, 45.0), (110.0, 110.0), (170.0, 150.0),
    (230.0, 112.0), (265.0, 50.0), (310.0, 10.0), (340.0, 0.0),
]  # fmt: skip
ROUNDS, IN_A_ROW = 40, 10


def side_by_side(ours: Callable[[], object], theirs: Callable[[], object]) -> tuple[float, float]:
    """Median microseconds of both, timed in turns, some in a row."""
    times: tuple[list[float], list[float]] = ([], [])
    for call in (ours, theirs):
        call()
    for _ in range(ROUNDS):
        for call, kept in zip((ours, theirs), times, strict=True):
            for _ in range(IN_A_ROW):
                begin = time.perf_counter()
                call()
                kept.append((time.perf_counter() - begin) * 1e6)
    return statistics.median(times[0]), statistics.median(times[1])


def nine_pieces() -> np.ndarray:
    """Control points of a chain of nine Bézier pieces."""
    drawn = fair_curve([*CAP, (390.0, 20.0)])
    at = np.linspace(0.0, drawn.length, 10)
    pieces = [drawn.part(float(a), float(b)) for a, b in zip(at, at[1:], strict=False)]
    ends = np.array([(*p.start, *p.end) for p in pieces])
    ways = np.array([(*p.start_tangent, *p.end_tangent) for p in pieces])
    reach = np.array([[p.length / 3.0] for p in pieces])
    first, last = ends[:, :2], ends[:, 2:]
    return np.stack([first, first + ways[:, :2] * reach, last - ways[:, 2:] * reach, last], axis=1)


@pytest.mark.bench
def test_fair_curve_beside_a_cubic_spline() -> None:
    marks = np.array(CAP)

    def spline() -> None:
        knots = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(marks, axis=0).T))])
        CubicSpline(knots, marks)

    ours, theirs = side_by_side(lambda: fair_curve(CAP), spline)
    print(f"\nfair_curve, 9 marks: {ours:.0f} us; CubicSpline {theirs:.0f} us; {ours / theirs:.2f}")
    assert ours <= 3.0 * theirs


@pytest.mark.bench
@pytest.mark.parametrize("what", ["length", "100 parts"])
def test_measuring_beside_cadquery(what: str) -> None:
    control = nine_pieces()
    wire = cq.Wire.assembleEdges(
        [cq.Edge.makeBezier([cq.Vector(*p) for p in piece]) for piece in control]
    )
    shares = np.linspace(0.0, 1.0, 101).tolist()
    if what == "length":
        assert Curve(control).length == pytest.approx(wire.Length(), rel=1e-7)
        ours, theirs = side_by_side(lambda: Curve(control).length, wire.Length)
    else:
        places = np.array([(v.x, v.y) for v in wire.positions(shares)])
        divided = np.array([tuple(p) for p in Curve(control).divide(100)])
        assert np.abs(places - divided).max() < 1e-4
        ours, theirs = side_by_side(
            lambda: Curve(control).divide(100), lambda: wire.positions(shares)
        )
    print(f"\n{what} of nine pieces: {ours:.0f} us; cadquery {theirs:.0f} us; {theirs / ours:.1f}")
    if what == "length":
        # A length alone takes both some tens of microseconds: no slower than twice is enough.
        assert ours <= 2.5 * theirs
    else:
        assert theirs >= 10.0 * ours


@pytest.mark.bench
def test_length_and_parts_together_beside_cadquery() -> None:
    """What dividing an edge takes: its length, then the hundred places."""
    control = nine_pieces()
    wire = cq.Wire.assembleEdges(
        [cq.Edge.makeBezier([cq.Vector(*p) for p in piece]) for piece in control]
    )
    shares = np.linspace(0.0, 1.0, 101).tolist()

    def measured() -> None:
        curve = Curve(control)
        curve.divide(100)
        assert curve.length > 0.0

    def theirs() -> None:
        wire.Length()
        wire.positions(shares)

    a, b = side_by_side(measured, theirs)
    print(f"\nlength and 100 parts of nine pieces: {a:.0f} us; cadquery {b:.0f} us; {b / a:.1f}")
    assert b >= 10.0 * a
