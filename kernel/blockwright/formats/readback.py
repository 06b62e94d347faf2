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
    if echo.outlines:
        found += _compared(wanted, echo, near, form.exact)
    if echo.volumes is not None:
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
        names = "width", "length", "area", "height"
        for name, a, b, within in zip(names, ours, theirs, allowed, strict=False):
            if not abs(a - b) <= within:
                found.append(f"an outline has a {name} of {b:.3f}, not {a:.3f} (mm)")
    return found


def _measured(curves: Sequence[Curve]) -> tuple[float, float, float, float]:
    """Width, length, area and height of an outline."""
    x0, y0, x1, y1 = layout.bounds(curves)
    try:
        area = abs(signed_area(curves))
    except GeometryError:
        area = math.nan
    return x1 - x0, math.fsum(curve.length for curve in curves), area, y1 - y0


def _volumes(areas: Sequence[float], volumes: Sequence[float], thickness: float) -> list[str]:
    """A plate has its piece's area times the thickness, less its holes and notches."""
    if len(areas) != len(volumes):
        return [f"{len(volumes)} plates, not {len(areas)}"]
    pairs = zip(sorted(areas), sorted(volumes), strict=True)
    return [
        f"a plate has a volume of {volume:.0f} mm3, not near {area * thickness:.0f}"
        for area, volume in pairs
        if not 0.98 * area * thickness <= volume <= 1.0001 * area * thickness
    ]
