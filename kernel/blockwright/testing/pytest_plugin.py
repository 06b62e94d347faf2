"""The conformance kit in pytest: one line in a test file makes a test for every check and body."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from functools import partial
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    import pytest

    from blockwright.plugin.block import Block
    from blockwright.testing.check import Check
    from blockwright.testing.workers import Workers

MARK = "_blockwright_conformance"
OPTION = "--blockwright-bodies"
BODIES = 12


def pytest_addoption(parser: pytest.Parser) -> None:
    """How many bodies a block is tried on."""
    parser.addoption(
        OPTION,
        type=int,
        default=BODIES,
        metavar="N",
        help=f"bodies that each block is tried on by blockwright.testing (default {BODIES})",
    )


def conformance(
    *blocks: type[Block], beside: Iterable[type[Block]] = (), checks: Iterable[str] | None = None
) -> Callable[..., None]:
    """A test function for these blocks: one test for every block, check and body.

    `beside`: blocks drafted with each, that they are sewn to; `checks`: names of those to run, all
    when not given.  A check that the traits of a block list among its known failures is expected
    to fail, and fails the run when it does not.  `pytest --blockwright-bodies 1000` tries more.
    InputError when no block is given or one is no block; a check that does not exist fails the
    test file.

    Example:
        In a test file, all of it:

        >>> from blockwright import load
        >>> from blockwright.testing import conformance
        >>> test_circle = conformance(load().block("skirt.circle"))
    """

    from blockwright.errors import InputError
    from blockwright.plugin.block import Block, block_fault

    if isinstance(beside, type):
        name = beside.__name__
        raise InputError.coded("conformance.no-list", name="beside", given=name)
    if isinstance(checks, str):
        raise InputError.coded("conformance.no-list", name="checks", given=repr(checks))
    beside = tuple(beside)
    if not blocks:
        raise InputError.coded("conformance.nothing")
    for block in (*blocks, *beside):
        if not (isinstance(block, type) and issubclass(block, Block)):
            raise InputError.coded("conformance.no-block", why=block_fault(block))

    def test_conformance(conformance_case: Callable[[], list[str]]) -> None:
        import pytest

        complaints = conformance_case()
        if complaints:
            pytest.fail("\n".join(complaints), pytrace=False)

    setattr(test_conformance, MARK, (blocks, beside, None if checks is None else [*checks]))
    return test_conformance


def pytest_generate_tests(metafunc: pytest.Metafunc) -> None:
    """Make the cases of a test function that `conformance` made."""
    import pytest

    from blockwright.errors import InputError

    asked = getattr(metafunc.function, MARK, None)
    if asked is None:
        return
    blocks, beside, checks = asked
    count = metafunc.config.getoption(OPTION)
    cases = []
    fault = ""
    try:
        for block in blocks:
            for check, name, case in _cases(block, beside, checks, count):
                reason = block.traits.known_failures.get(check.name)
                marks = [] if reason is None else [pytest.mark.xfail(reason=reason, strict=True)]
                cases.append(pytest.param(case, id=name, marks=marks))
    except InputError as error:
        fault = f"{metafunc.definition.name}: {error}"
    if fault:
        pytest.fail(fault, pytrace=False)
    metafunc.parametrize("conformance_case", cases)


def _cases(
    block: type[Block], beside: tuple[type[Block], ...], names: list[str] | None, count: int
) -> Iterator[tuple[Check, str, Callable[[], list[str]]]]:
    """Every check with the name of its test and what runs it."""
    from blockwright.plugin.block import block_fault
    from blockwright.testing.bodies import few, many
    from blockwright.testing.run import ENDS, NAMED, chosen_checks, time_limit
    from blockwright.testing.trial import Trial
    from blockwright.testing.workers import Workers

    if block_fault(block):
        yield NAMED, f"{block.__name__}-{NAMED.name}", partial(NAMED.complaints, block)
        return
    blocks = (*beside, block)
    some = [Trial(blocks, body) for body in few(blocks)]
    every = [Trial(blocks, body) for body in many(blocks, count)]

    def tried_all(check: Check) -> list[str]:
        return check.complaints([trial.tried() for trial in every])

    def each_in_turn(check: Check) -> list[str]:
        return [line for trial in every for line in check.complaints(trial)]

    jobs: list[Callable[[], list[str]]] = []
    workers = Workers(jobs, time_limit(blocks))
    for check in chosen_checks(block, names):
        name = f"{block.key}-{check.name}"
        if check.on == "block":
            yield check, name, partial(check.complaints, block)
            continue
        cases = {name: partial(check.complaints, some)}
        if check.on == "all":
            cases = {name: partial(tried_all, check)}
        elif check.on == "body" and check.name in block.traits.known_failures:
            cases = {name: partial(each_in_turn, check)}
        elif check.on == "body":
            cases = {f"{name}-{t.body.name}": partial(check.complaints, t) for t in every}
        for case, job in cases.items():
            jobs.append(job)
            yield check, case, partial(_told, workers, len(jobs) - 1, check.name == ENDS)


_at_work: list[Workers] = []
"""The workers of the last case: those of one block are kept, and its drafts with them."""


def _told(workers: Workers, number: int, ends: bool) -> list[str]:
    """What a job says, or that its draft was stopped; no later case drafts the block again."""
    import pytest

    if workers not in _at_work:
        for others in _at_work:
            others.close()
        _at_work[:] = [workers]
    if workers.stopped and not ends:
        pytest.skip("a draft of this block did not end")
    told: dict[int, list[str]] = dict(workers.results([number]))
    return told.get(number, [workers.stopped])
