"""Results as data: what a promise wants, what was measured, and the reason if nothing was."""

from __future__ import annotations

import math
from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Literal

from blockwright.pattern.ref import Ref

Quantity = Literal["length", "angle", "count"]
Range = tuple[float, float]
Value = str | float | Ref | tuple[str | Ref, ...]
"""A value that fills a gap in the text of a code."""


@dataclass(frozen=True, slots=True)
class Reason:
    """A reason as data: a code that the catalogue has a text for, and the values in that text.

    Example:
        >>> from blockwright import Reason, Ref
        >>> Reason("copies.more", {"edge": Ref("skirt.gored", "left seam"), "cut": 1}).code
        'copies.more'
    """

    code: str
    values: Mapping[str, Value] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Result:
    """One measurement of a promise, in mm, degrees or a count.

    `code` says what was measured.  `subject` is the promise, the piece or the dart it is about.
    `wanted` is a range.  `measured` is nan where nothing could be measured.  `why` gives the reason
    for that, or what to do if the promise is broken.  `values` fill the gaps of its text, which
    `Proof.text` makes.  With `warning`, a result that does not hold warns, but breaks no promise.

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
    warning: bool = False

    @property
    def held(self) -> bool:
        """Whether `measured` is in the wanted range.  False if nothing could be measured."""
        low, high = self.wanted
        return low - self.tolerance <= self.measured <= high + self.tolerance

    @property
    def miss(self) -> float:
        """Distance from the wanted range: 0 within it, infinite if nothing was measured."""
        if math.isnan(self.measured):
            return math.inf
        low, high = self.wanted
        return max(low - self.measured, self.measured - high, 0.0)

    @property
    def kind(self) -> str:
        """The kind of the promise: the code up to its first point."""
        return self.code.partition(".")[0]
