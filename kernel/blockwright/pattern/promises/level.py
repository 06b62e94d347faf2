"""Edges that are level, square to the grain, at a place."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, ClassVar

from blockwright.curves.curve import Curve
from blockwright.curves.meet import nearest
from blockwright.curves.point import Point
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Way
from blockwright.pattern.promise import Carried, Promise
from blockwright.pattern.ref import Ref
from blockwright.pattern.result import Reason, Result

if TYPE_CHECKING:
    from blockwright.pattern.lineage import Lineage


# Cloth turned by less than this, degrees, is not turned: rounding of turns there and back.
NOT_TURNED = 1e-6


@dataclass(frozen=True, slots=True)
class Level(Promise):
    """An edge runs square to the grain where it passes a place, within `within` degrees.

    `turned`: how far a change has turned the cloth there against the grain, degrees; then it is not
    level, and the promise is given up until the cloth is turned back.
    """

    kind: ClassVar[str] = "level"
    edge: Ref
    at: Point
    within: float
    turned: float = 0.0

    def measure(self, pattern: Pattern) -> tuple[Result, ...]:
        """Angle between the edge, at its point nearest the place, and the square of the grain."""
        curve = self._nearest_stretch(pattern)
        tangent = curve.tangent_at(nearest(curve, self.at).along)
        low, high = pattern.owner(self.edge).grain
        across = (high - low).left()
        angle = math.degrees(math.atan2(across.cross(tangent), across.dot(tangent)))
        angle = math.remainder(angle, 180.0)
        return (Result("level", self.ref, "angle", (-self.within, self.within), angle, 0.0),)

    def _nearest_stretch(self, pattern: Pattern) -> Curve:
        curves = [edge.curve for edge in pattern.stretches(self.edge)]
        return min(curves, key=lambda curve: nearest(curve, self.at).distance)

    def carried(self, lineage: Lineage) -> Carried:
        """The same at the place that its place became; given up where that is turned."""
        became = lineage.edge(self.edge)
        if not became.run:
            return Carried((self,), became.why or Reason("gone"))
        if became.drawn:
            return Carried((self,), Reason("drawn-anew", {"edge": self.edge}))
        piece = lineage.before.owner(self.edge)
        laid = lineage.laid(piece.ref, self.at)
        if laid is None:
            return Carried((self,), Reason("gone"))
        turned = self.turned + math.degrees(math.atan2(laid.lay.c, laid.lay.a))
        if abs(turned) < NOT_TURNED:
            turned = 0.0
        edges = [step.edge for step in became.run if isinstance(step, Way)]
        kept = replace(self, edge=edges[0], at=laid.lay(self.at), turned=turned)
        return Carried((kept,), Reason("turned", {"edge": self.edge}) if turned else None)
