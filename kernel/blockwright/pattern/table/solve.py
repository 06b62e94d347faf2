"""Find the one free value that makes a promise true."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise

from blockwright.errors import GeometryError

# A hundred-thousandth of a millimetre leaves nothing for the tenth of the proof to hide.
SETTLED = 1e-5
# Chandrupatla's method needs about eight trials on a smooth measure; bisection alone needs 60.
MOST_TRIALS = 100
# Two trials this near (relative) are one: the measure has no finer answer there.
LEAST_STEP = 1e-15
# The secant rule from a good guess settles in three to five trials, or is not going to.
SECANT_TRIALS = 8
# When the ends do not enclose the target, look at this many places between them.
SCAN = 16


class Unreachable(GeometryError):  # noqa: N818  (what the answer is, not only that there is none)
    """No value gives the target; the measure runs from `least` to `most` over the range.

    `why`: what was raised where nothing could be drawn.
    """

    def __init__(self, least: float, most: float, why: str = "") -> None:
        self.least, self.most, self.why = least, most, why
        super().__init__(f"no value will do: the measure runs from {least:.4g} to {most:.4g}")


def solve(
    measure: Callable[[float], float],
    target: float,
    low: float,
    high: float,
    *,
    near: tuple[float, float] | None = None,
) -> float:
    """The value between `low` and `high` whose measure is within 1e-5 of the target.

    `near` is where the answer is expected and how fast the measure grows there: from such a
    guess the secant rule is tried first, which takes some four trials where enclosing the answer
    takes ten.  A value the draft cannot be drawn at (GeometryError) counts as giving nothing.
    When the target lies outside what the ends give, the range between is scanned for it.

    Value and measure are in units of your own; the tolerance is meant for mm.

    Raises Unreachable, a GeometryError with the range that is possible as `least` and `most` (nan,
    nan if nothing can be drawn).
    Source: T. R. Chandrupatla, *A new hybrid quadratic/bisection algorithm for finding the zero
    of a nonlinear function*, Advances in Engineering Software 28 (1997) 145-149.

    Example:
        >>> from math import pi
        >>> from blockwright import Point, arc, solve
        >>> def waist(radius):
        ...     return arc(Point(0, 0), radius, pi, 2.0 * pi).length
        >>> round(solve(waist, 700.0, 50.0, 500.0), 2)
        222.82
    """

    reasons: list[str] = []

    def over(value: float) -> float:
        try:
            return measure(value) - target
        except GeometryError as error:
            reasons[:] = [str(error)]
            return math.nan

    if near is not None:
        found = _secant(over, *near, low, high)
        if found is not None:
            return found
    a, b = low, high
    fa, fb = over(a), over(b)
    for end, off in ((a, fa), (b, fb)):
        if abs(off) <= SETTLED:
            return end
    if not fa * fb <= 0.0:
        a, fa, b, fb = _scan(over, target, low, high, reasons)
    # a is the newest trial, b encloses the root with it, c is the trial before.
    c, fc = a, fa
    share = 0.5
    for _ in range(MOST_TRIALS):
        if min(abs(fa), abs(fb)) <= SETTLED:
            return a if abs(fa) < abs(fb) else b
        if abs(b - a) <= LEAST_STEP * max(abs(a), abs(b)):
            break  # the measure jumps over the target here
        x = a + share * (b - a)
        fx = over(x)
        if math.isnan(fx):
            # Nothing can be drawn there: look for neighbours that enclose the target without it.
            a, fa, b, fb = _scan(over, target, min(a, b), max(a, b), reasons)
            c, fc, share = a, fa, 0.5
            continue
        if (fx < 0.0) == (fa < 0.0):
            c, fc = a, fa
        else:
            c, fc, b, fb = b, fb, a, fa
        a, fa = x, fx
        share = _next_share(a, fa, b, fb, c, fc)
    raise Unreachable(min(fa, fb) + target, max(fa, fb) + target)


def _secant(
    over: Callable[[float], float], near: float, rate: float, low: float, high: float
) -> float | None:
    """The secant rule from a guess; None as soon as it leaves the range or does not settle."""
    a = min(max(near, low), high)
    fa = over(a)
    for _ in range(SECANT_TRIALS):
        if abs(fa) <= SETTLED:
            return a
        if not rate:
            return None
        b = a - fa / rate
        if not low <= b <= high:
            return None
        fb = over(b)
        a, fa, rate = b, fb, (fb - fa) / (b - a)
    return None


def _next_share(a: float, fa: float, b: float, fb: float, c: float, fc: float) -> float:
    """How far from a to b to try next: inverse quadratic where that is safe, else half way."""
    if fa in (fb, fc) or fb == fc:
        return 0.5
    xi, phi = (a - b) / (c - b), (fa - fb) / (fc - fb)
    if not (phi * phi < xi and (1.0 - phi) ** 2 < 1.0 - xi):
        return 0.5
    share = fa / (fb - fa) * fc / (fb - fc) + (c - a) / (b - a) * fa / (fc - fa) * fb / (fc - fb)
    return min(max(share, 1e-9), 1.0 - 1e-9)


def _scan(
    over: Callable[[float], float], target: float, low: float, high: float, reasons: list[str]
) -> tuple[float, float, float, float]:
    """Two neighbouring trials that enclose the target, or Unreachable with what was found.

    `reasons`: what the last trial that could not be drawn failed for, if one did.
    """
    places = [low + (high - low) * i / SCAN for i in range(SCAN + 1)]
    tried = [(place, over(place)) for place in places]
    for (a, fa), (b, fb) in pairwise(tried):
        if fa * fb <= 0.0:
            return a, fa, b, fb
    found = [f + target for _, f in tried if not math.isnan(f)]
    why = reasons[-1] if reasons and not found else ""
    raise Unreachable(min(found, default=math.nan), max(found, default=math.nan), why)
