"""Where everything on the fitted bodice lies: the bust dart and the waist suppression, solved."""

from __future__ import annotations

import math
from functools import cache

from blockwright import Affine, Draft, GeometryError, Point, solve
from blockwright_bodice.checks import check_armhole, check_depth
from blockwright_bodice.finished_shoulder import finished_shoulder, tell_shoulder
from blockwright_bodice.fitted_body import FittedBody
from blockwright_bodice.fitted_checks import check_bust_point, check_front, check_waist_dart
from blockwright_bodice.fitted_plan import Plan
from blockwright_bodice.half import Half, half_way
from blockwright_bodice.shoulder import Shoulder
from blockwright_bodice.waist_dart import WaistDart

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


def solved_frame(d: Draft, bodice: FittedBody) -> Plan:
    """The frame whose waist is as wide as asked."""
    framed = cache(lambda suppression: frame(d, bodice, suppression))
    suppression = d.solve(
        "waist suppression of half the body",
        lambda suppression: framed(suppression).waist().length,
        target=(bodice.waist + bodice.waist_ease) / 2.0,
        low=bodice.narrower - 30.0,
        high=bodice.narrower + 60.0,
        near=(bodice.narrower, -1.0),
        so_that="the waist is the waist girth and its ease",
        goal="half waist",
        advice="check bust_girth, waist_girth and the lengths from the neck to bust and waist",
    )
    found = framed(suppression)
    for side, dart in zip(("back", "front"), found.waist_darts or (), strict=False):
        check_waist_dart(d, bodice, side, dart)
    tell_shoulder(d, found.front.shoulder)
    d.found(
        "intake of the bust dart 10 cm from its point",
        2.0 * TEN_CM * math.sin(found.bust_dart / 2.0),
        "the front armhole is as much shallower than the back one as asked",
    )
    return found


def frame(d: Draft, bodice: FittedBody, suppression: float) -> Plan:
    """The frame when the half waist is so much narrower than the half underarm line.

    Raises InputError where the body leaves no room for a bust dart or an armhole.
    """
    check_depth(d, bodice, bodice.scye_depth, bodice.scye_ease)
    underarm = -(bodice.scye_depth + bodice.scye_ease)
    length = finished_shoulder(d, bodice, underarm)
    back_shoulder = bodice.back_shoulder_seam(length)
    bust_point, front_shoulder = _upper_front(bodice, length)
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

    check_bust_point(d, bodice, across_front + bust_point.x)
    check_front(d, bodice, front_underarm, rise(BUST_DART[0]), rise(BUST_DART[1]))
    angle = solve(rise, front_underarm, *BUST_DART, near=(0.35, 0.8 * (half / 2.0 - beside)))
    check_armhole(d, bodice, hollow(angle), "bust_girth", bodice.bust)
    width = across_back + hollow(angle)
    turn = Affine.turn(-angle, point)
    low = -bodice.back_waist
    front_side = Point(width - half, underarm), Point(width - half + at_side, low)
    back_side = Point(width, underarm), Point(width - at_side, low)
    front = Half(
        front_shoulder, front_across, turn(front_side[0]),
        turn.way(front_side[1] - front_side[0]).unit(),
    )  # fmt: skip
    back = Half(
        back_shoulder, back_across, back_side[0],
        (back_side[1] - back_side[0]).unit(),
    )  # fmt: skip
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


def _upper_front(bodice: FittedBody, length: float) -> tuple[Point, Shoulder]:
    """Bust point and front shoulder, from the waist up."""
    beside = bodice.bust_point_width / 2.0
    height = bodice.neck_to_waist - bodice.neck_to_bust - bodice.back_waist
    inward = beside - bodice.front_neck_width
    if not abs(inward) < bodice.neck_to_bust:
        raise GeometryError("the bust points are too far apart for the neck")
    rise = math.sqrt(bodice.neck_to_bust**2 - inward**2)
    return Point(-beside, height), bodice.front_shoulder_seam(length, height + rise)


def _dart_point(bodice: FittedBody, bust_point: Point, shoulder: Shoulder) -> Point:
    """Where the bust dart ends: short of the bust point, on the way from where it opens."""
    if bodice.bust_dart == "side":
        return bust_point - Point(bodice.bust_dart_back, 0.0)
    opens = shoulder.neck.between(shoulder.tip, SHOULDER_DART_AT)
    return bust_point + (opens - bust_point).unit() * bodice.bust_dart_back
