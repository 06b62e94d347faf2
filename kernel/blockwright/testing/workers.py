"""Child processes in which the kit drafts; one whose draft takes too long is killed."""

from __future__ import annotations

import multiprocessing
import os
import sys
import warnings
from collections import deque
from collections.abc import Callable, Iterable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass
from multiprocessing.connection import Connection, wait
from multiprocessing.process import BaseProcess
from time import monotonic
from typing import Any

from blockwright.job.child import ending, kill

FORK = "fork" in multiprocessing.get_all_start_methods()
"""Whether a child can be a copy of this process, with blocks of a notebook in it."""
_parent: list[Connection] = []
"""In a child, the line to its parent."""


def tell(at: str) -> None:
    """Tell the parent which draft begins, or with '' that it ended; nothing where none is."""
    for line in _parent:
        line.send(("at", at))


@dataclass
class _Child:
    """A child process, the number of its job, its draft, and when the draft must have ended."""

    process: BaseProcess
    line: Connection
    job: int | None = None
    at: str = ""
    until: float | None = None


class Workers:
    """Child processes that do `jobs` by number, each draft within so many seconds.

    The children are copies of this process, started when first needed and kept until `close`.
    When a draft takes longer, or ends its process, `stopped` says so, every child is killed and no
    further job is done.  Where processes cannot be copied the jobs are done here, without a limit.
    """

    def __init__(self, jobs: Sequence[Callable[[], Any]], seconds: float, count: int = 1) -> None:
        self.stopped = ""
        self._jobs, self._seconds, self._count = jobs, seconds, count
        self._children: list[_Child] = []

    def results(self, numbers: Iterable[int]) -> Iterator[tuple[int, Any]]:
        """The number of each job and what it returns, as they end; what one raises is raised."""
        waiting = deque() if self.stopped else deque(numbers)
        if not FORK:
            yield from ((number, self._jobs[number]()) for number in waiting)
            return
        while len(self._children) < min(self._count, len(waiting)):
            self._children.append(self._started())
        try:
            while not self.stopped:
                for child in self._children:
                    if child.job is None and waiting:
                        child.job = waiting.popleft()
                        child.line.send(child.job)
                busy = [child for child in self._children if child.job is not None]
                if not busy:
                    return
                yield from self._heard(busy)
        finally:
            if self.stopped or waiting or any(child.job is not None for child in self._children):
                self.close()

    def close(self) -> None:
        """End the children."""
        for child in self._children:
            kill(child.process)
            child.line.close()
        self._children = []

    def _heard(self, busy: Sequence[_Child]) -> Iterator[tuple[int, Any]]:
        """The results that the next messages bring; waits no longer than a draft may take."""
        ends = [child.until for child in busy if child.until is not None]
        most = max(min(ends) - monotonic(), 0.0) if ends else None
        lines = wait([child.line for child in busy], most)
        for child in busy:
            if child.line in lines:
                yield from self._message(child)
            elif child.until is not None and monotonic() >= child.until:
                self.stopped = (
                    f"{child.at} took longer than {self._seconds:g} s and was stopped; look for a "
                    "loop that does not end"
                )

    def _message(self, child: _Child) -> Iterator[tuple[int, Any]]:
        try:
            kind, value = child.line.recv()
        except EOFError:
            child.process.join()
            self.stopped = f"{child.at or 'a check'} ended its process ({ending(child.process)})"
            return
        if kind == "raised":
            raise value
        if kind == "at":
            child.at, child.until = value, monotonic() + self._seconds if value else None
        elif child.job is not None:
            number, child.job = child.job, None
            yield number, value

    def _started(self) -> _Child:
        how = multiprocessing.get_context("fork")
        here, there = how.Pipe()
        process = how.Process(target=_work, args=(self._jobs, there, here), daemon=True)
        with warnings.catch_warnings():
            # Only the thread that forks goes on in the child, and it waits for no other.
            warnings.simplefilter("ignore", DeprecationWarning)
            process.start()
        there.close()
        return _Child(process, here)


def _work(jobs: Sequence[Callable[[], Any]], there: Connection, here: Connection) -> None:
    """Do in a child the jobs that its parent asks for, until the parent is gone."""
    here.close()
    with suppress(AttributeError, OSError):
        os.setsid()  # so that what a job starts is killed with it
    _parent[:] = [there]
    with suppress(EOFError, OSError):
        while True:
            job = jobs[there.recv()]
            try:
                answer: tuple[str, object] = ("did", job())
            except Exception as error:
                answer = ("raised", error)
            sys.stdout.flush()
            there.send(answer)
