"""Checks that a promise can fail: what it wants is not read off the drawing, and is no wide window.

A promise that wants what was drawn holds however wrong the drawing is.  So the block is drafted
again with its edges bent.  An honest promise breaks, or wants what it wanted before.  One that was
read off the drawing follows: what it wants moves as far as what is measured.
"""

from __future__ import annotations

import math
import os
import pickle
import warnings
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, fields, is_dataclass
from functools import partial
from typing import TypeVar

from blockwright.errors import BlockwrightError
from blockwright.pattern import tolerance
from blockwright.pattern.pattern import Pattern, Promise
from blockwright.pattern.piece import Given
from blockwright.pattern.promises.corner import CornerAngle
from blockwright.pattern.promises.girth import Girth
from blockwright.pattern.promises.level import Level
from blockwright.pattern.promises.seam import Seam
from blockwright.pattern.ref import Mark, Ref
from blockwright.pattern.results import Result
from blockwright.pattern.walk import walk
from blockwright.testing.bending import Bend
from blockwright.testing.check import Complaints, check
from blockwright.testing.draft_checks import unbroken
from blockwright.testing.trial import Trial
from blockwright.testing.workers import FORK

T = TypeVar("T")
BODIES = 2
"""Bodies on which a block is drafted with its edges bent."""
BENT = 3
"""Bent drafts in which a promise must follow.  One alone may do so by chance."""
SHARES = (0.04, 0.04, 0.04, 0.02, 0.02, 0.01, 0.01)
"""By which share of their length edges are bent, draft after draft, until BENT of them are made."""
SEEN = 0.02
"""What moved by less, mm or degrees, is not known to have moved."""
ALIKE = 0.01
"""What a promise wants moved as what is measured if both moved as far, to so many mm or degrees."""


@check("promises-are-independent", on="few")
def independent(trials: Sequence[Trial]) -> Complaints:
    """No promise wants what was read off the drawing."""
    looked_at = 0
    told: set[str] = set()
    for trial in trials:
        if looked_at == BODIES:
            return
        if not trial.outcome.held:
            continue
        looked_at += 1
        for line in _apart(partial(followers, trial)):
            if line not in told:
                told.add(line)
                yield f"{line} [{trial.command()}]"


def followers(trial: Trial) -> list[str]:
    """What is wrong with each promise that follows the drawing; the block is drafted anew here."""
    still = trial.draft().pattern
    if still is None:
        return []
    bent: list[Pattern] = []
    for seed, share in enumerate(SHARES):
        with Bend(seed, share).drawing():
            pattern = trial.draft().pattern
        if pattern is not None:
            bent.append(pattern)
        if len(bent) == BENT:
            return [*_followers(trial, still, bent)]
    return []


def _followers(trial: Trial, still: Pattern, bent: Sequence[Pattern]) -> Iterator[str]:
    others = [_by_name(pattern) for pattern in bent]
    for name, promise in _by_name(still).items():
        if name.block != trial.block.key or not all(name in other for other in others):
            continue
        before = _read(still, promise)
        after = [_read(pattern, other[name]) for pattern, other in zip(bent, others, strict=True)]
        for number, result in enumerate(before.results):
            if all(_follows(before, each, number) for each in after):
                yield _said(trial, promise, result)
                break


def _by_name(pattern: Pattern) -> dict[Ref, Promise]:
    return {promise.ref: promise for promise in pattern.promises}


@dataclass(frozen=True)
class _Reading:
    """A promise measured: its results, the lengths it was given and the marks that it names."""

    results: tuple[Result, ...]
    given: tuple[float, ...]
    marks: Mapping[Ref, Mark]


def _read(pattern: Pattern, promise: Promise) -> _Reading:
    marks = {mark.ref: mark for mark in pattern.marks}
    try:
        results = promise.measure(pattern)
    except (BlockwrightError, ArithmeticError):  # nothing can be measured: it does not hold
        results = ()
    parts = [*_parts(promise)]
    return _Reading(
        results,
        tuple(part.length for part in parts if isinstance(part, Given)),
        {part: mark for part in parts if isinstance(part, Ref) and (mark := marks.get(part))}
        if _passes_marks(promise, pattern) else {},
    )  # fmt: skip


def _passes_marks(promise: Promise, pattern: Pattern) -> bool:
    """Whether marks that a promise names lie within its edges; at an end they are drawn from."""
    names = {part for part in _parts(promise) if isinstance(part, Ref)}
    ends = [
        place
        for piece in pattern.pieces
        for edge in piece.edges
        if Ref(piece.block, edge.name) in names
        for place in (edge.curve.start, edge.curve.end)
    ]
    marks = [mark for mark in pattern.marks if mark.ref in names]
    return any(not any(tolerance.meet(mark, end) for end in ends) for mark in marks)


def _parts(value: object) -> Iterator[object]:
    """The values in a promise, at any depth."""
    yield value
    if isinstance(value, tuple):
        for item in value:
            yield from _parts(item)
    elif is_dataclass(value) and not isinstance(value, type):
        for each in fields(value):
            yield from _parts(getattr(value, each.name))


