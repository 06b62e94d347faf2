"""The arm of a fitted sleeve: what hangs below its bicep line, bent forward by an elbow dart."""

from __future__ import annotations

import math
from dataclasses import dataclass

from blockwright import GeometryError, Point, distance
from blockwright_sleeve.cap import Taper

# The elbow's point lies a quarter round the arm from the underarm seam; a dart reaching a little
# past it bends the forearm forward by some eight degrees, as a hanging arm does.  Common practice
# is a quarter to a half, no source.
DART_REACH = 0.3


@dataclass(frozen=True, slots=True)
class Arm:
    """The sleeve below the bicep line: its corners, and the way its seams run at each.

    The front seam is an arc from the underarm to the wrist, as long as the plain tapered seam.
    The back seam, elbow dart closed, is its mirror image, so the two agree whatever the dart;
    opening the dart about its point swings the forearm forward.
    """

    elbow: Point  # on the front seam
    wrist: Point
    back_elbow: Point  # upper end of the dart's mouth
    apex: Point
    opening: float  # of the dart, radians; also what the back seam leans more than the front one
    seam: float  # of the front, mm
    down_wrist: Point  # way of the front seam at the wrist
    turns: tuple[float, float]  # of the front seam, above and below the elbow, to the left

    def opened(self, place: Point) -> Point:
        """Where a place of the front seam below the elbow comes on the back, dart open."""
        return _mirrored(place).turned(self.opening, self.apex)

    def opened_way(self, way: Point) -> Point:
        """Which way the back seam runs where the front one runs `way`."""
        return _mirrored(way).turned(self.opening)

    @property
    def hem_lean(self) -> float:
        """Angle of the hem to its chord at both ends, radians.

        Both ends lean alike, by half of what the seams lean to each other: the corners add up to
        a straight angle, so that the hem is one smooth line when the seam is sewn.
        """
        back, front = self.opened_way(self.down_wrist), self.down_wrist
        return (back.angle - front.angle) / 2.0

    @property
    def middle(self) -> tuple[Point, Point]:
        """The middles of the elbow line and of the hem."""
        back, way = self.opened(self.wrist), self.wrist - self.opened(self.wrist)
        rise = math.tan(self.hem_lean / 2.0) / 2.0
        return Point(0.0, self.elbow.y), back + way / 2.0 + way.left() * rise

    @property
    def hem_length(self) -> float:
        """Length of the hem, an arc over its chord."""
        lean = self.hem_lean
        chord = distance(self.opened(self.wrist), self.wrist)
        return chord * lean / math.sin(lean) if lean else chord


@dataclass(frozen=True, slots=True)
class Bending:
    """A tapered sleeve that is to bend at the elbow.

    `underarm`: of its front seam; `below`: its taper; `upper`: seam from there to the elbow;
    `dart`: what the elbow dart takes in; `leg`: how long it is if that is given, mm.
    """

    underarm: Point
    below: Taper
    upper: float
    dart: float
    leg: float | None

    @property
    def reach(self) -> float:
        """The wrist swings forward by so much at most, or back: half a radian."""
        return self.below.seam / 2.0

    @property
    def likely(self) -> float:
        """About how far it swings."""
        leg = self._leg(self.underarm.x - self.upper * math.sin(self.below.lean))
        return self.dart / 2.0 / leg * self.below.seam if leg else 0.0

    def _leg(self, half: float) -> float:
        """Length of the dart on a sleeve of that half width at the elbow."""
        return 2.0 * DART_REACH * half if self.leg is None else self.leg

    def arm(self, swing: float) -> Arm:
        """The arm whose wrist swings forward by so much, mm along the seam's arc."""
        lean, seam = self.below.lean, self.below.seam
        down, turn = Point(-math.sin(lean), -math.cos(lean)), swing / seam
        to_elbow = turn * self.upper / seam
        elbow = self.underarm + _arc_step(down, self.upper, to_elbow)
        back_elbow = _mirrored(elbow)
        leg = self._leg(elbow.x)
        if leg < self.dart / 2.0:
            raise GeometryError("the sleeve is too narrow at the elbow for its dart")
        return Arm(
            elbow=elbow,
            wrist=self.underarm + _arc_step(down, seam, turn),
            back_elbow=back_elbow,
            apex=back_elbow + Point(leg, 0.0),
            opening=2.0 * math.asin(self.dart / 2.0 / leg),
            seam=seam,
            down_wrist=down.turned(turn),
            turns=(to_elbow, turn - to_elbow),
        )


def _mirrored(place: Point) -> Point:
    return Point(-place.x, place.y)


def _arc_step(way: Point, length: float, turn: float) -> Point:
    """From start to end of an arc that starts in direction `way` and turns left by `turn`."""
    half = turn / 2.0
    return way.turned(half) * (length * (math.sin(half) / half if half else 1.0))
