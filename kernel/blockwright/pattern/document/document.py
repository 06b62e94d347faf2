"""A pattern as plain values for JSON, and back to an equal pattern.

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
from blockwright.pattern.document.plain import Kinds, converter_for, faults_in, is_plain
from blockwright.pattern.measure import piece_checks
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Way
from blockwright.pattern.table.draft import Draft
from blockwright.spelling import what_is

FORMAT, VERSION, UNITS = "blockwright pattern", 4, "mm"
"""The version is raised when readers of the file have to change."""


def as_document(pattern: Pattern) -> dict[str, Any]:
    """The whole pattern as plain values.  `from_document` makes an equal pattern of them.

    Raises PatternError unless the value of each option is text, a finite number, True, False or
    None.

    Example:
        >>> from blockwright import Draft, Edge, Point, as_document, from_document, polyline
        >>> d, at = Draft("test.wedge", "Wedge"), [Point(0, 0), Point(90, 0), Point(90, 60)]
        >>> wedge = d.piece("wedge", [Edge("edge", polyline([*at, at[0]]))])
        >>> values = as_document(d.pattern())
        >>> values["version"], from_document(values) == d.pattern()
        (4, True)
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
    """The pattern that plain values describe, as `as_document` writes them.

    `kinds` gives the class of a kind of promise by its name, as `Host.promise` does.  Left out,
    only the kernel's own kinds are known.  Raises InputError for another format or version, and
    InputErrors with a line for each fault and its place.  An unknown kind of promise is a fault,
    and so is a piece that `Draft.piece` would refuse.

    Example:
        >>> from blockwright import InputError, from_document
        >>> try:
        ...     from_document({"format": "blockwright pattern", "version": 1, "units": "mm"})
        ... except InputError as error:
        ...     print(error.code)
        document.version
    """
    if not isinstance(values, Mapping):
        raise InputError.coded("document.not-one", format=FORMAT, value=what_is(values))
    if values.get("format") != FORMAT and values.get("version") != 1:  # the first did not say it
        raise InputError.coded("document.format", format=FORMAT, value=repr(values.get("format")))
    if values.get("version") != VERSION or values.get("units") != UNITS:
        raise InputError.coded(
            "document.version",
            version=repr(values.get("version")), units=repr(values.get("units")),
            known=VERSION, known_units=UNITS,
        )  # fmt: skip
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


def _misfits(pattern: Pattern) -> list[InputError]:
    """An error for every unsound piece, and for every promise of something that is not there.

    Promises are checked by measuring them, once all pieces are sound.
    """
    faults: list[InputError] = []
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
def _told(where: str, faults: list[InputError]) -> Iterator[None]:
    """Adds what is raised within to the faults, with its place."""
    try:
        yield
    except BlockwrightError as error:
        faults.append(InputError.coded("document.at", at=where, why=message_of(error)))
    except Exception as error:  # unusable numbers, or any error of a plugin
        why = one_line(error)
        faults.append(InputError.coded("document.unmeasurable", at=where, why=why))
