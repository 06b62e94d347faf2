"""DXF back to pieces: Blockwright's own drawings, R12, and pattern exchange files after ASTM D6673.

What layers mean in an exchange file is from memory; see `exchange_layers.py`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from blockwright.body.lengths import quoted
from blockwright.errors import GeometryError, InputError
from blockwright.formats import dxf_layers as layers
from blockwright.formats.dxf_reading.piece import (
    MOST_EDGES,
    MOST_MARKS,
    Kind,
    Maker,
    Role,
    SourceFile,
    Unlike,
    layer_number,
    said,
)
from blockwright.formats.dxf_reading.references import References
from blockwright.formats.dxf_reading.shapes import (
    Bent,
    Drawing,
    Entity,
    Group,
    Put,
    Run,
    Text,
    read_shapes,
)
from blockwright.formats.dxf_reading.tags import LONGEST_QUOTE
from blockwright.pattern.finishing.finish import FinishedPiece
from blockwright.pattern.piece import Piece

# More pieces than any style has in all its sizes.
MOST_PIECES, MOST_CURVES = 500, 50_000
# What is not understood is told in so many lines at most; names are cut to so many letters.
MOST_LINES, LONGEST_NAME = 100, 60
R12 = "AC1009"
# $INSUNITS, mm of one (facts: AD1, AD2).
UNITS = {
    0: ("", 1.0), 1: ("in", 25.4), 2: ("ft", 304.8), 4: ("mm", 1.0), 5: ("cm", 10.0),
    6: ("m", 1000.0), 10: ("yd", 914.4), 14: ("dm", 100.0),
}  # fmt: skip
SYSTEMS = {"METRIC": ("mm", 1.0), "ENGLISH": ("in", 25.4)}
"""What UNITS says in an exchange file (from memory)."""

_EXCHANGE: Mapping[str, Role] = {
    layers.BOUNDARY: "boundary", layers.TURN: "turn", layers.CURVE: "curve",
    layers.NOTCH: "notch", layers.MIRROR: "mirror", layers.GRAIN: "grain",
    layers.INNER: "inner", layers.CUTOUT: "cutout", layers.DRILL: "drill",
    layers.SEW: "sew", layers.WORDS: "words", layers.NOTCH_T: "notch",
    layers.NOTCH_CASTLE: "notch", layers.NOTCH_CHECK: "notch", layers.NOTCH_U: "notch",
}  # fmt: skip
_OURS: Mapping[str, Role] = {
    "outline": "boundary", "fold": "mirror", "sew": "sew", "drill": "drill", "notch": "notch",
    "dart": "inner", "guide": "inner", "grain": "grain", "mark": "mark", "text": "words",
    "test-bar": "bar", "leader": "leader",
}  # fmt: skip
Roles = Mapping[Kind, Mapping[str, Role]]
"""What each layer is for, in both kinds of files."""
ROLES: Roles = {
    "exchange": _EXCHANGE,
    "drawing": {layers.NAMES[ours]: role for ours, role in _OURS.items()},
}
_OWN_BLOCK = re.compile(r"PIECE_\d+_(.+)")


@dataclass(frozen=True, slots=True)
class ReadDrawing:
    """What a DXF file says, mm, y up, each piece where it lies in its block.

    `finished`: for every piece, in order, its cut line, notches on it and drill holes.  Where the
    file has sew lines that close, `pieces` are these and the cut line is the file's boundary;
    where not, the boundary is the piece and its own cut line.  `words`: texts by the name of the
    piece, those of the whole file under ''.  `blocks`: what each piece's block
    is called.  `units`: of the file.  `kind`: an exchange file after ASTM D6673, or a drawing with
    Blockwright's layers.  `not_understood`: a line each.

    Edges are parted at turn points where the file has them, else at the ends of its lines and at
    corners.  Darts come back as lines inside the piece, their mouths as edges.
    """

    pieces: tuple[Piece, ...]
    not_understood: tuple[str, ...]
    units: str
    kind: Kind
    finished: tuple[FinishedPiece, ...]
    words: Mapping[str, tuple[str, ...]]
    blocks: tuple[str, ...] = ()


def read_drawing(data: bytes, where: str, roles: Roles = ROLES) -> ReadDrawing:
    """The pieces of a DXF file; `where` names it in messages, `roles` says what layers mean.

    Raises InputError, one line, for a file that is no DXF text, is too large, cut short or broken,
    or has no piece.
    """
    drawing = read_shapes(data, where)
    kind, blocks = _pieces_of(drawing, roles)
    units, millimetres = _units(drawing, kind)
    source = SourceFile(where, kind, millimetres, roles[kind])
    if not units:
        source.notes["the file does not say its unit; taken as millimetres"] += 1
    for (entity, layer, why), count in drawing.left_out.items():
        source.leave_out(entity, layer, why, count)
    references = References(drawing, blocks, source)
    finished: dict[str, FinishedPiece] = {}
    words: dict[str, tuple[str, ...]] = {"": _texts(drawing.space.shapes)}
    names: list[str] = []
    reasons: list[str] = []
    for block in blocks:
        for lay in references.ways_of(block):
            try:
                shapes = [shape.moved(lay) for shape in references.opened(block)]
                found = _by_role(source, block.name, shapes)
                texts = _texts(found.get("words", ()))
                name = _name(block, texts, finished)
                finished[name] = Maker(source, name, found).finish(texts)
            except (Unlike, GeometryError) as why_not:
                reasons.append(f"block {quoted(block.name)}: {why_not}")
                continue
            words[name] = texts
            names.append(block.name)
    source.notes.update(reasons)
    for block in (*drawing.blocks, drawing.space):
        if not references.has_opened(block):
            _note_others(source, block)
    if not finished:
        raise InputError.coded("dxf.unread", where=where, why="; ".join(reasons[:3]))
    return ReadDrawing(
        tuple(each.piece for each in finished.values()),
        tuple(_lines(source)),
        units or "mm",
        kind,
        tuple(finished.values()),
        words,
        tuple(names),
    )


def _lines(source: SourceFile) -> list[str]:
    """What is not understood, a line each."""
    lines = [f"{what}: {count}" for what, count in source.entities.items()] + [*source.notes]
    if len(lines) > MOST_LINES:
        lines[MOST_LINES:] = [f"and {len(lines) - MOST_LINES} more"]
    return lines


def _texts(shapes: Sequence[Entity]) -> tuple[str, ...]:
    return tuple(s.form.text for s in shapes if isinstance(s.form, Text) and s.form.text)


def _pieces_of(drawing: Drawing, roles: Roles) -> tuple[Kind, list[Group]]:
    """What kind of file it is, and the blocks that are pieces."""
    for groups in (drawing.blocks, [drawing.space]):
        for kind, of_layer in roles.items():
            found = [
                block
                for block in groups
                if any(
                    isinstance(shape.form, Run | Bent)
                    and of_layer.get(layer_number(shape.layer)) == "boundary"
                    for shape in block.shapes
                )
            ]
            if found:
                _check_number(drawing, len(found))
                return kind, found
    raise InputError.coded("dxf.no-piece", where=drawing.where, blocks=len(drawing.blocks))


def _check_number(drawing: Drawing, pieces: int) -> None:
    if pieces > MOST_PIECES:
        raise InputError.coded("dxf.pieces", where=drawing.where, count=pieces, most=MOST_PIECES)


def _units(drawing: Drawing, kind: Kind) -> tuple[str, float]:
    """The file's unit, '' if it does not say, and mm of one."""
    for block in (drawing.space, *drawing.blocks) if kind == "exchange" else ():
        for text in _texts(block.shapes):
            key, value = said(text)
            if key == "UNITS":
                if value.upper() in SYSTEMS:
                    return SYSTEMS[value.upper()]
                raise InputError.coded(
                    "dxf.units", where=drawing.where, value=value[:LONGEST_QUOTE]
                )
    if drawing.unit_code not in UNITS:
        raise InputError.coded("dxf.unit-code", where=drawing.where, unit=drawing.unit_code)
    # R12 has no unit, and Blockwright writes no other than millimetres in it.
    if drawing.unit_code == 0 and kind == "drawing" and drawing.version == R12:
        return "mm", 1.0
    return UNITS[drawing.unit_code]


