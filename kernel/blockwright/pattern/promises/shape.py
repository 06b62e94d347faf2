"""The shape of an edge: where it is hollow or full, and whether it turns back."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import ClassVar

from blockwright.curves import bezier
from blockwright.curves._numpy import np
from blockwright.curves.curve import curvatures, directions
from blockwright.curves.point import Point
from blockwright.pattern.dart import as_sewn
from blockwright.pattern.pattern import Carried, Lineage, Pattern, Promise
from blockwright.pattern.ref import Ref
from blockwright.pattern.results import Reason, Result

# The number of places on each piece of a curve at which the curvature is looked at, and the
# curvature under which it is straight, 1/mm: a radius of a hundred metres.
SAMPLES = 12
STRAIGHT = 1e-5


@dataclass(frozen=True, slots=True)
class EdgeShape(Promise):
    """An edge changes `bends` times between hollow and full, and never runs against `toward`."""

    kind: ClassVar[str] = "shape"
    edge: Ref
    bends: int
    toward: Point | None = None

    def measure(self, pattern: Pattern) -> tuple[Result, ...]:
        """The changes of the side that the edge curves to, with its darts closed.

        With `toward`, also the greatest angle between the edge and that direction, degrees.
        """
        curves = as_sewn(pattern.owner(self.edge), self.edge.name)
        control = np.concatenate([curve.control for curve in curves])
        pieces, at = bezier.sampled(control, (np.arange(SAMPLES) + 0.5) / SAMPLES)
        curving = curvatures(pieces, at)
        side = np.sign(curving[np.abs(curving) > STRAIGHT])
        found = float((np.diff(side) != 0.0).sum())
        bends = float(self.bends), float(self.bends)
        results = [Result("shape.bends", self.ref, "count", bends, found, 0.0)]
        if self.toward is not None:
            ahead = directions(*bezier.sampled(control, np.linspace(0.0, 1.0, SAMPLES)))
            ahead = ahead @ np.array([*self.toward.unit()])
            widest = math.degrees(math.acos(min(max(float(ahead.min()), -1.0), 1.0)))
            results.append(Result("shape.turns-back", self.ref, "angle", (0.0, 90.0), widest, 0.0))
        return tuple(results)

    def carried(self, lineage: Lineage) -> Carried:
        """The promise of the edge that its edge became.  `toward` turns with the edge's start."""
        kept = lineage.one_edge(self.edge)
        if isinstance(kept, Reason):
            return Carried((self,), kept)
        toward = self.toward
        if toward is not None:
            piece = lineage.before.owner(self.edge)
            first = piece.stretches(self.edge.name)[0].curve
            laid = lineage.laid(piece.ref, first.point_at(min(first.length, INWARD)))
            toward = laid.lay.way(toward) if laid else toward
        return Carried((replace(self, edge=kept, toward=toward),))


# The turn of an edge's start is taken this far along the edge, mm, clear of the corner.
INWARD = 0.01
