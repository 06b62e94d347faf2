"""PDF at true size: one page for a roll plotter, or tiles for a printer at home.

1 mm is 72 / 25.4 points.  Pages are drawn in millimetres, y up, under one scale.
"""

from __future__ import annotations

import io
import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import replace
from itertools import cycle
from typing import TYPE_CHECKING

from blockwright.curves.curve import Curve
from blockwright.curves.point import Point, distance
from blockwright.errors import InputError
from blockwright.formats import labels, layout, line_styles
from blockwright.formats.line_key import Sample, samples
from blockwright.formats.line_styles import Stroke
from blockwright.formats.options import OnRoll, Tiled
from blockwright.formats.packing import Size
from blockwright.formats.roll import on_roll
from blockwright.formats.text_placement import LINE_SIZE, NOTE_SIZE, Near, Room, TextLine, Words
from blockwright.formats.tiles import (
    UNPRINTED,
    Grid,
    Ink,
    Rectangle,
    Tile,
    Tiling,
    free_corner,
    ink,
    tiled,
)
from blockwright.plugin.format import Document
from blockwright.words.catalogue import label

if TYPE_CHECKING:
    from reportlab.pdfgen.canvas import Canvas
    from reportlab.pdfgen.pathobject import PDFPathObject

POINTS = 72.0 / 25.4
# Readers of PDF take no page larger than 14,400 points, which is 200 in; here in mm.
LARGEST_PAGE = 5080.0
FONT, BOLD = "Helvetica", "Helvetica-Bold"
LEADING = 1.35
# What is on a tile but not of the drawing, pale so that no line is lost under it.
PALE = Stroke(0.25, (), "#a0a0a0")
ARM = 5.0
TILE_NAME, NEIGHBOUR, SMALL = 7.0, 3.0, 2.6
# A tile's name stands so far inside its crosses, and what it is of takes that much of its width,
# less where there is no room among the lines.
INSIDE, CAPTIONS = 3.0, (1.0, 0.5, 0.25)
# The names of tiles on the map are tried this large, and smaller where lines are in the way.
MAP_NAMES = (1.0, 0.8, 0.6)
# The page with the map, mm: its edge, its squares (the second laid off from the first), the room
# between its parts.
INSET = UNPRINTED + 2.0
SQUARES = ((0.0, layout.CM_BAR, "10 cm"), (8.0, layout.INCH_BAR, "4 in"))
SQUARE = Stroke(0.3, (), line_styles.INK)
SMALL_OUTLINE = Stroke(0.3, (), line_styles.INK)
APART, LEAST_MAP = 6.0, 60.0
# Half the height of a row of the key of the lines, mm.
KEY_HALF = 3.0
HEAD_SIZE, STEP_SIZE, SIZES_SIZE, PIECE_SIZE = 7.0, 3.6, 3.2, 2.5


def write(document: Document) -> bytes:
    """The whole drawing on one page.  InputError when that is larger than a PDF page can be."""
    sheet, roll = layout.lay_out(document), OnRoll(document.options).roll
    return write_sheet(document, sheet if roll is None else on_roll(sheet, roll))


def write_sheet(document: Document, sheet: layout.Sheet) -> bytes:
    """A laid out sheet on one page, as `write`."""
    if max(sheet.width, sheet.height) > LARGEST_PAGE:
        raise InputError.coded(
            "pdf.page", width=sheet.width, height=sheet.height, most=LARGEST_PAGE
        )
    canvas, stream = _canvas(document)
    canvas.setPageSize((sheet.width * POINTS, sheet.height * POINTS))
    canvas.scale(POINTS, POINTS)
    for placed in sheet.placed:
        canvas.saveState()
        canvas.translate(*placed.step)
        _piece(canvas, placed)
        canvas.restoreState()
    for role, a, b in sheet.bars:
        _line(canvas, line_styles.STROKES[role], a, b)
    for words in sheet.words:
        _text(canvas, words)
    _key(canvas, sheet.key)
    canvas.showPage()
    canvas.save()
    return stream.getvalue()


