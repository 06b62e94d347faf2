"""Walking along edges: the distances a seam is sewn by."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from blockwright.curves.point import distance
from blockwright.errors import PatternError
from blockwright.pattern import tolerance
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Edge, Given, Taken, Way

Step = Edge | Way | Given | Taken
Run = tuple[Way | Given, ...]


def listed(steps: Step | Iterable[Step]) -> list[Way | Given | Taken]:
    """Edges, ways, given and taken lengths in the order they are walked."""
    every = [steps] if isinstance(steps, Edge | Way | Given | Taken) else steps
    return [+step if isinstance(step, Edge) else step for step in every]


@dataclass(frozen=True, slots=True)
class Walk:
    """A run measured on the finished pieces: its length and where its notches come.

    `length` mm, darts between its edges closed; `notches`: name to distance from the start.
    """

    length: float
    notches: dict[str, float]


def walk(pattern: Pattern, along: Run) -> Walk:
    """Walk a run on the pieces.

    Each edge must begin where the last one ended, or across a dart (closed when sewn), or on
    another piece, where a seam joins them.  Raises PatternError otherwise.
    """
    total = 0.0
    notches: dict[str, float] = {}
    last: Way | None = None
    for step in along:
        if isinstance(step, Given):
            notches.update({name: total + at for name, at in step.notches.items()})
            total += step.length
            last = None
            continue
        if last is not None:
            _check_meeting(pattern, last, step)
        length = pattern.edge(step.edge).curve.length
        for notch in pattern.notches_on(step.edge):
            notches[notch.name] = total + (notch.along if step.forward else length - notch.along)
        total += length
        last = step
    return Walk(total, notches)


def _check_meeting(pattern: Pattern, first: Way, second: Way) -> None:
    piece = pattern.owner(first.edge)
    if pattern.owner(second.edge) is not piece:
        return
    a, b = piece.edge(first.edge).curve, piece.edge(second.edge).curve
    leaves = a.end if first.forward else a.start
    enters = b.start if second.forward else b.end
    if distance(leaves, enters) <= tolerance.CLOSED:
        return
    pair = (first.edge, second.edge) if first.forward else (second.edge, first.edge)
    if first.forward == second.forward and piece.dart_between(*pair):
        return
    raise PatternError(
        f"{second.edge!r} does not follow {first.edge!r} on piece {piece.name!r}: "
        "they neither meet nor have a dart between them"
    )
