"""The HP-GL as a machine obeys it: by a small strict interpreter, and shapely."""

from __future__ import annotations

import math
import random
from dataclasses import replace
from itertools import pairwise

import hpgl_machine
import numpy as np
import pytest
import shapely
from format_samples import bent, document
from hpgl_machine import Drawn, Place
from workroom_documents import EVERY, SET, renamed, workroom

from blockwright import Document, InputError, load, signed_area
from blockwright.curves.affine import Affine
from blockwright.formats import hpgl, layout
from blockwright.plugin.format import Flat

# Half the diagonal of a unit, mm.
UNIT = 0.025
DOCUMENTS = [(keys, how) for keys in EVERY for how in ("bare", "slit")]


def machine(whole: Document) -> Drawn:
    return hpgl_machine.run(hpgl.write(whole))


def outlines(whole: Document) -> list[list]:
    """Curves of each piece's cut line as they lie on the sheet, left to right."""
    return [
        [curve.moved(Affine.move(placed.step)) for curve in placed.lines[0][1]]
        for placed in layout.lay_out(whole).placed
    ]


def left_to_right(lines: list[list[Place]]) -> list[list[Place]]:
    return sorted(lines, key=lambda line: min(x for x, _ in line))


def ticks(whole: Document) -> int:
    """Of all notches, those of pieces on the fold on both sides of it: none lies on a fold."""
    return sum(
        notch.count * (2 if any(edge.role == "fold" for edge in piece.edges) else 1)
        for piece in whole.pattern.pieces
        for notch in piece.notches
    )


def long(line: list[Place]) -> float:
    return shapely.LineString(line).length


def strays(line: list[Place], curves: list) -> float:
    """The most that a polyline and true curves are apart, either way, mm."""
    true = shapely.LineString(np.concatenate([c.flatten(accuracy=1e-3) for c in curves]))
    drawn = shapely.LineString(line)
    places = [curve.points_at(np.linspace(0.0, curve.length, 80)) for curve in curves]
    there = shapely.points(np.concatenate(places))
    here = shapely.points(shapely.get_coordinates(drawn.segmentize(2.0)))
    return max(shapely.distance(there, drawn).max(), shapely.distance(here, true).max())


@pytest.mark.parametrize(("keys", "how"), DOCUMENTS)
def test_the_cut_line_is_the_pieces(keys: str, how: str) -> None:
    whole = workroom(keys, how)
    cut = left_to_right(machine(whole).of(1))
    true = outlines(whole)
    assert len(cut) == len(true) == len(whole.pattern.pieces)
    flat = Flat(whole.options).flat
    for line, curves in zip(cut, true, strict=True):
        assert line[0] == line[-1], "a knife leaves a corner hanging"
        assert strays(line, curves) <= flat + 1e-3
        length = sum(curve.length for curve in curves)
        assert long(line) == pytest.approx(length, abs=0.05 + flat)
        area = signed_area(curves)
        assert shapely.Polygon(line).area == pytest.approx(abs(area), abs=flat * length / 2.0)
        box = shapely.LineString(line).bounds
        assert box == pytest.approx(layout.bounds(curves), abs=flat)


@pytest.mark.parametrize(("keys", "how"), DOCUMENTS)
def test_each_pen_draws_what_it_should(keys: str, how: str) -> None:
    """By length: everything on the sheet is drawn once, with the pen of its role."""
    whole = workroom(keys, how)
    sheet = layout.lay_out(whole)
    drawn = machine(whole)
    lengths = {1: 0.0, 2: 0.0, 3: sum(abs(b - a) for _, a, b in sheet.bars)}
    for placed in sheet.placed:
        for role, curves in placed.lines:
            lengths[1 if role == "outline" else 3] += sum(c.length for c in curves)
        for role, a, b in placed.strokes:
            lengths[2 if role == "notch" else 3] += abs(b - a)
        lengths[3] += len(placed.marks) * 4.0 * layout.CROSS
    for pen, length in lengths.items():
        lines = drawn.of(pen)
        count = sum(len(line) for line in lines)
        assert sum(map(long, lines)) == pytest.approx(length, abs=0.05 + UNIT * count), pen
    used = [pen for pen in (3, 2, 1) if lengths[pen]]
    assert drawn.pens == [*used, 0], "each pen is taken once, and the knife last"


