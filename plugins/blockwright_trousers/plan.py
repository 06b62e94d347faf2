"""All that is found before the pieces of trousers are drawn."""

from __future__ import annotations

from dataclasses import dataclass

from blockwright import Curve
from blockwright_trousers.draw import HipLine, Levels
from blockwright_trousers.fork import Fork
from blockwright_trousers.half import Leg
from blockwright_trousers.waist import Sewn

# The thigh is measured so far below the tip of the back fork, the lower of the two; the crotch
# hangs lower than the body's, so the body is fullest no lower than that; mm.
BELOW_FORK = 5.0


@dataclass(frozen=True, slots=True)
class Plan:
    """All that is found before the pieces are drawn; pairs are front and back."""

    at: Levels
    legs: tuple[Leg, Leg]
    fork: Fork
    seams: tuple[Curve, Curve]
    hips: tuple[HipLine, HipLine]
    sewn: Sewn

    @property
    def below_fork(self) -> float:
        """Height at which the thigh is measured."""
        return self.fork.back.tip.y - BELOW_FORK
