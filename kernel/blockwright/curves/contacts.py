"""Contacts of sifted pairs of pieces: points, and stretches along both curves."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from blockwright.curves import bezier, subdivision
from blockwright.curves._numpy import np
from blockwright.curves.curve import Curve
from blockwright.curves.nearest import nearest

# Newton's method doubles its digits with each step.  Where a piece starts without speed it only
# halves the error.  Fifty steps reduce an error of metres to nothing.
STEPS = 50
# Pieces that cross or touch leave some dozens of pairs of parts.  More than this many are a sign of
# pieces that lie on each other.
MOST = 2000
# Cubics that agree at both ends of a stretch and at these shares of it agree all along it.
BETWEEN = (0.25, 0.5, 0.75)
# A step in the parameter below this changes nothing.
SETTLED = 1e-15

_Overlap = tuple[float, float, float, float]
"""Start and end of a shared stretch along the first curve, then along the second, mm."""


@dataclass(frozen=True, slots=True)
class Contact:
    """One meeting: the closest place, and the stretch that stays within the accuracy, mm."""

    along_a: float
    along_b: float
    gap: float
    low_a: float
    high_a: float
    low_b: float
    high_b: float


@dataclass(frozen=True, slots=True)
class _Places:
    """Pairs of places, one on each curve, and the distance between them."""

    t: np.ndarray
    u: np.ndarray
    gap: np.ndarray


def contacts(a: Curve, b: Curve, start: subdivision.Pairs, accuracy: float) -> list[Contact]:
    """Every place at which the pairs come within `accuracy` mm.  Some are found twice."""
    found = []
    try:
        crossing, grazing = subdivision.sift(start, accuracy, most=max(MOST, 8 * len(start)))
    except subdivision.TooManyError:
        together, stretches = _shared(a, b, start, accuracy)
        for low_a, high_a, low_b, high_b in stretches:
            found.append(Contact(low_a, low_b, 0.0, low_a, high_a, low_b, high_b))
        crossing, grazing = subdivision.sift(start.take(~together), accuracy)
    found += list(_crossings(a, b, crossing, accuracy)) if len(crossing) else []
    if len(grazing):
        found.extend(_grazes(a, b, grazing, accuracy))
    return found


def _shared(
    a: Curve, b: Curve, rows: subdivision.Pairs, accuracy: float
) -> tuple[np.ndarray, list[_Overlap]]:
    """The pairs of whole pieces that stay within `accuracy` mm for a stretch.

    Returns a flag for each row, and the stretches of those that are flagged.  A stretch that two
    cubics share begins and ends at an end of one of them.
    """
    found = [
        None if link == subdivision.SAME else _stretch(a, int(i), b, int(j), accuracy)
        for i, j, link in zip(rows.a.piece, rows.b.piece, rows.link, strict=True)
    ]
    flags = np.array([one is not None for one in found], dtype=bool)
    return flags, [one for one in found if one is not None]


def _stretch(a: Curve, i: int, b: Curve, j: int, accuracy: float) -> _Overlap | None:
    p, q = Curve.unchecked(a.control[[i]]), Curve.unchecked(b.control[[j]])
    places = sorted(_ends_on(p, q, accuracy))
    if len(places) < 2:
        return None
    (low_p, low_q), (high_p, high_q) = places[0], places[-1]
    if high_p - low_p <= 10.0 * accuracy:
        return None
    inner = (low_p + (high_p - low_p) * share for share in BETWEEN)
    if any(nearest(q, p.point_at(s)).distance > accuracy for s in inner):
        return None
    low_q, high_q = sorted((low_q, high_q))
    before_p, before_q = float(a.joints[i]), float(b.joints[j])
    return before_p + low_p, before_p + high_p, before_q + low_q, before_q + high_q


def _ends_on(p: Curve, q: Curve, accuracy: float) -> Iterator[tuple[float, float]]:
    """The distances along both at which an end of one lies on the other."""
    for along, end in ((0.0, p.start), (p.length, p.end)):
        on = nearest(q, end)
        if on.distance <= accuracy:
            yield along, on.along
    for along, end in ((0.0, q.start), (q.length, q.end)):
        on = nearest(p, end)
        if on.distance <= accuracy:
            yield on.along, along


def _crossings(a: Curve, b: Curve, rows: subdivision.Pairs, accuracy: float) -> Iterator[Contact]:
    share_a, share_b = _chords_cross(rows.a.control, rows.b.control)
    t = rows.a.t0 + share_a * (rows.a.t1 - rows.a.t0)
    u = rows.b.t0 + share_b * (rows.b.t1 - rows.b.t0)
    places = _solve(a, b, rows, t, u, touch=False)
    for i in np.flatnonzero(places.gap <= accuracy):
        yield _at(a, b, rows, places, int(i))


def _at(a: Curve, b: Curve, rows: subdivision.Pairs, places: _Places, i: int) -> Contact:
    along_a = float(a.along(rows.a.piece[i : i + 1], places.t[i : i + 1])[0])
    along_b = float(b.along(rows.b.piece[i : i + 1], places.u[i : i + 1])[0])
    return Contact(along_a, along_b, float(places.gap[i]), along_a, along_a, along_b, along_b)


def _chords_cross(a: np.ndarray, b: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
    """The shares of the chords, 0..1, at which their lines cross."""
    chord_a, chord_b, between = a[:, 3] - a[:, 0], b[:, 3] - b[:, 0], b[:, 0] - a[:, 0]
    turn = _cross(chord_a, chord_b)
    turn = np.where(turn == 0.0, np.inf, turn)
    return (
        np.clip(_cross(between, chord_b) / turn, 0.0, 1.0),
        np.clip(_cross(between, chord_a) / turn, 0.0, 1.0),
    )


def _solve(
    a: Curve, b: Curve, rows: subdivision.Pairs, t: np.ndarray, u: np.ndarray, *, touch: bool
) -> _Places:
    """Newton's method from (t, u) for a crossing, or for a place where both run the same way.

    The answers lie inside the parts of the rows.  Where a step would leave a part, the answer is
    at its end and the nearest place of the other.
    """
    control_a, control_b = a.control[rows.a.piece], b.control[rows.b.piece]
    room_a, room_b = (rows.a.t1 - rows.a.t0) / 2.0, (rows.b.t1 - rows.b.t0) / 2.0
    for _ in range(STEPS):
        step = _touch_step if touch else _crossing_step
        dt, du = step(control_a, control_b, t, u)
        new_t = np.clip(t + dt, rows.a.t0 - room_a, rows.a.t1 + room_a)
        new_u = np.clip(u + du, rows.b.t0 - room_b, rows.b.t1 + room_b)
        moved = max(np.abs(new_t - t).max(), np.abs(new_u - u).max())
        t, u = new_t, new_u
        if moved < SETTLED:
            break
    at_t, at_u = np.clip(t, rows.a.t0, rows.a.t1), np.clip(u, rows.b.t0, rows.b.t1)
    cut_a, cut_b = at_t != t, at_u != u
    if cut_a.any():
        at_u = np.where(cut_a, _foot(control_b, at_u, bezier.evaluate(control_a, at_t)), at_u)
        at_u = np.clip(at_u, rows.b.t0, rows.b.t1)
    if cut_b.any():
        at_t = np.where(cut_b, _foot(control_a, at_t, bezier.evaluate(control_b, at_u)), at_t)
        at_t = np.clip(at_t, rows.a.t0, rows.a.t1)
    step_between = bezier.evaluate(control_a, at_t) - bezier.evaluate(control_b, at_u)
    return _Places(at_t, at_u, np.hypot(step_between[:, 0], step_between[:, 1]))


def _crossing_step(
    a: np.ndarray, b: np.ndarray, t: np.ndarray, u: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    between = bezier.evaluate(b, u) - bezier.evaluate(a, t)
    along_a, along_b = bezier.derivative(a, t), bezier.derivative(b, u)
    turn = _cross(along_a, along_b)
    return _over(_cross(between, along_b), turn), _over(_cross(between, along_a), turn)


def _touch_step(
    a: np.ndarray, b: np.ndarray, t: np.ndarray, u: np.ndarray
) -> tuple[np.ndarray, np.ndarray]:
    """A step towards the place where the directions agree and the gap is square to them."""
    between = bezier.evaluate(a, t) - bezier.evaluate(b, u)
    a1, b1 = bezier.derivative(a, t), bezier.derivative(b, u)
    a2, b2 = bezier.second_derivative(a, t), bezier.second_derivative(b, u)
    square, turn = (between * b1).sum(axis=1), _cross(a1, b1)
    square_t, square_u = (a1 * b1).sum(axis=1), (between * b2 - b1 * b1).sum(axis=1)
    turn_t, turn_u = _cross(a2, b1), _cross(a1, b2)
    size = square_t * turn_u - square_u * turn_t
    return (
        _over(square_u * turn - square * turn_u, size),
        _over(square * turn_t - square_t * turn, size),
    )


def _foot(control: np.ndarray, t: np.ndarray, point: np.ndarray) -> np.ndarray:
    """The parameters, found from t, at which the pieces are square to the step to the points."""
    for _ in range(STEPS):
        between = bezier.evaluate(control, t) - point
        first, second = bezier.derivative(control, t), bezier.second_derivative(control, t)
        step = _over((between * first).sum(axis=1), (first * first + between * second).sum(axis=1))
        t = np.clip(t - step, 0.0, 1.0)
        if np.abs(step).max() < SETTLED:
            break
    return t


def _grazes(a: Curve, b: Curve, rows: subdivision.Pairs, accuracy: float) -> Iterator[Contact]:
    """The contacts of pieces that are straight and run nearly the same way."""
    # Each piece stays near its chord within its own share.
    room = accuracy * (1.0 + 2.0 * subdivision.STRAIGHT)
    share, reach_a, reach_b, gap = _beside(rows.a.control, rows.b.control, room)
    near = np.flatnonzero(share[:, 0] <= share[:, 1])
    if not len(near):
        return
    rows = rows.take(near)
    begin_a = a.along(rows.a.piece, rows.a.t0)
    begin_b = b.along(rows.b.piece, rows.b.t0)
    low_a, high_a = begin_a + reach_a[near].min(axis=1), begin_a + reach_a[near].max(axis=1)
    low_b, high_b = begin_b + reach_b[near, 0], begin_b + reach_b[near, 1]
    for group in _groups(low_a, high_a, low_b, high_b, accuracy):
        best = group[[int(np.argmin(gap[near[group]]))]]
        place = _closest(a, b, rows.take(best), share[near[best], 2], reach_a[near[best], 2])
        if place.gap[0] <= accuracy:
            at = _at(a, b, rows.take(best), place, 0)
            yield Contact(
                at.along_a,
                at.along_b,
                at.gap,
                float(low_a[group].min()),
                float(high_a[group].max()),
                float(low_b[group].min()),
                float(high_b[group].max()),
            )


def _beside(
    a: np.ndarray, b: np.ndarray, room: float
) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
    """The stretch of b's chord within `room` of a's chord.

    Returns a row for each pair: the shares of b's chord at the ends of the stretch and at its
    closest place, the distances of the three along a's chord, those of the ends along b's chord,
    and the least distance.  The first share is greater than the second if there is no stretch.
    Source: clipping to a rectangle after Liang and Barsky, 1984.
    """
    chord_a, chord_b = a[:, 3] - a[:, 0], b[:, 3] - b[:, 0]
    long_a, long_b = np.hypot(*chord_a.T), np.hypot(*chord_b.T)
    # A piece that is too short for a direction takes that of the other.
    ahead = np.where((long_a > 0.0)[:, None], chord_a, chord_b)
    ahead = ahead / np.maximum(np.hypot(*ahead.T), np.finfo(float).tiny)[:, None]
    offset = b[:, 0] - a[:, 0]
    x, dx = (offset * ahead).sum(axis=1), (chord_b * ahead).sum(axis=1)
    y, dy = _cross(ahead, offset), _cross(ahead, chord_b)
    low, high = np.zeros(len(a)), np.ones(len(a))
    for at, step, least, most in ((x, dx, -room, long_a + room), (y, dy, -room, room)):
        still = step == 0.0
        pace = np.where(still, 1.0, step)
        enter, leave = (least - at) / pace, (most - at) / pace
        enter, leave = np.minimum(enter, leave), np.maximum(enter, leave)
        outside = still & ((at < least) | (at > most))
        low = np.maximum(low, np.where(still, np.where(outside, 2.0, 0.0), enter))
        high = np.minimum(high, np.where(still, 1.0, leave))
    closest = np.clip(_over(-y, dy), low, np.maximum(low, high))
    # On parallel chords any place is closest that is not beyond an end.
    middle = (low + high) / 2.0
    closest = np.where(
        _off(x, y, dx, dy, middle, long_a) < _off(x, y, dx, dy, closest, long_a), middle, closest
    )
    share = np.column_stack([low, high, closest])
    reach_a = np.clip(x[:, None] + share * dx[:, None], 0.0, long_a[:, None])
    gap = _off(x, y, dx, dy, closest, long_a)
    return share, reach_a, share[:, :2] * long_b[:, None], gap


def _off(
    x: np.ndarray,
    y: np.ndarray,
    dx: np.ndarray,
    dy: np.ndarray,
    share: np.ndarray,
    long: np.ndarray,
) -> np.ndarray:
    """The distances of places on one chord from the other, which runs along x to `long`."""
    ahead = x + share * dx
    return np.asarray(np.hypot(ahead - np.clip(ahead, 0.0, long), y + share * dy))


def _closest(
    a: Curve, b: Curve, row: subdivision.Pairs, share_b: np.ndarray, reach_a: np.ndarray
) -> _Places:
    """The closest of three places: of the chords, and a crossing and a touch found from it."""
    long_a = np.hypot(*(row.a.control[:, 3] - row.a.control[:, 0]).T)
    share_a = np.clip(_over(reach_a, long_a), 0.0, 1.0)
    t = row.a.t0 + share_a * (row.a.t1 - row.a.t0)
    u = row.b.t0 + share_b * (row.b.t1 - row.b.t0)
    first = _foot(a.control[row.a.piece], t, bezier.evaluate(b.control[row.b.piece], u))
    between = bezier.evaluate(a.control[row.a.piece], first) - bezier.evaluate(
        b.control[row.b.piece], u
    )
    tries = [_Places(first, u, np.hypot(between[:, 0], between[:, 1]))]
    tries += [_solve(a, b, row, t, u, touch=touch) for touch in (True, False)]
    return min(tries, key=lambda places: float(places.gap[0]))


def _groups(
    low_a: np.ndarray, high_a: np.ndarray, low_b: np.ndarray, high_b: np.ndarray, accuracy: float
) -> list[np.ndarray]:
    """The rows in groups whose stretches overlap along both curves."""
    group = np.zeros(len(low_a), dtype=int)
    # Grouping along the second curve can split what belonged together along the first, so the first
    # is grouped again.
    for low, high in ((low_a, high_a), (low_b, high_b), (low_a, high_a)):
        order = np.lexsort((low, group))
        # A step between groups larger than any distance keeps the running maximum inside each.
        apart = group[order] * (2.0 * (high.max() - low.min()) + 1.0)
        reach = np.maximum.accumulate(high[order] + apart)
        fresh = (low[order] + apart)[1:] > reach[:-1] + accuracy
        group[order] = np.concatenate([[0], np.cumsum(fresh)])
    order = np.argsort(group, kind="stable")
    return np.split(order, np.flatnonzero(np.diff(group[order])) + 1)


def _cross(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    return np.asarray(a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0])


def _over(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    """a / b, and 0 where b is 0."""
    return np.asarray(np.divide(a, b, out=np.zeros_like(a), where=b != 0.0))
