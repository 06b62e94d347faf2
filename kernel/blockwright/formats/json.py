"""The whole draft as JSON: marks with their rules, pieces, promises, proof.  Millimetres, y up."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING, Any

from blockwright.plugin.format import Document

if TYPE_CHECKING:
    from blockwright.pattern.finish import FinishedPiece
    from blockwright.pattern.piece import Piece

VERSION = 1
"""Rises when a reader of this file would have to change."""


def write(document: Document) -> bytes:
    """The whole file."""
    import json

    values = as_values(document)
    return (json.dumps(values, indent=1, ensure_ascii=False, allow_nan=False) + "\n").encode()


def as_values(document: Document) -> dict[str, Any]:
    """The document as plain values; a number that is not finite is null."""
    pattern = document.pattern
    values = {
        "version": VERSION,
        "units": "mm",
        "block": pattern.block,
        "title": pattern.title,
        "body": pattern.body,
        "proved": document.proof.held,
        "measurements": dict(pattern.measurements),
        "options": dict(pattern.options),
        "marks": [
            {"name": m.name, "at": [m.x, m.y], "rule": m.rule, "piece": m.piece}
            for m in pattern.marks
        ],
        "pieces": [_piece(piece) for piece in pattern.pieces],
        "finished": [_finished(finished) for finished in document.finished],
        "proof": document.proof.to_json(),
    }
    plain: dict[str, Any] = _finite(values)
    return plain


def _finite(value: Any) -> Any:
    if isinstance(value, dict):
        return {key: _finite(item) for key, item in value.items()}
    if isinstance(value, list | tuple):
        return [_finite(item) for item in value]
    return None if isinstance(value, float) and not math.isfinite(value) else value


def _piece(piece: Piece) -> dict[str, Any]:
    return {
        "name": piece.name,
        "block": piece.block,
        "cut": piece.cut,
        "mirrored": piece.mirrored,
        "grain": [list(point) for point in piece.grain],
        "label_at": list(piece.label_at),
        "edges": [
            {
                "name": edge.name,
                "role": edge.role,
                "length": edge.curve.length,
                "beziers": edge.curve.control.tolist(),
            }
            for edge in piece.edges
        ],
        "darts": [
            {
                "name": dart.name,
                "apex": list(dart.apex),
                "legs": [list(end) for end in piece.dart_legs(dart)],
                "mouth": dart.mouth,
                "pressed": dart.pressed,
                "says": dart.says,
            }
            for dart in piece.darts
        ],
        "notches": [
            {"name": n.name, "edge": n.edge, "along": n.along, "count": n.count}
            for n in piece.notches
        ],
        "guides": [
            {"name": guide.name, "beziers": guide.curve.control.tolist()} for guide in piece.guides
        ],
        "notes": [{"at": list(note.at), "words": note.words} for note in piece.notes],
    }


def _finished(finished: FinishedPiece) -> dict[str, Any]:
    """What is cut of a piece: its outline edge by edge, notches on it and drill holes."""
    return {
        "name": finished.piece.name,
        "cut": [
            {"name": edge.name, "role": edge.role, "beziers": edge.curve.control.tolist()}
            for edge in finished.cut
        ],
        "notches": [
            {
                "name": notch.name,
                "at": list(notch.at),
                "inward": list(notch.inward),
                "kind": notch.kind,
                "depth": notch.depth,
                "width": notch.width,
            }
            for notch in finished.notches
        ],
        "drills": [
            {"name": drill.name, "at": list(drill.at), "diameter": drill.diameter}
            for drill in finished.drills
        ],
    }
