"""What every sleeve refuses by name: options at odds, a cap or a hem that nobody could sew."""

from __future__ import annotations

import math
from collections.abc import Callable

from blockwright import Draft, InputError
from blockwright_sleeve.advice import heights_for
from blockwright_sleeve.body import SleeveBody
from blockwright_sleeve.cap import flared
from blockwright_sleeve.limits import CAP_SHARES, MOST_OF_LENGTH, PRINTED_INSIDE, cap_heights
from blockwright_sleeve.plan import CapPlan

# Radians: seams that lean outward more than 15 degrees make the ends of the cap dip by more than
# a millimetre or so, which is no longer a line that a bicep can be measured on.
MOST_FLARE = math.radians(15.0)
# Radians: how much steeper the guides of the cap are than the line square to a tapered seam, along
# which the cap ends.  With less than a degree nothing is left to hollow (measured on 8000 random
# bodies: the cap bends the wrong way under 0.6 of a degree, never over it).
LEAST_RISE = math.radians(1.0)
# A smaller half of an armhole than a third of it leaves its half of the cap too steep to be drawn.
LEAST_HALF = 1.0 / 3.0

# -- before anything is found ------------------------------------------------------------------


def check_given(d: Draft, sleeve: SleeveBody) -> None:
    """Refuse what contradicts itself before a cap is looked for."""
    refuse_together(sleeve, "bicep_width", "bicep_ease")
    for width in ("bicep_width", "bicep_ease"):
        refuse_together(sleeve, width, "cap_height", "cap_ease", then=" and it is solved")
    _check_halves(d, sleeve)
    if sleeve.given_bicep is not None:
        _check_bicep(d, sleeve, sleeve.given_bicep, lambda: "give a wider bicep_width")


def refuse_together(sleeve: SleeveBody, *names: str, then: str = "") -> None:
    """InputError if all of these options are given; `then` says what leaving one out does."""
    if all(sleeve.values[name] is not None for name in names):
        every = "both" if len(names) == 2 else "all"
        raise InputError(
            f"{sleeve.key}: {', '.join(names[:-1])} and {names[-1]} are {every} given; "
            f"leave one out{then}"
        )


def _check_halves(d: Draft, sleeve: SleeveBody) -> None:
    front, back = sleeve.front_armhole, sleeve.back_armhole
    if min(front, back) < LEAST_HALF * (front + back):
        raise InputError(
            f"{sleeve.key}: front_armhole_length {d.say(front)} and back_armhole_length "
            f"{d.say(back)} are too unlike for one cap, which needs a third of the armhole on "
            "either side; check them and armscye_girth"
        )


def check_below(d: Draft, sleeve: SleeveBody, height: float) -> None:
    """InputError for a cap that leaves no sleeve under it."""
    if height > MOST_OF_LENGTH * sleeve.length:
        raise InputError(
            f"{sleeve.key}: a cap height of {d.say(height)} leaves no sleeve under it where "
            f"sleeve_length is {d.say(sleeve.length)}; give a sleeve_length of "
            f"{d.say(height / MOST_OF_LENGTH + PRINTED_INSIDE)} or more or a lower cap_height, "
            "or check outer_arm_length and the armhole"
        )


# -- when the cap is found ---------------------------------------------------------------------


def check_plan(d: Draft, sleeve: SleeveBody, plan: CapPlan) -> None:
    """Refuse a cap, or a sleeve under it, that nobody could wear or sew."""
    _check_bicep(d, sleeve, plan.bicep, lambda: f"give {heights_for(d, sleeve, plan.ease)}")
    _check_loose(d, sleeve, plan)
    _check_share(d, sleeve, plan)
    _check_lean(d, sleeve, plan)


def _check_bicep(d: Draft, sleeve: SleeveBody, bicep: float, advice: Callable[[], str]) -> None:
    if bicep < sleeve.upper_arm:
        raise InputError(
            f"{sleeve.key}: a bicep width of {d.say(bicep)} is less than upper_arm_girth "
            f"{d.say(sleeve.upper_arm)}; {advice()}"
        )