@pytest.mark.parametrize("keys", EVERY)
@pytest.mark.parametrize(("how", "lines", "corners"), [("slit", 1, 2), ("V", 1, 3), ("T", 2, 2)])
def test_notches(keys: str, how: str, lines: int, corners: int) -> None:
    """As many as the pieces have, and each of its kind's shape."""
    whole = workroom(keys, how)
    notches = [notch for piece in whole.finished for notch in piece.notches]
    # The ends of a fold are nicked, whatever the kind: half a V.
    nicks = sum(notch.kind == "slit" for notch in notches) if how != "slit" else 0
    drawn = machine(whole).of(2)
    # The T's bar and stem meet inside the bar, so they are two lines.
    assert len(drawn) == (len(notches) - nicks) * lines + nicks
    assert {len(line) for line in drawn} <= {corners, 2}
    how_long = {"slit": {5.0}, "V": {2.0 * math.hypot(5.0, 2.0)}, "T": {5.0, 4.0}}[how]
    if "fold" in " ".join(notch.name for notch in notches):
        how_long = how_long | {math.hypot(5.0, 2.0)}
    for line in drawn:
        assert min(abs(long(line) - each) for each in how_long) < 2.0 * UNIT * (corners - 1)


def test_a_bare_block_has_its_ticks() -> None:
    whole = workroom(SET, "bare")
    count = ticks(whole)
    assert count > 4
    assert len(machine(whole).of(2)) == count


@pytest.mark.parametrize(("keys", "how"), DOCUMENTS)
def test_nothing_is_drawn_outside(keys: str, how: str) -> None:
    """All lies in a piece, but for the arms of marks on its edge and the test bars below."""
    whole = workroom(keys, how)
    sheet = layout.lay_out(whole)
    drawn = machine(whole)
    pieces = shapely.union_all([shapely.Polygon(line) for line in drawn.of(1)])
    bars = shapely.box(
        layout.MARGIN, layout.MARGIN, layout.MARGIN + layout.INCH_BAR, layout.MARGIN + 21.0
    )
    marked = shapely.union_all([pieces.buffer(layout.CROSS), bars]).buffer(2.0 * UNIT)
    for line in drawn.of(3):
        assert marked.contains(shapely.LineString(line)), line
    for line in drawn.of(2):
        assert pieces.buffer(0.1).contains(shapely.LineString(line)), line
    every = np.concatenate([np.array(line) for line in drawn.every])
    inset = layout.MARGIN - layout.CROSS - UNIT
    assert every.min() >= inset
    assert every[:, 0].max() <= sheet.width - inset
    assert every[:, 1].max() <= sheet.height - inset


def test_drill_holes_are_circles_on_the_drawing_pen() -> None:
    whole = workroom(SET)
    rings = [line for line in machine(whole).of(3) if line[0] == line[-1] and long(line) < 12.0]
    drills = [drill for piece in whole.finished for drill in piece.drills]
    assert len(rings) == len(drills) >= 4
    for ring in rings:
        assert shapely.Polygon(ring).area == pytest.approx(math.pi * 1.5**2, abs=0.5)
        assert strays_from_circle(ring) <= Flat(whole.options).flat


def strays_from_circle(ring: list[Place]) -> float:
    """Nearest and farthest that a ring comes to its middle, against 1.5 mm."""
    corners = np.array(ring[:-1])
    box = shapely.LineString(ring).bounds
    middle = np.array([box[0] + box[2], box[1] + box[3]]) / 2.0
    return float(np.abs(np.hypot(*(corners - middle).T) - 1.5).max())


def test_both_test_bars_are_true() -> None:
    runs = [
        abs(b[0] - a[0])
        for line in machine(workroom(SET)).of(3)
        for a, b in pairwise(line)
        if a[1] == b[1] and a[1] < layout.MARGIN + layout.STRIP - 10.0
    ]
    assert sorted(runs)[-2:] == pytest.approx([100.0, 101.6])


@pytest.mark.parametrize("flat", [0.02, 0.2, 1.0])
def test_the_flatness_asked_for_is_kept(flat: float) -> None:
    whole = workroom(SET, options={"flat": flat})
    for line, curves in zip(left_to_right(machine(whole).of(1)), outlines(whole), strict=True):
        assert strays(line, curves) <= max(flat, 0.023) + 1e-3


def test_coarser_lines_have_fewer_corners_and_finer_than_units_do_not_matter() -> None:
    def corners(flat: float) -> int:
        return sum(map(len, machine(workroom(SET, options={"flat": flat})).of(1)))

    assert corners(0.5) < corners(0.05) < corners(0.02)
    assert corners(1e-9) == corners(0.02)


@pytest.mark.parametrize("flat", [0.0, -1.0, math.nan])
def test_a_flatness_that_cannot_be_is_told(flat: float) -> None:
    with pytest.raises(
        InputError, match=r"^format hpgl: straight lines cannot lie within .* give more"
    ):
        hpgl.write(workroom(SET, options={"flat": flat}))


@pytest.mark.parametrize("how", ["bare", "V"])
def test_the_next_line_is_always_the_nearest(how: str) -> None:
    """From where a pen lifts, no end of a line still to draw is nearer than where it comes down."""
    drawn = machine(workroom(SET, how))
    for pen, lines in drawn.lines.items():
        for i, (line, after) in enumerate(pairwise(lines), start=1):
            ends = [end for other in lines[i:] for end in (other[0], other[-1])]
            nearest = min(math.dist(line[-1], end) for end in ends)
            assert math.dist(line[-1], after[0]) == pytest.approx(nearest), pen


