"""A mark on the draft: a point with its name and the rule that put it there."""

from __future__ import annotations

from dataclasses import dataclass

from blockwright.curves.point import Point
from blockwright.pattern.ref import Ref


@dataclass(frozen=True, slots=True)
class Mark(Point):
    """A named point of the construction, mm; works as a Point everywhere.

    `rule` says in the cutter's words how it was found: 'a quarter of the guide down, 16 mm out'.
    `piece` is the piece it lies on, which a block of one piece need not say, and `block` the key
    of its block, which the draft writes there.  Adding and the like give bare points, and a mark
    equals only a mark of the same place, name, rule, piece and block.

    Example:
        >>> from blockwright import Mark, Point
        >>> crown = Mark(0.0, 150.0, "crown", "the cap height above the bicep line")
        >>> crown + Point(0, 10)
        Point(x=0.0, y=160.0)
        >>> crown == Point(0.0, 150.0)
        False
    """

    name: str
    rule: str
    piece: str = ""
    block: str = ""

    @property
    def ref(self) -> Ref:
        """Its identity."""
        return Ref(self.block, self.name)

    def on(self, piece: Ref) -> bool:
        """Whether it lies on the piece; one that names no block or piece lies on any."""
        return self.block in ("", piece.block) and self.piece in ("", piece.name)
