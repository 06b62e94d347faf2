"""What the kernel promises of every piece by itself: its outline, its darts."""

from __future__ import annotations

from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import accumulate
from typing import ClassVar

from blockwright.curves.chain import inside, signed_area
from blockwright.curves.meet import Crossing, self_crossings
from blockwright.curves.point import distance
from blockwright.pattern import tolerance
from blockwright.pattern.across import sewn_outline
from blockwright.pattern.finding import Finding
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Edge

# A grain line may run from edge to edge, so its ends are looked at this share of it inward.
NEAR_END = 0.02


@dataclass(frozen=True, slots=True)
class DartLegs:
    """Both legs of a dart are equally long, so that it closes."""

    kind: ClassVar[str] = "dart legs"
    name: str
    piece: str

    def measure(self, pattern: Pattern) -> tuple[Finding, ...]:
        """Difference of the legs, from the apex to where the edges at the mouth really end."""
        piece = pattern.piece(self.piece)
        dart = next(d for d in piece.darts if d.name == self.name)
        start, end = piece.dart_legs(dart)
        apart = distance(dart.apex, start) - distance(dart.apex, end)
        name = f"{self.name} of {self.piece}"
        return (Finding(self.kind, name, "length", 0.0, 0.0, apart, tolerance.LENGTH),)


@dataclass(frozen=True, slots=True)
class Outline:
    """A piece's outline closes, runs counter-clockwise and is simple; grain and label lie inside.

    Where it has darts, neither does the outline of the cloth left when they are sewn: every dart
    lies inside its piece and clear of the others.
    """

    kind: ClassVar[str] = "outline"
    name: str

    def measure(self, pattern: Pattern) -> tuple[Finding, ...]:
        """The widest gap between edges; crossings; what lies outside."""
        piece = pattern.piece(self.name)
        edges = [edge.curve for edge in piece.edges]
        _, _, gap = piece.widest_gap()
        closed = Finding(
            self.kind, f"{self.name} closes", "length", 0.0, 0.0, gap, tolerance.CLOSED,
            piece.open_ends(),
        )  # fmt: skip
        if not closed.held:
            return (closed,)
        turned = float(signed_area(edges) <= 0.0)
        low, high = piece.grain
        places = (low.between(high, NEAR_END), high.between(low, NEAR_END), piece.label_at)
        *grain, label = inside(edges, places)
        met = self_crossings(edges)
        counts = (
            ("does not cross itself", float(len(met)), _crossed(piece.edges, met)),
            ("does not run clockwise", turned, "list its edges counter-clockwise, y up"),
            ("has its grain inside", float(grain.count(False)), "move an end of grain"),
            ("has its label inside", float(not label), "move label_at"),
        )
        simple = tuple(
            Finding(self.kind, f"{self.name} {what}", "count", 0.0, 0.0, found, 0.0, note)
            for what, found, note in counts
        )
        if not piece.darts:
            return (closed, *simple)
        # Darts may end at one point; that is where they come together, not where they cross.
        points = [dart.apex for dart in piece.darts]
        shared = [
            at for at in points if sum(distance(at, p) < tolerance.CLOSED for p in points) > 1
        ]
        astray = float(
            sum(
                all(distance(met.point, at) >= tolerance.CLOSED for at in shared)
                for met in self_crossings(sewn_outline(piece))
            )
        )
        darts = f"{self.name}: darts inside, clear of each other"
        return (closed, *simple, Finding(self.kind, darts, "count", 0.0, 0.0, astray, 0.0))


def _crossed(edges: Sequence[Edge], crossings: Sequence[Crossing]) -> str:
    """Which edges cross first, in words; nothing when none do."""
    if not crossings:
        return ""
    ends = list(accumulate(edge.curve.length for edge in edges))
    first, second = (
        edges[min(bisect_left(ends, along), len(edges) - 1)].name
        for along in (crossings[0].along_a, crossings[0].along_b)
    )
    at = crossings[0].point
    what = f"{first!r} crosses {'itself' if first == second else repr(second)}"
    return f"{what} at ({at.x:.0f}, {at.y:.0f})"
