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
    groups: list[dict[T, None]] = []
    for things in joined:
        found = dict.fromkeys(things)
        touched = [group for group in groups if group.keys() & found.keys()]
        groups = [group for group in groups if group not in touched]
        groups.append({thing: None for group in (*touched, found) for thing in group})
    return [[*group] for group in groups if group]
