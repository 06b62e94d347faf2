"""Walking along edges: the length of a run and the places of its notches."""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import dataclass

from blockwright.errors import PatternError
from blockwright.pattern import tolerance
from blockwright.pattern.pattern import OF, Pattern
from blockwright.pattern.piece import Edge, Given, Piece, Run, Taken, Way, edge_name
from blockwright.pattern.ref import Ref
from blockwright.pattern.results import Reason
from blockwright.spelling import what_is

Step = Edge | str | Way | Given | Taken
"""What an author writes in a run: an edge or its name, `-edge`, a `Given` or a `Taken`."""
BACKWARDS = "-"
"""Before the name of an edge in a run: the edge is walked from its end."""


def listed(steps: Step | Iterable[Step]) -> list[Way | Given | Taken]:
    """The steps of a run in the order they are walked.

    Raises PatternError unless each is an edge, an edge's name, a way, a `Given` or a `Taken`.
    """
    every = [steps] if isinstance(steps, Step) or not isinstance(steps, Iterable) else steps
    return [_way(step) for step in every]


def _way(step: object) -> Way | Given | Taken:
    if isinstance(step, Way | Given | Taken):
        return step
    if isinstance(step, Edge | str):
        name = edge_name(step)
        return Way(Ref("", name.removeprefix(BACKWARDS)), not name.startswith(BACKWARDS))
    raise PatternError(f"{what_is(step)} is no edge; give an edge, -edge, a Given or a Taken")


@dataclass(frozen=True, slots=True)
class Walk:
    """A run measured on the finished pieces.

    `length` is in mm, with the darts between its edges closed.  `notches` gives the distance of
    each notch from the start, mm, and `ticks` the number of ticks of a notch that is on a piece.
    `twice` has the names that are met more than once.
    """

    length: float
    notches: dict[str, float]
    ticks: dict[str, int]
    twice: frozenset[str] = frozenset()


class NoRunError(PatternError):
    """The edges of a run do not follow one another on the pieces as cut and sewn.

    `why` is the reason as data.  The message is for the author of a block.
    """

    def __init__(self, message: str, why: Reason) -> None:
        super().__init__(message)
        self.why = why


def walk(pattern: Pattern, along: Run) -> Walk:
    """The walk along a run on the pieces.

    An edge follows another if it begins where the other ends.  It also follows over a dart, which
    is closed when sewn, and over a promised seam, on another piece or another copy.  Raises
    NoRunError if an edge does not follow, and PatternError for the mouth of a dart and for an edge
    that is not there.
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
        stretches = pattern.stretches(step.edge)
        if stretches[0].role == "dart":
            raise PatternError(
                f"{pattern.label(step.edge)!r} is the mouth of a dart, closed when sewn; leave it "
                "out of the run"
            )
        length = sum(edge.curve.length for edge in stretches)
        for notch in pattern.notches_on(step.edge):
            if notch.name in notches:
                twice.add(notch.name)
            notches[notch.name] = total + (notch.along if step.forward else length - notch.along)
            ticks[notch.name] = notch.count
        total += length
        last = step
    return Walk(total, notches, ticks, frozenset(twice))


def offered(pattern: Pattern) -> dict[str, Taken]:
    """The runs that a pattern offers to blocks sewn to it, measured on its pieces, by name.

    Raises PatternError if an edge of a run is not there or does not follow the one before it.
    """
    found = {}
    for name, run in pattern.offers.items():
        walked = walk(pattern, run)
        block = next((step.edge.block for step in run if isinstance(step, Way)), pattern.block)
        plain = name.removeprefix(f"{block}{OF}")
        found[name] = Taken(plain, run, walked.length, walked.notches, block)
    return found


def _check_follows(pattern: Pattern, first: Way, second: Way) -> None:
    if _follows(pattern, first, second):
        return
    turned = _follows(pattern, second, first)
    before, after = pattern.label(first.edge), pattern.label(second.edge)
    raise NoRunError(
        f"{after!r} does not follow {before!r}",
        Reason(
            "run.turned" if turned else "run.apart", {"before": first.edge, "after": second.edge}
        ),
    )


def _follows(pattern: Pattern, first: Way, second: Way) -> bool:
    piece, other = pattern.owner(first.edge), pattern.owner(second.edge)
    if piece is other:
        a, b = piece.stretches(first.edge.name), piece.stretches(second.edge.name)
        leaves = a[-1].curve.end if first.forward else a[0].curve.start
        enters = b[0].curve.start if second.forward else b[-1].curve.end
        if tolerance.meet(leaves, enters):
            return True
        pair = (first, second) if first.forward else (second, first)
        if first.forward == second.forward and piece.dart_between(*(w.edge.name for w in pair)):
            return True
    here, there = _beside(piece, first, ahead=True), _beside(other, second, ahead=False)
    return _sewn_at(pattern, here, there)


_Corner = tuple[Ref, bool]
"""A corner of a piece: an edge, and whether the corner is at its start."""


def _beside(piece: Piece, way: Way, *, ahead: bool) -> _Corner:
    """The corner at an end of a way, named by the neighbour of the edge that is walked."""
    if way.forward == ahead:
        return Ref(piece.block, piece.after(way.edge.name).name), True
    return Ref(piece.block, piece.before(way.edge.name).name), False


def _sewn_at(pattern: Pattern, a: _Corner, b: _Corner) -> bool:
    """Whether a promised seam joins two corners."""
    for one, other in pattern.sewn:
        apart = abs(_length(pattern, one) - _length(pattern, other)) + tolerance.LENGTH
        for first, second in ((one, other), (other, one)):
            at_a, at_b = _along(pattern, first, a), _along(pattern, second, b)
            if any(abs(x - y) <= apart for x in at_a for y in at_b):
                return True
    return False


def _length(pattern: Pattern, run: Iterable[Way | Given]) -> float:
    return math.fsum(
        step.length if isinstance(step, Given) else pattern.length(step.edge) for step in run
    )


def _along(pattern: Pattern, run: Run, corner: _Corner) -> list[float]:
    """The distances along a run at which it passes a corner, mm."""
    edge, at_start = corner
    return [
        _length(pattern, run[: i + (step.forward != at_start)])
        for i, step in enumerate(run)
        if isinstance(step, Way) and step.edge == edge
    ]
