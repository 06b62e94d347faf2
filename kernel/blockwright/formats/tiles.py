"""A drawing cut into tiles: pieces packed to save paper, and which tiles are needed; mm, y up."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import replace
from itertools import product
from typing import NamedTuple

from blockwright.curves._numpy import np
from blockwright.curves.point import Point
from blockwright.errors import InputError
from blockwright.formats import layout
from blockwright.formats.options import Tiled
from blockwright.formats.packing import Size, UpperLeft, orders, pack
from blockwright.formats.text_placement import apart, around, lines_near

# ISO 216 and the US sizes, published.
PAPERS = {
    "a4": Size(210.0, 297.0),
    "a3": Size(297.0, 420.0),
    "letter": Size(215.9, 279.4),
    "tabloid": Size(279.4, 431.8),
}
# What home printers leave free at the edge of the paper at most; common practice, no source.
UNPRINTED = 10.0
# With more of it shared the crosses of a letter page come too near each other.
MOST_OVERLAP = 60.0
# Between pieces, so that scissors pass; and from the edge of the drawing.
GAP, EDGE = 10.0, 3.0
# The outermost crosses stand so far from the edge of the drawing, outside every piece.
RIM = 2.0
# Curves are looked at as straight lines this near to them, and strokes are so wide on one side.
FLAT, HALF_STROKE = 0.1, 0.35
REACH = FLAT + HALF_STROKE
# Words for the paster keep so far from every line, are tried at places so far apart, and at so
# many together.
CLEAR, TRIED, TOGETHER = 1.0, 5.0, 16
# Sheets so many tiles wide are tried at most; wider ones are never the best.
MOST_COLUMNS = 16


class Rectangle(NamedTuple):
    """An upright rectangle."""

    x0: float
    y0: float
    x1: float
    y1: float

    def meets(self, other: Rectangle) -> bool:
        """Whether they have a point in common."""
        return (
            self.x0 <= other.x1
            and other.x0 <= self.x1
            and self.y0 <= other.y1
            and other.y0 <= self.y1
        )

    def moved(self, step: Point) -> Rectangle:
        """The rectangle at another place."""
        return Rectangle(self.x0 + step.x, self.y0 + step.y, self.x1 + step.x, self.y1 + step.y)


class Tile(NamedTuple):
    """Which tile: rows from the top, columns from the left, both from 0."""

    row: int
    column: int

    def __str__(self) -> str:
        """The name on it: letters for the row, a number for the column: A1, A2, B1."""
        letters, row = "", self.row
        while row >= 0:
            letters = chr(ord("A") + row % 26) + letters
            row = row // 26 - 1
        return f"{letters}{self.column + 1}"


class Grid(NamedTuple):
    """Tiles of one size over a drawing, each sharing `overlap` with the next."""

    page: Size
    overlap: float
    columns: int
    rows: int

    @property
    def step(self) -> Size:
        """From one tile to the next."""
        across, up = (side - 2.0 * UNPRINTED - self.overlap for side in self.page)
        return Size(across, up)

    @property
    def size(self) -> Size:
        """Of the drawing that they hold together."""
        across, up = self.step
        return Size(self.columns * across + self.overlap, self.rows * up + self.overlap)

    def all(self) -> Iterator[Tile]:
        """Every tile, row by row."""
        return (Tile(row, column) for row in range(self.rows) for column in range(self.columns))

    def window(self, tile: Tile) -> Rectangle:
        """What a tile shows of the drawing."""
        across, up = self.step
        x, y = tile.column * across, (self.rows - 1 - tile.row) * up
        return Rectangle(x, y, x + across + self.overlap, y + up + self.overlap)

    def crosses(self, tile: Tile) -> Rectangle:
        """The rectangle between its crosses, which lie on those of its neighbours.

        At the rim they stand outside every piece, so that a cut from cross to cross takes nothing
        off it.
        """
        x0, y0, x1, y1 = self.window(tile)
        half = self.overlap / 2.0
        return Rectangle(
            x0 + (half if tile.column else RIM),
            y0 + (half if tile.row < self.rows - 1 else RIM),
            x1 - (half if tile.column < self.columns - 1 else RIM),
            y1 - (half if tile.row else RIM),
        )

    def cell(self, tile: Tile) -> Rectangle:
        """What is left of it when it is cut from cross to cross, at the rim all that it shows."""
        shows, cut = self.window(tile), self.crosses(tile)
        return Rectangle(
            cut.x0 if tile.column else shows.x0,
            cut.y0 if tile.row < self.rows - 1 else shows.y0,
            cut.x1 if tile.column < self.columns - 1 else shows.x1,
            cut.y1 if tile.row else shows.y1,
        )


class Tiling(NamedTuple):
    """The packed drawing, the tiles over it, and those with a line or a word in their cell."""

    sheet: layout.Sheet
    grid: Grid
    used: tuple[Tile, ...]


class Ink(NamedTuple):
    """Straight lines (n, 2, 2) that stand for all that is drawn on a piece, and their bounds."""

    lines: np.ndarray
    bounds: Rectangle

    def moved(self, step: Point) -> Ink:
        """The ink at another place."""
        return Ink(np.add(self.lines, [*step]), self.bounds.moved(step))


def tiled(sheet: layout.Sheet, chosen: Tiled) -> Tiling:
    """The sheet's pieces packed, and cut into as few tiles as can be, upright or across.

    Raises InputError for a paper that there is not and for an overlap that leaves no paper.
    """
    paper = _paper(chosen)
    inks = [ink(placed) for placed in sheet.placed]
    spans = [_span(placed) for placed in sheet.placed]
    sizes = [Size(x1 - x0, y1 - y0) for x0, y0, x1, y1 in spans]
    best: tuple[tuple[int, int], Grid, list[Point], tuple[Tile, ...]] | None = None
    seen = set()
    for page in (paper, Size(paper.height, paper.width)):
        for columns, order in product(_columns(sizes, page, chosen.overlap), orders(sizes)):
            grid = Grid(page, chosen.overlap, columns, 1)
            corners = pack(sizes, order, grid.size.width - 2.0 * EDGE, GAP)
            if (page, tuple(corners)) in seen:
                continue
            seen.add((page, tuple(corners)))
            grid = _holding(grid, sizes, corners)
            steps = [
                Point(EDGE + at.x - span.x0, grid.size.height - EDGE - at.down - span.y1)
                for at, span in zip(corners, spans, strict=True)
            ]
            used = _used(grid, inks, steps)
            cost = (len(used), grid.columns * grid.rows)
            if best is None or cost < best[0]:
                best = (cost, grid, steps, used)
    assert best is not None  # a draft has a piece, and there is a width for the widest
    _, grid, steps, used = best
    placed = tuple(replace(one, step=step) for one, step in zip(sheet.placed, steps, strict=True))
    return Tiling(layout.Sheet(placed, (), (), *grid.size), grid, used)


def _paper(chosen: Tiled) -> Size:
    if chosen.paper not in PAPERS:
        raise InputError.coded("format.paper", paper=chosen.paper, known=[*PAPERS])
    if not 0.0 <= chosen.overlap <= MOST_OVERLAP:
        raise InputError.coded("format.overlap", overlap=chosen.overlap, most=MOST_OVERLAP)
    return PAPERS[chosen.paper]


def _columns(sizes: list[Size], page: Size, overlap: float) -> range:
    """How many tiles wide the sheet may be: from the widest piece to all side by side."""
    step = Grid(page, overlap, 1, 1).step.width
    least, most = (
        max(1, math.ceil((width + 2.0 * EDGE - overlap) / step))
        for width in (
            max(size.width for size in sizes),
            sum(size.width + GAP for size in sizes) - GAP,
        )
    )
    return range(least, min(most, least + MOST_COLUMNS) + 1)


def _holding(grid: Grid, sizes: list[Size], corners: list[UpperLeft]) -> Grid:
    """The grid with the columns and rows that the packed pieces take."""
    right = max(at.x + size.width for at, size in zip(corners, sizes, strict=True))
    down = max(at.down + size.height for at, size in zip(corners, sizes, strict=True))
    columns, rows = (
        max(1, math.ceil((length + 2.0 * EDGE - grid.overlap) / step))
        for length, step in zip((right, down), grid.step, strict=True)
    )
    return grid._replace(columns=columns, rows=rows)


# -- ink -------------------------------------------------------------------------------------


def ink(placed: layout.Placed) -> Ink:
    """All that is drawn on a piece, words as boxes, in its own coordinates."""
    chains = [curve.flatten(accuracy=FLAT) for _, curves in placed.lines for curve in curves]
    pairs = [(a, b) for _, a, b in placed.strokes]
    pairs += [arm for mark in placed.marks for arm in layout.cross(mark)]
    pairs += [side for words in placed.words for side in around(words).sides()]
    lines = np.concatenate(
        [
            *(np.stack([chain[:-1], chain[1:]], axis=1) for chain in chains),
            np.array([[[*a], [*b]] for a, b in pairs]).reshape(-1, 2, 2),
        ]
    )
    (x0, y0), (x1, y1) = lines.min(axis=(0, 1)) - REACH, lines.max(axis=(0, 1)) + REACH
    return Ink(lines, Rectangle(float(x0), float(y0), float(x1), float(y1)))


def _span(placed: layout.Placed) -> Rectangle:
    """The rectangle that a piece needs, with words beside it."""
    x0, y0, x1, y1 = placed.extent
    return Rectangle(x0 - HALF_STROKE, y0 - HALF_STROKE, x1 + HALF_STROKE, y1 + HALF_STROKE)


def _used(grid: Grid, inks: Iterable[Ink], steps: Iterable[Point]) -> tuple[Tile, ...]:
    """The tiles with ink in their cell."""
    cells = {tile: grid.cell(tile) for tile in grid.all()}
    used = set()
    for one, step in zip(inks, steps, strict=True):
        bounds = one.bounds.moved(step)
        used |= {
            tile
            for tile, cell in cells.items()
            if tile not in used and cell.meets(bounds) and _crossed(one.lines, cell.moved(-step))
        }
    return tuple(sorted(used))


def free_corner(
    inks: Iterable[Ink], room: Rectangle, size: Size, step: float = TRIED
) -> Point | None:
    """The upper left corner of a free rectangle in the room, the nearest to the room's own.

    None when lines come into it everywhere; `inks` where they lie on the drawing.  Places are
    tried `step` mm apart.
    """
    across = np.arange(room.x0, room.x1 - size.width + REACH, step)
    down = np.arange(room.y1, room.y0 + size.height - REACH, -step)
    corners = np.stack(np.meshgrid(across, down), axis=-1).reshape(-1, 2)
    grown = Rectangle(room.x0 - CLEAR, room.y0 - CLEAR, room.x1 + CLEAR, room.y1 + CLEAR)
    width, height = size.width + 2.0 * CLEAR, size.height + 2.0 * CLEAR
    lines = np.concatenate(
        [np.empty((0, 2, 2)), *(ink.lines for ink in inks if ink.bounds.meets(grown))]
    )
    low = np.array([grown.x0 - REACH, grown.y0 - REACH])
    high = np.array([grown.x1 + REACH, grown.y1 + REACH])
    lines = lines_near(lines, low, high)
    away = np.hypot(*(corners - [room.x0, room.y1]).T)
    corners = corners[np.argsort(away, kind="stable")]
    for first in range(0, len(corners), TOGETHER):
        part = corners[first : first + TOGETHER]
        middles = part[:, None, None] + [size.width / 2.0, -size.height / 2.0]
        free = apart(lines - middles, width / 2.0 + REACH, height / 2.0 + REACH).all(axis=1)
        if free.any():
            return Point(*part[free.argmax()].tolist())
    return None


def _crossed(lines: np.ndarray, box: Rectangle) -> bool:
    """Whether any line comes into an upright box, strokes being as wide as they are."""
    middle = np.array([(box.x0 + box.x1) / 2.0, (box.y0 + box.y1) / 2.0])
    half = (box.x1 - box.x0) / 2.0 + REACH, (box.y1 - box.y0) / 2.0 + REACH
    return not bool(apart(lines - middle, *half).all())
