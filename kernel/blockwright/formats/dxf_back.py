"""DXF of every kind read again: what is cut, to be compared, and pieces for people."""

from __future__ import annotations

from collections.abc import Callable, Sequence

from blockwright.body.lengths import Unit
from blockwright.formats import dxf, dxf_r12
from blockwright.formats.named import NamedEcho
from blockwright.formats.reading.drawing import read_drawing
from blockwright.plugin.format import Read


def echo(data: bytes) -> NamedEcho:
    """Cut lines and notches of R2000."""
    return _echo(data, dxf.block_names)


def echo_r12(data: bytes) -> NamedEcho:
    """Cut lines and notches of R12, an exchange file or not."""
    return _echo(data, dxf_r12.block_names)


def _echo(data: bytes, spelt: Callable[[Sequence[str]], Sequence[str]]) -> NamedEcho:
    found = read_drawing(data, "the file")
    return NamedEcho(
        tuple(tuple(edge.curve for edge in piece.cut) for piece in found.finished),
        sum(len(piece.notches) for piece in found.finished),
        names=found.blocks,
        spelt=spelt,
        grain_level=found.kind == "exchange",
    )


def read(data: bytes, where: str) -> Read:
    """Pieces, and what is not understood."""
    found = read_drawing(data, where)
    unit = Unit.IN if found.units in ("in", "ft", "yd") else Unit.CM
    return Read(found.pieces, found.not_understood, unit)
