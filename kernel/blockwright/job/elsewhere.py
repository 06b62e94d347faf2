"""Edges that a finish sheet names for other installed blocks than the one drafted."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from typing import TYPE_CHECKING

from blockwright.errors import BlockwrightError
from blockwright.job.answerable import answerable

if TYPE_CHECKING:
    from blockwright.body.sheet import BodySheet
    from blockwright.pattern.pattern import Pattern
    from blockwright.plugin.block import Block
    from blockwright.plugin.host import Host

BODIES = ("female-17", "male-17")
"""Bodies of the survey that a block is drafted on which cannot be drafted on the maker's body."""


def edges_elsewhere(
    host: Host, sheet: BodySheet | None, names: Iterable[str], warn: Callable[[str], None]
) -> set[str]:
    """The edges of every installed block, as a set of blocks and as a block alone name them.

    Only a draft tells the names of a block's edges, so every block is drafted, with its usual
    options, on the maker's body or else on one of the survey.  A block that cannot be drafted on
    any is passed over.  `warn` is told of each of the `names` that a block has.
    """
    from blockwright.pattern.finishing.finish import edge_labels
    from blockwright.words.catalogue import said

    owners: dict[str, str] = {}
    for key in host.blocks:
        pattern = _drafted(host, key, sheet)
        for edge in edge_labels(pattern) if pattern else ():
            for name in (edge, f"{key.partition('.')[0]} {edge}", f"{key} {edge}"):
                owners.setdefault(name, key)
    for name in names:
        if name in owners:
            warn(said("finish.edge-elsewhere", {"edge": name, "block": owners[name]}))
    return set(owners)


def _drafted(host: Host, key: str, sheet: BodySheet | None) -> Pattern | None:
    """The block on the first body that it can be drafted on.  None if there is none."""
    from blockwright.plugin.drafting import draft

    try:
        with answerable(key, _silent):
            block = host.block(key)
    except BlockwrightError:
        return None
    for body in _bodies(block, sheet):
        try:
            with answerable(key, _silent):
                return draft([block], body)
        except BlockwrightError:
            continue  # it refuses this body, or fails on it: whoever drafts it is told
    return None


def _bodies(block: type[Block], sheet: BodySheet | None) -> Iterator[BodySheet]:
    from blockwright.body import survey
    from blockwright.plugin.survey_estimates import to_estimate

    if sheet:
        yield sheet
    wanted = [name for name in to_estimate([block]) if name in survey.ESTIMATES]
    yield from (survey.sheet("+".join([name, *wanted])) for name in BODIES)


def _silent(says: str) -> None:
    """What a block says that nobody asked for is not passed on."""
