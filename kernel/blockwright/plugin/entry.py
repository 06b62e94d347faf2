"""A block by its key and where its class is, so that a plugin is listed without its drafting."""

from __future__ import annotations

import sys
from dataclasses import dataclass
from importlib import import_module
from types import ModuleType

from blockwright.errors import PluginError, one_line
from blockwright.plugin.blame import author_line, newer_name
from blockwright.plugin.block import Block, block_fault, first_line
from blockwright.plugin.limit import NOT_ITS_OWN
from blockwright.spelling import what_is


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
        module, _, name = self.at.partition(":")
        try:
            found: object = import_module(module)
            for part in name.split("."):
                found = getattr(found, part)
        except NOT_ITS_OWN:
            raise
        except BaseException as error:
            raise PluginError(f"block {self.key!r}: {self._why_not(error)}") from error
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

    def _why_not(self, error: BaseException) -> str:
        """Why the class is not there, and what to do about a name that is not."""
        home, _, name = self.at.partition(":")
        deeper = error.__traceback__ is not None and error.__traceback__.tb_next
        if deeper or not isinstance(error, AttributeError):  # raised within the plugin
            return (
                f"{self.at} cannot be imported: {one_line(error)}{author_line(error)}"
                f"{newer_name(error)}"
            )
        found = _blocks_of(sys.modules[home])
        names = [block.__name__ for block in found if block.key == self.key]
        names = names or [block.__name__ for block in found]
        if not names:
            return (
                f"{home} has no {name!r}, nor any block; write in its BlockEntry where its class is"
            )
        which = "that" if len(names) == 1 else "one of them"
        return f"{home} has no {name!r}; it has {', '.join(names)}; write {which} in its BlockEntry"

    def fault(self) -> str:
        """What is wrong with it once its class is loaded; nothing if nothing is."""
        try:
            says = first_line(self.load())
        except PluginError as error:
            return str(error)
        if says != self.says:
            return (
                f"block {self.key!r}: its entry says {self.says!r}, the first line of its class "
                f"{says!r}; write the same in both"
            )
        return ""


def _blocks_of(module: ModuleType) -> list[type[Block]]:
    """The whole blocks that a module itself defines, in its order."""
    classes = (found for found in vars(module).values() if isinstance(found, type))
    own = (found for found in classes if found.__module__ == module.__name__)
    return [found for found in dict.fromkeys(own) if not block_fault(found)]
