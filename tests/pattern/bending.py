"""Finished pieces bent on purpose, so that a promise has something to catch."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from typing import Any

import numpy as np

from blockwright import Curve, Edge, Pattern, PatternError, Piece, Point, Result

MILLIMETRE = 1.0


def told(result: Result) -> tuple[Any, ...]:
    """A result by its code, the name of what it is about, and the names it is between or on."""
    values = (getattr(value, "name", value) for value in result.values.values())
    return result.code, result.subject.name, *values


def every_stretch(piece: Piece) -> Iterator[tuple[Edge, int]]:
    """The stretches of all edges of a piece, each with its place among those of its edge."""
    for name in piece.edge_names():
        for i, edge in enumerate(piece.stretches(name)):
            yield edge, i


def with_edge(pattern: Pattern, name: str, curve: Curve, stretch: int | None = None) -> Pattern:
    """The pattern with one edge's curve replaced.

    `stretch`: which of its stretches, in outline order; an edge with darts in it needs one.
    """
    piece = pattern.owner(name)
    places = piece.places_of(pattern.edge_ref(name).name)
    place = places[_which(name, len(places), stretch)]
    edges = tuple(replace(e, curve=curve) if i == place else e for i, e in enumerate(piece.edges))
    return pattern.with_piece(replace(piece, edges=edges))


def stretched(
    pattern: Pattern, name: str, by: float = MILLIMETRE, stretch: int | None = None
) -> Pattern:
    """An edge made longer by carrying its middle off square; ends and end tangents stay."""
    curve = _curve(pattern, name, stretch)
    a, b = curve.split_at(curve.length / 2.0)
    control = np.concatenate([a.control, b.control])
    square = np.array(
        [-curve.tangent_at(curve.length / 2.0).y, curve.tangent_at(curve.length / 2.0).x]
    )
    low, high = 0.0, 200.0
    for _ in range(80):
        middle = (low + high) / 2.0
        bent = _carried(control, len(a.control), square * middle)
        if bent.length - curve.length < by:
            low = middle
        else:
            high = middle
    return with_edge(pattern, name, bent, stretch)


def _carried(control: np.ndarray, join: int, step: np.ndarray) -> Curve:
    moved = control.copy()
    moved[join - 1, 2:] += step
    moved[join, :2] += step
    return Curve(moved)


def end_moved(
    pattern: Pattern, name: str, which: str, step: tuple[float, float], stretch: int | None = None
) -> Pattern:
    """One end of an edge carried away, its handle with it; of a stretch of it if one is given."""
    stretch = _at_end(which, stretch)
    control = _curve(pattern, name, stretch).control.copy()
    if which == "start":
        control[0, :2] += step
    else:
        control[-1, 2:] += step
    return with_edge(pattern, name, Curve(control), stretch)


def handle_moved(
    pattern: Pattern, name: str, which: str, by: float = MILLIMETRE, stretch: int | None = None
) -> Pattern:
    """The handle at one end of an edge carried `by` square to it: the corner there turns.

    Of a stretch of it if one is given.
    """
    stretch = _at_end(which, stretch)
    control = _curve(pattern, name, stretch).control.copy()
    piece, anchor, handle = (0, 0, 1) if which == "start" else (-1, 3, 2)
    along = control[piece, handle] - control[piece, anchor]
    control[piece, handle] += np.array([-along[1], along[0]]) / np.hypot(*along) * by
    return with_edge(pattern, name, Curve(control), stretch)


def joint_turned(
    pattern: Pattern, name: str, piece: int, by: float = 1.0, stretch: int | None = None
) -> Pattern:
    """A curve turned by so many degrees where one of its pieces begins: a corner within it."""
    control = _curve(pattern, name, stretch).control.copy()
    at, handle = Point(*control[piece, 0]), Point(*control[piece, 1])
    control[piece, 1] = [*(at + (handle - at).turned(math.radians(by)))]
    return with_edge(pattern, name, Curve(control), stretch)


def notch_moved(pattern: Pattern, name: str, by: float = MILLIMETRE) -> Pattern:
    """A notch slid along its edge."""
    piece = next(p for p in pattern.pieces if any(n.name == name for n in p.notches))
    notches = tuple(replace(n, along=n.along + by) if n.name == name else n for n in piece.notches)
    return pattern.with_piece(replace(piece, notches=notches))


def _curve(pattern: Pattern, name: str, stretch: int | None) -> Curve:
    stretches = pattern.stretches(name)
    return stretches[_which(name, len(stretches), stretch)].curve


def _which(name: str, count: int, stretch: int | None) -> int:
    """The place of a stretch among so many."""
    if stretch is None and count > 1:
        raise PatternError(f"{name!r} is {count} stretches; say which is to be bent")
    return stretch or 0


def _at_end(which: str, stretch: int | None) -> int:
    """The stretch at one end of an edge, unless another is given."""
    if stretch is not None:
        return stretch
    return 0 if which == "start" else -1
