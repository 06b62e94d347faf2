"""A pattern written down whole as plain values, for JSON, and read again equal.

`pattern.schema.json` beside this file is the published form.  Lengths are mm, y up; a number that
is not finite is written as 'inf' or '-inf'.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from importlib.resources import files
from typing import Any

from blockwright.body.lengths import quoted
from blockwright.errors import (
    BlockwrightError,
    InputError,
    InputErrors,
    PatternError,
    message_of,
    one_line,
)
from blockwright.pattern.draft import Draft
from blockwright.pattern.measuring import piece_checks
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Way
from blockwright.pattern.plain import Kinds, converter_for, faults_in, is_plain
from blockwright.spelling import what_is

FORMAT, VERSION, UNITS = "blockwright pattern", 2, "mm"
"""The version rises when a reader of the file would have to change."""


def as_document(pattern: Pattern) -> dict[str, Any]:
    """The pattern as plain values: everything, so that `from_document` gives an equal one.

    Raises PatternError for an option whose value is neither text, a finite number, yes or no, nor
    None.

    Example:
        >>> from blockwright import Draft, Edge, Point, as_document, from_document, polyline
        >>> d, at = Draft("test.wedge", "Wedge"), [Point(0, 0), Point(90, 0), Point(90, 60)]
        >>> wedge = d.piece("wedge", [Edge("edge", polyline([*at, at[0]]))])
        >>> values = as_document(d.pattern())
        >>> values["version"], from_document(values) == d.pattern()
        (2, True)
    """
    for name, value in pattern.options.items():
        if not is_plain(value):
            raise PatternError(
                f"option {name!r} is {value!r}, which cannot be written down; give text, a finite "
                "number, True, False or None"
            )
    values = converter_for(None).unstructure(pattern)
    return {"format": FORMAT, "version": VERSION, "units": UNITS, "pattern": values}


def from_document(values: Mapping[str, Any], kinds: Kinds | None = None) -> Pattern:
    """The pattern that plain values describe, as `as_document` wrote them.

    `kinds` gives the class of a promise by its kind, such as `Host.promise`; left out, the kernel's
    own kinds are known.  Raises InputErrors with a line for everything that is wrong and where,
    a kind of promise that is not known and a piece that `Draft.piece` would refuse among it, and
    InputError for another format or version.

    Example:
        >>> from blockwright import InputError, from_document
        >>> try:
        ...     from_document({"format": "blockwright pattern", "version": 1, "units": "mm"})
        ... except InputError as error:
        ...     print(str(error).partition(",")[0])
        is of version 1 in 'mm'
    """
    if not isinstance(values, Mapping):
        raise InputError(f"is not a {FORMAT}: it is {what_is(values)}")
    if values.get("format") != FORMAT and values.get("version") != 1:  # the first did not say it
        raise InputError(f"is not a {FORMAT}: format is {values.get('format')!r}")
    if values.get("version") != VERSION or values.get("units") != UNITS:
        raise InputError(
            f"is of version {values.get('version')!r} in {values.get('units')!r}, and this reader "
            f"knows version {VERSION} in {UNITS}; draft it again"
        )
    try:
        pattern = converter_for(kinds).structure(values["pattern"], Pattern)
    except Exception as error:  # a plugin's own kind of promise may raise anything
        raise InputErrors(list(faults_in(error, "pattern"))) from error
    if faults := _misfits(pattern):
        raise InputErrors(faults)
    return pattern


def schema() -> str:
    """The JSON Schema (2020-12) of the document, as text."""
    return files(__package__).joinpath("pattern.schema.json").read_text(encoding="utf-8")


def _misfits(pattern: Pattern) -> list[str]:
    """A line for every piece that cannot be, and for what speaks of something that is not there.

    Where the pieces are sound, promises are looked at by measuring them.
    """
    faults: list[str] = []
    tables: dict[str, Draft] = {}
    for i, piece in enumerate(pattern.pieces):
        with _told(f"pattern.pieces[{i}]", faults):
            tables.setdefault(piece.block, Draft(piece.block, "")).add(piece)
            for check in piece_checks(piece):
                check.measure(pattern)
    if faults:
        return faults
    for i, promise in enumerate(pattern.promises):
        with _told(f"pattern.promises[{i}]: {promise.kind} {quoted(promise.name)}", faults):
            promise.measure(pattern)
    for name, run in pattern.offers.items():
        with _told(f"pattern.offers[{quoted(name)}]", faults):
            for step in run:
                if isinstance(step, Way):
                    pattern.owner(step.edge)
    return faults


@contextmanager
def _told(where: str, faults: list[str]) -> Iterator[None]:
    """Writes down what is raised within, after its place."""
    try:
        yield
    except BlockwrightError as error:
        faults.append(f"{where}: {message_of(error)}")
    except Exception as error:  # of numbers that nothing can be measured with, or a plugin's
        faults.append(f"{where}: cannot be measured: {one_line(error)}")
