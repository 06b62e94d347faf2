"""Edges that pass through marks."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, ClassVar

from blockwright.curves.meet import nearest
from blockwright.pattern import tolerance
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Way
from blockwright.pattern.promise import Carried, Promise
from blockwright.pattern.ref import Ref
from blockwright.pattern.result import Reason, Result

if TYPE_CHECKING:
    from blockwright.pattern.lineage import Lineage


@dataclass(frozen=True, slots=True)
class Through(Promise):
    """An edge passes through its marks, which the pattern has."""

    kind: ClassVar[str] = "through"
    edge: Ref
    marks: tuple[Ref, ...]

    def measure(self, pattern: Pattern) -> tuple[Result, ...]:
        """The greatest distance of a mark from the edge."""
        curves = [edge.curve for edge in pattern.stretches(self.edge)]
        marks = [pattern.mark(mark) for mark in self.marks]
        worst = max(min(nearest(curve, mark).distance for curve in curves) for mark in marks)
        return (Result("through", self.ref, "length", (0.0, 0.0), worst, tolerance.ON_CURVE),)

    def carried(self, lineage: Lineage) -> Carried:
        """The same, of the one edge that it became; given up where that was drawn anew."""
        became = lineage.edge(self.edge)
        edges = [step.edge for step in became.run if isinstance(step, Way)]
        if len(edges) != 1:
            return Carried((self,), became.why or Reason("gone"))
        if became.drawn:
            return Carried((self,), Reason("drawn-anew", {"edge": self.edge}))
        return Carried((replace(self, edge=edges[0]),))
