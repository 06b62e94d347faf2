"""Words for messages: the nearest name to a misspelt one, what a thing is."""

from __future__ import annotations

from collections.abc import Iterable


def nearest_to(name: str, known: Iterable[str]) -> str | None:
    """The known name that a misspelt one most likely means, or None when none is like it."""
    from difflib import get_close_matches

    # Likeness by letters shared takes wiast for wrist; of those alike, the fewest slips decide.
    names = list(known)
    close = get_close_matches(name, names, n=max(1, len(names)))
    return min(close, key=lambda meant: _slips(name, meant), default=None)


def did_you_mean(name: str, known: Iterable[str]) -> str:
    """'; did you mean waist_girth?' or nothing."""
    close = nearest_to(name, known)
    return f"; did you mean {close}?" if close else ""


def what_is(item: object) -> str:
    """What a thing is, for a message that says what it should have been."""
    if isinstance(item, type):
        return f"the class {item.__name__}"
    return "None" if item is None else f"a value of type {type(item).__name__}"


def _slips(written: str, meant: str) -> int:
    """Letters left out, put in, taken for another or swapped with the next, fewest possible."""
    before: list[int] = []
    last = list(range(len(meant) + 1))
    for i, letter in enumerate(written):
        row = [i + 1]
        for j, other in enumerate(meant):
            fewest = min(last[j] + (letter != other), last[j + 1] + 1, row[j] + 1)
            if i and j and letter == meant[j - 1] and other == written[i - 1]:
                fewest = min(fewest, before[j - 1] + 1)
            row.append(fewest)
        before, last = last, row
    return last[-1]
