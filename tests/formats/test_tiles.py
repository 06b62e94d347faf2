"""The tiles, read back by pypdf and pypdfium2, and pasted together again."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import combinations
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely
from format_samples import document, two_pieces
from hypothesis import given
from hypothesis import strategies as st
from pdf_reader import MM, count, pages, paths, place_of, render, size
from scipy.ndimage import minimum_filter

from blockwright import Affine, Document, InputError, Point, draft, load, load_sheet, prove
from blockwright.formats import layout, line_styles, pdf, tiles
from blockwright.formats.options import Tiled
from blockwright.formats.packing import Size, orders, pack
from blockwright.pattern.finishing.finish import Finish, finish

WORKROOM = Path(__file__).parents[2] / "examples" / "workroom"
# ISO 216 and US sizes, mm, published.
PUBLISHED = {
    "a4": (210.0, 297.0),
    "a3": (297.0, 420.0),
    "letter": (8.5 * 25.4, 11.0 * 25.4),
    "tabloid": (11.0 * 25.4, 17.0 * 25.4),
}
SIX = "bodice.fitted+skirt.straight+trousers.straight"
WARDROBE = "bodice.fitted+sleeve.fitted+skirt.straight+trousers.straight"
MARGIN = 10
# Pixels for a millimetre: papers, tiles and crosses all fall on whole pixels.
FINE, COARSE = 10, 5
# Lines of the drawing are darker than this, what is printed for the paster is paler.
DARK, PALE = 120, 155


@cache
def drafted(keys: str, done: bool = True) -> Document:
    host = load()
    sheet = load_sheet(WORKROOM / "nora.toml")
    pattern = draft([host.block(key) for key in keys.split("+")], sheet)
    cut = tuple(finish(piece, Finish()) for piece in pattern.pieces) if done else ()
    return Document(pattern, prove(pattern), sheet.units, cut)


def on(whole: Document, paper: str, overlap: float = 15.0) -> Document:
    return replace(whole, options={"paper": paper, "overlap": overlap})


def tiling(whole: Document) -> tiles.Tiling:
    return tiles.tiled(layout.lay_out(whole), Tiled(whole.options))


# -- pages -----------------------------------------------------------------------------------


@pytest.mark.parametrize("paper", PUBLISHED)
def test_pages_are_the_paper_and_every_tile_says_its_name(paper: str) -> None:
    whole = on(drafted("bodice.fitted"), paper)
    data = pdf.write_tiles(whole)
    first, *rest = pages(data)
    width, height = PUBLISHED[paper]
    assert size(first) == pytest.approx((width * MM, height * MM), abs=0.01)
    turned = {size(page) for page in rest}
    assert len(turned) == 1
    assert sorted(turned.pop()) == pytest.approx([width * MM, height * MM], abs=0.01)
    plan = tiling(whole)
    assert len(rest) == len(plan.used) == count(data) - 1
    for tile, page in zip(plan.used, rest, strict=True):
        assert str(tile) in page.extract_text().split("\n")
    says = " ".join(first.extract_text().split())
    empty = plan.grid.columns * plan.grid.rows - len(plan.used)
    assert f"{len(plan.used)} tiles of {paper.capitalize()} paper" in says
    assert ("left out" in says) == bool(empty)
    for words in ("100 %", "10 cm", "4 in", "Blades", "They share 15 mm", *map(str, plan.used)):
        assert words in says, words
    missing = {str(tile) for tile in plan.grid.all()} - set(map(str, plan.used))
    assert not missing & set(says.split())


def test_names_of_rows_go_on_after_z() -> None:
    named = [str(tiles.Tile(row, 0)) for row in (0, 25, 26, 27, 51, 52, 701, 702)]
    assert named == ["A1", "Z1", "AA1", "AB1", "AZ1", "BA1", "ZZ1", "AAA1"]


@pytest.mark.parametrize("paper", PUBLISHED)
def test_the_squares_measure_ten_centimetres_and_four_inches_on_the_print(paper: str) -> None:
    data = pdf.write_tiles(on(document(), paper))
    page = render(data, 0, 300.0 / 25.4)
    wide, tall = PUBLISHED[paper]
    corner = round(124.0 * 300.0 / 25.4)  # lower left, below the map
    # From the left the metric square begins first, from the top the other.
    for across, length, sides in ((page, wide, (100.0, 101.6)), (page.T, tall, (101.6, 100.0))):
        # The renderer stretches the page to whole pixels, less than one for the whole page.
        a_mm = across.shape[1] / length
        assert a_mm == pytest.approx(300.0 / 25.4, rel=1.0 / across.shape[1])
        across = across[-corner:, :corner] if across is page else across[:corner, -corner:]
        dark = np.clip((PALE - across.astype(float)) / PALE, 0.0, 1.0)
        ruled = dark.sum(axis=0)
        long = np.flatnonzero(ruled > 60.0 * a_mm * dark.max())
        lines = np.split(long, np.flatnonzero(np.diff(long) > 1) + 1)
        assert len(lines) == 4
        # The middle of each line, by the darkness of all the pixels that it lies on.
        ink = (255.0 - across.astype(float)).sum(axis=0)
        near = [np.arange(line[0] - 2, line[-1] + 3) for line in lines]
        base = [min(ink[at[0]], ink[at[-1]]) for at in near]
        middles = [
            float((at * (ink[at] - low)).sum() / (ink[at] - low).sum())
            for at, low in zip(near, base, strict=True)
        ]
        a, b, c, d = sorted(middles)
        assert {a, b, c, d} == set(middles)
        assert c - a == pytest.approx(sides[0] * a_mm, abs=0.5)
        assert d - b == pytest.approx(sides[1] * a_mm, abs=0.5)


# -- pasted together -------------------------------------------------------------------------


def printed(whole: Document, plan: tiles.Tiling, pixels: int) -> list[np.ndarray]:
    """All tiles, rendered."""
    data = pdf.write_tiles(whole)
    return [render(data, number, pixels) for number, _ in enumerate(plan.used, start=1)]


def pasted(
    whole: Document, plan: tiles.Tiling, pixels: int, sheets: list[np.ndarray], rim: float = 0.0
) -> np.ndarray:
    """All tiles cut from cross to cross and pasted.

    `rim`: what is cut off where no tile comes, mm.
    """
    width, height = (round(side * pixels) for side in plan.grid.page)
    paste = round(Tiled(whole.options).overlap * pixels / 2.0)
    step_x = width - 2 * MARGIN * pixels - 2 * paste
    step_y = height - 2 * MARGIN * pixels - 2 * paste
    rows, columns = plan.grid.rows, plan.grid.columns
    off = round(rim * pixels)
    table = np.full((rows * step_y + 2 * paste, columns * step_x + 2 * paste), 255, np.uint8)
    for page, (row, column) in zip(sheets, plan.used, strict=True):
        assert page.shape == (height, width)
        edge = MARGIN * pixels
        # Nothing where printers do not print; the renderer clips to whole pixels, rounded out.
        for rim in (page, page[::-1], page.T, page.T[::-1]):
            assert (rim[: edge - 1] == 255).all()
        page = page[edge:-edge, edge:-edge]
        cut = [
            paste if row else off,
            page.shape[0] - (paste if row < rows - 1 else off),
            paste if column else off,
            page.shape[1] - (paste if column < columns - 1 else off),
        ]
        top, left = row * step_y, column * step_x
        table[top + cut[0] : top + cut[1], left + cut[2] : left + cut[3]] = page[
            cut[0] : cut[1], cut[2] : cut[3]
        ]
    return table


def page_of(whole: Document, plan: tiles.Tiling) -> Any:
    """The page of the first tile, which lies at the rim."""
    assert plan.used[0].row == 0
    return pages(pdf.write_tiles(whole))[1]


def arms(page: Any) -> list[np.ndarray]:
    """The lines of the crosses on a page, from end to end."""
    return [p.pieces[0] for p in paths(page) if abs(p.width - 0.25) < 1e-4 and not p.dashes]


def cross_at(page: Any, plan: tiles.Tiling) -> float:
    """How far below the upper edge of what is printed the crosses stand, mm."""
    heights = [arm[0, 1] for arm in arms(page) if arm[0, 1] == arm[3, 1]]
    return plan.grid.page.height - MARGIN - max(heights)


@pytest.mark.parametrize(
    ("keys", "options", "pixels"),
    [
        ("", {}, FINE),
        ("sleeve.fitted", {"paper": "letter", "overlap": 24.0}, FINE),
        ("bodice.fitted+sleeve.fitted", {"paper": "a3", "overlap": 0.0}, COARSE),
        (SIX, {"paper": "tabloid", "overlap": 16.0}, COARSE),
    ],
    ids=["one, bare", "one, finished", "no overlap", "six"],
)
def test_tiles_pasted_together_are_the_drawing(keys: str, options: dict, pixels: int) -> None:
    whole = replace(drafted(keys) if keys else document(), options=options)
    plan = tiling(whole)
    sheets = printed(whole, plan, pixels)
    table = pasted(whole, plan, pixels, sheets)
    page = render(pdf.write_sheet(whole, plan.sheet), 0, pixels)  # the same drawing as one page
    assert table.shape == page.shape
    drawn = page < DARK
    assert drawn.sum() > 10_000
    # Pixel by pixel they are the same, but for a letter that the renderer sets a pixel aside.
    assert np.abs(table[drawn].astype(int) - page[drawn]).mean() < 0.5
    assert (minimum_filter(table, 3)[drawn] <= page[drawn].astype(int) + 25).all()  # none lost
    assert (minimum_filter(page, 3)[table < DARK] < 200).all()  # and none added
    # The same for one who cuts through every cross there is, those at the rim as well: what that
    # takes off is no part of a piece, such as the arm of a mark on its edge.
    bare = pasted(whole, plan, pixels, sheets, rim=cross_at(page_of(whole, plan), plan))
    down, along = np.nonzero(drawn & (bare != table))
    lost = shapely.points((along + 0.5) / pixels, (page.shape[0] - down - 0.5) / pixels)
    assert not shapely.intersects(shapely.union_all(list(cut_out(plan))), lost).any()
    # Left out are those without ink, all of them and no other.
    grid = plan.grid
    for tile in grid.all():
        x0, y0, x1, y1 = (side * pixels for side in grid.cell(tile))
        tall = page.shape[0]
        cell = page[round(tall - y1) : round(tall - y0), round(x0) : round(x1)]
        if tile not in plan.used:
            assert (cell == 255).all(), str(tile)
    for tile in plan.used:
        x0, y0, x1, y1 = (side * pixels for side in grid.cell(tile))
        near = pixels  # a line that only grazes the cell counts
        top, left = max(0, round(tall - y1) - near), max(0, round(x0) - near)
        assert (page[top : round(tall - y0) + near, left : round(x1) + near] < 255).any()


def test_a_tile_that_is_missing_or_moved_is_noticed(monkeypatch: pytest.MonkeyPatch) -> None:
    whole = document()
    right = tiles.tiled
    wrong = tiling(whole)
    monkeypatch.setattr(pdf, "tiled", lambda *a: right(*a)._replace(used=wrong.used[::-1]))
    with pytest.raises(AssertionError):
        test_tiles_pasted_together_are_the_drawing("", dict(whole.options), COARSE)
    monkeypatch.undo()
    monkeypatch.setattr(pdf, "UNPRINTED", 10.2)
    with pytest.raises(AssertionError):
        test_tiles_pasted_together_are_the_drawing("", dict(whole.options), COARSE)


@pytest.mark.parametrize("done", [True, False])
def test_outlines_on_tiles_have_their_true_length(done: bool) -> None:
    whole = drafted(SIX, done)
    plan = tiling(whole)
    # An outline on the fold is drawn in two parts, each from where it starts.
    parts = [
        (curves, curves[0].start + placed.step)
        for placed in plan.sheet.placed
        for role, curves in placed.parted()
        if role in ("outline", "fold")
    ]
    wanted = [sum(curve.length for curve in curves) for curves, _ in parts]
    shown: set[int] = set()
    pen = line_styles.STROKES["outline"].width
    for tile, page in zip(plan.used, pages(pdf.write_tiles(whole))[1:], strict=True):
        outlines = [path for path in paths(page) if abs(path.width - pen) < 1e-4]
        assert outlines
        shows = plan.grid.window(tile)
        for path in outlines:
            at = path.pieces[0, 0] - [MARGIN, MARGIN] + [shows.x0, shows.y0]
            which = min(range(len(parts)), key=lambda i: np.abs(at - [*parts[i][1]]).max())
            assert at == pytest.approx([*parts[which][1]], abs=1e-3)
            assert path.length == pytest.approx(wanted[which], abs=0.01)
            shown.add(which)
    assert shown == set(range(len(wanted)))


@pytest.mark.parametrize("overlap", [0.0, 15.0, 40.0])
def test_crosses_lie_on_those_of_the_next_tile(overlap: float) -> None:
    whole = on(drafted("bodice.fitted"), "letter", overlap)
    plan = tiling(whole)
    for tile, page in zip(plan.used, pages(pdf.write_tiles(whole))[1:], strict=True):
        width, height = (side / MM for side in size(page))
        found = arms(page)
        last = tiles.Tile(plan.grid.rows - 1, plan.grid.columns - 1)
        left, right, top, bottom = (
            MARGIN + (2.0 if at_rim else overlap / 2.0)
            for at_rim in (
                tile.column == 0,
                tile.column == last.column,
                tile.row == 0,
                tile.row == last.row,
            )
        )
        for x in (left, width - right):
            for y in (bottom, height - top):
                for arm in ([5.0, 0.0], [0.0, 5.0]):
                    ends = np.add([x, y], [np.negative(arm), arm])
                    assert any(np.abs(each[[0, 3]] - ends).max() < 1e-3 for each in found)
        beside = [(-1, 0), (1, 0), (0, -1), (0, 1)]
        names = {tiles.Tile(tile.row + i, tile.column + j) for i, j in beside} & set(plan.used)
        words = page.extract_text().split("\n")
        assert all((str(name) in words) == (overlap > 0.0) for name in names)


@pytest.mark.parametrize("overlap", [0.0, 15.0, 60.0])
@pytest.mark.parametrize("paper", PUBLISHED)
@pytest.mark.parametrize("keys", [SIX, "skirt.straight", "sleeve.fitted"])
def test_no_line_lies_outside_the_outermost_crosses(keys: str, paper: str, overlap: float) -> None:
    plan = tiling(on(drafted(keys), paper, overlap))
    (first, *_), (*_, last) = [*plan.grid.all()], [*plan.grid.all()]
    inside = shapely.box(
        plan.grid.crosses(first).x0,
        plan.grid.crosses(last).y0,
        plan.grid.crosses(last).x1,
        plan.grid.crosses(first).y1,
    )
    pen = line_styles.STROKES["outline"].width / 2.0
    for placed in plan.sheet.placed:
        for _, curves in placed.lines:
            for curve in curves:
                drawn = shapely.LineString(curve.moved(Affine.move(placed.step)).flatten())
                assert inside.contains(drawn.buffer(pen))
    # Tiles meet cross on cross.
    for tile in plan.grid.all():
        here = plan.grid.crosses(tile)
        if tile.column:
            beside = plan.grid.crosses(tile._replace(column=tile.column - 1))
            assert (here.x0, here.y0, here.y1) == pytest.approx((beside.x1, beside.y0, beside.y1))
        if tile.row:
            above = plan.grid.crosses(tile._replace(row=tile.row - 1))
            assert (here.y1, here.x0, here.x1) == pytest.approx((above.y0, above.x0, above.x1))


@pytest.mark.parametrize("keys", ["sleeve.fitted", "skirt.straight", "bodice.fitted"])
@pytest.mark.parametrize("done", [False, True])
def test_the_name_of_a_tile_crosses_no_line(keys: str, done: bool) -> None:
    whole = drafted(keys, done)
    data = pdf.write_tiles(whole)
    title = f"{whole.pattern.title} for {whole.pattern.body}"
    for number, tile in enumerate(tiling(whole).used, start=1):
        left, bottom, right, top = (round(4 * side) for side in place_of(data, number, title))
        page = render(data, number, 4.0)[::-1]
        # Above what it is of stands its name, 7 mm high.
        caption = page[bottom : top + 28, left:right]
        assert (caption < 200).any()
        assert (caption > DARK).all(), str(tile)


def test_a_free_corner_is_the_nearest_there_is() -> None:
    room, size_ = tiles.Rectangle(0.0, 0.0, 100.0, 50.0), Size(20.0, 10.0)

    def ink(*lines: tuple[float, float, float, float]) -> tiles.Ink:
        drawn = np.array(lines).reshape(-1, 2, 2)
        return tiles.Ink(drawn, tiles.Rectangle(*drawn.min(axis=(0, 1)), *drawn.max(axis=(0, 1))))

    assert tiles.free_corner([], room, size_) == Point(0.0, 50.0)
    assert tiles.free_corner([ink((500, 0, 500, 50))], room, size_) == Point(0.0, 50.0)
    assert tiles.free_corner([ink((0, 45, 100, 45))], room, size_) == Point(0.0, 40.0)
    assert tiles.free_corner([ink((10, 0, 10, 50))], room, size_) == Point(15.0, 50.0)
    both = [ink((10, 0, 10, 50)), ink((15, 45, 100, 45))]
    assert tiles.free_corner(both, room, size_) == Point(15.0, 40.0)
    grid = ink(*((x, 0, x, 50) for x in range(0, 101, 10)))
    assert tiles.free_corner([grid], room, size_) is None
    assert tiles.free_corner([], room, Size(120.0, 10.0)) is None


def said(whole: Document) -> str:
    """The words beside the squares."""
    return " ".join(pages(pdf.write_tiles(whole))[0].extract_text().split())


@pytest.mark.parametrize(
    ("keys", "paper", "columns", "rows", "words"),
    [
        ("skirt.straight", "a4", 1, 8, "landscape; rows A to H from the top. 4."),
        (
            "sleeve.fitted",
            "a4",
            2,
            3,
            "portrait; rows A to C from the top, columns 1 and 2 from the left. 4.",
        ),
        ("skirt.gored", "a3", 1, 2, "portrait; rows A and B from the top. 4."),
    ],
)
def test_rows_and_columns_are_those_there_are(
    keys: str, paper: str, columns: int, rows: int, words: str
) -> None:
    whole = on(drafted(keys, False), paper)
    grid = tiling(whole).grid
    assert (grid.columns, grid.rows) == (columns, rows)
    assert words in said(whole)


# -- packed ----------------------------------------------------------------------------------


@pytest.mark.parametrize("keys", ["bodice.fitted+sleeve.fitted", SIX, "skirt.straight"])
def test_paper_upright_or_across_whichever_is_less(
    keys: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The paper turned before it is asked for makes no difference."""
    whole = drafted(keys)
    counts = set()
    for width, height in (PUBLISHED["a4"], PUBLISHED["a4"][::-1]):
        monkeypatch.setitem(tiles.PAPERS, "a4", Size(width, height))
        counts.add(len(tiling(whole).used))
    assert len(counts) == 1


