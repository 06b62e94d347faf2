"""The DXF, read back by ezdxf and audited by it, with the splines sampled."""

from __future__ import annotations

import io
from dataclasses import replace

import ezdxf
import pytest
import shapely
from ezdxf import recover
from ezdxf.document import Drawing
from ezdxf.entities import DXFEntity
from format_samples import BLOCKS, BODIES, bent, document, estimated, two_pieces

from blockwright import Curve, Document, Point, line
from blockwright.formats import dxf, layout

EVERY = [(block, body) for block in BLOCKS for body in BODIES]
LAYERS = {"OUTLINE", "NOTCH", "DART", "GUIDE", "GRAIN", "MARK", "TEST_BAR", "TEXT"}


def read(data: bytes) -> Drawing:
    drawing = ezdxf.read(io.StringIO(data.decode("cp1252")))
    audit = drawing.audit()
    assert not audit.errors, [error.message for error in audit.errors]
    assert not audit.fixes, [fix.message for fix in audit.fixes]
    return drawing


def drawn(entity: DXFEntity) -> list[tuple[float, float]]:
    """Corners of a line, or points of a spline near enough together to stand for it."""
    if entity.dxftype() == "LINE":
        return [tuple(entity.dxf.start)[:2], tuple(entity.dxf.end)[:2]]
    if entity.dxftype() == "POINT":
        return [tuple(entity.dxf.location)[:2]]
    return [tuple(p)[:2] for p in entity.construction_tool().approximate(segments=400)]


def on_sheet(drawing: Drawing) -> list[DXFEntity]:
    """Everything as it lies on the sheet, inserts opened."""
    return [
        entity
        for top in drawing.modelspace()
        for entity in (top.virtual_entities() if top.dxftype() == "INSERT" else [top])
    ]


@pytest.mark.parametrize(("block", "body"), EVERY)
def test_the_outline_is_the_pieces(block: str, body: str) -> None:
    whole = document(block, BODIES[body])
    drawing = read(dxf.write(whole))
    (insert,) = drawing.modelspace().query("INSERT")
    edges = drawing.blocks[insert.dxf.name].query('*[layer=="OUTLINE"]')
    (piece,) = whole.pattern.pieces
    assert len(edges) == len(piece.edges)
    for entity, edge in zip(edges, piece.edges, strict=True):
        there = shapely.LineString(drawn(entity))
        here = shapely.LineString(edge.curve.flatten(accuracy=0.001))
        assert there.hausdorff_distance(here) < 0.01
        assert there.length == pytest.approx(edge.curve.length, abs=0.01)
        chord = abs(edge.curve.end - edge.curve.start)
        straight = edge.curve.length - chord < 1e-6
        assert entity.dxftype() == ("LINE" if straight else "SPLINE"), edge.name


def test_straight_edges_are_lines() -> None:
    whole = document("sleeve.straight")
    drawing = read(dxf.write(whole))
    (insert,) = drawing.modelspace().query("INSERT")
    edges = drawing.blocks[insert.dxf.name].query('*[layer=="OUTLINE"]')
    kinds = {e.name: d.dxftype() for e, d in zip(whole.pattern.pieces[0].edges, edges, strict=True)}
    assert kinds == {
        "hem": "LINE",
        "front underarm": "LINE",
        "cap": "SPLINE",
        "back underarm": "LINE",
    }


def test_straight_is_told_from_nearly_straight_and_from_there_and_back() -> None:
    a, b = Point(-3.0, 5.0), Point(400.0, 90.0)
    assert layout.is_straight(line(a, b))
    bowed = line(a, b).control.copy()
    bowed[0, 1] += (0.0, 1e-4)
    assert not layout.is_straight(Curve(bowed))
    back = line(a, b).control.copy()
    back[0, 1] = 2.0 * back[0, 3] - back[0, 0]
    assert not layout.is_straight(Curve(back))
    round_again = [[(0, 0), (9, 0), (9, 9), (0, 0)]]
    assert not layout.is_straight(Curve(round_again))


def test_header_layers_and_line_types() -> None:
    drawing = read(dxf.write(document()))
    assert drawing.dxfversion == "AC1015"
    assert drawing.header["$INSUNITS"] == 4
    assert drawing.header["$MEASUREMENT"] == 1
    declared = {layer.dxf.name for layer in drawing.layers}
    assert declared >= LAYERS
    used = {entity.dxf.layer for entity in on_sheet(drawing)}
    assert used == LAYERS
    types = {layer.dxf.name: layer.dxf.linetype for layer in drawing.layers}
    dashed = {name for name in LAYERS if types[name] != "Continuous"}
    assert dashed == {"DART", "GUIDE", "GRAIN"}
    for name in dashed:
        assert types[name] in drawing.linetypes


