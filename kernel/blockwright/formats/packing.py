"""Rectangles packed on a strip of paper, upright and apart; mm, hung from the top, y down."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from blockwright.errors import InputError

# Sums of lengths come out this much too long at most, mm.
ROUNDING = 1e-9


class Size(NamedTuple):
    """Width and height."""

    width: float
    height: float


class UpperLeft(NamedTuple):
    """Upper left corner of a rectangle: from the left, and down from the top."""

    x: float
    down: float


class _Taken(NamedTuple):
    """Paper that a rectangle takes, the gap to its right and below it included."""

    left: float
    top: float
    right: float
    bottom: float

    def meets(self, other: _Taken) -> bool:
        return (
            self.left < other.right - ROUNDING
            and other.left < self.right - ROUNDING
            and self.top < other.bottom - ROUNDING
            and other.top < self.bottom - ROUNDING
        )


def pack(sizes: Sequence[Size], order: Iterable[int], width: float, gap: float) -> list[UpperLeft]:
    """A corner for each rectangle, in the order of `sizes`, no two nearer than `gap`.

    One after the other in the given order, each as high up as it goes and there as far left: at
    the side or below of one that lies already.  Raises InputError when one is wider than the
    strip.
    """
    widest = max(size.width for size in sizes)
    if widest > width + ROUNDING:
        raise InputError.coded("paper.narrow", widest=round(widest, 1), width=round(width, 1))
    corners = [UpperLeft(0.0, 0.0)] * len(sizes)
    taken: list[_Taken] = []
    for i in order:
        tops = sorted({0.0, *(each.bottom for each in taken)})
        lefts = sorted({0.0, *(each.right for each in taken)})
        here = next(
            place
            for top in tops
            for left in lefts
            if left + sizes[i].width <= width + ROUNDING
            for place in [_at(left, top, sizes[i], gap)]
            if not any(place.meets(each) for each in taken)
        )
        taken.append(here)
        corners[i] = UpperLeft(here.left, here.top)
    return corners


def orders(sizes: Sequence[Size]) -> list[list[int]]:
    """Orders worth trying: the tallest, the widest and the largest first, and as they come."""
    each = range(len(sizes))
    found = [
        sorted(each, key=lambda i: -sizes[i].height),
        sorted(each, key=lambda i: -sizes[i].width),
        sorted(each, key=lambda i: -sizes[i].width * sizes[i].height),
        list(each),
    ]
    return [order for i, order in enumerate(found) if order not in found[:i]]


def _at(left: float, top: float, size: Size, gap: float) -> _Taken:
    return _Taken(left, top, left + size.width + gap, top + size.height + gap)
