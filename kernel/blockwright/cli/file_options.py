"""The options of a command that writes files: ours, and those that the formats declare."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING, Any, NamedTuple

import click

from blockwright.cli.host import loaded
from blockwright.errors import InputError

if TYPE_CHECKING:
    from blockwright.job.write import Output
    from blockwright.plugin.host import Host
    from blockwright.plugin.option import Option


MORE = f"{__name__}.more"
"""Where a command's context keeps the options of the formats."""


class FileOptions(NamedTuple):
    """What was typed: the names of formats, the folder, a finish sheet, and options of formats."""

    formats: str
    out: str
    finish: str | None
    unfold: bool
    stamp: str
    of_formats: dict[str, str]

    @classmethod
    def of(cls, typed: dict[str, Any]) -> FileOptions:
        """Of the arguments that a command of `WritesFiles` is called with."""
        names = ("formats", "out", "finish", "unfold", "stamp")
        formats, out, finish, unfold, stamp = (typed.pop(name) for name in names)
        if not out:
            raise InputError.coded("cli.no-folder")
        return cls(
            formats, out, finish, unfold, stamp, {k: v for k, v in typed.items() if v is not None}
        )

    @property
    def folder(self) -> Path:
        """Where the files go."""
        return Path(self.out)

    def outputs(self, host: Host) -> list[Output]:
        """Each format with those of the options that it declares.

        Raises InputError for a format that is not there, and for an option of none of them.
        """
        from blockwright.job.write import Output

        declared = _declared(host)
        left = dict.fromkeys(self.of_formats)
        outputs = []
        for name in names_in(self.formats):
            mine = {option.name for option in host.format(name).options.declared()}
            options = {o: v for o, v in self.of_formats.items() if o in mine}
            for option in options:
                left.pop(option, None)
            outputs.append(Output(name, options))
        for option in left:
            raise InputError.coded(
                "cli.option-of-no-format", option=option, formats=declared[option][1]
            )
        return outputs


def names_in(formats: str) -> list[str]:
    """Names of formats with commas between, each once."""
    names = [name.strip() for name in formats.split(",")]
    if not all(names):
        raise InputError.coded("cli.empty-format", formats=formats)
    return list(dict.fromkeys(names))


def file_options(formats: str | None) -> Callable[[Callable[..., Any]], Callable[..., Any]]:
    """Give a command its options for files; `formats` are the usual ones, None when there are none.

    The command's class is `WritesFiles`.
    """
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
            "--unfold",
            is_flag=True,
            help="Draw pieces on the fold whole. Formats hpgl, step and stl take no others: they "
            "cannot tell a fold from a cut.",
        ),
        click.option(
            "--stamp",
            default="",
            metavar="TEXT",
            help="Print this on every piece, with the version of its block: 'today' or any words.",
        ),
    )

    def with_options(command: Callable[..., Any]) -> Callable[..., Any]:
        for option in reversed(options):
            command = option(command)
        return command

    return with_options


def _declared(host: Host) -> dict[str, tuple[Option[Any], list[str]]]:
    """Each option as the first format declares it, and the formats that have one of that name."""
    found: dict[str, tuple[Option[Any], list[str]]] = {}
    for name, form in sorted(host.formats.items()):
        for option in form.options.declared():
            found.setdefault(option.name, (option, []))[1].append(name)
    return found


class WritesFiles(click.Command):
    """A command that also takes `--NAME VALUE` for every option that a loaded format declares."""

    def get_params(self, ctx: click.Context) -> list[click.Parameter]:
        """Our own options and those of the formats."""
        *own, usage = super().get_params(ctx)
        taken = {param.name for param in own}
        if MORE not in ctx.meta:  # it is asked for several times
            declared = _declared(loaded()).items()
            ctx.meta[MORE] = [_option(name, *each) for name, each in declared if name not in taken]
        return [*own, *ctx.meta[MORE], usage]


def _option(name: str, option: Option[Any], formats: list[str]) -> click.Option:
    """The option of the command line for one of formats."""
    from blockwright.body.lengths import Unit

    usual = option.shown(option.default, Unit.MM)
    return click.Option(
        [f"--{name.replace('_', '-')}", name],
        metavar="VALUE",
        help=f"{option.says} (format {', '.join(formats)}): {option.allowed(Unit.MM)}.  "
        f"[default: {usual}]",
    )