def spans(plan: tiles.Tiling) -> Iterator[shapely.Polygon]:
    for placed in plan.sheet.placed:
        x0, y0, x1, y1 = layout.bounds(placed.lines[0][1])
        x, y = placed.step
        yield shapely.box(x0 + x, y0 + y, x1 + x, y1 + y)


def cut_out(plan: tiles.Tiling) -> Iterator[shapely.Polygon]:
    """The pieces where they lie, with the pen that is drawn round them."""
    for placed in plan.sheet.placed:
        chains = [c.moved(Affine.move(placed.step)).flatten() for c in placed.lines[0][1]]
        yield shapely.Polygon(np.concatenate(chains)).buffer(0.35)


@pytest.mark.parametrize("paper", PUBLISHED)
def test_a_wardrobe_takes_fewer_tiles_than_side_by_side(paper: str) -> None:
    whole = on(drafted(WARDROBE), paper)
    plan = tiling(whole)
    boxes = list(spans(plan))
    assert len(boxes) == 7
    for one, other in combinations(boxes, 2):
        assert one.distance(other) >= tiles.GAP - 1e-6
    assert shapely.box(0.0, 0.0, plan.sheet.width, plan.sheet.height).contains(
        shapely.union_all(boxes)
    )
    assert len(plan.used) < fewest_side_by_side(whole), paper


