"""Walking along edges: the distances a seam is sewn by."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from blockwright.curves.point import distance
from blockwright.errors import PatternError
from blockwright.pattern import tolerance
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Edge, Given, Piece, Run, Taken, Way, edge_name
from blockwright.spelling import what_is

Step = Edge | str | Way | Given | Taken
"""An edge or its name, `-edge`, a length that is given or taken from another block."""


def listed(steps: Step | Iterable[Step]) -> list[Way | Given | Taken]:
    """Edges, ways, given and taken lengths in the order they are walked.

    Raises PatternError for anything else.
    """
    every = [steps] if isinstance(steps, Step) or not isinstance(steps, Iterable) else steps
    return [_way(step) for step in every]


def _way(step: object) -> Way | Given | Taken:
    if isinstance(step, Way | Given | Taken):
        return step
    if isinstance(step, Edge | str):
        return Way(edge_name(step))
    raise PatternError(f"{what_is(step)} is no edge; give an edge, -edge, a Given or a Taken")


@dataclass(frozen=True, slots=True)
class Walk:
    """A run measured on the finished pieces: its length and where its notches come.

    `length` mm, darts between its edges closed; `notches`: name to distance from the start, mm;
    `ticks`: name to how many lie side by side, where a piece says so; `twice`: names that are met
    more than once.
    """

    length: float
    notches: dict[str, float]
    ticks: dict[str, int]
    twice: frozenset[str] = frozenset()


class NoRunError(PatternError):
    """Edges that do not follow one another as the pieces are cut and sewn."""


def said(run: Run) -> str:
    """A run in words, as it is walked."""
    return " and ".join(repr(str(step)) for step in run)


def walk(pattern: Pattern, along: Run) -> Walk:
    """Walk a run on the pieces.

    Each edge must begin where the last one ended, or across a dart (closed when sewn) or a
    promised seam, on another piece or another copy.  Raises NoRunError otherwise, PatternError for
    the mouth of a dart and an edge that is not there.
    """
    total = 0.0
    notches: dict[str, float] = {}
    ticks: dict[str, int] = {}
    twice: set[str] = set()
    last: Way | None = None
    for step in along:
        if isinstance(step, Given):
            notches.update({name: total + at for name, at in step.notches.items()})
            total += step.length
            last = None
            continue
        if last is not None:
            _check_follows(pattern, last, step)
        edge = pattern.edge(step.edge)
        if edge.role == "dart":
            raise PatternError(
                f"{edge.name!r} is the mouth of a dart, closed when sewn; leave it out of the run"
            )
        length = edge.curve.length
        for notch in pattern.notches_on(step.edge):
            if notch.name in notches:
                twice.add(notch.name)
            notches[notch.name] = total + (notch.along if step.forward else length - notch.along)
            ticks[notch.name] = notch.count
        total += length
        last = step
    return Walk(total, notches, ticks, frozenset(twice))


def _check_follows(pattern: Pattern, first: Way, second: Way) -> None:
    if _follows(pattern, first, second):
        return
    turned = _follows(pattern, second, first)
    raise NoRunError(
        f"{second.edge!r} does not follow {first.edge!r}: they neither meet nor is there a dart "
        "or a promised seam between them"
        + (f"; {first.edge!r} follows {second.edge!r}" if turned else "")
    )


def _follows(pattern: Pattern, first: Way, second: Way) -> bool:
    piece, other = pattern.owner(first.edge), pattern.owner(second.edge)
    if piece is other:
        a, b = piece.edge(first.edge).curve, piece.edge(second.edge).curve
        leaves = a.end if first.forward else a.start
        enters = b.start if second.forward else b.end
        if distance(leaves, enters) <= tolerance.CLOSED:
            return True
        pair = (first.edge, second.edge) if first.forward else (second.edge, first.edge)
        if first.forward == second.forward and piece.dart_between(*pair):
            return True
    here, there = _beside(piece, first, ahead=True), _beside(other, second, ahead=False)
    return _sewn_at(pattern, here, there)


Place = tuple[str, bool]
"""A corner of a piece: the start (True) or the end of the edge of that name."""


def _beside(piece: Piece, way: Way, *, ahead: bool) -> Place:
    """The corner that a walk comes to, or from, by the edge that is not walked there."""
    if way.forward == ahead:
        return piece.after(way.edge).name, True
    return piece.before(way.edge).name, False


def _sewn_at(pattern: Pattern, a: Place, b: Place) -> bool:
    """Whether a promised seam brings two corners together."""
    for one, other in pattern.sewn:
        apart = abs(_length(pattern, one) - _length(pattern, other)) + tolerance.LENGTH
        for first, second in ((one, other), (other, one)):
            at_a, at_b = _along(pattern, first, a), _along(pattern, second, b)
            if any(abs(x - y) <= apart for x in at_a for y in at_b):
                return True
    return False


def _length(pattern: Pattern, run: Iterable[Way | Given]) -> float:
    return math.fsum(
        step.length if isinstance(step, Given) else pattern.edge(step.edge).curve.length
        for step in run
    )


def _along(pattern: Pattern, run: Run, corner: Place) -> list[float]:
    """Distances along a run at which it comes by a corner."""
    name, at_start = corner
    return [
        _length(pattern, run[: i + (step.forward != at_start)])
        for i, step in enumerate(run)
        if isinstance(step, Way) and step.edge == name
    ]
