"""Ellipses, splines and references to blocks in a DXF, against their exact geometry.

What the groups of a DXF entity mean is from memory of its public reference.
"""

from __future__ import annotations

import io
import math

import ezdxf
import numpy as np
import pytest
import shapely
from drawing_samples import ring
from scipy.interpolate import BSpline, CubicSpline
from scipy.special import ellipe
from shapely import affinity

from blockwright import Curve, Point, nearest
from blockwright.formats.dxf_reading.drawing import ReadDrawing, read_drawing
from blockwright.pattern.piece import Piece

SQUARE = [(0, 0), (200, 0), (200, 100), (0, 100)]
# No turn and no mirror lays it on itself.
UNEVEN = [(0, 0), (200, 0), (200, 60), (120, 100), (0, 70)]


def foreign(outline=SQUARE):
    drawing = ezdxf.new("R2000", units=4)
    block = drawing.blocks.new("FRONT")
    block.add_lwpolyline(outline, close=True, dxfattribs={"layer": "1"})
    return drawing, block


def read(drawing) -> ReadDrawing:
    stream = io.StringIO()
    drawing.write(stream)
    return read_drawing(stream.getvalue().encode("cp1252"), "x.dxf")


def guide(drawing) -> Curve:
    found = read(drawing)
    assert not [line for line in found.not_understood if "grain" not in line]
    ((line,),) = (piece.guides for piece in found.pieces)
    return line.curve


def outline(piece: Piece) -> shapely.Polygon:
    return shapely.Polygon(ring([edge.curve for edge in piece.edges]))


def test_an_ellipse_has_its_circumference_and_lies_on_its_equation() -> None:
    """4 a E(1 - b^2/a^2) (Abramowitz & Stegun, chapter 17)."""
    drawing, block = foreign()
    block.add_ellipse((70, 50), (30, 40), ratio=0.4, dxfattribs={"layer": "8"})
    curve = guide(drawing)
    assert curve.length == pytest.approx(4 * 50 * ellipe(1 - 0.4**2), rel=1e-7)
    x, y = (curve.points_at(np.linspace(0.0, curve.length, 200)) - [70, 50]).T
    u, v = (0.6 * x + 0.8 * y) / 50, (-0.8 * x + 0.6 * y) / 20
    assert u * u + v * v == pytest.approx(1.0, abs=1e-6)


@pytest.mark.parametrize("below", [False, True])
def test_part_of_an_ellipse_runs_between_its_parameters(below: bool) -> None:
    drawing, block = foreign()
    way = {"layer": "8", "extrusion": (0, 0, -1 if below else 1)}
    block.add_ellipse((70, 50), (30, 40), ratio=0.4, start_param=0.3, end_param=2.0,
                      dxfattribs=way)  # fmt: skip
    curve = guide(drawing)
    side = -1.0 if below else 1.0
    for end, t in ((curve.start, 0.3), (curve.end, 2.0)):
        x = 70 + 30 * math.cos(t) - side * 0.4 * 40 * math.sin(t)
        y = 50 + 40 * math.cos(t) + side * 0.4 * 30 * math.sin(t)
        assert [*end] == pytest.approx([x, y], abs=1e-9)


def test_a_spline_through_fit_points_is_the_natural_cubic_along_its_chords() -> None:
    """As scipy has that curve."""
    points = np.array([(10, 10), (40, 60), (90, 30), (120, 80), (180, 50)], dtype=float)
    drawing, block = foreign()
    block.add_spline(points.tolist(), dxfattribs={"layer": "8"})
    curve = guide(drawing)
    along = np.append(0.0, np.cumsum(np.hypot(*np.diff(points, axis=0).T)))
    wanted = CubicSpline(along, points, bc_type="natural")(np.linspace(0.0, along[-1], 300))
    assert max(nearest(curve, Point(*p)).distance for p in wanted.tolist()) < 1e-6
    assert curve.length == pytest.approx(np.hypot(*np.diff(wanted, axis=0).T).sum(), rel=1e-3)


@pytest.mark.parametrize("degree", [1, 2, 3])
def test_splines_of_low_degrees_are_exact(degree: int) -> None:
    """As scipy has them, with knots at odd places and none of them at the ends repeated."""
    points = np.array([(10, 10), (40, 60), (90, 30), (120, 80), (180, 50), (150, 20)], dtype=float)
    knots = np.cumsum([1.0, 2.0, 0.5, 1.5, 1.0, 3.0, 1.0, 0.7, 1.1, 2.0][: 7 + degree])
    drawing, block = foreign()
    spline = block.add_spline(degree=degree, dxfattribs={"layer": "8"})
    spline.control_points, spline.knots = np.pad(points, ((0, 0), (0, 1))), knots.tolist()
    curve = guide(drawing)
    over = np.linspace(knots[degree], knots[-degree - 1], 200)
    wanted = BSpline(knots, points, degree)(over)
    assert max(nearest(curve, Point(*p)).distance for p in wanted.tolist()) < 1e-6
    assert [*curve.start, *curve.end] == pytest.approx([*wanted[0], *wanted[-1]])


