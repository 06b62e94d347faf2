"""The record of a pattern: what it was drafted from, solved for, and changed by."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field


@dataclass(frozen=True, slots=True)
class Solved:
    """A length, mm, that the block of key `block` solved for.

    `measured` is what the sheet has for it, where it is a length of the body.
    """

    name: str
    value: float
    so_that: str
    block: str = ""
    measured: float | None = None

    @property
    def off(self) -> float:
        """How much more is drawn than the sheet has, mm; 0 where the sheet has nothing for it."""
        return 0.0 if self.measured is None else self.value - self.measured


@dataclass(frozen=True, slots=True)
class Estimate:
    """A measurement, mm, that the sheet does not give and a rule estimates.

    `block` is the key of the block that asks for it.  Of 100 bodies with the other measurements of
    the sheet, 80 lie from `low` to `high`, mm.  Both are None where the body model cannot say.
    """

    name: str
    value: float
    rule: str
    block: str = ""
    low: float | None = None
    high: float | None = None


@dataclass(frozen=True, slots=True)
class Source:
    """The source of a length, mm, that a block takes from another block.

    `value` is None where no block of the set offers the length and it is not on the sheet.
    """

    name: str
    value: float | None
    says: str


@dataclass(frozen=True, slots=True)
class Origin:
    """The block that drafted a pattern or a part of it.

    `allowances` are those of the block by role, mm, where they differ from the usual ones.
    `eases` are the eases that its options ask for, mm, by what they are over.  `chosen` are its
    other options that differ from the usual, by name, as text in the maker's unit.
    """

    key: str
    title: str
    version: str = ""
    allowances: Mapping[str, float] = field(default_factory=dict)
    eases: Mapping[str, float] = field(default_factory=dict)
    chosen: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Change:
    """A change that was made to a pattern: the verb and its arguments, lengths in mm."""

    verb: str
    values: Mapping[str, str | float]
