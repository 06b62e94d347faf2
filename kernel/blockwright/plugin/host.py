"""The host: finds plugins, keeps the good ones working when one is not, and says what is wrong."""

from __future__ import annotations

import re
from collections.abc import Callable, Iterable
from dataclasses import dataclass, field
from importlib.metadata import Distribution, EntryPoint, entry_points
from types import FunctionType, ModuleType
from typing import Any

import pluggy

from blockwright.errors import InputError
from blockwright.plugin import hookspecs
from blockwright.plugin.block import Block
from blockwright.plugin.format import Format
from blockwright.spelling import did_you_mean

KEY = re.compile(r"[a-z][a-z0-9-]*(\.[a-z][a-z0-9-]*)*")
NAME = re.compile(r"[a-z][a-z0-9-]*")
SUFFIX = re.compile(r"(\.[a-z0-9]+)+")
HOOKS = tuple(name for name in vars(hookspecs) if name.startswith("blockwright_"))
MEND = "mend or uninstall it"
NAMELESS = "a distribution without a name"


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
        return f"plugin {self.name!r} of {self.distribution} {self.version}".rstrip()


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
            near = did_you_mean(key, self.blocks)
            raise InputError(f"no block {key!r}{near}; see: blockwright blocks")
        return self.blocks[key]

    def format(self, name: str) -> Format:
        """The format of that name; InputError listing those there are."""
        if name not in self.formats:
            known = ", ".join(sorted(self.formats))
            raise InputError(f"no format {name!r}; there are {known}, in small letters")
        return self.formats[name]

    def owner(self, offered: type[Block] | Format) -> Plugin:
        """The plugin that offers a block or format of this host."""
        if isinstance(offered, Format):
            return next(plugin for plugin in self.plugins if offered.name in plugin.formats)
        return next(plugin for plugin in self.plugins if offered.key in plugin.blocks)


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
    manager = plugin_manager()
    plugins: list[Plugin] = []
    blocks: dict[str, type[Block]] = {}
    formats: dict[str, Format] = {}
    owners: dict[str, Plugin] = {}
    for plugin, entry in _in_order(entries):
        plugins.append(plugin)
        if not _claim(plugin, f"plugin name {plugin.name!r}", owners):
            continue
        registered = _register(manager, entry, plugin)
        if registered is None:
            continue
        for block in _ask(manager, registered, "blockwright_blocks", plugin, _block_fault):
            if _claim(plugin, f"block {block.key!r}", owners):
                blocks[block.key] = block
                plugin.blocks.append(block.key)
        for form in _ask(manager, registered, "blockwright_formats", plugin, _format_fault):
            if _claim(plugin, f"format {form.name!r}", owners):
                formats[form.name] = form
                plugin.formats.append(form.name)
    return Host(tuple(plugins), blocks, formats)


def _in_order(entries: Iterable[EntryPoint]) -> list[tuple[Plugin, EntryPoint]]:
    origins: dict[int, tuple[str, str]] = {}  # reading a distribution's metadata takes a while
    paired = []
    for entry in entries:
        if id(entry.dist) not in origins:
            origins[id(entry.dist)] = _origin(entry.dist)
        paired.append((Plugin(entry.name, *origins[id(entry.dist)]), entry))

    def order(pair: tuple[Plugin, EntryPoint]) -> tuple[object, ...]:
        plugin, entry = pair
        ours = plugin.distribution == hookspecs.PROJECT
        return not ours, plugin.distribution, plugin.version, plugin.name, entry.value

    return sorted(paired, key=order)


def _origin(distribution: Distribution | None) -> tuple[str, str]:
    """Name and version."""
    if distribution is None:
        return "no distribution", ""
    try:
        found = distribution.metadata
        return found["Name"] or NAMELESS, found["Version"] or ""
    except Exception:  # what a damaged installation raises differs from Python to Python
        return NAMELESS, ""


def _claim(plugin: Plugin, what: str, owners: dict[str, Plugin]) -> bool:
    """Whether the name was free; if not, the fault is written down."""
    if what in owners:
        plugin.faults.append(
            f"{what} refused: {owners[what]} has it already; rename one or uninstall it"
        )
        return False
    owners[what] = plugin
    return True


