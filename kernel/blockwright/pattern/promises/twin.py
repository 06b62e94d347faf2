"""Twins: an edge sewn to itself on the other copy of its piece."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import ClassVar

from blockwright.pattern.pattern import Carried, Lineage, Pattern, Promise
from blockwright.pattern.piece import Run, Way
from blockwright.pattern.ref import Ref
from blockwright.pattern.results import Reason, Result


@dataclass(frozen=True, slots=True)
class Twin(Promise):
    """An edge is sewn to the same edge of another copy of its piece, as at a centre seam.

    Two copies fit if they are mirror images: if the piece is cut in mirrored pairs or on the fold.
    """

    kind: ClassVar[str] = "twin"
    edge: Ref

    @property
    def sewn(self) -> tuple[Run, Run]:
        """The edge, and the same edge on the other copy."""
        return (Way(self.edge),), (Way(self.edge),)

    def measure(self, pattern: Pattern) -> tuple[Result, ...]:
        """The number of copies that fit each other."""
        piece = pattern.owner(self.edge)
        fits = piece.mirrored or any(edge.role == "fold" for edge in piece.edges)
        copies = float(piece.cut if fits else 1)
        code = "twin.cut-more" if fits else "twin.not-mirrored"
        why = Reason(code, {"piece": piece.ref, "cut": piece.cut})
        return (Result("twin", self.ref, "count", (2.0, math.inf), copies, 0.0, why=why),)

    def carried(self, lineage: Lineage) -> Carried:
        """A promise for each edge that its edge became."""
        became = lineage.edge(self.edge)
        ways = [step for step in became.run if isinstance(step, Way)]
        if not ways:
            return Carried((self,), became.why or Reason("gone"))
        return Carried(tuple(replace(self, edge=way.edge) for way in ways))
