"""Pairs of Bézier pieces, halved until it is certain whether and how they meet.

A pair is dropped if its pieces lie apart.  It is *crossing* if their directions differ by much more
than they bend; then they cross at most once.  It is *grazing* if both are straight to a fraction of
the accuracy and run nearly the same way.  Any other pair is halved.
"""

from __future__ import annotations

import itertools
import math
from dataclasses import dataclass

from blockwright.curves import bezier
from blockwright.curves._numpy import np

# A piece counts as straight if it stays within this share of the accuracy of its chord.
STRAIGHT = 0.125
# Pieces cross at most once if their directions differ by this many times their bends.  From the
# crossing of their chords Newton's method then finds it safely.
CLEAR = 4.0
# Directions nearer than this, radians, are one direction: the crossing of two such lines is only
# rounding.
PARALLEL = 1e-7
# The links of a pair.  ENDS_AT: the end of a is the start of b.  STARTS_AT: the end of b is the
# start of a.  The two may be added.  SAME stands alone: a is b.
ENDS_AT, STARTS_AT, SAME = 1, 2, 4


@dataclass(frozen=True, slots=True)
class PieceParts:
    """Parts of pieces: their control points, the piece of the chain, and their parameters there."""

    control: np.ndarray
    piece: np.ndarray
    t0: np.ndarray
    t1: np.ndarray

    def take(self, rows: np.ndarray) -> PieceParts:
        """The chosen rows."""
        return PieceParts(self.control[rows], self.piece[rows], self.t0[rows], self.t1[rows])

    def halves(self) -> tuple[PieceParts, PieceParts]:
        """Both halves of every row."""
        first, second = bezier.halves(self.control)
        middle = (self.t0 + self.t1) / 2.0
        return PieceParts(first, self.piece, self.t0, middle), PieceParts(
            second, self.piece, middle, self.t1
        )


@dataclass(frozen=True, slots=True)
class Pairs:
    """Pairs of parts of pieces, and the links between the two of each."""

    a: PieceParts
    b: PieceParts
    link: np.ndarray

    def __len__(self) -> int:
        return len(self.link)

    def take(self, rows: np.ndarray) -> Pairs:
        """The chosen pairs."""
        return Pairs(self.a.take(rows), self.b.take(rows), self.link[rows])


@dataclass(frozen=True, slots=True)
class _Shape:
    """The directions of pieces, half the spread of each, and whether they are straight."""

    direction: np.ndarray
    spread: np.ndarray
    straight: np.ndarray


def whole(control: np.ndarray) -> PieceParts:
    """Every piece of a chain, uncut."""
    count = len(control)
    return PieceParts(control, np.arange(count), np.zeros(count), np.ones(count))


def boxes_near(a: np.ndarray, b: np.ndarray, accuracy: float) -> np.ndarray:
    """Whether the boxes round the handles of pieces of a and b come near: (len a, len b)."""
    low_a, high_a = a.min(axis=1), a.max(axis=1)
    low_b, high_b = (low_a, high_a) if a is b else (b.min(axis=1), b.max(axis=1))
    near = (low_a[:, None] <= high_b + accuracy) & (low_b <= high_a[:, None] + accuracy)
    return np.asarray(near[..., 0] & near[..., 1])


class TooManyError(Exception):
    """There are more pairs of parts than pieces that only cross or touch leave."""


def sift(pairs: Pairs, accuracy: float, *, most: float = math.inf) -> tuple[Pairs, Pairs]:
    """The crossing pairs and the grazing pairs among all parts of `pairs`.

    They contain every place where two pieces come within `accuracy` mm, except at the shared end of
    linked pieces.  Raises TooManyError if there are more than `most` pairs of parts.
    """
    none = pairs.take(np.zeros(0, dtype=int))
    crossing, grazing = [none], [none]
    while len(pairs):
        if len(pairs) > most:
            raise TooManyError
        pairs = pairs.take(~_settled(pairs, accuracy))
        if not len(pairs):
            break
        pairs = pairs.take(_near(pairs.a, pairs.b, accuracy))
        a, b = _shape(pairs.a.control, accuracy), _shape(pairs.b.control, accuracy)
        apart = np.abs(_wrap(b.direction - a.direction))
        clear = np.minimum(apart, np.pi - apart) > CLEAR * (a.spread + b.spread) + PARALLEL
        clear &= pairs.link != SAME
        graze = ~clear & a.straight & b.straight
        crossing.append(pairs.take(clear))
        grazing.append(pairs.take(graze))
        rest = ~clear & ~graze
        pairs = _split(pairs.take(rest), ~a.straight[rest], ~b.straight[rest])
    return _concatenate(crossing), _concatenate(grazing)


def _settled(pairs: Pairs, accuracy: float) -> np.ndarray:
    """The rows of linked pieces that cannot meet except where they are linked.

    Pieces in separate wedges from their shared end meet nowhere else.  A piece whose directions
    span less than half a turn does not come back to itself.
    """
    out = np.zeros(len(pairs), dtype=bool)
    linked = np.flatnonzero(pairs.link)
    if not len(linked):
        return out
    link = pairs.link[linked]
    a = _shape(pairs.a.control[linked], accuracy)
    b = _shape(pairs.b.control[linked], accuracy)
    apart = np.abs(_wrap(b.direction - a.direction))
    wedges = ((link == ENDS_AT) | (link == STARTS_AT)) & (np.pi - apart > a.spread + b.spread)
    out[linked] = wedges | ((link == SAME) & ((a.spread < np.pi / 2.0) | a.straight))
    return out


