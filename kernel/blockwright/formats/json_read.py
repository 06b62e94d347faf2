"""Pieces read back from our own JSON."""

from __future__ import annotations

from collections.abc import Callable
from typing import Any, TypeVar

from blockwright.curves.curve import Curve
from blockwright.curves.point import Point
from blockwright.errors import GeometryError, InputError, PatternError
from blockwright.formats.named import NamedEcho, letters
from blockwright.pattern.piece import Dart, Edge, Guide, Notch, Note, Piece
from blockwright.plugin.format import Read

T = TypeVar("T")
LARGEST = 50_000_000
"""Bytes; a wardrobe has a hundredth of that."""


def read(data: bytes, where: str) -> Read:
    """The pieces of a draft, as they are sewn; InputError with `where` for anything else."""
    return _told(where, data, lambda values: Read(tuple(map(_piece, values["pieces"]))))


def echo(data: bytes) -> NamedEcho:
    """What is cut, and its notches, to be compared with what was drafted."""
    return _told("the file", data, _echo)


def _told(where: str, data: bytes, take: Callable[[dict[str, Any]], T]) -> T:
    if len(data) > LARGEST:
        raise InputError(f"{where}: is larger than {LARGEST // 1_000_000} MB, so it is no draft")
    import json

    try:
        values = json.loads(data)
        if values["units"] != "mm" or values["version"] != 1:
            raise InputError(f"{where}: is of another version of this format, or not in mm")
        return take(values)
    except (KeyError, TypeError, AttributeError, IndexError) as error:
        raise InputError(f"{where}: is not a draft: {type(error).__name__}: {error}") from None
    except (ValueError, RecursionError) as error:
        raise InputError(f"{where}: is not a draft: {' '.join(str(error).split())}") from None
    except (GeometryError, PatternError) as error:
        raise InputError(f"{where}: holds no piece that can be drawn: {error}") from None


def _echo(values: dict[str, Any]) -> NamedEcho:
    cut = values["finished"] or [{**p, "cut": p["edges"]} for p in values["pieces"]]
    outlines = tuple(tuple(Curve(edge["beziers"]) for edge in piece["cut"]) for piece in cut)
    notches = sum(notch.get("count", 1) for piece in cut for notch in piece["notches"])
    return NamedEcho(outlines, notches, names=letters(str(piece["name"]) for piece in cut))


def _piece(values: dict[str, Any]) -> Piece:
    low, high = values["grain"]
    piece = Piece(
        name=str(values["name"]),
        edges=tuple(
            Edge(str(edge["name"]), Curve(edge["beziers"]), edge["role"])
            for edge in values["edges"]
        ),
        grain=(Point(*low), Point(*high)),
        label_at=Point(*values["label_at"]),
        cut=int(values["cut"]),
        mirrored=bool(values["mirrored"]),
        darts=tuple(
            Dart(d["name"], Point(*d["apex"]), d["mouth"], d["pressed"], d["says"])
            for d in values["darts"]
        ),
        notches=tuple(
            Notch(n["name"], n["edge"], float(n["along"]), int(n["count"]))
            for n in values["notches"]
        ),
        guides=tuple(Guide(g["name"], Curve(g["beziers"])) for g in values["guides"]),
        notes=tuple(Note(Point(*n["at"]), str(n["words"])) for n in values["notes"]),
        block=str(values.get("block", "")),
    )
    for dart in piece.darts:
        piece.dart_legs(dart)
    for notch in piece.notches:
        piece.edge(notch.edge)
    return piece
