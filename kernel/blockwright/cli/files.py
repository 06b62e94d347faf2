"""Files written whole or not at all."""

from __future__ import annotations

import os
import tempfile
from collections.abc import Mapping
from pathlib import Path

from blockwright.errors import InputError


def slug(text: str) -> str:
    """A name fit for a file: letters and digits, joined by single hyphens."""
    words = "".join(c if c.isalnum() else " " for c in text.lower()).split()
    return "-".join(words)


def write_all(folder: Path, contents: Mapping[str, bytes]) -> list[Path]:
    """Write every file of `contents` (name to bytes) into the folder, or none of them.

    Each is written beside its place first and renamed when all are there.  Raises InputError
    when the folder cannot be made or written to.
    """
    waiting: list[tuple[str, Path]] = []
    try:
        folder.mkdir(parents=True, exist_ok=True)
        for name, data in contents.items():
            if (folder / name).is_dir():
                raise InputError(f"{folder / name} is a folder; move it or choose another --out")
            handle, beside = tempfile.mkstemp(dir=folder, prefix=f".{name}.")
            waiting.append((beside, folder / name))
            with os.fdopen(handle, "wb") as file:
                file.write(data)
            os.chmod(beside, 0o666 & ~_umask())
        for beside, place in waiting:
            os.replace(beside, place)
    except OSError as error:
        raise InputError(
            f"cannot write to {folder}: {error.strerror or error}; choose another --out"
        ) from None
    finally:
        for beside, _ in waiting:
            Path(beside).unlink(missing_ok=True)
    return [place for _, place in waiting]


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
