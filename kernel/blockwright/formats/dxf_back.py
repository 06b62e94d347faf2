"""DXF of every kind read again: what is cut, to be compared, and pieces for people."""

from __future__ import annotations

from blockwright.body.lengths import Unit
from blockwright.formats.reading.drawing import read_drawing
from blockwright.plugin.format import Echo, Read


def echo(data: bytes) -> Echo:
    """Cut lines and notches."""
    found = read_drawing(data, "the file").finished
    outlines = tuple(tuple(edge.curve for edge in piece.cut) for piece in found)
    return Echo(outlines, sum(len(piece.notches) for piece in found))


def read(data: bytes, where: str) -> Read:
    """Pieces, and what is not understood."""
    found = read_drawing(data, where)
    unit = Unit.IN if found.units in ("in", "ft", "yd") else Unit.CM
    return Read(found.pieces, found.not_understood, unit)
