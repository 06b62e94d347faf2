"""The copies of a piece: how many are cut, whether they fit a seam, and the fold opened out.

Seen from outside the garment, a seam has the cloth of one run on its left and the cloth of the
other run on its right.  An edge that is walked forward has its piece on the left on a copy cut as
drawn, and on the right on a copy cut the other way up.
"""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator
from dataclasses import replace

from blockwright.curves.affine import Affine
from blockwright.curves.chain import join
from blockwright.curves.curve import Curve
from blockwright.curves.nearest import nearest
from blockwright.curves.point import Point, distance
from blockwright.curves.primitives import line
from blockwright.pattern import tolerance
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Dart, Edge, Guide, Notch, Note, Piece, Run, Way
from blockwright.pattern.ref import Ref
from blockwright.pattern.results import Reason

Need = Counter[tuple[Ref, bool]]
"""How often each edge is needed, on copies cut as drawn (True) and on others (False)."""
MORE = "copies.more"
OTHER = ", other side"
"""Ends the names on the other side of a piece that is opened out."""


def copies(piece: Piece) -> dict[bool, int]:
    """How many copies are cut as drawn (True) and how many the other way up (False).

    A piece that is cut on a fold has one copy of each kind, joined at the fold.  Each fold doubles
    the number of copies.
    """
    folds = sum(edge.role == "fold" for edge in piece.edges)
    total = piece.cut * 2**folds
    turned = total // 2 if piece.mirrored or folds else 0
    return {True: total - turned, False: turned}


def why_not_sewn(pattern: Pattern, a: Run, b: Run) -> Reason | None:
    """Why no copies of two runs can be sewn together.  None if some can."""
    ways = [
        _lacking(pattern, need(a, left=left) + need(b, left=not left)) for left in (True, False)
    ]
    # If both ways fail, the reason of too few copies goes before the reason of the wrong way up.
    return None if None in ways else min(ways, key=lambda why: why is None or why.code != MORE)


def why_not_counted(pattern: Pattern, runs: Iterable[Run], pieces: Counter[Ref]) -> Reason | None:
    """Which edge or piece is counted more often than it is cut.  None if none is."""
    edges = Counter(step.edge for run in runs for step in run if isinstance(step, Way))
    for edge, often in edges.items():
        if (there := sum(copies(pattern.owner(edge)).values())) < often:
            return Reason("count.edge", {"edge": edge, "often": often, "cut": there})
    for piece, often in pieces.items():
        if (there := sum(copies(pattern.piece(piece)).values())) < often:
            return Reason("count.piece", {"piece": piece, "often": often, "cut": there})
    return None


def need(run: Run, *, left: bool) -> Need:
    """The edges that a run needs if its cloth lies on the left of the seam, or on the right."""
    return Counter((step.edge, step.forward == left) for step in run if isinstance(step, Way))


def _lacking(pattern: Pattern, needed: Need) -> Reason | None:
    """The first edge of which too few copies are cut.  None if there are enough."""
    for (edge, as_drawn), often in needed.items():
        there = copies(pattern.owner(edge))[as_drawn]
        if there >= often:
            continue
        if there:
            return Reason(MORE, {"edge": edge, "often": often, "cut": there})
        return Reason("copies.as-drawn" if as_drawn else "copies.turned", {"edge": edge})
    return None


def unfold(piece: Piece) -> Piece:
    """The piece opened out at its fold.  A piece without a fold is unchanged.

    The names of edges, darts and notches on the other side end in ', other side'.  A notch on the
    fold stays a single notch.  The grain moves to the fold, which becomes a guide of its own name.
    A guide that ends on the fold goes on over it.  Of a piece on two folds the first is opened.
    """
    folds = [i for i, edge in enumerate(piece.edges) if edge.role == "fold"]
    if not folds:
        return piece
    fold = piece.edges[folds[0]].curve
    mirror = Affine.mirror(fold.start, fold.end)
    count = len(piece.edges)
    ring = [piece.edges[(folds[0] + 1 + i) % count] for i in range(count - 1)]
    other = [_edge(edge, mirror) for edge in reversed(ring)]
    low, high = piece.grain
    return replace(
        piece,
        edges=(*ring, *other),
        grain=(_on(fold.start, fold.end, low), _on(fold.start, fold.end, high)),
        darts=(*piece.darts, *(_dart(dart, mirror) for dart in piece.darts)),
        notches=(*piece.notches, *_notches(piece, fold)),
        guides=(
            *(whole for guide in piece.guides for whole in _guides(guide, mirror)),
            Guide(piece.edges[folds[0]].name, line(fold.start, fold.end)),
        ),
        notes=(*piece.notes, *(Note(mirror(note.at), note.words) for note in piece.notes)),
    )


def _guides(guide: Guide, mirror: Affine) -> list[Guide]:
    """A guide and its other side, as one line where they meet on the fold."""
    here, other = guide.curve, guide.curve.moved(mirror).reversed()
    for first, second in ((here, other), (other, here)):
        if distance(first.end, second.start) <= tolerance.CLOSED:
            return [Guide(guide.name, join([first, second]))]
    return [guide, Guide(guide.name, other)]


def _edge(edge: Edge, mirror: Affine) -> Edge:
    return Edge(edge.name + OTHER, edge.curve.moved(mirror).reversed(), edge.role)


def _dart(dart: Dart, mirror: Affine) -> Dart:
    return Dart(
        dart.name + OTHER, mirror(dart.apex), dart.mouth + OTHER,
        "start" if dart.pressed == "end" else "end", dart.says,
    )  # fmt: skip


def _notches(piece: Piece, fold: Curve) -> Iterator[Notch]:
    for notch in piece.notches:
        curve, here = piece.notch_at(notch)
        if nearest(fold, curve.point_at(here)).distance > tolerance.CLOSED:
            along = piece.length(notch.edge) - notch.along
            yield replace(notch, name=notch.name + OTHER, edge=notch.edge + OTHER, along=along)


def _on(a: Point, b: Point, at: Point) -> Point:
    way = (b - a).unit()
    return a + way * (at - a).dot(way)
