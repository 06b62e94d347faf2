"""The cap of a sleeve: marks square to two guide lines, one fair curve through them."""

from __future__ import annotations

import math
from dataclasses import dataclass

from blockwright import FairSpline, GeometryError, Mark, Note, Point, fair_spline, solve

QUARTERS = (0.25, 0.5, 0.75)
PLACES = ("upper", "middle", "lower")
# Where the crown usually lies, forward of the sleeve's middle: a share of the cap height.
USUAL_CROWN = 0.05
# How much of its usual fall an upper mark keeps.  The middle mark moves with the guide and turns
# the crown the other way by half as much, so two thirds leave the crown as it was, within half a
# degree for halves that differ by 4 cm either way (measured on flat and high caps).
KEPT_FALL = 2.0 / 3.0
# Which of the places is the crown.
CROWN = 4
# The marks off their guides as shares of the cap height, when not given: the values of the
# classic misses' draft in inches (back 5/8, 3/16, 3/8; front 3/4, 3/16, 1/2) on the cap height
# of 5 3/4 that they were drawn for.  Common practice, no source.  In proportion to the height,
# the cap keeps its character from a flat shirt cap to a high one.  The lower mark hollows the cap
# towards the line it ends along; on a tapered sleeve that line falls outward, so the share is
# taken of the crown's height over it, or the curve would turn back before the underarm.
FRONT_SHARES = (0.130, 0.033, -0.087)
BACK_SHARES = (0.109, 0.033, -0.065)

Offsets = tuple[float | None, float | None, float | None]
"""How far the marks of one half of the cap lie off its guide, crown to underarm, mm.

Positive is outward (full), negative inward (hollow); None takes its share.
"""


@dataclass(frozen=True, slots=True)
class Cap:
    """A cap on its bicep line, which runs along y = 0 with its middle at the origin.

    `places` run from the front underarm over the crown to the back underarm, and so does the
    fair curve through them; `front` and `back` are the offsets of the marks from the crown down.
    """

    places: tuple[Point, ...]
    spline: FairSpline
    front: tuple[float, ...]
    back: tuple[float, ...]

    @property
    def marks(self) -> tuple[Mark, ...]:
        """The places as marks, each with its rule."""
        front, back = (
            [_said(side, *each) for each in zip(QUARTERS, PLACES, offsets, strict=True)]
            for side, offsets in (("front", self.front), ("back", self.back))
        )
        said = [
            ("front underarm", "half the bicep width to the front"),
            *reversed(front),
            ("crown", "cap height above the bicep line"),
            *back,
            ("back underarm", "half the bicep width to the back"),
        ]
        return tuple(
            Mark(at.x, at.y, name, rule) for at, (name, rule) in zip(self.places, said, strict=True)
        )


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


def _said(side: str, quarter: float, place: str, off: float) -> tuple[str, str]:
    way = "out" if off >= 0.0 else "in"
    return f"{side} {place} cap", f"{quarter:g} down the {side} guide, {abs(off):.1f} mm {way}"


def crown_of(bicep: float, height: float, longer_back: float) -> Point:
    """The crown, `height` mm over a bicep line `bicep` mm wide.

    `longer_back`: how much longer the back guide is than the front one, so that the crown comes
    where the shoulder seam does.  Raises GeometryError when that is more than the bicep.
    """
    half = bicep / 2.0
    # Points whose distances to both underarm points differ by so much lie on a hyperbola.
    across = longer_back / 2.0
    if abs(across) >= half:
        raise GeometryError(
            f"the halves of the armhole differ by {2.0 * abs(across):.0f} mm, more than the bicep "
            f"width of {bicep:.0f} mm"
        )
    crown_x = across * math.sqrt(1.0 + height * height / (half * half - across * across))
    return Point(crown_x, height)


def lay_cap(bicep: float, crown: Point, lean: float, front: Offsets, back: Offsets) -> Cap:
    """Lay the marks of a cap.

    `bicep`: width of the bicep line, mm.  `lean`: how far the underarm seams lean inward going
    down, radians; the cap starts and ends square to them, so that it runs on smoothly when the
    underarm seam is sewn.
    Source of the construction: guides divided in four with marks square to them are common
    practice; front hollowed more than back, a published lesson (see tests).
    """
    half = bicep / 2.0
    under_front, under_back = Point(half, 0.0), Point(-half, 0.0)
    front_offsets = _offsets(front, FRONT_SHARES, crown, under_front, lean)
    back_offsets = _offsets(back, BACK_SHARES, crown, under_back, lean)
    places = (
        under_front,
        *reversed(_off_guide(crown, under_front, front_offsets)),
        crown,
        *_off_guide(crown, under_back, back_offsets),
        under_back,
    )
    start = Point(-math.cos(lean), math.sin(lean))
    spline = fair_spline(places, start, Point(start.x, -start.y))
    return Cap(places, spline, front_offsets, back_offsets)


