"""Run the checks: the plain door of the conformance kit."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from typing import Literal

from blockwright.errors import InputError
from blockwright.plugin.block import Block, block_fault
from blockwright.spelling import did_you_mean
from blockwright.testing import behaved, changed, declared, drafted, steady
from blockwright.testing.bodies import many
from blockwright.testing.check import Check, Looked, On
from blockwright.testing.looking import look
from blockwright.testing.trial import Trial, Tried

MODULES = (declared, drafted, changed, steady, behaved)
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
SHOWN = 3
"""Complaints of one check that a report repeats."""
NAMED = declared.is_named
"""The check without which a block can be no more than looked at."""
ENDS = behaved.fast_enough.name
"""The check that tells of a draft that does not end, whichever draft it was."""
PRINTED = (drafted.proof_holds.name, drafted.outline_closes.name)
"""Checks that say what a reader of the proof has read."""


@dataclass(frozen=True)
class Result:
    """One check of one block: how it went and what is wrong.

    'known': failed, as the block's traits say it does, with the reason first.

    Example:
        >>> from blockwright import load
        >>> from blockwright.testing import check_block
        >>> report = check_block(load().block("skirt.circle"), bodies=1, checks=["outline-closes"])
        >>> report.results
        (Result(check='outline-closes', status='passed', complaints=()),)
    """

    check: str
    status: Status
    complaints: tuple[str, ...] = ()


@dataclass(frozen=True)
class Report:
    """All results of one block, by its key; how many `bodies` it was tried on and `refused`.

    `check_block` makes it.

    Example:
        >>> from blockwright import load
        >>> from blockwright.testing import check_block
        >>> report = check_block(load().block("skirt.circle"), bodies=1, checks=["block-is-named"])
        >>> report.block, report.passed, report.bodies, report.refused
        ('skirt.circle', True, 1, 0)
    """

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
    processors.  InputError for a check that does not exist, here or in the block's traits, and for
    no bodies.

    Example:
        >>> from blockwright import load
        >>> from blockwright.testing import check_block
        >>> report = check_block(load().block("skirt.gored"), bodies=12)
        >>> report.passed
        True
    """
    fault = block_fault(block)
    if fault and not isinstance(block, type):
        raise InputError(fault)
    if fault:
        return Report(block.__name__, (Result(NAMED.name, "failed", (fault,)),), 0, 0)
    chosen = chosen_checks(block, checks)
    blocks = (*beside, block)
    every = many(blocks, bodies)
    looked = look(blocks, chosen, every, processes)
    pairs = zip(every, looked.seen, strict=True)
    tried = [Tried(blocks, body, seen.refused) for body, seen in pairs]
    told: dict[str, list[str]] = {}
    for check in chosen:
        if check.on == "few":
            told[check.name] = looked.told[check.name].lines
        elif check.on == "body":
            said = (seen.said.get(check.name, []) for seen in looked.seen)
            told[check.name] = [line for lines in said for line in lines]
        else:
            told[check.name] = check.complaints(block if check.on == "block" else tried)
    if looked.stopped:
        told[ENDS] = looked.stopped[:1]
    results = [judged(check, block, told[name]) for name, check in CHECKS.items() if name in told]
    refused = sum(bool(each.refused) for each in tried)
    return Report(block.key, tuple(results), len(every), refused)


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
        if (check.on in ("block", "body") or check is behaved.can_be_finished)
        and check.name not in left_out
        for line in check.complaints(looked_at[check.on])
    ]


def chosen_checks(block: type[Block], names: Iterable[str] | None) -> list[Check]:
    """The checks of these names, or all; InputError for one that does not exist."""
    names = None if names is None else [*names]
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
