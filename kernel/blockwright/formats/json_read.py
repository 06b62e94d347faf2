"""Our own JSON read back: a whole pattern, or what is cut, to be compared."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from blockwright.body.lengths import Unit
from blockwright.curves.curve import Curve
from blockwright.errors import GeometryError, InputError, InputErrors, message_of, one_line
from blockwright.formats.readback import NamedEcho, letters
from blockwright.pattern.document.document import from_document
from blockwright.pattern.pattern import Promise
from blockwright.pattern.promises.kinds import kernel_kind
from blockwright.plugin.format import Read

T = TypeVar("T")
LARGEST = 50_000_000
"""Bytes; a wardrobe has a hundredth of that."""


def read(data: bytes, where: str) -> Read:
    """The pattern of a draft; InputErrors with `where` for everything that is wrong."""
    return _parsed(where, data, _read)


def echo(data: bytes) -> NamedEcho:
    """What is cut, and its notches, to be compared with what was drafted."""
    return _parsed("the file", data, _echo)


def _parsed(where: str, data: bytes, take: Callable[[dict[str, Any]], T]) -> T:
    if len(data) > LARGEST:
        raise InputError.coded("json.too-large", where=where, most=LARGEST // 1_000_000)
    import json

    try:
        values = json.loads(data)
        if not isinstance(values, dict):
            raise InputError.coded("json.no-object")
        return take(values)
    except InputErrors as error:
        faults = [InputError.coded("file.fault", where=where, why=each) for each in error.faults]
        raise InputErrors(faults) from None
    except (GeometryError, InputError) as error:
        raise InputError.coded("file.fault", where=where, why=error) from None
    except (KeyError, TypeError, AttributeError, IndexError) as error:
        raise InputError.coded("json.no-draft", where=where, why=one_line(error)) from None
    except (ValueError, RecursionError) as error:
        raise InputError.coded("json.no-draft", where=where, why=message_of(error)) from None


def _read(values: dict[str, Any]) -> Read:
    pattern = from_document(values, _kind)
    return Read(pattern.pieces, unit=Unit(values.get("maker_unit", "cm")), pattern=pattern)


def _kind(name: str) -> type[Promise] | None:
    """The class of a kind of promise: plugins are loaded only for one that is not the kernel's."""
    if found := kernel_kind(name):
        return found
    from blockwright.plugin.host import load

    return load().promise(name)


def _echo(values: dict[str, Any]) -> NamedEcho:
    drawn = values["pattern"]["pieces"]
    cut = values["finished"] or [{**piece, "cut": piece["edges"]} for piece in drawn]
    outlines = tuple(tuple(Curve(edge["curve"]) for edge in piece["cut"]) for piece in cut)
    notches = sum(notch.get("count", 1) for piece in cut for notch in piece["notches"])
    return NamedEcho(outlines, notches, names=letters(map(_label, cut)))


def _label(piece: dict[str, Any]) -> str:
    """What people read, as the file says it or as its word and name make it."""
    name, word = str(piece["name"]), str(piece.get("word", ""))
    return str(piece.get("label") or (name if word in ("", name) else f"{word} {name}"))
