"""A file of pieces read, and the pieces written in other formats."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import partial
from pathlib import Path
from typing import TYPE_CHECKING

from blockwright.errors import BlockwrightError, InputError, PatternError
from blockwright.job.answerable import answerable, given
from blockwright.job.elsewhere import edges_elsewhere
from blockwright.job.job import Outcome, faults_of, finished, stamped, written
from blockwright.job.write import Output, chosen_outputs, file_contents

if TYPE_CHECKING:
    from blockwright.pattern.finishing.finish import Finish
    from blockwright.plugin.format import Document, Format, Read
    from blockwright.plugin.host import Host

LARGEST = 100_000_000
"""Bytes of a file that is read."""


@dataclass(frozen=True, slots=True)
class Conversion:
    """A file to read, and what to write of its pieces; see `Job` for what they share.

    `reader` is the name of the file's format, found by the file's ending when it is not given.
    """

    file: Path | str
    reader: str | None = None
    finish: Finish | Path | str | None = None
    outputs: Sequence[str | Output] = ()
    folder: Path | str | None = None
    unfold: bool = False
    stamp: str = ""


def convert(conversion: Conversion, host: Host) -> Outcome:
    """Read the pieces of a file and write them.  What goes wrong is in the outcome's `faults`.

    What the file holds that is not understood is among the `warnings`.
    """
    warnings: list[str] = []
    document: Document | None = None
    files: dict[str, bytes] = {}
    faults: tuple[BlockwrightError, ...] = ()
    file = str(conversion.file)
    try:
        outputs = chosen_outputs(host, conversion.outputs)
        form = _reader(host, file, conversion.reader)
        owner = f"format {form.name!r} of {host.owner('formats', form.name)}"
        with answerable(owner, warnings.append):
            read = _read(form, file)
        warnings += [f"{file}: not understood: {line}" for line in read.not_understood]
        with answerable(owner, warnings.append):
            document = _document(Path(file).stem, read)
        known = partial(edges_elsewhere, host, None, warn=warnings.append)
        document = replace(document, stamp=stamped(conversion.stamp), opened=conversion.unfold)
        document = finished(document, conversion.finish, elsewhere=known)
        files = file_contents(host, document, outputs, Path(file).stem, warnings.append)
    except BlockwrightError as error:
        faults = faults_of(error)
    return written(Outcome(document, files, (), tuple(warnings), faults), conversion.folder)


def _reader(host: Host, file: str, name: str | None) -> Format:
    """The format named, or the one with the longest ending that the file has."""
    readers = [form for form in host.formats.values() if form.read is not None]
    if name is not None:
        form = host.format(name)
        if form.read is None:
            known = [form.name for form in readers]
            raise InputError.coded("convert.cannot-read", name=name, known=known)
        return form
    fitting = [form for form in readers if file.lower().endswith(form.suffix)]
    if not fitting:
        endings = [f"{form.suffix} ({form.name})" for form in readers]
        raise InputError.coded("convert.no-reader", file=file, known=endings)
    return max(fitting, key=lambda form: len(form.suffix))


def _read(form: Format, file: str) -> Read:
    reads: Callable[[bytes, str], Read] | None = form.read
    assert reads is not None
    try:
        with Path(file).open("rb") as stream:
            data = stream.read(LARGEST + 1)
    except (OSError, ValueError) as error:
        why = error.strerror if isinstance(error, OSError) else str(error)
        raise InputError.coded("convert.cannot-open", file=file, why=why) from None
    if len(data) > LARGEST:
        raise InputError.coded("convert.too-large", file=file, most=LARGEST // 1_000_000)
    return _checked(reads(data, file))


def _checked(made: object) -> Read:
    """What a format read.  Raises PatternError unless it is made of what it should be."""
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
    from blockwright.pattern.table.draft import Draft
    from blockwright.plugin.format import Document
    from blockwright.words.proof import prove

    if not read.pieces:
        raise InputError.coded("convert.nothing", name=name)
    if read.pattern:
        return Document(read.pattern, prove(read.pattern), read.unit)
    table = Draft("read", name, read.unit)
    for piece in read.pieces:
        table.add(piece)
    # No block drafted it, so nothing is known of its seams.
    pattern = replace(table.pattern(), origins=())
    return Document(pattern, prove(pattern), read.unit)
