"""Files written whole or not at all."""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from pathlib import Path
from unicodedata import normalize

from blockwright.errors import BlockwrightError, InputError

# Letters of a name that go into a file's name: file systems take 255 bytes, and a letter may
# have four.
LONGEST = 40


def slug(text: str) -> str:
    """A name fit for a file: letters and digits, joined by single hyphens."""
    plain = normalize("NFKC", text).lower()
    words = "".join(c if c.isalnum() else " " for c in plain).split()
    return "-".join(words)[:LONGEST].strip("-")


Check = Callable[[str, bytes], None]
"""Looks at a file as it lies on the disk, by its name; raises what is wrong with it."""


def write_all(
    folder: Path, contents: Mapping[str, bytes], check: Check = lambda name, data: None
) -> list[Path]:
    """Write every file of `contents` (name to bytes) into the folder, or none of them.

    Each is written beside its place first, read again and checked, and renamed when all are there:
    an older file of that name stays whole until then.  Raises InputError when the folder cannot
    be made or written to, and what `check` raises; a folder made for them is then removed again.
    """
    waiting: list[tuple[Path, Path]] = []
    made: list[Path] = []
    try:
        if folder.is_file():
            raise InputError(f"--out {str(folder)!r} is a file, not a folder; choose another")
        made = _make(folder)
        for name, data in contents.items():
            place = folder / name
            if place.is_dir():
                raise InputError(f"{place} is a folder; move it or choose another --out")
            made += _make(place.parent)
            beside = place.with_name(f".{place.name}.{os.getpid()}")
            with beside.open("xb") as file:
                waiting.append((beside, place))
                file.write(data)
        for beside, place in waiting:
            check(place.name, beside.read_bytes())
        for beside, place in waiting:
            beside.replace(place)
    except BaseException as error:
        for beside, _ in waiting:
            beside.unlink(missing_ok=True)
        for new in sorted(made, reverse=True):  # what is inside before what it is in
            new.rmdir()
        if isinstance(error, BlockwrightError) or not isinstance(error, OSError | ValueError):
            raise
        why = error.strerror if isinstance(error, OSError) else str(error)
        raise InputError(f"cannot write to --out {str(folder)!r}: {why}; choose another") from None
    return [place for _, place in waiting]


def _make(folder: Path) -> list[Path]:
    """Make a folder and those above it; the ones that were not there, innermost first."""
    missing = []
    above = folder
    while not above.exists() and above != above.parent:
        missing.append(above)
        above = above.parent
    folder.mkdir(parents=True, exist_ok=True)
    return missing