def fewest_side_by_side(whole: Document) -> int:
    """Tiles with a line on them when the pieces stay as the sheet has them, its strip cut off."""
    sheet = layout.lay_out(whole)
    lines = shapely.union_all(
        [
            shapely.LineString(curve.moved(Affine.move(placed.step)).flatten(accuracy=0.05))
            for placed in sheet.placed
            for _, curves in placed.lines
            for curve in curves
        ]
    )
    x0, y0, x1, y1 = lines.bounds
    shared = Tiled(whole.options).overlap
    counts = []
    width, height = PUBLISHED[Tiled(whole.options).paper]
    for across, up in ((width, height), (height, width)):
        step_x, step_y = across - 2 * MARGIN - shared, up - 2 * MARGIN - shared
        columns = math.ceil((x1 - x0 - shared) / step_x)
        rows = math.ceil((y1 - y0 - shared) / step_y)
        cells = [
            shapely.box(
                x0 + i * step_x + (shared / 2.0 if i else 0.0),
                y1 - (j + 1) * step_y - (shared if j == rows - 1 else shared / 2.0),
                x0 + (i + 1) * step_x + (shared if i == columns - 1 else shared / 2.0),
                y1 - j * step_y - (shared / 2.0 if j else 0.0),
            )
            for i in range(columns)
            for j in range(rows)
        ]
        counts.append(sum(cell.intersects(lines) for cell in cells))
    return min(counts)


