"""Where curves meet: each other, themselves, and the place nearest to a point."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from blockwright.curves import pairs
from blockwright.curves._numpy import np
from blockwright.curves.chain import join
from blockwright.curves.contacts import Contact, contacts
from blockwright.curves.curve import MEETS, Curve
from blockwright.curves.near import Nearest, nearest
from blockwright.curves.point import Point, distance
from blockwright.errors import GeometryError

__all__ = ["ACCURACY", "Crossing", "Nearest", "intersections", "nearest", "self_crossings"]

# Curves this near, mm, meet: a thousandth of what any cutter resolves.
ACCURACY = 1e-6
# Coordinates are rounded to about 1e-13 of a pattern's size, so nothing finer can be told.
FINEST = 1e-9
# Curves that stay within the accuracy for longer than this, mm, or than this share of the shorter
# curve, run together.  Two arcs of 10 m radius that touch do so for a quarter of a millimetre.
RUN, RUN_SHARE = 1.0, 0.01
# Curves this much nearer than the accuracy all along a shorter stretch run together too: ones
# that only touch part again at both ends of it.
EXACTLY = 1e-3


@dataclass(frozen=True, slots=True)
class Crossing:
    """A place where two curves meet, by distance along each, mm."""

    along_a: float
    along_b: float
    point: Point


def intersections(a: Curve, b: Curve, *, accuracy: float = ACCURACY) -> tuple[Crossing, ...]:
    """Every place where two curves cross or touch, in order along `a`.

    A place counts when the curves come within `accuracy` mm of each other there, ends
    included; where they cross, it is exact but for rounding.  Places between which they stay
    that near are one.  A curve may pass the same point twice: that is two crossings.

    Each has `along_a` and `along_b`, the distances along the curves, mm, and `point`.  Curves that
    do not meet give none.

    Raises GeometryError if they run together for a stretch, saying where, or if the accuracy
    is finer than 1e-9 mm.

    Example:
        >>> from blockwright import Point, intersections, line
        >>> a = line(Point(0.0, 0.0), Point(200.0, 0.0))
        >>> (meeting,) = intersections(a, line(Point(50.0, -30.0), Point(50.0, 70.0)))
        >>> f"{meeting.along_a:.1f} along one, {meeting.along_b:.1f} along the other"
        '50.0 along one, 30.0 along the other'
    """
    _check_accuracy(accuracy)
    first, second = pairs.whole(a.control), pairs.whole(b.control)
    row, column = np.nonzero(pairs.boxes_near(a.control, b.control, accuracy))
    start = pairs.Pairs(first.take(row), second.take(column), np.zeros(len(row), dtype=int))
    found = _merged(a, b, contacts(a, b, start, accuracy), accuracy)
    for contact in found:
        if _runs(a, b, contact, accuracy):
            p, q = a.point_at(contact.low_a), a.point_at(contact.high_a)
            raise GeometryError(
                f"the curves run together for {contact.high_a - contact.low_a:.4g} mm, from "
                f"({p.x:.3f}, {p.y:.3f}) to ({q.x:.3f}, {q.y:.3f})"
            )
    return _crossings(a, found)


def self_crossings(curves: Sequence[Curve], *, accuracy: float = ACCURACY) -> tuple[Crossing, ...]:
    """Every place where an outline, curves one after another, crosses or touches itself.

    Distances are measured along the whole chain from its start, the smaller one first.  The
    shared end of neighbours is no crossing, the last and the first being neighbours when they
    meet; a stretch that runs over another is one, at its closest place.  Neighbours that turn
    back on each other at their corner may come within `accuracy` mm there for up to a
    millimetre before that counts.

    Raises GeometryError if two curves in a row do not meet, or the accuracy is finer than
    1e-9 mm.
    """
    _check_accuracy(accuracy)
    chain, closed = _outline(curves)
    count = len(chain.control)
    row, column = np.nonzero(np.triu(pairs.boxes_near(chain.control, chain.control, accuracy)))
    link = np.where(row == column, pairs.SAME, np.where(column == row + 1, pairs.ENDS_AT, 0))
    if closed and count > 1:
        link += pairs.STARTS_AT * ((row == 0) & (column == count - 1))
    side = pairs.whole(chain.control)
    start = pairs.Pairs(side.take(row), side.take(column), link)
    found = _merged(chain, chain, contacts(chain, chain, start, accuracy), accuracy)
    return _crossings(chain, [one for one in found if not _is_joint(chain, one, closed, accuracy)])


def _check_accuracy(accuracy: float) -> None:
    if not accuracy >= FINEST:
        raise GeometryError(f"accuracy must be {FINEST:g} mm or coarser, not {accuracy:g}")


def _crossings(a: Curve, found: list[Contact]) -> tuple[Crossing, ...]:
    if not found:
        return ()
    found = sorted(found, key=lambda one: (one.along_a, one.along_b))
    points = a.points_at([one.along_a for one in found])
    return tuple(
        Crossing(one.along_a, one.along_b, Point(float(x), float(y)))
        for one, (x, y) in zip(found, points, strict=True)
    )


def _merged(a: Curve, b: Curve, found: list[Contact], accuracy: float) -> list[Contact]:
    """Contacts between which the curves stay within the accuracy made one, the closest."""
    out: list[Contact] = []
    for one in sorted(found, key=lambda contact: contact.low_a):
        for i, other in enumerate(out):
            if _hang_together(a, b, one, other, accuracy):
                out[i] = _joined(one, other)
                break
        else:
            out.append(one)
    return out


def _hang_together(a: Curve, b: Curve, one: Contact, other: Contact, accuracy: float) -> bool:
    # The middle of the gap between the two stretches, or of their overlap.
    along_a = (max(one.low_a, other.low_a) + min(one.high_a, other.high_a)) / 2.0
    along_b = (max(one.low_b, other.low_b) + min(one.high_b, other.high_b)) / 2.0
    apart_a = max(one.low_a, other.low_a) - min(one.high_a, other.high_a)
    apart_b = max(one.low_b, other.low_b) - min(one.high_b, other.high_b)
    if max(apart_a, apart_b) > RUN:
        return False
    if max(apart_a, apart_b) <= accuracy:
        return True
    return distance(a.point_at(along_a), b.point_at(along_b)) <= accuracy


def _joined(one: Contact, other: Contact) -> Contact:
    best = min(one, other, key=lambda contact: contact.gap)
    return Contact(
        best.along_a,
        best.along_b,
        best.gap,
        min(one.low_a, other.low_a),
        max(one.high_a, other.high_a),
        min(one.low_b, other.low_b),
        max(one.high_b, other.high_b),
    )


def _runs(a: Curve, b: Curve, contact: Contact, accuracy: float) -> bool:
    """Whether a contact is a stretch rather than a place."""
    long = contact.high_a - contact.low_a
    if long > min(RUN, RUN_SHARE * min(a.length, b.length)):
        return True
    if long <= 10.0 * accuracy:
        return False
    quarters = (contact.low_a + long * share for share in (0.25, 0.75))
    return all(nearest(b, a.point_at(s)).distance <= EXACTLY * accuracy for s in quarters)


def _outline(curves: Sequence[Curve]) -> tuple[Curve, bool]:
    """The curves as one with every joint exact, and whether it closes."""
    control = join(curves).control.copy()
    control[1:, 0] = control[:-1, 3]
    closed = float(np.hypot(*(control[-1, 3] - control[0, 0]))) <= MEETS
    if closed:
        control[-1, 3] = control[0, 0]
    return Curve.unchecked(control), closed


def _is_joint(chain: Curve, contact: Contact, closed: bool, accuracy: float) -> bool:
    """Whether a contact of a chain with itself is no more than the chain going on."""
    between = contact.low_b - contact.high_a
    if closed:
        between = min(between, contact.low_a + chain.length - contact.high_b)
    long = contact.high_a - contact.low_a
    return between <= 4.0 * accuracy and long <= min(RUN, RUN_SHARE * chain.length)
