"""The cut line of a piece: every edge with its allowance, and the corners between them."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

from blockwright.body.lengths import Length, Unit
from blockwright.curves.chain import corners
from blockwright.curves.curve import Curve
from blockwright.curves.offset import trimmed_parallel
from blockwright.curves.point import Point, distance
from blockwright.curves.primitives import line
from blockwright.errors import GeometryError, InputError
from blockwright.pattern import tolerance
from blockwright.pattern.finishing.cut_corner import Side, Turn, folded, mitred, squared
from blockwright.pattern.piece import Edge, Piece

# A seam that meets one of these roles ends square to its own stitching.
CROSSED = ("armhole", "neck", "waist")
# Beside a hem the allowance of these roles is turned up with the hem, and is cut to fit there.
TURNED_UP = ("seam", *CROSSED)
END_OF = "end of "
"""Begins the name of an edge of the cut line that closes a corner."""
# Two edges with a turn of less than this between them, radians, have no corner: five degrees.
RUNS_ON = math.radians(5.0)


def cut_line(piece: Piece, widths: Sequence[float], bevel: float | None) -> tuple[Edge, ...]:
    """The outline of what is cut, counter-clockwise and closed.

    `widths` has the allowance of each edge, mm.  `bevel` is how far from its corner a spike may
    reach, mm; None for the usual, as in `mitred`.  Raises InputError if an allowance is too wide
    for the bends of its edge, or if two allowances do not meet at a corner.
    """
    edges: list[Edge] = []
    sides: list[Side] = []
    for edge, width in zip(piece.edges, widths, strict=True):
        for sew in _smooth(edge.curve):
            edges.append(edge)
            beside = _beside(piece, edge, sew, width)
            sides.append(Side(sew, beside, -width, edge.role == "fold"))
    between: list[tuple[Point, ...]] = []
    count = len(sides)
    for i in range(count):
        j = (i + 1) % count
        try:
            first, places, second = _turn(edges[i], sides[i], edges[j], sides[j], bevel)
        except GeometryError as error:
            raise InputError.coded(
                "finish.corner",
                piece=piece.label, edge=edges[i].name, other=edges[j].name, why=error,
            ) from error  # fmt: skip
        sides[i] = replace(sides[i], cut=first)
        sides[j] = replace(sides[j], cut=second)
        between.append(places)
    for i in range(count):
        last, here = sides[i - 1], sides[i]
        sides[i] = replace(here, cut=_from(here.cut, last.cut.end))
    outline: list[Edge] = []
    for i in range(count):
        outline.append(Edge(edges[i].name, sides[i].cut, edges[i].role))
        start, end = sides[i].cut.end, sides[(i + 1) % count].cut.start
        ends = [start, *(at for at in between[i] if distance(at, end) > tolerance.ONE_CUT), end]
        for a, b in pairwise(ends):
            if distance(a, b) > tolerance.ONE_CUT:
                outline.append(Edge(END_OF + edges[i].name, line(a, b), edges[i].role))
    return tuple(outline)


def _from(curve: Curve, start: Point) -> Curve:
    """The curve with exactly this start, if the difference is only rounding."""
    if not 0.0 < distance(curve.start, start) <= tolerance.ONE_CUT:
        return curve
    control = curve.control.copy()
    control[0, :2] += [*(start - curve.start)]
    control[0, 0] = [*start]
    return Curve(control)


def _smooth(curve: Curve) -> list[Curve]:
    """The curve cut at its corners."""
    places = [0.0, *corners(curve), curve.length]
    if len(places) == 2:
        return [curve]
    return [curve.part(a, b) for a, b in pairwise(places)]


def _beside(piece: Piece, edge: Edge, sew: Curve, width: float) -> Curve:
    if not width:
        return sew
    try:
        return trimmed_parallel(sew, -width)
    except GeometryError as error:
        raise InputError.coded(
            "finish.too-wide",
            piece=piece.label, edge=edge.name, width=Length(width, Unit.MM), why=error,
        ) from error  # fmt: skip


def _turn(first: Edge, a: Side, second: Edge, b: Side, bevel: float | None) -> Turn:
    """The cut line at the corner between two edges, by their roles."""
    turned: Turn | None = None
    if _in_line(a.sew, b.sew):
        return mitred(a, b, bevel)
    if second.role == "hem" and b.left and first.role in TURNED_UP and a.left:
        turned = folded(a, b)
    elif first.role == "hem" and a.left and second.role in TURNED_UP and b.left:
        turned = _backwards(folded(b.back, a.back))
    elif first.role == "seam" and a.left and second.role in CROSSED:
        turned = squared(a, b)
    elif second.role == "seam" and b.left and first.role in CROSSED:
        turned = _backwards(squared(b.back, a.back))
    return turned or mitred(a, b, bevel)


def _backwards(turned: Turn | None) -> Turn | None:
    if turned is None:
        return None
    first, places, second = turned
    return second.reversed(), places[::-1], first.reversed()


def runs_on(first: Edge, second: Edge) -> bool:
    """Whether there is no corner between two edges.

    An edge that is square to a fold has no corner there: its mirror image goes on from it.
    """
    square = "fold" in (first.role, second.role)
    return _in_line(first.curve, second.curve, math.pi / 2.0 if square else 0.0)


def _in_line(first: Curve, second: Curve, turn: float = 0.0) -> bool:
    """Whether the second curve leaves the first at this turn, radians."""
    angle = second.start_tangent.angle - first.end_tangent.angle - turn
    return abs(math.remainder(angle, math.tau)) < RUNS_ON
