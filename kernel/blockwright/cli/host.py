"""The plugins a command works with."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING

import click

from blockwright.cli.answer import answerable
from blockwright.errors import InputError
from blockwright.spelling import did_you_mean

if TYPE_CHECKING:
    from blockwright.body.sheet import BodySheet
    from blockwright.plugin.block import Block
    from blockwright.plugin.host import Host


def only() -> list[str] | None:
    """Plugins or distributions asked for with --only; None when it is not given."""
    asked = click.get_current_context().find_root().params.get("only")
    if asked is None:
        return None
    names = [name.strip() for name in asked.split(",")]
    if not all(names):
        raise InputError(f"--only {asked!r} has an empty name; give for instance skirt,formats")
    return names


def loaded() -> Host:
    """The host, its faults told on stderr."""
    from blockwright.plugin.host import load

    host = load(only=only())
    for fault in host.faults:
        click.echo(f"blockwright: {fault}", err=True)
    return host


def blocks_of(host: Host, keys: Sequence[str]) -> list[type[Block]]:
    """The blocks of these keys, each imported under its plugin's name."""
    for key in keys:
        host.says(key)  # every wrong key is told before any is imported
    from time import perf_counter

    from blockwright.plugin.trace import since, tracing

    trace = tracing()
    found = []
    for key in keys:
        owner, begin = str(host.owner("blocks", key)), perf_counter()
        with answerable(owner):
            found.append(host.block(key))
        trace(f"{owner}: block {key!r} is {found[-1].__module__}, there in {since(begin)}")
    return found


def body_of(host: Host, asked: str) -> BodySheet:
    """The body sheet in a file, or one of a source of bodies, SOURCE:BODY."""
    from pathlib import Path

    from blockwright.body.sheet import load_sheet
    from blockwright.plugin.bodies import SOURCE_NAME

    source, colon, name = asked.partition(":")
    if colon and source in host.bodies:
        with answerable(f"source of bodies {source!r} of {host.owner('bodies', source)}"):
            return host.bodies[source].sheet(name)
    if colon and SOURCE_NAME.fullmatch(source.lower()) and not Path(asked).is_file():
        near = did_you_mean(source.lower(), host.bodies)
        there = near or f"; there are {', '.join(sorted(host.bodies)) or 'none'}"
        raise InputError(f"{asked}: no such file, and no source of bodies {source!r}{there}")
    return load_sheet(asked)
