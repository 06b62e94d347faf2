"""The cutting list: what lies on the table, a line a piece."""

from __future__ import annotations

import csv
import io
from collections.abc import Sequence

from blockwright import Affine, Curve, Document, Piece, Point, distance, signed_area
from mill_lane import SEPARATORS, ListOptions

SQUARE_METRE = 1e6
"""In square millimetres."""
ASKED = ("mirrored", "on the fold", "allowances", "proved")
"""What is answered with yes or no."""


def write(document: Document) -> bytes:
    """The list as CSV: lengths in the document's unit, areas in square metres.

    Of a piece with allowances the cut line is measured; of one on the fold what is drawn, half.
    """
    unit = document.unit
    lengths = [f"{what} {unit}" for what in ("grain", "width", "height", "outline")]
    text = io.StringIO()
    between = SEPARATORS[ListOptions(document.options).separator]
    table = csv.writer(text, delimiter=between, lineterminator="\n")
    table.writerow(["piece", "cut", *ASKED, *lengths, "area m2"])
    for piece, outline in _pieces(document):
        folded = any(edge.role == "fold" for edge in piece.edges)
        answers = piece.mirrored, folded, bool(document.finished), document.proof.held
        round_it = sum(curve.length for curve in outline)
        found = distance(*piece.grain), *_size(piece, outline), round_it
        table.writerow(
            [
                *(piece.name, piece.cut),
                *("yes" if answer else "no" for answer in answers),
                *(f"{mm / unit.millimetres:.2f}" for mm in found),
                f"{signed_area(outline) / SQUARE_METRE:.4f}",
            ]
        )
    return text.getvalue().encode()


def _pieces(document: Document) -> list[tuple[Piece, list[Curve]]]:
    """Every piece with what is cut of it."""
    if document.finished:
        return [(each.piece, [edge.curve for edge in each.cut]) for each in document.finished]
    return [(piece, [edge.curve for edge in piece.edges]) for piece in document.pattern.pieces]


def _size(piece: Piece, outline: Sequence[Curve]) -> tuple[float, float]:
    """Width across the grain and height along it, mm."""
    upright = Affine.laying(*piece.grain, Point(0.0, 0.0), Point(0.0, 1.0))
    bounds = [curve.moved(upright).bounds for curve in outline]
    left, low, right, high = zip(*bounds, strict=True)
    return max(right) - min(left), max(high) - min(low)
