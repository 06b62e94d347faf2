"""A small picture for a screen, such as a notebook shows.  It is no drawing to cut from."""

from __future__ import annotations

import html
import math
import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from blockwright.body.lengths import Unit, format_length
from blockwright.curves.affine import Affine
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point
from blockwright.curves.primitives import line
from blockwright.errors import PatternError
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Edge, Piece
from blockwright.pattern.ref import Mark

# The picture fits into this, and keeps a border, wider for the names of marks; pixels.
WIDE, HIGH, BORDER, WIDEST_BORDER = 900.0, 480.0, 16.0, 200.0
# Letters on a piece are at most LETTERS of its breadth high, and its name OWN_NAME of it wide.
LETTERS, OWN_NAME = 0.065, 0.38
# The arm of a cross, a notch, the step between its ticks, the arrow head of a grain; pixels.
CROSS, NOTCH, TWINS, HEAD = 5.0, 8.0, 5.0, 9.0
# The gap between the pieces of a pattern, and the least size of a picture (a point has none); mm.
GAP, LEAST = 30.0, 1.0

WHAT = "points, marks, curves, edges, pieces or a pattern"
# Least x, least y, greatest x, greatest y.
Bounds = tuple[float, float, float, float]
# Largest letters of pieces' and of other names, pixels.
NAME, WORD = 14.0, 11.0
# The width of a letter, and the distance of a name from its line, as shares of the letter's size.
LETTER, STAND_OFF = 0.6, 0.9
# A name takes at most this share of its line, so that names of neighbours do not meet.
SHARE = 0.75
# Every colour has a contrast of 4.5 to 1 with white and with black.
INK, MOSS, RUST, BLUE, TEAL = "#6a7687", "#697d2a", "#bb592f", "#3976c6", "#268376"
# Colour, width and dashes of a stroke by its role; pixels.
LOOKS = {
    "seam": (INK, 1.8, ""),
    "fold": (TEAL, 1.8, "12 3 2 3"),
    "dart": (RUST, 1.2, "3 3"),
    "leg": (RUST, 1.2, ""),
    "notch": (INK, 1.8, ""),
    "guide": (MOSS, 1.0, "2 3"),
    "grain": (BLUE, 1.2, ""),
    "mark": (RUST, 1.4, ""),
}
_NOT_IN_XML = re.compile("[^\t\n\r -\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


@dataclass(frozen=True, slots=True)
class Sketch:
    """A small picture, which a notebook shows.  `svg` is its whole text.

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

    Everything lies where it was drafted, but the pieces of a pattern stand in a row to the right of
    its first piece.  Curves keep their control points to 0.0001 mm, with y running down.  The
    picture is scaled to fit 900 by 480 pixels.  `names` says whether the names of edges, darts and
    marks are written.  The name of a piece always is.
    Raises PatternError if nothing is given, a thing is none of these, or a coordinate is not
    finite.

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
    """Everything in its place.  The pieces of patterns stand in a row with their bottoms level."""
    right: float | None = None
    floor = 0.0
    for thing in things:
        if not isinstance(thing, Pattern):
            yield thing
            continue
        for piece in thing.pieces:
            x0, y0, x1, _ = _bounds(piece)
            step = Point(0.0, 0.0) if right is None else Point(right + GAP - x0, floor - y0)
            right, floor = x1 + step.x, y0 + step.y
            yield piece.moved(Affine.move(step))


def _bounds(thing: object) -> Bounds:
    """The bounds of all that is drawn of a thing.  Raises PatternError if it cannot be drawn."""
    if isinstance(thing, Point):
        return thing.x, thing.y, thing.x, thing.y
    if isinstance(thing, Curve):
        return thing.bounds
    if isinstance(thing, Edge):
        return thing.curve.bounds
    if not isinstance(thing, Piece):
        raise PatternError(f"cannot sketch a {type(thing).__name__}; give {WHAT}")
    places = [*thing.grain, thing.label_at, *(dart.apex for dart in thing.darts)]
    curves = [*(edge.curve for edge in thing.edges), *(guide.curve for guide in thing.guides)]
    return _around([_bounds(part) for part in (*places, *curves)])


def _around(boxes: Sequence[Bounds]) -> Bounds:
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    return min(x0), min(y0), max(x1), max(y1)


@dataclass(frozen=True, slots=True)
class _Drawing:
    """Draws things.  `middle` is that of the picture in x.  `names` writes names beside lines."""

    pen: Pen
    middle: float
    names: bool

    def draw(self, thing: object) -> Iterator[str]:
        """The SVG elements of a thing."""
        if isinstance(thing, Point):
            yield from self._place(thing)
        elif isinstance(thing, Curve):
            yield stroke("seam", path(thing), f"curve, {_cm(thing.length)}")
        elif isinstance(thing, Edge):
            yield from self._edge(thing)
        elif isinstance(thing, Piece):
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


@dataclass(frozen=True, slots=True)
class Pen:
    """Makes strokes and words.  One pixel of the screen is `pixel` mm wide."""

    pixel: float

    def fitting(self, text: str, most: float, room: float) -> float:
        """The size of letters, pixels, at which a text fits `room` mm.  It is at most `most`."""
        return min(most, room / self.pixel / (LETTER * max(len(text), 1)))

    def beside(self, name: str, curve: Curve, most: float) -> str:
        """A name along the middle of a curve, on its left, as large as fits."""
        size = self.fitting(name, most, SHARE * curve.length)
        middle = curve.length / 2.0
        half = LETTER * len(name) * size * self.pixel / 2.0
        at, way = curve.point_at(middle), curve.tangent_at(middle)
        # The name moves out where the curve bends over it.
        bend = max((curve.point_at(middle + s) - at).dot(way.left()) for s in (-half, 0.0, half))
        seat = at + way.left() * (bend + STAND_OFF * size * self.pixel)
        angle = -math.degrees(math.remainder(way.angle, math.pi))
        turn = f' transform="rotate({number(angle)} {pair(*seat)})"'
        return self.word(name, seat, size, turn)

    def word(self, text: str, at: Point, size: float, more: str = "") -> str:
        """A text with its middle at a place, unless `more` attributes say otherwise."""
        anchor = "" if "text-anchor" in more else ' text-anchor="middle"'
        return (
            f'<text x="{number(at.x)}" y="{number(-at.y)}" dy="0.35em" fill="{INK}" '
            f'font-size="{number(size * self.pixel)}"{anchor}{more}>{escaped(text)}</text>'
        )


def stroke(role: str, path: str, says: str) -> str:
    """A path in the look of its role.  It says `says` when it is pointed at."""
    colour, width, dashes = LOOKS[role]
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return (
        f'<path data-role="{role}" d="{path}" stroke="{colour}" stroke-width="{width:g}"{dashed} '
        f'vector-effect="non-scaling-stroke"><title>{escaped(says)}</title></path>'
    )


def path(curve: Curve) -> str:
    """A curve by its own control points."""
    pieces = [f"C{pair(*b)} {pair(*c)} {pair(*d)}" for _, b, c, d in curve.control.tolist()]
    return " ".join([f"M{pair(*curve.start)}", *pieces])


def lines(*ends: tuple[Point, Point]) -> str:
    """Straight lines, each from one end to the other."""
    return " ".join(f"M{pair(*a)} L{pair(*b)}" for a, b in ends)


def pair(x: float, y: float) -> str:
    """A place on the picture.  There y runs down."""
    return f"{number(x)} {number(-y)}"


def number(value: float) -> str:
    """A number rounded to 0.0001, without zeros at its end."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def escaped(text: str) -> str:
    """Text escaped for XML.  A sign that XML cannot hold becomes a replacement character."""
    return html.escape(_NOT_IN_XML.sub("\ufffd", text))