def test_travel_is_short() -> None:
    """With the pen up it goes a third of what a shuffled order makes it go, or less."""
    drawn = machine(workroom(SET))
    lines = drawn.every
    random.Random(1).shuffle(lines)
    ends = [(0.0, 0.0)]
    for line in lines:
        ends += [line[0], line[-1]]
    shuffled = sum(math.dist(a, b) for a, b in zip(ends[::2], ends[1::2], strict=False))
    assert drawn.travel < shuffled / 3.0


def test_past_the_reach_of_old_machines_nothing_is_clamped() -> None:
    drawn = machine(workroom(SET))
    assert max(x for line in drawn.of(1) for x, _ in line) > 32767 * UNIT + 300.0


def enlarged(times: float) -> Document:
    whole = workroom("skirt.gored", "bare")
    pieces = tuple(piece.moved(Affine.scale(times)) for piece in whole.pattern.pieces)
    return replace(whole, pattern=replace(whole.pattern, pieces=pieces, marks=()))


def test_past_what_the_language_holds_is_told() -> None:
    assert machine(enlarged(200.0)).of(1)
    with pytest.raises(InputError, match=r"^format hpgl: the sheet reaches to \d+ mm, .*209715 mm"):
        hpgl.write(enlarged(400.0))


@pytest.mark.parametrize("how", ["bare", "slit"])
def test_names_are_not_in_the_file(how: str) -> None:
    whole = workroom(SET, how)
    assert hpgl.write(renamed(whole)) == hpgl.write(whole)


@pytest.mark.parametrize("first", range(6))
def test_a_cut_line_closes_whatever_the_pieces_do(first: int) -> None:
    """A piece with a gap, its proof broken: the knife goes straight across, wherever it begins."""
    whole = bent(document())
    (piece,) = whole.pattern.pieces
    edges = (*piece.edges[first:], *piece.edges[:first])
    whole = replace(whole, pattern=replace(whole.pattern, pieces=(replace(piece, edges=edges),)))
    (line,) = machine(whole).of(1)
    assert line[0] == line[-1]
    (curves,) = outlines(whole)
    gaps = [abs(b.start - a.end) for a, b in pairwise([*curves, curves[0]])]
    assert max(gaps) == pytest.approx(1.0)
    length = sum(curve.length for curve in curves) + sum(gaps)
    assert long(line) == pytest.approx(length, abs=0.1)


def test_says_what_a_person_at_the_plotter_must_know() -> None:
    form = load().format("hpgl")
    assert (form.name, form.suffix) == ("hpgl", ".plt")
    for word in ("0.025 mm", "pen 1 cuts", "pen 2", "pen 3", "no texts", "819 mm"):
        assert word in form.says
    assert "\n" not in form.says


def test_the_file_begins_and_ends_as_it_should() -> None:
    text = hpgl.write(workroom(SET)).decode("ascii")
    assert text.startswith("IN;")
    assert text.endswith("PU0,0;\nSP0;\n")
    assert set(text) <= set("INPASUD0123456789,;-\n")


@pytest.mark.parametrize(
    ("wrong", "why"),
    [
        ("SP1;PU0,0;SP0;", "before IN"),
        ("IN;SP1;PU0,0;PD9,9;", "left down"),
        ("IN;SP1;PU0,0;PD9,9;SP2;", "while it is down"),
        ("IN;PU0,0;PD9,9;PU;", "no pen"),
        ("IN;SP1;PU0,0;PD9,9,9;", "lone coordinate"),
        ("IN;SP1;PU0.5,0;", "not an instruction"),
        ("IN;SP1;PU0,0;PD9,9", "not an instruction"),
        ("IN;SP1;LBhello;", "not an instruction"),
        ("IN;SP1;PU0,0;CI9;", "unknown instruction"),
        ("IN;SP1;PU0,0;", "put away"),
    ],
)
def test_the_machine_itself_is_strict(wrong: str, why: str) -> None:
    with pytest.raises(AssertionError, match=why):
        hpgl_machine.run(wrong.encode())


def test_the_machine_draws_the_triangle_of_the_published_example() -> None:
    """IN;SP1;PA10,10;PD2500,10,10,1500,10,10; of the manual [page], with the pen put away."""
    drawn = hpgl_machine.run(b"IN;SP1;PU10,10;PD2500,10,10,1500,10,10;PU;SP0;")
    ((a, b, c, d),) = drawn.of(1)
    assert a == d
    assert math.dist(a, b) == pytest.approx(62.25)
    assert math.dist(a, c) == pytest.approx(37.25)
