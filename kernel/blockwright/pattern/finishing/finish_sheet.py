"""The finish sheet: a small TOML file that says how pieces are finished."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from blockwright.body.lengths import Length, Unit, parse_length
from blockwright.body.reading import key_lines, read_table, read_text, shown_path
from blockwright.errors import InputError, InputErrors
from blockwright.pattern.finishing.finish import USUAL, Finish
from blockwright.spelling import nearest_to

WIDEST = 300.0
"""Millimetres.  A wider allowance is taken for a slip of the pen."""

# The entries of each table: the field of Finish, then the values allowed.  These are a least and a
# greatest length in mm, some words, or bool for yes and no.
_KEYS: Mapping[str, Mapping[str, tuple[Any, ...]]] = {
    "allowances": {role: () for role in USUAL if role != "fold"},
    "edges": {},
    "corners": {"bevel": ("bevel", 5.0, 300.0)},
    "notches": {
        "kind": ("notch", "slit", "V", "T"),
        "depth": ("notch_depth", 1.0, 15.0),
        "width": ("notch_width", 1.0, 15.0),
        "clear": ("notch_clear", 0.0, 50.0),
    },
    "drills": {"inset": ("drill_inset", 0.0, 60.0), "diameter": ("drill_diameter", 0.5, 12.0)},
    "pieces": {"opened": ("opened", bool), "nap": ("nap", "one", "two")},
}


def load_finish(path: str | Path) -> Finish:
    """The finish sheet in a TOML file.

    `units` ("cm", "mm" or "in") is the unit of bare numbers.  [allowances] has lengths by role
    (seam, armhole, neck, waist, hem) and [edges] by the name of an edge, each 0 to 30 cm.
    [corners] has bevel, [notches] kind, depth, width and clear, [drills] inset and diameter, and
    [pieces] opened and nap.  All may be left out.

    Raises InputError for a file that cannot be read or is not TOML, and InputErrors with every
    fault of the sheet.

    Example:
        >>> from pathlib import Path
        >>> from tempfile import TemporaryDirectory
        >>> from blockwright import load_finish
        >>> with TemporaryDirectory() as folder:
        ...     sheet = Path(folder, "finish.toml")
        ...     _ = sheet.write_text('allowances = { hem = "4 cm", neck = 0.6 }')
        ...     how = load_finish(sheet)
        >>> how.roles
        {'hem': 40.0, 'neck': 6.0}
    """
    return parse_finish(read_text(path, "finish sheet"), where=shown_path(path))


def parse_finish(text: str, *, where: str = "finish sheet") -> Finish:
    """The finish sheet in TOML text; see `load_finish`."""
    table = read_table(text, where)
    lines = key_lines(text)
    faults: list[InputError] = []
    how = Finish()
    units = table.pop("units", "cm")
    unit = Unit.CM
    try:
        unit = Unit(units)
    except ValueError:
        faults.append(InputError.coded("finish-sheet.units", at=_place(where, lines, "units")))
    for name, entries in table.items():
        if name not in _KEYS or not isinstance(entries, dict):
            faults.append(_unknown("table", name, _KEYS, at=_place(where, lines, name)))
            continue
        for key, value in entries.items():
            try:
                how = _with(how, name, key, value, unit)
            except InputError as error:
                at = _place(where, lines, name, key)
                faults.append(InputError.coded("finish-sheet.entry", at=at, why=error))
    if faults:
        raise InputErrors(faults)
    return how


def with_allowances(how: Finish, given: Mapping[str, str], unit: Unit) -> Finish:
    """The finish with some allowances changed, as the command line gives them.

    `given` has lengths by role.  A bare number is in `unit`.  Raises InputError for a wrong role or
    length.
    """
    for role, value in given.items():
        try:
            how = _with(how, "allowances", role, value, unit)
        except InputError as error:
            raise InputError.coded("finish.allowance", role=role, why=error) from None
    return how


def _place(where: str, lines: Mapping[tuple[str, ...], int], *path: str) -> str:
    line = lines.get(path)
    return f"{where}{f':{line}' if line else ''}: {'.'.join(path)}"


def _unknown(what: str, name: str, known: Iterable[str], **at: str) -> InputError:
    """The error for a name that the sheet does not have: the nearest name, or else all of them."""
    if near := nearest_to(name, known):
        return InputError.coded(f"finish-sheet.misspelt-{what}", near=near, **at)
    return InputError.coded(f"finish-sheet.unknown-{what}", known=[*known], **at)


def _with(how: Finish, table: str, key: str, value: Any, unit: Unit) -> Finish:
    """The finish with one entry of the sheet.  Raises InputError if the entry is wrong."""
    if table == "edges":
        return replace(how, edges={**how.edges, key: _length(value, unit, 0.0, WIDEST)})
    if key not in _KEYS[table]:
        raise _unknown("entry", key, _KEYS[table])
    if table == "allowances":
        return replace(how, roles={**how.roles, key: _length(value, unit, 0.0, WIDEST)})
    field, *allowed = _KEYS[table][key]
    taken: dict[str, Any] = {field: value}
    if allowed == [bool]:
        if not isinstance(value, bool):
            raise InputError.coded("finish-sheet.yes-or-no")
    elif isinstance(allowed[0], str):
        if value not in allowed:
            raise InputError.coded("finish-sheet.choice", known=allowed)
    else:
        taken[field] = _length(value, unit, *allowed)
    return replace(how, **taken)


def _length(value: Any, unit: Unit, low: float, high: float) -> float:
    length = parse_length(value, unit)
    if not low <= length <= high:
        raise InputError.coded("finish-sheet.range", low=Length(low, unit), high=Length(high, unit))
    return length
