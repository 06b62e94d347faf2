"""Measuring a pattern: every piece, what nobody promised, every promise."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import ClassVar, NamedTuple

from blockwright.curves.chain import inside, signed_area
from blockwright.curves.curve import Curve
from blockwright.curves.intersect import Crossing, self_crossings
from blockwright.curves.point import Point, distance
from blockwright.curves.tolerance import MEETS
from blockwright.errors import PatternError
from blockwright.pattern import tolerance
from blockwright.pattern.crossed_edges import crossed_edges
from blockwright.pattern.pattern import Carried, Lineage, Pattern, Promise
from blockwright.pattern.piece import Piece
from blockwright.pattern.ref import Ref
from blockwright.pattern.results import Reason, Result, Value
from blockwright.pattern.unasked.loose_pieces import loose_pieces
from blockwright.pattern.unasked.openings import (
    Opening,
    openings,
    several_openings,
    shut_or_crossed,
)
from blockwright.pattern.unasked.piece_faults import piece_faults
from blockwright.pattern.unasked.seam_corners import seam_corners
from blockwright.pattern.unasked.seam_roles import seam_roles
from blockwright.pattern.unasked.sewings import sewing_groups
from blockwright.pattern.unasked.sewn_copies import SewnCopies
from blockwright.pattern.unasked.sewn_once import sewn_once
from blockwright.pattern.unasked.sides import sides
from blockwright.pattern.unasked.way_up import way_up

# A grain line may end on the outline, so it is checked at this share of its length from its ends.
NEAR_END = 0.02
# Results of an outline without which its corners and widths mean nothing.
SOUND = ("outline.closes", "outline.simple", "outline.counter-clockwise")


class Measured(NamedTuple):
    """All results of a pattern, and the openings of its garments."""

    results: tuple[Result, ...]
    openings: tuple[Opening, ...]


def measured(pattern: Pattern) -> Measured:
    """Every result: those of each piece, then what nobody promised, then those of each promise.

    What nobody promised is measured only if every outline is sound and a block drafted the pattern.
    A drawing that was read has no promises and says nothing of its seams.  Raises PatternError if a
    promise names an edge or a piece that is not there.  The message names the promise.
    """
    own = [
        result
        for piece in pattern.pieces
        for check in piece_checks(piece)
        for result in check.measure(pattern)
    ]
    promised = [result for each in pattern.promises for result in _measure(each, pattern)]
    sound = all(result.held for result in own if result.code in SOUND)
    drafted = pattern.pieces and (pattern.origins or pattern.promises)
    found = _unasked(pattern) if sound and drafted else Measured((), ())
    return Measured((*own, *found.results, *promised), found.openings)


def _unasked(pattern: Pattern) -> Measured:
    """What a sewer would see although no block promised it, on pieces with sound outlines."""
    groups = sewing_groups(pattern)
    once = tuple(sewn_once(pattern, groups))
    sewn: list[Result] = []
    opened: tuple[Opening, ...] = ()
    if all(result.held for result in once):  # an edge without a partner is told of already
        copies = SewnCopies(pattern, groups)
        sewn = [*loose_pieces(pattern)]
        if copies.complete:  # a seam that cannot be sewn is told of already
            opened = tuple(openings(pattern, copies))
            # Pieces that hang loose have openings of their own.
            sewn += () if sewn else several_openings(pattern, copies)
            sewn += shut_or_crossed(copies)
    results = (
        *piece_faults(pattern.pieces), *sides(pattern), *seam_roles(pattern), *once, *sewn,
        *way_up(pattern), *seam_corners(pattern),
    )  # fmt: skip
    return Measured(results, opened)


def piece_checks(piece: Piece) -> Iterator[Promise]:
    """The checks of a piece, which nobody has to promise."""
    yield SoundOutline(piece.ref)
    for dart in piece.darts:
        yield DartLegs(Ref(piece.block, dart.name), piece.ref)


def _measure(promise: Promise, pattern: Pattern) -> tuple[Result, ...]:
    """The results of a promise.  An error in it is raised with its name."""
    try:
        results = promise.measure(pattern)
        for result in results:
            _check_wanted(result)
    except PatternError as error:
        raise PatternError(f"{promise.kind} {promise.name!r}: {error}") from error
    return results


def _check_wanted(result: Result) -> None:
    """Raises PatternError unless what a result wants is a range, as a plugin's may not be."""
    wanted: object = result.wanted
    if not (isinstance(wanted, tuple) and len(wanted) == 2):
        raise PatternError(
            f"the result {result.code!r} wants {wanted!r}: give the least and the greatest, as in "
            "(0.0, 0.0)"
        )


