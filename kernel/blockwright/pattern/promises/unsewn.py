"""Edges that nothing is sewn to, on purpose."""

from __future__ import annotations

from dataclasses import dataclass, replace
from typing import ClassVar, Literal, get_args

from blockwright.pattern.pattern import Carried, Lineage, Pattern, Promise
from blockwright.pattern.piece import Way
from blockwright.pattern.ref import Ref
from blockwright.pattern.results import Reason, Result

How = Literal["bound", "faced", "left open"]
HOW: tuple[str, ...] = get_args(How)


@dataclass(frozen=True, slots=True)
class Unsewn(Promise):
    """An edge may do without a partner: it is bound, faced or left open.

    A block sewn to it may still take it.  It is a statement, so nothing is measured.
    """

    kind: ClassVar[str] = "unsewn"
    edge: Ref
    how: How

    def measure(self, pattern: Pattern) -> tuple[Result, ...]:
        """Nothing, but the edge must be there."""
        pattern.owner(self.edge)
        return ()

    def stated(self, pattern: Pattern) -> Reason | None:
        """How the edge is finished, unless a seam takes it."""
        if self.edge in pattern.sewn_edges:
            return None
        return Reason("stated.unsewn", {"edges": (self.edge,), "how": self.how})

    def carried(self, lineage: Lineage) -> Carried:
        """The same of every edge that the edge became."""
        became = lineage.edge(self.edge)
        edges = [step.edge for step in became.run if isinstance(step, Way)]
        if not edges:
            return Carried((self,), became.why or Reason("gone"))
        return Carried(tuple(replace(self, edge=edge) for edge in edges))
