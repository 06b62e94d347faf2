"""The places of label and grain on a piece whose author gives none."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from blockwright.curves import bezier
from blockwright.curves._numpy import np
from blockwright.curves.chain import contains, inside
from blockwright.curves.curve import Curve
from blockwright.curves.intersect_line import points_on_line
from blockwright.curves.point import Point, distance
from blockwright.errors import GeometryError
from blockwright.pattern import tolerance
from blockwright.pattern.dart import sewn_outline
from blockwright.pattern.piece import Piece

ACROSS, UP = Point(1.0, 0.0), Point(0.0, 1.0)
# ASIDE is the share of the way from the label to the left edge at which the grain stands.  CLEAR is
# the share of its line that the grain leaves free above and below.
ASIDE, CLEAR = 0.5, 0.15


def usual_label(piece: Piece) -> Point:
    """The place of the label: the centroid of the piece, if that lies in the cloth.

    Otherwise the outline bends round the centroid, and the label goes to the middle of the cloth
    above, below or beside it.  The place never moves faster than the outline does.
    """
    outline = sewn_outline(piece)
    middle = _centroid(outline)
    try:
        if contains(outline, middle):
            return middle
        chords = [_chords(outline, middle, way) for way in (UP, ACROSS)]
    except GeometryError:  # the outline is not sound, and the proof says so
        return middle
    # One of the two lines crosses the bend once, and the other one twice.
    single = [one for one in chords if len(one) == 1] + [one for one in chords if one]
    return single[0][0][0].between(single[0][0][1], 0.5) if single else middle


def usual_grain(piece: Piece, label_at: Point) -> tuple[Point, Point]:
    """A grain straight up, between the label and the edge on its left."""
    outline = sewn_outline(piece)
    try:
        left = _chord(_chords(outline, label_at, ACROSS), label_at)[0]
        foot = label_at.between(left, ASIDE)
        low, high = _chord(_chords(outline, foot, UP), foot)
    except GeometryError:
        low, high = label_at - UP, label_at + UP
    return low.between(high, CLEAR), high.between(low, CLEAR)


def fitted_grain(piece: Piece) -> Piece:
    """The piece with as much of its drawn grain as lies in the cloth.

    A change may open a dart across the grain.  A later change may close it again.
    """
    low, high = piece.longer_grain or piece.grain
    outline = sewn_outline(piece)
    middle = low.between(high, 0.5)
    try:
        chords = _chords(outline, middle, high - low)
    except GeometryError:  # it runs along an edge
        return piece
    room = [ends for ends in chords if (middle - ends[0]).dot(middle - ends[1]) < 0.0]
    if not room:
        return replace(piece, grain=usual_grain(piece, piece.label_at), longer_grain=(low, high))
    a, b = room[0]
    way = (high - low).unit()
    below, above = (low - a).dot(way), (b - high).dot(way)
    if below >= -tolerance.CORNER and above >= -tolerance.CORNER:
        return replace(piece, grain=(low, high), longer_grain=None)
    shorter = (
        low if below > 0.0 else a.between(b, CLEAR),
        high if above > 0.0 else b.between(a, CLEAR),
    )
    return replace(piece, grain=shorter, longer_grain=(low, high))


def _centroid(outline: Sequence[Curve]) -> Point:
    """The centroid of the area.  Each piece of a curve is taken as 16 straight lines."""
    control = np.concatenate([curve.control for curve in outline])
    a = bezier.evaluate(*bezier.sampled(control, np.arange(16.0) / 16.0))
    origin = a.mean(axis=0)
    a = a - origin
    b = np.roll(a, -1, axis=0)
    twice = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    if not abs(twice.sum()) > 0.0:
        return Point(*origin.tolist())
    return Point(*(origin + ((a + b) * twice[:, None]).sum(axis=0) / (3.0 * twice.sum())).tolist())


def _chords(outline: Sequence[Curve], through: Point, way: Point) -> list[tuple[Point, Point]]:
    """The parts of a line that lie in the cloth, in the direction `way`."""
    met = sorted(points_on_line(outline, through, through + way), key=way.dot)
    pairs = [pair for pair in pairwise(met) if distance(*pair) > tolerance.CORNER]
    if not pairs:
        return []
    shown = inside(outline, [a.between(b, 0.5) for a, b in pairs])
    return [pair for pair, cloth in zip(pairs, shown, strict=True) if cloth]


def _chord(chords: Sequence[tuple[Point, Point]], near: Point) -> tuple[Point, Point]:
    """The chord that a place lies on, or the nearest.  Raises GeometryError if there is none."""
    if not chords:
        raise GeometryError("no cloth there")
    return min(chords, key=lambda ends: distance(ends[0].between(ends[1], 0.5), near)
               - distance(*ends) / 2.0)  # fmt: skip
