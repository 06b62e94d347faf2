"""Edges at an angle to the grain, as both edges of a bias binding are."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import pairwise
from typing import ClassVar

from blockwright import Carried, Curve, Lineage, Pattern, Point, Promise, Reason, Ref, Result, Way

# Steps in each piece of a curve, at whose ends its direction is looked at.
STEPS = 12
# Degrees that are rounding of turns there and back.
ROUNDED = 1e-6


@dataclass(frozen=True, slots=True)
class OffGrain(Promise):
    """An edge lies at an angle to the lengthwise grain: from least to most, in degrees.

    The angle is between 0, along the grain, and 90, square to it, to either side of it.  All of the
    edge is held to it, on both sides of every dart.
    """

    kind: ClassVar[str] = "off-grain"
    words: ClassVar[Mapping[str, str]] = {
        "off-grain.least": "off grain: {subject:plain}: least",
        "off-grain.most": "off grain: {subject:plain}: most",
        "off-grain.gone": "{edge} is gone, so that nothing lies at its angle",
        "off-grain.parted": "{edge} is several edges now; promise the angle of each",
    }
    edge: Ref
    angle: tuple[float, float]

    def measure(self, pattern: Pattern) -> tuple[Result, ...]:
        """The least and the greatest angle between the edge and the grain of its piece."""
        low, high = pattern.owner(self.edge).grain
        grain = high - low
        angles = [
            math.degrees(math.atan2(abs(grain.cross(way)), abs(grain.dot(way))))
            for stretch in pattern.stretches(self.edge)
            for way in _ways(stretch.curve)
        ]
        return self._result("least", min(angles)), self._result("most", max(angles))

    def _result(self, which: str, measured: float) -> Result:
        code = f"{self.kind}.{which}"
        return Result(code, self.ref, "angle", self.angle, measured, ROUNDED)

    def carried(self, lineage: Lineage) -> Carried:
        """The same of the one edge that it became; given up where that is gone, or several."""
        became = lineage.edge(self.edge)
        edges = [step.edge for step in became.run if isinstance(step, Way)]
        if len(edges) == 1:
            return Carried((replace(self, edge=edges[0]),))
        code = "off-grain.parted" if edges else "off-grain.gone"
        return Carried((self,), became.why or Reason(code, {"edge": self.edge}))


def _ways(curve: Curve) -> Iterator[Point]:
    """Directions along a curve; at a corner both that into it and that out of it."""
    for begin, end in pairwise(curve.joints.tolist()):
        part = curve.part(begin, end)
        for step in range(STEPS + 1):
            yield part.tangent_at(part.length * step / STEPS)
