"""What is refused by name when a part is found: what nobody could sew."""

from __future__ import annotations

import math

from blockwright import Draft, FairSpline, InputError, Piece, Point, distance
from blockwright_trousers.draw import HipLine, Levels
from blockwright_trousers.fork import Crotch, Fork
from blockwright_trousers.half import BACK, FRONT, Leg, at_level, bends, curving, ways
from blockwright_trousers.limits import (
    BACK_TO_FRONT_FORK,
    CREASE_OFF,
    FORKS_OF_HIP,
    FRONT_OF_HIP,
    FRONT_OF_THIGH,
    LONGER_THAN_PLUMB,
    MOST_THIGH_EASE,
    SIDES_APART,
    SLOPES,
    TIPS,
    WIDEST_LEAN,
    WIDEST_SIDE,
    shares_of,
)
from blockwright_trousers.names import (
    CURVES,
    DARTS,
    DEPTHS,
    FORKS,
    HIPS,
    INSIDE,
    LEGS,
    OF_LEG,
    OF_SEAT,
    OF_WAIST,
    SEAT,
    WAISTS,
)
from blockwright_trousers.refusal import Look, look_at, refusal
from blockwright_trousers.seat import Seat
from blockwright_trousers.waist import Closed, Sewn


def check_fork(d: Draft, block: Seat, fork: Fork) -> None:
    """Refuse forks, seat and inside legs that nobody could sew."""
    front, back = _fork_width(fork.front), _fork_width(fork.back)
    curved = fork.curved
    options = (*FORKS, "seat_ease", *DEPTHS)
    looks = [
        Look(f"the back fork beside a front fork of {d.say(front)}", back,
             shares_of(front, BACK_TO_FRONT_FORK), options, OF_SEAT),
        Look("the length of both forks", front + back, shares_of(block.hip, FORKS_OF_HIP),
             options, OF_SEAT),
        Look("the slope of the back waist from side to centre", _slope(fork.back),
             SLOPES["back"], ("seat_slant", *options), OF_SEAT, angle=True),
        Look("the slope of the front waist from side to centre", _slope(fork.front),
             SLOPES["front"], ("front_in", "front_rise"), OF_WAIST, angle=True),
    ]  # fmt: skip
    legs = ((FRONT, fork.front_leg), (BACK, fork.back_leg))
    for half, leg in legs:
        lean = max(math.degrees(math.atan2(-half.reach(way), -way.y)) for way in ways(leg))
        looks.append(
            Look(f"the lean of the {half.name} inside leg below the fork", lean,
                 (-math.inf, WIDEST_LEAN), (f"{half.name}_hollow", *INSIDE, *options),
                 (*OF_SEAT, *OF_LEG), angle=True)
        )  # fmt: skip
    looks.append(
        Look("the corner at the tip of the front fork", _tip(fork, curved), TIPS,
             (*CURVES, *INSIDE, *options), (*OF_SEAT, *OF_LEG), angle=True)
    )  # fmt: skip
    look_at(d, block, looks)
    _check_bends(d, block, fork, curved)


def _check_bends(d: Draft, block: Seat, fork: Fork, curved: FairSpline) -> None:
    """Refuse inside legs and crotch curves that are not hollow throughout."""
    seat = curving(curved)
    parted = 2 * len(fork.front.mark) + 2
    for half, leg, crotch in (
        ("front", fork.front_leg, seat[:parted]),
        ("back", fork.back_leg, seat[parted:]),
    ):
        for what, turning, options, measurements in (
            ("inside leg", curving(leg), (f"{half}_hollow", *INSIDE, *FORKS), OF_LEG),
            ("crotch curve", crotch, (*CURVES, *SEAT, *INSIDE), OF_SEAT),
        ):
            if bends(turning):
                says = f"the {half} {what} would change from hollow to full"
                raise refusal(d, block, says, options, measurements)
    if bends(seat):
        says = "the crotch curve would change from hollow to full at the fork"
        raise refusal(d, block, says, (*SEAT, *INSIDE), OF_SEAT)


def check_hips(d: Draft, block: Seat, fork: Fork, hips: tuple[HipLine, HipLine]) -> None:
    """Refuse a front or back that takes too much of the hip, and a crease at one side."""
    cloth = hips[0].cloth + hips[1].cloth
    says = f"the front at the hip line, of {d.say(cloth)} with the back,"
    allowed = shares_of(cloth, FRONT_OF_HIP)
    looks = [Look(says, hips[0].cloth, allowed, (*HIPS, *FORKS), ("hip_girth",))]
    for hip, crotch in zip(hips, (fork.front, fork.back), strict=True):
        half = crotch.half
        inner, outer = half.reach(crotch.tip), -half.reach(hip.side)
        says = f"the {half.name} crease, toward the side from the middle of hip and fork,"
        allowed = shares_of(inner + outer, CREASE_OFF[half.name])
        off = (inner - outer) / 2.0
        looks.append(Look(says, off, allowed, (*FORKS, *HIPS), ("hip_girth",)))
    look_at(d, block, looks)


