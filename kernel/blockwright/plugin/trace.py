"""What is told while plugins are loaded, for who wants to see it or stops it."""

from __future__ import annotations

import os
import sys
import time
from collections.abc import Callable

TRACE = "BLOCKWRIGHT_TRACE"
"""Environment variable: anything but nothing or 0 tells every import and hook call on stderr."""
MEND = "mend or uninstall it"

Trace = Callable[[str], None]


def tracing() -> Trace:
    """What tells a line on stderr when the environment asks for it, and else does nothing."""
    if os.environ.get(TRACE, "0") in ("", "0"):
        return lambda _: None
    return lambda line: print(f"blockwright: trace: {line}", file=sys.stderr)


def since(begin: float) -> str:
    """How long ago that was, for the trace."""
    return f"{1e3 * (time.perf_counter() - begin):.1f} ms"


def interrupted(what: str) -> KeyboardInterrupt:
    """Stopped by hand, most likely because it did not end: what it was."""
    return KeyboardInterrupt(f"stopped while {what}")