def write_tiles(document: Document) -> bytes:
    """A page with a map, then every tile that has something on it, row by row.

    Raises InputError for a paper or an overlap that cannot be.
    """
    sheet = layout.lay_out(document)
    tiling = tiled(sheet, Tiled(document.options))
    canvas, stream = _canvas(document)
    _map_page(canvas, document, tiling, _sizes(sheet))
    inks = []
    for number, placed in enumerate(tiling.sheet.placed):
        own = ink(placed)
        box = own.bounds
        low, high = (math.floor(box.x0), math.floor(box.y0)), (math.ceil(box.x1), math.ceil(box.y1))
        canvas.beginForm(_form(number), *low, *high)
        _piece(canvas, placed)
        canvas.endForm()
        inks.append(own.moved(placed.step))
    for tile in tiling.used:
        _tile(canvas, document, tiling, tile, inks)
    canvas.save()
    return stream.getvalue()


def _canvas(document: Document) -> tuple[Canvas, io.BytesIO]:
    """An empty PDF, without the time it is written at."""
    from reportlab.pdfgen.canvas import Canvas

    proved = "" if document.proof.held else f"{label('label.promise-broken')} "
    stream = io.BytesIO()
    canvas = Canvas(stream, invariant=1, pageCompression=1)
    canvas.setTitle(_plain(labels.title(document)))
    canvas.setSubject(_plain(f"{proved}Blockwright block {document.pattern.block}, true size"))
    canvas.setCreator("Blockwright")
    canvas.setAuthor("")
    # A wish that print dialogues respect: do not fit the page to the paper.
    canvas.setViewerPreference("PrintScaling", "None")
    return canvas, stream


# -- drawing ---------------------------------------------------------------------------------


def _piece(canvas: Canvas, placed: layout.Placed) -> None:
    """All that is drawn on a piece, in its own coordinates."""
    for role, curves in placed.parted():
        _pen(canvas, line_styles.STROKES[role])
        canvas.drawPath(_path(canvas, curves))
    for role, a, b in placed.strokes:
        _line(canvas, line_styles.STROKES[role], a, b)
    for mark in placed.marks:
        for a, b in layout.cross(mark):
            _line(canvas, line_styles.STROKES["mark"], a, b)
    for words in placed.words:
        _text(canvas, words)


def _key(canvas: Canvas, key: Iterable[Sample]) -> None:
    """The samples of the lines with their words.

    They are filled bars and not strokes: nobody who reads the strokes takes them for a piece's.
    """
    for role, lines, words in key:
        stroke = line_styles.STROKES[role]
        canvas.setFillColor(stroke.colour)
        for a, b in (dash for ends in lines for dash in _dashes(*ends, stroke.dashes)):
            way = (b - a).unit()
            half = way.left() * (stroke.width / 2.0)
            bar = canvas.beginPath()
            bar.moveTo(*(a + half))
            for corner in (a - half, b - half, b + half):
                bar.lineTo(*corner)
            bar.close()
            canvas.drawPath(bar, stroke=0, fill=1)
        _text(canvas, words)


def _dashes(a: Point, b: Point, dashes: Sequence[float]) -> Iterator[tuple[Point, Point]]:
    """The parts of a line that its pen draws."""
    if not dashes:
        yield a, b
        return
    long, at, drawn = distance(a, b), 0.0, True
    for dash in cycle(dashes):
        end = min(at + dash, long)
        if drawn:
            yield a.between(b, at / long), a.between(b, end / long)
        at, drawn = end, not drawn
        if at >= long:
            return


def _pen(canvas: Canvas, stroke: Stroke) -> None:
    canvas.setStrokeColor(stroke.colour)
    canvas.setLineWidth(stroke.width)
    canvas.setLineJoin(1)
    canvas.setDash([*stroke.dashes])


