"""The body sheet: the measurements of a person or a stand, read and checked together."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from numbers import Real
from pathlib import Path
from types import MappingProxyType
from typing import Any
from unicodedata import category

from blockwright.body.lengths import Length, Unit, parse_length, quoted, read_length
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
"""The name of a sheet without a file, in messages."""
LONGEST_SHOWN = 40
"""The most letters of a value that a message repeats."""
ROUNDING = 25.4 / 32
"""Millimetres: half the step of printed inches, so that a limit is accepted as printed."""

_ENTRIES = ("name", "units", "notes", "measurements")
_BREAKS = ("Cc", "Zl", "Zp")  # Unicode's control characters, line and paragraph separators


@dataclass(frozen=True)
class BodySheet:
    """The measurements of one body, mm by name, and the unit that its maker works in.

    `load_sheet`, `parse_sheet` and `from_values` make it and check every name and value.  The
    constructor checks nothing.  `values` is read-only and has the names of ISO 8559-1.  `where` is
    the name of the sheet in messages; sheets that differ only there are equal.  `estimates` says
    how each value that was not measured was estimated, by name.  A source of bodies adds it with
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
        """A sheet made in code and checked like a file.  A bare number is in `units`.

        Raises InputErrors for names that are no measurement, lengths that cannot be read or that no
        body has, measurements that contradict each other, and a wrong unit.
        """
        table = {"name": name, "units": units, "notes": notes, "measurements": dict(values)}
        return _Reading(IN_CODE, "").sheet(table)


def load_sheet(path: str | Path) -> BodySheet:
    """The body sheet in a TOML file, UTF-8 with or without a byte order mark.

    `units` ("cm", "mm" or "in") and [measurements] are required.  `name` and `notes` may be left
    out.  Raises InputErrors with every fault, each with its file and line.  A file that cannot be
    read raises InputErrors too.

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
        raise InputErrors([error]) from None
    return parse_sheet(text, where=shown_path(path))


def parse_sheet(text: str, *, where: str = IN_CODE) -> BodySheet:
    """The body sheet in TOML text; see `load_sheet`.  Every message begins with `where`.

    Raises InputErrors with every fault, in the order of the text.  Text that is empty or no TOML
    has one fault.

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
        raise InputErrors([error]) from None
    if not table:
        raise InputErrors([InputError.coded("sheet.empty", at=where)])
    return _Reading(where, text).sheet(table)


