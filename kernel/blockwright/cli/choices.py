"""What may be chosen for the files that a command writes."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any

import click

from blockwright.errors import InputError

if TYPE_CHECKING:
    from blockwright.plugin.format import Output

PAPERS = ("a4", "a3", "letter", "tabloid")


@dataclass(frozen=True, slots=True)
class Choices:
    """The choices as they were typed."""

    out: str
    formats: str
    finish: str | None
    paper: str
    overlap: str
    thickness: str
    flat: str


def file_choices(formats: str | None) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """What gives a command the options of `Choices`; without usual formats they must be said."""
    usual: dict[str, Any] = (
        {"required": True} if formats is None else {"default": formats, "show_default": True}
    )
    options = (
        click.option(
            "--format",
            "formats",
            **usual,
            metavar="NAMES",
            help="Formats to write, with commas between.",
        ),
        click.option(
            "--out", default=".", metavar="DIR", show_default=True, help="Folder to write to."
        ),
        click.option(
            "--finish",
            default=None,
            metavar="FILE",
            help="Add seam allowances, notches and drill holes as this finish sheet (TOML) says, "
            "or 'usual'. --set seam_allowance=15mm (armhole_, neck_, waist_, hem_) changes one.",
        ),
        click.option(
            "--paper",
            type=click.Choice(PAPERS),
            default="a4",
            show_default=True,
            help="Size of tiles.",
        ),
        click.option("--overlap", default="15mm", show_default=True, help="Of neighbouring tiles."),
        click.option("--thickness", default="3mm", show_default=True, help="Of hard templates."),
        click.option(
            "--flat",
            default="0.05mm",
            show_default=True,
            help="How far straight lines may lie off a curve, in formats that have no curves.",
        ),
    )

    def given(command: Callable[..., Any]) -> Callable[..., Any]:
        for option in reversed(options):
            command = option(command)
        return command

    return given


def output(choices: Choices) -> Output:
    """What was chosen for files; InputError names the choice that cannot be."""
    from blockwright.body.lengths import Unit, parse_length
    from blockwright.plugin.format import Output

    lengths: list[float] = []
    for name, given, low, high in (
        ("--overlap", choices.overlap, 0.0, 60.0),
        ("--thickness", choices.thickness, 0.2, 50.0),
        ("--flat", choices.flat, 0.001, 1.0),
    ):
        try:
            length = parse_length(given, Unit.MM)
        except InputError as error:
            raise InputError(f"{name}: {error}") from None
        if not low <= length <= high:
            raise InputError(f"{name} {given}: give {low:g} mm to {high:g} mm")
        lengths.append(length)
    return Output(choices.paper, *lengths)


def format_names(formats: str) -> list[str]:
    """Names of formats with commas between, each once."""
    names = [name.strip() for name in formats.split(",")]
    if not all(names):
        raise InputError(f"--format {formats!r} has an empty name; give for instance svg,dxf")
    return list(dict.fromkeys(names))


def pairs(settings: tuple[str, ...]) -> dict[str, str]:
    """--set NAME=VALUE, each once."""
    found: dict[str, str] = {}
    for setting in settings:
        name, equals, value = (part.strip() for part in setting.partition("="))
        if not (name and equals and value):
            raise InputError(
                f"--set {setting!r} is not NAME=VALUE; give for instance bicep_ease=5cm"
            )
        if name in found:
            raise InputError(f"--set {name} is given twice; give it once")
        found[name] = value
    return found
