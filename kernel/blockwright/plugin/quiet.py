"""What a plugin prints, kept from the host's own output and told."""

from __future__ import annotations

import io
from collections.abc import Callable, Iterator
from contextlib import contextmanager, redirect_stderr, redirect_stdout

SHOWN = 60


@contextmanager
def printing_told(told: Callable[[str], None]) -> Iterator[None]:
    """Catch what is printed within, and tell the first line of it, in one line, at the end."""
    printed = io.StringIO()
    try:
        with redirect_stdout(printed), redirect_stderr(printed):
            yield
    finally:
        lines = [line for line in printed.getvalue().splitlines() if line.strip()]
        if lines:
            left = len(lines) - 1
            more = f" and {left} line{'s' if left > 1 else ''} more" if left else ""
            told(f"printed {lines[0][:SHOWN]!r}{more}; a plugin prints nothing, take it out")
