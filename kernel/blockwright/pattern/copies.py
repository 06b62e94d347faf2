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
from blockwright.pattern.ref import Ref
from blockwright.pattern.result import Reason

Need = Counter[tuple[Ref, bool]]
"""How often each edge is needed, on copies as drawn (True) and on others."""


MORE = "copies.more"


def copies(piece: Piece) -> dict[bool, int]:
    """How many copies are cut as drawn (True) and the other way up; on a fold both hang together.

    Only part of a piece is drawn when it is cut on a fold: each fold doubles what there is.
    """
    folds = sum(edge.role == "fold" for edge in piece.edges)
    total = piece.cut * 2**folds
    turned = total // 2 if piece.mirrored or folds else 0
    return {True: total - turned, False: turned}


def why_not_sewn(pattern: Pattern, a: Run, b: Run) -> Reason | None:
    """Why no copies of two runs come together; None when some do."""
    ways = [
        _lacking(pattern, _need(a, left=left) + _need(b, left=not left)) for left in (True, False)
    ]
    # Where neither way will do, too few copies are told before copies the wrong way up.
    return None if None in ways else min(ways, key=lambda why: why is None or why.code != MORE)


def why_not_counted(pattern: Pattern, runs: Iterable[Run], pieces: Counter[Ref]) -> Reason | None:
    """Which edge or piece is counted more often than it is cut; None when none is."""
    edges = Counter(step.edge for run in runs for step in run if isinstance(step, Way))
    for edge, often in edges.items():
        if (there := sum(copies(pattern.owner(edge)).values())) < often:
            return Reason("count.edge", {"edge": edge, "often": often, "cut": there})
    for piece, often in pieces.items():
        if (there := sum(copies(pattern.piece(piece)).values())) < often:
            return Reason("count.piece", {"piece": piece, "often": often, "cut": there})
    return None


def _need(run: Run, *, left: bool) -> Need:
    return Counter((step.edge, step.forward == left) for step in run if isinstance(step, Way))


def _lacking(pattern: Pattern, need: Need) -> Reason | None:
    """The first edge of which too few are cut; None when there are enough."""
    for (edge, as_drawn), often in need.items():
        there = copies(pattern.owner(edge))[as_drawn]
        if there >= often:
            continue
        if there:
            return Reason(MORE, {"edge": edge, "often": often, "cut": there})
        return Reason("copies.as-drawn" if as_drawn else "copies.turned", {"edge": edge})
    return None
