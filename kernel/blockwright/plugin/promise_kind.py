"""A kind of promise by its name and where its class is, so that a plugin is listed without it."""

from __future__ import annotations

from dataclasses import dataclass, is_dataclass
from importlib import import_module
from typing import TYPE_CHECKING

from blockwright.errors import PluginError, one_line
from blockwright.plugin.blame import author_line, newer_name
from blockwright.plugin.limit import NOT_ITS_OWN
from blockwright.spelling import what_is

if TYPE_CHECKING:
    from blockwright.pattern.promise import Promise


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
        from blockwright.pattern.promise import Promise

        module, _, member = self.at.partition(":")
        try:
            found: object = getattr(import_module(module), member)
        except NOT_ITS_OWN:
            raise
        except BaseException as error:
            raise PluginError(
                f"kind of promise {self.name!r}: {self.at} cannot be imported: {one_line(error)}"
                f"{author_line(error)}{newer_name(error)}"
            ) from error
        if not (isinstance(found, type) and issubclass(found, Promise) and is_dataclass(found)):
            raise PluginError(
                f"kind of promise {self.name!r}: {self.at} is {what_is(found)}; give a frozen "
                "dataclass with Promise as its base"
            )
        kind: object = getattr(found, "kind", None)
        if kind != self.name:
            raise PluginError(
                f"kind of promise {self.name!r}: {self.at} has kind {kind!r}; write the same in "
                "both"
            )
        return found

    def fault(self) -> str:
        """What is wrong with its class; nothing if nothing is."""
        try:
            self.load()
        except PluginError as error:
            return str(error)
        return ""