def _path(canvas: Canvas, curves: Sequence[Curve]) -> PDFPathObject:
    """Curves that follow one another as one path, closed if they close without a gap."""
    path = canvas.beginPath()
    whole = True
    at = curves[-1].end
    for i, curve in enumerate(curves):
        gap = distance(at, curve.start) > layout.MEET
        whole = whole and not gap
        if gap or not i:
            path.moveTo(*curve.start)
        if layout.is_straight(curve):
            path.lineTo(*curve.end)
        else:
            for _, b, c, d in curve.control.tolist():
                path.curveTo(*b, *c, *d)
        at = curve.end
    if whole:
        path.close()
    return path


def _line(canvas: Canvas, stroke: Stroke, a: Point, b: Point) -> None:
    _pen(canvas, stroke)
    canvas.line(*a, *b)


def _text(canvas: Canvas, words: Words, colour: str = line_styles.INK) -> None:
    """Words in their place, drawn narrower where they are wider than the room they were given.

    Letters that the standard fonts have not are black squares.
    """
    from reportlab.pdfbase.pdfmetrics import stringWidth

    line = words.line
    text = _plain(line.text)
    font = BOLD if line.warning else FONT
    width = stringWidth(text, font, line.size)
    if not width:
        return
    narrow = min(1.0, line.width / width)
    cos, sin = math.cos(words.angle), math.sin(words.angle)
    at = words.at
    if words.centred:
        at -= Point(cos, sin) * (width * narrow / 2.0)
    written = canvas.beginText()
    written.setTextTransform(cos * narrow, sin * narrow, -sin, cos, *at)
    written.setFont(font, line.size)
    written.setFillColor(line_styles.WARNING if line.warning else colour)
    written.textOut(text)
    canvas.drawText(written)


def _plain(text: str) -> str:
    """Text without what cannot be written at all: controls and halves of letters."""
    return "".join(c if c.isprintable() else "\ufffd" for c in text)


def _short(text: str, size: float, room: float) -> TextLine:
    """Text on one line, cut off where it does not go into the room."""
    from reportlab.pdfbase.pdfmetrics import stringWidth

    whole = text = _plain(" ".join(text.split()))
    while text and stringWidth(whole, FONT, size) > room:
        text = text[:-1]
        whole = text + "…"
    return TextLine(whole, size)


def _wrapped(text: str, size: float, room: float) -> list[TextLine]:
    """Text on as many lines as it takes, broken between words."""
    from reportlab.lib.utils import simpleSplit

    return [_short(part, size, room) for part in simpleSplit(_plain(text), FONT, size, room)]


# -- tiles -----------------------------------------------------------------------------------


def _form(number: int) -> str:
    """The name that a piece's drawing has in the file; tiles only call it."""
    return f"piece-{number + 1}"


def _tile(
    canvas: Canvas, document: Document, tiling: Tiling, tile: Tile, inks: Sequence[Ink]
) -> None:
    grid = tiling.grid
    window, cut = grid.window(tile), grid.crosses(tile)
    canvas.setPageSize((grid.page.width * POINTS, grid.page.height * POINTS))
    canvas.scale(POINTS, POINTS)
    canvas.translate(UNPRINTED - window.x0, UNPRINTED - window.y0)
    clip = canvas.beginPath()
    clip.rect(window.x0, window.y0, window.x1 - window.x0, window.y1 - window.y0)
    canvas.clipPath(clip, stroke=0)
    for x in (cut.x0, cut.x1):
        for y in (cut.y0, cut.y1):
            at = Point(x, y)
            for arm in (Point(ARM, 0.0), Point(0.0, ARM)):
                _line(canvas, PALE, at - arm, at + arm)
    _caption(canvas, document, tile, cut, inks)
    _neighbours(canvas, tiling, tile, inks)
    # The drawing comes last, so that nothing pale lies over it.
    for i, (placed, own) in enumerate(zip(tiling.sheet.placed, inks, strict=True)):
        if own.bounds.meets(window):
            canvas.saveState()
            canvas.translate(*placed.step)
            canvas.doForm(_form(i))
            canvas.restoreState()
    canvas.showPage()


