"""Corners that come together when sewn."""

from __future__ import annotations

import math
from collections import Counter
from dataclasses import dataclass, replace
from typing import ClassVar

from blockwright.pattern import tolerance
from blockwright.pattern.copies import copies
from blockwright.pattern.joint import interior_angle, joint_piece, why_no_corner
from blockwright.pattern.pattern import Carried, Lineage, Pattern, Promise
from blockwright.pattern.ref import AnyJoint, DartJoint
from blockwright.pattern.results import Reason, Result, Value


@dataclass(frozen=True, slots=True)
class CornerAngle(Promise):
    """Corners that come together when sewn add up to `angle` degrees.

    At 180 degrees the edges run on smoothly.  Each joint is a corner of one piece, with the dart in
    it closed.  A corner of several copies is named once for each copy.
    """

    kind: ClassVar[str] = "corner"
    joints: tuple[AnyJoint, ...]
    angle: float = 180.0
    tolerance: float = tolerance.ANGLE

    def measure(self, pattern: Pattern) -> tuple[Result, ...]:
        """The sum of the interior angles."""
        total = sum(interior_angle(pattern, joint) for joint in self.joints)
        why = next(filter(None, (why_no_corner(pattern, joint) for joint in self.joints)), None)
        for joint, often in Counter(self.joints).items():
            there = sum(copies(joint_piece(pattern, joint)).values())
            if there < often:
                total = math.nan
                why = why or Reason("count.corner", {**_named(joint), "often": often, "cut": there})
        wanted = self.angle, self.angle
        return (Result("corner", self.ref, "angle", wanted, total, self.tolerance, why=why),)

    def carried(self, lineage: Lineage) -> Carried:
        """The promise of the corners that they became."""
        joints: list[AnyJoint] = []
        for joint in self.joints:
            became = lineage.joint(joint)
            if isinstance(became, Reason):
                return Carried((self,), became)
            joints.append(became)
        return Carried((replace(self, joints=tuple(joints)),))


def _named(joint: AnyJoint) -> dict[str, Value]:
    """A corner as values of a reason."""
    if isinstance(joint, DartJoint):
        return {"first": joint.edge, "second": joint.dart}
    return {"first": joint.first, "second": joint.second}