def _near(a: PieceParts, b: PieceParts, accuracy: float) -> np.ndarray:
    """The rows whose pieces may come within `accuracy` mm of each other."""
    low_a, high_a = a.control.min(axis=1), a.control.max(axis=1)
    low_b, high_b = b.control.min(axis=1), b.control.max(axis=1)
    apart = np.maximum(low_a - high_b, low_b - high_a).max(axis=1)
    rows = np.flatnonzero(apart <= accuracy)
    a, b = a.take(rows), b.take(rows)
    beside = _beside(a.control, b.control, accuracy) | _beside(b.control, a.control, accuracy)
    return np.asarray(rows[~beside])


def _beside(a: np.ndarray, b: np.ndarray, accuracy: float) -> np.ndarray:
    """Whether all of b lies on one side of the strip along a's chord that contains a."""
    chord = a[:, 3] - a[:, 0]
    long = np.hypot(chord[:, 0], chord[:, 1])
    normal = (
        np.stack([-chord[:, 1], chord[:, 0]], axis=1) / np.where(long > 0.0, long, 1.0)[:, None]
    )
    own = ((a - a[:, :1]) @ normal[:, :, None])[..., 0]
    other = ((b - a[:, :1]) @ normal[:, :, None])[..., 0]
    below = other.max(axis=1) < own.min(axis=1) - accuracy
    above = other.min(axis=1) > own.max(axis=1) + accuracy
    return np.asarray(below | above)


def _shape(control: np.ndarray, accuracy: float) -> _Shape:
    legs = np.diff(control, axis=1)
    chord = control[:, 3] - control[:, 0]
    cross = chord[:, None, 0] * legs[..., 1] - chord[:, None, 1] * legs[..., 0]
    dot = chord[:, None, 0] * legs[..., 0] + chord[:, None, 1] * legs[..., 1]
    angle = np.arctan2(cross, dot)
    low, high = angle.min(axis=1), angle.max(axis=1)
    long = np.hypot(chord[:, 0], chord[:, 1])
    spread = np.where(long > 0.0, (high - low) / 2.0, np.pi)
    # Twice the areas between the chord and the first and the last handle.
    aside = np.maximum(np.abs(cross[:, 0]), np.abs(cross[:, 2]))
    room = STRAIGHT * accuracy
    # Straight, and not turning back.
    forward = (long > 0.0) & (np.maximum(-low, high) < np.pi / 2.0)
    straight = (aside <= room * long) & forward
    straight |= np.abs(control - control[:, :1]).max(axis=(1, 2)) <= room
    return _Shape(np.arctan2(chord[:, 1], chord[:, 0]) + (low + high) / 2.0, spread, straight)


def _split(pairs: Pairs, cut_a: np.ndarray, cut_b: np.ndarray) -> Pairs:
    """The pairs of parts, with the sides that are marked cut in half."""
    first_a, second_a = _parts(pairs.a, cut_a)
    first_b, second_b = _parts(pairs.b, cut_b)
    same = pairs.link == SAME
    out = []
    for i, j in itertools.product((0, 1), (0, 1)):
        rows = np.ones(len(pairs), dtype=bool)
        if i == 1:
            rows &= cut_a
        if j == 1:
            rows &= cut_b
        ends_at = (i == 1) | ~cut_a if j == 0 else False
        starts_at = (j == 1) | ~cut_b if i == 0 else False
        link = pairs.link & (ENDS_AT * np.asarray(ends_at) | STARTS_AT * np.asarray(starts_at))
        if i == j:
            link = np.where(same, SAME, link)
        elif i == 0:
            closed = (pairs.a.control[:, 0] == pairs.a.control[:, 3]).all(axis=1)
            link = np.where(same, ENDS_AT + STARTS_AT * closed, link)
        else:
            rows &= ~same
        a, b = (first_a, second_a)[i], (first_b, second_b)[j]
        out.append(Pairs(a, b, link).take(rows))
    return _concatenate(out)


def _parts(side: PieceParts, cut: np.ndarray) -> tuple[PieceParts, PieceParts]:
    """The first and the second halves.  A row that is not cut is its own first half."""
    first, second = side.halves()
    keep = ~cut
    kept = PieceParts(
        np.where(keep[:, None, None], side.control, first.control),
        side.piece,
        side.t0,
        np.where(keep, side.t1, first.t1),
    )
    return kept, second


def _concatenate(parts: list[Pairs]) -> Pairs:
    """The pairs of all parts.  There is at least one part."""
    parts = [part for part in parts if len(part)] or parts[:1]
    if len(parts) == 1:
        return parts[0]
    sides = []
    for side in ([pairs.a for pairs in parts], [pairs.b for pairs in parts]):
        sides.append(
            PieceParts(
                np.concatenate([part.control for part in side]),
                np.concatenate([part.piece for part in side]),
                np.concatenate([part.t0 for part in side]),
                np.concatenate([part.t1 for part in side]),
            )
        )
    return Pairs(sides[0], sides[1], np.concatenate([pairs.link for pairs in parts]))


def _wrap(angle: np.ndarray) -> np.ndarray:
    """The same directions in -pi..pi."""
    return np.asarray(np.remainder(angle + np.pi, 2.0 * np.pi) - np.pi)
