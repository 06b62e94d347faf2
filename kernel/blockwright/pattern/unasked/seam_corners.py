"""The corners that come together at the ends of seams, at folds and at closed darts."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Iterator

from blockwright.pattern import tolerance
from blockwright.pattern.copies import copies
from blockwright.pattern.joint import interior_angle, joint_piece
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Dart, Piece, Way
from blockwright.pattern.promises.corner import CornerAngle
from blockwright.pattern.ref import AnyJoint, DartJoint, Joint, Ref
from blockwright.pattern.results import Result

# A corner of a piece, and whether the copy that has it lies as drawn.
_Place = tuple[Joint, bool]
_Links = dict[_Place, list[_Place]]
_Corners = Counter[AnyJoint]
# The promises about a corner, each with how often it names each of its corners.
_Promised = dict[object, list[tuple[CornerAngle, Counter[object]]]]

SMOOTH_OR_SQUARE = (90.0, 180.0, 270.0)
ALL_ROUND = 360.0
"""Degrees round a point, or at the end of a slit in a straight seam."""


def seam_corners(pattern: Pattern) -> Iterator[Result]:
    """The sum of the corners at each place that no promise covers.

    The corners there should add up to a smooth line or a square corner.  All round a point they
    should add up to 360 degrees, to a box corner, or to the corner of two layers.  A result that
    does not hold is a warning.
    """
    promised = _by_corner(pattern)
    links = _links(pattern)
    seen: set[_Place] = set()
    looked_at: set[AnyJoint] = set()
    for place in links:
        if place in seen:
            continue
        places, corners, closed = _come_together(pattern, links, place)
        # The same corners of the other copies come together as well.
        seen |= places | {(joint, not as_drawn) for joint, as_drawn in places}
        looked_at |= corners.keys()
        if not _covered(corners, promised):
            yield _sum(pattern, corners, closed, _layered(places, closed))
    for piece in pattern.pieces:
        for dart in piece.darts:
            corner = _at_dart(piece, dart)
            alone = Counter([corner])
            if corner not in looked_at and not _covered(alone, promised):
                yield _sum(pattern, alone, False)


def _by_corner(pattern: Pattern) -> _Promised:
    """The promises about each corner."""
    found: _Promised = {}
    for promise in pattern.promises:
        if isinstance(promise, CornerAngle):
            names = Counter(map(_key, promise.joints))
            for name in names:
                found.setdefault(name, []).append((promise, names))
    return found


def _links(pattern: Pattern) -> _Links:
    """The corners that are next to each other: over a seam, or over a fold."""
    links: _Links = {}
    corners: dict[Ref, tuple[Joint, Joint]] = {}
    for piece in pattern.pieces:
        corners.update(corners_of_edges(piece))
        for edge in piece.edges:
            if edge.role == "fold":
                for corner in corners[Ref(piece.block, edge.name)]:
                    _link(links, (corner, True), (corner, False))
    for a, b in pattern.sewn:
        for one, other in ((a[0], b[0]), (-a[-1], -b[-1])):
            if isinstance(one, Way) and isinstance(other, Way):
                # The corner at which each starts as it is walked.
                at_one = corners[one.edge][not one.forward]
                at_other = corners[other.edge][not other.forward]
                # The cloth of an edge walked forward lies on the left on a copy as drawn.
                _link(links, (at_one, one.forward), (at_other, not other.forward))
                if one != other:  # an edge and its twin are linked once
                    _link(links, (at_one, not one.forward), (at_other, other.forward))
    return links


def corners_of_edges(piece: Piece) -> dict[Ref, tuple[Joint, Joint]]:
    """The corners at the start and at the end of each edge, with the darts there closed."""
    names = dict.fromkeys(edge.name for edge in piece.edges if edge.role != "dart")
    refs = [Ref(piece.block, name) for name in names]
    joints = [Joint(first, second) for first, second in zip(refs, refs[1:] + refs[:1], strict=True)]
    return {ref: (joints[i - 1], joints[i]) for i, ref in enumerate(refs)}


def _link(links: _Links, one: _Place, other: _Place) -> None:
    links.setdefault(one, []).append(other)
    if one != other:
        links.setdefault(other, []).append(one)


def _come_together(
    pattern: Pattern, links: _Links, place: _Place
) -> tuple[set[_Place], _Corners, bool]:
    """All corners that come together with this one, and whether they lie all round a point."""
    joint, as_drawn = place
    if place in links[place]:  # all copies of one corner come together in a point
        there = copies(joint_piece(pattern, joint))
        return {place}, Counter({joint: there[as_drawn] or there[not as_drawn]}), True
    found, new = {place: None}, [place]  # in order, so that they are named in one order
    while new:
        for other in links[new.pop()]:
            if other not in found:
                found[other] = None
                new.append(other)
    closed = all(len(links[each]) == 2 for each in found)
    return {*found}, Counter(joint for joint, _ in found), closed


def _covered(corners: _Corners, promised: _Promised) -> bool:
    """Whether promises name all these corners and no others, and their angles fit together."""
    counted = {_key(joint): often for joint, often in corners.items()}
    about: dict[Ref, tuple[CornerAngle, Counter[object]]] = {}
    for name in counted:
        whole = [each for each in promised.get(name, ()) if each[1].keys() <= counted.keys()]
        if not whole:
            return False
        about.update((promise.ref, (promise, names)) for promise, names in whole)
    if any(promise.unusual for promise, _ in about.values()):
        return True  # the proof prints the angle that the block states
    # A corner that comes twice, such as one at a fold, is promised once for both.
    total = sum(
        promise.angle[0] * max(counted[name] // often for name, often in names.items())
        for promise, names in about.values()
    )
    return total in (*SMOOTH_OR_SQUARE, ALL_ROUND)


def _key(joint: AnyJoint) -> object:
    """A corner without the place of its dart, which a change may have moved a little."""
    return (joint.edge, joint.dart) if isinstance(joint, DartJoint) else joint


def _layered(places: set[_Place], closed: bool) -> bool:
    """Whether the corners are those of two layers that are turned, as at the end of a band."""
    return not closed and all((joint, not as_drawn) in places for joint, as_drawn in places)


def _sum(pattern: Pattern, corners: _Corners, closed: bool, layered: bool = False) -> Result:
    angles = {each: interior_angle(pattern, each) for each in corners}
    total = sum(often * angles[each] for each, often in corners.items())
    slit = all(abs(angle - 180.0) <= tolerance.SEEN_ANGLE for angle in angles.values())
    wanted = (*SMOOTH_OR_SQUARE, ALL_ROUND) if closed or slit else SMOOTH_OR_SQUARE
    if layered:  # each layer by itself, and both on one side of a centre
        wanted = (*wanted, *(2.0 * angle for angle in SMOOTH_OR_SQUARE))
    near = min(wanted, key=lambda angle: abs(angle - total))
    first = next(iter(corners))
    if isinstance(first, DartJoint):
        return Result(
            "sewing.dart-corner", first.edge, "angle", (near, near), total, tolerance.SEEN_ANGLE,
            {"dart": first.dart}, warning=True,
        )  # fmt: skip
    edges = dict.fromkeys(e for j in corners if isinstance(j, Joint) for e in (j.first, j.second))
    return Result(
        "sewing.corner", first.first, "angle", (near, near), total, tolerance.SEEN_ANGLE,
        {"edges": tuple(edges)}, warning=True,
    )  # fmt: skip


def _at_dart(piece: Piece, dart: Dart) -> AnyJoint:
    """The place of a dart in its edge, or the corner that it lies in."""
    first, second = piece.before(dart.mouth), piece.after(dart.mouth)
    if first.name != second.name:
        return Joint(Ref(piece.block, first.name), Ref(piece.block, second.name))
    stretches = piece.stretches(first.name)
    upto = stretches[: stretches.index(first) + 1]
    along = math.fsum(edge.curve.length for edge in upto)
    return DartJoint(Ref(piece.block, first.name), dart.name, along)
