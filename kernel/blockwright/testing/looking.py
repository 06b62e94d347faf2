"""Look at a block on the few bodies and on many, in this process or in several."""

from __future__ import annotations

import multiprocessing
import os
from collections.abc import Iterable, Sequence
from concurrent.futures import ProcessPoolExecutor
from typing import NamedTuple

from blockwright.plugin.block import Block
from blockwright.plugin.quiet import told_apart
from blockwright.testing.bodies import Body, few
from blockwright.testing.check import Check
from blockwright.testing.trial import Trial

ENOUGH = 50
"""Bodies from which on several processes are worth starting."""
CHUNK = 20


class Told(NamedTuple):
    """What a check says of the few bodies, and of a draft that did not end."""

    lines: list[str]
    stopped: list[str]


class Seen(NamedTuple):
    """What a body was refused with, or nothing; what each check says; a draft that did not end.

    No block is in it: one in a file or a cell of a notebook cannot be sent between processes.
    """

    refused: str
    said: dict[str, list[str]]
    stopped: list[str]


class Found(NamedTuple):
    """All that was told, by the name of the check, and seen, body by body."""

    told: dict[str, Told]
    seen: list[Seen]

    @property
    def stopped(self) -> list[str]:
        """Drafts that did not end."""
        told = [line for each in self.told.values() for line in each.stopped]
        return [line for each in self.seen for line in each.stopped] + told


class _Look(NamedTuple):
    """What is looked at, by which checks, and in `stopped` what ended the looking."""

    blocks: tuple[type[Block], ...]
    checks: dict[str, Check]
    some: list[Trial]
    stopped: list[str]

    def at_few(self, name: str) -> Told:
        """One check of the few bodies together."""
        with told_apart(lambda _: None):  # another check tells that it prints
            lines = self.checks[name].complaints(self.some)
        return Told(lines, self.stopped[:1])

    def at_body(self, body: Body) -> Seen:
        """Every check of one body."""
        trial = Trial(self.blocks, body, stopped=self.stopped)
        said = {}
        with told_apart(lambda _: None):
            for name, check in self.checks.items():
                if check.on == "body" and (lines := check.complaints(trial)):
                    said[name] = [f"{line} [{trial.command()}]" for line in lines]
            refused = trial.tried().refused
        return Seen(refused, said, self.stopped[:1])


def look(
    blocks: Sequence[type[Block]],
    checks: Iterable[Check],
    bodies: Sequence[Body],
    processes: int | None,
) -> Found:
    """The checks of the few and of every body by itself, in so many processes.

    None: one for few bodies, else as many as there are processors.
    """
    if processes is None:
        processes = (os.cpu_count() or 1) if len(bodies) >= ENOUGH else 1
    stopped: list[str] = []
    some = [Trial(tuple(blocks), body, stopped=stopped) for body in few(blocks)]
    made = _Look(tuple(blocks), {check.name: check for check in checks}, some, stopped)
    names = [check.name for check in made.checks.values() if check.on == "few"]
    if processes < 2 or "fork" not in multiprocessing.get_all_start_methods():
        told = [made.at_few(name) for name in names]
        return Found(dict(zip(names, told, strict=True)), [made.at_body(body) for body in bodies])
    # A block may live in a file that only this process has loaded, so the others are its copies.
    context = multiprocessing.get_context("fork")
    _looks.append(made)
    try:
        with ProcessPoolExecutor(processes, mp_context=context) as pool:
            each_told = pool.map(_told_in_copy, names)
            each_seen = pool.map(_seen_in_copy, bodies, chunksize=CHUNK)
            return Found(dict(zip(names, each_told, strict=True)), list(each_seen))
    finally:
        _looks.pop()


_looks: list[_Look] = []


def _told_in_copy(name: str) -> Told:
    return _looks[-1].at_few(name)


def _seen_in_copy(body: Body) -> Seen:
    return _looks[-1].at_body(body)
