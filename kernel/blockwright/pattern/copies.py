"""Whether the copies that are cut can be sewn together as a promise says.

Seen from outside a garment, a seam has cloth of one run to its left and cloth of the other to its
right.  An edge walked forward has its piece to the left on a copy as drawn, to the right on one cut
the other way up.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable

from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Piece, Run, Way

Need = Counter[tuple[str, bool]]
"""How often each edge is needed, on copies as drawn (True) and on others."""


def copies(piece: Piece) -> dict[bool, int]:
    """How many copies are cut as drawn (True) and the other way up; on a fold both hang together.

    Only part of a piece is drawn when it is cut on a fold: each fold doubles what there is.
    """
    folds = sum(edge.role == "fold" for edge in piece.edges)
    total = piece.cut * 2**folds
    turned = total // 2 if piece.mirrored or folds else 0
    return {True: total - turned, False: turned}


def why_not_sewn(pattern: Pattern, a: Run, b: Run) -> str:
    """Why no copies of two runs come together, and what to do; nothing when some do."""
    ways = [
        _lacking(pattern, _need(a, left=left) + _need(b, left=not left)) for left in (True, False)
    ]
    return "" if "" in ways else min(ways, key=len)


def why_not_counted(pattern: Pattern, runs: Iterable[Run], pieces: Counter[str]) -> str:
    """Which edge or piece is counted more often than it is cut; nothing when none is."""
    edges = Counter(step.edge for run in runs for step in run if isinstance(step, Way))
    for edge, often in edges.items():
        if (there := sum(copies(pattern.owner(edge)).values())) < often:
            return f"{edge!r} is counted {often} times and cut {there}; check cut and times"
    for name, often in pieces.items():
        if (there := sum(copies(pattern.piece(name)).values())) < often:
            return f"piece {name!r} is counted {often} times and cut {there}; check cut and times"
    return ""


def _need(run: Run, *, left: bool) -> Need:
    return Counter((step.edge, step.forward == left) for step in run if isinstance(step, Way))


def _lacking(pattern: Pattern, need: Need) -> str:
    """The first edge of which too few are cut, and what to do; nothing when there are enough."""
    for (edge, as_drawn), often in need.items():
        there = copies(pattern.owner(edge))[as_drawn]
        if there >= often:
            continue
        if there:
            return f"{often} of {edge!r} are sewn and {there} is cut; cut more"
        way = "as drawn" if as_drawn else "the other way up"
        return f"no {edge!r} is cut {way}; cut mirrored pairs, or walk it the other way"
    return ""
