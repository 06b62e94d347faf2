"""What a plugin lists by name and by where its class is, so that it is listed without its code."""

from __future__ import annotations

from dataclasses import dataclass, is_dataclass
from importlib import import_module
from typing import TYPE_CHECKING

from blockwright.errors import PluginError
from blockwright.plugin.block import Block, block_fault, first_line
from blockwright.plugin.traceback_line import FAILED, failure
from blockwright.spelling import did_you_mean, what_is

if TYPE_CHECKING:
    from blockwright.pattern.pattern import Promise


@dataclass(frozen=True, slots=True)
class BlockEntry:
    """Where a block is: `key` and `says` as its class has them, `at` 'package.module:Class'.

    A plugin may answer `blockwright_blocks` with these in place of classes: the class is imported
    when it is drafted, so that a plugin of many blocks costs nothing until then.  `says` is the
    first line of the class's docstring; `blockwright plugins` reports an entry that differs.

    Example:
        >>> from blockwright import BlockEntry
        >>> at = "blockwright_skirt.gored:GoredSkirt"
        >>> entry = BlockEntry("skirt.gored", "Gored skirt: four to twelve panels.", at)
        >>> entry.load().title
        'Gored skirt'
    """

    key: str
    says: str
    at: str

    def load(self) -> type[Block]:
        """The class; PluginError when it cannot be imported, is no block or has another key."""
        found = _class_at(self.at, f"block {self.key!r}")
        if not (isinstance(found, type) and issubclass(found, Block)):
            raise PluginError(
                f"block {self.key!r}: {self.at} is {what_is(found)}, not a Block class; write "
                "where one is"
            )
        if fault := block_fault(found):
            raise PluginError(f"block {self.key!r}: {self.at}: {fault}")
        if found.key != self.key:
            raise PluginError(
                f"block {self.key!r}: {self.at} has key {found.key!r}; write the same key in both"
            )
        return found

    def fault(self) -> str:
        """What is wrong with it once its class is loaded; nothing if nothing is."""
        try:
            says = first_line(self.load())
        except PluginError as error:
            return str(error)
        if says == self.says:
            return ""
        return (
            f"block {self.key!r}: its entry says {self.says!r}, the first line of its class "
            f"{says!r}; write the same in both"
        )


@dataclass(frozen=True, slots=True)
class PromiseKind:
    """A kind of promise that a plugin adds: `name` is its kind, `at` 'package.module:Class'.

    The class is imported when a pattern with such a promise is read from a file; a block that
    promises it imports it itself.

    Example:
        >>> from blockwright import PromiseKind
        >>> PromiseKind("seam", "blockwright.pattern.promises.seam:Seam").load().__name__
        'Seam'
    """

    name: str
    at: str

    def load(self) -> type[Promise]:
        """The class; PluginError when it cannot be imported or is no such kind of promise."""
        from blockwright.pattern.pattern import Promise

        what = f"kind of promise {self.name!r}"
        found = _class_at(self.at, what)
        if not (isinstance(found, type) and issubclass(found, Promise) and is_dataclass(found)):
            raise PluginError(
                f"{what}: {self.at} is {what_is(found)}; give a frozen dataclass with Promise as "
                "its base"
            )
        kind: object = getattr(found, "kind", None)
        if kind != self.name:
            raise PluginError(f"{what}: {self.at} has kind {kind!r}; write the same in both")
        return found

    def fault(self) -> str:
        """What is wrong with its class; nothing if nothing is."""
        try:
            self.load()
        except PluginError as error:
            return str(error)
        return ""


def _class_at(at: str, what: str) -> object:
    """What stands at 'package.module:Class'; PluginError, beginning with `what`, if nothing."""
    module, _, name = at.partition(":")
    try:
        home = import_module(module)
    except FAILED as error:
        raise PluginError(f"{what}: {at} cannot be imported: {failure(error)}") from error
    if not hasattr(home, name):
        own = [n for n, v in vars(home).items() if isinstance(v, type) and v.__module__ == module]
        has = f"; it has {', '.join(own)}" if own else ""
        there = did_you_mean(name, vars(home)) or has
        raise PluginError(f"{what}: {module} has no {name!r}{there}; write where its class is")
    found: object = getattr(home, name)
    return found
