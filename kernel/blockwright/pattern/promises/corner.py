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
from blockwright.pattern.results import Range, Reason, Result, Value


@dataclass(frozen=True, slots=True)
class CornerAngle(Promise):
    """Corners that come together when sewn add up to an angle in the range `angle`, degrees.

    At 180 degrees the edges run on smoothly.  Each joint is a corner of one piece, with the dart in
    it closed.  A corner of several copies is named once for each copy.
    """

    kind: ClassVar[str] = "corner"
    joints: tuple[AnyJoint, ...]
    angle: Range = (180.0, 180.0)
    tolerance: float = tolerance.ANGLE

    def measure(self, pattern: Pattern) -> tuple[Result, ...]:
        """The sum of the interior angles."""
        angles = {joint: interior_angle(pattern, joint) for joint in self.joints}
        total = sum(angles[joint] for joint in self.joints)
        none = (joint for joint, angle in angles.items() if math.isnan(angle))
        why = next((why_no_corner(pattern, joint) for joint in none), None)
        for joint, often in Counter(self.joints).items():
            there = sum(copies(joint_piece(pattern, joint)).values())
            if there < often:
                total = math.nan
                why = why or Reason("count.corner", {**_named(joint), "often": often, "cut": there})
        return (Result("corner", self.ref, "angle", self.angle, total, self.tolerance, why=why),)

    @property
    def unusual(self) -> bool:
        """Whether the angle is neither smooth nor square."""
        low, high = self.angle
        return low != high or low % 90.0 != 0.0

    def stated(self, pattern: Pattern) -> Reason | None:
        """An angle that is neither smooth nor square."""
        low, high = self.angle
        if not self.unusual:
            return None
        code = "stated.angle" if low == high else "stated.angle-range"
        return Reason(code, {"corner": self.ref, "low": low, "high": high})

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
