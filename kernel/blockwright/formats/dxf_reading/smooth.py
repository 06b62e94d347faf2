"""Vertices back to curves: where a line of straight stretches has corners, and what it runs on."""

from __future__ import annotations

import math
from collections.abc import Sequence

from blockwright.curves._numpy import np
from blockwright.curves.curve import Curve

# A vertex that turns by less is on a curve, by more than the second is a corner whatever lies
# beside it.  Between, it is on a curve if its neighbours turn the same way, half as quickly or
# more.  So corners of less are rounded, over their neighbours.
SMOOTH, SHARP = math.radians(5.0), math.radians(30.0)
AS_QUICK = 0.5
# Nor is a vertex on a curve that would bulge out of its stretches by more than this, mm.
COARSE = 1.0
# A curve never bulges out of its straight stretches by more than about this, mm: a stretch that
# would is left straight.  Five times what fine lines are off their curve.
LOOSE = 0.25
# Vertices all this near to the line from first to last, mm, are on it.
ON_LINE = 1e-3
# Stretches lie in one line if the vertices between are this near to it, mm; three of them are a
# straight stretch that a curve runs on from, if it does so within this angle.
IN_LINE, RUNS_ON = 1e-4, math.radians(1.0)
# Directions at a vertex are those of the polynomial through so many vertices round it.
ROUND = 5
# A stretch taken for straight makes its neighbours look again, so often at most.
LOOKS = 6
# An end stretch so many times as long as the next is not extrapolated from that: it is an arc.
MUCH_LONGER = 2.0


def corners(points: np.ndarray, *, closed: bool) -> np.ndarray:
    """Numbers of the vertices (m, 2) at which the line has a corner; its ends are not among them.

    No two neighbours may be one place.
    """
    ring = np.concatenate([points[-1:], points, points[:1]]) if closed else points
    chords = np.diff(ring, axis=0)
    sizes = np.hypot(chords[:, 0], chords[:, 1])
    a, b = chords[:-1], chords[1:]
    turn = np.arctan2(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0], (a * b).sum(axis=1))
    bend = turn / (sizes[:-1] + sizes[1:])
    if closed:
        before, after = np.roll(bend, 1), np.roll(bend, -1)
    else:
        # At the end of a line there is no neighbour: the other one decides, if there is one.
        before, after = np.append(np.nan, bend[:-1]), np.append(bend[1:], np.nan)
        before, after = (
            np.where(np.isnan(before), after, before),
            np.where(np.isnan(after), before, after),
        )
    with np.errstate(invalid="ignore", divide="ignore"):
        curved = (before / bend >= AS_QUICK) & (after / bend >= AS_QUICK)
    curved &= np.maximum(sizes[:-1], sizes[1:]) * np.abs(turn) / 8.0 <= COARSE
    found = (np.abs(turn) > SHARP) | ((np.abs(turn) > SMOOTH) & ~curved)
    return np.flatnonzero(found) + (0 if closed else 1)


def curve_through(points: np.ndarray) -> Curve:
    """The curve through vertices (m, 2), m at least 2, no two neighbours one place.

    It passes through every vertex, is smooth at those that are no corners, and is never further
    than some LOOSE mm from the straight stretches.  Vertices on a circle give the circle, on a
    line the line.
    """
    first, last = points[0], points[-1]
    chord = last - first
    whole = math.hypot(*chord.tolist())
    if whole > 0.0:
        way = chord / whole
        along = (points - first) @ way
        off = np.abs((points - first) @ [-way[1], way[0]]).max()
        if off <= ON_LINE and (np.diff(along) > 0.0).all():
            return _pieces(points[[0, -1]], np.array([way]), np.array([way]))
    breaks = np.zeros(len(points), dtype=bool)
    breaks[[0, -1]] = True
    breaks[corners(points, closed=False)] = True
    chords = np.diff(points, axis=0)
    chords /= np.hypot(chords[:, 0], chords[:, 1])[:, None]
    ruled = _ruled(points)
    breaks[1:-1] |= ruled[1:] != ruled[:-1]
    for _ in range(LOOKS):
        leaving, arriving = _tangents(points, breaks)
        _run_on(leaving, arriving, chords, ruled)
        loose = _bulge(points, chords, leaving, arriving) > LOOSE
        # The stretch beside a break was looked at with what there was: a loose one stays straight.
        fresh = loose & ~(breaks[:-1] & breaks[1:])
        if not fresh.any():
            break
        breaks[:-1] |= fresh
        breaks[1:] |= fresh
    leaving[loose] = arriving[loose] = chords[loose]
    return _pieces(points, leaving, arriving)


def _ruled(points: np.ndarray) -> np.ndarray:
    """Whether each stretch is one of three or more in one line."""
    steps = np.diff(points, axis=0)
    a, b = steps[:-1], steps[1:]
    across = np.hypot(*(a + b).T)
    off = np.abs(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])
    level = (off <= IN_LINE * across) & ((a * b).sum(axis=1) > 0.0)
    both = level[:-1] & level[1:]
    ruled = np.zeros(len(steps), dtype=bool)
    for i in range(3):
        ruled[i : i + len(both)] |= both
    return ruled


