"""A piece made of the shapes of a block: its outline, what lies on it and in it; mm, y up."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field, replace
from itertools import pairwise
from typing import Literal

from blockwright.body.lengths import quoted
from blockwright.curves._numpy import np
from blockwright.curves.affine import Affine
from blockwright.curves.chain import corners, join
from blockwright.curves.curve import Curve
from blockwright.curves.nearest import nearest
from blockwright.curves.point import Point, distance
from blockwright.errors import InputError
from blockwright.formats import dxf_layers as exchange
from blockwright.formats.dxf_reading import smooth
from blockwright.formats.dxf_reading.outline import (
    AT,
    MEETS,
    SAME_PLACE,
    Polygon,
    Strand,
    area_of,
    around,
    bounds,
    lies_along,
    made_closed,
    middle_of,
    rings_of,
    spaced,
)
from blockwright.formats.dxf_reading.shapes import FARTHEST, Bent, Dot, Entity, Run
from blockwright.formats.dxf_reading.tags import LONGEST_QUOTE
from blockwright.pattern.finishing.cut_marks import CutNotch, Drill, NotchKind
from blockwright.pattern.finishing.finish import FinishedPiece
from blockwright.pattern.piece import Edge, Guide, Notch, Piece

# A tick that begins further than this from the outline, mm, begins elsewhere.
TICK = 1.5
# Lines at the ends of the grain no longer than this, mm, are its arrowheads.
ARROW = 12.0
# An outline that encloses less, mm^2, is none.
LEAST_AREA = 1.0
# More of one kind would take long to lay on their lines, and no style has so many.
MOST_EDGES, MOST_MARKS = 5_000, 1_000
MOST_WORK = 5_000_000
MOST_CUT = 1_000
# Lines of the file that are laid end to end, or looked at as notches and grain.
MOST_STRANDS = 20_000
# A piece is folded in one line, or in two that cross.
MOST_MIRRORS = 2
# A drill hole that has no size of its own, and a notch without a depth, mm.
DRILL, DEPTH = 3.0, 5.0
# A notch this near to an end of an edge, mm, marks that place; finishing keeps others as far away.
CORNER = 3.0
_TEXT = re.compile(r"\s*([A-Za-z][A-Za-z _-]*?)\s*:\s*(.*?)\s*")

# How many are cut, as Blockwright's labels have it, and that half of them are the other way up.
_CUT = re.compile(r"cut (\d{1,4})( on the fold|, a mirrored pair)?")
PAIR = "a mirrored pair"

Kind = Literal["exchange", "drawing"]
Role = Literal[
    "boundary", "turn", "curve", "notch", "mirror", "grain", "inner", "cutout", "drill", "sew",
    "words", "mark", "bar", "leader",
]  # fmt: skip


class Unlike(Exception):  # noqa: N818  (no error: a block that is no piece, and why)
    """A block that cannot be understood as a piece."""


@dataclass(slots=True)
class SourceFile:
    """The file that pieces are read from: its name, kind, mm of its unit and the roles of layers.

    What is not understood stands in `notes`, a sentence each, and in `entities`, which are counted.
    `edges` so many were made of the file, of `lines`.
    """

    where: str
    kind: Kind
    millimetres: float
    roles: Mapping[str, Role]
    notes: Counter[str] = field(default_factory=Counter)
    entities: Counter[str] = field(default_factory=Counter)
    edges: int = 0
    lines: int = 0

    def leave_out(self, kind: str, layer: str, why: str = "", count: int = 1) -> None:
        """Count an entity that is not understood, with the reason if there is one to give."""
        plain = kind if re.fullmatch("[A-Z0-9_]{1,30}", kind) else f"Entity {quoted(kind)}"
        reason = f" ({why})" if why else ""
        self.entities[f"{plain} on layer {quoted(layer)}{reason}"] += count

    def count_lines(self, count: int) -> None:
        """Refuse more lines than can be laid end to end soon."""
        self.lines += count
        if self.lines > MOST_STRANDS:
            raise InputError.coded("dxf.strands", where=self.where, most=MOST_STRANDS)

    def check_work(self, name: str, marks: int, vertices: int) -> None:
        """Refuse what would take too long to lay on its lines."""
        if marks * vertices > MOST_WORK:
            raise InputError.coded(
                "dxf.marks", where=self.where, piece=name, marks=marks, stretches=vertices
            )

    def count_edges(self, count: int) -> None:
        """Refuse more edges than a style has."""
        self.edges += count
        if self.edges > MOST_EDGES:
            raise InputError.coded("dxf.corners", where=self.where, most=MOST_EDGES)


def said(text: str) -> tuple[str, str]:
    """Key, in capitals, and value of a text for programs; empty when it is none."""
    found = _TEXT.fullmatch(text[:300])
    return (found[1].upper(), found[2]) if found else ("", "")


def layer_number(name: str) -> str:
    """The number of a layer as it is in the table, whatever noughts stand before it."""
    plain = name.strip().upper()
    return plain.lstrip("0") or plain if plain.isascii() and plain.isdigit() else plain


# -- a piece ---------------------------------------------------------------------------------


class Maker:
    """A piece in the making."""

    def __init__(
        self, source: SourceFile, name: str, found: Mapping[Role, Sequence[Entity]]
    ) -> None:
        self.source = source
        self.name = name
        self.found = found
        self.turns = [Point(*at) for at in self._dots("turn")]
        self.unused = set(range(len(self.turns)))

    def note(self, what: str) -> None:
        """Something about this piece that is not understood."""
        self.source.notes[f"piece {quoted(self.name)}: {what}"] += 1

    def shapes(self, role: Role) -> Sequence[Entity]:
        """The shapes of a role."""
        return self.found.get(role, ())

    def finish(self, texts: Sequence[str]) -> FinishedPiece:
        """The piece, with the texts on it; Unlike if it is none."""
        cut = self._outline("boundary", f"{self.name} edge")
        if cut is None:
            raise Unlike("its boundary does not close")
        sewn = self._outline("sew", f"{self.name} edge") if self.shapes("sew") else None
        edges = cut if sewn is None else sewn
        if sewn is not None:
            cut = tuple(replace(e, name=f"{self.name} cut {i}") for i, e in enumerate(cut, start=1))
        cut, edges = self._folded(cut), self._folded(edges)
        guides = tuple(self._guides(sew_is_outline=sewn is not None))
        grain = self._grain(edges)
        piece = Piece(self.name, edges, grain, middle_of(edges, grain), guides=guides)
        mirrored = any(PAIR in text for text in texts)
        piece = replace(piece, cut=self._cut(texts), mirrored=mirrored)
        marks = list(self._notches(cut))
        drills = tuple(self._drills())
        piece = replace(piece, notches=tuple(self._sewn(edges, marks)))
        whole = FinishedPiece(piece, cut, tuple(marks), drills)
        if self.unused:
            self.note(f"{len(self.unused)} turn points lie on no vertex of a line")
        return whole

    def _dots(self, role: Role) -> Iterator[Point]:
        for shape in self.shapes(role):
            if isinstance(shape.form, Dot):
                yield self._at(shape.form.at, shape)
            else:
                self.source.leave_out(shape.kind, shape.layer, "no point")

    def _at(self, place: Point, shape: Entity) -> Point:
        if max(abs(place.x), abs(place.y)) * self.source.millimetres > FARTHEST:
            raise InputError.coded(
                "dxf.far",
                where=self.source.where,
                kind=shape.kind,
                layer=shape.layer[:LONGEST_QUOTE],
                most=FARTHEST / 1000.0,
            )
        return place * self.source.millimetres

    # -- lines -----------------------------------------------------------------------------------

    def _strands(self, shapes: Sequence[Entity]) -> list[tuple[Strand, bool]]:
        """Every line among shapes, and whether it is closed in itself."""
        self.source.count_lines(len(shapes))
        strands = []
        for shape in shapes:
            if not isinstance(shape.form, Run | Bent):
                self.source.leave_out(shape.kind, shape.layer, "no line")
                continue
            x0, y0, x1, y1 = around(shape.form)
            for corner in (Point(x0, y0), Point(x1, y1)):
                self._at(corner, shape)
            if isinstance(shape.form, Bent):
                if max(x1 - x0, y1 - y0) * self.source.millimetres <= SAME_PLACE:
                    self.source.leave_out(shape.kind, shape.layer, "it has no length")
                    continue
                curve = shape.form.curve.moved(Affine.scale(self.source.millimetres))
                closed = distance(curve.start, curve.end) <= MEETS
                strands.append((Strand(None, curve, curve.start, curve.end), closed))
                continue
            run = spaced(shape.form.points * self.source.millimetres)
            if len(run) < 2:
                self.source.leave_out(shape.kind, shape.layer, "it has no length")
                continue
            ends = Point(*run[0].tolist()), Point(*run[-1].tolist())
            closed = shape.form.closed and len(run) > 2
            if not closed and len(run) > 3 and distance(*ends) <= MEETS:
                run, closed = run[:-1], True
            strands.append((Strand(run, None, *ends), closed))
        return strands

    def _outline(self, role: Role, name: str) -> tuple[Edge, ...] | None:
        """The largest closed line of a role as edges, counter-clockwise; the others are noted."""
        if len(self.shapes(role)) > MOST_EDGES:
            self.source.count_edges(len(self.shapes(role)))
        strands = self._strands(self.shapes(role))
        rings = [[strand] for strand, closed in strands if closed]
        open_ones = [strand for strand, closed in strands if not closed]
        rings += rings_of(open_ones)
        outlines = [self._edges(ring) for ring in rings]
        sized = [(area_of(curves), curves) for curves in outlines]
        area, best = max(sized, key=lambda each: abs(each[0]), default=(0.0, []))
        left = len(strands) - sum(map(len, rings))
        if abs(area) < LEAST_AREA:
            if role == "sew":
                self.note("its sew lines do not close; taken as lines inside it")
            return None
        if len(rings) > 1:
            self.note(f"{len(rings) - 1} more closed lines beside its {role} line")
        if left:
            self.note(f"{left} open lines beside its {role} line")
        if area < 0.0:
            best = [curve.reversed() for curve in reversed(best)]
            best = [best[-1], *best[:-1]]
        ring = made_closed(best)
        self.source.count_edges(len(ring))
        return tuple(Edge(f"{name} {i}", curve) for i, curve in enumerate(ring, start=1))

    def _edges(self, ring: Sequence[Strand]) -> list[Curve]:
        """A closed line parted at its turn points, or at its corners."""
        runs = [strand.run for strand in ring if strand.run is not None]
        if self.turns and len(runs) == len(ring):
            points = spaced(np.concatenate([*runs, runs[0][:1]]))
            return self._parted_ring(points[:-1] if len(points) > 3 else points)
        if len(ring) == 1 and ring[0].run is not None:
            return self._parted_ring(ring[0].run)
        if self.source.kind == "drawing" and len(ring) > 1:
            # Each line of a drawing is an edge; a spline may have a corner, as a dart's mouth has.
            curves = ([s.curve] if s.curve else self._parted(s) for s in ring)
            return [curve for each in curves for curve in each]
        return [curve for strand in ring for curve in self._parted(strand)]

    def _parted_ring(self, points: np.ndarray) -> list[Curve]:
        """Curves through the vertices (m, 2) of a closed line."""
        splits = self._turns_of(points)
        if not splits:
            splits = smooth.corners(points, closed=True).tolist()
        self.source.count_edges(0 if len(splits) <= MOST_EDGES else len(splits))
        first = splits[0] if splits else 0
        points = np.roll(points, -first, axis=0)
        points = np.concatenate([points, points[:1]])
        ends = [*(split - first for split in splits or [0]), len(points) - 1]
        return [smooth.curve_through(points[a : b + 1]) for a, b in pairwise(ends)]

    def _parted(self, strand: Strand) -> list[Curve]:
        """Curves of an open line."""
        if strand.curve is not None:
            places = corners(strand.curve, over=smooth.SMOOTH)
            ends = [0.0, *places, strand.curve.length]
            if len(ends) == 2:
                return [strand.curve]
            return [strand.curve.part(a, b) for a, b in pairwise(ends)]
        run = strand.run
        assert run is not None
        inner = self._turns_of(run) or smooth.corners(run, closed=False).tolist()
        ends = sorted({0, *inner, len(run) - 1})
        self.source.count_edges(0 if len(ends) <= MOST_EDGES else len(ends))
        return [smooth.curve_through(run[a : b + 1]) for a, b in pairwise(ends)]

    def _turns_of(self, points: np.ndarray) -> list[int]:
        """Numbers of the vertices that are turn points, in order."""
        if not self.turns:
            return []
        cells: dict[tuple[int, int], list[int]] = {}
        for i, (x, y) in enumerate(np.floor(points / AT).astype(int).tolist()):
            cells.setdefault((x, y), []).append(i)
        found = set()
        for number, turn in enumerate(self.turns):
            column, row = math.floor(turn.x / AT), math.floor(turn.y / AT)
            near = [
                (math.hypot(points[i, 0] - turn.x, points[i, 1] - turn.y), i)
                for across in (-1, 0, 1)
                for up in (-1, 0, 1)
                for i in cells.get((column + across, row + up), ())[:10]
            ]
            away, vertex = min(near, default=(math.inf, 0))
            if away <= AT:
                found.add(vertex)
                self.unused.discard(number)
        return sorted(found)

    # -- what lies on them -----------------------------------------------------------------------

    def _folded(self, edges: tuple[Edge, ...]) -> tuple[Edge, ...]:
        """The edges, those along the mirror line as a fold."""
        mirrors = self.shapes("mirror")
        if len(mirrors) > MOST_MIRRORS:
            self.note(f"{len(mirrors) - MOST_MIRRORS} more mirror lines")
        for strand, _ in self._strands(mirrors[:MOST_MIRRORS]):
            a, b = strand.start, strand.end
            if distance(a, b) <= MEETS:
                continue
            along = [lies_along(edge.curve, a, b) for edge in edges]
            if not any(along):
                self.note("its mirror line lies along no edge")
            edges = tuple(
                replace(edge, role="fold") if on else edge
                for edge, on in zip(edges, along, strict=True)
            )
        return edges

    def _guides(self, *, sew_is_outline: bool) -> Iterator[Guide]:
        roles: tuple[tuple[Role, str], ...] = (("inner", "line"), ("cutout", "cutout"))
        roles += () if sew_is_outline else (("sew", "sew line"),)
        for role, name in roles:
            self.source.count_edges(len(self.shapes(role)))
            strands = self._strands(self.shapes(role))
            for number, (strand, closed) in enumerate(strands, start=1):
                if strand.curve is not None:
                    curve = strand.curve
                else:
                    run = strand.run
                    assert run is not None
                    run = np.concatenate([run, run[:1]]) if closed else run
                    inner = self._turns_of(run)
                    ends = sorted({0, *inner, len(run) - 1})
                    parts = [smooth.curve_through(run[a : b + 1]) for a, b in pairwise(ends)]
                    curve = join(parts)
                yield Guide(f"{name} {number}", curve)
            if strands and role == "cutout":
                self.note(f"{len(strands)} cutouts, taken as lines inside it")

    def _grain(self, edges: Sequence[Edge]) -> tuple[Point, Point]:
        """The longest line of the grain; arrowheads at its ends are part of it."""
        lines = [(strand.start, strand.end) for strand, _ in self._strands(self.shapes("grain"))]
        longest = max(lines, key=lambda ends: distance(*ends), default=None)
        if longest is None or distance(*longest) <= MEETS:
            x0, y0, x1, y1 = bounds(edges)
            self.note("no grain line; taken along the file's " + self._along)
            middle = Point((x0 + x1) / 2.0, (y0 + y1) / 2.0)
            if self.source.kind == "exchange":
                return Point(x0 * 0.75 + x1 * 0.25, middle.y), Point(
                    x0 * 0.25 + x1 * 0.75, middle.y
                )
            return Point(middle.x, y0 * 0.75 + y1 * 0.25), Point(middle.x, y0 * 0.25 + y1 * 0.75)
        others = 0
        for ends in lines:
            touches = any(distance(end, tip) <= MEETS for end in ends for tip in longest)
            others += ends != longest and not (touches and distance(*ends) <= ARROW)
        if others:
            self.note(f"{others} more lines beside its grain line")
        return longest

    @property
    def _along(self) -> str:
        return "x" if self.source.kind == "exchange" else "y"

    def _cut(self, texts: Sequence[str]) -> int:
        """How many are cut: by QUANTITY, or by the label that Blockwright writes."""
        for text in texts:
            key, value = said(text)
            if own := _CUT.fullmatch(text):
                key, value = "QUANTITY", own[1]
            if key == "QUANTITY":
                if value.isascii() and value.isdigit() and 1 <= int(value[:9]) <= MOST_CUT:
                    return int(value)
                self.note(f"its quantity {quoted(value)}; taken as 1")
        return 1

    def _drills(self) -> Iterator[Drill]:
        for number, shape in enumerate(self.shapes("drill"), start=1):
            name = f"{self.name} drill {number}"
            form = shape.form
            if isinstance(form, Dot):
                yield Drill(name, self._at(form.at, shape), DRILL)
            elif isinstance(form, Run | Bent):
                # A circle, or a fine chain round one.
                x0, y0, x1, y1 = around(form)
                middle = self._at(Point((x0 + x1) / 2.0, (y0 + y1) / 2.0), shape)
                yield Drill(name, middle, max(x1 - x0, y1 - y0) * self.source.millimetres)

    def _notches(self, cut: Sequence[Edge]) -> Iterator[CutNotch]:
        """Notches on the cut line, a point each or drawn as ticks."""
        shapes = self.shapes("notch")
        if not shapes:
            return
        outline = Polygon(cut)
        self.source.check_work(self.name, len(shapes), len(outline.a))
        number = 0
        for shape in shapes:
            if isinstance(shape.form, Dot):
                number += 1
                yield self._pointed(f"{self.name} notch {number}", shape, shape.form, outline)
        for each in self._ticks(shapes, outline):
            number += 1
            yield each._replace(name=f"{self.name} notch {number}")

    def _pointed(self, name: str, shape: Entity, form: Dot, outline: Polygon) -> CutNotch:
        at = self._at(form.at, shape)
        kind: NotchKind = "T" if layer_number(shape.layer) == exchange.NOTCH_T else "slit"
        if layer_number(shape.layer) not in (exchange.NOTCH, exchange.NOTCH_T):
            self.source.leave_out(shape.kind, shape.layer, "a notch, taken as a slit")
        depth = abs(form.thickness or form.height) * self.source.millimetres or DEPTH
        away, stretch = outline.nearest(at)
        inward = outline.inward(stretch)
        if away > TICK:
            self.note(f"a notch lies {away:.1f} mm off its line, taken to the nearest place")
        if form.angle is not None:
            said = Point(1.0, 0.0).turned(math.radians(form.angle))
            # Which way the angle goes is from memory: one that goes out is turned round.
            inward = said if said.dot(inward) >= 0.0 else -said
        return CutNotch(name, at, inward, kind, depth, 4.0)

    def _ticks(self, shapes: Sequence[Entity], outline: Polygon) -> Iterator[CutNotch]:
        """Notches drawn as lines: one, two that meet inside, or one with a bar at its end."""
        lines = [shape for shape in shapes if not isinstance(shape.form, Dot)]
        ticks: list[tuple[Point, Point]] = []
        bars: list[Point] = []
        for strand, closed in self._strands(lines):
            ends = strand.start, strand.end
            (first, _), (second, _) = (outline.nearest(end) for end in ends)
            if closed or min(first, second) > TICK:
                bars.append(ends[0].between(ends[1], 0.5))
            else:
                ticks.append(ends if first <= second else ends[::-1])
        feet: list[tuple[Point, list[Point]]] = []
        for at, foot in ticks:
            same = [outer for other, outer in feet[-1:] if distance(other, foot) <= MEETS]
            if same:
                same[0].append(at)
            else:
                feet.append((foot, [at]))
        for foot, outer in feet:
            at = outer[0].between(outer[-1], 0.5)
            bar = [middle for middle in bars if distance(middle, foot) <= AT]
            for middle in bar:
                bars.remove(middle)
            depth = distance(at, foot)
            if depth <= MEETS:
                self.note("a notch without depth")
                continue
            width = distance(outer[0], outer[-1])
            kind: NotchKind = "V" if width else "T" if bar else "slit"
            yield CutNotch("", at, (foot - at).unit(), kind, depth, width or 4.0)
        if bars:
            self.note(f"{len(bars)} lines among its notches that begin at no line")

    def _sewn(self, edges: Sequence[Edge], marks: Sequence[CutNotch]) -> Iterator[Notch]:
        """Each notch carried in from the cut line to the sew line.

        One that comes to an end of an edge marks what is there: a dart leg, a fold or a hem.  It is
        no notch of the seam, and finishing the piece again makes it anew.
        """
        if not marks:
            return
        sewn = Polygon(edges)
        self.source.check_work(self.name, len(marks), len(sewn.a))
        for mark in marks:
            place, stretch = sewn.carried(mark.at, mark.inward)
            edge = edges[sewn.edge[stretch]]
            along = nearest(edge.curve, place).along
            if CORNER <= along <= edge.curve.length - CORNER:
                yield Notch(mark.name, edge.name, along)
