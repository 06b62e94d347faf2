"""What the tests have another process do; it imports this file, and little else."""

from __future__ import annotations

import json
from collections.abc import Callable
from concurrent.futures import ProcessPoolExecutor
from multiprocessing import get_context
from typing import Any

from blockwright import Pattern, Proof, from_document, prove


def another_process() -> ProcessPoolExecutor:
    """A process that begins with nothing of this one, as on every system."""
    return ProcessPoolExecutor(max_workers=1, mp_context=get_context("spawn"))


def read_and_proved(text: str) -> tuple[Pattern, Proof]:
    """The pattern of a JSON text and its proof."""
    pattern = from_document(json.loads(text))
    return pattern, prove(pattern)


def proved(pattern: Pattern) -> tuple[Pattern, Proof]:
    """The pattern that arrived and its proof."""
    return pattern, prove(pattern)


def raised(error: BaseException) -> None:
    """Raises what it is given."""
    raise error


def raised_by(make: Callable[..., Any], *given: Any) -> Any:
    """What a call gives or raises, with a note of where."""
    try:
        return make(*given)
    except Exception as error:
        error.add_note("in another process")
        raise
