"""A mark on the draft: a point with its name and the rule that put it there."""

from __future__ import annotations

from dataclasses import dataclass

from blockwright.curves.point import Point


@dataclass(frozen=True, slots=True)
class Mark(Point):
    """A named point of the construction; works as a Point everywhere.

    `rule` says in the cutter's words how it was found: 'a quarter of the guide down, 16 mm out'.
    `piece` is the piece it lies on, which a block of one piece need not say.
    """

    name: str
    rule: str
    piece: str = ""
