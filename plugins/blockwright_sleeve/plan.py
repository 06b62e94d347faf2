"""The cap that was found: the three values that agree, and what they give."""

from __future__ import annotations

from dataclasses import dataclass

from blockwright import Note, Point
from blockwright_sleeve.cap import CROWN, Cap


@dataclass(frozen=True, slots=True)
class CapPlan:
    """The three values that must agree, mm, the cap they give, and which of them was found."""

    bicep: float
    height: float
    ease: float
    cap: Cap
    found: str

    @property
    def crown(self) -> Point:
        """The crown of the cap."""
        return self.cap.places[CROWN]

    @property
    def side_notes(self) -> list[Note]:
        """'front' and 'back' above the bicep line."""
        at = Point(self.bicep * 0.3, self.height * 0.12)
        return [Note(at, "front"), Note(Point(-at.x, at.y), "back")]
