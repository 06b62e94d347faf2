"""Parallels: the curve at a constant distance from another, whole or trimmed."""

from __future__ import annotations

import math
from collections.abc import Callable
from itertools import pairwise

from blockwright.curves import bezier, point
from blockwright.curves._numpy import np
from blockwright.curves.chain import corners, join
from blockwright.curves.curve import Curve, curvatures, directions
from blockwright.curves.intersect import intersections
from blockwright.curves.point import Point
from blockwright.curves.roots import roots, times
from blockwright.curves.tolerance import PARALLEL, SMOOTH
from blockwright.errors import GeometryError

# A piece of the parallel is true in place and direction at both ends, and differs most near its
# middle.  The largest of this many samples is within a few per cent of the largest difference.  The
# check uses only IN_HAND of the accuracy, which covers that.
SAMPLES = 9
IN_HAND = 0.8
# Halving a piece divides its difference by sixteen.  A bend left after twenty halvings is a cusp.
DEEPEST = 20
# Handles within this share of the chord's length from the chord are on it, except for rounding.
ON_CHORD = 1e-14
# The number of places on each piece at which it is checked whether the parallel folds.
PLACES = 24
# The parallel keeps this far, mm, from a place where the radius equals the distance.
CLEAR = 1e-4
# This many halvings find such a place, from a few millimetres to a nanometre.
HALVINGS = 24
# The number of places along a parallel at which it is checked for being clear of an end.
LOOKS = 200


def parallel(curve: Curve, distance: float, *, accuracy: float = PARALLEL) -> Curve:
    """The curve at a constant distance, mm, to the left of travel.  A negative one is on the right.

    It runs in the direction of the curve.  At distance 0 it is the curve itself.  Every point of it
    is within `accuracy` mm of the true distance from its place on the curve.  Straight pieces and
    the ends are exact.  The parallel is not trimmed where it crosses itself.

    Raises GeometryError if the curve has a corner or a cusp, or if the distance is not less than
    its least radius on that side; the message says where.  Raises it too unless the accuracy is
    more than zero and the distance is finite.

    Example:
        >>> from math import pi
        >>> from blockwright import Point, arc, parallel
        >>> neck = arc(Point(0.0, 0.0), 80.0, pi, 2 * pi)
        >>> outside = parallel(neck, -10.0)  # radius 90: it turns left, so right is outside
        >>> f"{neck.length / pi:.1f}, {outside.length / pi:.1f}"
        '80.0, 90.0'
    """
    if not accuracy > 0.0:
        raise GeometryError(f"accuracy must be more than 0 mm, not {accuracy}")
    if not math.isfinite(distance):
        raise GeometryError(f"a parallel needs a distance, not {distance} mm")
    if distance == 0.0:
        return curve
    # A smaller corner leaves a gap in the parallel that is within the accuracy.
    broken = corners(curve, over=min(SMOOTH, (1.0 - IN_HAND) / 2.0 * accuracy / abs(distance)))
    if broken:
        raise GeometryError(f"the curve has a corner at {broken[0]:.2f} mm: split it there first")
    control = curve.control
    straight = _straight(control)
    out = np.empty_like(control[straight])
    out[:] = control[straight] + distance * _left(control[straight], 0.5)[:, None]
    bent = np.flatnonzero(~straight)
    if not len(bent):
        return Curve(_joined(out))
    _check_bends(curve, bent, distance)
    pieces, piece, t0 = _bent(curve, bent, distance, accuracy)
    order = np.lexsort((t0, piece))
    piece = np.concatenate([np.flatnonzero(straight), piece[order]])
    every = np.concatenate([out, pieces[order]])
    return Curve(_joined(every[np.argsort(piece, kind="stable")]))


