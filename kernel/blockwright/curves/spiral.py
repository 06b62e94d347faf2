"""The Euler-spiral spline: curvature runs linearly along the curve between marks.

Source: Raph Levien, *From Spiral to Spline: Optimal Techniques in Interactive Curve Design*,
PhD thesis, UC Berkeley, 2009, chapters 7 and 8.

The tangent angle of a span, relative to its chord, is for t in 0..1
    phi(t) = alpha (1 - t) + beta t + shape (t^2 - t).
A span must close on its chord: the integral of sin(phi) is 0.  Its curvature at the end must be
that of the next span at its start.  The tangent angle at each mark and the shape of each span are
unknown.  Newton's method finds all of them together.  The closing of a span eliminates its shape,
so each step solves one tridiagonal system.
"""

from __future__ import annotations

import itertools
import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from typing import NamedTuple

from blockwright.curves._numpy import np
from blockwright.errors import GeometryError

# Sixteen Gauss-Legendre nodes integrate a span that turns by 120 degrees to 1e-15 of its chord.
NODES = 16
# Newton's method settles in 3 to 5 steps on marks that a cutter would lay.  Marks that need more
# steps than this do not settle.
MAX_STEPS = 60
# Residuals are angles.  They are settled at this share of the sharpest turn, so that nearly
# straight marks are fitted as well as others, or at ROUNDING, the rounding of angles, if that is
# more.
SETTLED = 1e-12
ROUNDING = 2e-14
# A longer step than this, radians, can jump to another solution, a curve with a loop.
LONGEST_STEP = 0.7
# Each step squares the error.  After a step this small, radians, the next one is only rounding.
LAST_STEP = 3e-7
# Marks that turn by more than this double back.  Near 180 degrees nothing decides whether the curve
# goes round to the left or to the right.  The same holds for an end tangent that points back.
SHARPEST = math.radians(150.0)
# The direction may vary by this much within one span.  A span that varies more has curled round.  A
# circle that turns by 240 degrees is 2.42 times as long as its chord, and no other span within the
# limit is longer.  The other spirals with the same tangents vary by more than 390 degrees.  A part
# of a span varies less than the whole, so a mark added on a good curve leaves it good.
MOST_TURNING = math.radians(240.0)


class SpiralSpan(NamedTuple):
    """One arc of an Euler spiral from mark to mark.  Angles are in radians from its chord."""

    chord: float
    direction: float
    alpha: float
    beta: float
    shape: float
    length: float

    @property
    def start_curvature(self) -> float:
        """The curvature at its start, 1/mm, positive if it turns left."""
        return (self.beta - self.alpha - self.shape) / self.length

    @property
    def end_curvature(self) -> float:
        """The curvature at its end, 1/mm, positive if it turns left."""
        return (self.beta - self.alpha + self.shape) / self.length

    @property
    def turning(self) -> float:
        """The range of its directions, radians."""
        across, shape = abs(self.beta - self.alpha), abs(self.shape)
        # With more shape than that the direction comes back on itself inside the span.
        return across if shape <= across else (shape + across) ** 2 / (4.0 * shape)


@cache
def gauss(count: int = NODES) -> tuple[np.ndarray, np.ndarray]:
    """The nodes and weights of Gauss's rule on 0..1."""
    nodes, weights = np.polynomial.legendre.leggauss(count)
    return (nodes + 1.0) / 2.0, weights / 2.0


@cache
def _tables() -> tuple[np.ndarray, np.ndarray]:
    """The basis of phi (3, NODES), and the weights (NODES, 4) of the moments 1, 1-t, t, t^2-t."""
    t, w = gauss()
    basis = np.array([1.0 - t, t, t * t - t])
    return basis, np.column_stack([w, w * basis[0], w * basis[1], w * basis[2]])


def _wrap(angle: float) -> float:
    """The same direction, in -pi..pi."""
    return math.remainder(angle, math.tau)


@dataclass(frozen=True, slots=True)
class _Marks:
    """The data: chords, their directions without jumps of a full turn, and fixed ends."""

    chords: list[float]
    running: list[float]
    turns: list[float]
    start: float | None
    end: float | None