_SIDES = st.floats(1.0, 900.0)


@given(
    st.lists(st.tuples(_SIDES, _SIDES), min_size=1, max_size=9),
    st.floats(0.0, 900.0),
    st.floats(0.0, 20.0),
)
def test_packed_rectangles_never_overlap(
    sides: list[tuple[float, float]], more: float, gap: float
) -> None:
    sizes = [Size(*each) for each in sides]
    width = max(size.width for size in sizes) + more
    for order in orders(sizes):
        assert sorted(order) == list(range(len(sizes)))
        corners = pack(sizes, order, width, gap)
        taken = []
        for size_, at in zip(sizes, corners, strict=True):
            assert at.x >= 0.0
            assert at.down >= 0.0
            assert at.x + size_.width <= width + 1e-6
            taken.append((at.x, at.down, at.x + size_.width, at.down + size_.height))
        for (a, b, c, d), (e, f, g, h) in combinations(taken, 2):
            assert max(e - c, a - g, f - d, b - h) >= gap - 1e-6


def test_packed_as_high_and_as_far_left_as_it_goes() -> None:
    sizes = [Size(30.0, 50.0), Size(60.0, 20.0), Size(20.0, 20.0), Size(10.0, 10.0)]
    assert pack(sizes, range(4), 100.0, 5.0) == [
        (0.0, 0.0),
        (35.0, 0.0),
        (35.0, 25.0),
        (60.0, 25.0),
    ]
    with pytest.raises(InputError, match=r"60 mm .* 50 mm"):
        pack(sizes, range(4), 50.0, 5.0)


