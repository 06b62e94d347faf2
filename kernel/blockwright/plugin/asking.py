"""Import a plugin, look at it and ask it its hooks; what is wrong is written on the plugin."""

from __future__ import annotations

import inspect
import re
import time
from collections.abc import Callable, Iterable, Sequence
from importlib.metadata import EntryPoint
from types import FunctionType, ModuleType
from typing import Any

import pluggy

from blockwright.errors import one_line
from blockwright.plugin import hookspecs
from blockwright.plugin.blame import author_line, newer_name
from blockwright.plugin.block import KEY, block_fault
from blockwright.plugin.bodies import SOURCE_NAME, BodySource
from blockwright.plugin.entry import BlockEntry
from blockwright.plugin.format import Format
from blockwright.plugin.plugin import Plugin
from blockwright.plugin.quiet import printing_told
from blockwright.spelling import did_you_mean, what_is

API_NAME = "blockwright_api"
"""The name in a plugin that says which version of the plugin API it was written for."""
VERSION = re.compile(r"([0-9]+)\.([0-9]+)")
NAME = re.compile(r"[a-z][a-z0-9-]*")
SUFFIX = re.compile(r"(\.[a-z0-9]+)+")
TARGET = re.compile(r"\w+(\.\w+)*:\w+(\.\w+)*")
LINE = re.compile(r"\S.*")
HOOKS = tuple(name for name in vars(hookspecs) if name.startswith("blockwright_"))
MEND = "mend or uninstall it"

Trace = Callable[[str], None]


def plugin_manager() -> pluggy.PluginManager:
    """A fresh manager that knows every hook and no plugin."""
    manager = pluggy.PluginManager(hookspecs.PROJECT)
    manager.add_hookspecs(hookspecs)
    return manager


def register(
    manager: pluggy.PluginManager, entry: EntryPoint, plugin: Plugin, trace: Trace
) -> object | None:
    """Import and register one plugin; None when it cannot be, with the fault written down.

    An entry point names a module, or an object whose methods answer the hooks.
    """
    begin = time.perf_counter()
    try:
        with printing_told(plugin.faults.append):
            found: object = entry.load()
    except (Exception, SystemExit) as error:
        trace(f"{plugin}: {entry.value} failed in {since(begin)}")
        plugin.faults.append(
            f"{entry.value} cannot be imported: {one_line(error)}{author_line(error)}"
            f"{newer_name(error) or f'; {MEND}'}"
        )
        return None
    trace(f"{plugin}: imported {entry.value} in {since(begin)}")
    if found is None or isinstance(found, type):
        plugin.faults.append(
            f"{entry.value} is {what_is(found)}; point its entry point at the module or an instance"
        )
        return None
    try:
        if fault := _api_fault(found, plugin):
            plugin.faults.append(fault)
            return None
        found = _hooks_of(found)
        if fault := _hooks_fault(found):
            plugin.faults.append(f"{entry.value} has a wrong hook: {fault}")
            return None
        manager.register(found, name=entry.name)
        manager.check_pending()
        if callers := manager.get_hookcallers(found):
            plugin.hooks = [name for name in HOOKS if any(name == c.name for c in callers)]
            return found
        fault = f"{entry.value} answers no hook; put @hookimpl above {' or '.join(HOOKS)}"
    except pluggy.PluginValidationError as error:
        fault = f"{entry.value} has a wrong hook: {one_line(error)}; the hooks are {_spelt()}"
    except Exception as error:
        fault = (
            f"{entry.value} cannot be asked for its hooks: {one_line(error)}{author_line(error)}; "
            f"{MEND}"
        )
    if manager.has_plugin(entry.name):
        manager.unregister(name=entry.name)
    plugin.faults.append(fault)
    return None


def _api_fault(found: object, plugin: Plugin) -> str:
    """What is wrong with the version it asks for; nothing if it does not ask."""
    asked: object = getattr(found, API_NAME, "")
    if asked == "":
        return ""
    parts = VERSION.fullmatch(asked) if isinstance(asked, str) else None
    if parts is None:
        return f"{API_NAME} is {asked!r}; write the version as text, such as '1.0'"
    plugin.api = parts[0]
    major, minor = (int(part) for part in hookspecs.API_VERSION.split("."))
    if int(parts[1]) > major or (int(parts[1]) == major and int(parts[2]) > minor):
        return (
            f"asks for plugin API {asked}, and this blockwright has {hookspecs.API_VERSION}; "
            "update blockwright"
        )
    if int(parts[1]) < major:
        return (
            f"was written for plugin API {asked}, and this blockwright has "
            f"{hookspecs.API_VERSION}, where names it uses may be gone; update the plugin"
        )
    return ""


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


