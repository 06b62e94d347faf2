"""The curve that keeps a constant distance from another."""

from __future__ import annotations

import math

from blockwright.curves import bezier
from blockwright.curves._numpy import np
from blockwright.curves.chain import SMOOTH, corners
from blockwright.curves.curve import Curve, curvatures, directions
from blockwright.curves.roots import roots, times
from blockwright.errors import GeometryError

# A tenth of what scissors can follow, mm.
ACCURACY = 1e-3
# A piece of the parallel agrees with the truth in place and direction at both ends, so the two
# differ most near the middle, and smoothly: the largest of this many samples is within a few per
# cent of the largest difference, and the share of the accuracy kept in hand covers that.
SAMPLES = 9
IN_HAND = 0.8
# Halving a piece divides its difference by sixteen; a bend that twenty halvings leave is a cusp.
DEEPEST = 20
# Handles within this share of the chord's length from it are on it but for rounding.
ON_CHORD = 1e-14


def parallel(curve: Curve, distance: float, *, accuracy: float = ACCURACY) -> Curve:
    """The curve at a constant distance, mm, to the left of travel; a negative one to the right.

    It is travelled the same way; at distance 0 it is the curve itself.  Every point of it is
    within `accuracy` mm of the true distance from the place it faces; straight pieces and the
    ends are exact.  Where the curve comes near itself further along, so does the parallel: it is
    not trimmed.

    Raises GeometryError where the curve has a corner or a cusp, saying where; where the distance
    is not less than its radius on that side, stating the tightest; and if the accuracy is not
    more than zero, or the distance not finite.

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
    # A break so small that the parallel's gap there stays inside the share kept in hand.
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
    """Parallels of the bent pieces, halved until they are near enough: piece and start of each."""
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
    """Pieces whose ends and directions there are the parallel's, and whose speeds are, too."""
    start, end = part[:, 0] + distance * _left(part, 0.0), part[:, 3] + distance * _left(part, 1.0)
    ends = np.zeros(len(part)), np.ones(len(part))
    # On the inside of a bend the parallel is shorter than the curve in this ratio.
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
    """How far each piece strays from the parallel, mm, compared parameter by parameter."""
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
    """Pieces that are straight and do not turn back."""
    chord = (control[:, 3] - control[:, 0])[:, None]
    legs = np.diff(control, axis=1)
    aside = np.abs(chord[..., 0] * legs[..., 1] - chord[..., 1] * legs[..., 0])
    ahead = (chord * legs).sum(axis=2)
    square = (chord * chord).sum(axis=2)
    return np.asarray(
        ((aside <= ON_CHORD * square) & (ahead >= 0.0)).all(axis=1) & (square > 0)[:, 0]
    )


def _check_bends(curve: Curve, bent: np.ndarray, distance: float) -> None:
    """The parallel of no piece folds: the curve's radius is everywhere more than the distance."""
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
    """Candidates (n, 5) for the parameters at which the curvature of pieces stands still."""
    first = bezier.power(control)[..., 1:] * np.arange(1.0, 4.0)
    second = first[..., 1:] * np.arange(1.0, 3.0)
    speed = times(first, first).sum(axis=1)
    pull = times(first, second).sum(axis=1)
    # The cross product of both; its cubic terms cancel.
    bend = (times(first[:, 0], second[:, 1]) - times(first[:, 1], second[:, 0]))[:, :3]
    # d(bend / speed^(3/2)) = 0.
    return roots(times(speed, bend[:, 1:] * np.arange(1.0, 3.0)) - 3.0 * times(pull, bend))


def _joined(pieces: np.ndarray) -> np.ndarray:
    """The pieces with every start moved on to the end before it."""
    gap = pieces[:-1, 3] - pieces[1:, 0]
    pieces[1:, 0] = pieces[:-1, 3]
    pieces[1:, 1] += gap
    return pieces
