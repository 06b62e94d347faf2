"""Pattern exchange files written after ASTM D6673: a block a piece, its lines on numbered layers.

No copy of the standard was at hand.  Its published pages say that a file is DXF after AutoCAD's
version 13, that a block is a piece, what turn points, curve points, internal lines, cutouts and sew
lines are, and that a curve passes through its curve points (facts: D6673-n, D6673-04s, D6673-10v,
D6963-04).  The numbers of the layers, which entities stand on them, how a notch holds its depth and
angle and how the texts are spelt are written from memory.  So files are written after the standard;
nobody has held them against it.

The file is plain R12 DXF, which a reader of version 13 reads too: there is nothing in it that needs
more.  No dates are in it, so that the same draft is the same file.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING, NamedTuple

from blockwright.body.lengths import Unit
from blockwright.curves._numpy import np
from blockwright.curves.affine import Affine
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point
from blockwright.formats import dxf_r12, layout
from blockwright.formats.dxf_layers import (
    ANGLE,
    BOUNDARY,
    CURVE,
    DEPTH,
    DRILL,
    GRAIN,
    INNER,
    MIRROR,
    NOTCH,
    NOTCH_T,
    SEW,
    TURN,
    USED,
    WORDS,
)
from blockwright.formats.dxf_r12 import Tag
from blockwright.formats.labels import allowances, piece_name
from blockwright.formats.text_placement import CAPITALS, Words, around
from blockwright.pattern.piece import Edge, Piece
from blockwright.plugin.format import Document, Flat
from blockwright.words.catalogue import label

if TYPE_CHECKING:
    from blockwright.pattern.finishing.cut_marks import CutNotch
    from blockwright.pattern.finishing.finish import FinishedPiece

# A place this near to the fold, mm, is on it.
ALONG = 0.01
# Texts about a piece stand below it in lines of this height and so far apart, mm.
HEIGHT, LEADING = 3.0, 5.0
DRILL_HEIGHT = 1.5


def write(document: Document) -> bytes:
    """The whole file, the same bytes for the same document; in inches for a maker who uses them."""
    sheet = layout.lay_out(document)
    flat = Flat(document.options).flat
    size = 1.0 / Unit.IN.millimetres if document.unit is Unit.IN else 1.0
    names = dxf_r12.block_names(piece_name(placed.piece) for placed in sheet.placed)
    blocks = []
    entities: list[Tag] = []
    right = top = 0.0
    for i, placed in enumerate(sheet.placed):
        whole = document.finished[i] if document.finished else None
        page = _Page(_along_x(placed.piece).then(Affine.scale(size)), size, flat)
        cut = placed.lines[0][1]
        chain = dxf_r12.chain(cut, flat, closed=True).points
        beside = [[*at] for words in placed.words for at in around(words).corners()]
        corners = page.places(np.concatenate([chain, np.array(beside)]))
        (x0, y0), (x1, y1) = corners.min(axis=0).tolist(), corners.max(axis=0).tolist()
        inside = [*page.piece(placed.piece, whole)]
        for words in placed.words:
            inside += page.words(words.line.text, words)
        inside += page.lines(_about_piece(document, placed.piece), Point(x0, y0))
        blocks.append((names[i], inside))
        entities += dxf_r12.insert(names[i], Point(right - x0, -y0))
        right, top = right + x1 - x0 + layout.GAP * size, max(top, y1 - y0)
    style = _Page(Affine(), size, flat)
    low = Point(0.0, -(2 * LEADING + len(_ABOUT_PIECE) * LEADING) * size)
    entities += style.lines(_about_style(document), low)
    extents = Point(0.0, 0.0), Point(right - layout.GAP * size, top)
    cross = 2.0 * layout.CROSS * size
    return dxf_r12.drawing(dict.fromkeys(USED, ()), blocks, entities, extents, cross)


def _along_x(piece: Piece) -> Affine:
    """The turn that lays the grain along x, as these files have it (from memory)."""
    low, high = piece.grain
    return Affine.turn(-(high - low).angle)


# -- texts -----------------------------------------------------------------------------------

_ABOUT_PIECE = ("PIECE NAME", "SIZE", "QUANTITY", "CATEGORY", "MATERIAL", "ANNOTATION")


def _about_style(document: Document) -> list[str]:
    """What memory has of the style's texts, without the dates; no grading is in the file."""
    return [
        f"STYLE NAME: {document.pattern.title}",
        "AUTHOR: BLOCKWRIGHT",
        f"SAMPLE SIZE: {_size(document)}",
        f"UNITS: {'ENGLISH' if document.unit is Unit.IN else 'METRIC'}",
    ]