def _note_others(source: SourceFile, block: Group) -> None:
    """What lies outside the pieces: texts and references are understood, little else."""
    for shape in block.shapes:
        bar = source.roles.get(layer_number(shape.layer)) == "bar"
        if not isinstance(shape.form, Text | Put) and not bar:
            source.leave_out(shape.kind, shape.layer, "outside every piece")


def _by_role(
    source: SourceFile, block: str, shapes: Sequence[Entity]
) -> Mapping[Role, Sequence[Entity]]:
    """The shapes of a piece by what they are; what is nothing of a piece is noted."""
    found: dict[Role, list[Entity]] = {}
    for shape in shapes:
        role = source.roles.get(layer_number(shape.layer))
        if isinstance(shape.form, Text):
            found.setdefault("words", []).append(shape)
        elif role == "leader":
            continue  # it leads to words, which are read
        elif role is None or role in ("mark", "bar", "words"):
            source.leave_out(shape.kind, shape.layer, "a mark" if role == "mark" else "")
        else:
            found.setdefault(role, []).append(shape)
            # In a drawing the outline is closed by its fold.
            if role == "mirror" and source.kind == "drawing":
                found.setdefault("boundary", []).append(shape)
    most: tuple[tuple[Role, int], ...] = (
        ("turn", MOST_EDGES), ("curve", MOST_CURVES), ("notch", MOST_MARKS), ("drill", MOST_MARKS),
    )  # fmt: skip
    for role, limit in most:
        count = len(found.get(role, ()))
        if count > limit:
            name = block[:LONGEST_QUOTE]
            raise InputError.coded(
                "dxf.points", where=source.where, block=name, count=count, role=role, most=limit
            )
    return found


def _name(block: Group, texts: Sequence[str], taken: Mapping[str, object]) -> str:
    """What the piece is called: letters that stand in any file, and not twice."""
    about = dict(map(said, texts))
    own = _OWN_BLOCK.fullmatch(block.name)
    plain = own[1].replace("_", " ").lower() if own else block.name
    name = _safe(about.get("PIECE NAME", "")) or _safe(plain) or "piece"
    size = _safe(about.get("SIZE", ""))
    if name in taken and size:
        name = f"{name} {size}"
    number, first = 2, name
    while name in taken:
        name, number = f"{first} {number}", number + 1
    return name


def _safe(name: str) -> str:
    """The letters of a name that may stand in any file's or layer's."""
    kept = "".join(c if c.isalnum() or c in " _-.+" else " " for c in name[: 4 * LONGEST_NAME])
    return " ".join(kept.split())[:LONGEST_NAME].strip(" .")
