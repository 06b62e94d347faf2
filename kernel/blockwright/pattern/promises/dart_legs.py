"""What every dart is held to: legs of one length."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING, ClassVar

from blockwright.curves.point import distance
from blockwright.pattern import tolerance
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.promise import Carried, Promise
from blockwright.pattern.ref import Ref
from blockwright.pattern.result import Result

if TYPE_CHECKING:
    from blockwright.pattern.lineage import Lineage


@dataclass(frozen=True, slots=True)
class DartLegs(Promise):
    """Both legs of a dart are equally long, so that it closes.  `ref` is the dart."""

    kind: ClassVar[str] = "dart-legs"
    piece: Ref

    def measure(self, pattern: Pattern) -> tuple[Result, ...]:
        """Difference of the legs, from the apex to where the edges at the mouth really end."""
        piece = pattern.piece(self.piece)
        dart = piece.dart(self.ref.name)
        start, end = piece.dart_legs(dart)
        apart = distance(dart.apex, start) - distance(dart.apex, end)
        return (
            Result(
                "dart-legs", self.ref, "length", (0.0, 0.0), apart, tolerance.LENGTH,
                {"piece": self.piece},
            ),
        )  # fmt: skip

    def carried(self, lineage: Lineage) -> Carried:
        """The same: it is made anew for the darts there are, and never kept."""
        return Carried((self,))
