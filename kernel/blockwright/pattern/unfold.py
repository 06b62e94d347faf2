"""A piece cut on the fold, opened out to the whole it is."""

from __future__ import annotations

from dataclasses import replace

from blockwright.curves.affine import Affine
from blockwright.curves.make import line
from blockwright.curves.point import Point
from blockwright.pattern.piece import Dart, Edge, Guide, Notch, Note, Piece

OTHER = ", other side"


def unfold(piece: Piece) -> Piece:
    """The piece with its mirror image in the fold; as it is when it has no fold.

    Edges, darts and notches of the other side are called as their originals with ', other side'
    after.  The grain moves to the fold.
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
        notches=(*piece.notches, *(_notch(notch, piece) for notch in piece.notches)),
        guides=(
            *piece.guides,
            *(Guide(guide.name, guide.curve.moved(mirror).reversed()) for guide in piece.guides),
            Guide("fold", line(fold.start, fold.end)),
        ),
        notes=(*piece.notes, *(Note(mirror(note.at), note.words) for note in piece.notes)),
    )


def _edge(edge: Edge, mirror: Affine) -> Edge:
    return Edge(edge.name + OTHER, edge.curve.moved(mirror).reversed(), edge.role)


def _dart(dart: Dart, mirror: Affine) -> Dart:
    return Dart(
        dart.name + OTHER, mirror(dart.apex), dart.mouth + OTHER,
        "start" if dart.pressed == "end" else "end", dart.says,
    )  # fmt: skip


def _notch(notch: Notch, piece: Piece) -> Notch:
    length = piece.edge(notch.edge).curve.length
    return Notch(notch.name + OTHER, notch.edge + OTHER, length - notch.along, notch.count)


def _on(a: Point, b: Point, at: Point) -> Point:
    way = (b - a).unit()
    return a + way * (at - a).dot(way)
