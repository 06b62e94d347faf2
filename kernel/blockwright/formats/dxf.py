"""DXF R2000: splines as splines, one layer a role, each piece a block; millimetres."""

from __future__ import annotations

import io
from typing import TYPE_CHECKING

from blockwright.curves.curve import Curve
from blockwright.curves.point import Point
from blockwright.formats import layout, palette
from blockwright.pattern.piece import Piece
from blockwright.plugin.format import Document, Format
from blockwright.plugin.hookspecs import hookimpl

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts import BlockLayout, Modelspace

# Layer name: stroke.  Names say what the lines are to whoever sets the cutter's tools.
LAYERS = {
    "OUTLINE": palette.OUTLINE,
    "NOTCH": palette.NOTCH,
    "DART": palette.DART,
    "GUIDE": palette.GUIDE,
    "GRAIN": palette.GRAIN,
    "TEXT": palette.OUTLINE,
    "TEST_BAR": palette.BAR,
}
MILLIMETRES = 4
METRIC = 1
TEXT_SIZE = 5.0
# A cubic piece this flat (mm) is a straight line, and is written as one.
STRAIGHT = 1e-9


@hookimpl
def blockwright_formats() -> list[Format]:
    """DXF R2000."""
    return [Format("dxf", ".dxf", "DXF R2000 for cutters and CAD, mm, splines, a layer a role", write)]


def write(document: Document) -> bytes:
    """The whole file, the same bytes for the same document."""
    import ezdxf
    from ezdxf.lldxf.const import INVALID_NAME_CHARACTERS

    # The library stamps files with time and random ids unless told to write fixed ones.
    stamped = ezdxf.options.write_fixed_meta_data_for_testing
    ezdxf.options.write_fixed_meta_data_for_testing = True
    try:
        drawing = ezdxf.new("R2000", units=MILLIMETRES)
        drawing.header["$INSUNITS"] = MILLIMETRES
        drawing.header["$MEASUREMENT"] = METRIC
        for name, stroke in LAYERS.items():
            drawing.layers.add(name, lineweight=round(stroke.width * 100), color=7)
        sheet = layout.lay_out(document)
        space = drawing.modelspace()
        for placed in sheet.placed:
            name = "".join(c for c in placed.piece.name if c not in INVALID_NAME_CHARACTERS)
            _piece(document, placed.piece, drawing.blocks.new(name))
            space.add_blockref(name, (placed.move.e, placed.move.f), dxfattribs={"layer": "0"})
        _bars(space)
        _extents(drawing, sheet)
        stream = io.StringIO()
        drawing.write(stream)
    finally:
        ezdxf.options.write_fixed_meta_data_for_testing = stamped
    return stream.getvalue().encode("cp1252", errors="dxfreplace")


def _piece(document: Document, piece: Piece, block: BlockLayout) -> None:
    for edge in piece.edges:
        _curve(block, edge.curve, "OUTLINE")
    for guide in piece.guides:
        _curve(block, guide.curve, "GUIDE")
    for layer, lines in (
        ("NOTCH", layout.notch_ticks(piece)),
        ("DART", layout.dart_lines(piece)),
        ("GRAIN", iter([piece.grain])),
    ):
        for a, b in lines:
            block.add_line(tuple(a), tuple(b), dxfattribs={"layer": layer})
    for note in piece.notes:
        _text(block, note.at, note.words, "TEXT")
    at = piece.label_at
    for words in layout.label_lines(document, piece):
        _text(block, at, words, "TEXT")
        at -= Point(0.0, TEXT_SIZE * 1.5)


def _curve(space: BlockLayout, curve: Curve, layer: str) -> None:
    """A straight edge as a line, any other as one cubic spline with the same shape exactly."""
    control = curve.control
    attributes = {"layer": layer}
    box = curve.bounds
    chord = curve.end - curve.start
    if curve.length - abs(chord) <= STRAIGHT and box[0] <= curve.start.x <= box[2]:
        space.add_line(tuple(curve.start), tuple(curve.end), dxfattribs=attributes)
        return
    pieces = len(control)
    points = [tuple(control[0, 0]), *(tuple(p) for piece in control for p in piece[1:])]
    knots = [0.0] * 4 + [float(k) for k in range(1, pieces) for _ in range(3)] + [float(pieces)] * 4
    spline = space.add_spline(degree=3, dxfattribs=attributes)
    spline.control_points = [(float(x), float(y), 0.0) for x, y in points]
    spline.knots = knots


def _text(space: BlockLayout | Modelspace, at: Point, words: str, layer: str) -> None:
    from ezdxf.enums import TextEntityAlignment

    space.add_text(words, height=TEXT_SIZE, dxfattribs={"layer": layer}).set_placement(
        tuple(at), align=TextEntityAlignment.CENTER
    )


def _bars(space: Modelspace) -> None:
    metric, inch, _ = layout.bar_labels()
    for y, length, label in ((14.0, layout.CM_BAR, metric), (0.0, layout.INCH_BAR, inch)):
        a = Point(layout.MARGIN, layout.MARGIN + y)
        b = a + Point(length, 0.0)
        for p, q in ((a, b), (a, a + Point(0, 4)), (b, b + Point(0, 4))):
            space.add_line(tuple(p), tuple(q), dxfattribs={"layer": "TEST_BAR"})
        _text(space, a.between(b) + Point(0.0, 1.5), label, "TEST_BAR")


def _extents(drawing: Drawing, sheet: layout.Sheet) -> None:
    boxes = [curve.bounds for placed in sheet.placed for curve in placed.curves()]
    boxes.append((layout.MARGIN, layout.MARGIN, layout.MARGIN + layout.INCH_BAR, layout.MARGIN + 18))
    low = (min(b[0] for b in boxes), min(b[1] for b in boxes), 0.0)
    high = (max(b[2] for b in boxes), max(b[3] for b in boxes), 0.0)
    drawing.header["$EXTMIN"], drawing.header["$EXTMAX"] = low, high
    drawing.modelspace().reset_extents(low, high)