@pytest.mark.parametrize(
    "how",
    [
        {"rotation": 30},
        {"xscale": 2, "yscale": 2},
        {"xscale": -1},
        {"xscale": 1.5, "yscale": -0.5, "rotation": -70},
        {"extrusion": (0, 0, -1)},
        {"extrusion": (0, 0, -1), "rotation": 40, "xscale": 3},
    ],
)
def test_a_piece_is_as_its_reference_turns_scales_and_mirrors_it(how: dict[str, object]) -> None:
    """Against shapely's maps; where the reference lays it is left out."""
    drawing, block = foreign(UNEVEN)
    block.block.dxf.base_point = (7, 9, 0)
    block.add_line((20, 10), (150, 10), dxfattribs={"layer": "7"})
    block.add_point((100, 0), dxfattribs={"layer": "4", "angle": 90})
    drawing.modelspace().add_blockref("FRONT", (1000, 50), dxfattribs=how)
    found = read(drawing)
    (piece,) = found.pieces
    wanted = shapely.Polygon(UNEVEN)
    grain = shapely.LineString([(20, 10), (150, 10)])
    below = -1 if "extrusion" in how else 1
    there = []
    for shape in (wanted, grain, shapely.Point(100, 0), shapely.LineString([(0, 0), (0, 1)])):
        laid = affinity.scale(shape, how.get("xscale", 1), how.get("yscale", 1), origin=(0, 0))
        laid = affinity.rotate(laid, how.get("rotation", 0), origin=(0, 0))
        there.append(affinity.scale(laid, below, 1, origin=(0, 0)))
    assert outline(piece).symmetric_difference(there[0]).area < 1e-3
    assert outline(piece).exterior.is_ccw
    assert shapely.LineString([[*end] for end in piece.grain]).hausdorff_distance(there[1]) < 1e-6
    (notch,) = found.finished[0].notches
    assert [*notch.at] == pytest.approx([*there[2].coords[0]], abs=1e-6)
    assert notch.inward.dot(Point(*there[3].coords[1])) > 0.0


def test_a_mirrored_and_a_larger_reference_are_pieces_of_their_own() -> None:
    drawing, _ = foreign(UNEVEN)
    for how in ({}, {"xscale": -1}, {"xscale": 2, "yscale": 2}, {"rotation": 90}, {"yscale": -1}):
        drawing.modelspace().add_blockref("FRONT", (0, 0), dxfattribs=how)
    found = read(drawing)
    assert [piece.name for piece in found.pieces] == ["FRONT", "FRONT 2", "FRONT 3"]
    areas = [outline(piece).area for piece in found.pieces]
    assert areas == pytest.approx([areas[0], areas[0], 4 * areas[0]])
    assert "block 'FRONT' is placed 5 times; each shape is read once" in found.not_understood


def test_a_block_in_a_block_places_a_piece() -> None:
    drawing, _ = foreign(UNEVEN)
    sheet = drawing.blocks.new("SHEET")
    sheet.add_blockref("FRONT", (5, 5), dxfattribs={"rotation": 90})
    drawing.modelspace().add_blockref("SHEET", (0, 0), dxfattribs={"xscale": 2, "yscale": 2})
    (piece,) = read(drawing).pieces
    wanted = affinity.scale(affinity.rotate(shapely.Polygon(UNEVEN), 90, (0, 0)), 2, 2, 1, (0, 0))
    assert outline(piece).symmetric_difference(wanted).area < 1e-3


def test_a_block_in_a_piece_adds_its_shapes_on_the_layer_of_the_reference() -> None:
    drawing, block = foreign()
    inner = drawing.blocks.new("POCKET", base_point=(10, 0))
    inner.add_circle((10, 0), 6, dxfattribs={"layer": "0"})
    inner.add_line((10, 0), (20, 0), dxfattribs={"layer": "7"})
    how = {"layer": "8", "rotation": 90, "xscale": 2, "yscale": 0.5}
    block.add_blockref("pocket", (100, 50), dxfattribs=how)
    found = read(drawing)
    (piece,) = found.pieces
    assert found.not_understood == ()
    assert [[*end] for end in piece.grain] == [
        pytest.approx([100, 50]),
        pytest.approx([100, 70]),
    ]
    (line,) = piece.guides
    # Half axes of 12 along y and 3 along x.
    assert line.curve.length == pytest.approx(4 * 12 * ellipe(1 - (3 / 12) ** 2), rel=1e-6)
    assert line.curve.bounds == pytest.approx((97, 38, 103, 62), abs=1e-5)


def test_what_is_seen_from_below_is_mirrored() -> None:
    """In a plane that looks down x runs the other way (the arbitrary axis rule of DXF)."""
    drawing, block = foreign()
    down = {"layer": "8", "extrusion": (0, 0, -1)}
    block.add_lwpolyline([(-10, 10), (-50, 20), (-60, 70)], dxfattribs=down)
    assert guide(drawing).bounds == pytest.approx((10, 10, 60, 70))
    drawing, block = foreign()
    block.add_arc((-100, 50), 20, 0, 90, dxfattribs=down)
    curve = guide(drawing)
    assert [*curve.start, *curve.end] == pytest.approx([80, 50, 100, 70])


def test_text_in_the_code_page_of_the_file() -> None:
    drawing, block = foreign()
    block.add_text("PIECE NAME: Перед", dxfattribs={"layer": "1"})
    stream = io.StringIO()
    drawing.write(stream)
    text = stream.getvalue().replace("ANSI_1252", "ANSI_1251")
    assert read_drawing(text.encode("cp1251"), "x.dxf").pieces[0].name == "Перед"


def test_ezdxf_is_not_loaded_until_a_dxf_is_read() -> None:
    import subprocess
    import sys

    code = (
        "import sys; from blockwright import load; import blockwright.formats.dxf_read;"
        "import blockwright.formats.dxf; load(); sys.exit('ezdxf' in sys.modules)"
    )
    assert subprocess.run([sys.executable, "-c", code], check=False).returncode == 0
