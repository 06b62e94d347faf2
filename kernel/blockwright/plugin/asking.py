"""Ask a plugin its hooks, and look at what it answers; what is wrong is written on the plugin."""

from __future__ import annotations

import re
import time
from collections.abc import Callable, Iterable, Sequence
from typing import Any

import pluggy

from blockwright.errors import one_line
from blockwright.plugin.blame import author_line
from blockwright.plugin.block import KEY, block_fault
from blockwright.plugin.bodies import SOURCE_NAME, BodySource
from blockwright.plugin.entry import BlockEntry
from blockwright.plugin.format import Format
from blockwright.plugin.limit import NOT_ITS_OWN, TimeUp
from blockwright.plugin.plugin import Plugin
from blockwright.plugin.promise_kind import PromiseKind
from blockwright.plugin.quiet import told_apart
from blockwright.plugin.trace import MEND, Trace, interrupted, since
from blockwright.spelling import what_is

NAME = re.compile(r"[a-z][a-z0-9-]*")
SUFFIX = re.compile(r"(\.[a-z0-9]{1,16}){1,2}")
TARGET = re.compile(r"\w+(\.\w+)*:\w+(\.\w+)*")
LINE = re.compile(r"\S.*")


def ask(
    manager: pluggy.PluginManager, registered: object, hook: str, plugin: Plugin, trace: Trace
) -> list[Any]:
    """One plugin's answers to one hook, the faulty ones written down and left out."""
    if hook not in plugin.hooks:
        return []
    others = [other for other in manager.get_plugins() if other is not registered]
    begin = time.perf_counter()
    trace(f"{plugin}: asking {hook}")
    try:
        with told_apart(lambda says: plugin.faults.append(f"{hook} {says}")):
            answers = manager.subset_hook_caller(hook, others)()
            answer = answers[0] if answers else None
            if isinstance(answer, str | bytes) or not isinstance(answer, Iterable):
                plugin.faults.append(f"{hook} gave {what_is(answer)}; return a list")
                return []
            items = list(answer)
    except KeyboardInterrupt as error:
        raise interrupted(f"{plugin} was asked {hook}") from error
    except TimeUp:
        raise
    except BaseException as error:
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
    except NOT_ITS_OWN:
        raise
    except BaseException as error:
        return f"an item cannot be looked at: {one_line(error)}{author_line(error)}; {MEND}"


def _fits(pattern: re.Pattern[str], text: object) -> bool:
    # A text of a class of its own may be another when it is looked at again.
    return type(text) is str and pattern.fullmatch(text) is not None


def _listed_fault(item: object) -> str:
    if type(item) is not BlockEntry:
        return block_fault(item)
    if _fits(KEY, item.key) and _fits(LINE, item.says) and _fits(TARGET, item.at):
        return ""
    return (
        f"{item}: give a key such as 'skirt.half-moon', one line of what it is, and where "
        "its class is, such as 'my_package.half_moon:HalfMoon'"
    )


def _format_fault(item: object) -> str:
    if type(item) is not Format:
        return f"{what_is(item)} is not a Format; return a list of Format values"
    if not (_fits(NAME, item.name) and _fits(SUFFIX, item.suffix)):
        return (
            f"format {item.name!r} with suffix {item.suffix!r}: write both in small letters, "
            "such as 'svg' and '.svg'"
        )
    return _parts_fault(f"format {item.name!r}", item, ("write",), ("echo", "read"))


def _bodies_fault(item: object) -> str:
    if type(item) is not BodySource:
        return f"{what_is(item)} is not a BodySource; return a list of BodySource values"
    if not _fits(SOURCE_NAME, item.name):
        return f"source {item.name!r}: write two small letters or more, such as 'shop'"
    return _parts_fault(f"source {item.name!r}", item, ("names", "body"), ())


def _promise_fault(item: object) -> str:
    if type(item) is not PromiseKind:
        return f"{what_is(item)} is not a PromiseKind; return a list of PromiseKind values"
    if _fits(NAME, item.name) and _fits(TARGET, item.at):
        return ""
    return (
        f"{item}: give a name in small letters such as 'off-grain', and where its class is, such "
        "as 'my_package.off_grain:OffGrain'"
    )


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
    "blockwright_promises": _promise_fault,
}
