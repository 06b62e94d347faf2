"""Reading a sheet: a file to text, text to a table, and the line that each key is on."""

from __future__ import annotations

import os
import re
import tomllib
from pathlib import Path
from typing import Any

from blockwright.errors import InputError

LARGEST = 100_000
"""Bytes.  A sheet with every measurement and a page of notes has a tenth of this."""
LONGEST_ENTRY = 200
"""Lines of one entry, such as a note in triple quotes.  No line is told after a longer one."""

_UTF16_MARKS = (b"\xff\xfe", b"\xfe\xff")
_POSITION = re.compile(r"(?P<why>.*) \(at line (?P<line>\d+), column (?P<column>\d+)\)", re.DOTALL)
_TWICE = ("Cannot overwrite", "Cannot declare", "Cannot mutate", "Cannot redefine", "Duplicate")
_DECIMAL_COMMA = re.compile(r"=\s*[-+]?[0-9]+,[0-9]")
_INCH_SIGN = re.compile(r'[0-9]\s*"')


def read_text(path: str | Path, what: str = "body sheet") -> str:
    """The text of a small UTF-8 file, with or without a byte order mark.

    Raises InputError if the file is not there, is a folder, may not be read, is larger than LARGEST
    or is not UTF-8.  The message calls the file `what`.
    """
    shown = shown_path(path)
    data = _read_bytes(path, what)
    if len(data) > LARGEST:
        raise InputError.coded("file.too-large", file=shown, most=LARGEST // 1000, what=what)
    if data.startswith(_UTF16_MARKS) or b"\0" in data:
        raise InputError.coded("file.not-text", file=shown)
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError as error:
        line = data.count(b"\n", 0, error.start) + 1
        raise InputError.coded("file.not-utf-8", file=shown, line=line) from None


def _read_bytes(path: str | Path, what: str) -> bytes:
    if not os.fspath(path):
        raise InputError.coded("file.no-name", what=what)
    shown = shown_path(path)
    if Path(path).is_dir():
        raise InputError.coded("file.folder", file=shown, what=what)
    try:
        with Path(path).open("rb") as file:
            return file.read(LARGEST + 1)
    except FileNotFoundError:
        raise InputError.coded("file.missing", file=shown) from None
    except PermissionError:
        raise InputError.coded("file.forbidden", file=shown) from None
    except (OSError, ValueError) as error:
        reason = error.strerror if isinstance(error, OSError) else str(error)
        raise InputError.coded("file.unreadable", file=shown, reason=f"{reason}") from None


def read_table(text: str, where: str) -> dict[str, Any]:
    """The top-level table of TOML text.  Raises InputError unless it is valid TOML."""
    try:
        return tomllib.loads(text)
    except RecursionError:
        raise InputError.coded("toml.nested", at=where) from None
    except tomllib.TOMLDecodeError as error:
        raise _not_toml(text, where, " ".join(str(error).split())) from None
    except ValueError:  # a whole number has more digits than Python converts
        raise InputError.coded("toml.digits", at=where) from None


def _not_toml(text: str, where: str, message: str) -> InputError:
    position = _POSITION.fullmatch(message)
    if position is None:
        return InputError.coded("toml.open", at=where, why=message)
    number, why = int(position["line"]), position["why"]
    if why.startswith(_TWICE):
        return InputError.coded("toml.twice", at=f"{where}:{number}")
    line = text.split("\n")[number - 1]
    code = "toml.invalid"
    if _DECIMAL_COMMA.search(line):
        code = "toml.comma"
    elif _INCH_SIGN.search(line):
        code = "toml.inch-sign"
    return InputError.coded(code, at=f"{where}:{number}", why=why, column=int(position["column"]))


def key_lines(text: str) -> dict[tuple[str, ...], int]:
    """The line of each key path in valid TOML text, counted from 1.

    Each entry is read by itself, so quoted keys, dotted keys and inline tables are read as TOML
    reads them.  An entry over several lines gives only its first key.  After an entry of more than
    LONGEST_ENTRY lines there are no more keys: a line may be missing but is never wrong.
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
    """The number of the line after the entry that starts here, and the entry."""
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
    """A file name at the start of a message.  It is quoted if it would break the line."""
    text = str(path)
    return text if text.isprintable() else repr(text)
