"""The draft command: a body sheet in, a proved block out."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import replace
from typing import TYPE_CHECKING

import click

from blockwright.cli.show import loaded
from blockwright.errors import InputError, PatternError, PluginError

if TYPE_CHECKING:
    from pathlib import Path

    from blockwright.plugin.format import Document, Format, Output
    from blockwright.plugin.host import Host

BROKEN = 1
# Letters that one file system or another does not take in a name.
UNSAFE = set('<>:"/\\|?*') | {chr(code) for code in range(32)}
ALLOWANCE = "_allowance"
PAPERS = ("a4", "a3", "letter", "tabloid")


@click.command()
@click.argument("keys", nargs=-1, required=True, metavar="KEY...")
@click.option("--body", required=True, metavar="FILE", help="Body sheet (TOML).")
@click.option(
    "--set",
    "settings",
    multiple=True,
    metavar="NAME=VALUE",
    help="An option of a block; may be repeated. A length without a unit takes the sheet's. One "
    "that several blocks have is written with the block's key: sleeve.fitted.bicep_ease=5cm.",
)
@click.option("--out", default=".", metavar="DIR", show_default=True, help="Folder to write to.")
@click.option(
    "--name",
    default=None,
    metavar="NAME",
    help="Name of the files, without their ending. [default: the body's name and the blocks' keys]",
)
@click.option(
    "--format",
    "formats",
    default="svg,dxf",
    metavar="NAMES",
    show_default=True,
    help="Formats to write, with commas between.",
)
@click.option(
    "--finish",
    "finish_sheet",
    default=None,
    metavar="FILE",
    help="Add seam allowances, notches and drill holes as this finish sheet (TOML) says, or "
    "'usual'. --set seam_allowance=15mm (armhole_, neck_, waist_, hem_) changes one.",
)
@click.option(
    "--paper", type=click.Choice(PAPERS), default="a4", show_default=True, help="Size of tiles."
)
@click.option("--overlap", default="15mm", show_default=True, help="Of neighbouring tiles.")
@click.option("--thickness", default="3mm", show_default=True, help="Of hard templates.")
@click.option(
    "--flat",
    default="0.05mm",
    show_default=True,
    help="How far straight lines may lie off a curve, in formats that have no curves.",
)
@click.option("--json", "as_json", is_flag=True, help="Print the draft and its proof as JSON.")
@click.option(
    "--unproved",
    is_flag=True,
    help="Write the files even when a promise is broken; they say UNPROVED.",
)
def draft(
    keys: tuple[str, ...],
    body: str,
    settings: tuple[str, ...],
    out: str,
    name: str | None,
    formats: str,
    finish_sheet: str | None,
    paper: str,
    overlap: str,
    thickness: str,
    flat: str,
    as_json: bool,
    unproved: bool,
) -> int:
    """Draft blocks for a body sheet, prove and write them.

    Several blocks are one set: a sleeve takes its armhole from the bodice drafted with it, and
    one proof holds them all.

    Measure the test bars on the print before cutting good cloth. Blades, lasers and needles: the
    machine's manual and local rules come first.
    """
    if not out:
        raise InputError("--out is empty; give the name of a folder")
    host = loaded()
    for key in keys:
        host.block(key)
    writers = [host.format(name) for name in format_names(formats)]
    pairs = _pairs(settings)
    allowances = _allowances(pairs)
    document = _drafted(host, keys, body, pairs)
    if finish_sheet is not None or allowances:
        document = finished(document, finish_sheet, allowances)
    document = replace(document, output=output(paper, overlap, thickness, flat))
    written: list[Path] = []
    if document.proof.held or unproved:
        written = write_document(host, document, writers, out, _stem(name, document, body))
    tell(document, written, as_json)
    if document.proof.held:
        return 0
    if not unproved:
        click.echo(
            "blockwright: a promise is broken, nothing written; --unproved writes it all the same",
            err=True,
        )
    return BROKEN


def _drafted(host: Host, keys: tuple[str, ...], body: str, settings: dict[str, str]) -> Document:
    from blockwright.body.sheet import load_sheet
    from blockwright.pattern.proof import prove
    from blockwright.plugin.format import Document
    from blockwright.plugin.run import draft as draft_blocks

    sheet = load_sheet(body)
    blocks = [host.block(key) for key in keys]
    owners = dict.fromkeys(f"block {key!r} of {host.owner(host.block(key))}" for key in keys)
    with answerable(" with ".join(owners)):
        pattern = draft_blocks(blocks, sheet, settings)
        return Document(pattern, prove(pattern), sheet.units)


def _allowances(pairs: dict[str, str]) -> dict[str, str]:
    """Allowances by role, taken out of the settings."""
    named = [name for name in pairs if name.endswith(ALLOWANCE)]
    return {name.removesuffix(ALLOWANCE): pairs.pop(name) for name in named}


def finished(document: Document, sheet: str | None, allowances: dict[str, str]) -> Document:
    """The document with its pieces finished, by a finish sheet and what is set beside it."""
    from blockwright.pattern.finish import Finish, finish_all
    from blockwright.pattern.finish_sheet import load_finish, with_allowances

    how = Finish() if sheet in (None, "usual") else load_finish(sheet)
    how = with_allowances(how, allowances, document.unit)
    return replace(document, finished=finish_all(document.pattern, how))


def output(paper: str, overlap: str, thickness: str, flat: str) -> Output:
    """What was chosen for files; InputError names the choice that cannot be."""
    from blockwright.body.lengths import Unit, parse_length
    from blockwright.plugin.format import Output

    lengths: list[float] = []
    for name, given, low, high in (
        ("--overlap", overlap, 0.0, 60.0),
        ("--thickness", thickness, 0.2, 50.0),
        ("--flat", flat, 0.001, 1.0),
    ):
        try:
            length = parse_length(given, Unit.MM)
        except InputError as error:
            raise InputError(f"{name}: {error}") from None
        if not low <= length <= high:
            raise InputError(f"{name} {given}: give {low:g} mm to {high:g} mm")
        lengths.append(length)
    return Output(paper, *lengths)


def _stem(name: str | None, document: Document, body: str) -> str:
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
        with answerable(f"format {writer.name!r} of {host.owner(writer)}"):
            contents[name] = writer.write(document)
            if not isinstance(contents[name], bytes):
                raise TypeError(f"gave {type(contents[name]).__name__}, not bytes")
        written[name] = writer

    def check(name: str, data: bytes) -> None:
        from blockwright.formats.readback import differences

        writer = written[name]
        with answerable(f"format {writer.name!r} of {host.owner(writer)}"):
            found = differences(writer, document, data)
            if found:
                raise PatternError(
                    f"{name}, read again, is not what was drawn: {'; '.join(found)}; not kept"
                )

    return write_all(Path(out), contents, check)


@contextmanager
def answerable(what: str) -> Iterator[None]:
    """Make of anything that a plugin's own code raises a PluginError that names it."""
    try:
        yield
    except InputError:
        raise
    except (Exception, SystemExit) as error:
        reason = " ".join(str(error).split())
        if not isinstance(error, PatternError):
            reason = f"{type(error).__name__}: {reason}"
        last = error.__traceback__
        while last and last.tb_next:
            last = last.tb_next
        if last:
            reason += f" ({last.tb_frame.f_code.co_filename}:{last.tb_lineno})"
        raise PluginError(f"{what} failed: {reason}; tell its author") from error


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


def format_names(formats: str) -> list[str]:
    """Names of formats with commas between, each once."""
    names = [name.strip() for name in formats.split(",")]
    if not all(names):
        raise InputError(f"--format {formats!r} has an empty name; give for instance svg,dxf")
    return list(dict.fromkeys(names))


def _pairs(settings: tuple[str, ...]) -> dict[str, str]:
    pairs: dict[str, str] = {}
    for setting in settings:
        name, equals, value = (part.strip() for part in setting.partition("="))
        if not (name and equals and value):
            raise InputError(
                f"--set {setting!r} is not NAME=VALUE; give for instance bicep_ease=5cm"
            )
        if name in pairs:
            raise InputError(f"--set {name} is given twice; give it once")
        pairs[name] = value
    return pairs