@pytest.mark.parametrize("block", BLOCKS)
def test_the_extents_are_those_of_what_is_drawn(block: str) -> None:
    drawing = read(dxf.write(two_pieces(document(block))))
    shapes = [e for e in on_sheet(drawing) if e.dxftype() != "TEXT"]
    every = [p for e in shapes for p in drawn(e)]
    low = drawing.header["$EXTMIN"]
    high = drawing.header["$EXTMAX"]
    # Marks are crosses on the sheet and points in the file, so they do not reach further.
    assert min(x for x, _ in every) == pytest.approx(low[0], abs=0.01)
    assert min(y for _, y in every) == pytest.approx(low[1], abs=0.01)
    assert max(x for x, _ in every) == pytest.approx(high[0], abs=0.01)
    assert max(y for _, y in every) == pytest.approx(high[1], abs=0.01)


def test_a_block_a_piece_and_inserts_apart() -> None:
    drawing = read(dxf.write(two_pieces(document())))
    inserts = list(drawing.modelspace().query("INSERT"))
    assert len(inserts) == 2
    assert len({insert.dxf.name for insert in inserts}) == 2
    hulls = [
        shapely.MultiPoint([p for e in insert.virtual_entities() if e.dxftype() != "TEXT"
                            for p in drawn(e)]).convex_hull
        for insert in inserts
    ]  # fmt: skip
    assert hulls[0].distance(hulls[1]) > 30.0


def test_the_bars() -> None:
    drawing = read(dxf.write(document()))
    lines = drawing.modelspace().query('LINE[layer=="TEST_BAR"]')
    lengths = sorted(((e.dxf.end - e.dxf.start).magnitude for e in lines), reverse=True)
    assert lengths[:2] == pytest.approx([101.6, 100.0], abs=1e-9)
    assert {"10 cm", "4 in"} <= set(texts(drawing))


def texts(drawing: Drawing) -> list[str]:
    return [e.dxf.text for e in on_sheet(drawing) if e.dxftype() == "TEXT"]


def test_the_same_words_as_on_the_drawing() -> None:
    whole = document(values=estimated("middling"), name="Ada")
    found = texts(read(dxf.write(whole)))
    assert {"SLEEVE", "for Ada", "grain", "bicep line"} <= set(found)
    assert "front armhole length" in " ".join(found)
    assert "elbow dart, 2.5 cm, pressed down" in found
    assert not any("UNPROVED" in words for words in found)


def test_unproved_is_on_the_piece_and_on_the_sheet() -> None:
    drawing = read(dxf.write(bent(document())))
    (insert,) = drawing.modelspace().query("INSERT")
    assert "UNPROVED" in [e.dxf.text for e in drawing.blocks[insert.dxf.name].query("TEXT")]
    assert any("UNPROVED" in e.dxf.text for e in drawing.modelspace().query("TEXT"))


@pytest.mark.parametrize(
    ("name", "read_as"),
    [
        ("Zoë Łoś 王芳", "Zoë Łoś 王芳"),
        ("Ελένη & <Σία>", "Ελένη & <Σία>"),
        ("two\nlines\tand a tab", "two lines and a tab"),
        ("100%%d %%u", "100% %d % %u"),
        ("needle 🧵", "needle \ufffd"),
        ("a^b ^^ c", "a^b ^^ c"),
        (r"back\slash \U+0041", None),
    ],
)
def test_names_survive(tmp_path, name: str, read_as: str | None) -> None:
    path = tmp_path / "x.dxf"
    path.write_bytes(dxf.write(document(name=name)))
    drawing, audit = recover.readfile(path)
    assert not audit.errors
    assert not audit.fixes
    if read_as is not None:
        assert f"for {read_as}" in texts(drawing)


def test_odd_piece_names() -> None:
    whole = document()
    for name in ("a/b\\c*?", "Ärmel", "", "x" * 300):
        piece = replace(whole.pattern.pieces[0], name=name)
        renamed: Document = replace(whole, pattern=replace(whole.pattern, pieces=(piece,)))
        assert len(read(dxf.write(renamed)).modelspace().query("INSERT")) == 1


@pytest.mark.parametrize("setting", [False, True])
def test_the_library_is_left_as_it_was(monkeypatch, setting: bool) -> None:
    monkeypatch.setattr(ezdxf.options, "write_fixed_meta_data_for_testing", setting)
    first = dxf.write(document())
    assert ezdxf.options.write_fixed_meta_data_for_testing is setting
    assert dxf.write(document()) == first
