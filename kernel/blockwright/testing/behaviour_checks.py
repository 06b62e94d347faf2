"""Checks of what a block does besides drawing: files, network, clock, printing, time."""

from __future__ import annotations

import gc
import sys
import threading
from collections.abc import Callable, Iterator, Sequence
from contextlib import contextmanager
from pathlib import Path
from statistics import median
from types import FrameType
from typing import Any

from blockwright.errors import BlockwrightError
from blockwright.pattern.finishing.finish import Finish, finish_all
from blockwright.plugin.capture import told_apart
from blockwright.plugin.traceback_line import BETWEEN
from blockwright.testing.check import Complaints, check
from blockwright.testing.trial import Trial

FILES = ("open", "os.", "shutil.", "tempfile.", "pathlib.")
PROGRAMS = (
    "subprocess.",
    "os.system",
    "os.exec",
    "os.fork",
    "os.posix_spawn",
    "os.spawn",
    "os.startfile",
    "pty.spawn",
)
OUTSIDE = ("socket.", "urllib.", "http.", "ftplib.", "smtplib.", "webbrowser.", *PROGRAMS)
CLOCKS = {
    "time": {
        *("time", "time_ns", "monotonic", "monotonic_ns", "perf_counter", "perf_counter_ns"),
        *("process_time", "localtime", "gmtime", "ctime", "asctime", "strftime"),
    },
    "datetime": {"now", "utcnow", "today"},
}
"""Functions that look at a clock, by the module they are of."""
TIMED = 3
"""Drafts of which the middle one is timed."""

DRAFTING = Trial.proved.__code__.co_filename
"""The file from which the kit calls a block; callers of it are not the block's code."""

_heard: list[Callable[[str], None]] = []


def _audit(event: str, arguments: tuple[Any, ...]) -> None:
    for hear in _heard:
        hear(event)


@contextmanager
def _nothing_collected() -> Iterator[None]:
    """Without the garbage collector, which runs other code in the middle of a block's lines."""
    before = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if before:
            gc.enable()


@contextmanager
def _listening(to: tuple[str, ...]) -> Iterator[list[str]]:
    """The audit events of these kinds that a block causes in this thread, and where."""
    if not getattr(sys, "_blockwright_audits", False):
        sys.addaudithook(_audit)  # once for good: it cannot be removed
        sys._blockwright_audits = True  # type: ignore[attr-defined]
    thread, found = threading.get_ident(), []

    def hear(event: str) -> None:
        if threading.get_ident() != thread or not event.startswith(to):
            return
        if place := _place(sys._getframe(1)):
            found.append(f"{event}{place}")

    _heard.append(hear)
    try:
        with _nothing_collected():
            yield found
    finally:
        _heard.remove(hear)


def _place(frame: FrameType | None) -> str:
    """File and line, in brackets, of the block's innermost call; nothing if it made none."""
    places: list[tuple[str, int]] = []
    while frame and frame.f_code.co_filename != DRAFTING:
        places.append((frame.f_code.co_filename, frame.f_lineno))
        frame = frame.f_back
    others = [place for place in places if not place[0].startswith(BETWEEN)]
    if not frame or not others:
        return ""
    # The outermost that is not ours is the block's; so is every file in its folder.
    home = Path(others[-1][0]).parent
    return next(f" ({file}:{line})" for file, line in others if Path(file).is_relative_to(home))


@contextmanager
def _clock_watched() -> Iterator[list[str]]:
    """The clocks that a block reads, and where."""
    found: list[str] = []

    def watch(frame: FrameType, event: str, called: Any) -> None:
        if event != "c_call":
            return
        whose = getattr(called, "__self__", None)
        home = getattr(called, "__module__", None) or getattr(whose, "__module__", None) or ""
        if called.__name__ in CLOCKS.get(home, ()) and (place := _place(frame)):
            found.append(f"{called.__name__}{place}")

    before = sys.getprofile()
    sys.setprofile(watch)
    try:
        with _nothing_collected():
            yield found
    finally:
        sys.setprofile(before)


def _first(trials: Sequence[Trial]) -> Trial:
    """The first with a pattern, or the first of all; it is drafted, so that imports are done."""
    return next((trial for trial in trials if trial.pattern is not None), trials[0])


@check("no-files", on="few")
def no_files(trials: Sequence[Trial]) -> Complaints:
    """It reads and writes no file."""
    trial = _first(trials)
    assert trial.outcome  # imported what it needs
    with _listening((*FILES, *OUTSIDE)) as found:
        trial.proved()
    # Starting a program opens files too: the next check reports that.
    if found and not any(event.startswith(OUTSIDE) for event in found):
        yield f"draft asks the system for {found[0]}; put the values into the block or an option"


@check("no-network", on="few")
def no_network(trials: Sequence[Trial]) -> Complaints:
    """It uses no network and starts no program."""
    trial = _first(trials)
    assert trial.outcome
    with _listening(OUTSIDE) as found:
        trial.proved()
    if found:
        yield f"draft asks the system for {found[0]}; a draft needs nothing from outside"


@check("no-clock", on="few")
def no_clock(trials: Sequence[Trial]) -> Complaints:
    """It reads no clock: a draft is the same tomorrow."""
    trial = _first(trials)
    assert trial.outcome
    with _clock_watched() as found:
        trial.proved()
    if found:
        yield f"draft reads a clock, {found[0]}; remove it"


@check("no-output", on="few")
def no_output(trials: Sequence[Trial]) -> Complaints:
    """It prints nothing: what it says goes into notes, marks and promises."""
    said: list[str] = []
    with told_apart(said.append):
        _first(trials).proved()
    for line in said:
        yield f"draft {line}"


@check("fast-enough", on="few")
def fast_enough(trials: Sequence[Trial]) -> Complaints:
    """A draft with its proof takes no longer than its traits allow."""
    trial, most = _first(trials), trials[0].seconds
    took = median(trial.proved().seconds for _ in range(TIMED))
    if took > most:
        yield (
            f"a draft and its proof take {took:.2f} s, at most {most:g} s; give d.solve a guess "
            "with near=..., or say in traits.seconds what is right"
        )


@check("can-be-finished", on="few")
def can_be_finished(trials: Sequence[Trial]) -> Complaints:
    """Its pieces can be finished with the usual allowances."""
    for trial in trials:
        if trial.pattern is None or trial.outcome.proof is None:
            continue
        if not all(r.held for r in trial.outcome.proof.results if r.kind == "outline"):
            continue  # other checks report it
        try:
            finish_all(trial.pattern, Finish())
        except BlockwrightError as error:
            yield f"{trial.body.name}: {error} [{trial.command()} --finish usual]"
            return
