"""Where curves meet each other and themselves."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from blockwright.curves import subdivision
from blockwright.curves._numpy import np
from blockwright.curves.chain import join, meet
from blockwright.curves.contacts import Contact, contacts
from blockwright.curves.curve import Curve
from blockwright.curves.nearest import nearest
from blockwright.curves.point import Point, distance
from blockwright.curves.tolerance import MEETS, ONE_PLACE
from blockwright.errors import GeometryError

# Curves run together if they stay within the accuracy for longer than RUN, mm, or than RUN_SHARE of
# the shorter curve.  Two arcs of 10 m radius that touch do so for a quarter of a millimetre.
RUN, RUN_SHARE = 1.0, 0.01
# Curves also run together if they stay within this share of the accuracy along a shorter stretch.
# Curves that only touch are further apart at both ends of it.
EXACTLY = 1e-3


@dataclass(frozen=True, slots=True)
class Crossing:
    """A place where two curves meet, and its distance along each, mm."""

    along_a: float
    along_b: float
    point: Point


def intersections(a: Curve, b: Curve, *, accuracy: float = MEETS) -> tuple[Crossing, ...]:
    """Every place where two curves cross or touch, in order along `a`.

    A crossing has `point` and the distances `along_a` and `along_b` along the curves, mm.  The
    curves meet where they come within `accuracy` mm of each other, ends included.  Where they
    cross, the place is exact except for rounding.  Places are one if the curves stay within
    `accuracy` mm between them.  A curve that passes a point twice has two crossings there.

    Raises GeometryError if the curves run together for a stretch; the message says where.  Raises
    it too if the accuracy is finer than 1e-9 mm.

    Example:
        >>> from blockwright import Point, intersections, line
        >>> a = line(Point(0.0, 0.0), Point(200.0, 0.0))
        >>> (meeting,) = intersections(a, line(Point(50.0, -30.0), Point(50.0, 70.0)))
        >>> f"{meeting.along_a:.1f} along one, {meeting.along_b:.1f} along the other"
        '50.0 along one, 30.0 along the other'
    """
    _check_accuracy(accuracy)
    first, second = subdivision.whole(a.control), subdivision.whole(b.control)
    row, column = np.nonzero(subdivision.boxes_near(a.control, b.control, accuracy))
    start = subdivision.Pairs(first.take(row), second.take(column), np.zeros(len(row), dtype=int))
    found = _merged(a, b, contacts(a, b, start, accuracy), accuracy)
    for contact in found:
        if _runs(a, b, contact, accuracy):
            p, q = a.point_at(contact.low_a), a.point_at(contact.high_a)
            raise GeometryError(
                f"the curves run together for {contact.high_a - contact.low_a:.4g} mm, from "
                f"({p.x:.3f}, {p.y:.3f}) to ({q.x:.3f}, {q.y:.3f})"
            )
    return _crossings(a, found)


def self_crossings(curves: Sequence[Curve], *, accuracy: float = MEETS) -> tuple[Crossing, ...]:
    """Every place where an outline crosses or touches itself.

    The outline is a chain of curves.  Distances are measured along the whole chain, the smaller one
    first.  The shared end of neighbours is no crossing; the last and the first curve are neighbours
    if they meet.  A stretch that runs over another is one crossing, at its closest place.
    Neighbours that turn back on each other may stay within `accuracy` mm for up to a millimetre
    from their corner.

    Raises GeometryError if two curves in a row do not meet, or the accuracy is finer than 1e-9 mm.
    """
    _check_accuracy(accuracy)
    chain, closed = _outline(curves)
    count = len(chain.control)
    row, column = np.nonzero(
        np.triu(subdivision.boxes_near(chain.control, chain.control, accuracy))
    )
    link = np.where(
        row == column, subdivision.SAME, np.where(column == row + 1, subdivision.ENDS_AT, 0)
    )
    if closed and count > 1:
        link += subdivision.STARTS_AT * ((row == 0) & (column == count - 1))
    side = subdivision.whole(chain.control)
    start = subdivision.Pairs(side.take(row), side.take(column), link)
    found = _merged(chain, chain, contacts(chain, chain, start, accuracy), accuracy)
    return _crossings(chain, [one for one in found if not _is_joint(chain, one, closed, accuracy)])


def _check_accuracy(accuracy: float) -> None:
    if not accuracy >= ONE_PLACE:
        raise GeometryError(f"accuracy must be {ONE_PLACE:g} mm or coarser, not {accuracy:g}")


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
    """The contacts, with those joined between which the curves stay within the accuracy."""
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
    """Whether a contact is a stretch and no single place."""
    long = contact.high_a - contact.low_a
    if long > min(RUN, RUN_SHARE * min(a.length, b.length)):
        return True
    if long <= 10.0 * accuracy:
        return False
    quarters = (contact.low_a + long * share for share in (0.25, 0.75))
    return all(nearest(b, a.point_at(s)).distance <= EXACTLY * accuracy for s in quarters)


def _outline(curves: Sequence[Curve]) -> tuple[Curve, bool]:
    """One curve of all with exact joints, and whether it closes."""
    chain = join(curves)
    control, closed = chain.control.copy(), meet(chain, chain)
    control[1:, 0] = control[:-1, 3]
    if closed:
        control[-1, 3] = control[0, 0]
    return Curve.unchecked(control), closed


def _is_joint(chain: Curve, contact: Contact, closed: bool, accuracy: float) -> bool:
    """Whether a contact of a chain with itself is only the joint of two pieces."""
    between = contact.low_b - contact.high_a
    if closed:
        between = min(between, contact.low_a + chain.length - contact.high_b)
    long = contact.high_a - contact.low_a
    return between <= 4.0 * accuracy and long <= min(RUN, RUN_SHARE * chain.length)