def _caption(
    canvas: Canvas, document: Document, tile: Tile, cut: Rectangle, inks: Iterable[Ink]
) -> None:
    """The tile's name and what it is of, where they cross no line if there is such a place."""
    room = Rectangle(cut.x0 + INSIDE, cut.y0 + INSIDE, cut.x1 - INSIDE, cut.y1 - INSIDE)
    name = TextLine(str(tile), TILE_NAME)
    shorter = [
        _short(labels.title(document), SMALL, (room.x1 - room.x0) * part) for part in CAPTIONS
    ]
    down = SMALL * LEADING
    tried = (
        (what, free_corner(inks, room, Size(max(name.width, what.width), TILE_NAME + down)))
        for what in shorter
    )
    over_lines = shorter[-1], Point(room.x0, room.y1)
    what, corner = next(((what, at) for what, at in tried if at is not None), over_lines)
    at = corner - Point(0.0, TILE_NAME)
    _text(canvas, Words(name, at, centred=False), PALE.colour)
    _text(canvas, Words(what, at - Point(0.0, down), centred=False), PALE.colour)


def _neighbours(canvas: Canvas, tiling: Tiling, tile: Tile, inks: Sequence[Ink]) -> None:
    """On what is cut off or taped over: which tile comes there, beside the lines if it can be."""
    grid = tiling.grid
    band = grid.overlap / 2.0
    if band < NEIGHBOUR:
        return
    cut = grid.crosses(tile)
    inner = Rectangle(cut.x0 + ARM, cut.y0 + ARM, cut.x1 - ARM, cut.y1 - ARM)
    for rows, columns, room in (
        (-1, 0, inner._replace(y0=cut.y1, y1=cut.y1 + band)),
        (1, 0, inner._replace(y0=cut.y0 - band, y1=cut.y0)),
        (0, -1, inner._replace(x0=cut.x0 - band, x1=cut.x0)),
        (0, 1, inner._replace(x0=cut.x1, x1=cut.x1 + band)),
    ):
        other = Tile(tile.row + rows, tile.column + columns)
        if other in tiling.used:
            _in_band(canvas, TextLine(str(other), NEIGHBOUR), room, inks)


def _in_band(canvas: Canvas, name: TextLine, room: Rectangle, inks: Sequence[Ink]) -> None:
    """A name in the middle of a band, or else in the first place of it that is free of lines."""
    size = Size(name.width, NEIGHBOUR)
    x, y = (room.x0 + room.x1) / 2.0, (room.y0 + room.y1) / 2.0
    w, h = size.width / 2.0, size.height / 2.0
    middle = Rectangle(x - w, y - h, x + w, y + h)
    # Across the band it stays in the middle.
    along = (
        room._replace(y0=middle.y0, y1=middle.y1)
        if room.x1 - room.x0 > room.y1 - room.y0
        else room._replace(x0=middle.x0, x1=middle.x1)
    )
    free = (free_corner(inks, each, size) for each in (middle, along))
    corner = next((at for at in free if at is not None), Point(middle.x0, middle.y1))
    at = corner + Point(w, -0.8 * NEIGHBOUR)
    _text(canvas, Words(name, at), PALE.colour)


# -- the page with the map -------------------------------------------------------------------


