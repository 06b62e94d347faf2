"""DXF to shapes: lines, curves, points and texts in their blocks; what is none of them counted."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from itertools import pairwise
from typing import NamedTuple

from blockwright.body.lengths import quoted
from blockwright.curves._numpy import np
from blockwright.curves.chain import join
from blockwright.curves.curve import Curve
from blockwright.curves.make import arc, arc_between, line
from blockwright.curves.point import Point, distance
from blockwright.errors import GeometryError, InputError
from blockwright.formats.reading.pairs import Entity, check_text, decoded, entities

# Vertices, and lines, points and texts of a file; the limits in `pairs` say why.
MOST_VERTICES, MOST_ENTITIES = 100_000, 60_000
# Stretches that are curves, not lines; a block has some hundreds.
MOST_ARCS = 5_000
# The tangent of a quarter of an arc's angle; more is within a thousandth of a full turn.
MOST_BULGE = 1000.0


class Run(NamedTuple):
    """Straight stretches through points (m, 2); a closed one does not come back to its first."""

    points: np.ndarray
    closed: bool = False


class Bent(NamedTuple):
    """A curve of the file's own: a spline, an arc, a line with arcs in it."""

    curve: Curve


class Dot(NamedTuple):
    """A point; `height` and `thickness` in the file's unit, `angle` in degrees if it has one."""

    at: Point
    height: float
    thickness: float
    angle: float | None


class Words(NamedTuple):
    """A line of text."""

    at: Point
    text: str


class Put(NamedTuple):
    """A block put somewhere; `plain` if as it is, neither turned nor scaled."""

    block: str
    plain: bool


Form = Run | Bent | Dot | Words | Put


class Shape(NamedTuple):
    """A form, the kind of entity it was, its layer and the line of the file it began on."""

    kind: str
    layer: str
    line: int
    form: Form


@dataclass(frozen=True, slots=True)
class Block:
    """A named group of shapes."""

    name: str
    line: int
    shapes: list[Shape] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Drawing:
    """What a file has: its version and units, blocks, what lies outside them, what was left out.

    `left_out` counts by kind of entity, layer and reason.
    """

    version: str
    unit_code: int
    blocks: tuple[Block, ...]
    space: Block
    left_out: Counter[tuple[str, str, str]]


class _Odd(Exception):  # noqa: N818  (no error: an entity that is left out, and why)
    """An entity that is sound but not understood."""


def read_tags(data: bytes, where: str) -> Drawing:
    """The drawing in a DXF file; `where` names it in messages.

    Raises InputError, in one line, for what is no DXF text, is too large, is cut short or broken.
    """
    check_text(data, where)
    # A quick look, before any vertex is kept.
    count = data.count(b"VERTEX")
    if count > MOST_VERTICES:
        raise _too_many(where, count)
    return _Reader(where).read(data)


def _too_many(where: str, count: int) -> InputError:
    return InputError(
        f"{where}: has {count} vertices or more; {MOST_VERTICES} are read: "
        "export fewer sizes or pieces at a time, or coarser curves"
    )


# -- sections --------------------------------------------------------------------------------


