"""DXF to shapes: lines, curves, points and texts in their blocks; what is none of them counted."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from itertools import pairwise
from typing import TYPE_CHECKING, NamedTuple

from blockwright.curves._numpy import np
from blockwright.curves.affine import STAYS, Affine
from blockwright.curves.chain import join
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point
from blockwright.curves.primitives import arc, arc_between, line
from blockwright.errors import GeometryError, InputError
from blockwright.formats.dxf_reading.tags import LONGEST_QUOTE, check_text, entities, text_of

if TYPE_CHECKING:
    from ezdxf.lldxf.tags import Tags

# Vertices, and lines, points and texts of a file; the limits in `tags` say why.
MOST_VERTICES, MOST_ENTITIES = 100_000, 60_000
# Stretches that are curves, not lines; a block has some hundreds.
MOST_ARCS = 5_000
# Coordinates in whatever unit the file has; checked again in mm.
FARTHEST = 100_000.0
# The tangent of a quarter of an arc's angle; more is within a thousandth of a full turn.
MOST_BULGE = 1000.0
# A direction this near to the z axis is along it.
UPRIGHT = 1e-9
ORIGIN = Point(0.0, 0.0)


class Run(NamedTuple):
    """Straight stretches through points (m, 2); a closed one does not come back to its first."""

    points: np.ndarray
    closed: bool = False


class Bent(NamedTuple):
    """A curve of the file's own: a spline, an arc, an ellipse, a line with arcs in it."""

    curve: Curve


class Dot(NamedTuple):
    """A point; `height` and `thickness` in the file's unit, `angle` in degrees if it has one."""

    at: Point
    height: float
    thickness: float
    angle: float | None


class Text(NamedTuple):
    """A line of text."""

    text: str


class Put(NamedTuple):
    """A reference to a block; `lay` takes places in the block to where the reference has them."""

    block: str
    lay: Affine


Form = Run | Bent | Dot | Text | Put


class Entity(NamedTuple):
    """A form that an entity draws, with its kind and its layer."""

    kind: str
    layer: str
    form: Form

    def moved(self, lay: Affine) -> Entity:
        """The same laid elsewhere: turned, mirrored or scaled; heights of points by the mean."""
        form = self.form
        if isinstance(form, Run):
            form = Run(lay.apply(form.points), form.closed)
        elif isinstance(form, Bent):
            form = Bent(form.curve.moved(lay))
        elif isinstance(form, Put):
            form = Put(form.block, form.lay.then(lay))
        elif isinstance(form, Dot):
            size, angle = math.sqrt(abs(flip(lay))), form.angle
            if angle is not None:
                way = lay.way(Point(1.0, 0.0).turned(math.radians(angle)))
                angle = math.degrees(way.angle)
            form = Dot(lay(form.at), form.height * size, form.thickness * size, angle)
        return self._replace(form=form)


def flip(lay: Affine) -> float:
    """By how much a map enlarges areas; less than 0 if it mirrors."""
    return lay.a * lay.d - lay.b * lay.c


@dataclass(frozen=True, slots=True)
class Group:
    """A named group of shapes; `base` is the place of it that a reference puts down."""

    name: str
    base: Point = ORIGIN
    shapes: list[Entity] = field(default_factory=list)


@dataclass(slots=True)
class Drawing:
    """What a file has: its version and units, blocks, what lies outside them, what was left out.

    `left_out` counts by kind of entity, layer and reason.
    """

    where: str
    version: str = ""
    unit_code: int = 0
    blocks: list[Group] = field(default_factory=list)
    space: Group = field(default_factory=lambda: Group(""))
    left_out: Counter[tuple[str, str, str]] = field(default_factory=Counter)
    entities: int = 0
    vertices: int = 0
    arcs: int = 0

    def count(self, *, entities: int = 0, vertices: int = 0, arcs: int = 0) -> None:
        """Count what is kept; InputError if it is too much."""
        self.entities += entities
        self.vertices += vertices
        self.arcs += arcs
        if self.entities > MOST_ENTITIES:
            raise InputError.coded("dxf.entities", where=self.where, most=MOST_ENTITIES)
        if self.vertices > MOST_VERTICES:
            raise InputError.coded(
                "dxf.vertices", where=self.where, count=self.vertices, most=MOST_VERTICES
            )
        if self.arcs > MOST_ARCS:
            raise InputError.coded("dxf.arcs", where=self.where, most=MOST_ARCS)