def solve(
    points: Sequence[tuple[float, float]], start: float | None = None, end: float | None = None
) -> list[SpiralSpan]:
    """The spline through `points`.  `start` and `end` fix its directions there, radians.

    A free end span is a circular arc, so marks on a circle give the circle.  No span crosses
    itself: where the curvature only rises or only falls, each circle of curvature lies inside the
    last (A. Kneser, 1912).

    Raises GeometryError if the marks turn by more than 150 degrees at a mark, a span would vary by
    more than 240 degrees in direction, or no curve settles.
    """
    marks = _marks(points, start, end)
    theta = _first_guess(marks)
    shape = [
        3.0 * (before + after - 2.0 * chord)
        for before, after, chord in zip(theta, theta[1:], marks.running, strict=False)
    ]
    _settle(marks, theta, shape)
    spans = _spans(marks, theta, shape)
    for i, span in enumerate(spans):
        if span.turning > MOST_TURNING:
            raise GeometryError(
                f"no fair curve between mark {i + 1} and mark {i + 2}: it would curl round; "
                "add a mark or split the curve there"
            )
    return spans


def _marks(points: Sequence[tuple[float, float]], start: float | None, end: float | None) -> _Marks:
    chords = []
    directions = []
    for (x0, y0), (x1, y1) in itertools.pairwise(points):
        chords.append(math.hypot(x1 - x0, y1 - y0))
        directions.append(math.atan2(y1 - y0, x1 - x0))
    turns = [_wrap(b - a) for a, b in itertools.pairwise(directions)]
    running = list(itertools.accumulate(turns, initial=directions[0]))
    if start is not None:
        start = running[0] + _wrap(start - running[0])
    if end is not None:
        end = running[-1] + _wrap(end - running[-1])
    for i, turn in enumerate(turns):
        if abs(turn) > SHARPEST:
            raise GeometryError(
                f"the marks double back at mark {i + 2}, a turn of {math.degrees(abs(turn)):.0f} "
                "degrees: add marks around it or split the curve there"
            )
    for which, tangent, chord in (("start", start, running[0]), ("end", end, running[-1])):
        if tangent is not None and abs(tangent - chord) > SHARPEST:
            raise GeometryError(f"the {which} direction points back along the marks")
    return _Marks(chords, running, turns, start, end)


def _first_guess(marks: _Marks) -> list[float]:
    """The tangents of the circles through each mark and its neighbours."""
    chords, running = marks.chords, marks.running
    theta = [0.0] * (len(chords) + 1)
    for i, turn in enumerate(marks.turns):
        theta[i + 1] = running[i] + turn * chords[i] / (chords[i] + chords[i + 1])
    if marks.start is not None:
        theta[0] = marks.start
    if marks.end is not None:
        theta[-1] = marks.end
    # The tangent at a free end mirrors that of its neighbour about the chord, as on a circle.
    if marks.start is None:
        alone = len(chords) == 1 and marks.end is None
        theta[0] = running[0] if alone else 2.0 * running[0] - theta[1]
    if marks.end is None:
        theta[-1] = 2.0 * running[-1] - theta[-2]
    return theta


def _settle(marks: _Marks, theta: list[float], shape: list[float]) -> None:
    """Newton's method.  It changes `theta` and `shape`."""
    ends = ((marks.start, marks.running[0]), (marks.end, marks.running[-1]))
    angles = marks.turns + [end - chord for end, chord in ends if end is not None]
    enough = max(ROUNDING, SETTLED * max(map(abs, angles), default=0.0))
    for _ in range(MAX_STEPS):
        rows = _linear(marks, theta, shape)
        low, mid, up, right = _equations(marks, shape, rows)
        if max(map(abs, itertools.chain(right, (row.closing for row in rows)))) < enough:
            return
        step = _tridiagonal(low, mid, up, right)
        largest = max(map(abs, step))
        if not largest < math.inf:
            break
        damp = min(1.0, LONGEST_STEP / largest) if largest > 0.0 else 1.0
        reshape = [row.s0 + row.sa * step[i] + row.sb * step[i + 1] for i, row in enumerate(rows)]
        for i, change in enumerate(reshape):
            shape[i] += damp * change
        for i, change in enumerate(step):
            theta[i] += damp * change
        # A single span with both ends fixed changes only its shape.
        if max(map(abs, itertools.chain(step, reshape))) < LAST_STEP:
            return
    turn, mark = max((abs(turn), i + 2) for i, turn in enumerate([*marks.turns, 0.0]))
    raise GeometryError(
        f"no fair curve settles through these marks; the sharpest turn is {math.degrees(turn):.0f} "
        f"degrees at mark {mark}: add marks around it or split the curve there"
    )