def _hooks_fault(found: object) -> str:
    """What is wrong with the hooks of a plugin, and where; nothing if nothing is."""
    marked = (
        name for name in dir(found) if hasattr(getattr(found, name), f"{hookspecs.PROJECT}_impl")
    )
    for name in marked:
        hook = getattr(found, name)
        code = hook.__code__
        place = f"({code.co_filename}:{code.co_firstlineno})"
        if name not in HOOKS:
            return f"there is no {name} {place}{did_you_mean(name, HOOKS)}; there are {_spelt()}"
        takes = [
            each
            for each in inspect.signature(hook).parameters.values()
            if each.default is each.empty
        ]
        if takes:
            return (
                f"{name} {place} takes {takes[0].name!r}, and hooks are asked without arguments: "
                f"write def {name}()"
            )
    return ""


def _spelt() -> str:
    return ", ".join(f"{name}()" for name in HOOKS)


def ask(
    manager: pluggy.PluginManager, registered: object, hook: str, plugin: Plugin, trace: Trace
) -> list[Any]:
    """One plugin's answers to one hook, the faulty ones written down and left out."""
    if hook not in plugin.hooks:
        return []
    others = [other for other in manager.get_plugins() if other is not registered]
    begin = time.perf_counter()
    try:
        with printing_told(lambda says: plugin.faults.append(f"{hook} {says}")):
            answers = manager.subset_hook_caller(hook, others)()
            answer = answers[0] if answers else None
            if isinstance(answer, str | bytes) or not isinstance(answer, Iterable):
                plugin.faults.append(f"{hook} gave {what_is(answer)}; return a list")
                return []
            items = list(answer)
    except (Exception, SystemExit) as error:
        trace(f"{plugin}: {hook} failed in {since(begin)}")
        plugin.faults.append(f"{hook} failed: {one_line(error)}{author_line(error)}; {MEND}")
        return []
    trace(f"{plugin}: {hook} gave {len(items)} in {since(begin)}")
    faults = [_fault(hook, item) for item in items]
    plugin.faults += [f"{hook}: {fault}" for fault in faults if fault]
    return [item for item, fault in zip(items, faults, strict=True) if not fault]


def _fault(hook: str, item: object) -> str:
    """What is wrong with one thing of an answer; looking at it runs code of the plugin's own."""
    try:
        return _FAULT_OF[hook](item)
    except Exception as error:
        return f"an item cannot be looked at: {one_line(error)}{author_line(error)}; {MEND}"


def since(begin: float) -> str:
    """How long ago that was, for the trace."""
    return f"{1e3 * (time.perf_counter() - begin):.1f} ms"


def _fits(pattern: re.Pattern[str], text: object) -> bool:
    return isinstance(text, str) and pattern.fullmatch(text) is not None


def _listed_fault(item: object) -> str:
    if not isinstance(item, BlockEntry):
        return block_fault(item)
    if _fits(KEY, item.key) and _fits(LINE, item.says) and _fits(TARGET, item.at):
        return ""
    return (
        f"{item}: give a key such as 'skirt.half-moon', one line of what it is, and where "
        "its class is, such as 'my_package.half_moon:HalfMoon'"
    )


def _format_fault(item: object) -> str:
    if not isinstance(item, Format):
        return f"{what_is(item)} is not a Format; return a list of Format values"
    if not (_fits(NAME, item.name) and _fits(SUFFIX, item.suffix)):
        return (
            f"format {item.name!r} with suffix {item.suffix!r}: write both in small letters, "
            "such as 'svg' and '.svg'"
        )
    return _parts_fault(f"format {item.name!r}", item, ("write",), ("echo", "read"))


def _bodies_fault(item: object) -> str:
    if not isinstance(item, BodySource):
        return f"{what_is(item)} is not a BodySource; return a list of BodySource values"
    if not _fits(SOURCE_NAME, item.name):
        return f"source {item.name!r}: write two small letters or more, such as 'shop'"
    return _parts_fault(f"source {item.name!r}", item, ("names", "body"), ())


def _parts_fault(what: str, item: object, called: Sequence[str], may_be: Sequence[str]) -> str:
    """What is wrong with the line it says and the functions it gives."""
    says: object = getattr(item, "says", None)
    if not _fits(LINE, says):
        return f"{what} says {says!r}; say in one line what it is"
    for name in (*called, *may_be):
        given: object = getattr(item, name)
        if not callable(given) and not (given is None and name in may_be):
            return f"{what}: {name} is {what_is(given)}; give a function"
    return ""


_FAULT_OF: dict[str, Callable[[object], str]] = {
    "blockwright_blocks": _listed_fault,
    "blockwright_formats": _format_fault,
    "blockwright_bodies": _bodies_fault,
}