def _offsets(
    given: Offsets, shares: tuple[float, ...], crown: Point, underarm: Point, lean: float
) -> tuple[float, ...]:
    """The offsets given, or their shares of the crown's height."""
    upper, middle, lower = shares
    # Height over the line along which the cap ends, falling outward by `lean`.
    over_end = crown.y * math.cos(lean) - abs(underarm.x - crown.x) * math.sin(lean)
    usual = (_level_upper(upper, crown, underarm), middle * crown.y, lower * over_end)
    return tuple(share if off is None else off for off, share in zip(given, usual, strict=True))


def _level_upper(share: float, crown: Point, underarm: Point) -> float:
    """Offset of the upper mark: its share of the height, but that the crown stays level.

    The shares suit a crown a little to the front, as a usual armhole puts it.  Where one half is
    longer or shorter than that, its guide falls from the crown less or more steeply, and the crown
    would tilt to the longer half; so the mark moves to where the line from crown to mark keeps most
    of the fall it has usually.
    """
    usual_across = abs(underarm.x) - math.copysign(USUAL_CROWN * crown.y, underarm.x)
    usual = math.atan2(crown.y, usual_across)
    fall = usual - math.atan(share * math.sin(usual) / QUARTERS[0])
    across = abs(underarm.x - crown.x)
    guide = math.hypot(across, crown.y)
    keeping = QUARTERS[0] * guide * math.tan(math.atan2(crown.y, across) - fall)
    return share * crown.y + KEPT_FALL * (keeping - share * crown.y)


def _off_guide(crown: Point, underarm: Point, offsets: tuple[float, ...]) -> list[Point]:
    """Places at the quarters of a guide, from the crown down, square off it."""
    guide = underarm - crown
    # Outward is to the left of the way down the front guide, to the right of the back one.
    outward = guide.unit().left() * math.copysign(1.0, guide.x)
    return [
        crown + guide * quarter + outward * off
        for quarter, off in zip(QUARTERS, offsets, strict=True)
    ]


@dataclass(frozen=True, slots=True)
class Taper:
    """The plain tapered sleeve under a bicep line: seams square to a hem that is an arc.

    `lean`: of each seam inward going down, radians.  `seam`: length of a seam, mm.
    """

    lean: float
    seam: float

    def hang(self, x: float, hem: float) -> float:
        """How far the hem lies lower `x` mm beside its middle, mm, for its width."""
        curving = 2.0 * self.lean / hem
        return x * x * curving / (1.0 + math.sqrt(max(1.0 - (x * curving) ** 2, 0.0)))


def taper(bicep: float, hem: float, drop: float) -> Taper:
    """The taper from a bicep width to a hem width, `drop` mm below at the middle.

    The sleeve is a sector of a ring: the seams point to its centre, the hem is an arc of it, so
    that hem and seams are square and the hem is exactly as long as asked.
    """
    if drop <= 0.0:
        raise GeometryError("the sleeve ends above its bicep line: it is shorter than its cap")
    # Seams that lean in by ever more make ever less of a hem.  Those that flare make more of it
    # only up to about three times the drop over the bicep; beyond, the same hem comes once more.
    low, high = (0.0, 1.4) if hem < bicep else (-min(3.0 * drop / bicep, 1.4), 0.0)
    near = ((bicep - hem) / (2.0 * drop), -2.0 * drop)
    lean = solve(lambda angle: flared(bicep, -angle, drop), hem, low, high, near=near)
    # The ends of an arc narrower than the bicep hang below its middle.
    half = lean / 2.0
    hang = hem / 2.0 * math.sin(half) * (math.sin(half) / half if half else 1.0)
    return Taper(lean, (drop + hang) / math.cos(lean))


def flared(bicep: float, flare: float, drop: float) -> float:
    """The hem width, mm, of seams that lean outward by `flare` radians, `drop` mm lower."""
    return bicep * (flare / math.tan(flare) if flare else 1.0) + 2.0 * flare * drop
