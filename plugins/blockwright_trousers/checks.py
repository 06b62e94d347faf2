"""What is refused: slips of the tape and contradictions first, then what nobody could sew."""

from __future__ import annotations

import math

from blockwright import Draft, FairSpline, LengthOption, distance
from blockwright_trousers import limits
from blockwright_trousers.body import RESULTS
from blockwright_trousers.fork import Crotch, Fork, HipLine, Levels
from blockwright_trousers.leg import BACK, FRONT, Leg, bends, curving, ways
from blockwright_trousers.limits import shares_of
from blockwright_trousers.seat import USUAL_RISE, Rise, Seat
from blockwright_trousers.waist import Closed, Sewn

# Heel and instep pass at four thirds of the ankle girth; common practice, no source.
HEM_OVER_ANKLE = 4.0 / 3.0
# Hips under nine tenths of the waist, more than so far below the crotch line, or a knee nearer to
# it, are slips of the tape; mm.
LEAST_HIP = 0.9
LOWEST_HIP = 50.0
LEAST_THIGH = 50.0
# A rise taken sitting is some 3 cm more than the difference of the two legs, standing, and an
# outside leg goes over the hip: they may disagree by so much, mm.  Common practice, no source.
MOST_DISAGREEING = 50.0
# A leg leans out so much at most below the knee, and under the fork, degrees: more is a flared
# block.
WIDEST_FLARE, WIDEST_THIGH = 15.0, 5.0


# -- before anything is drawn --------------------------------------------------------------------


def check(d: Draft, block: Seat) -> None:
    """Refuse what contradicts itself before anything is drawn."""
    d.require(
        4.0 * block.hip_quarter >= LEAST_HIP * block.waist,
        "the hip with its ease is less than nine tenths of the waist",
        check=("hip_ease", "hip_girth", "waist_girth"),
    )
    for result, given in RESULTS.items():
        free = any(block.values[name] is None for name in (result, *given))
        d.require(free, f"{result} results from {' and '.join(given)}", do="leave one out")
    if block.inside_leg is not None:
        says = "outside_leg_length less inside_leg_height, less body_rise,"
        apart = block.outside_leg - block.inside_leg - block.rise
        hang = ("outside_leg_length", "inside_leg_height", "body_rise")
        d.within(says, apart, -MOST_DISAGREEING, MOST_DISAGREEING, check=hang)
    at = block.levels(Rise(USUAL_RISE))
    _check_result(d, block, Seat.crotch_ease, -at.crotch - block.rise)
    check_levels(d, block, at)
    _check_leg(d, block, at)
    half = block.front_net + block.back_net
    says = f"the front waist, of {d.say(half)} with the back,"
    hang = ("front_waist", "waist_ease", "waist_girth")
    d.within(says, block.front_net, *shares_of(half, limits.FRONT_OF_WAIST), check=hang)


def check_levels(d: Draft, block: Seat, at: Levels) -> None:
    """Refuse lines in an order no body has."""
    d.require(
        block.waist_to_hip <= LOWEST_HIP - at.crotch,
        f"the hips lie more than {d.say(LOWEST_HIP)} below the crotch line at {d.say(-at.crotch)}",
        check=(*limits.DEPTHS, "waist_to_hip", "body_rise"),
    )
    d.require(
        at.hem < at.knee < at.crotch - LEAST_THIGH,
        f"the knee at {d.say(-at.knee)} below the waist (outside_leg_length less knee_height) is "
        f"not between the crotch line at {d.say(-at.crotch)} and the hem at {d.say(-at.hem)}",
        check=("leg_length", *limits.DEPTHS, "knee_height", "outside_leg_length", "body_rise"),
    )


