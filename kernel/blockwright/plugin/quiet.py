"""What a plugin does to what is everybody's: what it prints and warns of, where it goes."""

from __future__ import annotations

import io
import os
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager, redirect_stderr, redirect_stdout, suppress

SHOWN = 60


class _Page(io.StringIO):
    """What is printed on instead of a terminal, and may be told how to, as a terminal may."""

    def reconfigure(self, **how: object) -> None:
        """Nothing to do: every letter can be kept."""


@contextmanager
def told_apart(told: Callable[[str], None]) -> Iterator[None]:
    """Keep what is done within from everybody else, and tell of it, a line each, at the end.

    What is printed, of which the first line is told; what is warned of; another working folder,
    which is gone back from.
    """
    printed, folder = _Page(), _folder()
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
            told(f"warned: {each.category.__name__}: {words} ({place}); mend it, or take it out")
        lines = [line for line in printed.getvalue().splitlines() if line.strip()]
        if lines:
            left = len(lines) - 1
            more = f" and {left} line{'s' if left > 1 else ''} more" if left else ""
            told(f"printed {lines[0][:SHOWN]!r}{more}; a plugin prints nothing, take it out")
        if folder and _folder() != folder:
            told(f"changed the working folder to {_folder() or 'one that is gone'}; take it out")
            with suppress(OSError):
                os.chdir(folder)


def _folder() -> str:
    """Where we are; nothing when that is gone."""
    try:
        return os.getcwd()
    except OSError:
        return ""
