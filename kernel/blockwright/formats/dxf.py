"""DXF R2000: splines as splines, one layer a role, each piece a block; millimetres.

The fold of a piece is not on the layer of the outline: a machine that cuts that layer would cut
the piece in two.
"""

from __future__ import annotations

import io
import math
import re
from collections.abc import Iterable
from typing import TYPE_CHECKING

from blockwright.curves.curve import Curve
from blockwright.curves.point import Point
from blockwright.formats import layout, line_styles
from blockwright.formats.dxf_layers import NAMES
from blockwright.formats.labels import piece_name
from blockwright.formats.text_placement import CAPITALS, Words
from blockwright.plugin.format import Document

if TYPE_CHECKING:
    from ezdxf.document import Drawing
    from ezdxf.layouts.blocklayout import BlockLayout
    from ezdxf.layouts.layout import Modelspace

MILLIMETRES = 4
METRIC = 1
CROSSES = 2
BLACK_OR_WHITE = 7
CODE_PAGE = "cp1252"
# Stands for letters past the four digits that DXF has for one.
REPLACEMENT = 0xFFFD


def write(document: Document) -> bytes:
    """The whole file, the same bytes for the same document."""
    # Both are documented as public, though not declared so.
    from ezdxf import new, options  # type: ignore[attr-defined]

    # The library stamps files with time and random ids unless told to write fixed ones.
    stamped = options.write_fixed_meta_data_for_testing
    options.write_fixed_meta_data_for_testing = True
    try:
        drawing = new("R2000", units=MILLIMETRES)
        drawing.header["$MEASUREMENT"] = METRIC
        drawing.header["$PDMODE"], drawing.header["$PDSIZE"] = CROSSES, 2.0 * layout.CROSS
        _layers(drawing)
        sheet = layout.lay_out(document)
        space = drawing.modelspace()
        names = block_names(piece_name(placed.piece) for placed in sheet.placed)
        for placed, name in zip(sheet.placed, names, strict=True):
            _piece(placed, drawing.blocks.new(name))
            space.add_blockref(name, tuple(placed.step), dxfattribs={"layer": "0"})
        for role, a, b in sheet.bars:
            _line(space, role, a, b)
        for words in sheet.words:
            _text(space, words)
        _extents(drawing, sheet)
        stream = io.StringIO()
        drawing.write(stream)
    finally:
        options.write_fixed_meta_data_for_testing = stamped
    return stream.getvalue().encode(CODE_PAGE)


def _layers(drawing: Drawing) -> None:
    for role, stroke in line_styles.STROKES.items():
        name = NAMES[role]
        if stroke.dashes:
            signs = [dash if i % 2 == 0 else -dash for i, dash in enumerate(stroke.dashes)]
            drawing.linetypes.add(name, [sum(stroke.dashes), *signs])
        drawing.layers.add(
            name,
            color=BLACK_OR_WHITE,
            lineweight=round(stroke.width * 100),
            linetype=name if stroke.dashes else "Continuous",
        )
    drawing.layers.add(NAMES["text"], color=BLACK_OR_WHITE)


def block_names(pieces: Iterable[str]) -> list[str]:
    """A block name a piece, of the letters that every reader takes."""
    names = []
    for number, piece in enumerate(pieces, start=1):
        letters = [c if c.isascii() and c.isalnum() else "_" for c in piece.upper()]
        names.append(f"PIECE_{number}_{''.join(letters)}")
    return names


def _piece(placed: layout.Placed, block: BlockLayout) -> None:
    for role, curves in placed.lines:
        folds = placed.folds if role == "outline" else ()
        for i, curve in enumerate(curves):
            _curve(block, curve, "fold" if i in folds else role)
    for role, a, b in placed.strokes:
        _line(block, role, a, b)
    for mark in placed.marks:
        block.add_point(tuple(mark), dxfattribs={"layer": NAMES["mark"]})
    for words in placed.words:
        _text(block, words)


def _curve(space: BlockLayout, curve: Curve, role: str) -> None:
    """A straight curve as a line, any other as one cubic spline of exactly the same shape."""
    if layout.is_straight(curve):
        _line(space, role, curve.start, curve.end)
        return
    control = curve.control.tolist()
    inner = [float(knot) for knot in range(1, len(control)) for _ in range(3)]
    spline = space.add_spline(degree=3, dxfattribs={"layer": NAMES[role]})
    spline.control_points = [(*control[0][0], 0.0)] + [
        (x, y, 0.0) for piece in control for x, y in piece[1:]
    ]
    spline.knots = [0.0] * 4 + inner + [float(len(control))] * 4


def _line(space: BlockLayout | Modelspace, role: str, a: Point, b: Point) -> None:
    space.add_line(tuple(a), tuple(b), dxfattribs={"layer": NAMES[role]})


def _text(space: BlockLayout | Modelspace, words: Words) -> None:
    from ezdxf.enums import TextEntityAlignment

    align = TextEntityAlignment.CENTER if words.centred else TextEntityAlignment.LEFT
    space.add_text(
        _plain(words.line.text),
        height=words.line.size * CAPITALS,
        rotation=math.degrees(words.angle),
        dxfattribs={"layer": NAMES["text"]},
    ).set_placement(tuple(words.at), align=align)


def _plain(text: str) -> str:
    r"""Text as DXF R2000 holds it: letters its code page has not as `\U+03BB`, no `%%` commands."""
    return re.sub("%(?=%)", "% ", "".join(map(_letter, text)))


def _letter(letter: str) -> str:
    code = ord(letter) if letter <= "\uffff" else REPLACEMENT
    try:
        chr(code).encode(CODE_PAGE)
    except UnicodeEncodeError:
        return f"\\U+{code:04X}"
    return letter


def _extents(drawing: Drawing, sheet: layout.Sheet) -> None:
    """The smallest box round outlines, test bars and the strip's words."""
    low = Point(layout.MARGIN, layout.MARGIN)
    high = Point(sheet.width, sheet.height) - low
    for name, corner in (("$EXTMIN", low), ("$EXTMAX", high)):
        drawing.header[name] = (*corner, 0.0)
    drawing.modelspace().reset_extents((*low, 0.0), (*high, 0.0))
