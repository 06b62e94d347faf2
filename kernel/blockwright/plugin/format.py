"""A file format: one way of writing a proved pattern."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass

from blockwright.body.lengths import Unit
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.proof import Proof


@dataclass(frozen=True, slots=True)
class Document:
    """What a format writes: the pattern with its proof, labelled in the maker's unit."""

    pattern: Pattern
    proof: Proof
    unit: Unit


@dataclass(frozen=True, slots=True)
class Format:
    """`write` gives the whole file as bytes, the same for the same document every time.

    `says` is one line: what it is for, units and scale.
    """

    name: str
    suffix: str
    says: str
    write: Callable[[Document], bytes]
