"""Edges that pass through marks."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar

from blockwright.curves.nearest import nearest
from blockwright.pattern import tolerance
from blockwright.pattern.pattern import Carried, Lineage, Pattern, Promise
from blockwright.pattern.ref import Ref
from blockwright.pattern.results import Reason, Result


@dataclass(frozen=True, slots=True)
class Through(Promise):
    """An edge passes through marks of the pattern."""

    kind: ClassVar[str] = "through"
    edge: Ref
    marks: tuple[Ref, ...]

    def measure(self, pattern: Pattern) -> tuple[Result, ...]:
        """The greatest distance of a mark from the edge, mm."""
        curves = [edge.curve for edge in pattern.stretches(self.edge)]
        marks = [pattern.mark(mark) for mark in self.marks]
        worst = max(min(nearest(curve, mark).distance for curve in curves) for mark in marks)
        return (Result("through", self.ref, "length", (0.0, 0.0), worst, tolerance.ON_CURVE),)

    def carried(self, lineage: Lineage) -> Carried:
        """The promise of the edge that its edge became.  Given up if that was drawn anew."""
        kept = lineage.kept_edge(self.edge)
        if isinstance(kept, Reason):
            return Carried((self,), kept)
        return Carried((replace(self, edge=kept),))