def check_sides(d: Draft, block: Seat, sewn: Sewn) -> None:
    """Refuse side seams that do not lie on each other, and darts below the hip line."""
    apart = _lean_in(sewn.front) - _lean_in(sewn.back)
    says = "how much more the front side seam leans in above the hip than the back one"
    options = (*WAISTS, *HIPS, *DARTS)
    looks = [Look(says, apart, SIDES_APART, options, OF_WAIST, angle=True)]
    for closed in (sewn.front, sewn.back):
        half = closed.top.half
        lean = max(abs(math.degrees(math.atan2(way.x, -way.y))) for way in ways(closed.side_seam))
        says = f"the lean of the {half.name} side seam above the knee"
        allowed = (0.0, WIDEST_SIDE)
        looks.append(Look(says, lean, allowed, (*options, *LEGS), OF_WAIST, angle=True))
    look_at(d, block, looks)
    for closed in (sewn.front, sewn.back):
        if min((apex.y for apex in closed.apexes), default=0.0) < closed.top.hip.y:
            name = closed.top.half.name
            options = (f"{name}_dart_length", f"{name}_darts", *WAISTS)
            says = f"a {name} dart ends below the hip line"
            raise refusal(d, block, says, options, OF_WAIST)


def check_lengths(d: Draft, block: Seat, at: Levels, leg: Leg, fork: Fork, sewn: Sewn) -> None:
    """Refuse seams that wander; `leg`: the front one."""
    lower = distance(leg.place("knee", 1.0), leg.place("hem", 1.0))
    for name, upper, plumb in (
        ("side seam", sewn.front.side_seam.length, -at.hem),
        ("inside leg", fork.front_leg.length, at.crotch - at.hem),
    ):
        says = f"how much longer the {name} is than the leg it runs down"
        options = (*HIPS, *WAISTS, *FORKS, *INSIDE)
        allowed = (0.0, LONGER_THAN_PLUMB)
        look_at(d, block, [Look(says, upper + lower - plumb, allowed, options, OF_LEG)])


def check_thigh(d: Draft, block: Seat, front: float, back: float) -> None:
    """Refuse a leg too narrow or too wide for the thigh, or with more of it in front."""
    if front + back < block.thigh + block.thigh_ease:
        raise InputError(
            f"{block.key}: the leg is {d.say(front + back)} wide below the fork, less than "
            f"thigh_girth {d.say(block.thigh)} and thigh_ease {d.say(block.thigh_ease)}; measure "
            "thigh_girth and hip_girth again, or set hip_ease or thigh_ease"
        )
    if front + back > block.thigh + MOST_THIGH_EASE:
        says = (
            f"the leg is {d.say(front + back)} wide below the fork, more than "
            f"{d.say(MOST_THIGH_EASE)} over the thigh"
        )
        raise refusal(d, block, says, (*HIPS, *FORKS), ("thigh_girth", "hip_girth"))
    says = f"the front below the fork, of {d.say(front + back)} with the back,"
    allowed = shares_of(front + back, FRONT_OF_THIGH)
    look_at(d, block, [Look(says, front, allowed, (*FORKS, *HIPS, *INSIDE), OF_SEAT)])


def thigh(piece: Piece, y: float) -> float:
    """Width of the leg of a half at a height below its fork, mm."""
    inside, side = (
        at_level(piece.edge(f"{piece.name} {seam}").curve, y) for seam in ("inside leg", "side")
    )
    return distance(inside, side)


def _fork_width(crotch: Crotch) -> float:
    return crotch.half.reach(crotch.tip) - crotch.half.reach(crotch.start)


def _slope(crotch: Crotch) -> float:
    """How steeply the waist, square to the centre, falls to the side there, degrees."""
    square = crotch.square
    return math.degrees(math.atan2(-square.y, -crotch.half.reach(square)))


def _tip(fork: Fork, curved: FairSpline) -> float:
    """The corner at the tip of the front fork, degrees, for the curved part of the seat seam."""
    down = ways(curved)[2 * len(fork.front.mark) + 1]
    leg = ways(fork.front_leg)[0]
    return math.degrees(math.atan2((-down).cross(leg), (-down).dot(leg)))


def _lean_in(closed: Closed) -> float:
    """How much a side seam leans in from hip to waist, degrees."""
    half = closed.top.half
    up: Point = closed.side - closed.top.hip
    return math.degrees(math.atan2(half.reach(up), up.y))
