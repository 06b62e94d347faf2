"""Load a plugin: import it, ask its hooks, check the answers; its faults are written on it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping
from contextlib import contextmanager
from importlib.metadata import EntryPoint
from typing import Any, NamedTuple

import pluggy

from blockwright.errors import one_line
from blockwright.plugin import hookspecs
from blockwright.plugin.api import API_VERSION, PROJECT
from blockwright.plugin.block import KEY, block_fault
from blockwright.plugin.bodies import SOURCE_NAME, BodySource
from blockwright.plugin.capture import told_apart, traced
from blockwright.plugin.entries import BlockEntry, PromiseKind
from blockwright.plugin.format import Format
from blockwright.plugin.plugin import Kind, Plugin
from blockwright.plugin.traceback_line import FAILED, failure
from blockwright.spelling import what_is

NAME = re.compile(r"[a-z][a-z0-9-]*")
SUFFIX = re.compile(r"(\.[a-z0-9]{1,16}){1,2}")
TARGET = re.compile(r"\w+(\.\w+)*:\w+")
LINE = re.compile(r"\S.*")
API_NAME = "blockwright_api"
"""The name in a plugin that says which version of the plugin API it was written for."""
VERSION = re.compile(r"([0-9]+)\.([0-9]+)")


class Offer(NamedTuple):
    """What one hook gives: where it is kept, what one is called, its type and valid fields."""

    hook: str
    kind: Kind
    word: str
    type: type
    fields: Mapping[str, re.Pattern[str]]
    must_be: str


OFFERS = (
    Offer(
        "blockwright_blocks", "blocks", "block", BlockEntry,
        {"key": KEY, "says": LINE, "at": TARGET},
        "give a key such as 'skirt.half-moon', one line of what it is, and where its class is, "
        "such as 'my_package.half_moon:HalfMoon'",
    ),
    Offer(
        "blockwright_formats", "formats", "format", Format,
        {"name": NAME, "suffix": SUFFIX, "says": LINE},
        "give a name and a suffix in small letters, such as 'svg' and '.svg', and one line of "
        "what it is",
    ),
    Offer(
        "blockwright_bodies", "bodies", "source of bodies", BodySource,
        {"name": SOURCE_NAME, "says": LINE},
        "give a name of two small letters or more, such as 'shop', and one line of what it is",
    ),
    Offer(
        "blockwright_promises", "promises", "kind of promise", PromiseKind,
        {"name": NAME, "at": TARGET},
        "give a name in small letters such as 'off-grain', and where its class is, such as "
        "'my_package.off_grain:OffGrain'",
    ),
)  # fmt: skip
HOOKS = tuple(offer.hook for offer in OFFERS)


def plugin_manager() -> pluggy.PluginManager:
    """A fresh manager that knows every hook and no plugin."""
    manager = pluggy.PluginManager(PROJECT)
    manager.add_hookspecs(hookspecs)
    return manager


def offered(entry: EntryPoint, plugin: Plugin) -> Iterator[tuple[Offer, Any]]:
    """Every good thing that a plugin offers.

    An entry point names a module, or an object whose methods answer the hooks.  Each plugin has a
    manager of its own, so that it cannot disturb another.
    """
    manager = plugin_manager()
    with _guarded(plugin, f"importing {entry.value}", f"{entry.value} cannot be imported"):
        found: object = entry.load()
        if fault := _fault(found, entry.value, plugin, manager):
            plugin.faults.append(fault)
            return
    for offer in OFFERS:
        if offer.hook in plugin.hooks:
            for item in _asked(manager, offer.hook, plugin):
                if fault := _item_fault(offer, item):
                    plugin.faults.append(f"{offer.hook}: {fault}")
                else:
                    yield offer, item


@contextmanager
def _guarded(plugin: Plugin, doing: str, failed: str, before: str = "") -> Iterator[None]:
    """Write down what a plugin's code raises and prints instead of letting it out."""
    with traced(f"{plugin}: {doing}"):
        try:
            with told_apart(lambda says: plugin.faults.append(f"{before}{says}")):
                yield
        except KeyboardInterrupt as error:  # by hand, most likely because it did not end
            raise KeyboardInterrupt(f"stopped in {plugin}: {doing}") from error
        except FAILED as error:
            plugin.faults.append(f"{failed}: {failure(error, '; fix or uninstall it')}")


def _fault(found: object, at: str, plugin: Plugin, manager: pluggy.PluginManager) -> str:
    """What is wrong with a plugin as a whole; its hooks are registered if nothing is."""
    if found is None or isinstance(found, type):
        return f"{at} is {what_is(found)}; point its entry point at the module or an instance"
    if fault := _api_fault(getattr(found, API_NAME, ""), plugin):
        return fault
    spelt = ", ".join(f"{name}()" for name in HOOKS)
    try:
        manager.register(found)
        manager.check_pending()
    except pluggy.PluginValidationError as error:
        return f"{at} has a wrong hook: {one_line(error)}; the hooks are {spelt}"
    callers = manager.get_hookcallers(found) or []
    plugin.hooks = [name for name in HOOKS if any(name == caller.name for caller in callers)]
    if not plugin.hooks:
        return f"{at} answers no hook; put @hookimpl above a function {spelt}"
    plugin.faults += [
        f"{name} is not asked: put @hookimpl above it"
        for name in HOOKS
        if name not in plugin.hooks and hasattr(found, name)
    ]
    return ""


def _api_fault(asked: object, plugin: Plugin) -> str:
    """What is wrong with the version it asks for; nothing if it does not ask."""
    if asked == "":
        return ""
    parts = VERSION.fullmatch(asked) if isinstance(asked, str) else None
    if parts is None:
        return f"{API_NAME} is {asked!r}; write the version as text, such as {API_VERSION!r}"
    plugin.api = parts[0]
    asks, has = ([int(part) for part in each.split(".")] for each in (parts[0], API_VERSION))
    if asks > has:
        return (
            f"asks for plugin API {asked}, and this blockwright has {API_VERSION}; "
            "update blockwright"
        )
    if asks[0] < has[0]:
        return (
            f"was written for plugin API {asked}, and this blockwright has {API_VERSION}; change "
            "what 'Changes of the plugin API' in DEVELOPERS.md lists, then write "
            f"{API_NAME} = {API_VERSION!r}"
        )
    return ""


def _asked(manager: pluggy.PluginManager, hook: str, plugin: Plugin) -> list[object]:
    """One plugin's answers to one hook."""
    with _guarded(plugin, f"asking {hook}", f"{hook} failed", f"{hook} "):
        answers = getattr(manager.hook, hook)()
        answer = answers[0] if answers else None
        if isinstance(answer, Iterable) and not isinstance(answer, str | bytes):
            return list(answer)
        plugin.faults.append(f"{hook} gave {what_is(answer)}; return a list")
    return []


def _item_fault(offer: Offer, item: object) -> str:
    """What is wrong with one thing of an answer; nothing if nothing is."""
    if offer.kind == "blocks" and not isinstance(item, BlockEntry):
        return block_fault(item)
    name = offer.type.__name__
    if not isinstance(item, offer.type):
        return f"{what_is(item)} is not a {name}; return a list of {name} values"
    for field, pattern in offer.fields.items():
        value: object = getattr(item, field)
        if not (isinstance(value, str) and pattern.fullmatch(value)):
            return f"{field} of a {name} is {value!r}; {offer.must_be}"
    return ""
