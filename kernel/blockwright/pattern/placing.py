"""Where label and grain go on a piece whose author leaves that to us."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from blockwright.curves import bezier
from blockwright.curves._numpy import np
from blockwright.curves.chain import contains, inside
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point, distance
from blockwright.curves.ruled import points_on_line
from blockwright.errors import GeometryError
from blockwright.pattern.across import sewn_outline
from blockwright.pattern.piece import Piece

ACROSS, UP = Point(1.0, 0.0), Point(0.0, 1.0)
# The grain stands so far from the label to the left edge, as a share, and stays so far from the
# edges above and below it.
ASIDE, CLEAR = 0.5, 0.15
# Chords of a piece shorter than this, mm, are a corner met twice.
LEAST = 0.01


def usual_label(piece: Piece) -> Point:
    """The middle of a piece's cloth, or the place in the cloth beside it.

    A place that moves no faster than the outline does: it is the centroid where that is cloth.
    Else the outline bends round it, and it is the middle of the cloth above, below or beside it.
    """
    outline = sewn_outline(piece)
    middle = _centroid(outline)
    try:
        if contains(outline, middle):
            return middle
        chords = [_chords(outline, middle, way) for way in (UP, ACROSS)]
    except GeometryError:  # an outline that is none, as the proof will say
        return middle
    # A bend is crossed once by the line through its middle, and twice by the other one.
    single = [one for one in chords if len(one) == 1] + [one for one in chords if one]
    return single[0][0][0].between(single[0][0][1], 0.5) if single else middle


def usual_grain(piece: Piece, label_at: Point) -> tuple[Point, Point]:
    """A line straight up, between the label and the edge to the left of it."""
    outline = sewn_outline(piece)
    try:
        left = _chord(_chords(outline, label_at, ACROSS), label_at)[0]
        foot = label_at.between(left, ASIDE)
        low, high = _chord(_chords(outline, foot, UP), foot)
    except GeometryError:
        low, high = label_at - UP, label_at + UP
    return low.between(high, CLEAR), high.between(low, CLEAR)


def fitted_grain(piece: Piece) -> Piece:
    """The piece with as much of its grain, as it was drawn, as its cloth has room for.

    A change may open a dart across the grain, and a later one may close it again.
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
    if below >= -LEAST and above >= -LEAST:
        return replace(piece, grain=(low, high), longer_grain=None)
    shorter = (
        low if below > 0.0 else a.between(b, CLEAR),
        high if above > 0.0 else b.between(a, CLEAR),
    )
    return replace(piece, grain=shorter, longer_grain=(low, high))


def _centroid(outline: Sequence[Curve]) -> Point:
    """Of the area, each piece of a curve taken as 16 straight lines."""
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
    """The stretches of a line that lie in the cloth, along `way`."""
    met = sorted(points_on_line(outline, through, through + way), key=way.dot)
    pairs = [pair for pair in pairwise(met) if distance(*pair) > LEAST]
    if not pairs:
        return []
    shown = inside(outline, [a.between(b, 0.5) for a, b in pairs])
    return [pair for pair, cloth in zip(pairs, shown, strict=True) if cloth]


def _chord(chords: Sequence[tuple[Point, Point]], near: Point) -> tuple[Point, Point]:
    """The one that a place lies on, or the nearest; GeometryError when there is none."""
    if not chords:
        raise GeometryError("no cloth there")
    return min(chords, key=lambda ends: distance(ends[0].between(ends[1], 0.5), near)
               - distance(*ends) / 2.0)  # fmt: skip
