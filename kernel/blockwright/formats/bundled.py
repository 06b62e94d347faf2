"""The bundled formats: what each is called, says and is written by."""

from __future__ import annotations

from blockwright.plugin.format import Format
from blockwright.plugin.hookspecs import API_VERSION, hookimpl
from blockwright.plugin.later import later

HERE = "blockwright.formats"
DXF_READ = later(f"{HERE}.dxf_back:read")
R12_ECHO = later(f"{HERE}.dxf_back:echo_r12")

FORMATS = (
    Format(
        "svg",
        ".svg",
        "true-size drawing for screens and printers, mm, 1 unit = 1 mm",
        later(f"{HERE}.svg:write"),
        later(f"{HERE}.svg_read:echo"),
    ),
    Format(
        "pdf",
        ".pdf",
        "true-size PDF for roll plotters, mm, one page",
        later(f"{HERE}.pdf:write"),
        later(f"{HERE}.pdf_read:echo"),
    ),
    Format(
        "tiles",
        ".tiles.pdf",
        "true-size PDF for printers at home, mm, tiles to tape and a map of them",
        later(f"{HERE}.pdf:write_tiles"),
        later(f"{HERE}.pdf_read:echo"),
    ),
    Format(
        "dxf",
        ".dxf",
        "DXF R2000 for cutters and CAD, mm, splines, a layer a role",
        later(f"{HERE}.dxf:write"),
        later(f"{HERE}.dxf_back:echo"),
        DXF_READ,
    ),
    Format(
        "dxf-r12",
        ".r12.dxf",
        "DXF R12 for old cutters, mm, curves as fine straight lines, a layer a role",
        later(f"{HERE}.dxf_r12:write"),
        R12_ECHO,
        DXF_READ,
        exact=False,
    ),
    Format(
        "d6673",
        ".d6673.dxf",
        "pattern exchange DXF written after ASTM D6673 (from memory), a block a piece, mm or in",
        later(f"{HERE}.exchange:write"),
        R12_ECHO,
        DXF_READ,
        exact=False,
    ),
    Format(
        "hpgl",
        ".plt",
        "HP-GL for pen and knife plotters, 1 unit = 0.025 mm; pen 1 cuts, last of all, pen 2 "
        "notches, pen 3 draws; a fold is cut too; no texts; old machines stop at 819 mm",
        later(f"{HERE}.hpgl:write"),
        later(f"{HERE}.hpgl_read:echo"),
        exact=False,
    ),
    Format(
        "step",
        ".step",
        "STEP AP214, hard templates as solid plates, mm, true curves",
        later(f"{HERE}.template:step"),
        later(f"{HERE}.template_read:echo_step"),
    ),
    Format(
        "stl",
        ".stl",
        "binary STL, hard templates as solid plates, 1 unit = 1 mm",
        later(f"{HERE}.template:stl"),
        later(f"{HERE}.template_read:echo_stl"),
        exact=False,
    ),
    Format(
        "json",
        ".json",
        "the whole draft and its proof for programs, mm, y up",
        later(f"{HERE}.json:write"),
        later(f"{HERE}.json_read:echo"),
        later(f"{HERE}.json_read:read"),
    ),
)

blockwright_api = API_VERSION


@hookimpl
def blockwright_formats() -> tuple[Format, ...]:
    """Screens, paper, cutters, CAD and programs."""
    return FORMATS
