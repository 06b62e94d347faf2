"""Pieces that are drawn upside down."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from blockwright.curves.point import Point
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Edge, Piece, Run, Way
from blockwright.pattern.ref import Ref
from blockwright.pattern.results import Reason, Result, Value

ALONG_GRAIN = 0.7
"""The least cosine between a run and the grain at which the run goes up or down: 45 degrees."""


def way_up(pattern: Pattern) -> Iterator[Result]:
    """A result for each seam of a piece upside down, and for each hem above its armhole."""
    for promise in pattern.promises:
        if promise.sewn is None or promise.sewn[0] == promise.sewn[1]:
            continue  # an edge and its twin always lie alike
        owners = [_owners(pattern, run) for run in promise.sewn]
        if not all(owners) or set(owners[0]) & set(owners[1]):
            continue
        up = [_upward(pattern, run) for run in promise.sewn]
        if min(up) < -ALONG_GRAIN and max(up) > ALONG_GRAIN:
            values: dict[str, Value] = {"one": owners[0][0], "other": owners[1][0]}
            why = Reason("sewing.turn-one", values)
            yield Result("sewing.upside-down", promise.ref, "count", (0.0, 0.0), 1.0, 0.0, why=why)
    for piece in pattern.pieces:
        yield from _piece(piece)


def _owners(pattern: Pattern, run: Run) -> list[Ref]:
    """The pieces of the edges of a run."""
    return [pattern.owner(step.edge).ref for step in run if isinstance(step, Way)]


def _upward(pattern: Pattern, run: Run) -> float:
    """How far a run goes up along the grain of its pieces, as a share of its straight steps."""
    up = along = 0.0
    for step in run:
        if not isinstance(step, Way):
            continue
        stretches = pattern.stretches(step.edge)
        chord = stretches[-1].curve.end - stretches[0].curve.start
        rise = chord.dot(_up(pattern.owner(step.edge)))
        up, along = up + (rise if step.forward else -rise), along + abs(chord)
    return up / along if along else 0.0


def _up(piece: Piece) -> Point:
    low, high = piece.grain
    return (high - low).unit()


def _piece(piece: Piece) -> Iterator[Result]:
    """A hem lies below the armhole of its piece, as the grain points up."""
    up = _up(piece)
    hems, armholes = ([e for e in piece.edges if e.role == role] for role in ("hem", "armhole"))
    if not hems or not armholes:
        return
    heights = [edge.curve.start.dot(up) for edge in piece.edges]
    extent = max(heights) - min(heights)
    if _height(hems, up) - _height(armholes, up) > extent / 2.0:
        why = Reason("piece.turn", {"piece": piece.ref})
        yield Result("piece.upside-down", piece.ref, "count", (0.0, 0.0), 1.0, 0.0, why=why)


def _height(edges: Iterable[Edge], up: Point) -> float:
    """The mean height of the ends of edges."""
    ends = [end.dot(up) for edge in edges for end in (edge.curve.start, edge.curve.end)]
    return sum(ends) / len(ends)
