"""What the author of a block runs: try a file, check a block."""

from __future__ import annotations

import os
from collections.abc import Iterable
from shlex import quote
from typing import TYPE_CHECKING

import click

from blockwright.cli.answer import answerable
from blockwright.cli.choices import Choices, file_choices, pairs
from blockwright.cli.host import blocks_of, body_of, loaded
from blockwright.cli.writing import (
    allowances_in,
    drafted,
    file_stem,
    finished,
    writers_of,
    written_and_told,
)
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


@click.command("try")
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
@file_choices("svg")
def try_file(
    file: str,
    key: str | None,
    body: str | None,
    settings: tuple[str, ...],
    beside: tuple[str, ...],
    **files: str,
) -> int:
    """Draft a block from a Python file, not installed.

    Its proof is printed and its picture written, even when a promise is broken; it says UNPROVED
    then. Below the proof stands what the checks say that need this one draft alone, such as an
    edge that is in no promise.

    Exit 0 when every promise holds and no such check complains, 1 when not.
    """
    from blockwright.testing.bodies import Body, few
    from blockwright.testing.run import at_once
    from blockwright.testing.trial import Outcome, Trial

    choices = Choices(**files)
    host = loaded()
    writers_of(host, choices)
    shelf = _Files([*beside, file])
    block = _one_of(shelf.blocks(file), file, key)
    blocks = [*_neighbours(host, shelf, beside, block), block]
    asked = body or few(blocks)[0].name
    sheet = body_of(host, asked)
    chosen = pairs(settings)
    allowances = allowances_in(chosen)
    owner = f"block {block.key!r} of {file}"
    if beside:
        owner += f" beside {', '.join(other.key for other in blocks[:-1])}"
    document = drafted(blocks, owner, sheet, chosen, FILE_LIMIT, do="")
    drawn = Outcome(document.pattern, document.proof)
    document = finished(document, choices.finish, allowances)
    stem = file_stem(None, document, asked)
    code = written_and_told(host, document, choices, stem, unproved=True)
    slips = at_once(Trial(tuple(blocks), Body(asked, sheet), chosen, drafted=drawn))
    for line in slips:
        click.echo(f"blockwright: {owner}: {line}", err=True)
    code = max(code, FAILED) if slips else code
    if body is None:
        click.echo(f"drafted for {asked}; for another with --body FILE or --body SOURCE:BODY")
    again = "".join(f" --beside {quote(name)}" for name in beside)
    mended = "mend this, then " if code else ""
    click.echo(f"next: {mended}blockwright check {quote(file)}{again} --bodies 1000")
    return code


def _one_of(found: list[type[Block]], file: str, key: str | None) -> type[Block]:
    keys = ", ".join(block.key for block in found)
    if key is None and len(found) > 1:
        raise InputError(f"{file} has {len(found)} blocks; say which with --block: {keys}")
    for block in found:
        if key in (None, block.key):
            return block
    raise InputError(f"{file} has no block {key!r}; it has {keys}")


class _Files:
    """The Python files that were named, each run once."""

    def __init__(self, names: Iterable[str]) -> None:
        self._found: dict[str, list[type[Block]]] = {}
        for name in names:
            if name.endswith(FILE):
                self.blocks(name)

    def blocks(self, file: str) -> list[type[Block]]:
        """The blocks that a file defines."""
        from blockwright.plugin.file import blocks_in

        place = os.path.realpath(file)
        if place not in self._found:
            with answerable(file, FILE_LIMIT, do=""):
                self._found[place] = blocks_in(file)
        return self._found[place]

    def block(self, key: str) -> type[Block] | None:
        """The block of that key in any of them."""
        every = (block for blocks in self._found.values() for block in blocks)
        return next((block for block in every if block.key == key), None)


def _neighbours(
    host: Host, files: _Files, names: tuple[str, ...], block: type[Block]
) -> list[type[Block]]:
    """The blocks to draft with one, in their order."""
    from blockwright.plugin.run import in_order

    found: list[type[Block]] = []
    for name in names:
        if name.endswith(FILE):
            others = [other for other in files.blocks(name) if other is not block]
            if not others:
                raise InputError(
                    f"--beside {name}: has no block but {block.key} itself; give what it is sewn to"
                )
            found += others
        else:
            found.append(files.block(name) or blocks_of(host, [name])[0])
    keys = [each.key for each in (*found, block)]
    for key in keys:
        if keys.count(key) > 1:
            raise InputError(f"{key} is given twice; give it once")
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
        raise InputError("check what? give the key of a block or a Python file")
    host = loaded()
    files = _Files([*beside, *what])
    failed = False
    for block in _asked(host, files, what):
        neighbours = _neighbours(host, files, beside, block)
        with answerable(f"block {block.key!r}", do=""):
            report = check_block(block, beside=neighbours, bodies=bodies, checks=names or None)
        click.echo(report.text())
        failed = failed or not report.passed
    return FAILED if failed else 0


def _asked(host: Host, files: _Files, what: tuple[str, ...]) -> list[type[Block]]:
    found: list[type[Block]] = []
    for each in what:
        found += files.blocks(each) if each.endswith(FILE) else blocks_of(host, [each])
    return found
