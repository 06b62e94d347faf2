"""Import a plugin and find its hooks; what is wrong is written on the plugin."""

from __future__ import annotations

import inspect
import re
import time
from collections.abc import Callable
from functools import wraps
from importlib.metadata import EntryPoint
from types import ModuleType
from typing import Any

import pluggy

from blockwright.errors import one_line
from blockwright.plugin import hookspecs
from blockwright.plugin.blame import author_line, newer_name
from blockwright.plugin.limit import TimeUp
from blockwright.plugin.plugin import Plugin
from blockwright.plugin.quiet import told_apart
from blockwright.plugin.trace import MEND, Trace, interrupted, since
from blockwright.spelling import did_you_mean, what_is

API_NAME = "blockwright_api"
"""The name in a plugin that says which version of the plugin API it was written for."""
VERSION = re.compile(r"([0-9]+)\.([0-9]+)")
HOOKS = tuple(name for name in vars(hookspecs) if name.startswith("blockwright_"))
SINCE_1 = (
    "changes such as move_dart take a whole pattern, the stretches of an edge beside a dart share "
    "one name, d.corner takes a dart, and a proof has results"
)
"""What a plugin for version 1 has to look at."""
MARK = f"{hookspecs.PROJECT}_impl"
"""What @hookimpl sets on a function."""


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
    found = _imported(entry, plugin, trace)
    if found is None:
        return None
    try:
        if fault := _api_fault(found, plugin):
            plugin.faults.append(fault)
            return None
        hooks = _hooks_of(found)
        if fault := _hooks_fault(hooks):
            plugin.faults.append(f"{entry.value} has a wrong hook: {fault}")
            return None
        plugin.faults += _unmarked(found, hooks)
        manager.register(hooks, name=entry.name)
        manager.check_pending()
        if callers := manager.get_hookcallers(hooks):
            plugin.hooks = [name for name in HOOKS if any(name == c.name for c in callers)]
            return hooks
        fault = f"{entry.value} answers no hook; put @hookimpl above {' or '.join(HOOKS)}"
    except pluggy.PluginValidationError as error:
        fault = f"{entry.value} has a wrong hook: {one_line(error)}; the hooks are {_spelt()}"
    except KeyboardInterrupt as error:
        raise interrupted(f"{plugin} was looked at") from error
    except TimeUp:
        raise
    except BaseException as error:
        fault = (
            f"{entry.value} cannot be asked for its hooks: {one_line(error)}{author_line(error)}; "
            f"{MEND}"
        )
    if manager.has_plugin(entry.name):
        manager.unregister(name=entry.name)
    plugin.faults.append(fault)
    return None


def _imported(entry: EntryPoint, plugin: Plugin, trace: Trace) -> object | None:
    """The module or the object; None when it is none, with the fault written down."""
    begin = time.perf_counter()
    trace(f"{plugin}: importing {entry.value}")
    if not entry.pattern.match(entry.value):
        plugin.faults.append(
            f"its entry point {entry.value!r} is neither 'module' nor 'module:object'; write one"
        )
        return None
    try:
        with told_apart(plugin.faults.append):
            found: object = entry.load()
    except KeyboardInterrupt as error:
        raise interrupted(f"{plugin} was imported") from error
    except TimeUp:
        raise
    except BaseException as error:
        trace(f"{plugin}: {entry.value} failed in {since(begin)}")
        plugin.faults.append(
            f"{entry.value} cannot be imported: {one_line(error)}{author_line(error)}"
            f"{newer_name(error) or f'; {MEND}'}"
        )
        return None
    trace(f"{plugin}: imported {entry.value} in {since(begin)}")
    if found is None or issubclass(type(found), type):
        plugin.faults.append(
            f"{entry.value} is {what_is(found)}; point its entry point at the module or an instance"
        )
        return None
    return found


def _api_fault(found: object, plugin: Plugin) -> str:
    """What is wrong with the version it asks for; nothing if it does not ask."""
    asked: object = getattr(found, API_NAME, "")
    if asked == "":
        return ""
    parts = VERSION.fullmatch(asked) if isinstance(asked, str) else None
    if parts is None:
        return f"{API_NAME} is {asked!r}; write the version as text, such as '2.0'"
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
            f"{hookspecs.API_VERSION}: {SINCE_1}; change what 'From API 1.0 to 2.0' in "
            f"DEVELOPERS.md lists, then write {API_NAME} = {hookspecs.API_VERSION!r}"
        )
    return ""


def _hooks_of(found: object) -> ModuleType:
    """Of a module or an object only its hooks, as a module of their own.

    Registering looks at every name, and a look at a library that is loaded when it is first used
    would load it; and an object may not be one that can be kept in a set.
    """
    hooks = ModuleType(hookspecs.PROJECT)
    named = dict(vars(found)) if isinstance(found, ModuleType) else _names_of(found)
    for name, value in named.items():
        # Looking at anything but a function runs code of the plugin's own, or of a library's.
        if hasattr(type(value), "__get__") and hasattr(value, MARK):
            hook: Any = value if isinstance(found, ModuleType) else getattr(found, name)
            setattr(hooks, name, hook if inspect.isfunction(hook) else _function(hook))
    return hooks


def _function(hook: Callable[[], object]) -> Callable[[], object]:
    """A hook that is a method, or is kept by a cache, as a function: only those are asked."""

    @wraps(hook)
    def asked() -> object:
        return hook()

    return asked


def _names_of(found: object) -> dict[str, object]:
    """What an object has of its own and of its class, without asking it."""
    names: dict[str, object] = {}
    for base in reversed(type(found).__mro__):
        names |= vars(base)
    return names | getattr(found, "__dict__", {})


def _unmarked(found: object, hooks: ModuleType) -> list[str]:
    """What is called as a hook and not marked as one, so that nobody would ask it."""
    if not any(hasattr(hooks, name) for name in HOOKS):
        return []  # which is told of the whole plugin
    named = vars(found) if isinstance(found, ModuleType) else _names_of(found)
    return [
        f"{name} is not asked: put @hookimpl above it"
        for name in HOOKS
        if name in named and not hasattr(hooks, name)
    ]


def _hooks_fault(hooks: ModuleType) -> str:
    """What is wrong with the hooks of a plugin, and where; nothing if nothing is."""
    for name, hook in vars(hooks).items():
        if not hasattr(hook, MARK):
            continue
        code = inspect.unwrap(hook).__code__
        place = f"({code.co_filename}:{code.co_firstlineno})"
        if name not in HOOKS:
            return f"there is no {name} {place}{did_you_mean(name, HOOKS)}; there are {_spelt()}"
        if inspect.iscoroutinefunction(hook):
            return f"{name} {place} is async, and hooks are called; write def {name}()"
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
