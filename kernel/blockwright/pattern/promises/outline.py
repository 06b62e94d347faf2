"""What every piece is held to, whatever its author promised: its outline, grain and label."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate
from typing import TYPE_CHECKING, ClassVar

from blockwright.curves.chain import inside, signed_area
from blockwright.curves.meet import Crossing, self_crossings
from blockwright.curves.point import distance
from blockwright.pattern import tolerance
from blockwright.pattern.across import sewn_outline
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Edge, Piece
from blockwright.pattern.promise import Carried, Promise
from blockwright.pattern.ref import Ref
from blockwright.pattern.result import Reason, Result, Value

if TYPE_CHECKING:
    from blockwright.pattern.lineage import Lineage


# A grain line may run from edge to edge, so its ends are looked at this share of it inward.
NEAR_END = 0.02


@dataclass(frozen=True, slots=True)
class Outline(Promise):
    """A piece's outline closes, runs counter-clockwise and is simple; grain and label lie inside.

    Where it has darts, neither does the outline of the cloth left when they are sewn cross itself:
    every dart lies inside its piece and clear of the others.  `ref` is the piece.
    """

    kind: ClassVar[str] = "outline"

    def measure(self, pattern: Pattern) -> tuple[Result, ...]:
        """The widest gap between edges; crossings; what lies outside."""
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
            "outline.closes", self.ref, "length", (0.0, 0.0), gap, tolerance.CLOSED,
            why=Reason("outline.open", ends),
        )  # fmt: skip
        if not closed.held:
            return (closed,)
        turned = float(signed_area(edges) <= 0.0)
        low, high = piece.grain
        places = (low.between(high, NEAR_END), high.between(low, NEAR_END), piece.label_at)
        *grain, label = inside(edges, places)
        met = self_crossings(edges)
        counts: list[tuple[str, float, Reason | None]] = [
            ("outline.simple", len(met), _crossed(piece, met)),
            ("outline.counter-clockwise", turned, Reason("outline.list-edges")),
            ("outline.grain", grain.count(False), Reason("outline.move-grain")),
            ("outline.label", not label, Reason("outline.move-label")),
        ]
        if piece.darts:
            counts.append(("outline.darts", _astray(piece), None))
        return closed, *(
            Result(code, self.ref, "count", (0.0, 0.0), float(found), 0.0, why=why)
            for code, found, why in counts
        )

    def carried(self, lineage: Lineage) -> Carried:
        """The same: it is made anew for the pieces there are, and never kept."""
        return Carried((self,))


def _astray(piece: Piece) -> float:
    """Crossings of the outline as sewn.

    Darts may end at one point; that is where they come together, not where they cross.
    """
    points = [dart.apex for dart in piece.darts]
    shared = [at for at in points if sum(distance(at, p) < tolerance.CLOSED for p in points) > 1]
    return sum(
        all(distance(met.point, at) >= tolerance.CLOSED for at in shared)
        for met in self_crossings(sewn_outline(piece))
    )


def _crossed(piece: Piece, crossings: Sequence[Crossing]) -> Reason | None:
    """Which edges cross first; None when none do."""
    if not crossings:
        return None
    edges: Sequence[Edge] = piece.edges
    ends = list(accumulate(edge.curve.length for edge in edges))
    first, second = (
        Ref(piece.block, edges[min(bisect_left(ends, along), len(edges) - 1)].name)
        for along in (crossings[0].along_a, crossings[0].along_b)
    )
    at = crossings[0].point
    if first == second:
        return Reason("outline.crosses-itself", {"edge": first, "x": at.x, "y": at.y})
    return Reason("outline.crosses", {"edge": first, "other": second, "x": at.x, "y": at.y})
