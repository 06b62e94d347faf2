"""The body sheet: a person's or a stand's measurements, read and checked all at once."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from numbers import Real
from pathlib import Path
from types import MappingProxyType
from typing import Any
from unicodedata import category

from blockwright.body.lengths import Unit, format_length, parse_length, quoted, read_length
from blockwright.body.measurements import (
    Measurement,
    contradictions,
    impossible_pairs,
    lookup,
    nearest_name,
    shown_name,
)
from blockwright.body.reading import key_lines, read_table, read_text, shown_path
from blockwright.errors import InputError, InputErrors
from blockwright.spelling import nearest_to

IN_CODE = "body sheet"
"""What messages call a sheet that has no file."""
LONGEST_SHOWN = 40
"""Letters of a value that a message repeats."""
ROUNDING = 25.4 / 32
"""Millimetres: half the step inches are printed to, so that a limit is accepted as printed."""

_ENTRIES = ("name", "units", "notes", "measurements")
_BREAKS = ("Cc", "Zl", "Zp")  # Unicode's control characters, line and paragraph separators
_UNITS = 'write "cm", "mm" or "in"'


@dataclass(frozen=True)
class BodySheet:
    """Measurements of one body, mm by name, and the unit its maker works in; a frozen value.

    Made by `load_sheet`, `parse_sheet` or `from_values`, which check every name and value; the
    constructor itself checks nothing.  `values` is read-only, its names those of ISO 8559-1.
    `where` is what messages call the sheet and is no part of its value.  `estimates` says of each
    value that was not measured, by name, how it was estimated; a source of bodies adds it with
    `dataclasses.replace`.

    Example:
        >>> from blockwright import BodySheet
        >>> invented = {"waist_girth": 70, "hip_girth": "37 1/2 in"}
        >>> sheet = BodySheet.from_values(invented, units="cm", name="Invented")
        >>> dict(sheet.values)
        {'waist_girth': 700.0, 'hip_girth': 952.5}
        >>> str(sheet.units)
        'cm'
    """

    name: str
    units: Unit
    values: Mapping[str, float] = field(hash=False)
    notes: str = ""
    where: str = field(default=IN_CODE, compare=False)
    estimates: Mapping[str, str] = field(default_factory=dict, hash=False)

    def __post_init__(self) -> None:
        for name in ("values", "estimates"):
            object.__setattr__(self, name, MappingProxyType(dict(getattr(self, name))))

    def __reduce__(self) -> tuple[Any, ...]:
        values, estimates = dict(self.values), dict(self.estimates)
        return BodySheet, (self.name, self.units, values, self.notes, self.where, estimates)

    @classmethod
    def from_values(
        cls,
        values: Mapping[str, str | float],
        *,
        units: Unit | str,
        name: str = "",
        notes: str = "",
    ) -> BodySheet:
        """A sheet made in code, checked like a file; a bare number takes `units`.

        Raises InputErrors, one line each: a name that is no measurement, a length that cannot be
        read or that no body has, measurements that contradict each other, a wrong unit.
        """
        table = {"name": name, "units": units, "notes": notes, "measurements": dict(values)}
        return _Reading(IN_CODE, "").sheet(table)


def load_sheet(path: str | Path) -> BodySheet:
    """The body sheet in a TOML file; InputErrors with every fault, one line each, file and line.

    UTF-8, with or without a byte order mark.  `units` ("cm", "mm" or "in") and [measurements]
    are required, `name` and `notes` are not.  A file that cannot be read is an InputErrors too.

    Example:
        >>> from pathlib import Path
        >>> from tempfile import TemporaryDirectory
        >>> from blockwright import load_sheet
        >>> with TemporaryDirectory() as folder:
        ...     file = Path(folder) / "invented.toml"
        ...     _ = file.write_text('units = "cm"\\n[measurements]\\nwaist_girth = 70')
        ...     load_sheet(file).values["waist_girth"]
        700.0
    """
    try:
        text = read_text(path)
    except InputError as error:
        raise InputErrors([str(error)]) from None
    return parse_sheet(text, where=shown_path(path))


def parse_sheet(text: str, *, where: str = IN_CODE) -> BodySheet:
    """The body sheet in TOML text; see `load_sheet`.  `where` begins every message.

    Raises InputErrors with every fault, one line each in the order of the text; for text that is
    empty or no TOML, one.

    Example:
        >>> from blockwright import InputErrors, parse_sheet
        >>> try:
        ...     parse_sheet('units = "ft"\\n[measurements]\\nwaist_girth = 2.3', where="invented")
        ... except InputErrors as error:
        ...     print(error)
        invented:1: units: 'ft' is not a unit here; write "cm", "mm" or "in"
    """
    text = text.removeprefix("\ufeff")
    try:
        table = read_table(text, where)
    except InputError as error:
        raise InputErrors([str(error)]) from None
    if not table:
        raise InputErrors(
            [f'{where}: is empty; write units = "cm", then [measurements] and one a line']
        )
    return _Reading(where, text).sheet(table)


class _Reading:
    """One reading of a sheet: takes the table apart and collects what is wrong with it."""

    def __init__(self, where: str, text: str) -> None:
        self.where = where
        self.text = text
        self.faults: list[tuple[tuple[str, ...], str]] = []

    def sheet(self, table: Mapping[str, Any]) -> BodySheet:
        """The sheet, or InputErrors with all that is wrong."""
        for key in table:
            self._known(key, table[key])
        name = self._text(table, "name")
        if any(category(letter) in _BREAKS for letter in name):
            self._fault("name: must be one line of text, without tabs", "name")
        notes = self._text(table, "notes")
        unit = self._unit(table)
        values = self._values(table, unit)
        self._contradictions(values, unit or Unit.CM)
        if self.faults or unit is None:
            raise InputErrors(self._lines())
        return BodySheet(name, unit, values, notes, self.where)

    def _fault(self, message: str, *path: str) -> None:
        self.faults.append((path, message))

    def _lines(self) -> list[str]:
        """All faults in the order of the file, first those that have no line."""
        lines = key_lines(self.text)
        placed = [(lines.get(path, 0), message) for path, message in self.faults]
        return [
            f"{self.where}:{line}: {message}" if line else f"{self.where}: {message}"
            for line, message in sorted(placed, key=lambda fault: fault[0])
        ]

    def _known(self, key: str, value: object) -> None:
        if key in _ENTRIES:
            return
        shown = f"[{shown_name(key)}]" if isinstance(value, dict) else shown_name(key)
        if like := nearest_to(key.lower(), _ENTRIES):
            hint = f"did you mean {'[measurements]' if like == 'measurements' else like}?"
        elif nearest_name(key) and not isinstance(value, dict):
            hint = "write measurements below the line [measurements]"
        else:
            hint = "a body sheet has name, units, notes and [measurements]"
        self._fault(f"{shown}: no such entry; {hint}", key)

    def _text(self, table: Mapping[str, Any], key: str) -> str:
        value = table.get(key, "")
        if isinstance(value, str):
            return value
        self._fault(f'{key}: must be text in quotes, as in {key} = "..."', key)
        return ""

    def _unit(self, table: Mapping[str, Any]) -> Unit | None:
        if "units" not in table:
            if any(nearest_to(key.lower(), _ENTRIES) == "units" for key in table):
                return None
            self._fault(f'units is missing; {_UNITS}, as in units = "cm", above [measurements]')
            return None
        written = table["units"]
        try:
            return Unit(written.lower())
        except (AttributeError, ValueError):
            self._fault(f"units: {quoted(written)} is not a unit here; {_UNITS}", "units")
            return None

    def _values(self, table: Mapping[str, Any], unit: Unit | None) -> dict[str, float]:
        if "measurements" not in table:
            if all(nearest_to(key.lower(), _ENTRIES) != "measurements" for key in table):
                self._fault("[measurements] is missing; write it, and one measurement a line below")
            return {}
        written = table["measurements"]
        if not isinstance(written, dict):
            self._fault(
                "measurements: must be a table; write [measurements], and one a line below",
                "measurements",
            )
            return {}
        found = {name: self._value(name, value, unit) for name, value in written.items()}
        return {name: value for name, value in found.items() if value is not None}

    def _value(self, name: str, written: object, unit: Unit | None) -> float | None:
        try:
            known = lookup(name)
        except InputError as error:
            misplaced = name in ("name", "units", "notes")
            hint = f"{name}: belongs above the line [measurements]" if misplaced else str(error)
            self._fault(hint, "measurements", name)
            return None
        try:
            return _checked(known, written, unit)
        except InputError as error:
            self._fault(f"{name}: {error}", "measurements", name)
            return None

    def _contradictions(self, values: Mapping[str, float], unit: Unit) -> None:
        pairs = impossible_pairs(values)
        for (shorter, _), message in zip(pairs, contradictions(values, unit), strict=True):
            self._fault(message, "measurements", shorter)


def _checked(known: Measurement, written: object, unit: Unit | None) -> float | None:
    """Millimetres of a value as written, None when only the sheet's missing unit could tell."""
    if not isinstance(written, int | float) and isinstance(written, Real):
        written = float(written)  # a numpy number, a fraction
    if not isinstance(written, str | int | float) or isinstance(written, bool):
        raise InputError(f'{_kind(written)} is no measurement; give a number or text like "88 cm"')
    amount, own = read_length(written)
    if own is None and unit is None:
        return None
    millimetres = parse_length(written, own or unit or Unit.CM)
    if known.low - ROUNDING <= millimetres <= known.high + ROUNDING:
        return millimetres
    raise InputError(_implausible(known, written, amount, own, unit))


def _implausible(
    known: Measurement, written: str | float, amount: float, own: Unit | None, unit: Unit | None
) -> str:
    given = own or unit or Unit.CM
    text = " ".join(str(written).split())
    text = text if len(text) <= LONGEST_SHOWN else text[:LONGEST_SHOWN] + "..."
    shown = text if own else f"{text} {given}"
    shows = unit or given
    limits = f"{format_length(known.low, shows)} to {format_length(known.high, shows)}"
    others = [
        f"{amount:g} {other}"
        for other in (Unit.CM, Unit.IN, Unit.MM)
        if other is not given and known.low <= amount * other.millimetres <= known.high
    ]
    if others:
        ask = f"is the unit right? did you mean {' or '.join(others)}?"
    elif amount > 0.0:
        ask = "is the unit right? if it is, measure again"
    else:
        ask = "a measurement is more than zero"
    return f"{shown} is outside {limits}; {ask}"


def _kind(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "a table"
    return "a list" if isinstance(value, list) else quoted(str(value))
