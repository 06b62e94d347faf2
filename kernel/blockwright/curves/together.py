"""Pieces that are parts of one and the same curve, found before they are cut to shreds."""

from __future__ import annotations

from collections.abc import Iterator

from blockwright.curves import pairs
from blockwright.curves._numpy import np
from blockwright.curves.curve import Curve
from blockwright.curves.near import nearest

# Cubic pieces that agree at both ends of a stretch and at these shares of it agree all along it.
BETWEEN = (0.25, 0.5, 0.75)

Stretch = tuple[float, float, float, float]


def shared(
    a: Curve, b: Curve, rows: pairs.Pairs, accuracy: float
) -> tuple[np.ndarray, list[Stretch]]:
    """Which pairs of whole pieces keep within `accuracy` mm for a stretch, and where.

    Returns a flag for every row, and for the flagged ones from where to where along a and b, mm.
    A stretch that two cubics share begins and ends where one of them does.
    """
    found = [
        None if link == pairs.SAME else _stretch(a, int(i), b, int(j), accuracy)
        for i, j, link in zip(rows.a.piece, rows.b.piece, rows.link, strict=True)
    ]
    flags = np.array([one is not None for one in found], dtype=bool)
    return flags, [one for one in found if one is not None]


def _stretch(a: Curve, i: int, b: Curve, j: int, accuracy: float) -> Stretch | None:
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
    """Distances along both at which an end of one lies on the other."""
    for along, end in ((0.0, p.start), (p.length, p.end)):
        on = nearest(q, end)
        if on.distance <= accuracy:
            yield along, on.along
    for along, end in ((0.0, q.start), (q.length, q.end)):
        on = nearest(p, end)
        if on.distance <= accuracy:
            yield on.along, along