def _check_leg(d: Draft, block: Seat, at: Levels) -> None:
    """Refuse a knee narrower than the body's or wider than the leg above, and such a hem.

    The foot passes through the hem, and the leg below the knee is no funnel.
    """
    hem, knee = block.hem_around, block.knee_around
    hang: limits.Names = ("knee_width", "knee_girth", "thigh_girth")
    d.within("the leg at the knee", knee, block.knee_girth, math.inf, check=hang)
    widest = 4.0 * (block.upright + block.usual_fork + _spread(at.crotch - at.knee, WIDEST_THIGH))
    hang = ("crease_to_fork", "front_fork", *hang, "hip_girth")
    says = "the leg at the knee, to be no wider than at the fork,"
    d.within(says, knee, -math.inf, widest, check=hang)
    least = HEM_OVER_ANKLE * block.ankle
    says = "the hem, to let the foot through at four thirds of the ankle,"
    d.within(says, hem, least, math.inf, check=("hem_width", "knee_width", "ankle_girth"))
    more = 4.0 * _spread(at.knee - at.hem, WIDEST_FLARE)
    says = (
        f"the hem, {d.say(at.knee - at.hem)} below a knee of {d.say(knee)}, to lean in or out by "
        f"{WIDEST_FLARE:.0f}° at most,"
    )
    hang = ("hem_width", "knee_width", "leg_length", *limits.OF_LEG)
    d.within(says, hem, max(knee - more, least), knee + more, check=hang)


def _spread(drop: float, degrees: float) -> float:
    """How far a seam that leans so much goes out on its way down, mm."""
    return drop * math.tan(math.radians(degrees))


# -- what results from options that are given ----------------------------------------------------


def check_results(d: Draft, block: Seat, fork: Fork, hips: tuple[HipLine, HipLine]) -> None:
    """Refuse what results from options given if it could not have been asked for."""
    cloth = 2.0 * (hips[0].cloth + hips[1].cloth)
    _check_result(d, block, Seat.seat_ease, fork.length - block.total_crotch)
    _check_result(d, block, Seat.hip_ease, cloth - block.hip)
    _check_result(d, block, Seat.inside_leg_stretch, fork.stretch)


def _check_result(d: Draft, block: Seat, option: LengthOption[float | None], value: float) -> None:
    """Refuse what results from options given, `value` mm, beyond the range it may be set in."""
    given = RESULTS[option.name]
    make = "make" if len(given) > 1 else "makes"
    d.require(
        not block.results(option) or option.low <= value <= option.high,
        f"{' and '.join(given)} as given {make} {option.name} {d.say(value)}; it may be "
        f"{d.say(option.low)} to {d.say(option.high)}",
        do=f"give other values, or leave {given[-1]} out",
    )


# -- what is found part by part ------------------------------------------------------------------


def check_fork(d: Draft, block: Seat, fork: Fork) -> None:
    """Refuse forks, seat and inside legs that nobody could sew."""
    front, back = fork.front.width, fork.back.width
    says = f"the back fork beside a front fork of {d.say(front)}"
    d.within(says, back, *shares_of(front, limits.BACK_TO_FRONT_FORK), check=limits.FORK)
    allowed = shares_of(block.hip, limits.FORKS_OF_HIP)
    d.within("the length of both forks", front + back, *allowed, check=limits.FORK)
    for crotch, hang in (
        (fork.back, ("seat_slant", *limits.FORK)),
        (fork.front, ("front_in", "front_rise", *limits.OF_WAIST)),
    ):
        says = f"the slope of the {crotch.half.name} waist from side to centre"
        d.within(says, _slope(crotch), *limits.SLOPES[crotch.half.name], check=hang, angle=True)
    for half, leg in ((FRONT, fork.front_leg), (BACK, fork.back_leg)):
        lean = max(math.degrees(math.atan2(-half.reach(way), -way.y)) for way in ways(leg))
        says = f"the lean of the {half.name} inside leg below the fork"
        hang = (f"{half.name}_hollow", *limits.INSIDE_LEG)
        d.within(says, lean, -math.inf, limits.WIDEST_LEAN, check=hang, angle=True)
    curved = fork.curved
    says, tip = "the corner at the tip of the front fork", _tip(fork, curved)
    d.within(says, tip, *limits.TIPS, check=limits.TIP, angle=True)
    _check_bends(d, fork, curving(curved))


