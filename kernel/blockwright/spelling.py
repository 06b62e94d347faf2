"""The nearest name to a misspelt one, for messages."""

from __future__ import annotations

from collections.abc import Iterable


def did_you_mean(name: str, known: Iterable[str]) -> str:
    """'; did you mean waist_girth?' or nothing."""
    from difflib import get_close_matches

    close = get_close_matches(name, list(known), n=1)
    return f"; did you mean {close[0]}?" if close else ""
