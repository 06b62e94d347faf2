"""What the cut line does at a corner: mitred, squared to a seam, folded back for a hem."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Literal

from blockwright.curves.affine import Affine
from blockwright.curves.chain import join
from blockwright.curves.curve import Curve
from blockwright.curves.make import line
from blockwright.curves.meet import Crossing, intersections
from blockwright.curves.point import Point, distance

Kind = Literal["mitred", "squared", "folded"]
# Cut lines are carried on straight past their ends by this many times the wider allowance, to look
# for where they meet: corners down to some fifteen degrees.
REACH = 8.0
# Ends this near, mm, are one: far below what any blade follows.
SAME = 0.02


@dataclass(frozen=True, slots=True)
class Side:
    """An edge at a corner: its sew line, its cut line, and how far that is to the left, mm."""

    sew: Curve
    cut: Curve
    left: float

    @property
    def back(self) -> Side:
        """The same travelled the other way."""
        return Side(self.sew.reversed(), self.cut.reversed(), -self.left)


Turn = tuple[Curve, tuple[Point, ...], Curve]
"""The first cut line as far as the corner, places between, and the second from the corner on."""


def mitred(a: Side, b: Side, longest: float) -> Turn:
    """Both cut lines carried on until they meet; a spike longer than `longest` mm is bevelled."""
    corner = a.sew.end
    if distance(a.cut.end, b.cut.start) <= SAME:
        return a.cut, (), b.cut
    first, second = _carried_on(a, b, longest)
    met = _nearest_to(corner, intersections(first, second))
    if met is not None:
        spike = met.point - corner
        first, second = first.part(0.0, met.along_a), second.part(met.along_b, second.length)
        if abs(spike) <= longest:
            return first, (), second
    else:
        spike = a.cut.end_tangent - b.cut.start_tangent
        if a.cut.end_tangent.dot(b.cut.start_tangent) > 0.0:
            return a.cut, (), b.cut  # the edges run on: a step from one width to the other
    middle = corner + spike.unit() * longest
    across = spike.unit().left() * (REACH * longest)
    bevel = line(middle - across, middle + across)
    one = _nearest_to(middle, intersections(first, bevel))
    other = _nearest_to(middle, intersections(second, bevel))
    if one is None or other is None:
        return first, (), second
    return first.part(0.0, one.along_a), (), second.part(other.along_a, second.length)


def squared(a: Side, b: Side) -> Turn | None:
    """The allowance of seam `a` ends square to it where its stitching reaches the cut line of `b`.

    Pressed open, it then lies exactly under the edge of `b`.  None where the stitching does not
    reach that.
    """
    corner, way = a.sew.end, a.sew.end_tangent
    reach = REACH * max(abs(a.left), abs(b.left))
    first, second = _carried_on(a, b)
    stitching = line(corner - way * reach, corner + way * reach)
    met = _nearest_to(corner, intersections(second, stitching)) if b.left else None
    at = met.point if met else corner
    along = met.along_a if met else second.length - b.cut.length
    end = line(at - way.left() * a.left * 0.01, at + way.left() * a.left * 1.01)
    reached = _nearest_to(at + way.left() * a.left, intersections(first, end))
    if reached is None or (met is None and b.left):
        return None
    return first.part(0.0, reached.along_a), (at,), second.part(along, second.length)


def folded(a: Side, b: Side) -> Turn | None:
    """The allowance beside seam `a` below its hem `b` mirrors the one above it.

    Turned up along the hem, it then lies on the garment edge to edge, whatever the taper.  None
    where the cut line of `a` does not reach the hem.
    """
    corner, way = b.sew.start, b.sew.start_tangent
    reach = REACH * max(abs(a.left), abs(b.left))
    first, second = _carried_on(a, b)
    met = _nearest_to(
        corner, intersections(first, line(corner - way * reach, corner + way * reach))
    )
    if met is None:
        return None
    above = first.part(0.0, met.along_a)
    below = above.moved(Affine.mirror(corner, corner + way)).reversed()
    below = join([below, line(below.end, below.end + below.end_tangent * reach)])
    ends = intersections(below, second)
    if not ends:
        return None
    end = min(ends, key=lambda each: each.along_a)
    side = join([above, below.part(0.0, end.along_a)])
    return side, (), second.part(end.along_b, second.length)


def _carried_on(a: Side, b: Side, longest: float = 0.0) -> tuple[Curve, Curve]:
    """The first cut line carried on past its end, the second begun before its start."""
    reach = max(REACH * max(abs(a.left), abs(b.left)), REACH * longest)
    on = line(a.cut.end, a.cut.end + a.cut.end_tangent * reach)
    before = line(b.cut.start - b.cut.start_tangent * reach, b.cut.start)
    return join([a.cut, on]), join([before, b.cut])


def _nearest_to(place: Point, met: tuple[Crossing, ...]) -> Crossing | None:
    return min(met, key=lambda each: distance(each.point, place), default=None)
