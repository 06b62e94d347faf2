"""The blocks and the body that a job names."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from blockwright.errors import InputError
from blockwright.job.answerable import answerable
from blockwright.plugin.bodies import SOURCE_NAME
from blockwright.plugin.capture import traced
from blockwright.spelling import did_you_mean

if TYPE_CHECKING:
    from blockwright.body.sheet import BodySheet
    from blockwright.plugin.block import Block
    from blockwright.plugin.host import Host

IN_FILE = ".py:"
"""Between the file and the key of a block that is not installed."""
Warn = Callable[[str], None]


def blocks_of(
    host: Host, asked: Sequence[str | type[Block]], warn: Warn, tell: Warn | None = None
) -> list[type[Block]]:
    """The blocks of these keys, each imported under its plugin's name; classes as they are.

    'FILE.py:KEY' is a block in a Python file.  Raises InputError for a key that no plugin or file
    has, before any block of a plugin is imported.
    """
    for key in asked:
        if isinstance(key, str) and IN_FILE not in key:
            host.says(key)
    found: list[type[Block]] = []
    for key in asked:
        if not isinstance(key, str):
            found.append(key)
            continue
        if IN_FILE in key:
            found.append(_in_file(key, warn, tell))
            continue
        owner = str(host.owner("blocks", key))
        with traced(f"{owner}: importing block {key!r}"), answerable(owner, warn, tell=tell):
            found.append(host.block(key))
    return found


def _in_file(asked: str, warn: Warn, tell: Warn | None) -> type[Block]:
    from blockwright.plugin.block_file import blocks_in

    stem, _, key = asked.rpartition(IN_FILE)
    file = f"{stem}.py"
    with answerable(file, warn, "", tell):
        blocks = {block.key: block for block in blocks_in(file)}
    if key not in blocks:
        raise InputError.coded("job.not-in-file", file=file, key=key, known=[*blocks])
    return blocks[key]


def body_of(host: Host, asked: str, warn: Warn, tell: Warn | None = None) -> BodySheet:
    """The body sheet in a file, or one of a source of bodies, SOURCE:BODY."""
    from blockwright.body.sheet import load_sheet

    source, colon, name = asked.partition(":")
    if colon and source in host.bodies:
        owner = f"source of bodies {source!r} of {host.owner('bodies', source)}"
        with answerable(owner, warn, tell=tell):
            return host.bodies[source].sheet(name)
    if colon and SOURCE_NAME.fullmatch(source.lower()) and not Path(asked).is_file():
        near = did_you_mean(source.lower(), host.bodies)
        there = near or f"; there are {', '.join(sorted(host.bodies)) or 'none'}"
        raise InputError.coded("body.no-source", asked=asked, source=source, there=there)
    return load_sheet(asked)
