"""Darts: closing one, edges and outlines with darts closed, the roof-shaped mouth."""

from __future__ import annotations

import math

from blockwright.curves.affine import Affine
from blockwright.curves.chain import join
from blockwright.curves.curve import Curve
from blockwright.curves.intersect_line import on_line
from blockwright.curves.point import Point
from blockwright.curves.primitives import line
from blockwright.errors import GeometryError, PatternError
from blockwright.pattern.piece import Piece


def opening(apex: Point, start: Point, end: Point) -> float:
    """The angle of a dart at its apex, radians, positive where `end` lies to the left."""
    a, b = start - apex, end - apex
    return math.atan2(a.cross(b), a.dot(b))


def closing(apex: Point, start: Point, end: Point) -> Affine:
    """The turn about the apex that lays the leg at `end` on the leg at `start`."""
    return Affine.turn(-opening(apex, start, end), apex)


def as_sewn(piece: Piece, edge: str) -> list[Curve]:
    """The stretches of an edge with its darts closed.  The first stretch stays where it is."""
    first, *rest = piece.stretches(edge)
    lay, laid = Affine(), [first.curve]
    for dart, stretch in zip(piece.darts_on(edge), rest, strict=True):
        lay = closing(dart.apex, *piece.dart_legs(dart)).then(lay)
        laid.append(stretch.curve.moved(lay))
    return laid


def sewn_outline(piece: Piece) -> list[Curve]:
    """The edges of a piece, with the two legs of every dart in place of its mouth.

    They enclose the cloth that shows when the darts are sewn.
    """
    apexes = {dart.mouth: dart for dart in piece.darts}
    outline: list[Curve] = []
    for edge in piece.edges:
        if dart := apexes.get(edge.name):
            start, end = piece.dart_legs(dart)
            outline += [line(start, dart.apex), line(dart.apex, end)]
        else:
            outline.append(edge.curve)
    return outline


def roof(apex: Point, pressed: Curve, other: Point) -> Curve:
    """The mouth of a dart, cut so that it lies under the seam when the dart is pressed.

    `pressed` is the edge that the fold is laid over.  It starts at the end of its leg and runs away
    from the dart.  `other` is the end of the other leg.  The folded cloth covers a stretch of
    `pressed` that is seen from the apex under half the angle of the dart.  The first side of the
    roof is that stretch mirrored in the leg.  The second side is the first one mirrored in the
    fold.  The roof runs from `pressed.start` over its tip to `other`.
    Raises GeometryError if the edge is too short for the folded dart.
    Source: common practice, no source (fold the paper as the dart is pressed and cut along the
    seam).
    """
    leg = pressed.start
    half = opening(apex, leg, other) / 2.0
    # Seen from the dart, the pressed side lies beyond its leg.
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

    `apex` is the point of the dart, mm.  `before` and `after` are the edges on either side of the
    dart; they run counter-clockwise, as the outline does.  The legs of the dart go from the apex to
    the end of `before` and to the start of `after`, and are equally long.  `pressed` is 'start' if
    the fold is laid over `before`, and 'end' if it is laid over `after`.  When the dart is folded
    and pressed, the mouth lies under the seam.

    Raises PatternError unless `pressed` is 'start' or 'end', and GeometryError if the edge is too
    short for the folded dart.
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
