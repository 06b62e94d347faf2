"""Two patterns compared: what differs first, and how far a point has moved."""

from __future__ import annotations

from collections.abc import Iterator

import numpy as np

from blockwright.curves.curve import Curve
from blockwright.curves.point import distance
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Piece

SAMPLES = 9
"""Places on an edge, ends included, that are looked at."""


def makeup(pattern: Pattern) -> list[str]:
    """What a pattern is made of, by name: pieces, edges with their roles, and promises.

    Notes are counted: their words may tell a length in the maker's unit.
    """
    promises = [f"promise {promise.kind} {promise.name!r}" for promise in pattern.promises]
    return promises + [
        name
        for piece in pattern.pieces
        for name in (
            f"piece {piece.name!r}, cut {piece.cut}{' mirrored' if piece.mirrored else ''}",
            *(f"edge {edge.name!r} ({edge.role})" for edge in piece.edges),
            *(f"dart {dart.name!r}" for dart in piece.darts),
            *(f"notch {notch.name!r} on {notch.edge!r}" for notch in piece.notches),
            *(f"guide {guide.name!r}" for guide in piece.guides),
            *(f"note {i + 1} on {piece.name!r}" for i in range(len(piece.notes))),
        )
    ]


def difference(a: Pattern, b: Pattern, *, within: float) -> str:
    """The first difference between two patterns, in words; nothing if they are alike.

    Points may lie `within` mm of each other; numbers in promises and what was solved likewise.
    """
    if missing := other_makeup(a, b):
        return missing
    move, where = farthest_move(a, b)
    if move > within:
        return f"{where} lies {move:.3g} mm away"
    for one, other in zip(_numbers(a), _numbers(b), strict=False):
        if one[0] != other[0] or abs(one[1] - other[1]) > within:
            return f"{one[0]} is {one[1]:.6g} once, and {other[0]} {other[1]:.6g} the other time"
    return "" if len(list(_numbers(a))) == len(list(_numbers(b))) else "other promises are made"


def other_makeup(a: Pattern, b: Pattern) -> str:
    """What one of two patterns is made of and the other is not; nothing if they are alike."""
    ours, theirs = makeup(a), makeup(b)
    if ours == theirs:
        return ""
    only = [name for name in (*ours, *theirs) if (name in ours) != (name in theirs)]
    return f"{only[0]} is in one of them only" if only else "its parts come in another order"


def farthest_move(a: Pattern, b: Pattern) -> tuple[float, str]:
    """The farthest that a point of `a` lies from the same point of `b`, mm, and what it is on.

    Both must be made up alike; points of edges are the same at the same share of their lengths.
    """
    worst, where = 0.0, ""
    for one, other in zip(a.pieces, b.pieces, strict=True):
        for what, far in _moves(one, other):
            if far > worst:
                worst, where = far, f"{what} of piece {one.name!r}"
    return worst, where


def _moves(one: Piece, other: Piece) -> Iterator[tuple[str, float]]:
    for a, b in zip(one.edges, other.edges, strict=True):
        away = _places(a.curve) - _places(b.curve)
        yield f"edge {a.name!r}", float(np.hypot(*away.T).max())
    for mine, its in zip(one.darts, other.darts, strict=True):
        yield f"the point of dart {mine.name!r}", distance(mine.apex, its.apex)
    for mine_, its_ in zip(one.notches, other.notches, strict=True):
        yield f"notch {mine_.name!r}", abs(mine_.along - its_.along)
    for guide, same in zip(one.guides, other.guides, strict=True):
        away = _places(guide.curve) - _places(same.curve)
        yield f"guide {guide.name!r}", float(np.hypot(*away.T).max())
    for note, same_ in zip(one.notes, other.notes, strict=True):
        yield f"the note {note.words!r}", distance(note.at, same_.at)
    yield "the grain line", max(map(distance, one.grain, other.grain))
    yield "the label", distance(one.label_at, other.label_at)


def _places(curve: Curve) -> np.ndarray:
    return curve.points_at(np.linspace(0.0, curve.length, SAMPLES))


def _numbers(pattern: Pattern) -> Iterator[tuple[str, float]]:
    """Every number that is promised or was solved, with its name."""
    for solved in pattern.solved:
        yield f"solved {solved.name!r}", solved.value
    for promise in pattern.promises:
        for result in promise.measure(pattern):
            for which, value in zip(("least", "most"), result.wanted, strict=True):
                yield f"{result.code} {promise.name!r}, {which}", value
