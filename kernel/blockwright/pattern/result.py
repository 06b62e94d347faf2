"""Results as data: what a promise wanted, what was measured, and why where nothing was."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from blockwright.pattern.ref import Ref

Quantity = Literal["length", "angle", "count"]
Range = tuple[float, float]
Value = str | float | Ref | tuple[str | Ref, ...]
"""What fills a gap in the words of a code."""


@dataclass(frozen=True, slots=True)
class Reason:
    """Why something is so: a code that the words are found by, and the values in them.

    Example:
        >>> from blockwright import Reason, Ref
        >>> Reason("copies.more", {"edge": Ref("skirt.gored", "left seam"), "cut": 1}).code
        'copies.more'
    """

    code: str
    values: Mapping[str, Value] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Result:
    """One measurement of a promise: `wanted`, a range, and `measured`; mm, degrees or a count.

    `code` says what was measured, `subject` is the promise, the piece or the dart it is about, and
    `values` fill its words.  `measured` is nan where there was nothing to measure; `why` tells why,
    or what to do when it is broken.  It holds no sentence: `Proof.text` makes those.

    Example:
        >>> from blockwright import Ref, Result
        >>> side = Result("seam", Ref("skirt.plain", "side"), "length", (0.0, 0.0), 0.04, 0.1)
        >>> side.held, side.miss
        (True, 0.04)
    """

    code: str
    subject: Ref
    quantity: Quantity
    wanted: Range
    measured: float
    tolerance: float
    values: Mapping[str, Value] = field(default_factory=dict)
    why: Reason | None = None

    @property
    def held(self) -> bool:
        """False also when nothing could be measured (nan)."""
        low, high = self.wanted
        return low - self.tolerance <= self.measured <= high + self.tolerance

    @property
    def miss(self) -> float:
        """How far outside the wanted range, 0 within it; infinite where nothing was measured."""
        if math.isnan(self.measured):
            return math.inf
        low, high = self.wanted
        return max(low - self.measured, self.measured - high, 0.0)

    @property
    def kind(self) -> str:
        """The kind of promise it is of: the code up to its first point."""
        return self.code.partition(".")[0]