@dataclass(frozen=True, slots=True)
class PieceCheck(Promise):
    """A check of every piece, which nobody has to promise."""

    def carried(self, lineage: Lineage) -> Carried:
        """Itself.  It is made anew for each piece and never kept in a pattern."""
        return Carried((self,))


@dataclass(frozen=True, slots=True)
class SoundOutline(PieceCheck):
    """The outline of a piece closes, runs counter-clockwise and does not cross itself.

    Grain and label lie inside it.  The outline with all darts sewn does not cross itself either, so
    every dart lies inside the piece and clear of the others.  `ref` is the piece.
    """

    kind: ClassVar[str] = "outline"

    def measure(self, pattern: Pattern) -> tuple[Result, ...]:
        """The widest gap between edges, and the number of crossings and of places outside."""
        piece = pattern.piece(self.ref)
        edges = [edge.curve for edge in piece.edges]
        before, after, gap = piece.widest_gap()
        ends: dict[str, Value] = {
            "piece": self.ref,
            "before": Ref(piece.block, before.name),
            "after": Ref(piece.block, after.name),
            "gap": gap,
        }
        closed = Result(
            "outline.closes", self.ref, "length", (0.0, 0.0), gap, MEETS,
            why=Reason("outline.open", ends),
        )  # fmt: skip
        if not closed.held:
            return (closed,)
        turned = float(signed_area(edges) <= 0.0)
        low, high = piece.grain
        points = [dart.apex for dart in piece.darts]
        ends_of_grain = low.between(high, NEAR_END), high.between(low, NEAR_END)
        label, *within = inside(edges, [piece.label_at, *ends_of_grain, *points])
        grain, pointed = within[:2], within[2:]
        if all(pointed):  # what is folded away in a dart shows neither label nor grain
            label = label and not _in_a_dart(piece, piece.label_at)
            grain = [
                shown and not _in_a_dart(piece, at)
                for shown, at in zip(grain, ends_of_grain, strict=True)
            ]
        met = self_crossings(edges)
        counts: list[tuple[str, float, Reason | None]] = [
            ("outline.simple", len(met), _crossed(piece, met)),
            ("outline.counter-clockwise", turned, Reason("outline.list-edges")),
            ("outline.grain", grain.count(False), Reason("outline.move-grain")),
            ("outline.label", not label, Reason("outline.move-label")),
        ]
        if piece.darts:
            astray = pointed.count(False) + _crossings(points, pattern.sewn_outline(piece.ref))
            counts.append(("outline.darts", astray, None))
        return closed, *(
            Result(code, self.ref, "count", (0.0, 0.0), float(found), 0.0, why=why)
            for code, found, why in counts
        )


@dataclass(frozen=True, slots=True)
class DartLegs(PieceCheck):
    """The legs of a dart are equally long, so that it closes.  `ref` is the dart."""

    kind: ClassVar[str] = "dart-legs"
    piece: Ref

    def measure(self, pattern: Pattern) -> tuple[Result, ...]:
        """The difference of the legs, from the apex to the ends of the edges at the mouth."""
        piece = pattern.piece(self.piece)
        dart = piece.dart(self.ref.name)
        start, end = piece.dart_legs(dart)
        apart = distance(dart.apex, start) - distance(dart.apex, end)
        return (
            Result(
                "dart-legs", self.ref, "length", (0.0, 0.0), apart, tolerance.LENGTH,
                {"piece": self.piece},
            ),
        )  # fmt: skip


def _in_a_dart(piece: Piece, at: Point) -> bool:
    """Whether a place is between the legs of a dart."""
    for dart in piece.darts:
        start, end = piece.dart_legs(dart)
        corners = (dart.apex, start, end)
        sides = zip(corners, (*corners[1:], corners[0]), strict=True)
        if len({(b - a).cross(at - a) > 0.0 for a, b in sides}) == 1:
            return True
    return False


def _crossings(points: Sequence[Point], outline: Sequence[Curve]) -> int:
    """The number of places where the outline with its darts sewn crosses itself.

    Several darts may end at one of the `points`.  That is no crossing.
    """
    shared = [at for at in points if sum(tolerance.meet(at, p) for p in points) > 1]
    return sum(
        not any(tolerance.meet(met.point, at) for at in shared) for met in self_crossings(outline)
    )


def _crossed(piece: Piece, crossings: Sequence[Crossing]) -> Reason | None:
    """The first two edges that cross.  None if none do."""
    if not crossings:
        return None
    first, second = (
        Ref(piece.block, edge.name) for edge in crossed_edges(piece.edges, crossings[0])
    )
    at = crossings[0].point
    if first == second:
        return Reason("outline.crosses-itself", {"edge": first, "x": at.x, "y": at.y})
    return Reason("outline.crosses", {"edge": first, "other": second, "x": at.x, "y": at.y})
