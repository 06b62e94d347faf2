"""A time limit on code that is not ours: it stops what does not end, and touches nothing else."""

from __future__ import annotations

import random
import signal
import threading
import time

import pytest

from blockwright import PluginError
from blockwright.plugin.limit import StoppedError, time_limit

LIMIT = 0.2
ROOM = 1.5
"""Seconds of room for a machine that is busy."""


def spin(seconds: float) -> int:
    """Python at work for so long; how often it went round."""
    turns, end = 0, time.perf_counter() + seconds
    while time.perf_counter() < end:
        turns += 1
    return turns


def for_ever() -> None:
    while True:
        pass


def stubborn() -> None:
    """A loop that goes on whatever goes wrong within."""
    while True:
        try:
            spin(0.01)
        except Exception:
            continue


def thrice_stubborn() -> None:
    """A loop that goes on when it is told to stop, three times."""
    told = 0
    while True:
        try:
            spin(0.01)
        except BaseException:
            told += 1
            if told > 3:
                raise


def deep(depth: int = 0) -> None:
    """A loop of calls and tidying up, many calls down."""
    try:
        deep(depth + 1) if depth < 100 else for_ever()
    finally:
        spin(0.0)


def solver() -> None:
    """Short calls into compiled code, without end: as a solver that does not settle."""
    values = list(range(1000))
    while True:
        values.sort(reverse=values[0] == 0)


@pytest.mark.parametrize("work", [for_ever, stubborn, thrice_stubborn, deep, solver])
def test_what_does_not_end_is_stopped_at_about_the_limit(work) -> None:
    begin = time.perf_counter()
    with pytest.raises(StoppedError) as stopped, time_limit(LIMIT, "block 'tube.endless'"):
        work()
    assert LIMIT <= time.perf_counter() - begin < LIMIT + ROOM
    assert str(stopped.value) == (
        "block 'tube.endless' took longer than 0.2 s and was stopped; look for a loop that does "
        "not end"
    )
    assert isinstance(stopped.value, PluginError)
    assert stopped.value.__suppress_context__


def test_a_long_call_into_a_library_is_stopped_when_it_returns() -> None:
    after = []

    def work() -> None:
        time.sleep(LIMIT)
        after.append(spin(0.05))

    with pytest.raises(StoppedError), time_limit(LIMIT / 4.0, "a block"):
        work()
    assert after == []


def test_results_come_through() -> None:
    with time_limit(30.0, "a block"):
        turns = spin(0.02)
    assert turns > 0


def test_other_exceptions_come_through_as_they_are() -> None:
    wrong = KeyError("hip_girth")
    with pytest.raises(KeyError) as raised, time_limit(30.0, "a block"):
        raise wrong
    assert raised.value is wrong
    assert raised.value.__cause__ is None
    assert raised.value.__context__ is None
    with pytest.raises(KeyboardInterrupt), time_limit(30.0, "a block"):
        raise KeyboardInterrupt


def test_no_limit_means_none() -> None:
    threads = threading.active_count()
    with time_limit(None, "a block"):
        assert threading.active_count() == threads
        spin(0.3)


def test_a_limit_within_another() -> None:
    with time_limit(30.0, "the outer"):
        with (
            pytest.raises(StoppedError, match="the inner took longer"),
            time_limit(0.1, "the inner"),
        ):
            for_ever()
        assert spin(0.1) > 0
    with (
        pytest.raises(StoppedError, match="the outer took longer"),
        time_limit(0.1, "the outer"),
        time_limit(30.0, "the inner"),
    ):
        for_ever()


def test_it_stops_the_thread_that_asked_and_no_other() -> None:
    told: list[str] = []

    def work() -> None:
        try:
            with time_limit(LIMIT, "a block"):
                for_ever()
        except StoppedError as error:
            told.append(f"{error}")

    thread = threading.Thread(target=work)
    thread.start()
    spin(2.0 * LIMIT)
    thread.join(ROOM)
    assert not thread.is_alive()
    assert len(told) == 1


def test_nothing_is_left_pending_after_many() -> None:
    """Whether each was stopped or came to its end just in time, what follows is undisturbed."""
    threads = threading.active_count()
    chance = random.Random(7)
    stopped = ended = 0
    for _ in range(150):
        seconds = chance.uniform(0.001, 0.005)
        try:
            with time_limit(seconds, "a block"):
                spin(seconds + chance.uniform(-0.004, 0.02))
            ended += 1
        except StoppedError:
            stopped += 1
        assert spin(0.0002) >= 0
    assert stopped > 5
    assert ended > 5
    assert spin(0.3) > 0
    assert threading.active_count() == threads


@pytest.mark.parametrize(
    "wait", [lambda: time.sleep(60.0), lambda: threading.Event().wait(), lambda: locked().acquire()]
)
def test_a_sleep_and_a_wait_are_stopped(wait) -> None:
    begin = time.perf_counter()
    with pytest.raises(StoppedError), time_limit(LIMIT, "a block"):
        wait()
    assert LIMIT <= time.perf_counter() - begin < LIMIT + ROOM


def locked() -> threading.Lock:
    lock = threading.Lock()
    lock.acquire()
    return lock


def test_limits_that_end_together_are_told_apart_and_nothing_comes_late() -> None:
    draws = random.Random(5)
    threads, handler = threading.active_count(), signal.getsignal(signal.SIGURG)
    stopped = []
    for _ in range(100):
        outer, inner = draws.uniform(0.002, 0.02), draws.uniform(0.002, 0.02)
        try:
            with time_limit(outer, "the outer"):
                try:
                    with time_limit(inner, "the inner"):
                        draws.choice([spin, time.sleep])(draws.uniform(0.0, 0.03))
                except StoppedError as error:
                    stopped.append(("inner", str(error).split()[1]))
                spin(draws.uniform(0.0, 0.01))
        except StoppedError as error:
            stopped.append(("outer", str(error).split()[1]))
    spin(0.2)
    assert {where for where, _ in stopped} == {"inner", "outer"}
    assert [pair for pair in stopped if pair[0] != pair[1]] == []
    assert (threading.active_count(), signal.getsignal(signal.SIGURG)) == (threads, handler)
