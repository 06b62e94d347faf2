"""What a cutter does with a dart: turn it to another edge, split, shorten, spread, take in.

Each function gives a new piece.  Of the two sides of a slash the one without the grain is turned.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise
from typing import Literal

from blockwright.curves.affine import Affine
from blockwright.curves.chain import contains, join
from blockwright.curves.curve import Curve
from blockwright.curves.fair import fair_curve
from blockwright.curves.make import arc_between, line
from blockwright.curves.meet import intersections
from blockwright.curves.point import Point, distance
from blockwright.errors import GeometryError, PatternError
from blockwright.pattern.dart import opening, roof_between
from blockwright.pattern.piece import Dart, Edge, Guide, Notch, Piece, missing

Pressed = Literal["start", "end"]


def move_dart(
    piece: Piece,
    dart: str,
    edge: str,
    along: float,
    *,
    name: str,
    pressed: Pressed,
    says: str,
    parts: tuple[str, str],
    share: float = 1.0,
) -> Piece:
    """Close a dart, or `share` of it, and open as much at another place, from the same point.

    The piece is slashed from the dart's point to the place `along` mm from the start of `edge`,
    and the cloth between is turned about the point.  `edge` becomes two edges named `parts`, in
    outline order, with the new dart `name` between them, its mouth cut as it is `pressed`.  With
    a share under 1 the old dart stays, narrower: one dart is split in two.  `pressed` and `says`
    are those of the new dart; see `Dart`.

    Raises PatternError for a dart or an edge there is not, a share that is not more than 0 and at
    most 1 and a `pressed` that is neither, and GeometryError if the place is not inside the edge,
    the slash leaves the piece, or a mouth is wider than the edge it is pressed over.
    Source: common practice, no source (slash and turn about the dart's point).

    Example:
        >>> from blockwright import Dart, Edge, Piece, Point, distance, move_dart, polyline
        >>> tip, a, b = Point(100, 150), Point(110, 300), Point(90, 300)
        >>> side = Edge("side", polyline([Point(200, 0), Point(200, 300), a]))
        >>> mouth = Edge("mouth", polyline([a, b]), "dart")
        >>> rest = Edge("rest", polyline([b, Point(0, 300), Point(0, 0), Point(200, 0)]))
        >>> dart = Dart("waist dart", tip, "mouth", "end", "pressed to the centre")
        >>> grain, label_at = (Point(50, 20), Point(50, 250)), Point(80, 60)
        >>> front = Piece("front", (side, mouth, rest), grain, label_at, darts=(dart,))
        >>> moved = move_dart(front, "waist dart", "side", 150.0, name="side dart",
        ...     pressed="start", says="pressed down", parts=("side", "upper side"))
        >>> moved.darts[0].name, round(distance(*moved.dart_legs(moved.darts[0])), 1)
        ('side dart', 13.3)
    """
    turned = _Turned(piece, dart, edge, along, share)
    before, after = turned.opened
    first, second = (
        Edge(parts[0], before, turned.edge.role),
        Edge(parts[1], after, turned.edge.role),
    )
    mouth = Edge(f"{name} mouth", roof_between(turned.apex, before, after, pressed), "dart")
    opened = Dart(name, turned.apex, mouth.name, pressed, says)
    return turned.piece([first, mouth, second], [opened])


def spread(piece: Piece, dart: str, edge: str, along: float, *, share: float = 1.0) -> Piece:
    """Close a dart, or `share` of it, and let another edge spread by as much.

    As `move_dart`, but the gap is filled with cloth: `edge` stays one, with an arc about the
    dart's point where it opened.  It runs on smoothly where the slash was square to it.  `along`
    in mm from the edge's start; `share` more than 0, at most 1.

    Raises PatternError for a dart or an edge there is not and a share that is not as said, and
    GeometryError if the place is not inside the edge, the slash leaves the piece, or the mouth of
    what is left of the dart is wider than the edge it is pressed over.
    Source: common practice, no source (slash and turn about the dart's point).

    Example:
        >>> from blockwright import Dart, Edge, Piece, Point, polyline, spread
        >>> tip, a, b = Point(100, 150), Point(110, 300), Point(90, 300)
        >>> hem = Edge("hem", polyline([Point(0, 0), Point(200, 0)]), "hem")
        >>> right = Edge("right", polyline([Point(200, 0), Point(200, 300), a]))
        >>> mouth = Edge("mouth", polyline([a, b]), "dart")
        >>> left = Edge("left", polyline([b, Point(0, 300), Point(0, 0)]))
        >>> dart = Dart("waist dart", tip, "mouth", "end", "pressed to the centre")
        >>> grain, label_at = (Point(50, 20), Point(50, 250)), Point(80, 60)
        >>> skirt = Piece("skirt", (hem, right, mouth, left), grain, label_at, darts=(dart,))
        >>> round(spread(skirt, "waist dart", "hem", 100.0).edge("hem").curve.length, 1)
        220.0
    """
    turned = _Turned(piece, dart, edge, along, share)
    before, after = turned.opened
    bridge = arc_between(before.end, after.start, turned.angle)
    return turned.piece([replace(turned.edge, curve=join([before, bridge, after]))], [])


def shorten_dart(piece: Piece, dart: str, by: float) -> Piece:
    """Draw a dart's point back toward its mouth by `by` mm along the middle of the dart.

    Its legs stay equal where they were, and its mouth is cut anew.  `by` is more than 0 and less
    than the dart is deep.

    Raises PatternError for a dart there is not, and GeometryError when `by` is not as said or the
    mouth is wider than the edge it is pressed over.

    Example:
        >>> from blockwright import Dart, Edge, Piece, Point, polyline, shorten_dart
        >>> tip, a, b = Point(100, 200), Point(110, 300), Point(90, 300)
        >>> mouth = Edge("mouth", polyline([a, b]), "dart")
        >>> rest = Edge("rest", polyline([b, Point(0, 300), Point(0, 0), Point(200, 300), a]))
        >>> dart = Dart("waist dart", tip, "mouth", "end", "pressed to the centre")
        >>> grain, label_at = (Point(50, 100), Point(50, 250)), Point(80, 250)
        >>> front = Piece("front", (mouth, rest), grain, label_at, darts=(dart,))
        >>> round(shorten_dart(front, "waist dart", 30.0).darts[0].apex.y, 1)
        230.0
    """
    found = _dart(piece, dart)
    start, end = piece.dart_legs(found)
    middle = start.between(end, 0.5)
    deep = distance(found.apex, middle)
    if not 0.0 < by < deep:
        raise GeometryError(
            f"{dart} cannot be shortened by {by:.1f} mm; give more than 0 and less than the "
            f"{deep:.1f} mm it is deep"
        )
    apex = found.apex.between(middle, by / deep)
    return _recut(piece, replace(found, apex=apex))


def take_in(piece: Piece, dart: str, seam: str, down: float, *, name: str) -> Piece:
    """Leave a dart unsewn and take its intake in at a seam instead.

    `seam` is an edge that meets the edge beside the dart at its other end.  The edges either side
    of the mouth become one fair edge, `name`, as long as they were together; the seam's end moves
    in with it and is drawn anew over `down` mm, running on smoothly into what is left of it.
    Notches on the two edges are left out.

    Raises PatternError for a dart or a seam there is not, and if the seam does not end there;
    GeometryError if `down` is longer than the seam or no fair line can be drawn.

    Example:
        >>> from blockwright import Dart, Edge, Piece, Point, line, polyline, take_in
        >>> tip, a, b = Point(100, 200), Point(110, 300), Point(90, 300)
        >>> side = Edge("side", polyline([Point(200, 0), Point(200, 300)]))
        >>> right = Edge("waist right", polyline([Point(200, 300), a]), "waist")
        >>> mouth = Edge("mouth", polyline([a, b]), "dart")
        >>> left = Edge("waist left", polyline([b, Point(0, 300)]), "waist")
        >>> rest = Edge("rest", polyline([Point(0, 300), Point(0, 0), Point(200, 0)]))
        >>> dart = Dart("waist dart", tip, "mouth", "end", "pressed to the centre")
        >>> grain, edges = (Point(50, 20), Point(50, 250)), (side, right, mouth, left, rest)
        >>> skirt = Piece("skirt", edges, grain, Point(80, 60), darts=(dart,))
        >>> slim = take_in(skirt, "waist dart", "side", 200.0, name="waist")
        >>> round(slim.edge("waist").curve.length, 1), round(slim.edge("side").curve.end.x, 1)
        (180.0, 180.0)
    """
    found = _dart(piece, dart)
    before, after = piece.before(found.mouth), piece.after(found.mouth)
    wanted = before.curve.length + after.curve.length
    marks = [before.curve.start, *_inner(before.curve), *_inner(after.curve), after.curve.end]
    whole = fair_curve(marks, before.curve.start_tangent, after.curve.end_tangent)
    at_end = piece.after(after.name).name == seam
    if not at_end and piece.before(before.name).name != seam:
        raise PatternError(f"{seam!r} meets neither {before.name!r} nor {after.name!r}")
    long = piece.edge(seam).curve
    if at_end:
        kept, moved = whole.split_at(wanted)[0], long.split_at(down)[1]
        drawn = join([fair_curve([kept.end, moved.start], end=moved.start_tangent), moved])
    else:
        kept = whole.split_at(whole.length - wanted)[1]
        moved = long.split_at(long.length - down)[0]
        drawn = join([moved, fair_curve([moved.end, kept.start], start=moved.end_tangent)])
    edges = []
    for each in piece.edges:
        if each.name == before.name:
            edges.append(replace(before, name=name, curve=kept))
        elif each.name == seam:
            edges.append(replace(each, curve=drawn))
        elif each.name not in (found.mouth, after.name):
            edges.append(each)
    return replace(
        piece,
        edges=tuple(edges),
        darts=tuple(each for each in piece.darts if each is not found),
        notches=tuple(n for n in piece.notches if n.edge not in (before.name, after.name)),
    )


class _Turned:
    """A piece slashed from a dart's point to a place on its outline, one side turned."""

    def __init__(self, piece: Piece, dart: str, edge: str, along: float, share: float) -> None:
        if not 0.0 < share <= 1.0:
            raise PatternError(
                f"a share of {share:g} of {dart!r} cannot be closed; give more than 0, at most 1"
            )
        self._from = piece
        self._dart = _dart(piece, dart)
        self.apex = self._dart.apex
        start, end = piece.dart_legs(self._dart)
        self.angle = share * opening(self.apex, start, end)
        self._share = share
        # Closing lays the leg at the mouth's end on the one at its start.
        self._turn = Affine.turn(-self.angle, self.apex)
        self.edge = piece.edge(edge)
        self._along = along
        first, second = self.edge.curve.split_at(along)
        self._check_slash(line(self.apex, first.end))
        self.opened = first.moved(self._turn), second
        names = [each.name for each in piece.edges]
        mouth, opens = names.index(self._dart.mouth), names.index(edge)
        count = (opens - mouth) % len(names)
        ring = [piece.edges[(mouth + i) % len(names)] for i in range(len(names))]
        # From the mouth on: the edges turned, the edge opened, the edges that stay.
        self._moving, self._staying = ring[1:count], ring[count + 1 :]
        whole = [each.curve for each in self._moving]
        self._region = [*whole, first, line(first.end, self.apex), line(self.apex, end)]

    def _check_slash(self, slash: Curve) -> None:
        outline = join([edge.curve for edge in self._from.edges])
        if len(intersections(slash, outline)) > 1:
            raise GeometryError(
                f"the slash from the point of {self._dart.name!r} to {self.edge.name!r} leaves "
                "the piece"
            )

    def piece(self, opened: list[Edge], darts: list[Dart]) -> Piece:
        """The piece with these edges where it was opened."""
        moved = [replace(each, curve=each.curve.moved(self._turn)) for each in self._moving]
        ring = [*moved, *opened, *self._staying]
        kept = self._dart
        standing = [kept] if self._share < 1.0 else []
        if standing:
            roof = roof_between(self.apex, ring[-1].curve, ring[0].curve, kept.pressed)
            ring.append(replace(self._from.edge(kept.mouth), curve=roof))
        others = [self._with_apex(each) for each in self._from.darts if each is not kept]
        # Outline order starts where it did, at the first edge that is still there.
        order = {each.name: i for i, each in enumerate(self._from.edges)}
        first = min(range(len(ring)), key=lambda i: order.get(ring[i].name, len(order)))
        made = replace(
            self._from,
            edges=tuple(ring[first:] + ring[:first]),
            darts=(*others, *standing, *darts),
            notches=tuple(self._notches(opened)),
            guides=tuple(self._guides()),
            notes=tuple(replace(n, at=self._place(n.at)) for n in self._from.notes),
            label_at=self._place(self._from.label_at),
        )
        low, high = self._from.grain
        if not contains(self._region, low.between(high, 0.5)):
            return made
        # The side turned was the one with the grain: put it back, and all the rest goes along.
        back = made.moved(self._turn.inverse())
        return replace(back, grain=self._from.grain)

    def _place(self, at: Point) -> Point:
        return self._turn(at) if contains(self._region, at) else at

    def _with_apex(self, dart: Dart) -> Dart:
        moves = any(each.name == dart.mouth for each in self._moving)
        return replace(dart, apex=self._turn(dart.apex)) if moves else dart

    def _notches(self, opened: list[Edge]) -> Iterator[Notch]:
        for notch in self._from.notches:
            if notch.edge != self.edge.name or len(opened) == 1:
                longer = opened[0].curve.length - self.edge.curve.length
                past = notch.edge == self.edge.name and notch.along > self._along
                yield replace(notch, along=notch.along + longer) if past else notch
            elif notch.along <= self._along:
                yield replace(notch, edge=opened[0].name)
            else:
                yield replace(notch, edge=opened[-1].name, along=notch.along - self._along)

    def _guides(self) -> Iterator[Guide]:
        """Guides on the side turned go with it; one that the cuts cross is cut there."""
        cuts = self._region[-2:]
        for guide in self._from.guides:
            places = sorted(
                meeting.along_a
                for cut in cuts
                for meeting in intersections(guide.curve, cut)
                if 1.0 < meeting.along_a < guide.curve.length - 1.0
            )
            ends = [0.0, *places, guide.curve.length]
            for a, b in pairwise(ends):
                if b - a > 1.0:
                    part = guide.curve.part(a, b)
                    moves = contains(self._region, part.point_at(part.length / 2.0))
                    yield replace(guide, curve=part.moved(self._turn) if moves else part)


def _dart(piece: Piece, name: str) -> Dart:
    for dart in piece.darts:
        if dart.name == name:
            return dart
    raise missing(f"piece {piece.name!r}", "dart", name, [dart.name for dart in piece.darts])


def _recut(piece: Piece, dart: Dart) -> Piece:
    """The piece with a dart in place of the one of that name, its mouth cut anew."""
    before, after = piece.before(dart.mouth).curve, piece.after(dart.mouth).curve
    roof = roof_between(dart.apex, before, after, dart.pressed)
    return replace(
        piece,
        edges=tuple(
            replace(each, curve=roof) if each.name == dart.mouth else each for each in piece.edges
        ),
        darts=tuple(dart if each.name == dart.name else each for each in piece.darts),
    )


def _inner(curve: Curve) -> list[Point]:
    return [curve.point_at(curve.length * share) for share in (0.25, 0.75)]
