"""The Euler-spiral spline: curvature runs linearly along the curve between marks.

Source: Raph Levien, *From Spiral to Spline: Optimal Techniques in Interactive Curve Design*,
PhD thesis, UC Berkeley, 2009, chapters 7 and 8.

Each span is written over t in 0..1 as the tangent angle relative to its chord
    phi(t) = alpha (1 - t) + beta t + shape (t^2 - t).
Span i must close on its chord, integral sin(phi) = 0, and hand its end curvature on to the
next span.  Unknown are the tangent angle at each mark and the shape of each span; Newton's
method solves all of them at once.  A span's shape is eliminated from its own equation, so
each step costs one tridiagonal solve.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from blockwright.curves._numpy import np
from blockwright.errors import GeometryError

# Sixteen Gauss-Legendre nodes integrate a span turning 120 degrees to 1e-15 of its chord; ten
# are enough below that, and the cost hardly differs.
NODES = 16
# Newton settles in 3 to 5 steps on marks a cutter would lay; a set that needs more than this
# is not settling at all.
MAX_STEPS = 60
# Residuals are angles; 1e-13 is a few units in the last place of an angle of one radian.
SETTLED = 1e-12
# A longer step than this (radians) can jump to another branch, a curve with a loop.
LONGEST_STEP = 0.7
# A tangent further from its chord than this means the span curls round its own chord: marks
# that ask for it (hairpins, doubling back) have no one fair curve.  120 degrees is the circle
# through marks 240 degrees apart.
WIDEST = math.radians(120.0)


@dataclass(frozen=True, slots=True)
class Span:
    """One Euler-spiral arc from mark to mark; angles in radians from its chord."""

    chord: float
    direction: float
    alpha: float
    beta: float
    shape: float
    length: float

    @property
    def start_curvature(self) -> float:
        return (self.beta - self.alpha - self.shape) / self.length

    @property
    def end_curvature(self) -> float:
        return (self.beta - self.alpha + self.shape) / self.length


@cache
def gauss() -> tuple[np.ndarray, np.ndarray]:
    """Nodes and weights on 0..1."""
    nodes, weights = np.polynomial.legendre.leggauss(NODES)
    return (nodes + 1.0) / 2.0, weights / 2.0


@cache
def _tables() -> tuple[np.ndarray, np.ndarray]:
    """(3, NODES) basis of phi, and (NODES, 4) weights of the moments 1, 1-t, t, t^2-t."""
    t, w = gauss()
    basis = np.array([1.0 - t, t, t * t - t])
    return basis, np.column_stack([w, w * basis[0], w * basis[1], w * basis[2]])


def _wrap(angle: float) -> float:
    """The same direction in -pi..pi."""
    return math.remainder(angle, math.tau)


def solve(
    points: Sequence[tuple[float, float]],
    start: float | None = None,
    end: float | None = None,
) -> list[Span]:
    """The spline through `points`; `start` and `end` fix the tangent direction there (radians).

    A free end span is a circular arc (its curvature stands still), so marks on a circle give
    the circle.  Raises GeometryError when the marks have no one fair curve.
    """
    chords = []
    directions = []
    for (x0, y0), (x1, y1) in zip(points, points[1:], strict=False):
        chords.append(math.hypot(x1 - x0, y1 - y0))
        directions.append(math.atan2(y1 - y0, x1 - x0))
    turns = [_wrap(b - a) for a, b in zip(directions, directions[1:], strict=False)]
    # Angles run on without wrapping: every chord is measured from the one before it.
    running = [directions[0]]
    for turn in turns:
        running.append(running[-1] + turn)
    theta = _first_guess(chords, running, turns, start, end)
    shape = [3.0 * (theta[i] + theta[i + 1] - 2.0 * running[i]) for i in range(len(chords))]
    _settle(chords, running, theta, shape, start is not None, end is not None)
    return _spans(chords, running, theta, shape)


def _first_guess(
    chords: list[float],
    running: list[float],
    turns: list[float],
    start: float | None,
    end: float | None,
) -> list[float]:
    """Tangents of the circle through each mark and its neighbours."""
    theta = [0.0] * (len(chords) + 1)
    for i, turn in enumerate(turns):
        theta[i + 1] = running[i] + turn * chords[i] / (chords[i] + chords[i + 1])
    first, last = running[0], running[-1]
    if start is not None:
        theta[0] = first + _wrap(start - first)
    if end is not None:
        theta[-1] = last + _wrap(end - last)
    # A free end mirrors its neighbour's tangent about the chord, as on a circle.
    if start is None:
        theta[0] = 2.0 * first - theta[1] if len(chords) > 1 or end is not None else first
    if end is None:
        theta[-1] = 2.0 * last - theta[-2]
    return theta


def _settle(
    chords: list[float],
    running: list[float],
    theta: list[float],
    shape: list[float],
    fixed_start: bool,
    fixed_end: bool,
) -> None:
    """Newton's method, in place on `theta` and `shape`."""
    n = len(chords)
    basis, moments = _tables()
    for _ in range(MAX_STEPS):
        coefficients = [
            (theta[i] - running[i], theta[i + 1] - running[i], shape[i]) for i in range(n)
        ]
        phi = np.array(coefficients) @ basis
        sines = (np.sin(phi) @ moments).tolist()
        cosines = (np.cos(phi) @ moments).tolist()
        # Per span: curvature at both ends, its derivatives by alpha and beta, and the change of
        # shape that closes the span: shape moves by s0 + sa d(alpha) + sb d(beta).
        rows = []
        worst = 0.0
        for i in range(n):
            alpha, beta, bend = coefficients[i]
            closing, sin_a, sin_b, sin_s = sines[i]
            cosine, cos_a, cos_b, cos_s = cosines[i]
            if cosine <= 0.0 or cos_s == 0.0:
                raise GeometryError(_no_curve(i))
            s0, sa, sb = -closing / cos_s, -cos_a / cos_s, -cos_b / cos_s
            per_length = cosine / chords[i]
            turn = beta - alpha
            k0, k1 = (turn - bend) * per_length, (turn + bend) * per_length
            # d(cosine)/d(alpha) = -sin moments, with the shape following.
            grow_a = -(sin_a + sin_s * sa) / cosine
            grow_b = -(sin_b + sin_s * sb) / cosine
            grow_0 = -sin_s * s0 / cosine
            rows.append(
                (
                    k0 - s0 * per_length + k0 * grow_0,
                    (-1.0 - sa) * per_length + k0 * grow_a,
                    (1.0 - sb) * per_length + k0 * grow_b,
                    k1 + s0 * per_length + k1 * grow_0,
                    (-1.0 + sa) * per_length + k1 * grow_a,
                    (1.0 + sb) * per_length + k1 * grow_b,
                    s0,
                    sa,
                    sb,
                )
            )
            worst = max(worst, abs(closing))
        # Tridiagonal system in the changes of theta.
        low, mid, up, right = [0.0], [1.0], [0.0], [0.0]
        if not fixed_start:  # shape + its change = 0: a circular arc
            *_, s0, sa, sb = rows[0]
            if n > 1 or fixed_end:
                mid[0], up[0], right[0] = sa, sb, -(shape[0] + s0)
                worst = max(worst, abs(shape[0]))
        for i in range(1, n):
            _, _, _, k1, k1a, k1b, *_ = rows[i - 1]
            k0, k0a, k0b, *_ = rows[i]
            weight = chords[i - 1] * chords[i] / (chords[i - 1] + chords[i])
            low.append(k1a * weight)
            mid.append((k1b - k0a) * weight)
            up.append(-k0b * weight)
            right.append((k0 - k1) * weight)
            worst = max(worst, abs(right[-1]))
        low.append(0.0)
        mid.append(1.0)
        up.append(0.0)
        right.append(0.0)
        if not fixed_end:
            *_, s0, sa, sb = rows[-1]
            if n > 1 or fixed_start:
                low[n], mid[n], right[n] = sa, sb, -(shape[-1] + s0)
                worst = max(worst, abs(shape[-1]))
            else:
                low[n], mid[n] = 1.0, 1.0
        if worst < SETTLED:
            return
        step = _tridiagonal(low, mid, up, right)
        largest = max(map(abs, step))
        if not largest < math.inf:
            break
        damp = min(1.0, LONGEST_STEP / largest) if largest > 0.0 else 1.0
        for i in range(n):
            *_, s0, sa, sb = rows[i]
            shape[i] += damp * (s0 + sa * step[i] + sb * step[i + 1])
        for i in range(n + 1):
            theta[i] += damp * step[i]
    raise GeometryError("no fair curve settles through these marks: some turn too sharply; ")


