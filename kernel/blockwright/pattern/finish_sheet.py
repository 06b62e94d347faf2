"""The finish sheet: a small TOML file that says how pieces are finished."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from pathlib import Path
from typing import Any

from blockwright.body.lengths import Unit, format_length, parse_length
from blockwright.body.reading import key_lines, read_table, read_text, shown_path
from blockwright.errors import InputError, InputErrors
from blockwright.pattern.finish import USUAL, Finish
from blockwright.spelling import did_you_mean

WIDEST = 300.0
"""Millimetres: an allowance wider than a foot is a slip of the pen."""

# Entries of each table: field of Finish, then what may be given: a least and greatest length in mm,
# words, or yes and no.
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
    """The finish sheet in a TOML file; InputErrors with every fault, one line each.

    `units` ("cm", "mm" or "in") is what bare numbers are in.  [allowances] by role (seam, armhole,
    neck, waist, hem), [edges] by the name of an edge, [corners] bevel, [notches] kind, depth, width
    and clear, [drills] inset and diameter, [pieces] opened and nap.  All may be left out.  An
    allowance is 0 to 30 cm.  InputError for a file that cannot be read or is not TOML.

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
    faults: list[str] = []
    how = Finish()
    units = table.pop("units", "cm")
    unit = Unit.CM
    try:
        unit = Unit(units)
    except ValueError:
        faults.append(f'{_place(where, lines, "units")}: write "cm", "mm" or "in"')
    for name, entries in table.items():
        if name not in _KEYS or not isinstance(entries, dict):
            hint = did_you_mean(name, _KEYS) or f"; there are {', '.join(_KEYS)}"
            faults.append(f"{_place(where, lines, name)}: no such table{hint}")
            continue
        for key, value in entries.items():
            try:
                how = _with(how, name, key, value, unit)
            except InputError as error:
                faults.append(f"{_place(where, lines, name, key)}: {error}")
    if faults:
        raise InputErrors(faults)
    return how


def with_allowances(how: Finish, given: Mapping[str, str], unit: Unit) -> Finish:
    """The finish with allowances by role changed, as the command line gives them.

    `given`: role to length; a bare number takes the unit.  InputError for a wrong one.
    """
    for role, value in given.items():
        try:
            how = _with(how, "allowances", role, value, unit)
        except InputError as error:
            raise InputError(f"{role}_allowance: {error}") from None
    return how


def _place(where: str, lines: Mapping[tuple[str, ...], int], *path: str) -> str:
    line = lines.get(path)
    return f"{where}{f':{line}' if line else ''}: {'.'.join(path)}"


def _with(how: Finish, table: str, key: str, value: Any, unit: Unit) -> Finish:
    """The finish with one entry of the sheet; InputError says what is wrong with it."""
    if table == "edges":
        return replace(how, edges={**how.edges, key: _length(value, unit, 0.0, WIDEST)})
    if key not in _KEYS[table]:
        hint = did_you_mean(key, _KEYS[table]) or f"; there are {', '.join(_KEYS[table])}"
        raise InputError(f"no such entry{hint}")
    if table == "allowances":
        return replace(how, roles={**how.roles, key: _length(value, unit, 0.0, WIDEST)})
    field, *allowed = _KEYS[table][key]
    taken: dict[str, Any] = {field: value}
    if allowed == [bool]:
        if not isinstance(value, bool):
            raise InputError("write true or false")
    elif isinstance(allowed[0], str):
        if value not in allowed:
            raise InputError(f"write one of {', '.join(map(str, allowed))}, in quotes")
    else:
        taken[field] = _length(value, unit, *allowed)
    return replace(how, **taken)


def _length(value: Any, unit: Unit, low: float, high: float) -> float:
    length = parse_length(value, unit)
    if not low <= length <= high:
        raise InputError(f"give {format_length(low, unit)} to {format_length(high, unit)}")
    return length
