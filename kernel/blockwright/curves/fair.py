"""The fair curve through marks: what a cutter draws with a French curve."""

from __future__ import annotations

import itertools
import math
from collections.abc import Iterable, Sequence

from blockwright.curves import spiral
from blockwright.curves._numpy import np
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point
from blockwright.errors import GeometryError

# Marks nearer than this share of the longest chord are one mark laid twice: their direction is
# noise, and the curve would take it for a bend.
SAME_MARK = 1e-9
# Each spiral is written in equal parts, as many as keep the Bézier pieces within this share of
# the span's length of it: half a micrometre on a span of 100 mm.  It depends on angles only, so
# that the same marks at another scale give the same curve.
CHAIN_ERROR = 5e-6


def fair_curve(
    marks: Iterable[Point | Sequence[float]],
    start: Point | None = None,
    end: Point | None = None,
) -> Curve:
    """The fair curve through every mark in order.

    `marks`: two or more places, mm.  `start`, `end`: direction of travel at the first and last
    mark, any length; left out, the end spans are arcs of a circle.

    Between marks the curvature runs linearly along the curve, so it has no jump at a mark and
    no extremum between marks; a mark added on the curve leaves it where it was; marks on a
    circle give the circle, on a line the line.  The Bézier chain returned keeps within 5e-6 of
    each span's length of that curve, its tangents exactly.

    Raises GeometryError when there are fewer than two marks, two neighbours are one place, or
    the marks double back so that no one fair curve passes through them.
    Source: R. Levien, *From Spiral to Spline*, 2009.
    """
    points = [_pair(mark) for mark in marks]
    _check(points)
    spans = spiral.solve(points, _angle(start, "start"), _angle(end, "end"))
    for i, span in enumerate(spans):
        if max(abs(span.alpha), abs(span.beta)) > spiral.WIDEST:
            raise GeometryError(
                f"no fair curve between mark {i + 1} and mark {i + 2}: it would curl round "
                "its own chord; the marks double back, add one or split the curve there"
            )
    return Curve(bezier_chain(points, spans))


def _pair(mark: Point | Sequence[float]) -> tuple[float, float]:
    x, y = mark
    return float(x), float(y)


def _angle(direction: Point | None, which: str) -> float | None:
    if direction is None:
        return None
    if not math.isfinite(direction.x + direction.y) or direction == Point(0.0, 0.0):
        raise GeometryError(f"the {which} direction {direction} points nowhere")
    return direction.angle


def _check(points: list[tuple[float, float]]) -> None:
    if len(points) < 2:
        raise GeometryError(f"a curve needs two marks or more, not {len(points)}")
    for i, (x, y) in enumerate(points):
        if not math.isfinite(x + y):
            raise GeometryError(f"mark {i + 1} is not a place: ({x}, {y})")
    chords = [math.dist(a, b) for a, b in itertools.pairwise(points)]
    least = SAME_MARK * max(chords)
    for i, chord in enumerate(chords):
        if chord <= least:
            raise GeometryError(f"marks {i + 1} and {i + 2} are at the same place: leave one out")


def _parts(span: spiral.Span) -> int:
    """How many Bézier pieces a span needs.

    The error law was fitted to pieces with turning up to 0.8 and shape up to 0.8 rad, whose
    handles are (4/3) tan(turning / 4): exact to sixth order for an arc, to third in the change
    of curvature.  In k parts the turning falls with k, the shape with k squared.
    """
    shape = abs(span.shape)
    turning = abs(span.beta - span.alpha) + shape
    error = 2e-3 * shape * turning * (turning + shape) + 8e-5 * shape**3 + 3e-5 * turning**5
    # The small number keeps round input (30 degrees exactly) from falling either way by rounding.
    return max(1, math.ceil((error / CHAIN_ERROR) ** 0.2 - 1e-6))


def bezier_chain(points: list[tuple[float, float]], spans: list[spiral.Span]) -> np.ndarray:
    """Control points (m, 4, 2) of the chain that follows the spans."""
    # One row a part: parameters at both ends and the span's own numbers.
    rows = []
    last = []
    for span in spans:
        k = _parts(span)
        for j in range(k):
            rows.append(
                (
                    j / k,
                    1.0 / k,
                    span.direction + span.alpha,
                    span.beta - span.alpha - span.shape,
                    span.shape,
                    span.length / k,
                )
            )
        last.append(len(rows) - 1)
    table = np.array(rows)
    t0, dt, angle, linear, square, length = table.T[:, :, None]
    nodes, weights = spiral.gauss()
    t = t0 + dt * nodes
    phi = angle + t * (linear + square * t)
    steps = np.stack([np.cos(phi) @ weights, np.sin(phi) @ weights], axis=1) * length
    ends = np.cumsum(steps, axis=0)
    marks = np.array(points)
    # Every span starts at its own mark, so that rounding does not add up along the chain.
    starts_at = np.repeat(np.arange(len(spans)), np.diff([-1, *last]))
    before = np.concatenate([[[0.0, 0.0]], ends[last[:-1]]])
    ends += (marks[:-1] - before)[starts_at]
    ends[last] = marks[1:]
    begins = np.concatenate([marks[:1], ends[:-1]])
    a0 = (angle + t0 * (linear + square * t0))[:, 0]
    t1 = t0 + dt
    a1 = (angle + t1 * (linear + square * t1))[:, 0]
    x = (a1 - a0) / 4.0
    # tan(x)/x without the hole at zero.
    small = np.abs(x) < 1e-4
    ratio = np.where(small, 1.0 + x * x / 3.0, np.tan(x) / np.where(small, 1.0, x))
    handle = (length[:, 0] / 3.0 * ratio)[:, None]
    return np.stack(
        [
            begins,
            begins + handle * np.column_stack([np.cos(a0), np.sin(a0)]),
            ends - handle * np.column_stack([np.cos(a1), np.sin(a1)]),
            ends,
        ],
        axis=1,
    )
