"""Find several values at once that make as many amounts nought."""

from __future__ import annotations

import math

Row = tuple[float, ...]


class Broyden:
    """Steps that make several amounts nought at once, learning how each step changed them.

    To begin with, a step is taken to change its own amount one for one and no other.
    Source: C. G. Broyden, *A class of methods for solving nonlinear simultaneous equations*,
    Mathematics of Computation 19 (1965) 577-593.
    """

    def __init__(self) -> None:
        self._learnt: list[tuple[Row, Row]] = []
        self._last: tuple[Row, Row] | None = None

    def step(self, short: Row) -> Row:
        """The next step, for amounts that fall short by so much."""
        if self._last is not None:
            step, before = self._last
            gained = tuple(old - new for old, new in zip(before, short, strict=True))
            guess = self._times(gained)
            scale = _dot(step, guess)
            if scale:
                left = tuple((s - g) / scale for s, g in zip(step, guess, strict=True))
                self._learnt.append((left, self._times_left(step)))
        taken = self._times(short)
        self._last = taken, short
        return taken

    def afresh(self) -> None:
        """Begin again from elsewhere with what was learnt."""
        self._last = None

    def _times(self, row: Row) -> Row:
        """The inverse as learnt so far, times a column."""
        made = row
        for left, right in self._learnt:
            share = _dot(right, row)
            made = tuple(m + share * part for m, part in zip(made, left, strict=True))
        return made

    def _times_left(self, row: Row) -> Row:
        """A row times the inverse as learnt so far."""
        made = row
        for left, right in self._learnt:
            share = _dot(row, left)
            made = tuple(m + share * part for m, part in zip(made, right, strict=True))
        return made


def _dot(a: Row, b: Row) -> float:
    return math.fsum(x * y for x, y in zip(a, b, strict=True))
