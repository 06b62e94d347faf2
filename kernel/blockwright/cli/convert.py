"""The convert command: a file of pieces in, the same pieces in another format out."""

from __future__ import annotations

from typing import Any

import click

from blockwright.cli.file_options import FileOptions, WritesFiles, file_options
from blockwright.cli.host import loaded
from blockwright.cli.told import told


@click.command(cls=WritesFiles)
@click.argument("file")
@click.option(
    "--from",
    "reader",
    default=None,
    metavar="NAME",
    help="Format of FILE.  [default: by the file's ending]",
)
@file_options(None)
def convert(file: str, reader: str | None, **files: Any) -> int:
    """Read the pieces in FILE and write them in other formats.

    What is not understood is listed. A draft in our JSON is proved anew, whole. Of other files
    outlines and darts are; seams are not, for a file of pieces does not say what is sewn to what.
    """
    from blockwright.job.convert import Conversion
    from blockwright.job.convert import convert as converted

    host = loaded()
    chosen = FileOptions.of(files)
    conversion = Conversion(
        file, reader, chosen.finish, chosen.outputs(host), chosen.folder,
        unfold=chosen.unfold, stamp=chosen.stamp,
    )  # fmt: skip
    return told(converted(conversion, host), unproved=True)
