"""What a file says when it is read again, where it also says which piece is which."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass

from blockwright.plugin.format import Echo


def letters(names: Iterable[str]) -> tuple[str, ...]:
    """Names by their letters and digits, which every text can hold."""
    return tuple("".join(filter(str.isalnum, name)) for name in names)


@dataclass(frozen=True, slots=True)
class NamedEcho(Echo):
    """An echo with the name that the file has for each outline.

    `spelt` gives the names that pieces have in such a file.  `grain_level`: every piece lies
    turned so that its grain runs along x.
    """

    names: tuple[str, ...] = ()
    spelt: Callable[[Sequence[str]], Sequence[str]] = letters
    grain_level: bool = False
