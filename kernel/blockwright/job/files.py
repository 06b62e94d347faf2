"""Files written whole or not at all."""

from __future__ import annotations

import os
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING
from unicodedata import normalize

from blockwright.errors import BlockwrightError, InputError

if TYPE_CHECKING:
    from blockwright.pattern.pattern import Pattern

# Letters of a name that go into a file's name: file systems take 255 bytes, and a letter may
# have four.
LONGEST = 40
# Letters that one file system or another does not take in a name.
UNSAFE = set('<>:"/\\|?*') | {chr(code) for code in range(32)}


def slug(text: str) -> str:
    """A name fit for a file: letters and digits, joined by single hyphens."""
    plain = normalize("NFKC", text).lower()
    words = "".join(c if c.isalnum() else " " for c in plain).split()
    return "-".join(words)[:LONGEST].strip("-")


def file_stem(name: str | None, pattern: Pattern, body: str) -> str:
    """The files' name without its ending: `name`, or made of the body's name and the blocks' keys.

    Raises InputError for a name that some file system does not take, or that has a folder.
    """
    if name is None:
        person = slug(pattern.body) or slug(Path(body).stem)
        return "-".join(filter(None, (person, pattern.block)))
    if not name.strip(". ") or Path(name).name != name or set(name) & UNSAFE:
        raise InputError.coded("files.name", name=name)
    return name


def write_all(folder: Path, contents: Mapping[str, bytes]) -> list[Path]:
    """Write every file of `contents` (name to bytes) into the folder, or none of them.

    Each is written beside its place first, read again, and renamed when all are there: an older
    file of that name stays whole until then.  Raises InputError when the folder cannot be made or
    written to, or a file does not come back as it was written; a folder made for them is then
    removed again.
    """
    waiting: list[tuple[Path, Path]] = []
    made: list[Path] = []
    try:
        if folder.is_file():
            raise InputError.coded("files.no-folder", folder=str(folder))
        made = _make(folder)
        for name, data in contents.items():
            place = folder / name
            if place.is_dir():
                raise InputError.coded("files.is-folder", place=str(place))
            made += _make(place.parent)
            beside = place.with_name(f".{place.name}.{os.getpid()}")
            with beside.open("xb") as file:
                waiting.append((beside, place))
                file.write(data)
        for beside, place in waiting:
            if beside.read_bytes() != contents[str(place.relative_to(folder))]:
                raise InputError.coded("files.damaged", place=str(place))
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
        raise InputError.coded("files.cannot-write", folder=str(folder), why=why) from None
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
