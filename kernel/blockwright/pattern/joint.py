"""Corners of pieces: where two edges follow one another, or a place within one edge."""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import TYPE_CHECKING

from blockwright.curves.chain import corners
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point
from blockwright.pattern.dart import closing
from blockwright.pattern.piece import AT_END, Dart, Piece
from blockwright.pattern.ref import Ref
from blockwright.pattern.result import Reason

if TYPE_CHECKING:
    from blockwright.pattern.pattern import Pattern


# A corner this near, mm, to where a dart stood is the corner there.
NEAR_DART = 2.0


@dataclass(frozen=True, slots=True)
class Joint:
    """Where edge `first` ends and edge `second` begins, with or without a dart between them."""

    first: Ref
    second: Ref


@dataclass(frozen=True, slots=True)
class DartJoint:
    """Where a dart stands in an edge; where it stood, mm along, when it was moved elsewhere."""

    edge: Ref
    dart: str
    along: float


AnyJoint = Joint | DartJoint


def joint_piece(pattern: Pattern, joint: AnyJoint) -> Piece:
    """The piece that has the joint."""
    return pattern.owner(joint.edge if isinstance(joint, DartJoint) else joint.first)


def joint_point(pattern: Pattern, joint: AnyJoint) -> Point:
    """Where the cloth before it ends."""
    piece = joint_piece(pattern, joint)
    if isinstance(joint, Joint):
        return piece.stretches(joint.first.name)[-1].curve.end
    before, _, _ = _at_dart(piece, joint)
    return before.end


def interior_angle(pattern: Pattern, joint: AnyJoint) -> float:
    """Angle inside the piece at a joint, degrees; nan where the edges do not follow each other.

    A dart there is closed: what follows it is turned about its apex on to the other leg.
    """
    piece = joint_piece(pattern, joint)
    if isinstance(joint, DartJoint):
        before, after, dart = _at_dart(piece, joint)
        if before is after:
            return 180.0  # within a curve, which has no corner there
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
    """The cloth before and after the place, and the dart between them.

    One without a dart is cut there, so that its direction before and after the place can differ.
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
        if before.curve is curve and along >= curve.length - AT_END:
            return curve, after.curve, dart
    # A corner that was left there is looked at where it is, should the edge have been bent.
    bends = [at for at in corners(curve) if abs(at - along) < NEAR_DART]
    along = min(bends, key=lambda at: abs(at - along), default=along)
    if not 0.0 < along < curve.length:
        return curve, curve, None
    return *curve.split_at(along), None


def why_no_corner(pattern: Pattern, joint: AnyJoint) -> Reason | None:
    """Why two edges make no corner; None when they do."""
    if isinstance(joint, DartJoint) or not math.isnan(interior_angle(pattern, joint)):
        return None
    first, second = joint.first, joint.second
    if not math.isnan(interior_angle(pattern, Joint(second, first))):
        return Reason("corner.turned", {"first": first, "second": second})
    piece = joint_piece(pattern, joint)
    after = Ref(piece.block, piece.after(first.name).name)
    return Reason("corner.apart", {"first": first, "after": after, "piece": piece.ref})