def _follows(still: _Reading, bent: _Reading, number: int) -> bool:
    """Whether a result holds on the bent drawing because what is wanted was bent with it."""
    if len(bent.results) != len(still.results) or len(bent.given) != len(still.given):
        return False
    before, after = still.results[number], bent.results[number]
    if not (before.held and after.held):
        return False
    shift = after.measured - before.measured
    for was, now in zip(before.wanted, after.wanted, strict=True):
        if math.isfinite(was) and abs(now - was) > SEEN and abs(now - was - shift) <= ALIKE:
            return True
    given = zip(still.given, bent.given, strict=True)
    if any(abs(now - was) > SEEN for was, now in given) and abs(shift) <= ALIKE:
        return True
    return before.quantity == "length" and any(
        math.dist([*mark], [*bent.marks[name]]) > SEEN
        for name, mark in still.marks.items()
        if name in bent.marks
    )


def _said(trial: Trial, promise: Promise, result: Result) -> str:
    proof = trial.outcome.proof
    name = proof.say(result) if proof else promise.name
    return (
        f"{name}: holds however its edges are bent, since what it wants was read off the drawing; "
        "promise what the body or an option says"
    )


# -- windows ------------------------------------------------------------------------------------

SEAM_WINDOW = 0.1
"""Share of a seam that its ease may vary by.

Common practice, no source: a sleeve cap is eased in by 2 to 5 cm over some 45 cm, a fifteenth of
it.  The bundled blocks promise a single number for every seam.
"""
GIRTH_WINDOW = 1.0
"""Share of a finished width or length that its window may be wide.

The widest that a bundled block needs is nine tenths: a narrow finished shoulder of 10 cm that may
lose 4 cm and gain 5.  A window as wide as the piece holds for one half too small or half too large.
"""
NEED_WINDOW = 2.0
"""The same share where the body needs the width (`asked=False`).

Its least is what matters: an armhole must let the arm in.  The bundled bodices allow half a metre
more, since a roomy one may have as much as 41 cm; that is one and a half times a narrow armhole.
"""
ANGLE_WINDOW = 60.0
"""Degrees that an angle may vary by.  A wider window does not tell a slope from a level."""


@check("promises-are-narrow", on="few")
def narrow(trials: Sequence[Trial]) -> Complaints:
    """No seam, girth or angle may vary so much that a wrong drawing would hold."""
    told: set[str] = set()
    for trial in trials:
        if trial.pattern is None or not trial.outcome.held:
            continue
        for promise in trial.pattern.promises:
            if promise.ref.block != trial.block.key or promise.name in told:
                continue
            for fault in _wide(trial.pattern, promise):
                told.add(promise.name)
                yield f"{fault} [{trial.command()}]"


def _wide(pattern: Pattern, promise: Promise) -> Iterator[str]:
    if isinstance(promise, Seam):
        # One that nothing breaks is told of by promises-can-break.
        if not any(unbroken(pattern, promise)):
            long = max(walk(pattern, run).length for run in promise.sewn)
            for result in promise.measure(pattern):
                yield from _wider(promise, result, SEAM_WINDOW * long, "mm", least=False)
    elif isinstance(promise, Girth):
        for result in promise.measure(pattern):
            share = GIRTH_WINDOW if promise.asked else NEED_WINDOW
            yield from _wider(promise, result, share * abs(result.measured), "mm")
    elif isinstance(promise, CornerAngle | Level):
        for result in promise.measure(pattern):
            yield from _wider(promise, result, ANGLE_WINDOW, "degrees", least=False)


def _wider(
    promise: Promise, result: Result, most: float, unit: str, *, least: bool = True
) -> Iterator[str]:
    """The fault of a window wider than `most`; with `least` one without an upper end is a least."""
    low, high = result.wanted
    if high - low <= most or (least and math.isfinite(low) and high == math.inf):
        return
    do = "; for a least alone write (low, math.inf)" if least else ""
    yield (
        f"{promise.kind} {promise.name!r} holds from {low:g} to {high:g} {unit}, {high - low:.0f} "
        f"{unit} wide, at most {most:.0f} may be; promise the value that is meant, or a narrower "
        f"range{do}"
    )


# -- apart --------------------------------------------------------------------------------------


def _apart(work: Callable[[], T]) -> T:
    """What `work` returns, done in a copy of this process, so that nothing of it is left here.

    `in_child` cannot do it: the kit's workers are daemons, which may have no process of
    `multiprocessing` under them.  Where processes cannot be copied it is done here.
    """
    if not FORK:
        return work()
    here, there = os.pipe()
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", DeprecationWarning)  # only the thread that forks goes on
        child = os.fork()
    if not child:
        try:
            os.close(here)
            try:
                answer: tuple[bool, object] = (True, work())
            except Exception as error:
                answer = (False, error)
            with suppress(Exception), os.fdopen(there, "wb") as line:
                pickle.dump(answer, line)
        finally:
            os._exit(0)
    os.close(there)
    with os.fdopen(here, "rb") as line:
        told = line.read()
    os.waitpid(child, 0)
    if not told:
        raise RuntimeError("a bent draft ended its process")
    good, value = pickle.loads(told)
    if not good:
        raise value
    return value  # type: ignore[no-any-return]