def _bent(
    curve: Curve, bent: np.ndarray, distance: float, accuracy: float
) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """The parallels of the bent pieces, halved until they are near enough, with their places."""
    part, piece = curve.control[bent], bent
    t0, size = np.zeros(len(bent)), 1.0
    done = []
    for _ in range(DEEPEST + 1):
        beside = _beside(part, distance)
        good = _astray(part, beside, distance) <= IN_HAND * accuracy
        done.append((beside[good], piece[good], t0[good]))
        if good.all():
            pieces, index, start = zip(*done, strict=True)
            return np.concatenate(pieces), np.concatenate(index), np.concatenate(start)
        size /= 2.0
        part = np.concatenate(bezier.halves(part[~good]))
        t0 = np.concatenate([t0[~good], t0[~good] + size])
        piece = np.tile(piece[~good], 2)
    at = float(curve.along(piece[:1], t0[:1])[0])
    raise GeometryError(f"the curve has a cusp at {at:.2f} mm: split it there first")


def _beside(part: np.ndarray, distance: float) -> np.ndarray:
    """Pieces with the ends of the parallel, and its directions and speeds there."""
    start, end = part[:, 0] + distance * _left(part, 0.0), part[:, 3] + distance * _left(part, 1.0)
    ends = np.zeros(len(part)), np.ones(len(part))
    # The parallel is shorter than the curve in this ratio on the inside of a bend.
    first, last = (1.0 - distance * curvatures(part, t)[:, None] for t in ends)
    return np.stack(
        [
            start,
            start + (part[:, 1] - part[:, 0]) * first,
            end - (part[:, 3] - part[:, 2]) * last,
            end,
        ],
        axis=1,
    )


def _astray(part: np.ndarray, beside: np.ndarray, distance: float) -> np.ndarray:
    """The greatest distance of each piece from the parallel, mm, at the same parameters."""
    worst = np.zeros(len(part))
    for t in (np.arange(SAMPLES) + 0.5) / SAMPLES:
        at = np.full(len(part), t)
        truth = bezier.evaluate(part, at) + distance * _left(part, t)
        step = bezier.evaluate(beside, at) - truth
        worst = np.maximum(worst, np.hypot(step[:, 0], step[:, 1]))
    return worst


def _left(control: np.ndarray, t: float) -> np.ndarray:
    """Unit steps to the left of travel (n, 2)."""
    ahead = directions(control, np.full(len(control), t))
    return np.stack([-ahead[:, 1], ahead[:, 0]], axis=1)


def _straight(control: np.ndarray) -> np.ndarray:
    """The pieces that are straight and do not turn back."""
    chord = (control[:, 3] - control[:, 0])[:, None]
    legs = np.diff(control, axis=1)
    aside = np.abs(chord[..., 0] * legs[..., 1] - chord[..., 1] * legs[..., 0])
    ahead = (chord * legs).sum(axis=2)
    square = (chord * chord).sum(axis=2)
    return np.asarray(
        ((aside <= ON_CHORD * square) & (ahead >= 0.0)).all(axis=1) & (square > 0)[:, 0]
    )


