"""The shape of an edge: hollow or full, and which way it goes."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, ClassVar

from blockwright.curves import bezier
from blockwright.curves._numpy import np
from blockwright.curves.curve import curvatures, directions
from blockwright.curves.point import Point
from blockwright.pattern.dart import as_sewn
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Way
from blockwright.pattern.promise import Carried, Promise
from blockwright.pattern.ref import Ref
from blockwright.pattern.result import Reason, Result

if TYPE_CHECKING:
    from blockwright.pattern.lineage import Lineage


# Places on each piece of a curve at which its curving is looked at; the curvature, 1/mm, under
# which it is straight (a radius of a hundred metres).
SAMPLES = 12
STRAIGHT = 1e-5


@dataclass(frozen=True, slots=True)
class Shape(Promise):
    """An edge changes from hollow to full `bends` times, and never runs against `toward`."""

    kind: ClassVar[str] = "shape"
    edge: Ref
    bends: int
    toward: Point | None = None

    def measure(self, pattern: Pattern) -> tuple[Result, ...]:
        """Changes of the side the edge curves to, its darts closed; the greatest angle to `toward`.

        The angle is in degrees.
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
        """The same, of the one edge that it became; its way turns with the start of the edge."""
        became = lineage.edge(self.edge)
        edges = [step.edge for step in became.run if isinstance(step, Way)]
        if len(edges) != 1:
            return Carried((self,), became.why or Reason("gone"))
        toward = self.toward
        if toward is not None:
            piece = lineage.before.owner(self.edge)
            first = piece.stretches(self.edge.name)[0].curve
            laid = lineage.laid(piece.ref, first.point_at(min(first.length, INWARD)))
            toward = laid.lay.way(toward) if laid else toward
        return Carried((replace(self, edge=edges[0], toward=toward),))


# The cloth at the start of an edge is looked at this far along it, mm, clear of its corner.
INWARD = 0.01
