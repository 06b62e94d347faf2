"""What both bodices refuse by name: measurements that do not go together."""

from __future__ import annotations

from collections.abc import Sequence

from blockwright import Draft, Edge, InputError
from blockwright_bodice.bodice import Bodice

# The finished shoulder may come out so much shorter than the body's, mm, or longer by as much and
# the ease of the back: a roomy shoulder drops.
SHOULDER_EASE = 40.0
# A width across may come out so much narrower or wider than measured, with its ease, mm.
ACROSS_EASE = (-30.0, 40.0)
# Under this the armhole, seen from the side, is narrower than any arm, and at 22 mm it begins to
# wave; mm from the across points.
LEAST_HOLLOW = 25.0
# A side seam shorter than this leaves no bodice between armhole and waist, mm.
LEAST_SIDE = 50.0
# Limits are printed so far inside, mm: what is printed does, however it is rounded.
PRINTED_INSIDE = 1.0


def check_shoulder(d: Draft, bodice: Bodice, length: float) -> None:
    """InputError for a finished shoulder that the measured one does not go with."""
    longest = SHOULDER_EASE + bodice.back_ease
    if not -SHOULDER_EASE <= length - bodice.shoulder_length <= longest:
        raise InputError(
            f"{bodice.key}: shoulder_length {d.say(bodice.shoulder_length)} does not go with "
            f"across_back_width {d.say(bodice.across_back)} and across_front_width "
            f"{d.say(bodice.across_front)}, which ask for {d.say(length)}; measure them again"
        )


def check_across(
    d: Draft, bodice: Bodice, name: str, other: str, found: float, follows: float
) -> None:
    """InputError for a width across that comes out too unlike the measured one.

    `other`: the other width; `follows`: how much of a change of the measured width the finished
    one takes on.
    """
    measured = bodice.values[name]
    narrower, wider = ACROSS_EASE
    if found - measured > wider:
        limit = measured + (found - wider - measured) / (1.0 - follows) + PRINTED_INSIDE
        would = f"{d.say(limit)} or more"
    elif found - measured < narrower:
        limit = measured + (found - narrower - measured) / (1.0 - follows) - PRINTED_INSIDE
        would = f"{d.say(limit)} or less"
    else:
        return
    raise InputError(
        f"{bodice.key}: {name} {d.say(measured)} does not go with {other} "
        f"{d.say(bodice.values[other])}, shoulder_length {d.say(bodice.shoulder_length)} and "
        f"neck_base_girth {d.say(bodice.neck_base)}: with these {would} would; measure them again"
    )


def check_depth(d: Draft, bodice: Bodice, scye_depth: float, scye_ease: float) -> None:
    """InputError when the armhole leaves no side seam above the waist."""
    deepest = bodice.back_waist - scye_ease - LEAST_SIDE
    if scye_depth > deepest:
        raise InputError(
            f"{bodice.key}: scye_depth {d.say(scye_depth)} is too deep for "
            f"back_neck_point_to_waist {d.say(bodice.back_waist)}: "
            f"{d.say(deepest - PRINTED_INSIDE)} or less would do; measure both again, or set "
            "scye_ease"
        )


def check_armhole(d: Draft, bodice: Bodice, hollow: float, name: str, girth: float) -> None:
    """InputError when the widths across leave the girth too little for the arm.

    `hollow`: how far the armhole reaches past the across points, front and back alike.
    """
    if hollow < LEAST_HOLLOW:
        short = 4.0 * (LEAST_HOLLOW - hollow) + PRINTED_INSIDE
        raise InputError(
            f"{bodice.key}: {name} {d.say(girth)} leaves no room for the arm beside "
            f"across_back_width {d.say(bodice.across_back)} and across_front_width "
            f"{d.say(bodice.across_front)}: with these it must be {d.say(girth + short)} or "
            "more; measure them again or give more ease"
        )


def check_round_arm(d: Draft, bodice: Bodice, armhole: Sequence[Edge]) -> None:
    """InputError for an armhole, front and back, that does not go round the arm."""
    round_arm = sum(edge.curve.length for edge in armhole)
    for name, girth in bodice.arm_girths:
        if round_arm < girth:
            # An armhole deeper by so much is longer by about twice that.
            deeper = (girth - round_arm) / 2.0
            raise InputError(
                f"{bodice.key}: the armhole comes out {d.say(round_arm)}, less than {name} "
                f"{d.say(girth)}; check scye_depth, across_back_width and {name}, or set "
                f"scye_ease some {d.say(deeper)} higher"
            )
