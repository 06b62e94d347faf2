"""What the author of a block runs: try a file, check a block."""

from __future__ import annotations

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
@file_choices("svg")
def try_file(
    file: str, key: str | None, body: str | None, settings: tuple[str, ...], **files: str
) -> int:
    """Draft a block from a Python file, not installed.

    Its proof is printed and its picture written, even when a promise is broken; it says UNPROVED
    then.
    """
    from blockwright.testing.bodies import few
    from blockwright.testing.run import CHECKS

    choices = Choices(**files)
    host = loaded()
    writers_of(host, choices)
    block = _one_of(file, key)
    asked = body or few([block])[0].name
    chosen = pairs(settings)
    allowances = allowances_in(chosen)
    owner = f"block {block.key!r} of {file}"
    document = drafted([block], owner, body_of(host, asked), chosen, FILE_LIMIT, do="")
    document = finished(document, choices.finish, allowances)
    stem = file_stem(None, document, asked)
    code = written_and_told(host, document, choices, stem, unproved=True)
    slips = [
        line for check in CHECKS.values() if check.on == "block" for line in check.complaints(block)
    ]
    for line in slips:
        click.echo(f"blockwright: {owner}: {line}", err=True)
    return max(code, FAILED) if slips else code


def _one_of(file: str, key: str | None) -> type[Block]:
    found = _in_file(file)
    keys = ", ".join(block.key for block in found)
    if key is None and len(found) > 1:
        raise InputError(f"{file} has {len(found)} blocks; say which with --block: {keys}")
    for block in found:
        if key in (None, block.key):
            return block
    raise InputError(f"{file} has no block {key!r}; it has {keys}")


def _in_file(file: str) -> list[type[Block]]:
    from blockwright.plugin.file import blocks_in

    with answerable(file, FILE_LIMIT, do=""):
        return blocks_in(file)


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
@click.option(
    "--beside", multiple=True, metavar="KEY", help="A block drafted with it, that it is sewn to."
)
@click.option("--check", "names", multiple=True, metavar="NAME", help="Run only this check.")
@click.option("--list", "tell", is_flag=True, help="List the checks and do nothing.")
def check(
    what: tuple[str, ...], bodies: int, beside: tuple[str, ...], names: tuple[str, ...], tell: bool
) -> int:
    """Check what every block promises, on many bodies.

    Blocks that are installed, by key, or those in a Python file.

    Exit 0 when every check is passed or known to fail, 1 when one failed.
    """
    from blockwright.plugin.run import in_order
    from blockwright.testing.run import CHECKS, check_block

    if tell:
        for each in CHECKS.values():
            click.echo(f"{each.name}: {each.says}")
        return 0
    if not what:
        raise InputError("check what? give the key of a block or a Python file")
    host = loaded()
    neighbours = blocks_of(host, beside)
    failed = False
    for block in _asked(host, what):
        in_order([*neighbours, block])  # which is no body's fault when it cannot be
        with answerable(f"block {block.key!r}", do=""):
            report = check_block(block, beside=neighbours, bodies=bodies, checks=names or None)
        click.echo(report.text())
        failed = failed or not report.passed
    return FAILED if failed else 0


def _asked(host: Host, what: tuple[str, ...]) -> list[type[Block]]:
    found: list[type[Block]] = []
    for each in what:
        found += _in_file(each) if each.endswith(".py") else blocks_of(host, [each])
    return found
