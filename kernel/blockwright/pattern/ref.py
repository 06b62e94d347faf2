"""What promises speak of: identities, marks on the draft and corners of pieces."""

from __future__ import annotations

from dataclasses import dataclass
from typing import NamedTuple

from blockwright.curves.point import Point


class Ref(NamedTuple):
    """The identity of a piece, an edge, a mark or a promise.

    `block` is the key of its block and `name` its name there.  The identity is the same in a block
    drafted alone and in a set, and every change keeps it.  `Pattern.label` gives the name that is
    printed.

    Example:
        >>> from blockwright import Ref
        >>> Ref("bodice.fitted", "front side").name
        'front side'
    """

    block: str
    name: str


@dataclass(frozen=True, slots=True)
class Mark(Point):
    """A named point of the construction, mm.  It works as a Point everywhere.

    `rule` says in the cutter's words how the point is found, such as 'a quarter of the guide down,
    16 mm out'.  `piece` names the piece it lies on; a block of one piece may leave it out.  `block`
    is the key of its block, which the draft fills in.  Adding to a mark gives a bare point.  A mark
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
        """Whether it lies on the piece.  A mark with no block or piece lies on any."""
        return self.block in ("", piece.block) and self.piece in ("", piece.name)


@dataclass(frozen=True, slots=True)
class Joint:
    """The corner where edge `first` ends and edge `second` begins, over a dart or not."""

    first: Ref
    second: Ref


@dataclass(frozen=True, slots=True)
class DartJoint:
    """The place of a dart in an edge, `along` mm from its start.

    It stays there when the dart is moved elsewhere.
    """

    edge: Ref
    dart: str
    along: float


AnyJoint = Joint | DartJoint
