"""Things in groups that seams, or whatever else they share, join."""

from __future__ import annotations

from collections.abc import Hashable, Iterable
from typing import TypeVar

T = TypeVar("T", bound=Hashable)


def grouped(joined: Iterable[Iterable[T]]) -> list[list[T]]:
    """The things in groups: two are in one group if a chain of `joined` things leads between them.

    Each thing stands once, in the order in which it is met.

    Example:
        >>> grouped([["front", "back"], ["sleeve"], ["back", "yoke"]])
        [['sleeve'], ['front', 'back', 'yoke']]
    """
    groups: dict[int, dict[T, None]] = {}
    place: dict[T, int] = {}  # the number of the group that a thing is in
    for number, things in enumerate(joined):
        found = dict.fromkeys(things)
        touched = sorted({place[thing] for thing in found if thing in place})
        whole = {thing: None for at in touched for thing in groups.pop(at)} | found
        groups[number] = whole
        place.update(dict.fromkeys(whole, number))
    return [[*group] for group in groups.values() if group]
