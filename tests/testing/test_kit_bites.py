"""Every check of the conformance kit bites: a block with one mistake fails that check alone."""

from __future__ import annotations

import gc
import os
import time

import broken_promises
import broken_sewing
import pytest
from broken_blocks import (
    BROKEN,
    OTHERS,
    Broken,
    Endless,
    KeepsTheLastBody,
    NotchForSome,
    RefusesEverybody,
    Slow,
    Tube,
)
from kit_samples import with_traits

from blockwright.testing import run, steadiness_check
from blockwright.testing.bodies import few
from blockwright.testing.run import CHECKS, Report, check_block
from blockwright.testing.trial import Trial
from parts import thinned

# They enter their blocks among the broken ones.
assert broken_promises.__name__
assert broken_sewing.__name__
BODIES = 12
ENDLESS_MOST = 8.0
"""Seconds: the one second after which it is stopped, once, and room for a busy machine."""


def failed(report: Report) -> set[str]:
    return {result.check for result in report.results if result.status == "failed"}


def complaints(report: Report, name: str) -> str:
    (result,) = (result for result in report.results if result.check == name)
    return "\n".join(result.complaints)


@pytest.fixture
def three_of_the_few(monkeypatch):
    """The slow checks look at a middling body and two extreme ones, not at a dozen.

    Jumps are searched for near the first.
    """
    monkeypatch.setattr(run, "few", lambda blocks: few(blocks)[:3])
    monkeypatch.setattr(steadiness_check, "SEARCHED", 1)


def test_there_is_a_broken_block_for_every_check() -> None:
    assert set(BROKEN) == set(CHECKS)
    assert len(CHECKS) >= 20
    assert len({broken.block for broken in BROKEN.values()}) == len(BROKEN)


def test_the_good_block_passes_every_check() -> None:
    report = check_block(Tube, bodies=BODIES, processes=1)
    assert failed(report) == set(), report.text()
    assert [result.check for result in report.results] == list(CHECKS)
    assert {result.status for result in report.results} == {"passed"}
    assert (report.bodies, report.refused) == (BODIES, 0)


@pytest.mark.usefixtures("three_of_the_few")
@pytest.mark.parametrize("name", thinned((name,) for name in CHECKS))
def test_a_broken_block_fails_its_check_alone_and_is_told_what_to_change(name: str) -> None:
    broken = BROKEN[name]
    report = check_block(broken.block, beside=broken.beside, bodies=BODIES, processes=1)
    assert failed(report) == {name}, report.text()
    assert not report.passed
    told = complaints(report, name)
    for words in BROKEN[name].words:
        assert words in told, told
    if CHECKS[name].on == "body":
        for line in told.splitlines():
            assert "[blockwright draft tube.plain --body survey:" in line
            assert line.endswith("]")


@pytest.mark.usefixtures("three_of_the_few")
@pytest.mark.parametrize(
    ("name", "broken"), thinned(OTHERS, keep=4), ids=[each.block.__name__ for _, each in OTHERS]
)
def test_other_mistakes_fail_one_check_as_well(name: str, broken: Broken) -> None:
    # Of what starts programs hundreds of drafts are slow.
    behaved = name in ("no-network", "no-files")
    checks = ["no-files", "no-network", "no-clock", "no-output"]
    report = check_block(broken.block, bodies=BODIES, checks=checks if behaved else None)
    assert failed(report) == {name}, report.text()
    told = complaints(report, name)
    for words in broken.words:
        assert words in told, told


@pytest.mark.usefixtures("three_of_the_few")
def test_what_the_traits_say_is_right_is_no_fault() -> None:
    stepped = with_traits(NotchForSome, steps="a wide hip has a notch more")
    assert failed(check_block(stepped, bodies=1, checks=["changes-steadily"])) == set()
    steady = with_traits(BROKEN["changes-steadily"].block, steadiness=200.0)
    assert failed(check_block(steady, bodies=1, checks=["changes-steadily"])) == set()
    few_only = with_traits(BROKEN["refuses-few"].block, most_refused=0.8)
    assert failed(check_block(few_only, bodies=BODIES, checks=["refuses-few"])) == set()
    slow = with_traits(Slow, seconds=10.0)
    assert failed(check_block(slow, bodies=1, checks=["fast-enough"])) == set()


def test_no_trait_excuses_a_block_that_never_drafts() -> None:
    excused = with_traits(RefusesEverybody, most_refused=1.0)
    report = check_block(excused, bodies=BODIES, checks=["refuses-few"])
    assert "so no draft was looked at" in complaints(report, "refuses-few")


ALIKE = ("repeatable", "stateless", "same-in-any-unit", "changes-steadily")


@pytest.mark.parametrize("name", ALIKE)
def test_what_was_drafted_first_makes_no_difference(name: str) -> None:
    """Each check by itself, as in the pytest door, after another body or none."""
    blocks = (BROKEN[name].block,)
    for before in (None, few(blocks)[-1]):
        for asked in ALIKE:
            KeepsTheLastBody.before = None
            trials = [Trial(blocks, body) for body in few(blocks)[:3]]
            if before:
                Trial(blocks, before).draft()
            assert bool(CHECKS[asked].complaints(trials)) == (asked == name), asked


def test_what_the_garbage_collector_calls_is_not_the_block_s() -> None:
    called = []

    def collected(phase: str, info: dict[str, int]) -> None:
        os.listdir()
        called.append((phase, time.perf_counter()))

    before = gc.get_threshold()
    gc.callbacks.append(collected)
    gc.set_threshold(1)
    try:
        report = check_block(Tube, bodies=1, checks=["no-files", "no-clock"], processes=1)
    finally:
        gc.set_threshold(*before)
        gc.callbacks.remove(collected)
    assert called
    assert report.passed, report.text()
    assert gc.isenabled()


def test_a_block_that_never_ends_is_told_in_seconds() -> None:
    begin = time.perf_counter()
    report = check_block(Endless, bodies=60, processes=2)
    assert time.perf_counter() - begin < ENDLESS_MOST
    assert failed(report) == {"fast-enough"}
    assert "survey:" in complaints(report, "fast-enough")


def test_a_block_that_ends_late_is_told_how_late() -> None:
    report = check_block(Slow, bodies=1, checks=["fast-enough"])
    told = complaints(report, "fast-enough")
    assert "at most 0.015" in told
    assert "near=..." in told
    assert "traits.seconds" in told