def _register(manager: pluggy.PluginManager, entry: EntryPoint, plugin: Plugin) -> object | None:
    """Import and register one plugin; a failure is written down and the others go on.

    An entry point names a module, or an object whose methods answer the hooks.
    """
    try:
        found: object = entry.load()
    except (Exception, SystemExit) as error:
        plugin.faults.append(f"{entry.value} cannot be imported: {_one_line(error)}; {MEND}")
        return None
    if found is None or isinstance(found, type):
        plugin.faults.append(
            f"{entry.value} is {_what(found)}; point its entry point at the module or an instance"
        )
        return None
    found = _hooks_of(found)
    try:
        manager.register(found, name=entry.name)
        manager.check_pending()
        if manager.get_hookcallers(found):
            return found
        fault = f"{entry.value} answers no hook; put @hookimpl above {' or '.join(HOOKS)}"
    except Exception as error:
        fault = f"{entry.value} has a wrong hook: {_one_line(error)}; the hooks are {_spelt()}"
    if manager.has_plugin(entry.name):
        manager.unregister(name=entry.name)
    plugin.faults.append(fault)
    return None


def _hooks_of(found: object) -> object:
    """Of a module only its hooks.

    Registering looks at every name, and a look at a library that is loaded when it is first used
    would load it.
    """
    if not isinstance(found, ModuleType):
        return found
    hooks = ModuleType(found.__name__)
    for name, value in vars(found).items():
        if type(value) is FunctionType and hasattr(value, f"{hookspecs.PROJECT}_impl"):
            setattr(hooks, name, value)
    return hooks


def _spelt() -> str:
    return ", ".join(f"{name}()" for name in HOOKS)


def _ask(
    manager: pluggy.PluginManager,
    registered: object,
    hook: str,
    plugin: Plugin,
    fault_of: Callable[[Any], str],
) -> list[Any]:
    """One plugin's answers to one hook, the faulty ones written down and left out."""
    if not any(impl.plugin is registered for impl in getattr(manager.hook, hook).get_hookimpls()):
        return []
    others = [other for other in manager.get_plugins() if other is not registered]
    try:
        answers = manager.subset_hook_caller(hook, others)()
        answer = answers[0] if answers else None
        if isinstance(answer, str | bytes) or not isinstance(answer, Iterable):
            plugin.faults.append(f"{hook} gave {_what(answer)}; return a list")
            return []
        items = list(answer)
    except (Exception, SystemExit) as error:
        plugin.faults.append(f"{hook} failed: {_one_line(error)}; {MEND}")
        return []
    faults = [fault_of(item) for item in items]
    plugin.faults += [f"{hook}: {fault}" for fault in faults if fault]
    return [item for item, fault in zip(items, faults, strict=True) if not fault]


def _block_fault(item: object) -> str:
    if not (isinstance(item, type) and issubclass(item, Block)):
        return f"{_what(item)} is not a Block class; return a list of Block subclasses"
    for name in ("key", "title"):
        value = getattr(item, name, None)
        if not isinstance(value, str) or not value:
            return f"{item.__name__} has no {name}; write {name} = '...' in the class"
    if not KEY.fullmatch(item.key):
        return (
            f"{item.__name__}.key {item.key!r} is not lower-case words joined by points; "
            "write one such as 'skirt.half-moon'"
        )
    if item.draft is Block.draft:
        return f"{item.__name__} has no draft method; write one"
    return ""


def _format_fault(item: object) -> str:
    if not isinstance(item, Format):
        return f"{_what(item)} is not a Format; return a list of Format values"
    if not NAME.fullmatch(item.name) or not SUFFIX.fullmatch(item.suffix):
        return (
            f"format {item.name!r} with suffix {item.suffix!r}: write both in small letters, "
            "such as 'svg' and '.svg'"
        )
    return ""


def _what(item: object) -> str:
    if isinstance(item, type):
        return f"the class {item.__name__}"
    return "None" if item is None else f"a value of type {type(item).__name__}"


def _one_line(error: BaseException) -> str:
    return f"{type(error).__name__}: {' '.join(str(error).split())}"
