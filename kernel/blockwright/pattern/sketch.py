"""A quick small picture for a screen: what a notebook shows.  Not a drawing to cut from."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, TypeGuard

from blockwright.body.lengths import Unit, format_length
from blockwright.curves.affine import Affine
from blockwright.curves.curve import Curve
from blockwright.curves.make import line
from blockwright.curves.point import Point
from blockwright.errors import PatternError
from blockwright.pattern.mark import Mark
from blockwright.pattern.pen import LETTER, NAME, WORD, Pen, escaped, lines, number, path, stroke

# Pieces and patterns show themselves by this module, so it knows them by their parts only.
if TYPE_CHECKING:
    from blockwright.pattern.pattern import Pattern
    from blockwright.pattern.piece import Edge, Piece

# The picture fits into this, and keeps a border, wider for the names of marks; pixels.
WIDE, HIGH, BORDER, WIDEST_BORDER = 900.0, 480.0, 16.0, 200.0
# Letters on a piece are no larger than this share of its breadth, and its name no wider than that.
LETTERS, OWN_NAME = 0.065, 0.38
# Arms of a cross, a notch with the step between twin ticks, a grain's arrow head; pixels.
CROSS, NOTCH, TWINS, HEAD = 5.0, 8.0, 5.0, 9.0
# Between the pieces of a pattern, and the least a picture shows (one point has no size); mm.
GAP, LEAST = 30.0, 1.0

WHAT = "points, marks, curves, edges, pieces or a pattern"
# Least x, least y, greatest x, greatest y.
Box = tuple[float, float, float, float]


@dataclass(frozen=True, slots=True)
class Sketch:
    """A small picture: `svg` is the whole of it, and a notebook shows it.

    Example:
        >>> from blockwright import Point, sketch
        >>> sketch(Point(0.0, 0.0), Point(30.0, 40.0)).svg.startswith("<svg ")
        True
    """

    svg: str

    def _repr_svg_(self) -> str:
        return self.svg


def sketch(*things: Point | Curve | Edge | Piece | Pattern, names: bool = True) -> Sketch:
    """A small picture of points, marks, curves, edges, pieces and patterns, for a screen.

    Everything lies where it was drafted, except that the pieces of a pattern stand in a row to
    the right of its first one.  Curves keep their control points, to 0.0001 mm, y turned to run
    down; the picture is scaled to fit 900 by 480 pixels.  `names` writes the names of edges,
    darts and marks; a piece's own name is always there.
    Raises PatternError if there is nothing to show, or a thing is none of these or nowhere.

    Example:
        >>> from blockwright import Mark, Point, fair_curve, sketch
        >>> top = Mark(0.0, 90.0, "shoulder point", "where the shoulder ends")
        >>> foot = Mark(60.0, 0.0, "underarm", "a third of the back width out")
        >>> picture = sketch(fair_curve([top, foot], start=Point(0.0, -1.0)), top, foot)
        >>> [mark.name in picture.svg for mark in (top, foot)]
        [True, True]
    """
    laid = list(_laid(things))
    if not laid:
        raise PatternError(f"nothing to sketch; give {WHAT}")
    x0, y0, x1, y1 = _around([_bounds(thing) for thing in laid])
    if not math.isfinite(x0 + y0 + x1 + y1):
        raise PatternError("cannot sketch what is nowhere: a coordinate is not a finite number")
    wide, high = max(x1 - x0, LEAST), max(y1 - y0, LEAST)
    marks = [len(thing.name) for thing in laid if names and isinstance(thing, Mark)]
    side = min(BORDER + LETTER * WORD * max(marks, default=0), WIDEST_BORDER)
    pixel = max(wide / (WIDE - 2.0 * side), high / (HIGH - 2.0 * BORDER))
    pen = _Drawing(Pen(pixel), (x0 + x1) / 2.0, names)
    drawn = [part for thing in laid for part in pen.draw(thing)]
    wide, high = wide + 2.0 * side * pixel, high + 2.0 * BORDER * pixel
    page = ((x0 + x1 - wide) / 2.0, -(y0 + y1 + high) / 2.0, wide, high)
    svg = (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{wide / pixel:.0f}" '
        f'height="{high / pixel:.0f}" viewBox="{" ".join(map(number, page))}" '
        'fill="none" stroke-linecap="round" font-family="sans-serif">'
    )
    return Sketch("\n".join([svg, *drawn, "</svg>"]))


def _laid(
    things: Sequence[Point | Curve | Edge | Piece | Pattern],
) -> Iterator[Point | Curve | Edge | Piece]:
    """Everything in its place: the pieces of patterns in a row, their bottoms level."""
    right: float | None = None
    floor = 0.0
    for thing in things:
        if not hasattr(thing, "pieces"):
            yield thing
            continue
        for piece in thing.pieces:
            x0, y0, x1, _ = _bounds(piece)
            step = Point(0.0, 0.0) if right is None else Point(right + GAP - x0, floor - y0)
            right, floor = x1 + step.x, y0 + step.y
            yield piece.moved(Affine.move(step))


def _is_edge(thing: object) -> TypeGuard[Edge]:
    return hasattr(thing, "curve") and hasattr(thing, "role")


def _is_piece(thing: object) -> TypeGuard[Piece]:
    return hasattr(thing, "edges") and hasattr(thing, "grain")


def _bounds(thing: object) -> Box:
    """Of all that is drawn of a thing; PatternError when it cannot be drawn."""
    if isinstance(thing, Point):
        return thing.x, thing.y, thing.x, thing.y
    if isinstance(thing, Curve):
        return thing.bounds
    if _is_edge(thing):
        return thing.curve.bounds
    if not _is_piece(thing):
        raise PatternError(f"cannot sketch a {type(thing).__name__}; give {WHAT}")
    places = [*thing.grain, thing.label_at, *(dart.apex for dart in thing.darts)]
    curves = [*(edge.curve for edge in thing.edges), *(guide.curve for guide in thing.guides)]
    return _around([_bounds(part) for part in (*places, *curves)])


def _around(boxes: Sequence[Box]) -> Box:
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    return min(x0), min(y0), max(x1), max(y1)


@dataclass(frozen=True, slots=True)
class _Drawing:
    """`middle` of the picture in x; `names`: whether edges, darts and marks are named."""

    pen: Pen
    middle: float
    names: bool

    def draw(self, thing: object) -> Iterator[str]:
        """A thing as SVG elements."""
        if isinstance(thing, Point):
            yield from self._place(thing)
        elif isinstance(thing, Curve):
            yield stroke("seam", path(thing), f"curve, {_cm(thing.length)}")
        elif _is_edge(thing):
            yield from self._edge(thing)
        elif _is_piece(thing):
            yield from self._piece(thing)

    def _place(self, at: Point) -> Iterator[str]:
        arm = CROSS * self.pen.pixel
        across, up = Point(arm, 0.0), Point(0.0, arm)
        says = f"{at.name}: {at.rule}" if isinstance(at, Mark) else f"({at.x:.1f}, {at.y:.1f})"
        yield stroke("mark", lines((at - across, at + across), (at - up, at + up)), says)
        if self.names and isinstance(at, Mark):
            # Away from the middle, where most of a draft is.
            side, anchor = (-arm, "end") if at.x < self.middle else (arm, "start")
            more = f' text-anchor="{anchor}"'
            yield self.pen.word(at.name, at + Point(side, arm), WORD, more)

    def _edge(self, edge: Edge, letters: float = WORD) -> Iterator[str]:
        role = edge.role if edge.role in ("fold", "dart") else "seam"
        says = f"{edge.name}: {edge.role}, {_cm(edge.curve.length)}"
        yield stroke(role, path(edge.curve), says)
        if self.names and role != "dart":
            yield self.pen.beside(edge.name, edge.curve, letters)

    def _piece(self, piece: Piece) -> Iterator[str]:
        x0, _, x1, _ = _bounds(piece)
        letters = min(WORD, LETTERS * (x1 - x0) / self.pen.pixel)
        yield f'<g data-piece="{escaped(piece.label)}">'
        for guide in piece.guides:
            yield stroke("guide", path(guide.curve), guide.name)
        for edge in piece.edges:
            yield from self._edge(edge, letters)
        for dart in piece.darts:
            start, end = piece.dart_legs(dart)
            yield stroke("leg", lines((start, dart.apex), (dart.apex, end)), dart.name)
            if self.names and start != dart.apex:
                yield self.pen.beside(dart.name, line(start, dart.apex), letters)
        for notch in piece.notches:
            ticks = self._ticks(*piece.notch_at(notch), notch.count)
            yield stroke("notch", lines(*ticks), notch.name)
        if piece.grain[0] != piece.grain[1]:
            yield stroke("grain", lines(*self._arrow(*piece.grain)), "grain")
        own = self.pen.fitting(piece.label, NAME, OWN_NAME * (x1 - x0))
        yield self.pen.word(piece.label, piece.label_at, own, ' font-weight="bold"')
        yield "</g>"

    def _ticks(self, curve: Curve, here: float, count: int) -> Iterator[tuple[Point, Point]]:
        for i in range(count):
            along = here + (i - (count - 1) / 2.0) * TWINS * self.pen.pixel
            along = min(max(along, 0.0), curve.length)
            at = curve.point_at(along)
            yield at, at + curve.tangent_at(along).left() * (NOTCH * self.pen.pixel)

    def _arrow(self, low: Point, high: Point) -> Iterator[tuple[Point, Point]]:
        yield low, high
        head = (high - low).unit() * (HEAD * self.pen.pixel)
        for tip, back in ((high, -head), (low, head)):
            for side in (0.35, -0.35):
                yield tip, tip + back + back.left() * side


def _cm(length: float) -> str:
    return format_length(length, Unit.CM)
