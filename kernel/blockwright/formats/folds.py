"""Pieces on the fold, for formats whose files cannot tell a fold from a cut."""

from __future__ import annotations

from typing import TYPE_CHECKING

from blockwright.errors import InputError
from blockwright.formats import layout
from blockwright.formats.labels import piece_name

if TYPE_CHECKING:
    from blockwright.plugin.format import Document


def refuse_folds(document: Document, form: str) -> None:
    """Raises InputError if a piece to be drawn is on the fold: a machine would cut along it."""
    for piece, edges in layout.cut_edges(document):
        if any(edge.role == "fold" for edge in edges):
            name = piece_name(piece)
            code = "format.two-folds" if document.opened else "format.on-fold"
            raise InputError.coded(code, format=form, piece=name)
