"""The host: finds and loads plugins; a wrong one is reported and the others work on."""

from __future__ import annotations

import os
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from importlib.metadata import EntryPoint, entry_points
from typing import TYPE_CHECKING

from blockwright.errors import InputError
from blockwright.plugin.api import PROJECT
from blockwright.plugin.block import Block, first_line
from blockwright.plugin.bodies import BodySource
from blockwright.plugin.capture import told_apart
from blockwright.plugin.entries import BlockEntry, PromiseKind
from blockwright.plugin.format import Format
from blockwright.plugin.loader import offered
from blockwright.plugin.plugin import Kind, Plugin, origin
from blockwright.spelling import nearest_to

if TYPE_CHECKING:
    from blockwright.pattern.pattern import Promise

ONLY = "BLOCKWRIGHT_PLUGINS"
"""Environment variable: names of the plugins or distributions to load, commas between."""


@dataclass(frozen=True)
class Host:
    """What was loaded: `blocks`, `formats`, `bodies` and kinds of `promises` by name.

    `plugins` are in loading order.

    Example:
        >>> from blockwright import load
        >>> host = load()
        >>> host.block("skirt.circle").title
        'Circle skirt'
    """

    plugins: tuple[Plugin, ...]
    blocks: dict[str, type[Block] | BlockEntry]
    formats: dict[str, Format]
    bodies: dict[str, BodySource]
    promises: dict[str, PromiseKind]

    @property
    def faults(self) -> list[str]:
        """One line a fault, naming plugin and distribution."""
        return [f"{plugin}: {fault}" for plugin in self.plugins for fault in plugin.faults]

    def block(self, key: str) -> type[Block]:
        """The block of that key; it is imported now.

        Raises InputError with the nearest key when there is none, PluginError when it cannot be
        imported.
        """
        found = self._listed(key)
        return found.load() if isinstance(found, BlockEntry) else found

    def says(self, key: str) -> str:
        """One line that says what a block is; the block is not imported."""
        found = self._listed(key)
        return found.says if isinstance(found, BlockEntry) else first_line(found)

    def format(self, name: str) -> Format:
        """The format of that name; InputError listing those there are."""
        if not self.formats:
            raise InputError.coded("plugin.no-formats", name=name)
        if name not in self.formats:
            raise InputError.coded("format.unknown", name=name, known=sorted(self.formats))
        return self.formats[name]

    def promise(self, name: str) -> type[Promise] | None:
        """The class of a kind of promise, imported now; None when no plugin has that kind.

        Raises PluginError when it cannot be imported.
        """
        kind = self.promises.get(name)
        return kind.load() if kind else None

    def owner(self, kind: Kind, name: str) -> Plugin:
        """The plugin that offers the block, format or source of bodies of that name."""
        return next(plugin for plugin in self.plugins if name in getattr(plugin, kind))

    def offers(self, block: type[Block]) -> bool:
        """Whether a plugin offers this very class, not another of its key."""
        found = self.blocks.get(block.key)
        if isinstance(found, BlockEntry):
            return found.at == f"{block.__module__}:{block.__qualname__}"
        return found is block

    def checked(self) -> Host:
        """The host, with the faults of every block and kind of promise, all imported now."""
        for plugin in self.plugins:
            for key in plugin.blocks:
                found = self.blocks[key]
                if isinstance(found, BlockEntry):
                    with told_apart(plugin.faults.append):
                        fault = found.fault()
                    if fault and fault not in plugin.faults:
                        plugin.faults.append(fault)
            for name in plugin.promises:
                if fault := self.promises[name].fault():
                    plugin.faults.append(fault)
        return self

    def _listed(self, key: str) -> type[Block] | BlockEntry:
        if key not in self.blocks:
            if near := nearest_to(key, self.blocks):
                raise InputError.coded("block.misspelt", name=key, near=near)
            raise InputError.coded("block.unknown", name=key)
        return self.blocks[key]


def load(found: Iterable[EntryPoint] | None = None, *, only: Collection[str] | None = None) -> Host:
    """Load every plugin of the entry-point group, or those given.

    `only`: names of the plugins or distributions to load; without it, those in the environment
    variable BLOCKWRIGHT_PLUGINS, or all.
    Of two plugins that claim one name the first keeps it, and a fault names both: our own
    distribution comes first, the others follow by name.
    Raises InputError for a name in `only` that is not installed.

    Example:
        >>> from blockwright import load
        >>> sorted(load(only=["sleeve"]).blocks)
        ['sleeve.fitted', 'sleeve.straight']
    """
    host = Host((), {}, {}, {}, {})
    plugins: list[Plugin] = []
    owners: dict[str, Plugin] = {}
    entries = entry_points(group=PROJECT) if found is None else found
    for plugin, entry in _chosen(_in_order(entries), only):
        plugins.append(plugin)
        if not _claim(plugin, f"plugin name {plugin.name!r}", owners):
            continue
        for offer, item in offered(entry, plugin):
            name = item.key if offer.kind == "blocks" else item.name
            if _claim(plugin, f"{offer.word} {name!r}", owners):
                getattr(host, offer.kind)[name] = item
                getattr(plugin, offer.kind).append(name)
    return Host(tuple(plugins), host.blocks, host.formats, host.bodies, host.promises)


def _only() -> list[str] | None:
    names = [name.strip() for name in os.environ.get(ONLY, "").split(",")]
    return [name for name in names if name] or None


def _chosen(
    paired: list[tuple[Plugin, EntryPoint]], only: Collection[str] | None
) -> list[tuple[Plugin, EntryPoint]]:
    """The plugins that `only` or the environment asks for."""
    wanted, where = (_only(), f"{ONLY}: ") if only is None else (only, "")
    if wanted is None:
        return paired
    known = sorted({name for plugin, _ in paired for name in (plugin.name, plugin.distribution)})
    for name in wanted:
        if name not in known:
            if near := nearest_to(name, known):
                raise InputError.coded("plugin.misspelt", where=where, name=name, near=near)
            raise InputError.coded("plugin.unknown", where=where, name=name, known=known)
    return [pair for pair in paired if {pair[0].name, pair[0].distribution} & set(wanted)]


def _in_order(entries: Iterable[EntryPoint]) -> list[tuple[Plugin, EntryPoint]]:
    paired = [(Plugin(entry.name, *origin(entry.dist)), entry) for entry in entries]

    def order(pair: tuple[Plugin, EntryPoint]) -> tuple[object, ...]:
        plugin, entry = pair
        ours = plugin.distribution == PROJECT
        return not ours, plugin.distribution, plugin.version, plugin.name, entry.value

    return sorted(paired, key=order)


def _claim(plugin: Plugin, what: str, owners: dict[str, Plugin]) -> bool:
    """Whether the name was free; if not, a fault is added to the plugin."""
    if what in owners:
        plugin.faults.append(
            f"{what} refused: {owners[what]} has it already; rename one or uninstall it"
        )
        return False
    owners[what] = plugin
    return True
