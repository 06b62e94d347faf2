"""The width of cloth along a level drawn across a piece."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

from blockwright.curves._numpy import np
from blockwright.curves.chain import inside, join
from blockwright.curves.curve import Curve
from blockwright.curves.intersect import intersections
from blockwright.curves.intersect_line import points_on_line
from blockwright.curves.point import Point
from blockwright.curves.primitives import line
from blockwright.errors import GeometryError
from blockwright.pattern import tolerance
from blockwright.pattern.dart import sewn_outline
from blockwright.pattern.piece import Piece
from blockwright.pattern.results import Reason

# A level is extended by this much past both its ends, mm, so that a piece wider than the level as
# drawn is measured to its edge.
PAST_ENDS = 60.0


@dataclass(frozen=True, slots=True)
class Width:
    """The width of the cloth at a level, mm.  If it is nan, `why` gives the reason."""

    width: float
    why: Reason | None = None


def width_across(
    piece: Piece, level: Sequence[Curve], outline: Sequence[Curve] | None = None
) -> Width:
    """The length of a level within the cloth, with the darts folded away.

    `outline` is the outline of the piece with its darts closed, where it is known.  A level has
    several parts where cloth between them was closed away.  It is extended straight past both ends
    to the edge of the cloth.  Cloth beyond that edge is not counted.  A level
    that ends more than PAST_ENDS from the edge has no width.
    """
    outline = outline or sewn_outline(piece)
    total = 0.0
    for i, part in enumerate(level):
        found = _part_across(piece, outline, part, i == 0, i == len(level) - 1)
        if found.why:
            return found
        total += found.width
    return Width(total)


def _part_across(
    piece: Piece, outline: Sequence[Curve], level: Curve, opens: bool, closes: bool
) -> Width:
    """The width at one part.  The part that `opens` or `closes` the level is extended there."""
    corners = _ruled(level)
    long = math.fsum(abs(b - a) for a, b in pairwise(corners)) if corners else level.length
    try:
        met = _met_ruled(corners, outline) if corners else _met_curved(level, outline)
    except GeometryError:
        return Width(math.nan, Reason("level.along-edge", {"piece": piece.ref}))
    first, last = (-math.inf if opens else 0.0), (math.inf if closes else long)
    met = [at for at in met if first < at < last]
    parts = [
        (a, b, max(a, 0.0), min(b, long))
        for a, b in pairwise([first, *met, last])
        if min(b, long) - max(a, 0.0) > tolerance.CORNER
    ]
    if not parts:
        return Width(0.0)
    middles = [(low + high) / 2.0 for _, _, low, high in parts]
    places = [_ruled_at(corners, at) if corners else level.point_at(at) for at in middles]
    shown = zip(parts, inside(outline, places), strict=True)
    width = math.fsum(b - a for (a, b, _, _), cloth in shown if cloth)
    if math.isinf(width):
        return Width(
            math.nan, Reason("level.ends-in-cloth", {"piece": piece.ref, "past": PAST_ENDS})
        )
    return Width(width)


def _ruled(level: Curve) -> list[Point]:
    """The corners of a level made of straight lines.  Empty for a curved level.

    A piece is no shorter than its chord and no longer than the legs of its control points.
    """
    legs = np.diff(level.control, axis=1)
    chords = level.control[:, 3] - level.control[:, 0]
    bent = float(np.hypot(*legs.T).sum() - np.hypot(*chords.T).sum())
    if bent > tolerance.CORNER:
        return []
    return [*(Point(*corner) for corner in level.control[:, 0].tolist()), level.end]


def _ruled_at(corners: Sequence[Point], along: float) -> Point:
    """The place so far along straight lines from corner to corner, mm."""
    for a, b in pairwise(corners):
        if along <= abs(b - a):
            break
        along -= abs(b - a)
    return a + (b - a).unit() * along


def _met_ruled(corners: Sequence[Point], outline: Sequence[Curve]) -> list[float]:
    """The distances along a level of straight lines at which it meets the outline, in order.

    Straight lines are much quicker to intersect than curves.
    """
    met: list[float] = []
    past = 0.0
    for i, (a, b) in enumerate(pairwise(corners)):
        way, long = (b - a).unit(), abs(b - a)
        low = -PAST_ENDS if i == 0 else -tolerance.CORNER
        high = long + (PAST_ENDS if i == len(corners) - 2 else tolerance.CORNER)
        places = ((at - a).dot(way) for at in points_on_line(outline, a, b))
        met += [past + place for place in places if low <= place <= high]
        past += long
    return sorted(met)


def _met_curved(level: Curve, outline: Sequence[Curve]) -> list[float]:
    before = line(level.start - level.start_tangent * PAST_ENDS, level.start)
    after = line(level.end, level.end + level.end_tangent * PAST_ENDS)
    whole = join([before, level, after])
    return [meeting.along_a - PAST_ENDS for meeting in intersections(whole, join(outline))]
