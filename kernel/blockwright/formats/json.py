"""The whole draft as JSON: the pattern without loss, what is cut of it, its proof; mm, y up."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from blockwright.pattern.document.document import as_document
from blockwright.plugin.format import Document

if TYPE_CHECKING:
    from blockwright.pattern.finishing.finish import FinishedPiece


def write(document: Document) -> bytes:
    """The whole file; PatternError as `as_document` raises it."""
    import json

    values = as_values(document)
    return (json.dumps(values, indent=1, ensure_ascii=False, allow_nan=False) + "\n").encode()


def as_values(document: Document) -> dict[str, Any]:
    """The document as plain values: see `as_document` and `Proof.to_json`."""
    return {
        **as_document(document.pattern),
        "maker_unit": str(document.unit),
        "finished": [_finished(finished) for finished in document.finished],
        "proof": document.proof.to_json(),
    }


def _finished(finished: FinishedPiece) -> dict[str, Any]:
    """What is cut of a piece: its outline edge by edge, notches on it and drill holes."""
    return {
        "block": finished.piece.block,
        "name": finished.piece.name,
        "label": finished.piece.label,
        "cut": [
            {"name": edge.name, "role": edge.role, "curve": edge.curve.control.tolist()}
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
