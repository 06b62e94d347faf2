"""A piece cut on the fold, opened out to the whole it is."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from blockwright.curves.affine import Affine
from blockwright.curves.curve import Curve
from blockwright.curves.make import line
from blockwright.curves.meet import nearest
from blockwright.curves.point import Point
from blockwright.pattern import tolerance
from blockwright.pattern.piece import Dart, Edge, Guide, Notch, Note, Piece

OTHER = ", other side"


def unfold(piece: Piece) -> Piece:
    """The piece with its mirror image in the fold; as it is when it has no fold.

    Edges, darts and notches of the other side are called as their originals with ', other side'
    after; a notch on the fold is one.  The grain moves to the fold.
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


def _notches(piece: Piece, fold: Curve) -> Iterator[Notch]:
    for notch in piece.notches:
        curve, here = piece.notch_at(notch)
        if nearest(fold, curve.point_at(here)).distance > tolerance.CLOSED:
            along = piece.length(notch.edge) - notch.along
            yield replace(notch, name=notch.name + OTHER, edge=notch.edge + OTHER, along=along)


def _on(a: Point, b: Point, at: Point) -> Point:
    way = (b - a).unit()
    return a + way * (at - a).dot(way)
