"""The convert command: a file of pieces in, the same pieces in another format out."""

from __future__ import annotations

from typing import TYPE_CHECKING

import click

from blockwright.cli.answer import answerable, given
from blockwright.cli.choices import Choices, file_choices, output
from blockwright.cli.host import loaded
from blockwright.cli.writing import BROKEN, finished, tell, write_document, writers_of
from blockwright.errors import InputError, PatternError

if TYPE_CHECKING:
    from blockwright.plugin.format import Document, Format, Read
    from blockwright.plugin.host import Host

LARGEST = 100_000_000


@click.command()
@click.argument("file")
@click.option(
    "--from",
    "reader",
    default=None,
    metavar="NAME",
    help="Format of FILE.  [default: by the file's ending]",
)
@file_choices(None)
def convert(file: str, reader: str | None, **files: str) -> int:
    """Read the pieces in FILE and write them in other formats.

    What is not understood is listed. A draft in our JSON is proved anew, whole. Of other files
    outlines and darts are; seams are not, for a file of pieces does not say what is sewn to what.
    """
    from dataclasses import replace
    from pathlib import Path

    choices = Choices(**files)
    host = loaded()
    writers = writers_of(host, choices)
    form = _reader(host, file, reader)
    owner = f"format {form.name!r} of {host.owner('formats', form.name)}"
    with answerable(owner):
        read = _read(form, file)
    for line in read.not_understood:
        click.echo(f"blockwright: {file}: not understood: {line}", err=True)
    with answerable(owner):
        document = replace(_document(Path(file).stem, read), output=output(choices))
    document = finished(document, choices.finish, {})
    written = write_document(host, document, writers, choices.out, Path(file).stem)
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
    return _checked(form.read(data, file))


def _checked(made: object) -> Read:
    """What a format read, when it is made of what it should be; PatternError when it is not."""
    from blockwright.body.lengths import Unit
    from blockwright.pattern.pattern import Pattern
    from blockwright.pattern.piece import Piece
    from blockwright.plugin.format import Read

    read = given(Read, made, "read")
    wanted: tuple[tuple[str, object, type], ...] = (
        ("pieces", read.pieces, Piece),
        ("not_understood", read.not_understood, str),
        ("pattern", [read.pattern] if read.pattern else [], Pattern),
    )
    for name, items, kind in wanted:
        if not isinstance(items, list | tuple):
            raise PatternError(f"read gave {type(items).__name__} as {name}, not a tuple")
        for item in items:
            given(kind, item, f"read, in {name},")
    given(Unit, read.unit, "read, as its unit,")
    return read


def _document(name: str, read: Read) -> Document:
    from blockwright.pattern.draft import Draft
    from blockwright.plugin.format import Document
    from blockwright.words.proof import prove

    if not read.pieces:
        raise InputError(f"{name}: no piece in this file was understood")
    if read.pattern:
        return Document(read.pattern, prove(read.pattern), read.unit)
    table = Draft("read", name, read.unit)
    for piece in read.pieces:
        table.add(piece)
    pattern = table.pattern()
    return Document(pattern, prove(pattern), read.unit)
