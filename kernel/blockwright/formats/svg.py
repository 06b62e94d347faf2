"""SVG at true size: 1 user unit is 1 mm, and the page says so in mm."""

from __future__ import annotations

import math
from collections.abc import Iterable
from xml.sax.saxutils import escape, quoteattr

from blockwright.curves.affine import Affine
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point
from blockwright.formats import layout, palette
from blockwright.formats.palette import Stroke
from blockwright.plugin.format import Document, Format
from blockwright.plugin.hookspecs import hookimpl

# Text sizes, mm: the piece's name is read from a standing height, the rest from the table.
NAME_SIZE, LINE_SIZE, NOTE_SIZE = 7.0, 4.5, 3.6
LEADING = 1.35
CROSS = 1.5


@hookimpl
def blockwright_formats() -> list[Format]:
    """SVG."""
    return [
        Format("svg", ".svg", "true-size drawing for screens and printers, mm, 1 unit = 1 mm", write)
    ]


def write(document: Document) -> bytes:
    """The whole file.  Coordinates are to a thousandth of a millimetre, y turned to run down."""
    sheet = layout.lay_out(document)
    body = []
    for placed in sheet.placed:
        body += _piece(document, placed, sheet.height)
    body += _bars(sheet.height)
    title = f"{document.pattern.title} ({document.pattern.block})"
    width, height = _number(sheet.width), _number(sheet.height)
    head = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}">',
        f"<title>{escape(title)}</title>",
        "<desc>Millimetres; no seam allowance. Measure the test bars before cutting.</desc>",
        "<style>",
        *(_rule(name, stroke) for name, stroke in _STROKES.items()),
        f"text{{font-family:sans-serif;fill:{palette.TEXT};text-anchor:middle}}",
        f"text.warning{{fill:{palette.WARNING};font-weight:bold}}",
        "</style>",
        f'<rect width="{width}" height="{height}" fill="#ffffff"/>',
    ]
    return "\n".join([*head, *body, "</svg>", ""]).encode()


_STROKES = {
    "outline": palette.OUTLINE,
    "notch": palette.NOTCH,
    "dart": palette.DART,
    "guide": palette.GUIDE,
    "grain": palette.GRAIN,
    "bar": palette.BAR,
    "mark": palette.MARK,
}


def _rule(name: str, stroke: Stroke) -> str:
    dash = f"stroke-dasharray:{' '.join(f'{d:g}' for d in stroke.dashes)};" if stroke.dashes else ""
    return (
        f".{name}{{fill:none;stroke:{stroke.colour};stroke-width:{stroke.width:g};{dash}"
        "stroke-linejoin:round}"
    )


def _piece(document: Document, placed: layout.Placed, height: float) -> list[str]:
    piece = placed.piece
    # Onto the sheet, then y turned to run down from its top.
    down = placed.move.then(Affine(d=-1.0, f=height))
    out = [f"<g id={quoteattr(piece.name)}>"]
    outline = [edge.curve.moved(down) for edge in piece.edges]
    out.append(f'<path class="outline" d="{_path(outline)} Z"/>')
    for guide in piece.guides:
        out.append(f'<path class="guide" d="{_path([guide.curve.moved(down)])}"/>')
        at = guide.curve.point_at(guide.curve.length * 0.8)
        out.append(_text(down(at) - Point(0.0, 1.5), guide.name, NOTE_SIZE))
    out += [_line("dart", down(a), down(b)) for a, b in layout.dart_lines(piece)]
    out += [_line("notch", down(a), down(b)) for a, b in layout.notch_ticks(piece)]
    out += _grain(down(piece.grain[0]), down(piece.grain[1]))
    out += [_turned(down(at), angle, words) for at, angle, words in layout.dart_notes(document, piece)]
    out += [_text(down(note.at), note.words, NOTE_SIZE) for note in piece.notes]
    out += _label(document, placed, down)
    out.append("</g>")
    out.append(f'<g id={quoteattr("marks of " + document.pattern.block)}>')
    for mark in document.pattern.marks:
        at = down(mark)
        cross = (
            f"M{_pair(at - Point(CROSS, 0))} h{2 * CROSS:g} M{_pair(at - Point(0, CROSS))} v{2 * CROSS:g}"
        )
        says = escape(f"{mark.name}: {mark.rule}")
        out.append(f'<path class="mark" d="{cross}"><title>{says}</title></path>')
    out.append("</g>")
    return out


def _label(document: Document, placed: layout.Placed, down: Affine) -> list[str]:
    at = down(placed.piece.label_at)
    out = []
    for i, words in enumerate(layout.label_lines(document, placed.piece)):
        size = LINE_SIZE if i else NAME_SIZE
        out.append(_text(at, words, size, warning=words == "UNPROVED"))
        at += Point(0.0, size * LEADING)
    return out


def _grain(low: Point, high: Point) -> list[str]:
    along = (high - low).unit()
    out = [_line("grain", low, high)]
    for tip, way in ((high, along), (low, -along)):
        barbs = [tip - way * 5.0 + way.left() * side for side in (2.0, -2.0)]
        points = " L".join(_pair(p) for p in (barbs[0], tip, barbs[1]))
        out.append(f'<path class="notch" d="M{points}"/>')
    middle = low.between(high) + along.left() * -3.0
    out.append(_turned(middle, math.pi / 2.0, "grain"))
    return out


def _turned(at: Point, angle: float, words: str) -> str:
    """A note written in direction `angle`, counter-clockwise as seen."""
    turn = f' transform="rotate({_number(-math.degrees(angle))} {_pair(at)})"'
    return _text(at, words, NOTE_SIZE, extra=turn)


def _bars(height: float) -> list[str]:
    out = ['<g id="test bars">']
    metric, inch, words = layout.bar_labels()
    left = layout.MARGIN
    for y, length, step, label in (
        (height - layout.MARGIN - 14.0, layout.CM_BAR, 10.0, metric),
        (height - layout.MARGIN, layout.INCH_BAR, 25.4, inch),
    ):
        a, b = Point(left, y), Point(left + length, y)
        out.append(_line("bar", a, b))
        ticks = round(length / step)
        for i in range(ticks + 1):
            at = a.between(b, i / ticks)
            reach = 4.0 if i in (0, ticks) else 2.0
            out.append(_line("bar", at, at - Point(0.0, reach)))
        out.append(_text(a.between(b) - Point(0.0, 5.0), label, NOTE_SIZE))
    out.append(_text(Point(left, height - layout.MARGIN + 8.0), words, NOTE_SIZE, anchor="start"))
    out.append("</g>")
    return out


def _path(curves: Iterable[Curve]) -> str:
    parts: list[str] = []
    for curve in curves:
        if not parts:
            parts.append("M" + _pair(curve.start))
        for _, b, c, d in curve.control.tolist():
            parts.append(f"C{_pair(b)} {_pair(c)} {_pair(d)}")
    return " ".join(parts)


def _line(kind: str, a: Point, b: Point) -> str:
    return f'<path class="{kind}" d="M{_pair(a)} L{_pair(b)}"/>'


def _text(
    at: Point, words: str, size: float, *, anchor: str = "", warning: bool = False, extra: str = ""
) -> str:
    anchor = f' style="text-anchor:{anchor}"' if anchor else ""
    kind = ' class="warning"' if warning else ""
    x, y = _number(at.x), _number(at.y)
    return f'<text x="{x}" y="{y}" font-size="{size:g}"{kind}{anchor}{extra}>{escape(words)}</text>'


def _pair(point: Iterable[float]) -> str:
    x, y = point
    return f"{_number(x)} {_number(y)}"


def _number(value: float) -> str:
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
