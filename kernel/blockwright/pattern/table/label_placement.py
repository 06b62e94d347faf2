"""The places of label and grain on a piece whose author gives none."""

from __future__ import annotations

import math
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
# A line ends where it meets the outline, and so many times sooner than an outline beside it is
# near.  So it grows and shrinks by no more than that many times what the outline moves.
STEADY_LEFT, STEADY_UP = 7.0, 5.0


def usual_label(piece: Piece) -> Point:
    """The place of the label: the centroid of the piece, if that lies well within the cloth.

    Where the outline is hollow it is moved away from the middle of the opening, until it is so far
    in the cloth as the middle of the cloth behind.  The place never jumps: it moves by no more than
    a few times what the outline moves.
    """
    outline = sewn_outline(piece)
    corners = _corners(outline)
    middle = _centroid(corners)
    try:
        contains(outline, middle)
        at = middle
        for lid, depth in _hollows(corners):
            at = at + _away(outline, lid, depth, middle)
        return at if contains(outline, at) else _beside(outline, middle)
    except GeometryError:  # the outline is not sound, and the proof says so
        return middle


def usual_grain(piece: Piece, label_at: Point) -> tuple[Point, Point]:
    """A grain straight up, between the label and the edge on its left.  It never jumps either."""
    corners = _corners(sewn_outline(piece))
    foot = label_at - Point(ASIDE * _room(corners, label_at, Point(-1.0, 0.0), STEADY_LEFT), 0.0)
    low = foot - Point(0.0, _room(corners, foot, Point(0.0, -1.0), STEADY_UP))
    high = foot + Point(0.0, _room(corners, foot, UP, STEADY_UP))
    return low.between(high, CLEAR), high.between(low, CLEAR)


def _hollows(corners: np.ndarray) -> list[tuple[Point, float]]:
    """Where the outline is hollow: the middle of each opening, and the depth behind it, mm.

    The middle is the one of what lies open, so that a sliver moves it little.
    """
    hull = _hull(corners)
    found = []
    for first, second in zip(hull, hull[1:] + hull[:1], strict=True):
        between = np.arange(first + 1, second if second > first else second + len(corners))
        if not len(between):
            continue
        a, b = corners[first], corners[second]
        way = (b - a) / max(float(np.hypot(*(b - a))), tolerance.ROUNDED)
        inward = corners[between % len(corners)] - a
        depth = float((way[0] * inward[:, 1] - way[1] * inward[:, 0]).max())
        if depth > tolerance.CORNER:
            open_at = _centroid(corners[np.arange(first, between[-1] + 2) % len(corners)])
            along = float(way @ (np.array([open_at.x, open_at.y]) - a))
            found.append((Point(*(a + along * way).tolist()), depth))
    return found


def _hull(corners: np.ndarray) -> list[int]:
    """The numbers of the corners on the convex hull, in the order of the outline.

    Source: A. M. Andrew, *Another efficient algorithm for convex hulls in two dimensions*,
    Information Processing Letters 9 (1979) 216-219.
    """
    order = np.lexsort((corners[:, 1], corners[:, 0])).tolist()
    places = corners.tolist()

    def half(numbers: list[int]) -> list[int]:
        kept: list[int] = []
        for number in numbers:
            x, y = places[number]
            while len(kept) > 1:
                (ax, ay), (bx, by) = places[kept[-2]], places[kept[-1]]
                if (bx - ax) * (y - ay) - (by - ay) * (x - ax) > 0.0:
                    break
                kept.pop()
            kept.append(number)
        return kept[:-1]

    return sorted({*half(order), *half(order[::-1])})


def _away(outline: Sequence[Curve], lid: Point, depth: float, middle: Point) -> Point:
    """How far the middle must move away from an opening to lie in the cloth behind it.

    The centroid of a convex shape lies at a third or more of every line through it.  So a third is
    enough where nothing is hollow, and half where the hollow is deeper than the cloth behind it.
    """
    if distance(lid, middle) < tolerance.CORNER:
        return Point(0.0, 0.0)
    way = (middle - lid).unit()
    ahead = [(way.dot(a - lid), way.dot(b - lid)) for a, b in _chords(outline, lid, way)]
    first = next(((a, b) for a, b in ahead if b > tolerance.CORNER), None)
    if first is None:
        return Point(0.0, 0.0)
    begin, wide = first[0], first[1] - first[0]
    share = 1.0 / 2.0 - max(1.0 - depth / wide, 0.0) / 6.0
    return way * max(begin + share * wide - distance(lid, middle), 0.0)


def _beside(outline: Sequence[Curve], middle: Point) -> Point:
    """The middle of the cloth above, below or beside a place that lies in none."""
    chords = [_chords(outline, middle, way) for way in (UP, ACROSS)]
    # One of the two lines crosses the bend once, and the other one twice.
    single = [one for one in chords if len(one) == 1] + [one for one in chords if one]
    return single[0][0][0].between(single[0][0][1], 0.5) if single else middle


def _room(corners: np.ndarray, at: Point, way: Point, steady: float) -> float:
    """How far a line may run from a place, in the direction `way` along an axis, mm.

    What lies beside the line or behind the place counts as `steady` times as far.
    """
    a = corners - np.array([at.x, at.y])
    ahead, beside = a @ np.array([way.x, way.y]), a @ np.array([-way.y, way.x])
    step_ahead, step_beside = np.roll(ahead, -1) - ahead, np.roll(beside, -1) - beside
    # Along a straight edge the cost is straight, but for where the edge crosses the two axes.
    least = math.inf
    with np.errstate(divide="ignore", invalid="ignore"):
        crossings = (np.zeros(len(a)), -ahead / step_ahead, -beside / step_beside)
    for crossing in crossings:
        share = np.clip(np.nan_to_num(crossing, nan=0.0, posinf=0.0, neginf=0.0), 0.0, 1.0)
        far, off = ahead + share * step_ahead, beside + share * step_beside
        cost = np.where(far > 0.0, far, -steady * far) + steady * np.abs(off)
        least = min(least, float(cost.min()))
    return least


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


def _corners(outline: Sequence[Curve]) -> np.ndarray:
    """Places (n, 2) along the outline, mm.  Each piece of a curve is taken as 16 straight lines."""
    control = np.concatenate([curve.control for curve in outline])
    return bezier.points_at(control, np.arange(16.0) / 16.0)


def _centroid(corners: np.ndarray) -> Point:
    """The centroid of the area within the corners."""
    origin = corners.mean(axis=0)
    a = corners - origin
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
