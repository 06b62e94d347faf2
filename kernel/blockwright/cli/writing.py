"""A drafted document proved, finished, written and told."""

from __future__ import annotations

from dataclasses import replace
from typing import TYPE_CHECKING

import click

from blockwright.cli.answer import TELL, answerable, given
from blockwright.cli.choices import Choices, format_names, output
from blockwright.errors import InputError, InputErrors, PatternError

if TYPE_CHECKING:
    from collections.abc import Sequence
    from pathlib import Path

    from blockwright.body.sheet import BodySheet
    from blockwright.plugin.block import Block
    from blockwright.plugin.format import Document, Format
    from blockwright.plugin.host import Host

BROKEN = 1
# Letters that one file system or another does not take in a name.
UNSAFE = set('<>:"/\\|?*') | {chr(code) for code in range(32)}


def drafted(
    blocks: Sequence[type[Block]],
    owner: str,
    sheet: BodySheet,
    settings: dict[str, str],
    seconds: float | None,
    do: str = TELL,
) -> Document:
    """The blocks drafted for a body and proved; `owner` answers for what goes wrong."""
    from blockwright.plugin.format import Document
    from blockwright.plugin.run import draft
    from blockwright.words.proof import prove

    with answerable(owner, seconds, do):
        try:
            pattern = draft(blocks, sheet, settings)
        except InputErrors as error:
            raise InputErrors(_with_estimates(error.lines, blocks, sheet)) from error
        document = Document(pattern, prove(pattern), sheet.units)
        if not pattern.pieces:
            raise PatternError("no piece was drawn; call d.piece(...) with its edges")
        return document


def _with_estimates(
    lines: Sequence[str], blocks: Sequence[type[Block]], sheet: BodySheet
) -> list[str]:
    """What is wrong, and where the sheet is told of, whom to draft for in its place."""
    from blockwright.testing.bodies import completed

    advice = completed(blocks, sheet)
    return [
        f"{line} {advice}" if advice and line.startswith(f"{sheet.where}: ") else line
        for line in lines
    ]


def allowances_in(settings: dict[str, str]) -> dict[str, str]:
    """Allowances by role, taken out of the settings."""
    from blockwright.plugin.option import ALLOWANCE

    named = [name for name in settings if name.endswith(ALLOWANCE)]
    return {name.removesuffix(ALLOWANCE): settings.pop(name) for name in named}


def finished(document: Document, sheet: str | None, allowances: dict[str, str]) -> Document:
    """The document with its pieces finished, by a finish sheet and what is set beside it."""
    from blockwright.pattern.finish import Finish, finish_all
    from blockwright.pattern.finish_sheet import load_finish, with_allowances

    if sheet is None and not allowances:
        return document
    how = Finish() if sheet in (None, "usual") else load_finish(sheet)
    how = with_allowances(how, allowances, document.unit)
    return replace(document, finished=finish_all(document.pattern, how))


def file_stem(name: str | None, document: Document, body: str) -> str:
    """The files' name without its ending."""
    from pathlib import Path

    from blockwright.cli.files import slug

    if name is None:
        person = slug(document.pattern.body) or slug(Path(body).stem)
        return "-".join(filter(None, (person, document.pattern.block)))
    if not name.strip(". ") or Path(name).name != name or set(name) & UNSAFE:
        raise InputError(
            f"--name {name!r} is no file's name everywhere; give letters, digits, points, hyphens, "
            "without a folder"
        )
    return name


def writers_of(host: Host, choices: Choices) -> list[Format]:
    """The formats chosen."""
    if not choices.out:
        raise InputError("--out is empty; give the name of a folder")
    return [host.format(name) for name in format_names(choices.formats)]


def written_and_told(
    host: Host,
    document: Document,
    choices: Choices,
    stem: str,
    *,
    unproved: bool = False,
    as_json: bool = False,
) -> int:
    """Write a document that is proved, or all the same, and print its proof; the exit code."""
    document = replace(document, output=output(choices))
    written: list[Path] = []
    if document.proof.held or unproved:
        written = write_document(host, document, writers_of(host, choices), choices.out, stem)
    tell(document, written, as_json)
    if document.proof.held:
        return 0
    if not unproved:
        click.echo(
            "blockwright: a promise is broken, nothing written; --unproved writes it all the same",
            err=True,
        )
    return BROKEN


def write_document(
    host: Host, document: Document, writers: list[Format], out: str, stem: str
) -> list[Path]:
    """Write a document in every format, all or none, each read again and compared first."""
    from pathlib import Path

    from blockwright.cli.files import write_all

    contents: dict[str, bytes] = {}
    written: dict[str, Format] = {}
    for writer in writers:
        name = stem + writer.suffix
        if name in contents:
            raise InputError(f"--format: two of these write {name}; give them one at a time")
        with answerable(f"format {writer.name!r} of {host.owner('formats', writer.name)}"):
            contents[name] = given(bytes, writer.write(document))
        written[name] = writer

    def check(name: str, data: bytes) -> None:
        from blockwright.formats.readback import differences

        if _is_open(document):  # which has no area to compare, and the proof tells
            return
        writer = written[name]
        with answerable(f"format {writer.name!r} of {host.owner('formats', writer.name)}"):
            found = differences(_held_to_its_word(writer), document, data)
            if found:
                raise PatternError(
                    f"{name}, read again, is not what was drawn: {'; '.join(found)}; not kept"
                )

    return write_all(Path(out), contents, check)


def _held_to_its_word(form: Format) -> Format:
    """The format with an echo that gives an Echo or is at fault: the file is its own."""
    from blockwright.plugin.format import Echo

    read_again = form.echo
    if read_again is None:
        return form

    def echo(data: bytes) -> Echo:
        try:
            return given(Echo, read_again(data), "echo")
        except InputError as error:
            raise PatternError(f"its own file cannot be read again: {error}") from error

    return replace(form, echo=echo)


def _is_open(document: Document) -> bool:
    """Whether the outline of a piece is not closed."""
    from blockwright.pattern import tolerance

    return any(p.widest_gap()[2] > tolerance.CLOSED for p in document.pattern.pieces)


def tell(document: Document, written: list[Path], as_json: bool) -> None:
    """Print the proof and the files written."""
    if as_json:
        import json

        from blockwright.formats.json import as_values

        values = as_values(document) | {"files": [str(path) for path in written]}
        click.echo(json.dumps(values, indent=1, allow_nan=False))
        return
    click.echo(document.proof.text(document.unit))
    for path in written:
        click.echo(f"wrote {path}")
