"""Work in a child process: what it returns and raises comes back, what does not end is killed."""

from __future__ import annotations

import os
import subprocess
import sys
import time

import pytest

from blockwright.errors import InputErrors, PluginError
from blockwright.job.child import StoppedError, in_child


def test_it_returns_and_leaves_nothing_here() -> None:
    seen: list[int] = []

    def work(tell) -> int:
        seen.append(1)
        return os.getpid()

    assert in_child(work, 60.0) != os.getpid()
    assert seen == []


def test_what_it_raises_is_raised_whole() -> None:
    def work(tell) -> None:
        raise InputErrors(["one", "two"])

    with pytest.raises(InputErrors) as raised:
        in_child(work, 60.0)
    assert raised.value.lines == ["one", "two"]


def test_a_word_within_the_limit_gives_it_more_time() -> None:
    def work(tell) -> str:
        for step in range(4):
            tell(f"step {step}")
            time.sleep(0.4)
        return "done"

    assert in_child(work, 1.0) == "done"


def test_who_was_last_named_is_told() -> None:
    def work(tell) -> None:
        tell("the first")
        tell("the second")
        time.sleep(600)

    with pytest.raises(StoppedError, match=r"^the second took longer than 0\.5 s and was stopped"):
        in_child(work, 0.5)


def test_what_it_starts_is_killed_with_it() -> None:
    def work(tell) -> None:
        started = subprocess.Popen([sys.executable, "-c", "import time; time.sleep(600)"])
        tell(str(started.pid))
        time.sleep(600)

    with pytest.raises(StoppedError) as stopped:
        in_child(work, 1.5)
    pid = int(str(stopped.value).split()[0])
    deadline = time.monotonic() + 5.0
    while _runs(pid) and time.monotonic() < deadline:
        time.sleep(0.02)
    assert not _runs(pid)


def test_what_cannot_be_sent_is_told() -> None:
    with pytest.raises(PluginError, match="the result cannot be sent"):
        in_child(lambda tell: lambda: None, 60.0)


def test_an_exit_is_told() -> None:
    with pytest.raises(PluginError, match="SystemExit: 4"):
        in_child(lambda tell: sys.exit(4), 60.0)


def _runs(pid: int) -> bool:
    """Whether a process does anything yet; one that is dead and not asked after does not."""
    try:
        with open(f"/proc/{pid}/stat", encoding="ascii") as stat:
            return stat.read().rpartition(")")[2].split()[0] != "Z"
    except FileNotFoundError:
        return False
