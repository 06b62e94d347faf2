"""DXF back to pieces: Blockwright's own drawings, R12, and pattern exchange files after ASTM D6673.

What layers mean in an exchange file is from memory; see `exchange_layers.py`.
"""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from blockwright.body.lengths import quoted
from blockwright.errors import GeometryError, InputError
from blockwright.formats import exchange_layers as exchange
from blockwright.formats.reading.piece import (
    MOST_EDGES,
    MOST_MARKS,
    Kind,
    Maker,
    Role,
    Source,
    Unlike,
    layer_number,
    said,
    told,
)
from blockwright.formats.reading.tags import (
    Bent,
    Block,
    Drawing,
    Put,
    Run,
    Shape,
    Words,
    read_tags,
)
from blockwright.pattern.finish import FinishedPiece
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
    exchange.BOUNDARY: "boundary", exchange.TURN: "turn", exchange.CURVE: "curve",
    exchange.NOTCH: "notch", exchange.MIRROR: "mirror", exchange.GRAIN: "grain",
    exchange.INNER: "inner", exchange.CUTOUT: "cutout", exchange.DRILL: "drill",
    exchange.SEW: "sew", exchange.WORDS: "words", exchange.NOTCH_T: "notch",
    exchange.NOTCH_CASTLE: "notch", exchange.NOTCH_CHECK: "notch", exchange.NOTCH_U: "notch",
}  # fmt: skip
_DRAWING: Mapping[str, Role] = {
    "OUTLINE": "boundary", "FOLD": "mirror", "SEW": "sew", "DRILL": "drill", "NOTCH": "notch",
    "DART": "inner", "GUIDE": "inner", "GRAIN": "grain", "MARK": "mark", "TEXT": "words",
    "TEST_BAR": "bar",
}  # fmt: skip
ROLES: Mapping[Kind, Mapping[str, Role]] = {"exchange": _EXCHANGE, "drawing": _DRAWING}
_OWN_BLOCK = re.compile(r"PIECE_\d+_(.+)")


@dataclass(frozen=True, slots=True)
class Read:
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


def read_drawing(data: bytes, where: str) -> Read:
    """The pieces of a DXF file; `where` names it in messages.

    Raises InputError, one line, for a file that is no DXF text, is too large, cut short or broken,
    or has no piece.
    """
    drawing = read_tags(data, where)
    kind, blocks = _pieces_of(drawing, where)
    units, millimetres = _units(drawing, kind, where)
    source = Source(where, kind, millimetres)
    if not units:
        source.notes["the file does not say its unit; taken as millimetres"] += 1
    for (entity, layer, why), count in drawing.left_out.items():
        source.notes[told(entity, layer, why)] += count
    own = {id(block) for block in blocks}
    for block in (*drawing.blocks, drawing.space):
        if id(block) not in own:
            _note_others(source, block)
    finished: dict[str, FinishedPiece] = {}
    words: dict[str, tuple[str, ...]] = {"": _texts(drawing.space.shapes)}
    names: list[str] = []
    for block in blocks:
        found = _by_role(source, block)
        texts = _texts(found.get("words", ()))
        name = _name(block, texts, finished)
        try:
            finished[name] = Maker(source, name, found).finish(texts)
            words[name] = texts
            names.append(block.name)
        except (Unlike, GeometryError) as why_not:
            source.notes[f"block {quoted(block.name)} of line {block.line}: {why_not}"] += 1
    if not finished:
        reasons = [note for note in source.notes if note.startswith("block ")]
        raise InputError(f"{where}: no piece could be read: {'; '.join(reasons[:3])}")
    pieces = tuple(each.piece for each in finished.values())
    lines = tuple(_lines(source.notes))
    whole = tuple(finished.values())
    return Read(pieces, lines, units or "mm", kind, whole, words, tuple(names))


def _lines(notes: Mapping[str, int]) -> list[str]:
    """What is not understood; kinds of entities, which begin with a capital, are counted."""
    lines = [f"{what}: {count}" if what[0].isupper() else what for what, count in notes.items()]
    if len(lines) > MOST_LINES:
        lines[MOST_LINES:] = [f"and {len(lines) - MOST_LINES} more"]
    return lines