def _check_bends(curve: Curve, bent: np.ndarray, distance: float) -> None:
    """Raises GeometryError unless the radius is more than the distance everywhere."""
    control = curve.control[bent]
    t = np.column_stack([np.zeros(len(bent)), _sharpest(control), np.ones(len(bent))])
    count = t.shape[1]
    t = t.ravel()
    bend = curvatures(np.repeat(control, count, axis=0), t)
    left = np.where(np.isfinite(bend), 1.0 - distance * bend, -np.inf)
    worst = int(np.argmin(left))
    if left[worst] > 0.0:
        return
    at = float(curve.along(bent[[worst // count]], t[[worst]])[0])
    if not np.isfinite(bend[worst]):
        raise GeometryError(f"the curve has a cusp at {at:.2f} mm: split it there first")
    raise GeometryError(
        f"a parallel {abs(distance):.4g} mm to the {'left' if distance > 0.0 else 'right'} folds: "
        f"the curve's radius is {1.0 / abs(bend[worst]):.4g} mm at {at:.2f} mm along it"
    )


def _sharpest(control: np.ndarray) -> np.ndarray:
    """Candidates (n, 5) for the parameters of the greatest curvature of pieces."""
    first = bezier.power(control)[..., 1:] * np.arange(1.0, 4.0)
    second = first[..., 1:] * np.arange(1.0, 3.0)
    speed = times(first, first).sum(axis=1)
    pull = times(first, second).sum(axis=1)
    # The cross product of both.  Its cubic terms cancel.
    bend = (times(first[:, 0], second[:, 1]) - times(first[:, 1], second[:, 0]))[:, :3]
    # d(bend / speed^(3/2)) = 0.
    return roots(times(speed, bend[:, 1:] * np.arange(1.0, 3.0)) - 3.0 * times(pull, bend))


def _joined(pieces: np.ndarray) -> np.ndarray:
    """The pieces with every start moved to the end before it."""
    gap = pieces[:-1, 3] - pieces[1:, 0]
    pieces[1:, 0] = pieces[:-1, 3]
    pieces[1:, 1] += gap
    return pieces


def trimmed_parallel(curve: Curve, distance: float, *, accuracy: float = PARALLEL) -> Curve:
    """The parallel without its folds.  A negative distance is to the right.

    Where the radius of the curve is less than the distance, the parallel folds back and crosses
    itself.  It is cut off where the two sides of the fold meet, which leaves a corner.  A fold that
    reaches an end of the curve is left out, so the parallel is shorter there.
    Raises GeometryError if the curve has a corner or a cusp, and if nothing of the parallel is
    left.
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
        # The last crossing on the way to the fold is the first one outside it.
        last = max(met, key=lambda crossing: crossing.along_a)
        before = whole.part(0.0, last.along_a)
        whole = join([before, side.part(last.along_b, side.length)])
    if stretches[0][0] > 0.0:
        whole = _clear_of(whole, curve.start, abs(distance))
    if stretches[-1][1] < curve.length:
        whole = _clear_of(whole.reversed(), curve.end, abs(distance)).reversed()
    return whole


def _clear_of(parallel_curve: Curve, end: Point, width: float) -> Curve:
    """The part of a parallel that is further than its width from an end of its curve."""
    places = np.linspace(0.0, parallel_curve.length, LOOKS)
    away = np.hypot(*(parallel_curve.points_at(places) - [*end]).T)
    near = np.flatnonzero(away < width)
    if not len(near):
        return parallel_curve
    last = int(near[-1])
    if last == len(places) - 1:
        raise GeometryError("no parallel is left: the curve bends more sharply at its end")

    def is_near(along: float) -> bool:
        return point.distance(parallel_curve.point_at(along), end) < width

    _, clear = _halved(is_near, float(places[last]), float(places[last + 1]))
    return parallel_curve.part(clear, parallel_curve.length)


def _unfolded(curve: Curve, distance: float) -> list[tuple[float, float]] | None:
    """The stretches of the curve whose parallel runs forward.  None if that is all of it."""
    even = np.tile(np.linspace(0.0, 1.0, PLACES), (len(curve.control), 1))
    places = np.sort(np.column_stack([even, _sharpest(curve.control)]), axis=1)
    piece, t = np.repeat(np.arange(len(places)), places.shape[1]), places.ravel()
    forward = 1.0 - distance * curvatures(curve.control[piece], t) > 0.0
    if forward.all():
        return None
    along = curve.along(piece, t)
    changes = np.flatnonzero(forward[1:] != forward[:-1])
    found = [_change(curve, distance, along[i], along[i + 1], forward[i]) for i in changes]
    ends = [0.0, *found, curve.length]
    stretches = []
    runs = bool(forward[0])
    for a, b in pairwise(ends):
        low, high = a + (CLEAR if a > 0.0 else 0.0), b - (CLEAR if b < curve.length else 0.0)
        if runs and high - low > CLEAR:
            stretches.append((low, high))
        runs = not runs
    return stretches


def _change(curve: Curve, distance: float, low: float, high: float, before: bool) -> float:
    """The place between two others where the parallel begins or ceases to run forward."""
    low, high = _halved(
        lambda along: (1.0 - distance * curve.curvature_at(along) > 0.0) == before, low, high
    )
    return (low + high) / 2.0


def _halved(holds: Callable[[float], bool], low: float, high: float) -> tuple[float, float]:
    """The two neighbouring places between which something ceases to hold."""
    for _ in range(HALVINGS):
        middle = (low + high) / 2.0
        low, high = (middle, high) if holds(middle) else (low, middle)
    return low, high
