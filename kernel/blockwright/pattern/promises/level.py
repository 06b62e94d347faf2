"""Edges that are level at a place: square to the grain."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from typing import ClassVar

from blockwright.curves.curve import Curve
from blockwright.curves.nearest import nearest
from blockwright.curves.point import Point
from blockwright.pattern import tolerance
from blockwright.pattern.pattern import Carried, Lineage, Pattern, Promise
from blockwright.pattern.ref import Ref
from blockwright.pattern.results import Reason, Result


@dataclass(frozen=True, slots=True)
class Level(Promise):
    """An edge is square to the grain, within `within` degrees, at its point nearest a place.

    `turned` is the angle by which changes have turned the cloth there against the grain, degrees.
    While it is not 0 the promise is given up.
    """

    kind: ClassVar[str] = "level"
    edge: Ref
    at: Point
    within: float
    turned: float = 0.0

    def measure(self, pattern: Pattern) -> tuple[Result, ...]:
        """The angle between the edge and the square of the grain, degrees."""
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
        """The promise at the place where its place is now.  Given up if the cloth is turned."""
        edge = lineage.kept_edge(self.edge)
        if isinstance(edge, Reason):
            return Carried((self,), edge)
        piece = lineage.before.owner(self.edge)
        laid = lineage.laid(piece.ref, self.at)
        if laid is None:
            return Carried((self,), Reason("gone"))
        turned = self.turned + math.degrees(math.atan2(laid.lay.c, laid.lay.a))
        if abs(turned) < tolerance.ROUNDED:
            turned = 0.0
        kept = replace(self, edge=edge, at=laid.lay(self.at), turned=turned)
        return Carried((kept,), Reason("turned", {"edge": self.edge}) if turned else None)
