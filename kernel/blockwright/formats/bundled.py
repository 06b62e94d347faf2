"""The bundled formats: what each is called, says and is written by."""

from __future__ import annotations

from blockwright.formats.options import FacetedPlate, OnRoll, Plate, Tiled
from blockwright.plugin.api import API_VERSION, hookimpl
from blockwright.plugin.format import Flat, Format
from blockwright.plugin.lazy import lazy

HERE = "blockwright.formats"
DXF_READ = lazy(f"{HERE}.dxf_read:read")
DXF_ECHO = lazy(f"{HERE}.dxf_read:echo")

FORMATS = (
    Format(
        "svg",
        ".svg",
        "true-size drawing for screens and printers, mm, 1 unit = 1 mm",
        lazy(f"{HERE}.svg:write"),
        lazy(f"{HERE}.svg_read:echo"),
    ),
    Format(
        "pdf",
        ".pdf",
        "true-size PDF for roll plotters, mm, one page",
        lazy(f"{HERE}.pdf:write"),
        lazy(f"{HERE}.pdf_read:echo"),
        options=OnRoll,
    ),
    Format(
        "tiles",
        ".tiles.pdf",
        "true-size PDF for printers at home, mm, tiles to tape and a map of them",
        lazy(f"{HERE}.pdf:write_tiles"),
        lazy(f"{HERE}.pdf_read:echo"),
        options=Tiled,
    ),
    Format(
        "dxf",
        ".dxf",
        "DXF R2000 for cutters and CAD, mm, splines, a layer a role",
        lazy(f"{HERE}.dxf:write"),
        DXF_ECHO,
        DXF_READ,
    ),
    Format(
        "dxf-r12",
        ".r12.dxf",
        "DXF R12 for old cutters, mm, curves as fine straight lines, a layer a role",
        lazy(f"{HERE}.dxf_r12:write"),
        DXF_ECHO,
        DXF_READ,
        options=Flat,
    ),
    Format(
        "d6673",
        ".d6673.dxf",
        "pattern exchange DXF written after ASTM D6673 (from memory), a block a piece, mm or in",
        lazy(f"{HERE}.exchange:write"),
        DXF_ECHO,
        DXF_READ,
        options=Flat,
    ),
    Format(
        "hpgl",
        ".plt",
        "HP-GL for pen and knife plotters, 1 unit = 0.025 mm; pen 1 cuts, last of all, pen 2 "
        "notches, pen 3 draws; no texts; takes pieces on the fold only opened out (--unfold); old "
        "machines stop at 819 mm",
        lazy(f"{HERE}.hpgl:write"),
        lazy(f"{HERE}.hpgl_read:echo"),
        options=Flat,
    ),
    Format(
        "step",
        ".step",
        "STEP AP214, hard templates as solid plates, mm, true curves; pieces on the fold only "
        "opened out (--unfold)",
        lazy(f"{HERE}.template:step"),
        lazy(f"{HERE}.template_read:echo_step"),
        options=Plate,
    ),
    Format(
        "stl",
        ".stl",
        "binary STL, hard templates as solid plates, 1 unit = 1 mm; pieces on the fold only "
        "opened out (--unfold)",
        lazy(f"{HERE}.template:stl"),
        lazy(f"{HERE}.template_read:echo_stl"),
        options=FacetedPlate,
    ),
    Format(
        "json",
        ".json",
        "the whole draft and its proof for programs, mm, y up",
        lazy(f"{HERE}.json:write"),
        lazy(f"{HERE}.json_read:echo"),
        lazy(f"{HERE}.json_read:read"),
    ),
)

blockwright_api = API_VERSION


@hookimpl
def blockwright_formats() -> tuple[Format, ...]:
    """Screens, paper, cutters, CAD and programs."""
    return FORMATS
