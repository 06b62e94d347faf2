"""A body sheet's file: bytes to text, text to a table, and the line each key is on."""

from __future__ import annotations

import os
import re
import tomllib
from pathlib import Path
from typing import Any

from blockwright.errors import InputError

LARGEST = 100_000
"""Bytes.  A sheet with every measurement and a page of notes has a tenth of that."""
LONGEST_ENTRY = 200
"""Lines of one entry, a note in triple quotes; past a longer one lines are not told."""

_UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")
_POSITION = re.compile(r"(?P<why>.*) \(at line (?P<line>\d+), column (?P<column>\d+)\)", re.DOTALL)
_TWICE = ("Cannot overwrite", "Cannot declare", "Cannot mutate", "Cannot redefine", "Duplicate")
_DECIMAL_COMMA = re.compile(r"=\s*[-+]?[0-9]+,[0-9]")
_INCH_SIGN = re.compile(r'[0-9]\s*"')


def read_text(path: str | Path, what: str = "body sheet") -> str:
    """The text of a small UTF-8 file, with or without a byte order mark.

    Raises InputError in one line for a file that is not there, is a folder, may not be read, is
    larger than LARGEST or is not UTF-8; `what` it calls the file.
    """
    shown = shown_path(path)
    data = _read_bytes(path, what)
    if len(data) > LARGEST:
        raise InputError(
            f"{shown}: is larger than {LARGEST // 1000} kB; give a {what}, a short text file"
        )
    if data.startswith(_UTF16_MARKS) or b"\0" in data:
        raise InputError(f"{shown}: is not plain text, or is UTF-16; save the file as UTF-8 text")
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise InputError(
            f"{shown}:{line}: a letter here is not UTF-8; save the file as UTF-8 text"
        ) from None


def _read_bytes(path: str | Path, what: str) -> bytes:
    if not os.fspath(path):
        raise InputError(f"the name of the {what} is empty; give a file such as sara.toml")
    if Path(path).is_dir():
        raise InputError(f"{shown_path(path)}: is a folder; give the {what} in it, a .toml file")
    try:
        with Path(path).open("rb") as file:
            return file.read(LARGEST + 1)
    except FileNotFoundError:
        why = "there is no such file; check its name and folder"
    except PermissionError:
        why = "may not be read; change the file's permissions"
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else str(error)
        why = f"cannot be read ({reason}); check its name and folder"
    raise InputError(f"{shown_path(path)}: {why}") from None


def read_table(text: str, where: str) -> dict[str, Any]:
    """The top-level table of TOML text; InputError with `where`, line and what to do."""
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise InputError(
            f"{where}: brackets are nested too deep; write [measurements] and one a line"
        ) from None
    except tomllib.TOMLDecodeError as error:
        raise _not_toml(text, where, " ".join(str(error).split())) from None
    except ValueError:  # the only other one is of a whole number that is too long to convert
        raise InputError(f"{where}: a number has too many digits; correct it") from None


def _not_toml(text: str, where: str, message: str) -> InputError:
    position = _POSITION.fullmatch(message)
    if position is None:
        return InputError(
            f"{where}: not valid TOML ({message}); close every quote and bracket that is opened"
        )
    number, why = int(position["line"]), position["why"]
    if why.startswith(_TWICE):
        return InputError(f"{where}:{number}: this name or table is given twice; keep one of them")
    line = text.split("\n")[number - 1]
    return InputError(
        f"{where}:{number}: not valid TOML ({why}, column {position['column']}); {_advice(line)}"
    )


def _advice(line: str) -> str:
    if _DECIMAL_COMMA.search(line):
        return "write the decimal with a point, as in 70.5"
    if _INCH_SIGN.search(line):
        return 'write inches as "27 1/2 in", or in single quotes: \'27 1/2"\''
    return 'write name = number, or a length in quotes: waist_girth = "70 cm"'


def key_lines(text: str) -> dict[tuple[str, ...], int]:
    """The line of each key path in valid TOML text, counted from 1.

    Each entry is read by itself, so quoted and dotted keys and inline tables come out as TOML
    has them.  Of an entry over several lines only the first key is told, and after one of more
    than LONGEST_ENTRY lines nothing is: a missing line, never a wrong one.
    """
    found: dict[tuple[str, ...], int] = {}
    table: tuple[str, ...] = ()
    lines = text.split("\n")
    start = 0
    while start < len(lines):
        end, entry = _entry(lines, start)
        if entry is None:
            break
        if lines[start].lstrip().startswith("["):
            table = _header(entry)
            paths = [table[:depth] for depth in range(1, len(table) + 1)]
        elif end == start + 1:
            paths = [table + path for path in _paths(entry)]
        else:
            paths = [(*table, key) for key in entry]
        for path in paths:
            found.setdefault(path, start + 1)
        start = end
    return found


def _entry(lines: list[str], start: int) -> tuple[int, dict[str, Any] | None]:
    """The line after the entry that starts here, and the entry read alone."""
    for end in range(start + 1, min(start + LONGEST_ENTRY, len(lines)) + 1):
        try:
            return end, tomllib.loads("\n".join(lines[start:end]) + "\n")
        except (ValueError, RecursionError):
            continue
    return start, None


def _header(entry: dict[str, Any]) -> tuple[str, ...]:
    path: tuple[str, ...] = ()
    inner: Any = entry
    while inner:
        (key,) = inner
        path, inner = (*path, key), inner[key]
        if isinstance(inner, list):
            break
    return path


def _paths(entry: dict[str, Any]) -> list[tuple[str, ...]]:
    paths: list[tuple[str, ...]] = []
    for key, value in entry.items():
        paths.append((key,))
        if isinstance(value, dict):
            paths += [(key, *path) for path in _paths(value)]
    return paths


def shown_path(path: str | Path) -> str:
    """A file name as messages begin with it: as given, or quoted if it would break the line."""
    text = str(path)
    return text if text.isprintable() else repr(text)
