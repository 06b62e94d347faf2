"""The cut line at a corner: mitred, blunted, stepped to another width, squared or folded back."""

from __future__ import annotations

from dataclasses import dataclass

from blockwright.curves.affine import Affine
from blockwright.curves.chain import join
from blockwright.curves.curve import Curve
from blockwright.curves.intersect import Crossing, intersections
from blockwright.curves.intersect_line import on_segment
from blockwright.curves.point import Point, distance
from blockwright.curves.primitives import line
from blockwright.pattern import tolerance

# Cut lines are extended straight past their ends by this many times the wider allowance.  The
# extended lines meet at corners down to about fifteen degrees.
REACH = 8.0
# A spike that would reach further from its corner than this many times the wider allowance is cut
# off there.  Two equal allowances do so at corners sharper than 47 degrees.  Common practice, no
# source: points are blunted, because a long spike frays, and hides where the stitching begins.
BLUNT = 2.5


@dataclass(frozen=True, slots=True)
class Side:
    """An edge at a corner: its sew line, its cut line, and the distance to its left, mm.

    No cloth can be added beside a `fold`, because it goes on beyond it.
    """

    sew: Curve
    cut: Curve
    left: float
    fold: bool = False

    @property
    def back(self) -> Side:
        """The same edge run the other way."""
        return Side(self.sew.reversed(), self.cut.reversed(), -self.left, self.fold)


Turn = tuple[Curve, tuple[Point, ...], Curve]
"""The first cut line up to the corner, the places between, and the second from the corner on."""


def mitred(a: Side, b: Side, bevel: float | None = None) -> Turn:
    """Both cut lines extended until they meet.

    A spike is cut off `bevel` mm from the corner, square to itself; BLUNT times the wider allowance
    if that is None.  Edges that run on are `stepped`.
    """
    corner = a.sew.end
    if distance(a.cut.end, b.cut.start) <= tolerance.ONE_CUT:
        return a.cut, (), b.cut
    longest = BLUNT * max(abs(a.left), abs(b.left)) if bevel is None else bevel
    first, second = _carried_on(a, b, longest)
    met = _nearest_to(corner, intersections(first, second))
    before = second.length - b.cut.length
    onward = a.cut.end_tangent.dot(b.cut.start_tangent) > 0.0
    if onward and (
        met is None or distance(met.point, corner) > longest or _taken(a, b, met, before)
    ):
        return stepped(a, b)
    if met is not None:
        spike = met.point - corner
        first, second = first.part(0.0, met.along_a), second.part(met.along_b, second.length)
        if abs(spike) <= longest:
            return first, (), second
    else:
        spike = a.cut.end_tangent - b.cut.start_tangent
    middle = corner + spike.unit() * longest
    across = spike.unit().left()
    one = _on_line(first, middle, across, REACH * longest)
    other = _on_line(second, middle, across, REACH * longest)
    if one is None or other is None:
        return first, (), second
    return first.part(0.0, one), (), second.part(other, second.length)


def stepped(a: Side, b: Side) -> Turn:
    """Two edges nearly in line: the wider allowance goes over to the narrower along a slope.

    The wider one is whole up to the joint.  Beyond it the cut line comes in at 45 degrees, or
    steeper where the narrower edge is short.  So no seam has less than its allowance, and the cut
    has no inner corner to tear from.  Beside a fold the step stays square.
    Source: common practice, no source.
    """
    more = abs(a.left) - abs(b.left)
    if abs(more) > tolerance.ONE_CUT and not (a.fold or b.fold):
        if more > 0.0:
            return a.cut, (), b.cut.part(min(more, b.cut.length / 2.0), b.cut.length)
        return a.cut.part(0.0, a.cut.length - min(-more, a.cut.length / 2.0)), (), b.cut
    return a.cut, (), b.cut


def _taken(a: Side, b: Side, met: Crossing, before: float) -> bool:
    """Whether a mitre would cut far into an allowance at an outward corner.

    The cut line of the narrower one, carried on, then crosses the other's before its end, by more
    than the allowances differ.  The second line is `before` mm longer than its cut line.
    """
    outward = a.sew.end_tangent.cross(b.sew.start_tangent) > 0.0
    taken = max(a.cut.length - met.along_a, met.along_b - before)
    return outward and taken > abs(abs(a.left) - abs(b.left)) + tolerance.ONE_CUT


def squared(a: Side, b: Side) -> Turn | None:
    """The end of the allowance of seam `a`, square to `a`, for an edge `b` that crosses it.

    The allowance ends where the stitching of `a` meets the cut line of `b`.  When it is pressed
    open, it ends exactly at the cut edge of `b`.  None if the stitching does not meet that line, or
    if the corner is hollow: there the two cut lines cross.
    """
    corner, way = a.sew.end, a.sew.end_tangent
    if way.cross(b.sew.start_tangent) * a.left > 0.0:
        return None
    reach = REACH * max(abs(a.left), abs(b.left))
    first, second = _carried_on(a, b)
    met = _on_line(second, corner, way, reach) if b.left else second.length - b.cut.length
    if met is None:
        return None
    at = second.point_at(met) if b.left else corner
    reached = _on_line(first, at + way.left() * a.left, way.left(), abs(a.left))
    if reached is None or distance(first.point_at(reached), at) > abs(a.left) * 1.01:
        return None
    return first.part(0.0, reached), (at,), second.part(met, second.length)


def folded(a: Side, b: Side) -> Turn | None:
    """The allowance of seam `a` beside its hem `b`: below the hem it mirrors the part above.

    When the hem is turned up, the two parts lie edge to edge even if the seam is slanted.  None if
    the cut line of `a` does not reach the hem.
    """
    corner, way = b.sew.start, b.sew.start_tangent
    reach = REACH * max(abs(a.left), abs(b.left))
    first, second = _carried_on(a, b)
    met = _on_line(first, corner, way, reach)
    if met is None:
        return None
    above = first.part(0.0, met)
    below = above.moved(Affine.mirror(corner, corner + way)).reversed()
    below = join([below, line(below.end, below.end + below.end_tangent * reach)])
    ends = intersections(below, second)
    if not ends:
        return None
    end = min(ends, key=lambda each: each.along_a)
    side = join([above, below.part(0.0, end.along_a)])
    return side, (), second.part(end.along_b, second.length)


def _carried_on(a: Side, b: Side, longest: float = 0.0) -> tuple[Curve, Curve]:
    """The first cut line extended past its end, and the second before its start."""
    reach = max(REACH * max(abs(a.left), abs(b.left)), REACH * longest)
    on = line(a.cut.end, a.cut.end + a.cut.end_tangent * reach)
    before = line(b.cut.start - b.cut.start_tangent * reach, b.cut.start)
    return join([a.cut, on]), join([before, b.cut])


def _nearest_to(place: Point, met: tuple[Crossing, ...]) -> Crossing | None:
    return min(met, key=lambda each: distance(each.point, place), default=None)


def _on_line(curve: Curve, place: Point, way: Point, reach: float) -> float | None:
    """How far along a curve it meets a line nearest to a place on the line, mm.

    None if it does not within `reach` mm of the place.
    """
    met = on_segment(curve, place - way * reach, place + way * reach)
    return min(met, key=lambda s: distance(curve.point_at(s), place), default=None)
