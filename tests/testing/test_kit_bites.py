"""Every check of the conformance kit bites: a block with one mistake fails that check alone."""

from __future__ import annotations

import time
from functools import cache

import pytest
from broken_blocks import BROKEN, Endless, Slow, Tube

from blockwright.testing import CHECKS, Report, check_block

BODIES = 12
ENDLESS_MOST = 8.0
"""Seconds: the one second after which it is stopped, once, and room for a busy machine."""


@cache
def report_of(name: str) -> Report:
    return check_block(BROKEN[name].block, bodies=BODIES, processes=1)


def failed(report: Report) -> set[str]:
    return {result.check for result in report.results if result.status == "failed"}


def complaints(report: Report, name: str) -> str:
    (result,) = (result for result in report.results if result.check == name)
    return "\n".join(result.complaints)


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


@pytest.mark.parametrize("name", CHECKS)
def test_a_broken_block_fails_its_check_and_no_other(name: str) -> None:
    report = report_of(name)
    assert failed(report) == {name}, report.text()
    assert not report.passed


@pytest.mark.parametrize("name", CHECKS)
def test_the_complaint_says_what_to_change(name: str) -> None:
    told = complaints(report_of(name), name)
    for words in BROKEN[name].words:
        assert words in told, told


@pytest.mark.parametrize("name", [name for name, each in CHECKS.items() if each.on == "body"])
def test_a_complaint_about_a_body_ends_with_the_command_that_draws_it(name: str) -> None:
    for line in complaints(report_of(name), name).splitlines():
        assert "[blockwright draft tube.plain --body survey:" in line
        assert line.endswith("]")


def test_a_block_that_never_ends_is_told_in_seconds() -> None:
    begin = time.perf_counter()
    report = check_block(Endless, bodies=60, processes=2)
    assert time.perf_counter() - begin < ENDLESS_MOST
    assert failed(report) == {"is-fast-enough"}
    assert "survey:" in complaints(report, "is-fast-enough")


def test_a_block_that_ends_late_is_told_how_late() -> None:
    report = check_block(Slow, bodies=1, checks=["is-fast-enough"])
    told = complaints(report, "is-fast-enough")
    assert "at most 0.015" in told
    assert "near=..." in told
    assert "traits.seconds" in told
