"""The notches on a cut line: those of the block, and those that every piece has."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import NamedTuple

from blockwright.body.lengths import Length, Unit
from blockwright.curves.chain import corners
from blockwright.curves.curve import Curve
from blockwright.curves.intersect_line import on_segment
from blockwright.curves.nearest import nearest
from blockwright.curves.point import Point, distance
from blockwright.errors import GeometryError, InputError
from blockwright.pattern import tolerance
from blockwright.pattern.copies import OTHER
from blockwright.pattern.finishing.cut_line import RUNS_ON, runs_on
from blockwright.pattern.finishing.cut_marks import CutNotch, NotchStyle
from blockwright.pattern.piece import Edge, Piece

# How far inside the cloth the search for the cut line begins, mm.
INSIDE = 0.05
# The cut line is searched for up to this many times the widest allowance away.
REACH = 6.0
# A nick at the end of a fold stays this far from it, mm, so that the corner does not come off.
NICK = 0.8
CENTRE = "centre"
"""A guide line whose name begins with this word is a centre line."""


class End(NamedTuple):
    """The end of a line that is notched: the notch's name, the place, and the way outward.

    `into` is the way from a fold into the cloth, None where cloth lies on both sides.
    """

    name: str
    at: Point
    way: Point
    into: Point | None = None


def block_notches(
    piece: Piece, widths: Sequence[float], cut: Sequence[Edge], style: NotchStyle
) -> Iterator[CutNotch]:
    """Each notch of the block, moved square from the sew line to the cut line.

    Raises InputError for a notch that is too near to a corner.  The block put it there, so nobody
    but its author or maker can say where else it should go.
    """
    widest = max(widths)
    for notch in piece.notches:
        i, here = piece.place(notch.edge, notch.along)
        edge = piece.edges[i]
        ends = (
            (here, piece.edges[i - 1], edge),
            (edge.curve.length - here, edge, piece.edges[(i + 1) % len(piece.edges)]),
        )
        near = min((far for far, a, b in ends if not runs_on(a, b)), default=math.inf)
        if near < style.clear:
            raise InputError.coded(
                "finish.notch-near-corner",
                piece=piece.label, notch=notch.name, edge=notch.edge,
                away=Length(near, Unit.MM), clear=Length(style.clear, Unit.MM),
            )  # fmt: skip
        for tick in range(notch.count):
            step = (tick - (notch.count - 1) / 2.0) * 2.0 * style.depth
            along = min(max(here + step, 0.0), edge.curve.length)
            sewn = edge.curve.point_at(along)
            inward = edge.curve.tangent_at(along).left()
            at = _reached(sewn, -inward, widest, cut) or sewn - inward * widths[i]
            yield _notch(notch.name, at, inward, style)


def usual_notches(
    piece: Piece,
    widths: Sequence[float],
    cut: Sequence[Edge],
    style: NotchStyle,
    there: Sequence[CutNotch],
    opened: Sequence[End] = (),
) -> tuple[CutNotch, ...]:
    """The notches that every piece has: dart legs, centre lines and the folds of hems.

    `opened` are the ends of the folds at which the piece was opened out.  `there` are the notches
    that it has already.

    A notch is left out within `style.clear` of a notch before it: two cuts so near tear into one.
    It is left out within `style.clear` of a corner of the cut line, too: the corner marks the
    place, and a cut beside it would take the corner off.  But a dart leg or the fold of a hem may
    meet the cut line in a corner of its own, and that corner is notched.  A centre line that ends
    in a corner has no notch there.  At the end of a fold the corner is nicked: a slit across it,
    half of a V close beside the fold.

    Source: common practice, no source.
    """
    clear = max(style.clear, tolerance.ONE_CUT)
    turns = [*_turns(cut)]
    found: list[CutNotch] = []
    places = [notch.at for notch in there]
    for notch, place, own in _wanted(piece, widths, cut, style, opened):
        near = [*places]
        for at, beside in turns:
            if own is None or not (own & beside or distance(at, place) <= tolerance.ONE_CUT):
                near.append(at)
        if all(distance(place, at) >= clear for at in near):
            found.append(notch)
            places.append(place)
    return tuple(found)


def _wanted(
    piece: Piece,
    widths: Sequence[float],
    cut: Sequence[Edge],
    style: NotchStyle,
    opened: Sequence[End],
) -> Iterator[tuple[CutNotch, Point, set[str] | None]]:
    """Each usual notch, the place that it marks on the cut line, and the corners it may lie near.

    It may lie in a corner of its own, and near the corners of those edges; None if near none.
    """
    widest = max(widths)
    for dart in piece.darts:
        for leg in piece.dart_legs(dart):
            way = (leg - dart.apex).unit()
            if at := _reached(leg, way, widest, cut):
                yield _notch(_named(dart.name, "leg"), at, -way, style), at, {dart.mouth}
    for end in (*opened, *fold_ends(piece), *_centre_ends(piece)):
        if at := _reached(end.at, end.way, widest, cut):
            notch = _notch(end.name, at, -end.way, style)
            yield (_nick(end, at, widest, cut, style) or notch) if end.into else notch, at, None
    for edge, beside, place, way in _ends_of_hems(piece, widths):
        if at := _reached(place, way, widest, [each for each in cut if _runs_beside(each, beside)]):
            hem = edge.name.removesuffix(OTHER)
            what = "fold" if "hem" in hem.split() else "hem fold"
            yield _notch(_named(edge.name, what), at, -way, style), at, set()


def _nick(
    end: End, at: Point, widest: float, cut: Sequence[Edge], style: NotchStyle
) -> CutNotch | None:
    """A slit across the corner of a fold and the cut line.  None if the cut line is not beside it.

    A slit along the fold could not be told from the fold, and half of a V or T would lie beyond it.
    """
    assert end.into is not None
    start = _reached(
        end.at + end.into * (style.width / 2.0 + NICK), end.way, widest, cut, inside=style.depth
    )
    if start is None:
        return None
    slit = at + end.into * NICK - end.way * style.depth - start
    return CutNotch(end.name, start, slit.unit(), "slit", abs(slit), style.width)


def fold_ends(piece: Piece) -> list[End]:
    """The ends of every fold.  Where two folds meet there is no cut edge, so that is no end."""
    found = []
    for i, edge in enumerate(piece.edges):
        if edge.role != "fold":
            continue
        name, after = _named(edge.name, "fold"), piece.edges[(i + 1) % len(piece.edges)]
        way = edge.curve.start_tangent
        if piece.edges[i - 1].role != "fold":
            found.append(End(name, edge.curve.start, -way, way.left()))
        way = edge.curve.end_tangent
        if after.role != "fold":
            found.append(End(name, edge.curve.end, way, way.left()))
    return found


def _centre_ends(piece: Piece) -> Iterator[End]:
    """The ends of the centre lines that end on an edge."""
    for guide in piece.guides:
        if guide.name.startswith(CENTRE):
            curve = guide.curve
            for end, way in (
                (curve.start, -curve.start_tangent),
                (curve.end, curve.end_tangent),
            ):
                if any(nearest(e.curve, end).distance <= tolerance.LENGTH for e in piece.edges):
                    yield End(guide.name, end, way)


def _ends_of_hems(
    piece: Piece, widths: Sequence[float]
) -> Iterator[tuple[Edge, Edge, Point, Point]]:
    """The ends of every hem that is turned up: the hem, its neighbour, the place and the way out.

    At a fold and at a dart there is no cut edge to notch, and none where the hem runs on.
    """
    count = len(piece.edges)
    for i, hem in enumerate(piece.edges):
        if hem.role != "hem" or not widths[i]:
            continue
        before, after = piece.edges[i - 1], piece.edges[(i + 1) % count]
        if before.role not in ("fold", "dart") and not runs_on(before, hem):
            yield hem, before, hem.curve.start, -hem.curve.start_tangent
        if after.role not in ("fold", "dart") and not runs_on(hem, after):
            yield hem, after, hem.curve.end, hem.curve.end_tangent


def _runs_beside(each: Edge, edge: Edge) -> bool:
    """Whether a cut edge runs beside an edge, or ends its allowance."""
    return each.name in (edge.name, f"end of {edge.name}")


def _turns(cut: Sequence[Edge]) -> Iterator[tuple[Point, set[str]]]:
    """The corners of a cut line, each with the names of the edges that meet there."""
    for first, second in zip(cut, (*cut[1:], *cut[:1]), strict=True):
        for along in corners(first.curve, over=RUNS_ON):
            yield first.curve.point_at(along), {first.name}
        if not runs_on(first, second):
            yield first.curve.end, {first.name, second.name}


def _notch(name: str, at: Point, inward: Point, style: NotchStyle) -> CutNotch:
    return CutNotch(name, at, inward, style.kind, style.depth, style.width)


def _named(name: str, what: str) -> str:
    """The name of a thing with a word after it, before what tells the other side of a piece.

    A name that ends in the word keeps it once.
    """
    own = name.removesuffix(OTHER)
    said = own if own.split()[-1:] == [what] else f"{own} {what}"
    return f"{said}{OTHER if own != name else ''}"


def _reached(
    sewn: Point, way: Point, widest: float, cut: Sequence[Edge], inside: float = INSIDE
) -> Point | None:
    """Where a line out of the cloth, from `inside` mm before a place, first meets the cut line.

    None if it does not.
    """
    start, end = sewn - way * inside, sewn + way * (REACH * widest + INSIDE)
    met = [at for edge in cut for at in _met(edge.curve, start, end)]
    return min(met, key=lambda at: distance(at, start), default=None)


def _met(curve: Curve, a: Point, b: Point) -> list[Point]:
    try:
        return [curve.point_at(s) for s in on_segment(curve, a, b)]
    except GeometryError:
        return []  # it runs along the line, and its neighbours meet the line at its ends
