"""What a plugin does to the whole process: printing, warnings, the working folder; and a trace."""

from __future__ import annotations

import io
import os
import sys
import time
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager, redirect_stderr, redirect_stdout, suppress
from typing import TextIO

SHOWN = 60
TRACE = "BLOCKWRIGHT_TRACE"
"""Environment variable: anything but nothing or 0 tells every import and hook call on stderr."""


class _Kept(io.TextIOWrapper):
    """Keeps what is printed, and passes it on at once if there is anywhere to pass it to."""

    def __init__(self, passed_to: TextIO | None) -> None:
        super().__init__(io.BytesIO(), "utf-8", write_through=True)
        self._passed_to = passed_to

    def write(self, text: str) -> int:
        if self._passed_to:
            self._passed_to.write(text)
            self._passed_to.flush()
        return super().write(text)


@contextmanager
def told_apart(told: Callable[[str], None], *, aloud: bool = False) -> Iterator[None]:
    """Keep what code does within from everybody else, and tell of it at the end, a line each.

    The first line that it prints; its first warning; another working folder, which is undone.
    With `aloud` all that it prints also goes to stderr, as it comes.
    """
    printed, folder = _Kept(sys.stderr if aloud else None), _folder()
    try:
        with (
            redirect_stdout(printed),
            redirect_stderr(printed),
            warnings.catch_warnings(record=True) as warned,
        ):
            yield
    finally:
        for each in warned[:1]:
            words = " ".join(str(each.message).split())
            place = f"{each.filename}:{each.lineno}"
            told(f"warned: {each.category.__name__}: {words} ({place}); fix or remove it")
        printed.seek(0)
        lines = [line.rstrip("\n") for line in printed if line.strip()]
        if lines:
            left = len(lines) - 1
            more = f" and {left} line{'s' if left > 1 else ''} more" if left else ""
            told(f"printed {lines[0][:SHOWN]!r}{more}; a plugin must not print; remove it")
        if folder and _folder() != folder:
            told(f"changed the working folder to {_folder()}; remove that")
            os.chdir(folder)


def _folder() -> str:
    """The working folder; nothing when it was deleted."""
    with suppress(OSError):
        return os.getcwd()
    return ""


@contextmanager
def traced(what: str) -> Iterator[None]:
    """Tell on stderr that something begins, and how long it took, when BLOCKWRIGHT_TRACE asks."""
    asked, begin = os.environ.get(TRACE, "0") not in ("", "0"), time.perf_counter()
    if asked:
        print(f"blockwright: trace: {what}", file=sys.stderr)
    try:
        yield
    finally:
        if asked:
            took = 1e3 * (time.perf_counter() - begin)
            print(f"blockwright: trace: {what}: {took:.1f} ms", file=sys.stderr)
