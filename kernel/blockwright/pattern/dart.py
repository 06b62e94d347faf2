"""Dart geometry: closing it, an edge with its darts closed, the little roof at its mouth."""

from __future__ import annotations

import math

from blockwright.curves.affine import Affine
from blockwright.curves.chain import join
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point
from blockwright.curves.ruled import on_line
from blockwright.errors import GeometryError, PatternError
from blockwright.pattern.piece import Piece


def opening(apex: Point, start: Point, end: Point) -> float:
    """Angle of the dart at its apex, radians, positive where `end` lies to the left."""
    a, b = start - apex, end - apex
    return math.atan2(a.cross(b), a.dot(b))


def closing(apex: Point, start: Point, end: Point) -> Affine:
    """The turn about the apex that lays the leg to `end` on the leg to `start`."""
    return Affine.turn(-opening(apex, start, end), apex)


def as_sewn(piece: Piece, edge: str) -> list[Curve]:
    """The stretches of an edge laid end to end, its darts closed; the first stays where it is."""
    first, *rest = piece.stretches(edge)
    lay, laid = Affine(), [first.curve]
    for dart, stretch in zip(piece.darts_on(edge), rest, strict=True):
        lay = closing(dart.apex, *piece.dart_legs(dart)).then(lay)
        laid.append(stretch.curve.moved(lay))
    return laid


def roof(apex: Point, pressed: Curve, other: Point) -> Curve:
    """The mouth of a dart, cut so that its edge lies under the seam when it is pressed.

    `pressed`: the edge the fold is laid over, travelled away from the dart; it starts at that
    leg's end.  `other`: the end of the other leg.  Folded, the cloth of the dart reaches half
    its angle into the pressed side, so the roof is that stretch of the edge, mirrored in the
    pressed leg, then mirrored again in the fold: from `pressed.start` over the tip to `other`.
    Raises GeometryError if the edge is too short to fold the dart on to.
    Source: common practice, no source (fold the paper as the dart is pressed and cut along the
    seam).
    """
    leg = pressed.start
    half = opening(apex, leg, other) / 2.0
    # The pressed side lies on the far side of its leg from the dart.
    reach = (leg - apex).turned(-half)
    for along in on_line(pressed, apex, apex + reach):
        stretch = pressed.split_at(along)[0] if along < pressed.length else pressed
        if reach.dot(stretch.end - apex) > 0.0:
            break
    else:
        raise GeometryError("a dart is wider than the edge it is pressed over")
    first = stretch.moved(Affine.mirror(apex, leg))
    fold = (leg - apex).turned(half) + apex
    return join([first, first.moved(Affine.mirror(apex, fold)).reversed()])


def roof_between(apex: Point, before: Curve, after: Curve, pressed: str) -> Curve:
    """The mouth of a dart as it is cut, from the end of `before` to the start of `after`.

    `apex` is the dart's point, mm; `before` and `after` are the edges either side of the dart as
    the outline runs, counter-clockwise, so that the dart's legs, equally long, go from the apex to
    the end of one and the start of the other.  `pressed`: 'start' when the fold is laid over
    `before`, 'end' when over `after`.  Folded and pressed, the mouth lies under the seam.

    Raises PatternError for a `pressed` that is neither, and GeometryError if the edge is too short
    to fold the dart on to.
    Source: common practice, no source (fold the paper as the dart is pressed and cut along the
    seam).

    Example:
        >>> from blockwright import Point, line, roof_between
        >>> before = line(Point(200, 300), Point(110, 300))
        >>> after = line(Point(90, 300), Point(0, 300))
        >>> mouth = roof_between(Point(100, 150), before, after, "start")
        >>> [round(side, 2) for side in mouth.bounds]
        [90.0, 300.0, 110.0, 301.34]
    """
    if pressed not in ("start", "end"):
        raise PatternError(
            f"a dart is pressed over the leg at its 'start' or its 'end', not {pressed!r}"
        )
    if pressed == "end":
        return roof(apex, after, before.end).reversed()
    return roof(apex, before.reversed(), after.start)
