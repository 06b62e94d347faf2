"""Child processes of the kit: a draft that does not end is killed, also inside compiled code."""

from __future__ import annotations

import itertools
import os
import time
from functools import partial

import pytest
from broken_blocks import Tube
from kit_samples import with_traits

from blockwright.testing import check_block
from blockwright.testing.workers import Workers, tell

LIMIT = 0.3
ROOM = 5.0
"""Seconds of room for a machine that is busy."""


def drafting(seconds: float) -> float:
    tell("a draft")
    time.sleep(seconds)
    tell("")
    return seconds


def for_ever() -> None:
    tell("the endless one")
    while True:
        try:
            time.sleep(0.01)
        except BaseException:
            continue


def in_compiled_code() -> None:
    tell("the endless one")
    sum(itertools.repeat(0))


def crashing() -> None:
    tell("the crashing one")
    os._exit(7)


def raising() -> None:
    raise KeyError("hip_girth")


@pytest.mark.parametrize("count", [1, 2, 5])
def test_every_job_is_done_once(count: int) -> None:
    jobs = [partial(pow, 2, number) for number in range(9)]
    workers = Workers(jobs, LIMIT, count)
    assert dict(workers.results(range(9))) == {number: 2**number for number in range(9)}
    assert dict(workers.results([4])) == {4: 16}
    assert workers.stopped == ""
    workers.close()


@pytest.mark.parametrize("endless", [for_ever, in_compiled_code])
def test_a_draft_that_does_not_end_is_killed(endless) -> None:
    workers = Workers([partial(drafting, 0.0), endless, partial(drafting, 0.0)], LIMIT)
    begin = time.monotonic()
    assert dict(workers.results(range(3))) == {0: 0.0}
    assert LIMIT <= time.monotonic() - begin < LIMIT + ROOM
    assert workers.stopped == (
        "the endless one took longer than 0.3 s and was stopped; look for a loop that does not end"
    )
    assert dict(workers.results([2])) == {}


def test_several_drafts_may_take_longer_together_and_so_may_work_between_them() -> None:
    def job() -> float:
        drafting(LIMIT / 2.0)
        time.sleep(1.5 * LIMIT)
        return drafting(LIMIT / 2.0)

    workers = Workers([job], LIMIT)
    assert dict(workers.results([0])) == {0: LIMIT / 2.0}
    workers.close()


def test_a_draft_that_ends_its_process_is_told() -> None:
    workers = Workers([crashing], LIMIT)
    assert dict(workers.results([0])) == {}
    assert workers.stopped == "the crashing one ended its process (exit code 7)"


def test_what_a_job_raises_is_raised_here() -> None:
    with pytest.raises(KeyError, match="hip_girth"):
        dict(Workers([raising], LIMIT).results([0]))


def test_nothing_is_told_where_there_is_no_parent() -> None:
    assert drafting(0.0) == 0.0


def test_a_block_that_is_stuck_in_a_library_is_told_by_its_body() -> None:
    class Stuck(with_traits(Tube, seconds=0.05)):
        """Tube that counts without end, in compiled code."""

        def draft(self, d) -> None:
            sum(itertools.repeat(0))

    report = check_block(Stuck, bodies=1, checks=["drafts", "block-is-named"])
    assert [(each.check, each.status) for each in report.results] == [
        ("block-is-named", "passed"),
        ("fast-enough", "failed"),
    ]
    (told,) = report.results[-1].complaints
    assert told.endswith(
        ": tube.plain took longer than 1 s and was stopped; look for a loop that does not end; "
        "nothing more was drafted"
    )