def _tridiagonal(
    low: list[float], mid: list[float], up: list[float], right: list[float]
) -> list[float]:
    """Thomas's elimination; `low[0]` and `up[-1]` are not used."""
    n = len(mid)
    ratio = [0.0] * n
    out = [0.0] * n
    pivot = mid[0]
    for i in range(n):
        if i:
            pivot = mid[i] - low[i] * ratio[i - 1]
        if pivot == 0.0:
            return [math.inf] * n
        ratio[i] = up[i] / pivot
        out[i] = (right[i] - (low[i] * out[i - 1] if i else 0.0)) / pivot
    for i in range(n - 2, -1, -1):
        out[i] -= ratio[i] * out[i + 1]
    return out


def _no_curve(i: int) -> str:
    return (
        f"no fair curve between mark {i + 1} and mark {i + 2}: "
        "the marks double back; add a mark or split the curve there"
    )


def _spans(
    chords: list[float], running: list[float], theta: list[float], shape: list[float]
) -> list[Span]:
    basis, moments = _tables()
    coefficients = [
        (theta[i] - running[i], theta[i + 1] - running[i], shape[i]) for i in range(len(chords))
    ]
    cosines = (np.cos(np.array(coefficients) @ basis) @ moments[:, 0]).tolist()
    return [
        Span(chord, direction, *c, chord / cosine)
        for chord, direction, c, cosine in zip(chords, running, coefficients, cosines, strict=True)
    ]