def _check_loose(d: Draft, sleeve: SleeveBody, plan: CapPlan) -> None:
    """A bicep that the block found is no wider than a maker could ask for by its ease."""
    most = type(sleeve).bicep_ease.high
    if plan.found != "bicep width" or sleeve.cap_height is not None:
        return
    if plan.bicep > sleeve.upper_arm + most:
        raise InputError(
            f"{sleeve.key}: for an armhole of {d.say(sleeve.armhole)} and its cap ease the bicep "
            f"width comes to {d.say(plan.bicep)}, more than {d.say(most)} over upper_arm_girth "
            f"{d.say(sleeve.upper_arm)}; check that and the armhole, or set a higher cap_height "
            "or a bicep_width"
        )


def _check_share(d: Draft, sleeve: SleeveBody, plan: CapPlan) -> None:
    """The cap is neither so flat nor so steep that it is none."""
    least, most = cap_heights(sleeve.armhole)
    if least <= plan.height <= most:
        return
    flat = plan.height < least
    advice = f"set a {'narrower' if flat else 'wider'} bicep_width"
    if sleeve.given_bicep is None and plan.found == "cap height":
        advice = f"check upper_arm_girth and the armhole, or {advice}"
    if sleeve.cap_height is not None:
        advice = f"give a cap_height of {d.say(least)} to {d.say(most)}"
    raise InputError(
        f"{sleeve.key}: a cap height of {d.say(plan.height)} is too {'flat' if flat else 'steep'}"
        f" for an armhole of {d.say(sleeve.armhole)}, where {CAP_SHARES[0]:g} to "
        f"{CAP_SHARES[1]:g} of it, {d.say(least)} to {d.say(most)}, can be set in; {advice}"
    )


def _check_lean(d: Draft, sleeve: SleeveBody, plan: CapPlan) -> None:
    """Seams lean neither out so far nor in so far that the cap cannot end square to them.

    Where they flare, its ends dip below the bicep line; where they taper, it ends along a line
    that rises to the crown, and needs the crown above that.
    """
    option, hem, drop = sleeve.hem_option, sleeve.hem_width(plan.bicep), sleeve.length - plan.height
    # On a very short sleeve hardly any flare is left; a hem as wide as the bicep has none.
    widest = max(flared(plan.bicep, MOST_FLARE, drop), plan.bicep)
    if hem > widest:
        raise InputError(
            f"{sleeve.key}: {option} {d.say(hem)} flares the sleeve so far that the "
            "ends of its cap dip below the bicep line; give a "
            f"{option} of {d.say(widest)} or less, or a longer sleeve_length"
        )
    slope = math.atan2(plan.height, plan.bicep / 2.0 + abs(plan.crown.x))
    if slope - sleeve.taper(plan.bicep, plan.crown).lean < LEAST_RISE:
        raise InputError(
            f"{sleeve.key}: from bicep width {d.say(plan.bicep)} to {option} "
            f"{d.say(hem)} the sleeve tapers as steeply as its cap of {d.say(plan.height)} "
            "rises, which leaves the cap no hollow; give a wider "
            f"{option}, a narrower bicep or a longer sleeve_length, or check "
            "upper_arm_girth, wrist_girth and outer_arm_length"
        )


# -- the hem -----------------------------------------------------------------------------------


def check_hem(d: Draft, sleeve: SleeveBody, width: float) -> None:
    """InputError for a hem that does not go round the wrist, or over the hand."""
    option, hand = sleeve.hem_option, sleeve.hand
    if width < sleeve.wrist:
        raise InputError(
            f"{sleeve.key}: a {option} of {d.say(width)} is less than wrist_girth "
            f"{d.say(sleeve.wrist)}; give a wider one"
        )
    if not sleeve.opens and hand is not None and width < hand:
        raise InputError(
            f"{sleeve.key}: a hand of {d.say(hand)} (hand_girth) does not pass a "
            f"{option} of {d.say(width)}; give a {option} of "
            f"{d.say(hand)} or more, or set opening=placket"
        )
