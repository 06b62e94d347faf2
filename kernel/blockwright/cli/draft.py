"""The draft command: a body sheet in, a proved block out."""

from __future__ import annotations

import click

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

A_DAY = 86_400.0
"""Seconds: nobody waits longer for a block, and a clock cannot wait for ever."""


@click.command()
@click.argument("keys", nargs=-1, required=True, metavar="KEY...")
@click.option(
    "--body",
    required=True,
    metavar="FILE",
    help="Body sheet (TOML), or a body that a plugin offers, SOURCE:BODY.",
)
@click.option(
    "--set",
    "settings",
    multiple=True,
    metavar="NAME=VALUE",
    help="An option of a block; may be repeated. A length without a unit takes the sheet's. One "
    "that several blocks have is written with the block's key: sleeve.fitted.bicep_ease=5cm.",
)
@click.option(
    "--name",
    default=None,
    metavar="NAME",
    help="Name of the files, without their ending. [default: the body's name and the blocks' keys]",
)
@file_choices("svg,dxf")
@click.option("--json", "as_json", is_flag=True, help="Print the draft and its proof as JSON.")
@click.option(
    "--unproved",
    is_flag=True,
    help="Write the files even when a promise is broken; they say UNPROVED.",
)
@click.option(
    "--limit",
    type=float,
    default=None,
    metavar="SECONDS",
    help="Stop a block, format or source of bodies that takes longer.  [default: no limit]",
)
def draft(
    keys: tuple[str, ...],
    body: str,
    settings: tuple[str, ...],
    name: str | None,
    as_json: bool,
    unproved: bool,
    limit: float | None,
    **files: str,
) -> int:
    """Draft blocks for a body sheet, prove and write them.

    Several blocks are one set: a sleeve takes its armhole from the bodice drafted with it, and
    one proof holds them all.

    Measure the test bars on the print before cutting good cloth. Blades, lasers and needles: the
    machine's manual and local rules come first.
    """
    if limit is not None and not 0.0 < limit <= A_DAY:
        raise InputError(f"--limit {limit:g}: give seconds, more than 0 and at most {A_DAY:g}")
    choices = Choices(**files)
    host = loaded()
    blocks = blocks_of(host, keys)
    writers_of(host, choices)
    chosen = pairs(settings)
    allowances = allowances_in(chosen)
    owners = dict.fromkeys(f"block {key!r} of {host.owner('blocks', key)}" for key in keys)
    document = drafted(blocks, " with ".join(owners), body_of(host, body), chosen, limit)
    document = finished(document, choices.finish, allowances)
    stem = file_stem(name, document, body)
    return written_and_told(host, document, choices, stem, unproved=unproved, as_json=as_json)
