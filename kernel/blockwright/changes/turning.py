"""Turning: a piece is slashed from the point of a dart to an edge, and the cloth between turned.

The side of the slash without the grain is the one that turns.
Source: common practice, no source (slash and turn about the dart's point).
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import replace
from itertools import groupby, pairwise

from blockwright.curves.affine import STAYS, Affine
from blockwright.curves.chain import contains, join, rejoin
from blockwright.curves.curve import Curve
from blockwright.curves.intersect import intersections
from blockwright.curves.intersect_line import on_line
from blockwright.curves.nearest import nearest
from blockwright.curves.point import Point, distance
from blockwright.curves.primitives import line
from blockwright.errors import GeometryError, PatternError
from blockwright.pattern import tolerance
from blockwright.pattern.dart import opening, roof_between
from blockwright.pattern.measure import piece_checks
from blockwright.pattern.pattern import CarriedLine, Laid, Pattern
from blockwright.pattern.piece import Dart, Edge, Guide, Notch, Piece
from blockwright.pattern.table.label_placement import fitted_grain

# The cloth of a dart reaches past its legs into the roof, by this many times their length at most.
PAST_LEGS = 1.2


class Turning:
    """A dart is closed, wholly or by a share, and the cloth opens at another place."""

    def __init__(
        self, piece: Piece, dart: str, edge: str, along: float, share: float, *, filled: bool
    ) -> None:
        """`along` is in mm from the start of the edge with its darts closed.

        With `filled`, cloth fills the gap that opens.  Otherwise the gap is a dart.

        Raises PatternError if there is no such dart or edge, the edge takes no dart, or `share` is
        not more than 0 and at most 1.  Raises GeometryError if the place is not inside the edge, or
        the slash leaves the piece or crosses a dart.
        """
        if not 0.0 < share <= 1.0:
            raise PatternError(
                f"a share of {share:g} of {dart!r} cannot be closed; give more than 0, at most 1"
            )
        self.before = piece
        self.dart = piece.dart(dart)
        self.apex = self.dart.apex
        self.whole, self._filled = share == 1.0, filled
        start, end = piece.dart_legs(self.dart)
        self.angle = share * opening(self.apex, start, end)
        opens, here = piece.place(edge, along)
        self.edge, self.along = piece.edges[opens], along
        if self.edge.role in ("fold", "dart"):
            what = "is on the fold" if self.edge.role == "fold" else "is the mouth of a dart"
            raise PatternError(f"{edge!r} {what} and takes no dart; choose another edge")
        first, second = self._cut_open(here)
        foot = first.end
        self._slash = line(self.apex, foot)
        self._legs = line(self.apex, start), line(self.apex, end)
        names = [each.name for each in piece.edges]
        mouth = names.index(self.dart.mouth)
        count = (opens - mouth) % len(names)
        ring = [piece.edges[(mouth + i) % len(names)] for i in range(len(names))]
        # From the mouth on come the edges that turn, the edge that opens, and those that stay.
        self._moving, self._staying = ring[1:count], ring[count + 1 :]
        self._turned_edges = [*(each.curve for each in self._moving), first]
        self._still_edges = [second, *(each.curve for each in self._staying)]
        self._region = [*self._turned_edges, line(foot, self.apex), line(self.apex, end)]
        self._check_slash()
        # Closing lays the leg at the mouth's end on the leg at its start.  The side with the grain
        # stays.
        turn = Affine.turn(-self.angle, self.apex)
        low, high = piece.grain
        stays = not contains(self._region, low.between(high, 0.5))
        self._turned, self._still = (turn, STAYS) if stays else (STAYS, turn.inverse())
        self.opened = first.moved(self._turned), second.moved(self._still)

    # -- what it is made of ------------------------------------------------------------------

    def _cut_open(self, here: float) -> tuple[Curve, Curve]:
        curve = self.edge.curve
        if not tolerance.CORNER < here < curve.length - tolerance.CORNER:
            raise GeometryError(
                f"there is no room to open {self.edge.name!r} at {self.along:.1f} mm, an end of "
                "it or of a dart in it; choose a place between"
            )
        return curve.split_at(here)

    def _check_slash(self) -> None:
        outline = join([edge.curve for edge in self.before.edges])
        to = f"the slash from the point of {self.dart.name!r} to {self.edge.name!r}"
        if len(intersections(self._slash, outline)) > 1:
            raise GeometryError(f"{to} leaves the piece")
        for other in self.before.darts:
            if other is self.dart:
                continue
            legs = [line(other.apex, end) for end in self.before.dart_legs(other)]
            met = [each for leg in legs for each in intersections(self._slash, leg)]
            if not all(tolerance.meet(each.point, self.apex) for each in met):
                raise GeometryError(f"{to} crosses {other.name!r}; choose another place")

    def piece(self, opened: Sequence[Edge], dart: Dart | None = None) -> Piece:
        """The turned piece.

        `opened` are the stretches of the edge that opened, with the mouth of `dart` between them if
        a dart opened.  Raises GeometryError if a mouth is wider than the edge it is pressed over,
        or cloth would lie over cloth.
        """
        ring = [*self._laid(self._moving, self._turned), *opened]
        ring += self._laid(self._staying, self._still)
        kept = self.dart
        if self.whole:
            if ring[-1].name == ring[0].name:  # the dart was in an edge, which is whole again
                ring = [replace(ring[0], curve=rejoin(ring[-1].curve, ring[0].curve)), *ring[1:-1]]
        else:
            ring.append(self.before.edge(kept.mouth))
        standing = () if self.whole else (kept,)
        mouths = {each.mouth: each for each in (*standing, *((dart,) if dart else ()))}
        ring = [
            replace(each, curve=_roof(ring, i, mouths[each.name])) if each.name in mouths else each
            for i, each in enumerate(ring)
        ]
        made = replace(
            self.before,
            edges=self._in_order(ring),
            darts=tuple(self._darts(dart)),
            guides=tuple(self._guides()),
            notes=tuple(replace(n, at=self.laid(n.at).lay(n.at)) for n in self.before.notes),
            label_at=self.laid(self.before.label_at).lay(self.before.label_at),
        )
        made = fitted_grain(made)
        self._check(made)
        return made

    @staticmethod
    def _laid(edges: Sequence[Edge], lay: Affine) -> list[Edge]:
        if lay is STAYS:
            return list(edges)
        return [replace(each, curve=each.curve.moved(lay)) for each in edges]

    def _in_order(self, ring: list[Edge]) -> tuple[Edge, ...]:
        """The outline, beginning with the first old edge that is still there."""
        names = [each.name for each in ring]
        first = next(each.name for each in self.before.edges if each.name in names)
        begin = replace(self.before, edges=tuple(ring)).places_of(first)[0]
        return tuple(ring[begin:] + ring[:begin])

    def _darts(self, opened: Dart | None) -> Iterator[Dart]:
        turned = {each.name for each in self._moving}
        for each in self.before.darts:
            if each is self.dart:
                if self.whole and opened:
                    yield opened
                elif not self.whole:
                    yield each
            else:
                lay = self._turned if each.mouth in turned else self._still
                yield replace(each, apex=lay(each.apex))
        if opened and not self.whole:
            yield opened

    def _guides(self) -> Iterator[Guide]:
        """The guides as they are now: cut where the cloth was cut, not drawn over an opening."""
        for name, group in groupby(self.before.guides, key=lambda guide: guide.name):
            parts, _ = self._line([guide.curve for guide in group], bridge=False)
            yield from (Guide(name, part) for part in parts)

    def _check(self, made: Piece) -> None:
        """Raises GeometryError if cloth would lie over cloth that did not before."""
        after = _unsound(made)
        if after and after > _unsound(self.before):
            raise GeometryError(
                f"closing {self.dart.name!r} into {self.edge.name!r} lays cloth over cloth; "
                "choose another place"
            )

    # -- what became of places and lines (a Cloth) -------------------------------------------

    def laid(self, at: Point) -> Laid:
        """Where a place of the piece is now.  A place on an edge goes with the edge."""
        return Laid(self.before.ref, self._turned if self._goes(at) else self._still)

    def _goes(self, at: Point) -> bool:
        """Whether a place is on the side that turns."""
        if tolerance.meet(at, self.apex):
            return False
        # A place where the edge opens belongs to the stretch before it, as in `Piece.place`.  That
        # stretch turns.
        for curves, goes in ((self._turned_edges, True), (self._still_edges, False)):
            if any(self._on(curve, at) for curve in curves):
                return goes
        return self._is_cut_off(at)

    def _is_cut_off(self, at: Point) -> bool:
        """Whether a place that lies on no edge is in the cloth that turns.

        For a place outside the piece its direction from the point of the dart decides.
        """
        if contains([edge.curve for edge in self.before.edges], at):
            return contains(self._region, at)
        return self._between(at, self._legs[1].end, self._slash.end)

    def _between(self, at: Point, first: Point, second: Point) -> bool:
        """Whether a place lies between two others, counter-clockwise from the dart's point."""
        begin = first - self.apex
        angles = [
            math.atan2(begin.cross(to - self.apex), begin.dot(to - self.apex)) % math.tau
            for to in (at, second)
        ]
        return angles[0] < angles[1]

    def line(self, parts: Sequence[Curve]) -> tuple[CarriedLine, ...]:
        """A line across the piece: cut where the cloth was cut, bridged where it opened."""
        done, added = self._line(parts, bridge=True)
        return (CarriedLine(self.before.ref, tuple(done), added),) if done else ()

    def _line(self, parts: Sequence[Curve], *, bridge: bool) -> tuple[list[Curve], float]:
        """The parts of a line, and the cloth let in along it, mm."""
        done: list[Curve] = []
        added = 0.0
        last = Point(0.0, 0.0)
        for old in (each for part in parts for each in self._apart(part)):
            middle = old.point_at(old.length / 2.0)
            if self._in_dart(middle):
                continue
            lay = self._turned if self._is_cut_off(middle) else self._still
            new = old if lay is STAYS else old.moved(lay)
            if done:
                gap = distance(done[-1].end, new.start)
                if gap < tolerance.ROUNDED:
                    new = rejoin(done.pop(), new)
                elif bridge and self._bridged(last, old.start):
                    over = line(done[-1].end, new.start)
                    added += gap if self._filled and self._on(self._slash, last) else 0.0
                    new = rejoin(rejoin(done.pop(), over), new)
            done.append(new)
            last = old.end
        return done, added

    def _apart(self, curve: Curve) -> list[Curve]:
        """A line cut where it crosses the legs of the dart and the slash."""
        places = {0.0, curve.length}
        for cut in (*self._legs, self._slash):
            try:
                met = on_line(curve, cut.start, cut.end)
            except GeometryError:
                continue  # it runs along the cut and goes with one side of it
            places.update(along for along in met if self._on(cut, curve.point_at(along)))
        if len(places) == 2:
            return [curve]
        return [curve.part(a, b) for a, b in pairwise(sorted(places)) if b - a > tolerance.ROUNDED]

    def _in_dart(self, at: Point) -> bool:
        """Whether a place is in the cloth of the dart."""
        start, end = (leg.end for leg in self._legs)
        near = distance(at, self.apex) < PAST_LEGS * distance(start, self.apex)
        return near and self._between(at, start, end)

    def _bridged(self, a: Point, b: Point) -> bool:
        """Whether a line goes on between two places, over the slash or the rest of the dart."""
        if self._on(self._slash, a) and self._on(self._slash, b):
            return True
        first, second = self._legs
        over = self._on(first, a) and self._on(second, b)
        return not self.whole and (over or (self._on(second, a) and self._on(first, b)))

    @staticmethod
    def _on(curve: Curve, at: Point) -> bool:
        x0, y0, x1, y1 = curve.bounds
        room = tolerance.CLOSED
        near = x0 - room < at.x < x1 + room and y0 - room < at.y < y1 + room
        return near and nearest(curve, at).distance < room


def _roof(ring: Sequence[Edge], i: int, dart: Dart) -> Curve:
    """The mouth of a dart between its neighbours in a ring of edges."""
    before, after = ring[i - 1], ring[(i + 1) % len(ring)]
    try:
        return roof_between(dart.apex, before.curve, after.curve, dart.pressed)
    except GeometryError as error:
        over = before if dart.pressed == "start" else after
        raise GeometryError(
            f"{dart.name!r} would be wider than the edge it is pressed over, "
            f"{over.curve.length:.1f} mm of {over.name!r}; choose another place, or press it the "
            "other way"
        ) from error


def _unsound(piece: Piece) -> int:
    """The number of checks that a piece fails.  Those of grain and label do not count."""
    pattern = Pattern(piece.block, "", (piece,))
    results = (result for check in piece_checks(piece) for result in check.measure(pattern))
    return sum(not r.held for r in results if r.code not in ("outline.grain", "outline.label"))


def notches_shifted(piece: Piece, edge: str, after: float, by: float) -> tuple[Notch, ...]:
    """The notches of a piece.  Those on `edge` beyond `after` mm are moved along by `by` mm."""
    return tuple(
        replace(n, along=n.along + by) if n.edge == edge and n.along > after else n
        for n in piece.notches
    )
