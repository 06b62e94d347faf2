"""Run the checks: the plain door of the conformance kit."""

from __future__ import annotations

import multiprocessing
import os
from collections.abc import Iterable, Sequence
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from typing import Literal

from blockwright.errors import InputError
from blockwright.plugin.block import Block, block_fault
from blockwright.plugin.quiet import printing_told
from blockwright.spelling import did_you_mean
from blockwright.testing import behaved, changed, declared, drafted
from blockwright.testing.bodies import Body, few, many
from blockwright.testing.check import Check, Looked
from blockwright.testing.trial import Trial, Tried

MODULES = (declared, drafted, changed, behaved)
"""Where the checks are."""
CHECKS = {
    found.name: found
    for module in MODULES
    for found in vars(module).values()
    if isinstance(found, Check)
}
"""Every check by its name, in order."""
Status = Literal["passed", "failed", "known"]
ENOUGH = 50
"""Bodies from which on several processes are worth starting."""
CHUNK = 20
SHOWN = 3
"""Complaints of one check that a report repeats."""


@dataclass(frozen=True)
class Result:
    """One check of one block: how it went and what is wrong.

    'known': failed, as the block's traits say it does, with the reason first.
    """

    check: str
    status: Status
    complaints: tuple[str, ...] = ()


@dataclass(frozen=True)
class Report:
    """All results of one block."""

    block: str
    results: tuple[Result, ...]
    bodies: int
    refused: int

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
        return "\n".join([*lines[:-1], f"{lines[-1]}; {tried}"])


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
    not given.  `processes`: how many work at once; one for few bodies, else as many as there are
    processors.  InputError for a check that does not exist, here or in the block's traits.

    Example:
        >>> from blockwright import load
        >>> from blockwright.testing import check_block
        >>> report = check_block(load().block("skirt.circle"), bodies=12)
        >>> report.passed
        True
    """
    chosen = chosen_checks(block, checks)
    blocks = (*beside, block)
    if any(check.name == "block-is-named" for check in chosen) and block_fault(block):
        complaint = (block_fault(block),)
        return Report(block.__name__, (Result("block-is-named", "failed", complaint),), 0, 0)
    every = many(blocks, bodies)
    by_body = [check.name for check in chosen if check.on == "body"]
    looked = _looked_at(blocks, every, by_body, processes)
    tried = [Tried(block, body, refused) for body, (refused, _) in zip(every, looked, strict=True)]
    some = [Trial(blocks, body) for body in few(blocks)]
    looks_at: dict[str, Looked] = {"block": block, "few": some, "all": tried}
    results = []
    for check in chosen:
        if check.on == "body":
            told = [line for _, found in looked for line in found.get(check.name, ())]
        else:
            told = check.complaints(looks_at[check.on])
        results.append(judged(check, block, told))
    refused = sum(bool(each.refused) for each in tried)
    return Report(block.key, tuple(results), len(every), refused)


def chosen_checks(block: type[Block], names: Iterable[str] | None) -> list[Check]:
    """The checks of these names, or all; InputError for one that does not exist."""
    for name in (*(names or ()), *block.traits.known_failures):
        if name not in CHECKS:
            raise InputError(
                f"no check {name!r}{did_you_mean(name, CHECKS)}; see: blockwright check --list"
            )
    return [CHECKS[name] for name in CHECKS if names is None or name in names]


def judged(check: Check, block: type[Block], told: Sequence[str]) -> Result:
    """The result of a check, known failures counted as such and held to it."""
    reason = block.traits.known_failures.get(check.name)
    if reason is None:
        return Result(check.name, "failed" if told else "passed", tuple(told))
    if told:
        return Result(check.name, "known", (reason, *told))
    good = f"passes, though traits.known_failures says {reason!r}; take it off the list"
    return Result(check.name, "failed", (good,))


Seen = tuple[str, dict[str, list[str]]]
"""What a body was refused with, or nothing; what each check says of it.

No block is in it: one in a file or a cell of a notebook cannot be sent between processes.
"""


def _looked_at(
    blocks: Sequence[type[Block]], bodies: Sequence[Body], names: list[str], processes: int | None
) -> list[Seen]:
    """Every body tried, with what each check says of it, if anything."""
    if processes is None:
        processes = (os.cpu_count() or 1) if len(bodies) >= ENOUGH else 1
    if processes < 2 or "fork" not in multiprocessing.get_all_start_methods():
        return [_look(tuple(blocks), body, names) for body in bodies]
    # A block may live in a file that only this process has loaded, so the others are its copies.
    context = multiprocessing.get_context("fork")
    _shared.append((tuple(blocks), names))
    try:
        with ProcessPoolExecutor(processes, mp_context=context) as pool:
            return list(pool.map(_look_shared, bodies, chunksize=CHUNK))
    finally:
        _shared.pop()


_shared: list[tuple[tuple[type[Block], ...], list[str]]] = []


def _look_shared(body: Body) -> Seen:
    blocks, names = _shared[-1]
    return _look(blocks, body, names)


def _look(blocks: tuple[type[Block], ...], body: Body, names: list[str]) -> Seen:
    trial = Trial(blocks, body)
    with printing_told(lambda _: None):  # another check tells that it prints
        found = {name: CHECKS[name].complaints(trial) for name in names}
    said = {
        name: [f"{line} [{trial.command()}]" for line in lines]
        for name, lines in found.items()
        if lines
    }
    return trial.tried().refused, said