def _map_page(
    canvas: Canvas, document: Document, tiling: Tiling, sizes: Sequence[TextLine]
) -> None:
    short, long = sorted(tiling.grid.page)
    canvas.setPageSize((short * POINTS, long * POINTS))
    canvas.scale(POINTS, POINTS)
    width = short - 2.0 * INSET
    over = _squares(canvas)
    beside = Point(INSET + over + APART, INSET + over)
    _written(canvas, _steps(document, tiling, width - over - APART), beside, INSET)
    floor = INSET + over + APART
    head = _head(document, sizes, width)
    key = samples(layout.roles(tiling.sheet.placed), Point(0.0, 0.0), width, layout.KEY_ROW)
    high = max(sample.words.at.y for sample in key) + KEY_HALF
    room = APART / 2.0 + high + KEY_HALF
    under = _written(canvas, head, Point(INSET, long - INSET), floor + LEAST_MAP + room)
    _key(canvas, (sample.moved(Point(INSET, under - APART / 2.0 - high)) for sample in key))
    under -= room
    _map(canvas, tiling, Rectangle(INSET, floor, INSET + width, under - APART / 2.0))
    canvas.showPage()


def _written(canvas: Canvas, lines: Iterable[TextLine], at: Point, floor: float) -> float:
    """Lines one under the other from an upper left corner, as many as go above the floor.

    Gives the height below them.
    """
    down = at.y
    for line in lines:
        if down - line.size * LEADING < floor:
            break
        down -= line.size * LEADING
        _text(canvas, Words(line, Point(at.x, down + 0.3 * line.size), centred=False))
    return down


def _head(document: Document, sizes: Sequence[TextLine], width: float) -> list[TextLine]:
    """What the drawing is."""
    pattern, held = document.pattern, document.proof.held
    lines = _wrapped(pattern.title, HEAD_SIZE, width)
    if pattern.body:
        lines.append(_short(label("label.for", name=pattern.body), LINE_SIZE, width))
    size = NOTE_SIZE if held else LINE_SIZE
    lines.append(TextLine(labels.proved(document), size, warning=not held))
    allowances = labels.allowances(document)
    tiles = label("label.tiles", block=pattern.block, allowances=allowances)
    lines += _wrapped(tiles, STEP_SIZE, width)
    return [*lines, *(part for size in sizes for part in _wrapped(size.text, SIZES_SIZE, width))]


def _sizes(sheet: layout.Sheet) -> list[TextLine]:
    """The finished sizes, which a sheet has in its strip to the right of its title."""
    return [
        words.line for words in sheet.words if not words.centred and words.at.x > layout.TITLE_AT
    ]


def _squares(canvas: Canvas) -> float:
    """The two squares to measure, in the lower left corner; gives how far they reach."""
    for off, side, says in SQUARES:
        low = INSET + off
        _pen(canvas, SQUARE)
        canvas.rect(low, low, side, side)
        # Each says what it is where the other does not reach.
        up = low + 2.5 if not off else low + side - 6.5
        _text(canvas, Words(TextLine(says, NOTE_SIZE), Point(low + side / 2.0, up)))
    return max(off + side for off, side, _ in SQUARES)


def _steps(document: Document, tiling: Tiling, width: float) -> list[TextLine]:
    """What to do, in lines that go into the width."""
    grid = tiling.grid
    count = len(tiling.used)
    empty = grid.columns * grid.rows - count
    turned = "landscape" if grid.page.width > grid.page.height else "portrait"
    left = f" {label('label.left-out', empty=empty)}" if empty else ""
    overlap = grid.overlap
    shared = label("label.share" if overlap else "label.share-nothing", overlap=overlap)
    paper = Tiled(document.options).paper.capitalize()
    steps = [
        label("label.print"),
        label("label.measure-squares"),
        f"{count} {'tile' if count == 1 else 'tiles'} of {paper} "
        f"paper, {turned}{_named(grid)}.{left}",
        *([label("label.paste", shared=shared)] if count > 1 else []),
        label("label.blades"),
    ]
    lines: list[TextLine] = []
    for number, step in enumerate(steps, start=1):
        lines += [*_wrapped(f"{number}. {step}", STEP_SIZE, width), TextLine("", STEP_SIZE / 2.0)]
    return lines


