"""How what a skirt takes in from hip to waist is shared between side seams and darts."""

from __future__ import annotations

import math
from dataclasses import dataclass

# The side seams take half, as in the published draft of two back darts and one front dart (8 of
# 14 cm; see the tests).
SIDE_SHARE = 1.0 / 2.0
# A side seam that leans more than this share of the depth of the hip is no gentle curve: the same
# draft has 4 cm in 20.  Darts take the rest while they can.
GENTLE = 0.2
# Millimetres.  A dart wider than 3 cm, or than three tenths of its length, pokes at its point; one
# under 1 cm is not worth sewing, the side seam takes it; a dart that was asked for is sewn down to
# 5 mm.  Common practice, no source.
WIDEST, WIDEST_SHARE, NARROWEST, LEAST = 30.0, 0.3, 10.0, 5.0
MOST_DARTS = 2


@dataclass(frozen=True, slots=True)
class Darts:
    """The darts of one quarter: what each takes in, and their lengths from the centre out; mm."""

    intake: float = 0.0
    lengths: tuple[float, ...] = ()

    @property
    def total(self) -> float:
        """What they take in together, mm."""
        return len(self.lengths) * self.intake


@dataclass(frozen=True, slots=True)
class Asked:
    """What the maker asks of a quarter's darts; None is left to the block.

    `length` of the inner one, mm, tells how wide a dart may be; the outer one is `outer` of it.
    """

    length: float
    outer: float
    count: int | None
    intake: float | None

    @property
    def widest(self) -> float:
        """The widest dart of that length, mm."""
        return min(WIDEST, WIDEST_SHARE * self.length)

    @property
    def room(self) -> float:
        """The most these darts can take in, mm."""
        return self.widest * (MOST_DARTS if self.count is None else self.count)

    def darts(self, take: float) -> Darts:
        """The darts that take in `take` mm: no more than are needed, or as many as was asked.

        A second dart is made only if both are worth sewing.
        """
        if self.count is None:
            count = min(math.ceil(take / self.widest - 1e-9), int(take / NARROWEST))
            if self.intake is not None:
                count = max(count, 1)
        else:
            count = self.count
        if not count:
            return Darts()
        intake = min(take / count, self.widest) if self.intake is None else self.intake
        return Darts(intake, (self.length, self.length * self.outer)[:count])


def share(
    half: float, depth: float, back_share: float, back: Asked, front: Asked
) -> tuple[Darts, Darts]:
    """The darts of a back and a front quarter; the side seams take what they leave.

    `half`: hip less waist of half a skirt, mm; `depth` of the hip below the waist, mm;
    `back_share` of what the darts take goes to the back, while there is room.  Where there is
    nothing to take in, there are no darts.
    """
    side = min(SIDE_SHARE * half, 2.0 * GENTLE * depth)
    take = max(half - side, 0.0)
    to_front = min(max((1.0 - back_share) * take, take - back.room), front.room)
    to_back = min(take - to_front, back.room)
    return back.darts(to_back), front.darts(to_front)