class _Reader:
    """Goes through a file once."""

    def __init__(self, where: str) -> None:
        self.where = where
        self.version = ""
        self.unit_code = 0
        self.blocks: list[Block] = []
        self.space = Block("", 1)
        self.left_out: Counter[tuple[str, str, str]] = Counter()
        self.vertices = self.arcs = self.entities = 0
        self._section = ""
        self._block: Block | None = None
        self._line: Entity | None = None
        self._vertices: list[tuple[float, float, float]] = []

    def read(self, data: bytes) -> Drawing:
        """The drawing."""
        for entity in entities(data, self.where):
            if self._line is not None:
                self._in_polyline(entity)
            elif entity.kind in ("SECTION", "ENDSEC", "EOF"):
                self._turn_to(entity)
            elif not self._section:
                raise entity.wrong(f"{quoted(entity.kind)} stands outside every section")
            elif self._section == "BLOCKS":
                self._in_blocks(entity)
            elif self._section == "ENTITIES":
                self._add(entity)
        blocks = tuple(self.blocks)
        return Drawing(self.version, self.unit_code, blocks, self.space, self.left_out)

    def _turn_to(self, entity: Entity) -> None:
        if self._block is not None:
            name = quoted(self._block.name)
            raise entity.wrong(f"block {name} of line {self._block.line} has no ENDBLK before this")
        if entity.kind == "SECTION":
            if self._section:
                raise entity.wrong(f"section {quoted(self._section)} has no ENDSEC before this")
            self._section = entity.text(2).upper() or "without a name"
            if self._section == "HEADER":
                self._header(entity)
        elif entity.kind == "ENDSEC":
            if not self._section:
                raise entity.wrong("ENDSEC closes no section")
            self._section = ""
        elif self._section:
            raise entity.wrong(f"section {quoted(self._section)} has no ENDSEC before EOF")

    def _header(self, entity: Entity) -> None:
        name = b""
        for pair in entity.pairs:
            if pair.code == 9:
                name = pair.value.strip()
            elif name == b"$ACADVER":
                self.version = decoded(pair.value)
            elif name == b"$INSUNITS":
                one = Entity("$INSUNITS", pair.line, self.where, [pair])
                self.unit_code = one.whole(pair.code)

    def _in_blocks(self, entity: Entity) -> None:
        if entity.kind == "BLOCK":
            if self._block is not None:
                raise entity.wrong(
                    f"a block begins inside block {quoted(self._block.name)} of line "
                    f"{self._block.line}"
                )
            self._block = Block(entity.text(2), entity.line)
        elif entity.kind == "ENDBLK":
            if self._block is None:
                raise entity.wrong("ENDBLK closes no block")
            self.blocks.append(self._block)
            self._block = None
        elif self._block is None:
            raise entity.wrong(f"{quoted(entity.kind)} stands between blocks")
        else:
            self._add(entity)

    def _add(self, entity: Entity) -> None:
        """An entity to the block it is in, or to what is left out."""
        if entity.kind == "POLYLINE":
            self._line, self._vertices = entity, []
            return
        if entity.kind in ("VERTEX", "SEQEND"):
            if entity.kind == "VERTEX":
                raise entity.wrong("a VERTEX belongs to no POLYLINE")
            return  # it also ends the texts of an insert
        self._keep(entity, lambda: self._form(entity))

    def _keep(self, entity: Entity, form: Callable[[], Form]) -> None:
        self.entities += 1
        if self.entities > MOST_ENTITIES:
            raise InputError(
                f"{self.where}: has more than {MOST_ENTITIES} lines, points and texts; export "
                "fewer sizes or pieces at a time"
            )
        layer = entity.text(8)
        target = self.space if self._block is None else self._block
        try:
            if entity.whole(67):
                raise _Odd("it is on paper, not in the drawing")
            target.shapes.append(Shape(entity.kind, layer, entity.line, form()))
        except _Odd as odd:
            self.left_out[entity.kind, layer, str(odd)] += 1
        except GeometryError as error:
            raise entity.wrong(f"a {entity.kind} cannot be: {error}") from None

    def _form(self, entity: Entity) -> Form:
        forms: dict[str, Callable[[Entity], Form]] = {
            "LINE": _line,
            "POINT": _point,
            "TEXT": _text,
            "INSERT": _insert,
            "LWPOLYLINE": self._light,
            "SPLINE": self._spline,
            "ARC": self._arc,
            "CIRCLE": self._circle,
        }
        if entity.kind not in forms:
            raise _Odd("")
        if entity.kind not in ("LINE", "POINT", "SPLINE"):
            _check_seen_from_above(entity)
        return forms[entity.kind](entity)

    def _count(self, vertices: int, arcs: int = 0) -> None:
        self.vertices += vertices
        self.arcs += arcs
        if self.vertices > MOST_VERTICES:
            raise _too_many(self.where, self.vertices)
        if self.arcs > MOST_ARCS:
            raise InputError(
                f"{self.where}: has more than {MOST_ARCS} arcs and pieces of splines; "
                "export fewer pieces at a time"
            )

    # -- polylines -------------------------------------------------------------------------------

    def _in_polyline(self, entity: Entity) -> None:
        head = self._line
        assert head is not None
        if entity.kind == "VERTEX":
            self._count(1)
            has = {pair.code: pair for pair in reversed(entity.pairs)}
            flags = entity.whole(70) if 70 in has else 0
            if not flags & 16:  # else the frame of a spline, not a place on it
                if 10 not in has or 20 not in has:
                    raise entity.wrong("a VERTEX has no place (groups 10 and 20)")
                x, y = entity.value(has[10]), entity.value(has[20])
                self._vertices.append((x, y, entity.value(has[42]) if 42 in has else 0.0))
            return
        if entity.kind != "SEQEND":
            raise entity.wrong(f"the POLYLINE of line {head.line} has no SEQEND before this")
        self._line = None
        flags = head.whole(70)
        self._keep(head, lambda: self._polyline(head, flags, self._vertices))

    def _light(self, entity: Entity) -> Form:
        places = entity.places()
        self._count(len(places))
        if entity.has(90) and entity.whole(90) != len(places):
            raise entity.wrong(
                f"an LWPOLYLINE says that it has {entity.whole(90)} vertices and has {len(places)}"
            )
        # A bulge follows the vertex it belongs to.
        bulges: list[float] = []
        for pair in entity.pairs:
            if pair.code == 10:
                bulges.append(0.0)
            elif pair.code == 42 and bulges:
                bulges[-1] = entity.value(pair)
        vertices = [(p.x, p.y, bulge) for p, bulge in zip(places, bulges, strict=True)]
        return self._polyline(entity, entity.whole(70), vertices)

    def _polyline(
        self, entity: Entity, flags: int, vertices: list[tuple[float, float, float]]
    ) -> Form:
        if flags & (16 | 64):
            raise _Odd("it is a mesh")
        if entity.kind == "POLYLINE":
            _check_seen_from_above(entity)
        closed = bool(flags & 1)
        if any(bulge for _, _, bulge in vertices):
            return self._with_arcs(entity, vertices, closed)
        points = np.array([vertex[:2] for vertex in vertices]).reshape(-1, 2)
        if len(points):
            fresh = (np.diff(points, axis=0) != 0.0).any(axis=1)
            points = points[np.concatenate([[True], fresh])]
        if len(points) > 3 and (points[0] == points[-1]).all():
            points, closed = points[:-1], True
        if len(points) < 2:
            raise _Odd("it has no length")
        return Run(points, closed and len(points) > 2)

    def _with_arcs(
        self, entity: Entity, vertices: list[tuple[float, float, float]], closed: bool
    ) -> Form:
        self._count(0, len(vertices))
        if closed:
            vertices = [*vertices, (*vertices[0][:2], 0.0)]
        curves = []
        for (x, y, bulge), (u, v, _) in pairwise(vertices):
            a, b = Point(x, y), Point(u, v)
            if abs(bulge) > MOST_BULGE:
                raise entity.wrong(f"an arc of a {entity.kind} has a bulge of {bulge:g}")
            if a != b:
                curves.append(arc_between(a, b, 4.0 * math.atan(bulge)) if bulge else line(a, b))
        if not curves:
            raise _Odd("it has no length")
        return Bent(join(curves))

    # -- curves ----------------------------------------------------------------------------------

    def _arc(self, entity: Entity) -> Form:
        start, end = math.radians(entity.number(50)), math.radians(entity.number(51))
        sweep = math.fmod(end - start, math.tau)
        sweep += math.tau if sweep <= 0.0 else 0.0
        return self._round(entity, start, start + sweep)

    def _circle(self, entity: Entity) -> Form:
        return self._round(entity, 0.0, math.tau)

    def _round(self, entity: Entity, start: float, end: float) -> Form:
        self._count(0, 1)
        if not entity.number(40) > 0.0:
            raise entity.wrong(f"a {entity.kind} has a radius of {entity.number(40):g}")
        return Bent(arc(entity.place(), entity.number(40), start, end))

    def _spline(self, entity: Entity) -> Form:
        places, knots = entity.places(), entity.numbers(40)
        self._count(0, len(places))
        for code, counted, what in ((73, len(places), "control points"), (72, len(knots), "knots")):
            if entity.has(code) and entity.whole(code) != counted:
                raise entity.wrong(
                    f"a SPLINE says that it has {entity.whole(code)} {what} and has {counted}"
                )
        if entity.whole(71) != 3 or len(set(entity.numbers(41))) > 1:
            raise _Odd("it is no plain cubic")
        if len(places) < 4:
            raise _Odd("it has fit points only" if entity.has(11) else "it has too few points")
        if len(knots) != len(places) + 4:
            raise entity.wrong(f"a SPLINE of {len(places)} control points has {len(knots)} knots")
        if sorted(knots) != knots:
            raise entity.wrong("the knots of a SPLINE run backwards")
        return Bent(Curve(_pieces(knots, [(p.x, p.y) for p in places])))


