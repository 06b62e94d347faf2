"""The plugins a command works with, and what is told of them on stderr."""

from __future__ import annotations

from contextlib import AbstractContextManager
from typing import TYPE_CHECKING

import click

from blockwright.errors import InputError

if TYPE_CHECKING:
    from blockwright.plugin.host import Host


def warn(says: str) -> None:
    """Print a warning."""
    click.echo(f"blockwright: {says}", err=True)


def only() -> list[str] | None:
    """Plugins or distributions asked for with --only; None when it is not given."""
    asked = click.get_current_context().find_root().params.get("only")
    if asked is None:
        return None
    names = [name.strip() for name in asked.split(",")]
    if not all(names):
        raise InputError.coded("cli.empty-only", asked=asked)
    return names


def loaded() -> Host:
    """The host, loaded once; its faults are printed then."""
    root = click.get_current_context().find_root()
    if root.obj is None:
        from blockwright.plugin.host import load

        root.obj = load(only=only())
        for fault in root.obj.faults:
            warn(fault)
    host: Host = root.obj
    return host


def answering(
    who: str, do: str | None = None, *, aloud: bool = False
) -> AbstractContextManager[None]:
    """Work with a plugin's own code; see `job.answerable.answerable`."""
    from blockwright.job.answerable import TELL, answerable

    return answerable(who, warn, TELL if do is None else do, aloud=aloud)
