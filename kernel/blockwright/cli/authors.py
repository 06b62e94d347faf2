"""What the author of a block runs: try a file, check a block."""

from __future__ import annotations

import os
from collections.abc import Callable, Iterable
from functools import partial
from shlex import quote
from typing import TYPE_CHECKING, Any

import click

from blockwright.cli.file_options import FileOptions, WritesFiles, file_options
from blockwright.cli.host import answering, loaded, only, warn
from blockwright.cli.settings import pairs
from blockwright.cli.told import told
from blockwright.errors import InputError

if TYPE_CHECKING:
    from blockwright.plugin.block import Block
    from blockwright.plugin.host import Host

FAILED = 1
FILE_LIMIT = 20.0
"""Seconds after which a file, or a draft from it, is stopped: it may well not end yet."""
FILE = ".py"
BESIDE = click.option(
    "--beside",
    multiple=True,
    metavar="KEY|FILE.py",
    help="What it is sewn to and drafted with: a block by its key, installed or in one of the "
    "files, or all blocks in a file; may be repeated.",
)


@click.command("try", cls=WritesFiles)
@click.argument("file")
@click.option("--block", "key", default=None, metavar="KEY", help="Which block, if FILE has more.")
@click.option(
    "--body",
    default=None,
    metavar="FILE",
    help="Body sheet (TOML), or SOURCE:BODY.  [default: a middling body of the survey]",
)
@click.option("--set", "settings", multiple=True, metavar="NAME=VALUE", help="An option.")
@BESIDE
@file_options("svg")
def try_file(
    file: str,
    key: str | None,
    body: str | None,
    settings: tuple[str, ...],
    beside: tuple[str, ...],
    **files: Any,
) -> int:
    """Draft a block from a Python file, not installed.

    Its proof is printed and its picture written, even when a promise is broken; it says UNPROVED
    then. What the block prints is shown whole, above the proof. Below the proof stands what the
    checks say that need this one draft alone, such as an option that nothing is said of.

    Exit 0 when every promise holds and no such check complains, 1 when not.
    """
    from blockwright.job.job import Job, run
    from blockwright.job.load import body_of
    from blockwright.testing.bodies import Body, few
    from blockwright.testing.run import at_once
    from blockwright.testing.trial import Trial, TrialOutcome

    host = loaded()
    chosen = FileOptions.of(files)
    shelf = _Files([*beside, file])
    block = _one_of(shelf.blocks(file), file, key)
    blocks = [*_neighbours(host, shelf, beside, block), block]
    asked = body or few(blocks)[0].name
    settings_by_name = pairs(settings)
    job = Job(
        blocks=[shelf.place(each) for each in blocks],
        body=asked,
        options=settings_by_name,
        finish=chosen.finish,
        outputs=chosen.outputs(host),
        folder=chosen.folder,
        unproved=True,
        limit=FILE_LIMIT,
        only=only(),
        aloud=True,
    )
    outcome = run(job, host)
    code = told(outcome, unproved=True)
    if outcome.faults or outcome.document is None:
        return code
    drawn = TrialOutcome(outcome.pattern, outcome.proof)
    body_drawn = Body(asked, body_of(host, asked, warn))
    slips = at_once(Trial(tuple(blocks), body_drawn, settings_by_name, drafted=drawn))
    others = ", ".join(other.key for other in blocks[:-1])
    who = f"block {block.key!r} of {file}" + (f" beside {others}" if others else "")
    for line in slips:
        warn(f"{who}: {line}")
    code = max(code, FAILED) if slips else code
    if body is None:
        click.echo(f"drafted for {asked}; for another with --body FILE or --body SOURCE:BODY")
    again = "".join(f" --beside {quote(name)}" for name in beside)
    first = "fix this, then " if code else ""
    click.echo(f"next: {first}blockwright check {quote(file)}{again} --bodies 1000")
    return code


def _one_of(found: list[type[Block]], file: str, key: str | None) -> type[Block]:
    keys = ", ".join(block.key for block in found)
    if key is None and len(found) > 1:
        raise InputError.coded("cli.which-block", file=file, count=len(found), keys=keys)
    for block in found:
        if key in (None, block.key):
            return block
    raise InputError.coded("job.not-in-file", file=file, key=key, known=keys)