def _named(grid: Grid) -> str:
    """How tiles are named, as far as there are several."""
    last = Tile(grid.rows - 1, grid.columns - 1)
    letters, number = str(last).rstrip("0123456789"), last.column + 1
    said = []
    if grid.rows > 1:
        said.append(f"rows A {'and' if grid.rows == 2 else 'to'} {letters} from the top")
    if number > 1:
        said.append(f"columns 1 {'and' if number == 2 else 'to'} {number} from the left")
    return "; " + ", ".join(said) if said else ""


def _map(canvas: Canvas, tiling: Tiling, room: Rectangle) -> None:
    """All tiles with their names, the pieces on them, as large as goes into the room."""
    grid = tiling.grid
    width, height = grid.size
    scale = min((room.x1 - room.x0) / width, (room.y1 - room.y0) / height)
    name_size = min(NOTE_SIZE, 0.35 * min(grid.step) * scale)
    canvas.saveState()
    canvas.translate(room.x0, room.y1 - height * scale)
    canvas.scale(scale, scale)
    names = [_on_map(placed, grid, scale) for placed in tiling.sheet.placed]
    inks = [
        ink(replace(placed, lines=placed.lines[:1], strokes=(), marks=(), words=words)).moved(
            placed.step
        )
        for placed, words in zip(tiling.sheet.placed, names, strict=True)
    ]
    thin = PALE._replace(width=PALE.width / scale)
    _map_tiles(canvas, tiling, name_size / scale, thin, inks)
    pen = SMALL_OUTLINE._replace(width=SMALL_OUTLINE.width / scale)
    for placed, words in zip(tiling.sheet.placed, names, strict=True):
        _, outline = placed.lines[0]
        canvas.saveState()
        canvas.translate(*placed.step)
        _pen(canvas, pen)
        canvas.drawPath(_path(canvas, outline))
        for line in words:
            _text(canvas, line)
        canvas.restoreState()
    canvas.restoreState()


def _on_map(placed: layout.Placed, grid: Grid, scale: float) -> tuple[Words, ...]:
    """A piece's name near its middle, clear of its outline and of the tiles if it can be."""
    _, outline = placed.lines[0]
    x0, y0, x1, y1 = layout.bounds(outline)
    middle = Point((x0 + x1) / 2.0, (y0 + y1) / 2.0)
    says, size = labels.piece_name(placed.piece), PIECE_SIZE / scale
    cells = (grid.cell(tile).moved(-placed.step) for tile in grid.all())
    sides = [side for cell in cells for side in _sides(cell)]
    put = Room(outline, lines=sides).put_inside([TextLine(says, size)], [Near(middle)])
    return tuple(put.words) if put else (Words(_short(says, size, x1 - x0), middle),)


def _sides(cell: Rectangle) -> list[tuple[Point, Point]]:
    corners = [
        Point(cell.x0, cell.y0),
        Point(cell.x1, cell.y0),
        Point(cell.x1, cell.y1),
        Point(cell.x0, cell.y1),
    ]
    return [*zip(corners, [*corners[1:], corners[0]], strict=True)]


def _map_tiles(
    canvas: Canvas, tiling: Tiling, size: float, pen: Stroke, inks: Sequence[Ink]
) -> None:
    """Every tile with its name, beside the outlines if it can be; an empty one is crossed out."""
    grid = tiling.grid
    for tile in grid.all():
        x0, y0, x1, y1 = grid.cell(tile)
        _pen(canvas, pen)
        canvas.rect(x0, y0, x1 - x0, y1 - y0)
        if tile in tiling.used:
            inset = 0.2 * size
            room = Rectangle(x0 + inset, y0 + inset, x1 - inset, y1 - inset)
            for share in MAP_NAMES:
                high = share * size
                name = TextLine(str(tile), high)
                free = free_corner(inks, room, Size(name.width, high), high / 2.0)
                if free:
                    break
            at = (free or Point(room.x0, room.y1)) - Point(0.0, 0.9 * high)
            _text(canvas, Words(name, at, centred=False), "#606060")
        else:
            canvas.line(x0, y0, x1, y1)
            canvas.line(x0, y1, x1, y0)
