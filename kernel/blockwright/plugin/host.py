"""The host: finds plugins, keeps the good ones working when one is not, and says what is wrong."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from importlib.metadata import EntryPoint, entry_points
from types import ModuleType
from typing import Any

import pluggy

from blockwright.errors import InputError
from blockwright.spelling import did_you_mean
from blockwright.plugin import hookspecs
from blockwright.plugin.block import Block
from blockwright.plugin.format import Format

KEY = re.compile(r"[a-z][a-z0-9-]*(\.[a-z][a-z0-9-]*)*")


@dataclass
class Plugin:
    """One entry point: where it came from, what it offers, what went wrong."""

    name: str
    distribution: str
    version: str
    blocks: list[str] = field(default_factory=list)
    formats: list[str] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)

    def __str__(self) -> str:
        return f"plugin {self.name!r} of {self.distribution} {self.version}"


@dataclass(frozen=True)
class Host:
    """What was loaded.  `blocks` and `formats` by key; `plugins` in loading order."""

    plugins: tuple[Plugin, ...]
    blocks: dict[str, type[Block]]
    formats: dict[str, Format]

    @property
    def faults(self) -> list[str]:
        """One line a fault, naming plugin and distribution."""
        return [f"{plugin}: {fault}" for plugin in self.plugins for fault in plugin.faults]

    def block(self, key: str) -> type[Block]:
        """The block of that key; InputError with the nearest one."""
        if key not in self.blocks:
            raise InputError(f"no block {key!r}{did_you_mean(key, self.blocks)}; see: blockwright blocks")
        return self.blocks[key]

    def format(self, name: str) -> Format:
        """The format of that name; InputError listing those there are."""
        if name not in self.formats:
            raise InputError(f"no format {name!r}; there are {', '.join(sorted(self.formats))}")
        return self.formats[name]


def plugin_manager() -> pluggy.PluginManager:
    """A fresh manager that knows every hook and no plugin."""
    manager = pluggy.PluginManager(hookspecs.PROJECT)
    manager.add_hookspecs(hookspecs)
    return manager


def load(found: Iterable[EntryPoint] | None = None) -> Host:
    """Load every plugin of the entry-point group, or those given.

    Our own distribution comes first, then by name, so that which of two claims to one name wins
    never depends on the file system; the later claim is refused, naming both.
    """
    entries = entry_points(group=hookspecs.PROJECT) if found is None else found
    ordered = sorted(entries, key=lambda e: (_origin(e)[0] != hookspecs.PROJECT, _origin(e), e.name))
    manager = plugin_manager()
    plugins: list[Plugin] = []
    blocks: dict[str, type[Block]] = {}
    formats: dict[str, Format] = {}
    owners: dict[str, Plugin] = {}
    for entry in ordered:
        plugin = Plugin(entry.name, *_origin(entry))
        plugins.append(plugin)
        if _claim(plugin, f"plugin name {entry.name!r}", owners):
            module = _register(manager, entry, plugin)
            if module is not None:
                for block in _ask(manager, module, "blockwright_blocks", plugin, _block_fault):
                    if _claim(plugin, f"block {block.key!r}", owners):
                        blocks[block.key] = block
                        plugin.blocks.append(block.key)
                for form in _ask(manager, module, "blockwright_formats", plugin, _format_fault):
                    if _claim(plugin, f"format {form.name!r}", owners):
                        formats[form.name] = form
                        plugin.formats.append(form.name)
    return Host(tuple(plugins), blocks, formats)


def _origin(entry: EntryPoint) -> tuple[str, str]:
    return (entry.dist.name, entry.dist.version) if entry.dist else ("no distribution", "")


def _claim(plugin: Plugin, what: str, owners: dict[str, Plugin]) -> bool:
    first = owners.setdefault(what, plugin)
    if first is not plugin:
        plugin.faults.append(f"{what} refused: {first} has it already; rename one or uninstall it")
    return first is plugin


def _register(
    manager: pluggy.PluginManager, entry: EntryPoint, plugin: Plugin
) -> ModuleType | None:
    """Import and register one plugin; a failure is written down and the others go on."""
    try:
        module = entry.load()
    except (Exception, SystemExit) as error:
        plugin.faults.append(f"cannot be imported: {_one_line(error)}; mend or uninstall it")
        return None
    try:
        manager.register(module, name=entry.name)
        manager.check_pending()
    except (pluggy.PluginValidationError, ValueError) as error:
        if manager.has_plugin(entry.name):
            manager.unregister(name=entry.name)
        known = ", ".join(name for name in vars(hookspecs) if name.startswith("blockwright_"))
        plugin.faults.append(f"has a wrong hook: {_one_line(error)}; the hooks are {known}")
        return None
    return module if isinstance(module, ModuleType) else None


def _ask(
    manager: pluggy.PluginManager,
    module: ModuleType,
    hook: str,
    plugin: Plugin,
    fault_of: Callable[[Any], str],
) -> list[Any]:
    """One plugin's answers to one hook, the faulty ones written down and left out."""
    others = [other for other in manager.get_plugins() if other is not module]
    try:
        answers = [
            item
            for answer in manager.subset_hook_caller(hook, others)()
            for item in answer
        ]
    except (Exception, SystemExit) as error:
        plugin.faults.append(f"{hook} failed: {_one_line(error)}; mend or uninstall it")
        return []
    good = []
    for item in answers:
        fault = fault_of(item)
        if fault:
            plugin.faults.append(f"{hook}: {fault}")
        else:
            good.append(item)
    return good


def _block_fault(item: object) -> str:
    if not (isinstance(item, type) and issubclass(item, Block)):
        return f"{item!r} is not a Block class; return a list of Block subclasses"
    for name in ("key", "title"):
        if not isinstance(getattr(item, name, None), str):
            return f"{item.__name__} has no {name}; add {name} = '...' to the class"
    if not KEY.fullmatch(item.key):
        return f"{item.__name__}.key {item.key!r} is not lower-case words joined by points"
    return ""


def _format_fault(item: object) -> str:
    if not isinstance(item, Format):
        return f"{item!r} is not a Format; return a list of Format values"
    return ""


def _one_line(error: BaseException) -> str:
    return f"{type(error).__name__}: {' '.join(str(error).split())}"
