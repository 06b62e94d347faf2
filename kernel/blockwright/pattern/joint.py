"""Corners of pieces: their place, their angle, and why there is none."""

from __future__ import annotations

import math
from itertools import pairwise

from blockwright.curves.chain import corners
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point
from blockwright.pattern import tolerance
from blockwright.pattern.dart import closing
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Dart, Piece
from blockwright.pattern.ref import AnyJoint, DartJoint, Joint, Ref
from blockwright.pattern.results import Reason

# A corner this near, mm, to the old place of a dart is the corner at that place.
NEAR_DART = 2.0


def joint_piece(pattern: Pattern, joint: AnyJoint) -> Piece:
    """The piece that has the corner."""
    return pattern.owner(joint.edge if isinstance(joint, DartJoint) else joint.first)


def joint_point(pattern: Pattern, joint: AnyJoint) -> Point:
    """Where the edge before the corner ends."""
    piece = joint_piece(pattern, joint)
    if isinstance(joint, Joint):
        return piece.stretches(joint.first.name)[-1].curve.end
    before, _, _ = _at_dart(piece, joint)
    return before.end


def interior_angle(pattern: Pattern, joint: AnyJoint) -> float:
    """The angle inside the piece at a corner, degrees.

    It is nan where the edges do not follow each other.  A dart at the corner is closed first.
    """
    piece = joint_piece(pattern, joint)
    if isinstance(joint, DartJoint):
        before, after, dart = _at_dart(piece, joint)
        if before is after:
            return 180.0  # the place is within a smooth curve
    else:
        dart = piece.dart_between(joint.first.name, joint.second.name)
        if dart is None and piece.after(joint.first.name).name != joint.second.name:
            return math.nan
        before = piece.stretches(joint.first.name)[-1].curve
        after = pattern.stretches(joint.second)[0].curve
    arriving, leaving = before.end_tangent, after.start_tangent
    if dart:
        turn = closing(dart.apex, *piece.dart_legs(dart))
        leaving = turn.way(leaving)
    return 180.0 - math.degrees(math.atan2(arriving.cross(leaving), arriving.dot(leaving)))


def _at_dart(piece: Piece, joint: DartJoint) -> tuple[Curve, Curve, Dart | None]:
    """The curves before and after the place, and the dart between them.

    Where the dart is gone, the curve is cut at the place.  Its direction may change there.
    """
    stretches = piece.stretches(joint.edge.name)
    darts = piece.darts_on(joint.edge.name)
    at_darts = list(zip(darts, pairwise(stretches), strict=True))
    for dart, (before, after) in at_darts:
        if dart.name == joint.dart:
            return before.curve, after.curve, dart
    i, along = piece.place(joint.edge.name, joint.along)
    curve = piece.edges[i].curve
    for dart, (before, after) in at_darts:
        if before.curve is curve and along >= curve.length - tolerance.ROUNDED:
            return curve, after.curve, dart
    # The dart may have left a corner.  It is measured where it is now.
    bends = [at for at in corners(curve) if abs(at - along) < NEAR_DART]
    along = min(bends, key=lambda at: abs(at - along), default=along)
    if not 0.0 < along < curve.length:
        return curve, curve, None
    return *curve.split_at(along), None


def why_no_corner(pattern: Pattern, joint: AnyJoint) -> Reason | None:
    """Why two edges make no corner.  None if they make one."""
    if isinstance(joint, DartJoint) or not math.isnan(interior_angle(pattern, joint)):
        return None
    first, second = joint.first, joint.second
    if not math.isnan(interior_angle(pattern, Joint(second, first))):
        return Reason("corner.turned", {"first": first, "second": second})
    piece = joint_piece(pattern, joint)
    after = Ref(piece.block, piece.after(first.name).name)
    return Reason("corner.apart", {"first": first, "after": after, "piece": piece.ref})