# -- odd documents ---------------------------------------------------------------------------


@pytest.mark.parametrize("paper", ["a5", "", "A4", "legal"])
def test_unknown_paper_names_those_there_are(paper: str) -> None:
    with pytest.raises(InputError, match="a4, a3, letter, tabloid"):
        pdf.write_tiles(on(document(), paper))


@pytest.mark.parametrize("overlap", [-1.0, 60.5, math.nan, math.inf])
def test_an_overlap_that_cannot_be_is_refused(overlap: float) -> None:
    with pytest.raises(InputError, match="overlap of 0 to 60 mm"):
        pdf.write_tiles(on(document(), "a4", overlap))


@pytest.mark.parametrize("overlap", [0.0, 60.0])
@pytest.mark.parametrize("paper", PUBLISHED)
def test_every_overlap_that_is_allowed_works(paper: str, overlap: float) -> None:
    whole = on(two_pieces(document()), paper, overlap)
    plan = tiling(whole)
    assert count(pdf.write_tiles(whole)) == 1 + len(plan.used)
    for tile in plan.grid.all():
        shows = plan.grid.window(tile)
        assert (shows.x1 - shows.x0, shows.y1 - shows.y0) == pytest.approx(
            [side - 2 * MARGIN for side in plan.grid.page]
        )


