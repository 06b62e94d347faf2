"""The check that a draft does not jump when a measurement changes a little."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace

from blockwright.errors import InputError
from blockwright.pattern.pattern import Pattern
from blockwright.testing.change_checks import given, settled, with_pieces
from blockwright.testing.check import Complaints, check
from blockwright.testing.differences import farthest_move, other_makeup
from blockwright.testing.trial import Trial

NUDGE = 0.1
"""Millimetres by which a measurement changes."""
SEARCHED = 3
"""Bodies near which jumps are searched for farther than a nudge away."""
REACH = 0.05
"""How far from them, as a share of the measurement."""


@dataclass(frozen=True)
class _Place:
    """A body with one measurement so large, mm, and its draft if there is one."""

    value: float
    pattern: Pattern | None


@check("changes-steadily", on="few")
def changes_steadily(trials: Sequence[Trial]) -> Complaints:
    """A measurement changed by 0.1 mm moves no point farther than traits.steadiness allows."""
    told: set[str] = set()
    for i, trial in enumerate(with_pieces(trials)):
        for field in given(trial):
            value = trial.body.sheet.values[field.name]
            reach = value * REACH if i < SEARCHED else NUDGE
            for end in (value - reach, value + reach):
                fault = "" if field.name in told else _fault_towards(trial, field.name, end)
                fresh = settled(trial) if fault else None
                if fresh and (fault := _fault_towards(fresh, field.name, end, times=2)):
                    told.add(field.name)
                    yield f"{trial.body.name}: {field.name} {fault}"


def _fault_towards(trial: Trial, name: str, end: float, *, times: int = 1) -> str:
    """Where between the body and one with another measurement the draft jumps, and how.

    A draft without a jump moves half as far over half the way; one with a jump does not, so the
    half that moves farther is halved again, until it moves no more than it may or is a nudge wide.
    Drafted more `times` nothing is left in a draft of the one before it.
    """
    a, b = _Place(trial.body.sheet.values[name], trial.pattern), _at(trial, name, end, times)
    most = trial.block.traits.steadiness
    move, where = _move(trial, a, b)
    while move > most * NUDGE:
        if abs(a.value - b.value) <= 1.001 * NUDGE:
            low, high = sorted((a.value, b.value))
            return f"from {low:.2f} to {high:.2f} mm: {_said(move, where, most)}"
        middle = _at(trial, name, (a.value + b.value) / 2.0, times)
        halves = [(_move(trial, *half), half) for half in ((a, middle), (middle, b))]
        (move, where), (a, b) = max(halves, key=lambda each: each[0][0])
    return ""


def _at(trial: Trial, name: str, value: float, times: int) -> _Place:
    try:
        sheet = trial.changed(name, value - trial.body.sheet.values[name])
    except InputError:  # no body has that; the sheet says so, not the block
        return _Place(value, None)
    return _Place(value, [trial.draft(sheet).pattern for _ in range(times)][-1])


def _move(trial: Trial, a: _Place, b: _Place) -> tuple[float, str]:
    """How far a point of the block on trial moves from one to the other, mm, and what it is on.

    Infinitely far where pieces differ and may not; not at all from what is refused, which
    `refuses-few` counts.
    """
    if a.pattern is None or b.pattern is None:
        return 0.0, ""
    own, other = _own(trial, a.pattern), _own(trial, b.pattern)
    if unlike := other_makeup(own, other):
        return (0.0 if trial.block.traits.steps else math.inf), unlike
    return farthest_move(own, other)


def _own(trial: Trial, pattern: Pattern) -> Pattern:
    """The part of the pattern that the block on trial drew."""
    pieces = (piece for piece in pattern.pieces if piece.block == trial.block.key)
    promises = (each for each in pattern.promises if each.ref.block == trial.block.key)
    return replace(pattern, pieces=tuple(pieces), promises=tuple(promises))


def _said(move: float, where: str, most: float) -> str:
    if move == math.inf:
        return f"{where}; if pieces or edges must be others, say why in traits.steps"
    return (
        f"{where} moves {move:.2f} mm, {move / NUDGE:.0f} times as much, and {most:g} times is the "
        "most; look for a jump between two rules, or say in traits.steadiness what is right"
    )
