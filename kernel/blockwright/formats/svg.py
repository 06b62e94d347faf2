"""SVG at true size: 1 user unit is 1 mm, and the page says so in mm."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence

from blockwright.curves.affine import Affine
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point, distance
from blockwright.formats import layout, line_styles
from blockwright.formats.labels import piece_name, title
from blockwright.formats.line_styles import Stroke
from blockwright.formats.text_placement import Words
from blockwright.pattern.piece import labelled
from blockwright.plugin.format import Document
from blockwright.words.catalogue import label

_ESCAPES = {"&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;"}


def write(document: Document) -> bytes:
    """The whole file.  Coordinates are to 0.0001 mm, y turned to run down."""
    sheet = layout.lay_out(document)
    pattern = document.pattern
    proved = "" if document.proof.held else f"{label('label.promise-broken')} "
    width, height = _number(sheet.width), _number(sheet.height)
    # On the sheet y runs up from the bottom, on the page down from the top.
    down = Affine(d=-1.0, f=sheet.height)
    lines = [
        '<?xml version="1.0" encoding="UTF-8"?>',
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}mm" height="{height}mm" '
        f'viewBox="0 0 {width} {height}">',
        f"<title>{_escape(title(document))}</title>",
        f"<desc>{proved}Blockwright block {pattern.block}; 1 unit is 1 mm. "
        "Measure both test bars before cutting.</desc>",
        "<style>",
        *(_rule(name, stroke) for name, stroke in line_styles.STROKES.items()),
        f"text{{font-family:Helvetica,Arial,sans-serif;fill:{line_styles.INK};text-anchor:middle}}",
        "text.start{text-anchor:start}",
        f"text.warning{{fill:{line_styles.WARNING};font-weight:bold}}",
        "</style>",
        f'<rect width="{width}" height="{height}" fill="#ffffff"/>',
    ]
    for number, placed in enumerate(sheet.placed, start=1):
        lines += _piece(number, placed, Affine.move(placed.step).then(down))
    lines.append('<g id="strip">')
    lines += [_line(role, down(a), down(b)) for role, a, b in sheet.bars]
    lines += [_text(words, down) for words in sheet.words]
    for role, shown, words in sheet.key:
        lines += [_line(f"key {role}", down(a), down(b)) for a, b in shown]
        lines.append(_text(words, down))
    return "\n".join([*lines, "</g>", "</svg>", ""]).encode()


def _rule(name: str, stroke: Stroke) -> str:
    dashes = " ".join(f"{dash:g}" for dash in stroke.dashes)
    dashed = f"stroke-dasharray:{dashes};" if dashes else ""
    return (
        f".{name}{{fill:none;stroke:{stroke.colour};stroke-width:{stroke.width:g};{dashed}"
        "stroke-linejoin:round}"
    )


def _piece(number: int, placed: layout.Placed, down: Affine) -> Iterator[str]:
    piece = placed.piece
    yield f'<g id="piece-{number}"><title>{_escape(piece_name(piece))}</title>'
    for role, curves in placed.parted():
        yield f'<path class="{role}" d="{_path([curve.moved(down) for curve in curves])}"/>'
    for role, a, b in placed.strokes:
        yield _line(role, down(a), down(b))
    for mark in placed.marks:
        ways = " ".join(f"M{_pair(down(a))} L{_pair(down(b))}" for a, b in layout.cross(mark))
        says = _escape(f"{labelled(piece.word, mark.name)}: {mark.rule}")
        yield f'<path class="mark" d="{ways}"><title>{says}</title></path>'
    for words in placed.words:
        yield _text(words, down)
    yield "</g>"


def _path(curves: Sequence[Curve]) -> str:
    """Curves that follow one another as one path, closed if they close without a gap."""
    parts: list[str] = []
    whole = True
    at = curves[-1].end
    for curve in curves:
        gap = distance(at, curve.start) > layout.MEET
        whole = whole and not gap
        if gap or not parts:
            parts.append("M" + _pair(curve.start))
        if layout.is_straight(curve):
            parts.append("L" + _pair(curve.end))
        else:
            parts += [f"C{_pair(b)} {_pair(c)} {_pair(d)}" for _, b, c, d in curve.control.tolist()]
        at = curve.end
    return " ".join([*parts, "Z"] if whole else parts)


def _line(role: str, a: Point, b: Point) -> str:
    return f'<path class="{role}" d="M{_pair(a)} L{_pair(b)}"/>'


def _text(words: Words, down: Affine) -> str:
    at = down(words.at)
    turn = ""
    if words.angle:
        turn = f' transform="rotate({_number(-math.degrees(words.angle))} {_pair(at)})"'
    kinds = ("start" if not words.centred else "", "warning" if words.line.warning else "")
    kind = " ".join(filter(None, kinds))
    named = f' class="{kind}"' if kind else ""
    return (
        f'<text x="{_number(at.x)}" y="{_number(at.y)}" font-size="{words.line.size:g}"'
        f"{named}{turn}>{_escape(words.line.text)}</text>"
    )


def _escape(text: str) -> str:
    """Text as XML holds it; letters that it cannot hold at all become a question mark."""
    return "".join(_ESCAPES.get(c, c) if _in_xml(ord(c)) else "\ufffd" for c in text)


def _in_xml(code: int) -> bool:
    return (code >= 0x20 or code in (0x9, 0xA, 0xD)) and not (
        0xD800 <= code <= 0xDFFF or code in (0xFFFE, 0xFFFF)
    )


def _pair(point: Iterable[float]) -> str:
    x, y = point
    return f"{_number(x)} {_number(y)}"


def _number(value: float) -> str:
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