class _Reading:
    """One reading of a sheet.  It takes the table apart and collects the faults."""

    def __init__(self, where: str, text: str) -> None:
        self.where = where
        self.text = text
        self.faults: list[tuple[tuple[str, ...], str, dict[str, object]]] = []

    def sheet(self, table: Mapping[str, Any]) -> BodySheet:
        """The sheet.  Raises InputErrors with every fault."""
        for key in table:
            self._known(key, table[key])
        name = self._text(table, "name")
        if any(category(letter) in _BREAKS for letter in name):
            self._fault("sheet.name", "name")
        notes = self._text(table, "notes")
        unit = self._unit(table)
        values = self._values(table, unit)
        self._contradictions(values, unit or Unit.CM)
        if self.faults or unit is None:
            raise InputErrors(self._in_order())
        return BodySheet(name, unit, values, notes, self.where)

    def _fault(self, code: str, *path: str, **values: object) -> None:
        self.faults.append((path, code, values))

    def _in_order(self) -> list[InputError]:
        """All faults in the order of the file.  Those that have no line come first."""
        lines = key_lines(self.text)
        placed = [(lines.get(path, 0), code, values) for path, code, values in self.faults]
        return [
            InputError.coded(code, at=f"{self.where}:{line}" if line else self.where, **values)
            for line, code, values in sorted(placed, key=lambda fault: fault[0])
        ]

    def _known(self, key: str, value: object) -> None:
        if key in _ENTRIES:
            return
        shown = f"[{shown_name(key)}]" if isinstance(value, dict) else shown_name(key)
        if like := nearest_to(key.lower(), _ENTRIES):
            near = "[measurements]" if like == "measurements" else like
            self._fault("sheet.misspelt-entry", key, entry=shown, near=near)
        elif nearest_name(key) and not isinstance(value, dict):
            self._fault("sheet.measurement-above", key, entry=shown)
        else:
            self._fault("sheet.unknown-entry", key, entry=shown)

    def _text(self, table: Mapping[str, Any], key: str) -> str:
        value = table.get(key, "")
        if isinstance(value, str):
            return value
        self._fault("sheet.no-text", key, entry=key)
        return ""

    def _unit(self, table: Mapping[str, Any]) -> Unit | None:
        if "units" not in table:
            if any(nearest_to(key.lower(), _ENTRIES) == "units" for key in table):
                return None
            self._fault("sheet.no-units")
            return None
        written = table["units"]
        try:
            return Unit(written.lower())
        except (AttributeError, ValueError):
            self._fault("sheet.unknown-unit", "units", unit=quoted(written))
            return None

    def _values(self, table: Mapping[str, Any], unit: Unit | None) -> dict[str, float]:
        if "measurements" not in table:
            if all(nearest_to(key.lower(), _ENTRIES) != "measurements" for key in table):
                self._fault("sheet.no-measurements")
            return {}
        written = table["measurements"]
        if not isinstance(written, dict):
            self._fault("sheet.no-table", "measurements")
            return {}
        found = {name: self._value(name, value, unit) for name, value in written.items()}
        return {name: value for name, value in found.items() if value is not None}

    def _value(self, name: str, written: object, unit: Unit | None) -> float | None:
        try:
            known = lookup(name)
        except InputError as error:
            if name in ("name", "units", "notes"):
                self._fault("sheet.entry-below", "measurements", name, entry=name)
            else:
                self._fault("sheet.unknown-measurement", "measurements", name, why=error)
            return None
        try:
            return _checked(known, written, unit)
        except InputError as error:
            self._fault("sheet.wrong-measurement", "measurements", name, name=name, why=error)
            return None

    def _contradictions(self, values: Mapping[str, float], unit: Unit) -> None:
        pairs = impossible_pairs(values)
        for (shorter, _), error in zip(pairs, contradictions(values, unit), strict=True):
            self._fault("sheet.contradiction", "measurements", shorter, why=error)


def _checked(known: Measurement, written: object, unit: Unit | None) -> float | None:
    """The millimetres of a written value.  None if it needs the unit that the sheet lacks."""
    if not isinstance(written, int | float) and isinstance(written, Real):
        written = float(written)  # a numpy number, a fraction
    if not isinstance(written, str | int | float) or isinstance(written, bool):
        raise InputError.coded("measurement.no-length", value=_kind(written))
    amount, own = read_length(written)
    if own is None and unit is None:
        return None
    millimetres = parse_length(written, own or unit or Unit.CM)
    if known.low - ROUNDING <= millimetres <= known.high + ROUNDING:
        return millimetres
    raise _implausible(known, written, amount, own, unit)


def _implausible(
    known: Measurement, written: str | float, amount: float, own: Unit | None, unit: Unit | None
) -> InputError:
    """The error for a length that no body has.  It names units in which a body has it."""
    given = own or unit or Unit.CM
    text = " ".join(str(written).split())
    text = text if len(text) <= LONGEST_SHOWN else text[:LONGEST_SHOWN] + "..."
    shows = unit or given
    others = [
        f"{amount:g} {other}"
        for other in (Unit.CM, Unit.IN, Unit.MM)
        if other is not given and known.low <= amount * other.millimetres <= known.high
    ]
    code = "measurement.unlikely" if amount > 0.0 else "measurement.not-positive"
    if others:
        code = "measurement.other-unit" if len(others) == 1 else "measurement.other-units"
    return InputError.coded(
        code,
        value=text if own else f"{text} {given}",
        low=Length(known.low, shows),
        high=Length(known.high, shows),
        **dict(zip(("meant", "or_meant"), others, strict=False)),
    )


def _kind(value: object) -> str:
    if isinstance(value, bool):
        return "true" if value else "false"
    if isinstance(value, dict):
        return "a table"
    return "a list" if isinstance(value, list) else quoted(str(value))
