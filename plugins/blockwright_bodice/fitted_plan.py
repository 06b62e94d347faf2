"""The frame of the fitted bodice, and the lines that lie on it: its waist and its bust line."""

from __future__ import annotations

from dataclasses import dataclass

from blockwright import Affine, Curve, LaidLine, Part, Point, lay_line, line, polyline
from blockwright_bodice.half import TO_RIGHT, Half
from blockwright_bodice.waist_dart import WaistDart

# Where on the side seam the bust dart opens, from the underarm down, as a share of the seam.
SIDE_DART_AT = 0.3


@dataclass(frozen=True, slots=True)
class Plan:
    """The frame of the bodice for one waist suppression; mm.

    The front is drawn twice: its side as it lies with the bust dart open at the side seam
    (`front_side`, below the dart), and turned up about the bust point as it lies with the dart
    closed (`front`, above it).
    """

    front: Half
    back: Half
    bust_point: Point
    dart_point: Point
    turn: Affine  # lays the open side on the closed one
    front_side: tuple[Point, Point]  # underarm and waist, dart open
    back_side: tuple[Point, Point]
    bust_dart: float  # radians
    bust_level: float
    waist_darts: tuple[WaistDart, WaistDart] | None  # back and front

    @property
    def side_leg(self) -> Point:
        """Where the lower leg of the bust dart meets the side seam."""
        return self.front_side[0].between(self.front_side[1], SIDE_DART_AT)

    # -- the waist -----------------------------------------------------------------------------

    def waist(self) -> LaidLine:
        """The waist from centre back to centre front, over closed darts and side seam."""
        (back_under, back_side), (front_under, front_side) = self.back_side, self.front_side
        nape = pit = Point(0.0, back_side.y)
        if not self.waist_darts:
            lay = Affine.laying(front_side, front_under, back_side, back_under)
            parts = [Part((nape, back_side)), Part((front_side, pit), lay)]
            return lay_line(parts, TO_RIGHT, lay.way(TO_RIGHT))
        back, front = self.waist_darts
        turned = back.closing
        lay = Affine.laying(front_side, front_under, turned(back_side), turned(back_under))
        last = front.closing.then(lay)
        parts = [
            Part((nape, back.start)),
            Part((back.end, back_side), turned),
            Part((front_side, front.start), lay),
            Part((front.end, pit), last),
        ]
        return lay_line(parts, TO_RIGHT, last.way(TO_RIGHT))

    # -- the bust line -------------------------------------------------------------------------

    @property
    def back_bust_line(self) -> Curve:
        """The bust line of the back."""
        return line(Point(0.0, self.bust_level), _at_level(self.back_side, self.bust_level))

    @property
    def front_bust_line(self) -> Curve:
        """The bust line of the front with the bust dart open at the shoulder."""
        return line(Point(0.0, self.bust_level), _at_level(self.front_side, self.bust_level))

    @property
    def closed_bust_line(self) -> Curve:
        """The bust line of the front with the bust dart at the side: it goes over the dart."""
        level, straight = self.bust_level, self.front_bust_line
        point, leg = self.dart_point, self.side_leg
        if level <= leg.y:  # it passes below the dart
            return straight
        start, turned = straight.start, self.turn(straight.end)
        if level == point.y:
            return polyline([start, point, turned])
        met = point.between(leg, (point.y - level) / (point.y - leg.y))
        return polyline([start, met, self.turn(met), turned])


def _at_level(side: tuple[Point, Point], level: float) -> Point:
    """The place on a straight side seam at that height."""
    top, low = side
    return top.between(low, (top.y - level) / (top.y - low.y))
