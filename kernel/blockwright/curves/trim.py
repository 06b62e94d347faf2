"""Parallels of curves that bend more sharply than the parallel is far: trimmed, without loops."""

from __future__ import annotations

from itertools import pairwise

from blockwright.curves._numpy import np
from blockwright.curves.bezier import sampled
from blockwright.curves.chain import join
from blockwright.curves.curve import Curve, curvatures
from blockwright.curves.meet import intersections
from blockwright.curves.offset import ACCURACY, parallel
from blockwright.curves.point import Point
from blockwright.curves.point import distance as distance_between
from blockwright.errors import GeometryError

# Places on each piece at which its bend is looked at for where the parallel would fold.
PLACES = 24
# A stretch that bends just as sharply as the parallel is far is left by this much, mm.
CLEAR = 1e-4
# Halvings that find where it begins; from a few millimetres they lead to a nanometre.
HALVINGS = 24
# Places along a parallel at which it is looked at for being clear of an end.
LOOKS = 200


def trimmed_parallel(curve: Curve, distance: float, *, accuracy: float = ACCURACY) -> Curve:
    """The curve at a constant distance to the left (negative: right), as far as nothing is nearer.

    Where the curve bends more sharply than that, its parallel would fold back and cross itself;
    it is cut off where the two sides of the fold meet, which leaves a corner.  A fold that
    reaches an end of the curve is left out, so that the parallel is shorter there.
    Raises GeometryError as `parallel` does for corners and cusps of the curve itself, and where
    nothing is left.
    """
    stretches = _unfolded(curve, distance)
    if stretches is None:
        return parallel(curve, distance, accuracy=accuracy)
    if not stretches:
        raise GeometryError(
            f"no parallel {abs(distance):.4g} mm to the side is left: the curve bends more sharply"
        )
    sides = [parallel(curve.part(a, b), distance, accuracy=accuracy) for a, b in stretches]
    whole = sides[0]
    for side in sides[1:]:
        met = intersections(whole, side)
        if not met:
            raise GeometryError("the sides of a fold do not meet: the parallel has no trimmed form")
        # From the fold outward the first crossing is the last on the way in.
        last = max(met, key=lambda crossing: crossing.along_a)
        before = whole.part(0.0, last.along_a)
        whole = join([before, side.part(last.along_b, side.length)])
    if stretches[0][0] > 0.0:
        whole = _clear_of(whole, curve.start, abs(distance))
    if stretches[-1][1] < curve.length:
        whole = _clear_of(whole.reversed(), curve.end, abs(distance)).reversed()
    return whole


def _clear_of(parallel_curve: Curve, end: Point, width: float) -> Curve:
    """What is left of a parallel from where it is as far as its width from the end of its curve."""
    places = np.linspace(0.0, parallel_curve.length, LOOKS)
    away = np.hypot(*(parallel_curve.points_at(places) - [*end]).T)
    near = np.flatnonzero(away < width)
    if not len(near):
        return parallel_curve
    last = int(near[-1])
    if last == len(places) - 1:
        raise GeometryError("no parallel is left: the curve bends more sharply at its end")
    low, high = float(places[last]), float(places[last + 1])
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        if distance_between(parallel_curve.point_at(middle), end) < width:
            low = middle
        else:
            high = middle
    return parallel_curve.part(high, parallel_curve.length)


def _unfolded(curve: Curve, distance: float) -> list[tuple[float, float]] | None:
    """Stretches of the curve whose parallel runs forward; None when that is all of it."""
    control, t = sampled(curve.control, np.linspace(0.0, 1.0, PLACES))
    forward = 1.0 - distance * curvatures(control, t) > 0.0
    if forward.all():
        return None
    along = curve.along(np.repeat(np.arange(len(curve.control)), PLACES), t)
    changes = np.flatnonzero(forward[1:] != forward[:-1])
    places = [_change(curve, distance, along[i], along[i + 1], forward[i]) for i in changes]
    ends = [0.0, *places, curve.length]
    stretches = []
    runs = bool(forward[0])
    for a, b in pairwise(ends):
        low, high = a + (CLEAR if a > 0.0 else 0.0), b - (CLEAR if b < curve.length else 0.0)
        if runs and high - low > CLEAR:
            stretches.append((low, high))
        runs = not runs
    return stretches


def _change(curve: Curve, distance: float, low: float, high: float, before: bool) -> float:
    """Where, between two places, the parallel begins or ceases to run forward."""
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        if (1.0 - distance * curve.curvature_at(middle) > 0.0) == before:
            low = middle
        else:
            high = middle
    return (low + high) / 2.0
