"""What is refused by name before anything is drawn: slips of the tape, what contradicts itself."""

from __future__ import annotations

import math

from blockwright import Draft, InputError
from blockwright_trousers.draw import Levels
from blockwright_trousers.limits import FRONT_OF_WAIST, shares_of
from blockwright_trousers.names import DEPTHS, OF_LEG, Names
from blockwright_trousers.refusal import Look, look_at, refusal
from blockwright_trousers.results import RESULTS, check_result
from blockwright_trousers.seat import USUAL_RISE, Rise, Seat
from blockwright_trousers.widths import KNEE_OVER_HEM

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


def check(d: Draft, block: Seat) -> None:
    """Refuse what contradicts itself before anything is drawn."""
    if 4.0 * block.hip_quarter < LEAST_HIP * block.waist:
        raise InputError(
            f"{block.key}: hip_girth {d.say(block.hip)} with its ease is less than nine tenths "
            f"of waist_girth {d.say(block.waist)}; measure both again, or set hip_ease"
        )
    for result, given in RESULTS.items():
        if all(block.values[name] is not None for name in (result, *given)):
            raise InputError(
                f"{block.key}: {result} results from {' and '.join(given)}; leave one out"
            )
    _check_rise(d, block)
    at = block.levels(Rise(USUAL_RISE))
    check_result(d, block, Seat.crotch_ease, -at.crotch - block.rise)
    check_levels(d, block, at)
    _check_knee(d, block, at)
    _check_hem(d, block, at)
    half = block.front_net + block.back_net
    options: Names = ("front_waist", "waist_ease")
    says = f"the front waist, of {d.say(half)} with the back,"
    look = Look(says, block.front_net, shares_of(half, FRONT_OF_WAIST), options, ("waist_girth",))
    look_at(d, block, [look])


def _check_rise(d: Draft, block: Seat) -> None:
    """Refuse legs and rise that do not agree."""
    if block.inside_leg is None:
        return
    legs = block.outside_leg - block.inside_leg
    if abs(legs - block.rise) > MOST_DISAGREEING:
        raise InputError(
            f"{block.key}: outside_leg_length {d.say(block.outside_leg)} less inside_leg_height "
            f"{d.say(block.inside_leg)} is {d.say(legs)}, and body_rise is {d.say(block.rise)}; "
            f"they may differ by {d.say(MOST_DISAGREEING)}: measure all three again"
        )


def check_levels(d: Draft, block: Seat, at: Levels) -> None:
    """Refuse lines in an order no body has."""
    if block.waist_to_hip > LOWEST_HIP - at.crotch:
        says = (
            f"the hips lie more than {d.say(LOWEST_HIP)} below the crotch line at "
            f"{d.say(-at.crotch)}"
        )
        raise refusal(d, block, says, DEPTHS, ("waist_to_hip", "body_rise"))
    if not at.hem < at.knee < at.crotch - LEAST_THIGH:
        says = (
            f"the knee at {d.say(-at.knee)} below the waist (outside_leg_length less "
            f"knee_height) is not between the crotch line at {d.say(-at.crotch)} and the hem "
            f"at {d.say(-at.hem)}"
        )
        measurements = ("knee_height", "outside_leg_length", "body_rise")
        raise refusal(d, block, says, ("leg_length", *DEPTHS), measurements)


def _check_knee(d: Draft, block: Seat, at: Levels) -> None:
    """Refuse a knee narrower than the body's, or wider than the leg above it."""
    if block.knee_around < block.knee_girth and block.knee_width is None:
        raise InputError(
            f"{block.key}: thigh_girth {d.say(block.thigh)} and knee_girth "
            f"{d.say(block.knee_girth)} make the knee {d.say(block.knee_around)} wide, less than "
            "knee_girth; measure both again, or set knee_width"
        )
    if block.knee_around < block.knee_girth:
        raise InputError(
            f"{block.key}: a knee_width of {d.say(block.knee_around)} is less than knee_girth "
            f"{d.say(block.knee_girth)}; give a wider one, or leave it out"
        )
    widest = 4.0 * (block.upright + block.usual_fork + _spread(at.crotch - at.knee, WIDEST_THIGH))
    if block.knee_around > widest:
        says = (
            f"a knee_width of {d.say(block.knee_around)} is wider than the leg at its fork; it "
            f"may be {d.say(widest)}"
        )
        options = ("knee_width", "crease_to_fork", "front_fork")
        raise refusal(d, block, says, options, ("hip_girth", "thigh_girth", "knee_girth"))


def _check_hem(d: Draft, block: Seat, at: Levels) -> None:
    """Refuse a hem the foot cannot pass, or one that flares or tapers like a funnel."""
    least = HEM_OVER_ANKLE * block.ankle
    width = f"hem_width {d.say(block.hem_around)}"
    if block.hem_width is None:
        width += f" (knee_width less {d.say(KNEE_OVER_HEM)})"
    if block.hem_around < least:
        raise InputError(
            f"{block.key}: the foot does not pass through {width}: with ankle_girth "
            f"{d.say(block.ankle)} it needs {d.say(least)}, four thirds of it; give a wider "
            "hem_width, or measure ankle_girth again"
        )
    more = 4.0 * _spread(at.knee - at.hem, WIDEST_FLARE)
    if abs(block.hem_around - block.knee_around) > more:
        low, high = max(block.knee_around - more, least), block.knee_around + more
        shin = d.say(at.knee - at.hem)
        says = (
            f"{width} against a knee_width of {d.say(block.knee_around)}, {shin} above, leans "
            f"by more than {WIDEST_FLARE:.0f}°; it may be {d.say(low)} to {d.say(high)}"
        )
        raise refusal(d, block, says, ("hem_width", "knee_width", "leg_length"), OF_LEG)


def _spread(drop: float, degrees: float) -> float:
    """How far a seam that leans so much goes out on its way down, mm."""
    return drop * math.tan(math.radians(degrees))
