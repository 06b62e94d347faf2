"""One measured promise: what was wanted, what was found, and whether it held."""

from __future__ import annotations

import math
from dataclasses import dataclass
from typing import Literal

Quantity = Literal["length", "angle", "count"]


@dataclass(frozen=True, slots=True)
class Finding:
    """`low` to `high` wanted, `measured` found; mm, degrees or a count.

    `note`: why nothing could be measured, or what to do when it is broken; printed only then.
    """

    kind: str
    name: str
    quantity: Quantity
    low: float
    high: float
    measured: float
    tolerance: float
    note: str = ""

    @property
    def held(self) -> bool:
        """False also when nothing could be measured (nan)."""
        return self.low - self.tolerance <= self.measured <= self.high + self.tolerance

    @property
    def miss(self) -> float:
        """How far outside the wanted range, 0 within it."""
        if math.isnan(self.measured):
            return math.inf
        return max(self.low - self.measured, self.measured - self.high, 0.0)
