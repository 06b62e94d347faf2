"""The convert command: a file of pieces in, the same pieces in another format out."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from blockwright.cli.draft import (
    PAPERS,
    answerable,
    finished,
    format_names,
    output,
    tell,
    write_document,
)
from blockwright.cli.show import loaded
from blockwright.errors import InputError

if TYPE_CHECKING:
    from blockwright.plugin.format import Document, Format, Read
    from blockwright.plugin.host import Host

LARGEST = 100_000_000
BROKEN = 1


@click.command()
@click.argument("file")
@click.option(
    "--format", "formats", required=True, metavar="NAMES", help="Formats to write, with commas."
)
@click.option(
    "--from",
    "reader",
    default=None,
    metavar="NAME",
    help="Format of FILE.  [default: by the file's ending]",
)
@click.option("--out", default=".", metavar="DIR", show_default=True, help="Folder to write to.")
@click.option(
    "--finish",
    "finish_sheet",
    default=None,
    metavar="FILE",
    help="Add allowances as this finish sheet says, or 'usual'.",
)
@click.option(
    "--paper", type=click.Choice(PAPERS), default="a4", show_default=True, help="Size of tiles."
)
@click.option("--overlap", default="15mm", show_default=True, help="Of neighbouring tiles.")
@click.option("--thickness", default="3mm", show_default=True, help="Of hard templates.")
@click.option(
    "--flat", default="0.05mm", show_default=True, help="Straight lines this near to a curve."
)
def convert(
    file: str,
    formats: str,
    reader: str | None,
    out: str,
    finish_sheet: str | None,
    paper: str,
    overlap: str,
    thickness: str,
    flat: str,
) -> int:
    """Read the pieces in FILE and write them in other formats.

    What is not understood is listed. Outlines and darts are proved anew; seams are not, for a file
    of pieces does not say what is sewn to what.
    """
    from dataclasses import replace
    from pathlib import Path

    host = loaded()
    writers = [host.format(name) for name in format_names(formats)]
    form = _reader(host, file, reader)
    with answerable(f"format {form.name!r} of {host.owner(form)}"):
        read = _read(form, file)
    for line in read.not_understood:
        click.echo(f"blockwright: {file}: not understood: {line}", err=True)
    document = replace(
        _document(Path(file).stem, read), output=output(paper, overlap, thickness, flat)
    )
    if finish_sheet is not None:
        document = finished(document, finish_sheet, {})
    written = write_document(host, document, writers, out, Path(file).stem)
    tell(document, written, as_json=False)
    return 0 if document.proof.held else BROKEN


def _reader(host: Host, file: str, name: str | None) -> Format:
    """The format named, or the one with the longest ending that the file has."""
    readers = [form for form in host.formats.values() if form.read is not None]
    if name is not None:
        form = host.format(name)
        if form.read is None:
            known = ", ".join(form.name for form in readers)
            raise InputError(f"--from {name}: this format cannot be read; {known} can")
        return form
    fitting = [form for form in readers if file.lower().endswith(form.suffix)]
    if not fitting:
        known = ", ".join(f"{form.suffix} ({form.name})" for form in readers)
        raise InputError(f"{file}: no format by this ending can be read; there are {known}")
    return max(fitting, key=lambda form: len(form.suffix))


def _read(form: Format, file: str) -> Read:
    from pathlib import Path

    assert form.read is not None
    try:
        with Path(file).open("rb") as stream:
            data = stream.read(LARGEST + 1)
    except (OSError, ValueError) as error:
        why = error.strerror if isinstance(error, OSError) else str(error)
        raise InputError(f"{file}: cannot be read: {why}; check its name and folder") from None
    if len(data) > LARGEST:
        raise InputError(f"{file}: is larger than {LARGEST // 1_000_000} MB; give a smaller file")
    return form.read(data, file)


def _document(name: str, read: Read) -> Document:
    from blockwright.pattern.draft import Draft
    from blockwright.pattern.proof import prove
    from blockwright.plugin.format import Document

    if not read.pieces:
        raise InputError(f"{name}: no piece in this file was understood")
    table = Draft("read", name, read.unit)
    for piece in read.pieces:
        table.add(piece)
    pattern = table.pattern()
    return Document(pattern, prove(pattern), read.unit)