class _Odd(Exception):  # noqa: N818  (no error: an entity that is left out, and why)
    """An entity that is sound but not understood."""


def read_shapes(data: bytes, where: str) -> Drawing:
    """The drawing in a DXF file; `where` names it in messages.

    Raises InputError, in one line, for what is no DXF text, is too large, is cut short or broken.
    """
    check_text(data, where)
    # A quick look, before any vertex is kept.
    Drawing(where).count(vertices=data.count(b"VERTEX"))
    return _Reader(where).read(data)


# -- sections --------------------------------------------------------------------------------


class _Reader:
    """Goes through a file once."""

    def __init__(self, where: str) -> None:
        self.where = where
        self.drawing = Drawing(where)
        self._section = ""
        self._block: Group | None = None
        self._line: Tags | None = None
        self._vertices: list[tuple[float, float, float]] = []

    def read(self, data: bytes) -> Drawing:
        """The drawing."""
        for tags in entities(data, self.where):
            kind = _kind(tags)
            if self._line is not None:
                self._in_polyline(self._line, tags)
            elif kind in ("SECTION", "ENDSEC", "EOF"):
                self._turn_to(tags)
            elif not self._section:
                raise self._wrong(tags, "outside")
            elif self._section == "BLOCKS":
                self._in_blocks(tags)
            elif self._section == "ENTITIES":
                self._add(tags)
        return self.drawing

    def _wrong(self, tags: Tags, fault: str, **values: object) -> InputError:
        """A fault of an entity, which is named by its handle, if it has one, and its layer."""
        handle = text_of(tags, 5)
        what = _kind(tags) + (f" #{handle}" if handle else "")
        entity = f"{what!r} on layer {text_of(tags, 8)!r}"[: 3 * LONGEST_QUOTE]
        return InputError.coded(f"dxf.{fault}", where=self.where, entity=entity, **values)

    def _turn_to(self, tags: Tags) -> None:
        kind = _kind(tags)
        if self._block is not None:
            raise InputError.coded("dxf.no-endblk", where=self.where, name=self._block.name)
        if kind != "ENDSEC" and self._section:
            raise InputError.coded(
                "dxf.no-endsec", where=self.where, section=self._section, before=kind
            )
        if kind == "ENDSEC" and not self._section:
            raise InputError.coded("dxf.endsec", where=self.where)
        self._section = text_of(tags, 2).upper() or "without a name" if kind == "SECTION" else ""
        if self._section == "HEADER":
            self._header(tags)

    def _header(self, tags: Tags) -> None:
        name = ""
        for tag in tags:
            if tag.code == 9:
                name = tag.value.strip()
            elif name == "$ACADVER":
                self.drawing.version = str(tag.value).strip()
            elif name == "$INSUNITS" and isinstance(tag.value, int):
                self.drawing.unit_code = tag.value

    def _in_blocks(self, tags: Tags) -> None:
        kind, block = _kind(tags), self._block
        if kind == "BLOCK":
            if block is not None:
                raise InputError.coded("dxf.block-in-block", where=self.where, name=block.name)
            self._block = Group(text_of(tags, 2), self._place(tags, default=(0.0, 0.0)))
        elif block is None:
            fault = "endblk" if kind == "ENDBLK" else "between-blocks"
            raise self._wrong(tags, fault)
        elif kind == "ENDBLK":
            self.drawing.blocks.append(block)
            self._block = None
        else:
            self._add(tags)

    def _add(self, tags: Tags) -> None:
        """An entity to the block it is in, or to what is left out."""
        kind = _kind(tags)
        if kind == "POLYLINE":
            self._line, self._vertices = tags, []
        elif kind == "VERTEX":
            raise self._wrong(tags, "stray-vertex")
        elif kind != "SEQEND":  # which also ends the texts of a reference
            self._keep(tags, lambda: self._form(tags))

    def _keep(self, tags: Tags, form: Callable[[], Form]) -> None:
        self.drawing.count(entities=1)
        kind, layer = _kind(tags), text_of(tags, 8)
        target = self.drawing.space if self._block is None else self._block
        try:
            if self._number(tags, 67):
                raise _Odd("it is on paper, not in the drawing")
            target.shapes.append(Entity(kind, layer, form()))
        except _Odd as odd:
            self.drawing.left_out[kind, layer, str(odd)] += 1
        except GeometryError as error:
            raise self._wrong(tags, "impossible", why=error) from None

    def _form(self, tags: Tags) -> Form:
        forms: dict[str, Callable[[Tags], Form]] = {
            "LINE": self._straight,
            "POINT": self._point,
            "TEXT": lambda tags: Text(text_of(tags, 1)),
            "INSERT": self._reference,
            "LWPOLYLINE": self._light,
            "SPLINE": self._spline,
            "ARC": self._round,
            "CIRCLE": self._round,
            "ELLIPSE": self._ellipse,
        }
        if _kind(tags) not in forms:
            raise _Odd("")
        return forms[_kind(tags)](tags)

    # -- numbers and places ----------------------------------------------------------------------

    def _number(self, tags: Tags, code: int, default: float = 0.0) -> float:
        """The first number of that code."""
        return self._sound(tags, tags.get_first_value(code, default))

    def _numbers(self, tags: Tags, code: int) -> list[float]:
        """Every number of that code."""
        return [self._sound(tags, tag.value) for tag in tags if tag.code == code]

    def _sound(self, tags: Tags, number: float) -> float:
        if not abs(number) <= FARTHEST:
            raise self._wrong(tags, "no-length", number=number)
        return number

    def _place(self, tags: Tags, code: int = 10, default: object = None) -> Point:
        """The first place of that code, without its height."""
        value = tags.get_first_value(code, default)
        if value is None:
            raise self._wrong(tags, "no-place", x=code, y=code + 10)
        return Point(self._sound(tags, value[0]), self._sound(tags, value[1]))

    def _places(self, tags: Tags, code: int = 10) -> list[Point]:
        """Every place of that code."""
        values = (tag.value for tag in tags if tag.code == code)
        return [Point(self._sound(tags, x), self._sound(tags, y)) for x, y, *_ in values]

    # -- lines, points and references ------------------------------------------------------------

    def _straight(self, tags: Tags) -> Form:
        a, b = self._place(tags), self._place(tags, 11)
        if a == b:
            raise _Odd("it has no length")
        return Run(np.array([[*a], [*b]]))

    def _point(self, tags: Tags) -> Form:
        height = tags.get_first_value(10, (0.0, 0.0, 0.0))[2:]
        return Dot(
            self._place(tags),
            self._sound(tags, height[0]) if height else 0.0,
            self._number(tags, 39),
            self._number(tags, 50) if tags.has_tag(50) else None,
        )

    def _reference(self, tags: Tags) -> Form:
        if self._number(tags, 70, 1) > 1 or self._number(tags, 71, 1) > 1:
            raise _Odd("a block in rows and columns")
        lay = Affine(self._number(tags, 41, 1.0), 0.0, 0.0, self._number(tags, 42, 1.0))
        if not flip(lay):
            raise _Odd("a block scaled to nothing")
        lay = lay.then(Affine.turn(math.radians(self._number(tags, 50))))
        lay = lay.then(Affine.move(self._place(tags))).then(self._seen(tags))
        return Put(text_of(tags, 2), lay)

    def _seen(self, tags: Tags) -> Affine:
        """From an entity's own plane to the drawing: as it is, or mirrored if seen from below."""
        up = tags.get_first_value(210, None)
        if up is None:
            return STAYS
        from ezdxf.math import OCS, Vec3

        plane = OCS(Vec3([self._sound(tags, each) for each in up]))
        if not max(abs(plane.uz.x), abs(plane.uz.y)) <= UPRIGHT:
            raise _Odd("it is drawn aslant (extrusion)")
        return Affine(plane.ux.x, plane.uy.x, plane.ux.y, plane.uy.y)

    # -- polylines -------------------------------------------------------------------------------

    def _in_polyline(self, head: Tags, tags: Tags) -> None:
        if _kind(tags) == "VERTEX":
            self.drawing.count(vertices=1)
            if not tags.get_first_value(70, 0) & 16:  # else a spline's frame, not a place on it
                self._vertices.append((*self._place(tags), self._number(tags, 42)))
            return
        if _kind(tags) != "SEQEND":
            raise self._wrong(head, "no-seqend", before=_kind(tags)[:LONGEST_QUOTE])
        self._line = None
        self._keep(head, lambda: self._polyline(head, self._vertices))

    def _light(self, tags: Tags) -> Form:
        places = self._places(tags)
        self.drawing.count(vertices=len(places))
        said = tags.get_first_value(90, len(places))
        if said != len(places):
            raise self._wrong(tags, "vertex-count", said=said, count=len(places))
        # A bulge follows the vertex that it belongs to.
        bulges: list[float] = []
        for tag in tags:
            if tag.code == 10:
                bulges.append(0.0)
            elif tag.code == 42 and bulges:
                bulges[-1] = self._sound(tags, tag.value)
        return self._polyline(tags, [(*p, bulge) for p, bulge in zip(places, bulges, strict=True)])

    def _polyline(self, tags: Tags, vertices: list[tuple[float, float, float]]) -> Form:
        flags = tags.get_first_value(70, 0)
        if flags & (16 | 64):
            raise _Odd("it is a mesh")
        seen, closed = self._seen(tags), bool(flags & 1)
        if any(bulge for _, _, bulge in vertices):
            return Bent(self._with_arcs(tags, vertices, closed).moved(seen))
        points = np.array([vertex[:2] for vertex in vertices]).reshape(-1, 2)
        if len(points):
            fresh = (np.diff(points, axis=0) != 0.0).any(axis=1)
            points = points[np.concatenate([[True], fresh])]
        if len(points) > 3 and (points[0] == points[-1]).all():
            points, closed = points[:-1], True
        if len(points) < 2:
            raise _Odd("it has no length")
        return Run(seen.apply(points), closed and len(points) > 2)

    def _with_arcs(
        self, tags: Tags, vertices: list[tuple[float, float, float]], closed: bool
    ) -> Curve:
        self.drawing.count(arcs=len(vertices))
        if closed:
            vertices = [*vertices, (*vertices[0][:2], 0.0)]
        curves = []
        for (x, y, bulge), (u, v, _) in pairwise(vertices):
            a, b = Point(x, y), Point(u, v)
            if abs(bulge) > MOST_BULGE:
                raise self._wrong(tags, "bulge", bulge=bulge)
            if a != b:
                curves.append(arc_between(a, b, 4.0 * math.atan(bulge)) if bulge else line(a, b))
        if not curves:
            raise _Odd("it has no length")
        return join(curves)

    # -- curves ----------------------------------------------------------------------------------

    def _round(self, tags: Tags) -> Form:
        """A circle, or an arc counter-clockwise between two angles in degrees."""
        self.drawing.count(arcs=1)
        radius = self._number(tags, 40)
        if not radius > 0.0:
            raise self._wrong(tags, "radius", radius=radius)
        angles = (50, 51) if _kind(tags) == "ARC" else ()
        start, end = (math.radians(self._number(tags, code)) for code in angles or (50, 50))
        curve = arc(self._place(tags), radius, start, start + _sweep(start, end))
        return Bent(curve.moved(self._seen(tags)))

    def _ellipse(self, tags: Tags) -> Form:
        """An arc of the unit circle between two parameters, laid on the two half axes."""
        self.drawing.count(arcs=1)
        centre, half = self._place(tags), self._place(tags, 11)
        share = self._number(tags, 40, 1.0) * math.copysign(1.0, flip(self._seen(tags)))
        start, end = self._number(tags, 41), self._number(tags, 42, math.tau)
        if not abs(share) > 0.0 or half == ORIGIN:
            raise _Odd("it is flat")
        circle = arc(ORIGIN, 1.0, start, start + _sweep(start, end))
        other = half.left() * share
        return Bent(circle.moved(Affine(half.x, other.x, half.y, other.y, *centre)))

    def _spline(self, tags: Tags) -> Form:
        places, knots = self._places(tags), self._numbers(tags, 40)
        degree = tags.get_first_value(71, 3)
        self.drawing.count(arcs=max(len(places), len(tags.find_all(11))))
        for code, count, what in ((73, len(places), "control points"), (72, len(knots), "knots")):
            said = tags.get_first_value(code, count)
            if said != count:
                raise self._wrong(tags, "spline-count", said=said, count=count, what=what)
        if not places and tags.has_tag(11):
            return Bent(self._through(tags))
        if not 1 <= degree <= 3 or len(set(self._numbers(tags, 41))) > 1:
            raise _Odd("a spline with weights, or of a degree above three")
        if len(places) <= degree:
            raise _Odd("it has too few points")
        if len(knots) != len(places) + degree + 1:
            raise self._wrong(tags, "knots", points=len(places), knots=len(knots))
        if sorted(knots) != knots:
            raise self._wrong(tags, "knots-back")
        return Bent(Curve(_pieces(degree, knots, [(p.x, p.y) for p in places])))

    def _through(self, tags: Tags) -> Curve:
        """The cubic through fit points, with the tangents at its ends if the file has them."""
        from ezdxf.math import Vec3, fit_points_to_cad_cv

        fit = self._places(tags, 11)
        ends = [self._place(tags, code) for code in (12, 13) if tags.has_tag(code)]
        tangents = [Vec3(*end) for end in ends] if len(ends) == 2 else None
        try:
            found = fit_points_to_cad_cv([Vec3(*point) for point in fit], tangents)
            rows = [(p.x, p.y) for p in found.control_points]
            return Curve(_pieces(found.degree, list(found.knots()), rows))
        except (ValueError, ArithmeticError, IndexError):
            raise _Odd("no spline passes through its fit points") from None


