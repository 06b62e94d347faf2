"""The pieces of a block that no seam joins to its other pieces."""

from __future__ import annotations

from collections.abc import Iterator

from blockwright.pattern.groups import grouped
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Way
from blockwright.pattern.ref import Ref
from blockwright.pattern.results import Reason, Result

ELSEWHERE = Ref("", "")
"""What is not drafted here.  A piece sewn to a given length may lie on any other, as a pocket."""


def loose_pieces(pattern: Pattern) -> Iterator[Result]:
    """A warning for each group of pieces that is sewn to no other piece of its block.

    The group with most pieces, or the first of those, is the garment, and the others are loose.
    The pieces of different blocks need no seam between them: a set may be a wardrobe.  They may
    join pieces of one block, as a band joins two panels.
    """
    groups = _groups(pattern)
    for block in dict.fromkeys(piece.block for piece in pattern.pieces):
        own = [piece.ref for piece in pattern.pieces if piece.block == block]
        parts = [
            (part, ELSEWHERE in group)
            for group in groups
            if (part := [ref for ref in own if ref in group])
        ]
        garment = max(
            (part for part, _ in parts), key=lambda part: (len(part), -own.index(part[0]))
        )
        for part, elsewhere in parts:
            if part is not garment and not elsewhere:
                why = Reason("sewing.join", {"pieces": tuple(part), "garment": garment[0]})
                yield Result(
                    "sewing.loose", part[0], "count", (0.0, 0.0), float(len(part)), 0.0,
                    why=why, warning=True,
                )  # fmt: skip


def _groups(pattern: Pattern) -> list[list[Ref]]:
    """The pieces in groups that seams join."""
    alone = ([piece.ref] for piece in pattern.pieces)
    sewn = (
        [pattern.owner(s.edge).ref if isinstance(s, Way) else ELSEWHERE for s in (*a, *b)]
        for a, b in pattern.sewn
    )
    return grouped([*alone, *sewn])
