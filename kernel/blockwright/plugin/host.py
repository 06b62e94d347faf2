"""The host: finds plugins, keeps the good ones working when one is not, and says what is wrong."""

from __future__ import annotations

import os
from collections.abc import Collection, Iterable
from dataclasses import dataclass
from importlib.metadata import EntryPoint, distributions, entry_points
from typing import TYPE_CHECKING, Literal

from blockwright.errors import InputError, one_line
from blockwright.plugin import hookspecs
from blockwright.plugin.asking import ask
from blockwright.plugin.block import Block, first_line
from blockwright.plugin.bodies import BodySource
from blockwright.plugin.entry import BlockEntry
from blockwright.plugin.format import Format
from blockwright.plugin.plugin import Plugin, origin
from blockwright.plugin.promise_kind import PromiseKind
from blockwright.plugin.quiet import told_apart
from blockwright.plugin.registering import plugin_manager, register
from blockwright.plugin.trace import tracing
from blockwright.spelling import did_you_mean

if TYPE_CHECKING:
    from blockwright.pattern.promise import Promise

ONLY = "BLOCKWRIGHT_PLUGINS"
"""Environment variable: names of the plugins or distributions to load, commas between."""

Kind = Literal["blocks", "formats", "bodies", "promises"]
OFFERS: tuple[tuple[str, Kind, str], ...] = (
    ("blockwright_blocks", "blocks", "block"),
    ("blockwright_formats", "formats", "format"),
    ("blockwright_bodies", "bodies", "source of bodies"),
    ("blockwright_promises", "promises", "kind of promise"),
)
"""Each hook, where what it gives is kept, and what one of them is called."""


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
        """The block of that key, imported now if it was not.

        InputError with the nearest key when there is none, PluginError when it cannot be imported.
        """
        found = self._listed(key)
        return found.load() if isinstance(found, BlockEntry) else found

    def says(self, key: str) -> str:
        """What a block is, in one line, without importing it."""
        found = self._listed(key)
        return found.says if isinstance(found, BlockEntry) else first_line(found)

    def format(self, name: str) -> Format:
        """The format of that name; InputError listing those there are."""
        if not self.formats:
            raise InputError(
                f"no format {name!r}: no plugin that offers formats is loaded; when only some are "
                "loaded, name one of those too (see: blockwright plugins)"
            )
        if name not in self.formats:
            known = ", ".join(sorted(self.formats))
            raise InputError(f"no format {name!r}; there are {known}, in small letters")
        return self.formats[name]

    def promise(self, name: str) -> type[Promise] | None:
        """The class of a kind of promise, imported now if it was not; None where there is none.

        PluginError when it cannot be imported.
        """
        kind = self.promises.get(name)
        return kind.load() if kind else None

    def owner(self, kind: Kind, name: str) -> Plugin:
        """The plugin that offers the block, format or source of bodies of that name."""
        return next(plugin for plugin in self.plugins if name in getattr(plugin, kind))

    def checked(self) -> Host:
        """The host with every block imported, so that what is wrong with one is told too."""
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
            near = did_you_mean(key, self.blocks)
            raise InputError(f"no block {key!r}{near}; see: blockwright blocks")
        return self.blocks[key]


def load(found: Iterable[EntryPoint] | None = None, *, only: Collection[str] | None = None) -> Host:
    """Load every plugin of the entry-point group, or those given.

    `only`: names of the plugins, or of distributions, to load; those in the environment variable
    BLOCKWRIGHT_PLUGINS when it is not given, and all when there is none.  InputError for one that
    is not there.
    Our own distribution comes first, then by name, so that which of two claims to one name wins
    never depends on the file system; the later claim is refused, naming both.

    Example:
        >>> from blockwright import load
        >>> sorted(load(only=["sleeve"]).blocks)
        ['sleeve.fitted', 'sleeve.straight']
    """
    manager = plugin_manager()
    host = Host((), {}, {}, {}, {})
    entries, plugins = installed() if found is None else (found, [])
    owners: dict[str, Plugin] = {}
    trace = tracing()
    for plugin, entry in _chosen(_in_order(entries), only):
        plugins.append(plugin)
        if not _claim(plugin, f"plugin name {plugin.name!r}", owners):
            continue
        registered = register(manager, entry, plugin, trace)
        if registered is None:
            continue
        for hook, kind, word in OFFERS:
            for item in ask(manager, registered, hook, plugin, trace):
                name = item.key if kind == "blocks" else item.name
                if _claim(plugin, f"{word} {name!r}", owners):
                    getattr(host, kind)[name] = item
                    getattr(plugin, kind).append(name)
    return Host(tuple(plugins), host.blocks, host.formats, host.bodies, host.promises)


def installed() -> tuple[list[EntryPoint], list[Plugin]]:
    """Every entry point of the group; faults of distributions that cannot say theirs."""
    try:
        return [*entry_points(group=hookspecs.PROJECT)], []
    except Exception:  # what a damaged installation raises differs from Python to Python
        entries: dict[str, list[EntryPoint]] = {}
        damaged = []
        for distribution in distributions():
            name, version = origin(distribution)
            try:
                own = [*distribution.entry_points.select(group=hookspecs.PROJECT)]
            except Exception as error:
                fault = f"its entry points cannot be read: {one_line(error)}; install it anew"
                damaged.append(Plugin("?", name, version, faults=[fault]))
            else:
                entries.setdefault(name, own)  # what is found first is what is imported
        return [entry for own in entries.values() for entry in own], damaged


def _only() -> list[str] | None:
    names = [name.strip() for name in os.environ.get(ONLY, "").split(",")]
    return [name for name in names if name] or None


def _chosen(
    paired: list[tuple[Plugin, EntryPoint]], only: Collection[str] | None
) -> list[tuple[Plugin, EntryPoint]]:
    """Those of the names that are wanted, here or in the environment."""
    wanted, where = (_only(), f"{ONLY}: ") if only is None else (only, "")
    if wanted is None:
        return paired
    known = sorted({name for plugin, _ in paired for name in (plugin.name, plugin.distribution)})
    for name in wanted:
        if name not in known:
            near = did_you_mean(name, known) or f"; there are {', '.join(known) or 'none'}"
            raise InputError(f"{where}no plugin or distribution {name!r} to load{near}")
    return [pair for pair in paired if {pair[0].name, pair[0].distribution} & set(wanted)]


def _in_order(entries: Iterable[EntryPoint]) -> list[tuple[Plugin, EntryPoint]]:
    origins: dict[int, tuple[str, str]] = {}  # reading a distribution's metadata takes a while
    paired = []
    for entry in entries:
        if id(entry.dist) not in origins:
            origins[id(entry.dist)] = origin(entry.dist)
        paired.append((Plugin(entry.name, *origins[id(entry.dist)]), entry))

    def order(pair: tuple[Plugin, EntryPoint]) -> tuple[object, ...]:
        plugin, entry = pair
        ours = plugin.distribution == hookspecs.PROJECT
        return not ours, plugin.distribution, plugin.version, plugin.name, entry.value

    return sorted(paired, key=order)


def _claim(plugin: Plugin, what: str, owners: dict[str, Plugin]) -> bool:
    """Whether the name was free; if not, the fault is written down."""
    if what in owners:
        plugin.faults.append(
            f"{what} refused: {owners[what]} has it already; rename one or uninstall it"
        )
        return False
    owners[what] = plugin
    return True
