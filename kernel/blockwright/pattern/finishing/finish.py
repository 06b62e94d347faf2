"""Finished pieces: sew lines with their allowances, as they are cut."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Literal

from blockwright.body.lengths import Length, Unit
from blockwright.curves.chain import corners
from blockwright.curves.curve import Curve
from blockwright.curves.intersect import intersections
from blockwright.curves.nearest import nearest
from blockwright.curves.offset import trimmed_parallel
from blockwright.curves.point import Point, distance
from blockwright.curves.primitives import line
from blockwright.errors import GeometryError, InputError
from blockwright.pattern import tolerance
from blockwright.pattern.copies import OTHER, unfold
from blockwright.pattern.finishing.cut_corner import Side, Turn, folded, mitred, squared
from blockwright.pattern.finishing.cut_marks import CutNotch, Drill, NotchKind
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Edge, Piece, labelled
from blockwright.spelling import nearest_to

# Allowances by the role of an edge, mm.  1 cm on seams is the industry's (a published book).  That
# faced or bound curves take less and a hem takes more is common practice, no source.
USUAL: Mapping[str, float] = {
    "seam": 10.0,
    "armhole": 10.0,
    "neck": 6.0,
    "waist": 10.0,
    "hem": 30.0,
    "fold": 0.0,
}
# A seam that meets one of these roles ends square to its own stitching.
CROSSED = ("armhole", "neck", "waist")
# Two edges with a turn of less than this between them, radians, have no corner: five degrees.
RUNS_ON = math.radians(5.0)
# Beside a hem the allowance of these roles is turned up with the hem, and is cut to fit there.
TURNED_UP = ("seam", *CROSSED)


@dataclass(frozen=True, slots=True)
class Finish:
    """How pieces are finished.  Lengths are in mm.

    An allowance is looked up by the name of the edge in `edges`, then by its role in `roles`, then
    among the block's own, then in `usual`.  An edge without an allowance is refused, but a fold
    takes none.  `usual` has every role but 'dart' unless it is given.  A spike at a corner is cut
    off `bevel` from the corner.  A notch is a 'slit', 'V' or 'T', `notch_depth` deep and
    `notch_width` wide, and no nearer than `notch_clear` to a corner.  A drill hole lies inside the
    dart, `drill_inset` from its point, and is `drill_diameter` wide.  `opened` draws pieces on the
    fold whole.  `nap` says whether pieces may lie 'one' way only on the cloth, or 'two'.
    Source: 1 cm on seams is the industry's (a published book); the rest is common practice, no
    source.

    Example:
        >>> from blockwright import Edge, Finish, Piece, Point, polyline
        >>> hem = Edge("hem", polyline([Point(0, 0), Point(200, 0)]), "hem")
        >>> side = Edge("side", polyline([Point(200, 0), Point(200, 300), Point(0, 0)]))
        >>> wedge = Piece("wedge", (hem, side), (Point(180, 20), Point(180, 250)), Point(150, 80))
        >>> how = Finish(roles={"hem": 40.0})
        >>> how.allowance(wedge, hem), how.allowance(wedge, side)
        (40.0, 10.0)
    """

    roles: Mapping[str, float] = field(default_factory=dict)
    edges: Mapping[str, float] = field(default_factory=dict)
    usual: Mapping[str, float] = field(default_factory=lambda: dict(USUAL))
    bevel: float = 40.0
    notch: NotchKind = "slit"
    notch_depth: float = 5.0
    notch_width: float = 4.0
    notch_clear: float = 3.0
    drill_inset: float = 12.7
    drill_diameter: float = 3.0
    opened: bool = False
    nap: Literal["one", "two"] = "two"

    def allowance(self, piece: Piece, edge: Edge) -> float:
        """The allowance of an edge, mm.  The mouth of a dart has that of the edge before it.

        Raises InputError if nothing gives the edge an allowance.
        """
        if edge.role == "dart":
            return self.allowance(piece, piece.before(edge.name))
        name = labelled(piece.word, edge.name.removesuffix(OTHER))
        role = edge.role
        for given, key in ((self.edges, name), (self.roles, role), (self.usual, role)):
            if key in given:
                return given[key]
        if role == "fold":
            return 0.0  # the cloth goes on beyond a fold
        raise InputError.coded("finish.no-allowance", piece=piece.label, edge=name, role=role)


@dataclass(frozen=True, slots=True)
class FinishedPiece:
    """A piece as it is cut.  `finish` makes it.

    `cut` is the outline, counter-clockwise and closed.  `piece` has the sew lines; it is the whole
    piece if the fold was opened out.  An edge of `cut` has the name of the edge it runs beside.  At
    a corner the name begins with 'end of'.  `notches` lie on the cut line and `drills` inside the
    darts.  Lengths are in mm.

    Example:
        >>> from blockwright import Edge, Finish, Notch, Piece, Point, finish, polyline
        >>> hem = Edge("hem", polyline([Point(0, 0), Point(200, 0)]), "hem")
        >>> side = Edge("side", polyline([Point(200, 0), Point(200, 300), Point(0, 0)]))
        >>> notches = (Notch("middle", "hem", 100.0),)
        >>> grain, label_at = (Point(180, 20), Point(180, 250)), Point(150, 80)
        >>> wedge = Piece("wedge", (hem, side), grain, label_at, notches=notches)
        >>> cut = finish(wedge, Finish())
        >>> cut.notches[0].name, round(cut.notches[0].at.y, 1)
        ('middle', -30.0)
    """

    piece: Piece
    cut: tuple[Edge, ...]
    notches: tuple[CutNotch, ...]
    drills: tuple[Drill, ...]
    nap: Literal["one", "two"] = "two"


def finish_all(pattern: Pattern, how: Finish) -> tuple[FinishedPiece, ...]:
    """Every piece of a pattern with its allowances.

    The allowances of a block go before the usual ones.  Raises InputError if `how` gives an
    allowance to an edge that no piece has or that is on the fold, and as `finish` does.

    Example:
        >>> from blockwright import Edge, Finish, Pattern, Piece, Point, finish_all, polyline
        >>> hem = Edge("hem", polyline([Point(0, 0), Point(200, 0)]), "hem")
        >>> side = Edge("side", polyline([Point(200, 0), Point(200, 300), Point(0, 0)]))
        >>> wedge = Piece("wedge", (hem, side), (Point(180, 20), Point(180, 250)), Point(150, 80))
        >>> pattern = Pattern("test.wedge", "Wedge", (wedge,))
        >>> [cut.piece.name for cut in finish_all(pattern, Finish(edges={"hem": 20.0}))]
        ['wedge']
    """
    known = dict.fromkeys(
        labelled(piece.word, edge.name)
        for piece in pattern.pieces
        for edge in piece.edges
        if edge.role != "fold"
    )
    for name in how.edges:
        if name not in known:
            if near := nearest_to(name, known):
                raise InputError.coded("finish.misspelt-edge", edge=name, near=near)
            raise InputError.coded("finish.unknown-edge", edge=name, known=[*known])
    return tuple(
        finish(piece, replace(how, usual={**how.usual, **pattern.origin(piece.block).allowances}))
        for piece in pattern.pieces
    )


def finish(piece: Piece, how: Finish) -> FinishedPiece:
    """The piece with its allowances outside its edges.  `how` may open a piece on the fold.

    Raises InputError if an edge has no allowance, an allowance is too wide for the bends of its
    edge, two allowances do not meet at a corner, a notch is too near to a corner, or a notch on the
    fold has several ticks.  The message names the edge or the notch.

    Example:
        >>> from blockwright import Edge, Finish, Piece, Point, finish, polyline, signed_area
        >>> at = [Point(0, 0), Point(200, 0), Point(200, 300), Point(0, 300), Point(0, 0)]
        >>> square = Edge("square", polyline(at))
        >>> cloth = Piece("cloth", (square,), (Point(50, 50), Point(50, 250)), Point(100, 150))
        >>> cut = finish(cloth, Finish(roles={"seam": 15.0}))
        >>> round(signed_area([edge.curve for edge in cut.cut]), 1)
        75900.0
    """
    _check_folded(piece, how)
    if how.opened:
        piece = unfold(piece)
    cut = _cut_line(piece, how)
    return FinishedPiece(piece, cut, _notches(piece, how, cut), _drills(piece, how), how.nap)


def _check_folded(piece: Piece, how: Finish) -> None:
    """Raises InputError if some ticks of a notch would lie beyond the fold."""
    folds = [edge.curve for edge in piece.edges if edge.role == "fold"]
    for notch in piece.notches:
        curve, along = piece.notch_at(notch)
        at = curve.point_at(along)
        reach = (notch.count - 1) * how.notch_depth
        if reach and any(nearest(fold, at).distance < reach for fold in folds):
            raise InputError.coded(
                "finish.ticks-on-fold", piece=piece.label, notch=notch.name, count=notch.count
            )


def _cut_line(piece: Piece, how: Finish) -> tuple[Edge, ...]:
    edges: list[Edge] = []
    sides: list[Side] = []
    for edge in piece.edges:
        width = how.allowance(piece, edge)
        for sew in _smooth(edge.curve):
            edges.append(edge)
            sides.append(Side(sew, _beside(piece, edge, sew, width), -width))
    between: list[tuple[Point, ...]] = []
    count = len(sides)
    for i in range(count):
        j = (i + 1) % count
        try:
            first, places, second = _turn(edges[i], sides[i], edges[j], sides[j], how.bevel)
        except GeometryError as error:
            raise InputError.coded(
                "finish.corner",
                piece=piece.label, edge=edges[i].name, other=edges[j].name, why=error,
            ) from error  # fmt: skip
        sides[i] = Side(sides[i].sew, first, sides[i].left)
        sides[j] = Side(sides[j].sew, second, sides[j].left)
        between.append(places)
    for i in range(count):
        last, here = sides[i - 1], sides[i]
        sides[i] = Side(here.sew, _from(here.cut, last.cut.end), here.left)
    outline: list[Edge] = []
    for i in range(count):
        outline.append(Edge(edges[i].name, sides[i].cut, edges[i].role))
        start, end = sides[i].cut.end, sides[(i + 1) % count].cut.start
        ends = [start, *(at for at in between[i] if distance(at, end) > tolerance.ONE_CUT), end]
        for a, b in pairwise(ends):
            if distance(a, b) > tolerance.ONE_CUT:
                outline.append(Edge(f"end of {edges[i].name}", line(a, b), edges[i].role))
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


def _turn(first: Edge, a: Side, second: Edge, b: Side, bevel: float) -> Turn:
    """The cut line at the corner between two edges, by their roles."""
    turned: Turn | None = None
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


def _notches(piece: Piece, how: Finish, cut: tuple[Edge, ...]) -> tuple[CutNotch, ...]:
    """Each notch moved square from the sew line to the cut line."""
    found = []
    for notch in piece.notches:
        i, here = piece.place(notch.edge, notch.along)
        edge = piece.edges[i]
        width = how.allowance(piece, edge)
        ends = (
            (here, piece.edges[i - 1], edge),
            (edge.curve.length - here, edge, piece.edges[(i + 1) % len(piece.edges)]),
        )
        nearest = min((far for far, a, b in ends if not _runs_on(a, b)), default=math.inf)
        if nearest < how.notch_clear:
            raise InputError.coded(
                "finish.notch-near-corner",
                piece=piece.label, notch=notch.name, edge=notch.edge,
                away=Length(nearest, Unit.MM), clear=Length(how.notch_clear, Unit.MM),
            )  # fmt: skip
        for i in range(notch.count):
            step = (i - (notch.count - 1) / 2.0) * 2.0 * how.notch_depth
            along = min(max(here + step, 0.0), edge.curve.length)
            sewn = edge.curve.point_at(along)
            inward = edge.curve.tangent_at(along).left()
            at = _outward(sewn, inward, width, [e.curve for e in cut if e.name == notch.edge])
            found.append(
                CutNotch(notch.name, at, inward, how.notch, how.notch_depth, how.notch_width)
            )
    return tuple(found)


def _runs_on(first: Edge, second: Edge) -> bool:
    """Whether there is no corner between two edges.

    An edge that is square to a fold has no corner there: its mirror image goes on from it.
    """
    turn = second.curve.start_tangent.angle - first.curve.end_tangent.angle
    if "fold" in (first.role, second.role):
        turn -= math.pi / 2.0
    return abs(math.remainder(turn, math.tau)) < RUNS_ON


def _outward(sewn: Point, inward: Point, width: float, cut: list[Curve]) -> Point:
    """Where a line square to the sew line meets the cut line."""
    if not width:
        return sewn
    ray = line(sewn, sewn - inward * (width * 1.5))
    met = [each.point for curve in cut for each in intersections(ray, curve)]
    return min(met, key=lambda at: distance(at, sewn), default=sewn - inward * width)


def _drills(piece: Piece, how: Finish) -> tuple[Drill, ...]:
    drills = []
    for dart in piece.darts:
        start, end = piece.dart_legs(dart)
        middle = start.between(end, 0.5)
        way = (middle - dart.apex).unit()
        inset = min(how.drill_inset, distance(dart.apex, middle) / 2.0)
        drills.append(Drill(dart.name, dart.apex + way * inset, how.drill_diameter))
    return tuple(drills)