def _texts(shapes: Sequence[Shape]) -> tuple[str, ...]:
    return tuple(s.form.text for s in shapes if isinstance(s.form, Words) and s.form.text)


def _pieces_of(drawing: Drawing, where: str) -> tuple[Kind, list[Block]]:
    """What kind of file it is, and the blocks that are pieces."""
    kinds: tuple[tuple[Kind, str], ...] = (
        ("exchange", exchange.BOUNDARY),
        ("drawing", "OUTLINE"),
    )
    for groups in (drawing.blocks, (drawing.space,)):
        for kind, layer in kinds:
            found = [
                block
                for block in groups
                if any(
                    isinstance(shape.form, Run | Bent) and layer_number(shape.layer) == layer
                    for shape in block.shapes
                )
            ]
            if len(found) > MOST_PIECES:
                raise InputError(
                    f"{where}: has {len(found)} pieces; {MOST_PIECES} are read: "
                    "export fewer sizes at a time"
                )
            if found:
                return kind, found
    raise InputError(
        f"{where}: has no piece: none of its {len(drawing.blocks)} blocks has lines on layer 1, as "
        "after ASTM D6673, or on layer OUTLINE, as Blockwright writes; export it so"
    )


def _units(drawing: Drawing, kind: Kind, where: str) -> tuple[str, float]:
    """The file's unit, '' if it does not say, and mm of one."""
    for block in (drawing.space, *drawing.blocks) if kind == "exchange" else ():
        for shape in block.shapes:
            key, value = said(shape.form.text) if isinstance(shape.form, Words) else ("", "")
            if key == "UNITS":
                if value.upper() in SYSTEMS:
                    return SYSTEMS[value.upper()]
                raise InputError(
                    f"{where}:{shape.line}: UNITS {quoted(value)}: write METRIC for millimetres "
                    "or ENGLISH for inches"
                )
    if drawing.unit_code not in UNITS:
        raise InputError(
            f"{where}: its unit ($INSUNITS) is number {drawing.unit_code}; export it in "
            "millimetres or inches"
        )
    # R12 has no unit, and Blockwright writes no other than millimetres in it.
    if drawing.unit_code == 0 and kind == "drawing" and drawing.version == R12:
        return "mm", 1.0
    return UNITS[drawing.unit_code]


def _note_others(source: Source, block: Block) -> None:
    """What lies outside the pieces: texts and places of blocks are understood, little else."""
    roles = ROLES[source.kind]
    for shape in block.shapes:
        form = shape.form
        bar = roles.get(layer_number(shape.layer)) == "bar"
        if isinstance(form, Words) or bar or (isinstance(form, Put) and form.plain):
            continue
        why = "a block turned or scaled, taken as it is" if isinstance(form, Put) else ""
        source.notes[told(shape.kind, shape.layer, why or "outside every piece")] += 1


def _by_role(source: Source, block: Block) -> Mapping[Role, Sequence[Shape]]:
    """The shapes of a piece by what they are; what is nothing of a piece is noted."""
    found: dict[Role, list[Shape]] = {}
    for shape in block.shapes:
        role = ROLES[source.kind].get(layer_number(shape.layer))
        if isinstance(shape.form, Put):
            source.notes[told(shape.kind, shape.layer, "a block in a block")] += 1
        elif isinstance(shape.form, Words):
            found.setdefault("words", []).append(shape)
        elif role is None or role in ("mark", "bar", "words"):
            why = "a mark" if role == "mark" else ""
            source.notes[told(shape.kind, shape.layer, why)] += 1
        else:
            found.setdefault(role, []).append(shape)
            # In a drawing the outline is closed by its fold.
            if role == "mirror" and source.kind == "drawing":
                found.setdefault("boundary", []).append(shape)
    most: tuple[tuple[Role, int], ...] = (
        ("turn", MOST_EDGES), ("curve", MOST_CURVES), ("notch", MOST_MARKS), ("drill", MOST_MARKS),
    )  # fmt: skip
    for role, limit in most:
        if len(found.get(role, ())) > limit:
            raise InputError(
                f"{source.where}: block {quoted(block.name)} of line {block.line} has "
                f"{len(found[role])} points of one kind ({role}); {limit} are read: export it "
                "with fewer"
            )
    return found


def _name(block: Block, texts: Sequence[str], taken: Mapping[str, object]) -> str:
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
