"""Finished pieces bent on purpose, so that a promise has something to catch."""

from __future__ import annotations

from dataclasses import replace

import numpy as np

from blockwright import Curve, Pattern

MILLIMETRE = 1.0


def with_edge(pattern: Pattern, name: str, curve: Curve) -> Pattern:
    """The pattern with one edge's curve replaced."""
    piece = pattern.owner(name)
    edges = tuple(replace(e, curve=curve) if e.name == name else e for e in piece.edges)
    return pattern.with_piece(replace(piece, edges=edges))


def stretched(pattern: Pattern, name: str, by: float = MILLIMETRE) -> Pattern:
    """An edge made longer by carrying its middle off square; ends and end tangents stay."""
    curve = pattern.edge(name).curve
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
    return with_edge(pattern, name, bent)


def _carried(control: np.ndarray, join: int, step: np.ndarray) -> Curve:
    moved = control.copy()
    moved[join - 1, 2:] += step
    moved[join, :2] += step
    return Curve(moved)


def end_moved(pattern: Pattern, name: str, which: str, step: tuple[float, float]) -> Pattern:
    """One end of an edge carried away, its handle with it."""
    control = pattern.edge(name).curve.control.copy()
    if which == "start":
        control[0, :2] += step
    else:
        control[-1, 2:] += step
    return with_edge(pattern, name, Curve(control))


def handle_moved(pattern: Pattern, name: str, which: str, by: float = MILLIMETRE) -> Pattern:
    """The handle at one end of an edge carried `by` square to it: the corner there turns."""
    control = pattern.edge(name).curve.control.copy()
    piece, anchor, handle = (0, 0, 1) if which == "start" else (-1, 3, 2)
    along = control[piece, handle] - control[piece, anchor]
    control[piece, handle] += np.array([-along[1], along[0]]) / np.hypot(*along) * by
    return with_edge(pattern, name, Curve(control))


def notch_moved(pattern: Pattern, name: str, by: float = MILLIMETRE) -> Pattern:
    """A notch slid along its edge."""
    piece = next(p for p in pattern.pieces if any(n.name == name for n in p.notches))
    notches = tuple(replace(n, along=n.along + by) if n.name == name else n for n in piece.notches)
    return pattern.with_piece(replace(piece, notches=notches))