class _Files:
    """The Python files that were named, each run once."""

    def __init__(self, names: Iterable[str]) -> None:
        self._found: dict[str, list[type[Block]]] = {}
        self._typed: dict[str, str] = {}
        for name in names:
            if name.endswith(FILE):
                self.blocks(name)

    def blocks(self, file: str) -> list[type[Block]]:
        """The blocks that a file defines."""
        from blockwright.job.child import in_child
        from blockwright.plugin.block_file import blocks_in

        place = os.path.realpath(file)
        if place not in self._found:
            # First in a process of its own: it may never end.  What it prints is shown there.
            with answering(file, do="", aloud=True):
                in_child(partial(_run_file, file), FILE_LIMIT)
            with answering(file, do=""):
                self._found[place] = blocks_in(file)
            self._typed[place] = file
        return self._found[place]

    def place(self, block: type[Block]) -> str:
        """How a job names a block: by its file where it is in one of these, or by its key."""
        for place, blocks in self._found.items():
            if block in blocks:
                return f"{self._typed[place]}:{block.key}"
        return block.key

    def block(self, key: str) -> type[Block] | None:
        """The block of that key in any of them."""
        every = (block for blocks in self._found.values() for block in blocks)
        return next((block for block in every if block.key == key), None)


def _run_file(file: str, tell: Callable[[str], None]) -> None:
    """Run a Python file that has blocks."""
    from blockwright.plugin.block_file import blocks_in

    tell(file)
    blocks_in(file)


def _neighbours(
    host: Host, files: _Files, names: tuple[str, ...], block: type[Block]
) -> list[type[Block]]:
    """The blocks to draft with one, in their order."""
    from blockwright.job.load import blocks_of
    from blockwright.plugin.drafting import in_order

    found: list[type[Block]] = []
    for name in names:
        if name.endswith(FILE):
            others = [other for other in files.blocks(name) if other is not block]
            if not others:
                raise InputError.coded("cli.beside-itself", name=name, block=block.key)
            found += others
        else:
            found.append(files.block(name) or blocks_of(host, [name], warn)[0])
    keys = [each.key for each in (*found, block)]
    for key in keys:
        if keys.count(key) > 1:
            raise InputError.coded("drafting.given-twice", block=key)
    in_order([*found, block])  # which is no body's fault when it cannot be
    return found


@click.command()
@click.argument("what", nargs=-1, metavar="KEY|FILE.py...")
@click.option(
    "--bodies",
    type=click.IntRange(min=1),
    default=100,
    show_default=True,
    metavar="N",
    help="On how many bodies, real ones and made-up ones.",
)
@BESIDE
@click.option("--check", "names", multiple=True, metavar="NAME", help="Run only this check.")
@click.option("--list", "tell", is_flag=True, help="List the checks and do nothing.")
def check(
    what: tuple[str, ...], bodies: int, beside: tuple[str, ...], names: tuple[str, ...], tell: bool
) -> int:
    """Check what every block promises, on many bodies.

    Blocks that are installed, by key, or those in a Python file.

    Exit 0 when every check is passed or known to fail, 1 when one failed.
    """
    from blockwright.testing.run import CHECKS, check_block

    if tell:
        for each in CHECKS.values():
            click.echo(f"{each.name}: {each.says}")
        return 0
    if not what:
        raise InputError.coded("cli.check-what")
    host = loaded()
    files = _Files([*beside, *what])
    failed = False
    for block in _asked(host, files, what):
        neighbours = _neighbours(host, files, beside, block)
        with answering(f"block {block.key!r}", do=""):
            report = check_block(block, beside=neighbours, bodies=bodies, checks=names or None)
        click.echo(report.text())
        failed = failed or not report.passed
    return FAILED if failed else 0


def _asked(host: Host, files: _Files, what: tuple[str, ...]) -> list[type[Block]]:
    from blockwright.job.load import blocks_of

    found: list[type[Block]] = []
    for each in what:
        found += files.blocks(each) if each.endswith(FILE) else blocks_of(host, [each], warn)
    return found
