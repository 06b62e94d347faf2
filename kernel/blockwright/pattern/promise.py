"""A promise: what a block says of its finished pieces, measured on them and carried by changes."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from blockwright.pattern.ref import Ref
from blockwright.pattern.result import Reason, Result

if TYPE_CHECKING:
    from blockwright.pattern.lineage import Lineage
    from blockwright.pattern.pattern import Pattern
    from blockwright.pattern.piece import Run


@dataclass(frozen=True, slots=True)
class Promise(ABC):
    """The root of every kind of promise: a frozen dataclass of references and wanted numbers.

    `ref` is its identity: the block that promises, and what it calls the promise.  A kind has a
    `kind` of its own, measures itself on the finished pieces, never by what drew them, and says
    what it becomes when they are changed.  Its fields are its data form: `Ref`, `Way`, `Point`,
    `Curve`, numbers, texts and tuples of these are written to JSON and read again.  `words` has the
    English of its codes; a kind of the kernel has its words in the catalogue.

    Example:
        >>> from blockwright import Promise
        >>> sorted(Promise.__abstractmethods__)
        ['carried', 'measure']
    """

    kind: ClassVar[str]
    words: ClassVar[Mapping[str, str]] = {}

    ref: Ref

    @property
    def name(self) -> str:
        """What is promised, in the block's words."""
        return self.ref.name

    @property
    def sewn(self) -> tuple[Run, Run] | None:
        """The two runs it sews together, from one end; None when it sews nothing."""
        return None

    @abstractmethod
    def measure(self, pattern: Pattern) -> tuple[Result, ...]:
        """Measure it on the finished pieces."""

    @abstractmethod
    def carried(self, lineage: Lineage) -> Carried:
        """What it becomes by a change: a promise or several, or given up and why."""


@dataclass(frozen=True, slots=True)
class Carried:
    """What a promise became: `promises`, or with `why` what is kept of one that is given up.

    What is given up is carried on by later changes, and is promised again by one after which
    nothing speaks against it.

    Example:
        >>> from blockwright import Carried
        >>> Carried(()).why is None
        True
    """

    promises: tuple[Promise, ...]
    why: Reason | None = None


@dataclass(frozen=True, slots=True)
class GivenUp:
    """A promise that a change gave up, and why; `place` is where it came among the promises.

    Example:
        >>> from blockwright import GivenUp
        >>> GivenUp.__slots__
        ('promise', 'why', 'place')
    """

    promise: Promise
    why: Reason
    place: int