def _about_piece(document: Document, piece: Piece) -> list[str]:
    """What memory has of a piece's texts."""
    folded = any(edge.role == "fold" for edge in piece.edges)
    notes = (
        "" if document.proof.held else label("label.unproved"),
        allowances(document),
        label("label.pair") if piece.mirrored else "",
        label("label.fold") if folded else "",
    )
    values = (
        piece_name(piece),
        _size(document),
        str(piece.cut),
        piece.block or document.pattern.block,
        "MAIN",
        "; ".join(filter(None, notes)),
    )
    return [f"{key}: {value}" for key, value in zip(_ABOUT_PIECE, values, strict=True)]


def _size(document: Document) -> str:
    return document.pattern.body or "MADE TO MEASURE"


# -- lines -----------------------------------------------------------------------------------


class _Page(NamedTuple):
    """Where a piece lies in its block: turned by `lay` and in units, `size` of them in a mm."""

    lay: Affine
    size: float
    flat: float

    def places(self, points: np.ndarray) -> np.ndarray:
        """Points (m, 2) of the piece, in the file."""
        return self.lay.apply(points)

    def piece(self, piece: Piece, whole: FinishedPiece | None) -> Iterator[Tag]:
        """All lines and points of a piece."""
        cut = whole.cut if whole else piece.edges
        points: dict[tuple[str, str, str], list[Tag]] = {}
        yield from self._line(BOUNDARY, [edge.curve for edge in cut], points, closed=True)
        if whole:
            yield from self._line(SEW, [e.curve for e in piece.edges], points, closed=True)
        for guide in piece.guides:
            yield from self._line(INNER, [guide.curve], points, closed=False)
        for dart in piece.darts:
            for end in piece.dart_legs(dart):
                yield from dxf_r12.straight(INNER, self.lay(end), self.lay(dart.apex))
        for tags in points.values():
            yield from tags
        yield from self._mirror(cut)
        yield from dxf_r12.straight(GRAIN, *(self.lay(end) for end in piece.grain))
        for notch in layout.notches(piece, whole):
            yield from self._notch(notch)
        for drill in whole.drills if whole else ():
            at = self.lay(drill.at)
            yield from dxf_r12.dot(DRILL, at)
            # A hole's size is an annotation's to tell (facts: D6963-13).
            size = f"{drill.diameter:g} mm"
            yield from dxf_r12.text(WORDS, size, at, DRILL_HEIGHT * self.size, 0.0)

    def _line(
        self,
        layer: str,
        curves: Sequence[Curve],
        points: dict[tuple[str, str, str], list[Tag]],
        *,
        closed: bool,
    ) -> Iterator[Tag]:
        """A line, and its turn and curve points into `points`, each place once."""
        chain = dxf_r12.chain(curves, self.flat, closed=closed)
        places = self.places(chain.points)
        yield from dxf_r12.polyline(layer, places, closed)
        # The ends of a line inside may lie on an edge: a turn point there would part it.
        turns = chain.turns if closed else chain.turns[1:-1]
        for kind, numbers in ((TURN, turns), (CURVE, chain.curves)):
            for x, y in places[numbers].tolist():
                tags = list(dxf_r12.dot(kind, Point(x, y)))
                points.setdefault((kind, f"{x:.6f}", f"{y:.6f}"), tags)

    def _mirror(self, cut: Sequence[Edge]) -> Iterator[Tag]:
        """The fold, as far as the cut line runs along it."""
        for fold in (edge.curve for edge in cut if edge.role == "fold"):
            way = (fold.end - fold.start).unit()
            ends = [end for edge in cut for end in (edge.curve.start, edge.curve.end)]
            on = [end for end in ends if abs(way.cross(end - fold.start)) <= ALONG]
            on.sort(key=way.dot)
            yield from dxf_r12.straight(MIRROR, self.lay(on[0]), self.lay(on[-1]))
            return

    def _notch(self, notch: CutNotch) -> Iterator[Tag]:
        layer = NOTCH_T if notch.kind == "T" else NOTCH
        depth = notch.depth * self.size
        angle = math.degrees(self.lay.way(notch.inward).angle)
        more = ((DEPTH, depth), (ANGLE, angle % 360.0))
        yield from dxf_r12.dot(layer, self.lay(notch.at), *more, height=depth)

    def words(self, letters: str, words: Words) -> Iterator[Tag]:
        """A line of words inside the piece, turned as it is."""
        half = words.line.width / 2.0 if words.centred else 0.0
        start = words.at - Point(half, 0.0).turned(words.angle)
        angle = words.angle + self.lay.way(Point(1.0, 0.0)).angle
        height = words.line.size * CAPITALS * self.size
        yield from dxf_r12.text(WORDS, letters, self.lay(start), height, angle)

    def lines(self, texts: Sequence[str], below: Point) -> Iterator[Tag]:
        """Texts for programs, one under the other below a place of the file."""
        for i, each in enumerate(texts, start=1):
            start = below - Point(0.0, i * LEADING * self.size)
            yield from dxf_r12.text(BOUNDARY, each, start, HEIGHT * self.size, 0.0)