def _check_bends(d: Draft, fork: Fork, seat: list[float]) -> None:
    """Refuse inside legs and crotch curves that are not hollow throughout."""
    parted = 2 * len(fork.front.mark) + 2
    for what, turning, hang in (
        ("front inside leg", curving(fork.front_leg), ("front_hollow", *limits.INSIDE_LEG)),
        ("front crotch curve", seat[:parted], limits.CROTCH),
        ("back inside leg", curving(fork.back_leg), ("back_hollow", *limits.INSIDE_LEG)),
        ("back crotch curve", seat[parted:], limits.CROTCH),
    ):
        d.require(not bends(turning), f"the {what} would change from hollow to full", check=hang)
    says = "the crotch curve would change from hollow to full at the fork"
    d.require(not bends(seat), says, check=limits.SEAT_SEAM)


def check_hips(d: Draft, hips: tuple[HipLine, HipLine]) -> None:
    """Refuse a front or back that takes too much of the hip, and a crease at one side."""
    cloth = hips[0].cloth + hips[1].cloth
    says = f"the front at the hip line, of {d.say(cloth)} with the back,"
    hang = (*limits.HIPS, *limits.FORKS, "hip_girth")
    d.within(says, hips[0].cloth, *shares_of(cloth, limits.FRONT_OF_HIP), check=hang)
    for hip in hips:
        half = hip.crotch.half
        inner, outer = half.reach(hip.crotch.tip), -half.reach(hip.side)
        says = f"the {half.name} crease, toward the side from the middle of hip and fork,"
        allowed = shares_of(inner + outer, limits.CREASE_OFF[half.name])
        hang = (*limits.FORKS, *limits.HIPS, "hip_girth")
        d.within(says, (inner - outer) / 2.0, *allowed, check=hang)


def check_sides(d: Draft, sewn: Sewn) -> None:
    """Refuse side seams that do not lie on each other, and darts below the hip line."""
    says = "how much more the front side seam leans in above the hip than the back one"
    apart = _lean_in(sewn.front) - _lean_in(sewn.back)
    d.within(says, apart, *limits.SIDES_APART, check=limits.WAIST, angle=True)
    for closed in (sewn.front, sewn.back):
        lean = max(abs(math.degrees(math.atan2(way.x, -way.y))) for way in ways(closed.side_seam))
        says = f"the lean of the {closed.top.half.name} side seam above the knee"
        hang = (*limits.WAIST, *limits.LEGS)
        d.within(says, lean, 0.0, limits.WIDEST_SIDE, check=hang, angle=True)
    for closed in (sewn.front, sewn.back):
        name = closed.top.half.name
        d.require(
            all(apex.y >= closed.top.hip.y for apex in closed.apexes),
            f"a {name} dart ends below the hip line",
            check=(f"{name}_dart_length", f"{name}_darts", *limits.WAIST),
        )


def check_lengths(d: Draft, at: Levels, leg: Leg, fork: Fork, sewn: Sewn) -> None:
    """Refuse seams that wander; `leg`: the front one."""
    lower = distance(leg.place("knee", 1.0), leg.place("hem", 1.0))
    for name, upper, plumb in (
        ("side seam", sewn.front.side_seam.length, -at.hem),
        ("inside leg", fork.front_leg.length, at.crotch - at.hem),
    ):
        says, more = f"how much longer the {name} is than the leg it runs down", upper + lower
        d.within(says, more - plumb, 0.0, limits.LONGER_THAN_PLUMB, check=limits.LENGTHS)


def check_thigh(d: Draft, block: Seat, front: float, back: float) -> None:
    """Refuse a leg too narrow or too wide for the thigh, or with more of it in front."""
    whole = front + back
    least, most = block.thigh + block.thigh_ease, block.thigh + limits.MOST_THIGH_EASE
    hang: limits.Names = ("thigh_ease", "hip_ease", *limits.FORKS, *limits.HIPS)
    hang = (*hang, "thigh_girth", "hip_girth")
    d.within("the leg below the fork, round the thigh,", whole, least, most, check=hang)
    says = f"the front below the fork, of {d.say(whole)} with the back,"
    hang = (*limits.FORKS, *limits.HIPS, *limits.INSIDE, *limits.OF_SEAT)
    d.within(says, front, *shares_of(whole, limits.FRONT_OF_THIGH), check=hang)


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
    up = closed.side - closed.top.hip
    return math.degrees(math.atan2(closed.top.half.reach(up), up.y))
