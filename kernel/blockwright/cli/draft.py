"""The draft command: a body sheet in, a proved block out."""

from __future__ import annotations

from typing import Any

import click

from blockwright.cli.file_options import FileOptions, WritesFiles, file_options
from blockwright.cli.host import loaded, only
from blockwright.cli.settings import pairs
from blockwright.cli.told import told


@click.command(cls=WritesFiles)
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
@file_options("svg,dxf")
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
    **files: Any,
) -> int:
    """Draft blocks for a body sheet, prove and write them.

    Several blocks are one set: a sleeve takes its armhole from the bodice drafted with it, and
    one proof holds them all.

    Measure the test bars on the print before cutting good cloth. Blades, lasers and needles: the
    machine's manual and local rules come first.
    """
    from blockwright.job.job import Job, run

    host = loaded()
    chosen = FileOptions.of(files)
    job = Job(
        blocks=keys,
        body=body,
        options=pairs(settings),
        finish=chosen.finish,
        outputs=chosen.outputs(host),
        folder=chosen.folder,
        name=name,
        unfold=chosen.unfold,
        stamp=chosen.stamp,
        unproved=unproved,
        limit=limit,
        only=only(),
    )
    return told(run(job, host), as_json=as_json, unproved=unproved)
