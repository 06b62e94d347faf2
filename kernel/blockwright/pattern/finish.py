"""Finished pieces: what is cut, from what is sewn and the allowances."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Literal

from blockwright.curves.chain import corners
from blockwright.curves.curve import Curve
from blockwright.curves.make import line
from blockwright.curves.meet import intersections, nearest
from blockwright.curves.point import Point, distance
from blockwright.curves.trim import trimmed_parallel
from blockwright.errors import GeometryError, InputError
from blockwright.pattern.corner import SAME, Side, Turn, folded, mitred, squared
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Edge, Piece, labelled
from blockwright.pattern.unfold import OTHER, unfold
from blockwright.spelling import did_you_mean

NotchKind = Literal["slit", "V", "T"]
# Allowances by what an edge is, mm: 1 cm on seams is the industry's (a published book), curves that
# are faced or bound take less, a hem more.  Common practice, no source, but for the seam.
USUAL: Mapping[str, float] = {
    "seam": 10.0,
    "armhole": 10.0,
    "neck": 6.0,
    "waist": 10.0,
    "hem": 30.0,
    "fold": 0.0,
}
# An edge of the first kind that meets one of the second ends square to its own stitching.
CROSSED = ("armhole", "neck", "waist")
# Edges that turn by less than this, radians, where they meet have no corner there: five degrees.
RUNS_ON = math.radians(5.0)
# Beside a hem the allowance of these is turned up with it, so it mirrors what it is turned up on.
TURNED_UP = ("seam", *CROSSED)


@dataclass(frozen=True, slots=True)
class Finish:
    """How pieces are finished; lengths in mm.

    `edges` and `roles`: allowances by the name of an edge (which comes first) and by its role;
    what neither gives is the block's own, or that of `usual`, which left out has every role but
    'dart'; one that none of them gives is refused, not guessed, but a fold takes none.
    `bevel`: a spike at a corner is cut off so far from it.  `notch`, 'slit', 'V' or 'T', goes
    `notch_depth` in and is `notch_width` wide; `notch_clear`: none nearer than that to a corner.
    `drill_inset`: how far a drill hole, `drill_diameter` wide, lies inside the dart, from its
    point.  `opened`: pieces on the fold are drawn whole.  `nap`: cloth that may lie 'one' way
    only, or 'two'.
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
        """The allowance of an edge, mm; the mouth of a dart takes that of the edge before it.

        Raises InputError for an edge that nothing gives one to.
        """
        if edge.role == "dart":
            return self.allowance(piece, piece.before(edge.name))
        name = labelled(piece.word, edge.name.removesuffix(OTHER))
        role = edge.role
        for given, key in ((self.edges, name), (self.roles, role), (self.usual, role)):
            if key in given:
                return given[key]
        if role == "fold":
            return 0.0  # the cloth goes on there
        raise InputError(
            f"piece {piece.label}: nothing says how much allowance {name} takes; give one for "
            f"{role!r} or for the edge"
        )


@dataclass(frozen=True, slots=True)
class CutNotch:
    """A notch on the cut line: where, which way it goes in (a unit step), and its size."""

    name: str
    at: Point
    inward: Point
    kind: NotchKind
    depth: float
    width: float


@dataclass(frozen=True, slots=True)
class Drill:
    """A hole that marks a dart, inset from its point."""

    name: str
    at: Point
    diameter: float


@dataclass(frozen=True, slots=True)
class FinishedPiece:
    """A piece as it is cut: `cut` is its outline, counter-clockwise and closed.

    `piece` has the sew lines; it is the whole where a fold was opened out.  Edges of `cut` are
    called as those they run beside, 'end of' them at a corner.  `notches` lie on the cut line,
    `drills` inside the darts; all in mm.  `finish` makes it.

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
    """Every piece of a pattern with its allowances; each block's own come before the usual ones.

    Raises InputError for an edge with an allowance that no piece has or that is on the fold, and
    as `finish` does.

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
            hint = did_you_mean(name, [*known]) or f"; they are {', '.join(known)}"
            raise InputError(f"no edge {name!r} to give an allowance{hint}")
    return tuple(
        finish(
            piece,
            replace(how, usual={**how.usual, **pattern.origin(piece.block).allowances}),
        )
        for piece in pattern.pieces
    )


def finish(piece: Piece, how: Finish) -> FinishedPiece:
    """The piece with its allowances, outside its edges; a piece on the fold opened if `how` says.

    Raises InputError naming the edge when it is given no allowance, an allowance leaves nothing of
    it to cut, two of them do not go together at their corner, or a notch is nearer to a corner than
    it is kept clear, or has several ticks on the fold.

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
    """InputError for ticks side by side so near a fold that some lie on the other half."""
    folds = [edge.curve for edge in piece.edges if edge.role == "fold"]
    for notch in piece.notches:
        curve, along = piece.notch_at(notch)
        at = curve.point_at(along)
        reach = (notch.count - 1) * how.notch_depth
        if reach and any(nearest(fold, at).distance < reach for fold in folds):
            raise InputError(
                f"piece {piece.label}: {notch.name} has {notch.count} ticks on the fold, where "
                "there is room for one; move it, or make it one"
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
            raise InputError(
                f"piece {piece.label}: the allowances of {edges[i].name} and {edges[j].name} do "
                f"not go together at their corner ({error}); give them others"
            ) from error
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
        ends = [start, *(at for at in between[i] if distance(at, end) > SAME), end]
        for a, b in pairwise(ends):
            if distance(a, b) > SAME:
                outline.append(Edge(f"end of {edges[i].name}", line(a, b), edges[i].role))
    return tuple(outline)


def _from(curve: Curve, start: Point) -> Curve:
    """The curve from exactly there, if it begins so near that only rounding lies between."""
    if not 0.0 < distance(curve.start, start) <= SAME:
        return curve
    control = curve.control.copy()
    control[0, :2] += [*(start - curve.start)]
    control[0, 0] = [*start]
    return Curve(control)


def _smooth(curve: Curve) -> list[Curve]:
    """The curve in parts without a corner."""
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
        raise InputError(
            f"piece {piece.label}: an allowance of {width:.1f} mm leaves nothing of {edge.name}: "
            f"{error}; give less"
        ) from error


def _turn(first: Edge, a: Side, second: Edge, b: Side, bevel: float) -> Turn:
    """The corner from one edge to the next, by what they are."""
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
    """Each notch carried square from the sew line to the cut line."""
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
            raise InputError(
                f"piece {piece.label}: {notch.name} is {nearest:.1f} mm from the end of "
                f"{notch.edge}, nearer than the {how.notch_clear:.1f} mm that a notch is kept "
                "clear of a corner; move it, or allow less in the finish sheet"
            )
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
    """Whether one edge goes on where the other ends, without a corner.

    An edge square to a fold goes on in its mirror image.
    """
    turn = second.curve.start_tangent.angle - first.curve.end_tangent.angle
    if "fold" in (first.role, second.role):
        turn -= math.pi / 2.0
    return abs(math.remainder(turn, math.tau)) < RUNS_ON


def _outward(sewn: Point, inward: Point, width: float, cut: list[Curve]) -> Point:
    """Where the way square out from the sew line meets the cut line."""
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