def test_a_piece_too_small_for_its_words_takes_no_tile_for_them() -> None:
    whole = document()
    (piece,) = whole.pattern.pieces
    small = Affine.scale(0.05)
    tiny = replace(
        piece,
        edges=tuple(replace(e, curve=e.curve.moved(small)) for e in piece.edges),
        grain=(small(piece.grain[0]), small(piece.grain[1])),
        label_at=small(piece.label_at),
        darts=(),
        notches=(),
        guides=(),
        notes=(),
    )
    pattern = replace(whole.pattern, pieces=(tiny,), marks=())
    whole = replace(whole, pattern=pattern)
    assert tiling(whole).used == ((0, 0),)
    says = said(whole)
    assert "1 tile of A4 paper, portrait. 4. Blades" in says
    assert "rows" not in says
    assert "tape" not in says


def test_a_set_with_many_sizes_leaves_room_for_the_map() -> None:
    whole = on(drafted(WARDROBE), "letter")
    many = replace(whole, pattern=replace(whole.pattern, title="A long title, " * 20))
    page = render(pdf.write_tiles(many), 0, 2.0)
    tall = page.shape[0]
    # Between head and squares, 60 mm of paper at the least, the map's lines go from side to side.
    squares = 12.0 + 8.0 + 101.6
    room = page[round(tall - 2 * (squares + 60.0)) : round(tall - 2 * (squares + 8.0))]
    assert ((room < 220).sum(axis=1) > 0).all()
