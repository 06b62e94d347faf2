"""The frame of the fitted bodice, its waist and bust line: bust dart and waist darts solved."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache

from blockwright import (
    Affine,
    Curve,
    Draft,
    Edge,
    LaidLine,
    Part,
    Point,
    lay_line,
    line,
    polyline,
    roof_between,
    solve,
)
from blockwright_bodice.bodice import FittedBody
from blockwright_bodice.half import TO_RIGHT, Half, Shoulder, half_way
from blockwright_bodice.lines import (
    check_armhole,
    check_depth,
    finished_shoulder,
    plain_waist,
    tell_shoulder,
)

# Of what the waist is narrower than the bust the side seams take this share, then the back darts
# and the front ones: the front has what a published block gives it (from memory: 29 % in front,
# 46 % about the side, 25 % in the back and at its centre); with one dart a quarter the back one
# takes some of the side's.
SIDE_SHARE, BACK_SHARE = 0.35, 0.36
# A narrower dart is not worth sewing: the side seam takes all.  Common practice, no source.
LEAST_DART = 8.0
# Between these angles, radians, a bust dart is worth sewing and can be pressed flat.
BUST_DART = (math.radians(3.0), math.radians(40.0))
# Where the side seams hang outward the armhole, square to them, dips under its own ends, by a
# thirtieth of what they hang out at most (measured on 430 such drafts); the bust line runs this
# share of it lower, or the armhole would cut it short.
UNDER_DIP = 0.1
# The back waist dart ends this far below the bust line, which is measured whole above it.
BELOW_BUST_LINE = 10.0
# Where on the shoulder, from the neck, a bust dart opens.
SHOULDER_DART_AT = 0.5
# The intake of a bust dart is told so far from its point, mm.
TEN_CM = 100.0
# Where on the side seam the bust dart opens, from the underarm down, as a share of the seam.
SIDE_DART_AT = 0.3
# A waist dart wider than this share of its length makes the waist scallop and will not press flat;
# common practice, no source.
WIDEST_DART = 0.45
# The bust point lies at least this far inside the front armhole, mm: room for the bust dart.
LEAST_BESIDE = 25.0
# What the length of the front hangs on.
NECK_TO_WAIST = ("side_neck_point_to_waist", "back_neck_point_to_waist")


@dataclass(frozen=True, slots=True)
class WaistDart:
    """Its point, the height of the waist, and what it takes in there, mm."""

    apex: Point
    waist: float
    intake: float

    @property
    def start(self) -> Point:
        """Left end of its mouth."""
        return Point(self.apex.x - self.intake / 2.0, self.waist)

    @property
    def end(self) -> Point:
        """Right end of its mouth."""
        return Point(self.apex.x + self.intake / 2.0, self.waist)

    @property
    def closing(self) -> Affine:
        """Lays the right leg on the left one."""
        return Affine.turn(
            -2.0 * math.atan2(self.intake / 2.0, self.apex.y - self.waist), self.apex
        )

    def roof(self, waist: Sequence[Edge], pressed: str) -> Curve:
        """Its mouth between two waist edges."""
        return roof_between(self.apex, waist[0].curve, waist[1].curve, pressed)


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
            return plain_waist(self.front_side, self.back_side)
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


def solved_frame(d: Draft, bodice: FittedBody) -> Plan:
    """The frame whose waist is as wide as asked."""
    framed = cache(lambda suppression: frame(d, bodice, suppression))
    suppression = d.solve(
        "waist suppression of half the body",
        lambda suppression: framed(suppression).waist().length,
        target=(bodice.waist + bodice.waist_ease) / 2.0, low=bodice.narrower - 30.0,
        high=bodice.narrower + 60.0, near=(bodice.narrower, -1.0),
        so_that="the waist is the waist girth and its ease", goal="half waist",
        check=("bust_girth", "waist_girth", "side_neck_point_to_bust_point", *NECK_TO_WAIST),
    )  # fmt: skip
    found = framed(suppression)
    for side, dart in zip(("back", "front"), found.waist_darts or (), strict=False):
        _check_waist_dart(d, side, dart)
    tell_shoulder(d, bodice, found.front.shoulder)
    d.found(
        "intake of the bust dart 10 cm from its point",
        2.0 * TEN_CM * math.sin(found.bust_dart / 2.0),
        "the front armhole is as much shallower than the back one as asked",
    )
    return found


def frame(d: Draft, bodice: FittedBody, suppression: float) -> Plan:
    """The frame when the half waist is so much narrower than the half underarm line.

    Refuses a body that leaves no room for a bust dart or an armhole.
    """
    check_depth(d, bodice)
    underarm, length = bodice.underarm, finished_shoulder(d, bodice)
    back_shoulder = bodice.back_shoulder_seam(length)
    bust_point, front_shoulder = _upper_front(d, bodice, length)
    point = _dart_point(bodice, bust_point, front_shoulder)
    share = _side_share(bodice)
    at_side = suppression * share / 2.0
    # The bust line goes through the bust point, or under the armhole where that is lower.
    level = min(bust_point.y, underarm - UNDER_DIP * max(-at_side, 0.0))
    # The bust is measured there; the side seam has leant in a little above it.
    leant = (underarm - level) / (underarm + bodice.back_waist)
    half = (bodice.bust + bodice.bust_ease) / 2.0 + 2.0 * at_side * leant
    back_across = half_way(back_shoulder, underarm)
    front_underarm = (
        front_shoulder.tip.y - (back_shoulder.tip.y - underarm) + bodice.shallower_front
    )
    front_across = half_way(front_shoulder, front_underarm)
    across_back, across_front = back_across.x, -front_across.x
    beside = -point.x
    below = underarm - point.y

    def hollow(angle: float) -> float:
        """How far the armhole reaches past the across points, front and back alike."""
        cos, sin = math.cos(angle), math.sin(angle)
        reach = (half - across_back - beside) * cos - below * sin
        return (beside + reach - across_front) / (1.0 + cos)

    def rise(angle: float) -> float:
        side = half - across_back - hollow(angle) - beside
        return point.y + side * math.sin(angle) + below * math.cos(angle)

    _check_bust(d, bodice, across_front + bust_point.x, front_underarm, *map(rise, BUST_DART))
    angle = solve(rise, front_underarm, *BUST_DART, near=(0.35, 0.8 * (half / 2.0 - beside)))
    check_armhole(d, bodice, hollow(angle), "bust_girth")
    width = across_back + hollow(angle)
    turn = Affine.turn(-angle, point)
    low = -bodice.back_waist
    front_side = Point(width - half, underarm), Point(width - half + at_side, low)
    back_side = Point(width, underarm), Point(width - at_side, low)
    front = Half(front_shoulder, front_across, turn(front_side[0]), turn(front_side[1]))
    back = Half(back_shoulder, back_across, *back_side)
    darts = _waist_darts(bodice, suppression * (1.0 - share), across_back, bust_point, level)
    return Plan(
        front, back, bust_point, point, turn, front_side, back_side, angle, level, darts
    )  # fmt: skip


def _side_share(bodice: FittedBody) -> float:
    """Share of the suppression taken at the side: all where darts would be too narrow."""
    narrowest = (1.0 - SIDE_SHARE - BACK_SHARE) * bodice.narrower
    return SIDE_SHARE if narrowest >= LEAST_DART else 1.0


def _waist_darts(
    bodice: FittedBody, intake: float, across_back: float, bust_point: Point, level: float
) -> tuple[WaistDart, WaistDart] | None:
    """Back and front waist dart that take in so much between them, if anything.

    `level`: of the bust line, which is measured whole above both.
    """
    if not intake:
        return None
    at_back = intake * BACK_SHARE / (1.0 - SIDE_SHARE)
    waist, top = -bodice.back_waist, min(bust_point.y - bodice.bust_dart_back, level)
    return (
        WaistDart(Point(across_back / 2.0, level - BELOW_BUST_LINE), waist, at_back),
        WaistDart(Point(bust_point.x, top), waist, intake - at_back),
    )


def _upper_front(d: Draft, bodice: FittedBody, length: float) -> tuple[Point, Shoulder]:
    """Bust point and front shoulder, from the waist up."""
    beside = bodice.bust_point_width / 2.0
    height = bodice.neck_to_waist - bodice.neck_to_bust - bodice.back_waist
    inward = beside - bodice.front_neck_width
    d.require(
        abs(inward) < bodice.neck_to_bust,
        "the bust points are too far apart for the neck, or too near to it",
        check=("bust_point_width", "side_neck_point_to_bust_point", "neck_base_girth"),
    )
    rise = math.sqrt(bodice.neck_to_bust**2 - inward**2)
    return Point(-beside, height), bodice.front_shoulder_seam(length, height + rise)


def _dart_point(bodice: FittedBody, bust_point: Point, shoulder: Shoulder) -> Point:
    """Where the bust dart ends: short of the bust point, on the way from where it opens."""
    if bodice.bust_dart == "side":
        return bust_point - Point(bodice.bust_dart_back, 0.0)
    opens = shoulder.neck.between(shoulder.tip, SHOULDER_DART_AT)
    return bust_point + (opens - bust_point).unit() * bodice.bust_dart_back


def _check_bust(
    d: Draft, bodice: FittedBody, side: float, wanted: float, least: float, most: float
) -> None:
    """Refuse a bust point too near the armhole, and a front that no bust dart makes long enough.

    `side`: how far the bust point is from the armhole; `wanted`: height of the front underarm, and
    between what the bust dart can make it; mm.
    """
    widest = bodice.bust_point_width - 2.0 * (LEAST_BESIDE - side)
    d.require(
        side >= LEAST_BESIDE,
        "bust_point_width leaves no room beside the bust point under the across front: "
        f"{d.say(widest)} or less would do",
        check=("bust_point_width", "across_front_width"),
    )
    shortest, longest = sorted(bodice.neck_to_waist + end - wanted for end in (least, most))
    d.require(
        least <= wanted <= most,
        "side_neck_point_to_waist leaves no bust dart that can be sewn: with this "
        f"back_neck_point_to_waist about {d.say(shortest)} to {d.say(longest)} would do",
        check=("shallower_front", *NECK_TO_WAIST),
    )


def _check_waist_dart(d: Draft, side: str, dart: WaistDart) -> None:
    """Refuse a waist dart too wide for its length."""
    most = WIDEST_DART * (dart.apex.y - dart.waist)
    d.require(
        dart.intake <= most,
        f"the {side} waist dart would take in {d.say(dart.intake)}, too much for its length; "
        f"{d.say(most)} would do",
        check=("bust_ease", "waist_ease", "bust_girth", "waist_girth"),
    )
