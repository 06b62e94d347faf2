"""A written file read again and compared with the pieces before it is kept."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import zip_longest

from blockwright.curves.chain import signed_area
from blockwright.curves.curve import Curve
from blockwright.errors import GeometryError
from blockwright.formats import layout
from blockwright.plugin.format import Document, Echo, Format

# Numbers in files are written to a ten-thousandth of a millimetre or so.
WRITTEN = 0.002
# Straight lines within `flat` of a curve are shorter than it by less than this share.
SHORTER = 1e-3


def differences(form: Format, document: Document, data: bytes) -> list[str]:
    """How a written file differs from the pieces, in words; nothing when it is true to them.

    Outlines are compared piece by piece in their lengths, areas and extents, then the number of
    notches and the volumes of plates.  A format that cannot be read again is not compared.
    """
    if form.echo is None:
        return []
    echo = form.echo(data)
    near = WRITTEN if form.exact else document.output.flat + WRITTEN
    sheet = layout.lay_out(document)
    wanted = [placed.lines[0][1] for placed in sheet.placed]
    found: list[str] = []
    if echo.volumes is None:
        found += _compared(wanted, echo, near, form.exact)
    else:
        areas = [abs(signed_area(curves)) for curves in wanted]
        found += _volumes(areas, echo.volumes, document.output.thickness)
    if echo.notches is not None:
        ticks = sum(len(f.notches) for f in document.finished) or sum(
            notch.count for piece in document.pattern.pieces for notch in piece.notches
        )
        if echo.notches != ticks:
            found.append(f"{echo.notches} notches, not {ticks}")
    return found


def _compared(wanted: Sequence[Sequence[Curve]], echo: Echo, near: float, exact: bool) -> list[str]:
    if len(echo.outlines) != len(wanted):
        return [f"{len(echo.outlines)} pieces, not {len(wanted)}"]
    found = []
    pairs = zip_longest(sorted(map(_measured, wanted)), sorted(map(_measured, echo.outlines)))
    for ours, theirs in pairs:
        length = ours[1]
        allowed = near, near + (0.0 if exact else SHORTER * length), near * length, near, near
        names = "greater extent", "length", "area", "smaller extent"
        for name, a, b, within in zip(names, ours, theirs, allowed, strict=False):
            if not abs(a - b) <= within:
                found.append(f"an outline has the {name} {b:.3f}, not {a:.3f} (mm)")
    return found


def _measured(curves: Sequence[Curve]) -> tuple[float, float, float, float]:
    """Extents, length and area of an outline, the smaller extent first: it may lie turned."""
    x0, y0, x1, y1 = layout.bounds(curves)
    try:
        area = abs(signed_area(curves))
    except GeometryError:
        area = math.nan
    narrow, wide = sorted((x1 - x0, y1 - y0))
    return wide, math.fsum(curve.length for curve in curves), area, narrow


def _volumes(areas: Sequence[float], volumes: Sequence[float], thickness: float) -> list[str]:
    """Plates have the area of their pieces times the thickness, less holes and notches."""
    if len(volumes) not in (1, len(areas)):
        return [f"{len(volumes)} plates, not {len(areas)}"]
    wanted, found = math.fsum(areas) * thickness, math.fsum(volumes)
    if 0.98 * wanted <= found <= 1.001 * wanted:
        return []
    return [f"plates of {found:.0f} mm3 together, not nearly {wanted:.0f}"]
