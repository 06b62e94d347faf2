"""Pieces packed onto paper from a roll; mm, y up."""

from __future__ import annotations

from dataclasses import replace

from blockwright.curves.point import Point
from blockwright.errors import InputError
from blockwright.formats import layout
from blockwright.formats.packing import Size, orders, pack


def on_roll(sheet: layout.Sheet, width: float) -> layout.Sheet:
    """The sheet packed onto paper `width` wide, as short as it goes; grains stay upright.

    The strip with the test bars stays below the pieces.  Raises InputError when a piece or the
    strip is wider than the paper.
    """
    room = width - 2.0 * layout.MARGIN
    boxes = [placed.extent for placed in sheet.placed]
    sizes = [Size(x1 - x0, y1 - y0) for x0, y0, x1, y1 in boxes]
    strip = max(words.at.x + words.line.width for words in sheet.words if not words.centred)
    widest = max(strip - layout.MARGIN, *(size.width for size in sizes))
    if widest > room:
        raise InputError.coded("format.roll-narrow", width=width, least=widest + width - room)
    heights = []
    for order in orders(sizes):
        corners = pack(sizes, order, room, layout.GAP)
        longest = max(c.down + size.height for c, size in zip(corners, sizes, strict=True))
        heights.append((longest, corners))
    longest, corners = min(heights, key=lambda each: each[0])
    top = layout.MARGIN + layout.STRIP + longest
    placed = tuple(
        replace(one, step=Point(layout.MARGIN + corner.x - box[0], top - corner.down - box[3]))
        for one, corner, box in zip(sheet.placed, corners, boxes, strict=True)
    )
    key = layout.strip_key(placed, width)
    return replace(sheet, placed=placed, width=width, height=top + layout.MARGIN, key=key)