def _run_on(
    leaving: np.ndarray, arriving: np.ndarray, chords: np.ndarray, ruled: np.ndarray
) -> None:
    """Directions, in place: straight stretches are, and curves beside them begin as they end."""
    leaving[ruled] = arriving[ruled] = chords[ruled]
    after = 1 + np.flatnonzero(ruled[:-1] & ~ruled[1:])
    after = after[np.abs(_turn(chords[after - 1], leaving[after])) <= RUNS_ON]
    leaving[after] = chords[after - 1]
    before = np.flatnonzero(~ruled[:-1] & ruled[1:])
    before = before[np.abs(_turn(arriving[before], chords[before + 1])) <= RUNS_ON]
    arriving[before] = chords[before + 1]


def _bulge(
    points: np.ndarray, chords: np.ndarray, leaving: np.ndarray, arriving: np.ndarray
) -> np.ndarray:
    """How far each curve will be off its straight stretch, mm, about: an arc's is a quarter."""
    sizes = np.hypot(*np.diff(points, axis=0).T)
    widest = np.maximum(np.abs(_turn(leaving, chords)), np.abs(_turn(chords, arriving)))
    return np.asarray(sizes * widest / 4.0)


def _pieces(points: np.ndarray, leaving: np.ndarray, arriving: np.ndarray) -> Curve:
    """A cubic over each stretch with unit directions at its ends; arcs where they are an arc's."""
    steps = np.diff(points, axis=0)
    sizes = np.hypot(steps[:, 0], steps[:, 1])
    pace = (sizes / (3.0 * np.cos(_turn(leaving, arriving) / 4.0) ** 2))[:, None]
    a, b = points[:-1], points[1:]
    return Curve(np.stack([a, a + leaving * pace, b - arriving * pace, b], axis=1))


def _turn(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    cross = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    return np.asarray(np.arctan2(cross, (a * b).sum(axis=1)))


def _tangents(points: np.ndarray, breaks: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """Unit directions at the start and at the end of every stretch, the line parted at breaks."""
    # Every part with its own first and last vertex, one after the other.
    number = np.repeat(np.arange(len(points)), 1 + (breaks & _inner(len(points))))
    own = points[number]
    opens = np.append(True, np.diff(number) == 0)
    part = np.cumsum(opens) - 1
    first = np.flatnonzero(opens)[part]
    last = np.append(np.flatnonzero(opens)[1:], len(own))[part] - 1
    steps = np.hypot(*np.diff(own, axis=0).T)
    ways = _directions(own, np.append(0.0, np.cumsum(steps)), first, last)
    # Once more by the length of the arcs in place of their chords.
    turn = np.append(_turn(ways[:-1], ways[1:]), 0.0)[:-1]
    arcs = steps * (1.0 + np.minimum(turn * turn, 1.0) / 24.0)
    ways = _directions(own, np.append(0.0, np.cumsum(arcs)), first, last)
    ends = np.flatnonzero(opens)
    _end_with_arcs(own, ways, ends[last[ends] - ends > 1], 1)
    closes = last[ends]
    _end_with_arcs(own, ways, closes[closes - ends > 1], -1)
    inside = ~opens[1:]
    return ways[:-1][inside], ways[1:][inside]


def _end_with_arcs(points: np.ndarray, ways: np.ndarray, ends: np.ndarray, on: int) -> None:
    """Directions, in place, at ends of parts (the next vertex is `on` from it) as an arc's are."""
    next_, then = points[ends + on], points[ends + 2 * on]
    step = next_ - points[ends]
    size, other = np.hypot(*step.T), np.hypot(*(then - next_).T)
    long = size > MUCH_LONGER * other
    chord = step[long] / size[long][:, None]
    way = ways[ends + on][long]
    # The direction at the other end of the stretch, mirrored in it.
    ways[ends[long]] = 2.0 * (way * chord).sum(axis=1)[:, None] * chord - way


def _inner(count: int) -> np.ndarray:
    inner = np.ones(count, dtype=bool)
    inner[[0, -1]] = False
    return inner


def _directions(
    points: np.ndarray, along: np.ndarray, first: np.ndarray, last: np.ndarray
) -> np.ndarray:
    """Unit directions (m, 2) at vertices, each of the part from vertex `first` to `last`."""
    ways = np.empty_like(points)
    count = np.minimum(last - first + 1, ROUND)
    here = np.arange(len(points))
    for size in range(2, ROUND + 1):
        at = here[count == size]
        if not len(at):
            continue
        start = np.clip(at - size // 2, first[at], last[at] - size + 1)
        near = start[:, None] + np.arange(size)
        weights = _slope_weights(along[near] - along[at][:, None], at - start)
        ways[at] = (weights[:, :, None] * points[near]).sum(axis=1)
    sizes = np.hypot(ways[:, 0], ways[:, 1])[:, None]
    return np.asarray(np.divide(ways, sizes, out=np.ones_like(ways), where=sizes > 0.0))


def _slope_weights(x: np.ndarray, own: np.ndarray) -> np.ndarray:
    """Weights (m, k) of k values at x for their polynomial's slope at 0, which is x number `own`.

    The differences are of Lagrange's polynomials; values less the own one need no own weight.
    """
    count = x.shape[1]
    weights = np.empty_like(x)
    columns: Sequence[int] = range(count)
    for j in columns:
        others = [k for k in columns if k != j]
        down = np.prod(x[:, [j]] - x[:, others], axis=1)
        up = np.ones(len(x))
        for k in others:
            up *= np.where(own == k, 1.0, -x[:, k])
        weights[:, j] = up / down
    mine = own[:, None] == np.arange(count)
    weights[mine] = 0.0
    weights[mine] = -weights.sum(axis=1)
    return weights
