"""The cap of a sleeve: marks square to two guide lines, one fair curve through them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from blockwright import FairSpline, Mark, Point, fair_spline, solve

QUARTERS = (0.25, 0.5, 0.75)
PLACES = ("upper", "middle", "lower")


@dataclass(frozen=True, slots=True)
class Half:
    """How far the marks of one half of the cap lie off its guide, crown to underarm, mm.

    Positive is outward (full), negative inward (hollow).
    """

    upper: float
    middle: float
    lower: float

    @property
    def offsets(self) -> tuple[float, float, float]:
        """The three in order from the crown down."""
        return self.upper, self.middle, self.lower


@dataclass(frozen=True, slots=True)
class Cap:
    """A cap on its bicep line, which runs along y = 0 with its middle at the origin.

    `marks` run from the front underarm over the crown to the back underarm, and so does the
    fair curve through them.
    """

    marks: tuple[Mark, ...]
    spline: FairSpline

    @property
    def crown(self) -> Mark:
        """The top of the cap."""
        return self.marks[4]


def lay_cap(
    bicep: float, height: float, longer_back: float, lean: float, front: Half, back: Half
) -> Cap:
    """Lay the marks of a cap.

    `bicep`, `height`: width of the bicep line and height of the crown over it, mm.
    `longer_back`: how much longer the back guide is than the front one, so that the crown comes
    where the shoulder seam does.  `lean`: how far the underarm seams lean inward going down,
    radians; the cap starts and ends square to them, so that it runs on smoothly when the
    underarm seam is sewn.
    Source of the construction: guides divided in four with marks square to them are common
    practice; front hollowed more than back, a published lesson (see tests).
    """
    half = bicep / 2.0
    # Points whose distances to both underarm points differ by so much lie on a hyperbola.
    across = longer_back / 2.0
    crown_x = across * math.sqrt(1.0 + height * height / (half * half - across * across))
    crown = Mark(crown_x, height, "crown", "cap height above the bicep line")
    under_front = Mark(half, 0.0, "front underarm", "half the bicep width to the front")
    under_back = Mark(-half, 0.0, "back underarm", "half the bicep width to the back")
    marks = (
        under_front,
        *reversed(_half_marks("front", crown, under_front, front, outward=1.0)),
        crown,
        *_half_marks("back", crown, under_back, back, outward=-1.0),
        under_back,
    )
    start = Point(-math.cos(lean), math.sin(lean))
    return Cap(marks, fair_spline(marks, start, Point(start.x, -start.y)))


def _half_marks(side: str, crown: Mark, underarm: Mark, half: Half, outward: float) -> list[Mark]:
    guide = underarm - crown
    square = guide.unit().left() * outward
    made = []
    for quarter, place, off in zip(QUARTERS, PLACES, half.offsets, strict=True):
        at = crown + guide * quarter + square * off
        way = "out" if off >= 0.0 else "in"
        rule = f"{quarter:g} down the {side} guide, {abs(off):.1f} mm {way}"
        made.append(Mark(at.x, at.y, f"{side} {place} cap", rule))
    return made


@dataclass(frozen=True, slots=True)
class Taper:
    """The plain tapered sleeve under a bicep line: seams square to a hem that is an arc.

    `lean`: of each seam inward going down, radians.  `seam`: length of a seam, mm.
    """

    lean: float
    seam: float


def taper(bicep: float, hem: float, drop: float) -> Taper:
    """The taper from a bicep width to a hem width, `drop` mm below at the middle.

    The sleeve is a sector of a ring: the seams point to its centre, the hem is an arc of it, so
    that hem and seams are square and the hem is exactly as long as asked.
    """
    lean = solve(
        lambda angle: bicep * _angle_over_tangent(angle) - 2.0 * angle * drop, hem, -1.4, 1.4
    )
    # The ends of an arc narrower than the bicep hang below its middle.
    hang = hem / 2.0 * math.sin(lean / 2.0) * _sine_over_angle(lean / 2.0)
    return Taper(lean, (drop + hang) / math.cos(lean))


def _angle_over_tangent(angle: float) -> float:
    return angle / math.tan(angle) if angle else 1.0


def _sine_over_angle(angle: float) -> float:
    return math.sin(angle) / angle if angle else 1.0