class _Row(NamedTuple):
    """A span, and its derivatives by the tangent angles at its ends.

    It has the curvatures at both ends, and the change of shape that closes the span on its chord:
    s0 + sa d(alpha) + sb d(beta).  The derivatives include that change of shape.
    """

    closing: float
    k0: float
    k0a: float
    k0b: float
    k1: float
    k1a: float
    k1b: float
    s0: float
    sa: float
    sb: float


def _linear(marks: _Marks, theta: list[float], shape: list[float]) -> list[_Row]:
    _, moments = _tables()
    coefficients, phi = _angles(marks, theta, shape)
    sines = (np.sin(phi) @ moments).tolist()
    cosines = (np.cos(phi) @ moments).tolist()
    rows = []
    for i, (alpha, beta, bend) in enumerate(coefficients):
        closing, sin_a, sin_b, sin_s = sines[i]
        cosine, cos_a, cos_b, cos_s = cosines[i]
        if cosine <= 0.0 or cos_s == 0.0:
            raise GeometryError(
                f"no fair curve between mark {i + 1} and mark {i + 2}: the marks double back; "
                "add a mark or split the curve there"
            )
        s0, sa, sb = -closing / cos_s, -cos_a / cos_s, -cos_b / cos_s
        per_length = cosine / marks.chords[i]
        turn = beta - alpha
        k0, k1 = (turn - bend) * per_length, (turn + bend) * per_length
        # d(cosine)/d(alpha) = -sin moments, with the change of shape.
        grow_a = -(sin_a + sin_s * sa) / cosine
        grow_b = -(sin_b + sin_s * sb) / cosine
        grow_0 = -sin_s * s0 / cosine
        rows.append(
            _Row(
                closing,
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
    return rows


def _angles(
    marks: _Marks, theta: list[float], shape: list[float]
) -> tuple[list[tuple[float, float, float]], np.ndarray]:
    """Alpha, beta and shape of every span, and phi at Gauss's nodes (n, NODES)."""
    coefficients = [
        (before - chord, after - chord, bend)
        for before, after, chord, bend in zip(theta, theta[1:], marks.running, shape, strict=False)
    ]
    return coefficients, np.array(coefficients) @ _tables()[0]


def _equations(
    marks: _Marks, shape: list[float], rows: list[_Row]
) -> tuple[list[float], list[float], list[float], list[float]]:
    """The tridiagonal system for the changes of theta.  Its right side has the residuals."""
    n = len(rows)
    alone = n == 1 and marks.start is None and marks.end is None
    low, mid, up, right = [0.0], [1.0], [0.0], [0.0]
    if marks.start is None and not alone:  # shape + its change = 0, so a circular arc
        first = rows[0]
        mid[0], up[0], right[0] = first.sa, first.sb, -(shape[0] + first.s0)
    chords = marks.chords
    for i in range(1, n):
        before, after = rows[i - 1], rows[i]
        weight = chords[i - 1] * chords[i] / (chords[i - 1] + chords[i])
        low.append(before.k1a * weight)
        mid.append((before.k1b - after.k0a) * weight)
        up.append(-after.k0b * weight)
        right.append((after.k0 - before.k1) * weight)
    last = rows[-1]
    if marks.end is None and not alone:
        low.append(last.sa)
        mid.append(last.sb)
        right.append(-(shape[-1] + last.s0))
    else:
        low.append(0.0)
        mid.append(1.0)
        right.append(0.0)
    up.append(0.0)
    return low, mid, up, right


def _tridiagonal(
    low: list[float], mid: list[float], up: list[float], right: list[float]
) -> list[float]:
    """The solution by Thomas's elimination.  `low[0]` and `up[-1]` are not used."""
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


def _spans(marks: _Marks, theta: list[float], shape: list[float]) -> list[SpiralSpan]:
    coefficients, phi = _angles(marks, theta, shape)
    cosines = (np.cos(phi) @ _tables()[1][:, 0]).tolist()
    return [
        SpiralSpan(chord, direction, *c, chord / cosine)
        for chord, direction, c, cosine in zip(
            marks.chords, marks.running, coefficients, cosines, strict=True
        )
    ]
