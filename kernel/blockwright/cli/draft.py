"""The draft command: a body sheet in, a proved block out."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import click

from blockwright.cli.files import slug, write_all
from blockwright.cli.show import loaded
from blockwright.errors import InputError

if TYPE_CHECKING:
    from blockwright.plugin.format import Document

BROKEN = 1


@click.command()
@click.argument("key")
@click.option("--body", required=True, metavar="FILE", help="Body sheet (TOML).")
@click.option(
    "--set", "settings", multiple=True, metavar="NAME=VALUE",
    help="An option of the block; may be repeated. A length without a unit takes the sheet's.",
)
@click.option("--out", default=".", metavar="DIR", show_default=True, help="Folder to write to.")
@click.option(
    "--format", "formats", default="svg,dxf", metavar="NAMES", show_default=True,
    help="Formats to write, with commas between.",
)
@click.option("--json", "as_json", is_flag=True, help="Print the draft and its proof as JSON.")
@click.option(
    "--unproved", is_flag=True,
    help="Write the files even when a promise is broken; they say UNPROVED.",
)
def draft(
    key: str, body: str, settings: tuple[str, ...], out: str, formats: str,
    as_json: bool, unproved: bool,
) -> int:
    """Draft block KEY for the body on a sheet, prove it, and write it.

    Measure the test bars on the print before cutting good cloth. Blades, lasers and needles: the
    machine's manual and local rules come first.
    """
    host = loaded()
    block = host.block(key)
    writers = [host.format(name) for name in _names(formats)]
    from blockwright.body.sheet import load_sheet
    from blockwright.pattern.proof import prove
    from blockwright.plugin.format import Document
    from blockwright.plugin.run import draft as draft_block

    sheet = load_sheet(Path(body))
    pattern = draft_block(block, sheet, _pairs(settings))
    document = Document(pattern, prove(pattern), sheet.units)
    written: list[Path] = []
    if document.proof.held or unproved:
        stem = "-".join(filter(None, (slug(pattern.body), pattern.block)))
        contents = {stem + writer.suffix: writer.write(document) for writer in writers}
        written = write_all(Path(out), contents)
    _tell(document, written, as_json)
    if document.proof.held:
        return 0
    if not unproved:
        click.echo(
            "blockwright: a promise is broken, nothing written; --unproved writes it all the same",
            err=True,
        )
    return BROKEN


def _tell(document: Document, written: list[Path], as_json: bool) -> None:
    if as_json:
        import json

        from blockwright.formats.json import as_values

        values = as_values(document) | {"files": [str(path) for path in written]}
        click.echo(json.dumps(values, indent=1, ensure_ascii=False))
        return
    click.echo(document.proof.text(document.unit))
    for path in written:
        click.echo(f"wrote {path}")


def _names(formats: str) -> list[str]:
    names = [name.strip() for name in formats.split(",")]
    if not all(names):
        raise InputError(f"--format {formats!r} has an empty name; give for instance svg,dxf")
    return list(dict.fromkeys(names))


def _pairs(settings: tuple[str, ...]) -> dict[str, str]:
    pairs: dict[str, str] = {}
    for setting in settings:
        name, equals, value = setting.partition("=")
        if not equals or not name.strip() or not value.strip():
            raise InputError(f"--set {setting!r} is not NAME=VALUE; give for instance bicep_ease=5cm")
        if name.strip() in pairs:
            raise InputError(f"--set {name.strip()} is given twice; give it once")
        pairs[name.strip()] = value.strip()
    return pairs