def _pieces(knots: list[float], points: list[tuple[float, float]]) -> list[object]:
    """The Bézier pieces of a cubic B-spline, by its blossom: exact where it is a chain of them."""

    def blossom(span: int, *at: float) -> tuple[float, float]:
        row = points[span - 3 : span + 1]
        for level, u in enumerate(at, start=1):
            following = []
            for i in range(len(row) - 1):
                low = knots[span - 3 + i + level]
                share = (u - low) / (knots[span + 1 + i] - low)
                (x, y), (v, w) = row[i], row[i + 1]
                following.append(((1.0 - share) * x + share * v, (1.0 - share) * y + share * w))
            row = following
        return row[0]

    pieces: list[object] = []
    for span in range(3, len(points)):
        a, b = knots[span], knots[span + 1]
        if a < b:
            triples = ((a, a, a), (a, a, b), (a, b, b), (b, b, b))
            pieces.append([blossom(span, *triple) for triple in triples])
    return [piece for piece in pieces if piece != [piece[0]] * 4]  # type: ignore[index]


def _line(entity: Entity) -> Form:
    a, b = entity.place(), entity.place(11)
    if distance(a, b) == 0.0:
        raise _Odd("it has no length")
    return Run(np.array([[*a], [*b]]))


def _point(entity: Entity) -> Form:
    angle = entity.number(50) if entity.has(50) else None
    return Dot(entity.place(), entity.number(30), entity.number(39), angle)


def _text(entity: Entity) -> Form:
    return Words(entity.place(), entity.text(1))


def _insert(entity: Entity) -> Form:
    scaled = any(entity.number(code, 1.0) != 1.0 for code in (41, 42))
    return Put(entity.text(2), not scaled and entity.number(50) == 0.0)


def _check_seen_from_above(entity: Entity) -> None:
    if entity.number(230, 1.0) <= 0.0 or entity.number(210) or entity.number(220):
        raise _Odd("it is drawn from below or aslant (extrusion)")
