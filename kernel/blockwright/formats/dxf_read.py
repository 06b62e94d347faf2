"""DXF of every kind read again: what is cut, to be compared, and pieces for people."""

from __future__ import annotations

import re
from collections.abc import Sequence

from blockwright.body.lengths import Unit
from blockwright.formats.dxf_reading.drawing import Roles, read_drawing
from blockwright.formats.readback import NamedEcho
from blockwright.plugin.format import Read

# Typed here and not taken from the writers: a layer that they call by a wrong name is then found.
WRITTEN: Roles = {
    "exchange": {
        "1": "boundary", "2": "turn", "3": "curve", "4": "notch", "6": "mirror", "7": "grain",
        "8": "inner", "13": "drill", "14": "sew", "15": "words", "80": "notch",
    },
    "drawing": {
        "OUTLINE": "boundary", "FOLD": "mirror", "SEW": "sew", "DRILL": "drill", "NOTCH": "notch",
        "DART": "inner", "GUIDE": "inner", "GRAIN": "grain", "MARK": "mark", "TEXT": "words",
        "TEST_BAR": "bar", "LEADER": "leader",
    },
}  # fmt: skip
# A block's name may be cut at so many letters (R12, from memory).
LONGEST_NAME = 31
_BLOCK = re.compile(r"PIECE_(\d+)_?(.*)")


def echo(data: bytes) -> NamedEcho:
    """Cut lines and notches of a drawing or an exchange file that Blockwright wrote."""
    found = read_drawing(data, "the file", WRITTEN)
    return NamedEcho(
        tuple(tuple(edge.curve for edge in piece.cut) for piece in found.finished),
        sum(len(piece.notches) for piece in found.finished),
        names=found.blocks,
        spelt=lambda pieces: _spelt(pieces, found.blocks),
        grain_level=found.kind == "exchange",
    )


def _spelt(pieces: Sequence[str], blocks: Sequence[str]) -> list[str]:
    """For each piece the block of its number if that has its name; if not, its own name."""
    pairs = zip(pieces, blocks, strict=True)
    return [
        block if _is_of(block, number, piece) else piece
        for number, (piece, block) in enumerate(pairs, start=1)
    ]


def _is_of(block: str, number: int, piece: str) -> bool:
    """Whether a block has the number of a piece, and its letters if they are plain ones."""
    found = _BLOCK.fullmatch(block)
    if found is None or int(found[1]) != number:
        return False
    if not piece.isascii():
        return True
    wanted, there = (re.sub("[^A-Z0-9]", "", name.upper()) for name in (piece, found[2]))
    return wanted == there or (len(block) >= LONGEST_NAME - 1 and wanted.startswith(there))


def read(data: bytes, where: str) -> Read:
    """Pieces, and what is not understood."""
    found = read_drawing(data, where)
    unit = Unit.IN if found.units in ("in", "ft", "yd") else Unit.CM
    return Read(found.pieces, found.not_understood, unit)