def _kind(tags: Tags) -> str:
    return str(tags.dxftype()).upper()


def _sweep(start: float, end: float) -> float:
    """How far it is counter-clockwise from one angle to another: a full turn where they are one."""
    sweep = math.fmod(end - start, math.tau)
    return sweep + math.tau if sweep <= 0.0 else sweep


def _pieces(degree: int, knots: list[float], points: list[tuple[float, float]]) -> list[object]:
    """The cubic Bézier pieces of a B-spline of degree 1 to 3, by its blossom: exactly itself."""

    def blossom(span: int, *at: float) -> tuple[float, float]:
        row = points[span - degree : span + 1]
        for level, u in enumerate(at, start=1):
            following = []
            for i in range(len(row) - 1):
                low = knots[span - degree + i + level]
                share = (u - low) / (knots[span + 1 + i] - low)
                (x, y), (v, w) = row[i], row[i + 1]
                following.append(((1.0 - share) * x + share * v, (1.0 - share) * y + share * w))
            row = following
        return row[0]

    raised = {1: [[1, 0], [2 / 3, 1 / 3], [1 / 3, 2 / 3], [0, 1]],
              2: [[1, 0, 0], [1 / 3, 2 / 3, 0], [0, 2 / 3, 1 / 3], [0, 0, 1]]}  # fmt: skip
    pieces: list[object] = []
    for span in range(degree, len(points)):
        a, b = knots[span], knots[span + 1]
        if a < b:
            row = [blossom(span, *[a] * (degree - i), *[b] * i) for i in range(degree + 1)]
            if len(set(row)) > 1:
                pieces.append(np.array(raised[degree]) @ row if degree < 3 else row)
    return pieces
