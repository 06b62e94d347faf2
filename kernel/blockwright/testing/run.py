"""Run the checks of the conformance kit on a block."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass
from functools import partial
from typing import Any, Literal

from blockwright.errors import InputError
from blockwright.plugin.block import Block, block_fault
from blockwright.plugin.capture import told_apart
from blockwright.spelling import nearest_to
from blockwright.testing import (
    behaviour_checks,
    change_checks,
    declaration_checks,
    draft_checks,
    steadiness_check,
    tautology_check,
)
from blockwright.testing.bodies import few, many
from blockwright.testing.check import Check, Looked, On
from blockwright.testing.trial import Trial, Tried
from blockwright.testing.workers import Workers

MODULES = (
    declaration_checks,
    draft_checks,
    change_checks,
    tautology_check,
    steadiness_check,
    behaviour_checks,
)
"""Where the checks are."""
CHECKS = {
    found.name: found
    for module in MODULES
    for found in vars(module).values()
    if isinstance(found, Check)
}
"""Every check by its name, in order.

Example:
    >>> from blockwright.testing import CHECKS
    >>> CHECKS["outline-closes"].says
    'Every outline is closed: each edge ends where the next begins'
"""
Status = Literal["passed", "failed", "known"]
ENOUGH = 50
"""Bodies from which on several processes are worth starting."""
LIMIT = 20.0
"""Times its own limit that a draft may take before it is stopped."""
SHOWN = 3
"""Complaints of one check that a report repeats."""
NAMED = declaration_checks.is_named
"""The check without which no other can be run."""
ENDS = behaviour_checks.fast_enough.name
"""The check that reports a draft that does not end."""
AT_ONCE = (behaviour_checks.can_be_finished, declaration_checks.takes_offered)
"""Checks of the few bodies that one draft alone is enough for."""
PRINTED = tuple(
    check.name
    for check in (
        draft_checks.proof_holds,
        draft_checks.outline_closes,
        draft_checks.edges_sewn,
        draft_checks.pieces_lie_right,
        draft_checks.corners_run_on,
        draft_checks.sides_bend_alike,
        draft_checks.notches_meet,
        draft_checks.folds_straight,
        draft_checks.edges_have_no_corner,
        draft_checks.pieces_can_be_sewn,
        draft_checks.lines_inside,
    )
)
"""Checks that say what the printed proof says."""


@dataclass(frozen=True)
class CheckResult:
    """One check of one block: how it went and what is wrong.

    'known': failed, as the block's traits say it does, with the reason first.

    Example:
        >>> from blockwright import load
        >>> from blockwright.testing import check_block
        >>> report = check_block(load().block("skirt.circle"), bodies=1, checks=["outline-closes"])
        >>> report.results
        (CheckResult(check='outline-closes', status='passed', complaints=()),)
    """

    check: str
    status: Status
    complaints: tuple[str, ...] = ()


@dataclass(frozen=True)
class Report:
    """All results of one block, by its key; how many `bodies` it was tried on and `refused`.

    `stated` is what the block says that a sewer would not expect, each line once.  `check_block`
    makes it.

    Example:
        >>> from blockwright import load
        >>> from blockwright.testing import check_block
        >>> report = check_block(load().block("skirt.circle"), bodies=1, checks=["block-is-named"])
        >>> report.block, report.passed, report.bodies, report.refused
        ('skirt.circle', True, 1, 0)
    """

    block: str
    results: tuple[CheckResult, ...]
    bodies: int
    refused: int
    stated: tuple[str, ...] = ()

    @property
    def passed(self) -> bool:
        """Whether no check failed, but those that are known to."""
        return all(result.status != "failed" for result in self.results)

    def text(self) -> str:
        """A line a check, complaints below it."""
        lines = []
        for result in self.results:
            lines.append(f"{result.status:<7} {result.check}: {CHECKS[result.check].says}")
            lines += [f"          {each}" for each in result.complaints[:SHOWN]]
            if len(result.complaints) > SHOWN:
                lines.append(f"          and {len(result.complaints) - SHOWN} more")
        failed = sum(result.status == "failed" for result in self.results)
        tried = f"{self.bodies} bodies, {self.refused} refused by name"
        lines.append(
            f"{self.block}: {len(self.results)} checks, {failed} failed" if failed
            else f"{self.block}: all {len(self.results)} checks passed"
        )  # fmt: skip
        stated = [f"stated: {each}" for each in self.stated]
        return "\n".join([*lines[:-1], *stated, f"{lines[-1]}; {tried}, {len(stated)} stated"])


def check_block(
    block: type[Block],
    *,
    beside: Iterable[type[Block]] = (),
    bodies: int = 100,
    checks: Iterable[str] | None = None,
    processes: int | None = None,
) -> Report:
    """Try a block on so many bodies, real and made up, and check what every block promises.

    `beside`: blocks drafted with it, that it is sewn to.  `checks`: names of those to run, all when
    not given.  `processes`: how many draft at once; one for few bodies, else as many as there are
    processors.  A draft that does not end is killed; `fast-enough` names it, and checks that could
    not be finished are left out of the report.
    Raises InputError for a check that does not exist, here or in the block's traits, and for less
    than one body.

    Example:
        >>> from blockwright import load
        >>> from blockwright.testing import check_block
        >>> report = check_block(load().block("skirt.gored"), bodies=12)
        >>> report.passed
        True
    """
    fault = block_fault(block)
    if fault and not isinstance(block, type):
        raise InputError.coded("check.no-block", why=fault)
    if fault:
        return Report(block.__name__, (CheckResult(NAMED.name, "failed", (fault,)),), 0, 0)
    chosen = chosen_checks(block, checks)
    blocks = (*beside, block)
    every = many(blocks, bodies)
    some = [Trial(blocks, body) for body in few(blocks)]
    asked = [check for check in chosen if check.on == "few"]
    jobs: list[Callable[[], Any]] = [partial(_few_told, check, some) for check in asked]
    jobs += [partial(_body_told, chosen, Trial(blocks, body)) for body in every]
    if processes is None:
        processes = (os.cpu_count() or 1) if bodies >= ENOUGH else 1
    workers = Workers(jobs, time_limit(blocks), processes)
    found = dict(workers.results(range(len(jobs))))
    workers.close()
    seen = {i: found[i + len(asked)] for i in range(bodies) if i + len(asked) in found}
    told: dict[str, list[str]] = {}
    for check in chosen:
        if check.on == "few" and (number := asked.index(check)) in found:
            told[check.name] = found[number]
        elif check.on == "body":
            lines = [line for i in sorted(seen) for line in seen[i][1].get(check.name, ())]
            if lines or len(seen) == bodies:
                told[check.name] = lines
        elif check.on == "block":
            told[check.name] = check.complaints(block)
        elif check.on == "all" and len(seen) == bodies:
            tried = [Tried(blocks, body, seen[i][0]) for i, body in enumerate(every)]
            told[check.name] = check.complaints(tried)
    if workers.stopped:
        told[ENDS] = [f"{workers.stopped}; nothing more was drafted"]
    results = [judged(check, block, told[name]) for name, check in CHECKS.items() if name in told]
    refused = sum(bool(message) for message, _, _ in seen.values())
    stated = dict.fromkeys(line for i in sorted(seen) for line in seen[i][2])
    return Report(block.key, tuple(results), len(every), refused, tuple(stated))


def time_limit(blocks: Iterable[type[Block]]) -> float:
    """Seconds after which a draft of these blocks is stopped: it is not slow, it does not end."""
    return LIMIT * sum(block.traits.seconds for block in blocks)


def _few_told(check: Check, some: Sequence[Trial]) -> list[str]:
    """What a check says of the few bodies together."""
    with told_apart(lambda _: None):  # another check reports what is printed
        return check.complaints(some)


def _body_told(
    checks: Iterable[Check], trial: Trial
) -> tuple[str, dict[str, list[str]], list[str]]:
    """What a body was refused with, what each check of a single body says, and what is stated."""
    said = {}
    with told_apart(lambda _: None):
        for check in checks:
            if check.on == "body" and (lines := check.complaints(trial)):
                said[check.name] = [f"{line} [{trial.command()}]" for line in lines]
        proof = trial.outcome.proof
        stated = [proof.why(reason) for reason in proof.stated] if proof else []
        return trial.tried().refused, said, stated


def at_once(trial: Trial) -> list[str]:
    """What the checks of the class and of a body by itself say of one draft, and of its cutting.

    Each with the name of its check; not what the printed proof says, nor what the traits list as
    known.
    """
    left_out = (*PRINTED, *trial.block.traits.known_failures)
    looked_at: dict[On, Looked] = {"block": trial.block, "body": trial, "few": [trial]}
    return [
        f"{check.name}: {line}"
        for check in CHECKS.values()
        if (check.on in ("block", "body") or check in AT_ONCE) and check.name not in left_out
        for line in check.complaints(looked_at[check.on])
    ]


def chosen_checks(block: type[Block], names: Iterable[str] | None) -> list[Check]:
    """The checks of these names, or all; InputError for one that does not exist."""
    names = None if names is None else [*names]
    for name in (*(names or ()), *block.traits.known_failures):
        if name not in CHECKS:
            if near := nearest_to(name, CHECKS):
                raise InputError.coded("check.misspelt", name=name, near=near)
            raise InputError.coded("check.unknown", name=name)
    return [CHECKS[name] for name in CHECKS if names is None or name in names]


def judged(check: Check, block: type[Block], told: Sequence[str]) -> CheckResult:
    """The result of a check, known failures counted as such and held to it."""
    reason = block.traits.known_failures.get(check.name)
    if reason is None:
        return CheckResult(check.name, "failed" if told else "passed", tuple(told))
    if told:
        return CheckResult(check.name, "known", (reason, *told))
    good = f"passes, though traits.known_failures says {reason!r}; take it off the list"
    return CheckResult(check.name, "failed", (good,))
