"""The limits of a sleeve that somebody could sew; what is refused, and what would do instead."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise

from blockwright import Draft, GeometryError, solve
from blockwright_sleeve.body import SleeveBody
from blockwright_sleeve.cap import CROWN, PLACES, Cap, CapPlan, flared

# A flatter cap than a tenth of the bicep is a straight edge.  The guides of a higher one than this
# lean over 52 degrees, and its marks make it overhang where the armhole's halves are uneven.
FLATTEST, HIGHEST = 0.1, 0.65
# How high a cap is, as a share of the armhole.  The steepest published is 6 in on 14 1/4, of a
# shell that fits close; the flattest a quarter, for work (see the tests).  Half of that is left for
# drop shoulders; a flatter one is no set-in sleeve (common practice, no source).
CAP_SHARES = (0.125, 0.42)
# A cap takes at most this share of the sleeve's length: something is left under it.
MOST_OF_LENGTH = 0.9
# Degrees: a slope of 1 mm over the 2 cm where the shoulder seam meets the cap.
LEVEL_AT_CROWN = 3.0
# Limits are printed so far inside, mm: what is printed does, however it is rounded.
PRINTED_INSIDE = 1.0
# Radians: seams that lean outward more than 15 degrees make the ends of the cap dip by more than
# a millimetre or so, and no bicep can be measured on such a line.
MOST_FLARE = math.radians(15.0)
# Radians: how much steeper the guides of the cap are than the line square to a tapered seam, along
# which the cap ends.  With less than a degree nothing is left to hollow (measured on 8000 random
# bodies: the cap bends the wrong way under 0.6 of a degree, never over it).
LEAST_RISE = math.radians(1.0)
# A smaller half of an armhole than a third of it leaves its half of the cap too steep to be drawn.
LEAST_HALF = 1.0 / 3.0
# The cap marks that may be set by hand.
MARKS = [f"{side}_{place}" for side in ("front", "back") for place in PLACES]
# A cap is hollow, full, hollow: it changes so often.  Curvature, 1/mm, under which it is straight.
BENDS, STRAIGHT = 2, 1e-5
# Places between two marks at which the cap is looked at for an overhang.
STEPS = [step / 12.0 for step in range(13)]
# Limits of a mark are looked for so closely, mm: nearer than they are printed.
NEAR = 0.25

HALVES = ("front_armhole_length", "back_armhole_length")

Range = tuple[float, float]
Trial = Callable[[str, float | None], Cap | None]
"""The cap with one option set otherwise, all that is solved found anew; None where there is none.

None as the value leaves the option to the block.
"""


def cap_heights(armhole: float) -> Range:
    """The least and the most height of a cap set into an armhole of that length, mm."""
    least, most = CAP_SHARES
    return least * armhole, most * armhole


# -- before a cap is looked for ------------------------------------------------------------------


def check_given(d: Draft, sleeve: SleeveBody) -> None:
    """Refuse what contradicts itself before a cap is looked for."""
    leave_one_out(d, sleeve, "bicep_width", "bicep_ease")
    for width in ("bicep_width", "bicep_ease"):
        leave_one_out(d, sleeve, width, "cap_height", "cap_ease", then=" and it is solved")
    front, back = sleeve.front_armhole, sleeve.back_armhole
    d.require(
        min(front, back) >= LEAST_HALF * (front + back),
        f"front_armhole_length {d.say(front)} and back_armhole_length {d.say(back)} are too unlike "
        "for one cap, which needs a third of the armhole on either side",
        check=HALVES, do="check them and armscye_girth",
    )  # fmt: skip
    if sleeve.given_bicep is not None:
        _check_bicep(d, sleeve, sleeve.given_bicep, lambda: "give a wider bicep_width")


def leave_one_out(d: Draft, sleeve: SleeveBody, *names: str, then: str = "") -> None:
    """Refuse options that are all given; `then` says what leaving one out does."""
    every = "both" if len(names) == 2 else "all"
    d.require(
        any(sleeve.values[name] is None for name in names),
        f"{', '.join(names[:-1])} and {names[-1]} are {every} given", check=names,
        do=f"leave one out{then}",
    )  # fmt: skip


def check_below(d: Draft, sleeve: SleeveBody, height: float) -> None:
    """Refuse a cap that leaves no sleeve under it."""
    least = height / MOST_OF_LENGTH
    d.require(
        least <= sleeve.length,
        f"a cap height of {d.say(height)} leaves no sleeve under it where sleeve_length is "
        f"{d.say(sleeve.length)}",
        check=("sleeve_length", "cap_height", "outer_arm_length"),
        do=f"give a sleeve_length of {d.say(least + PRINTED_INSIDE)} or more or a lower "
        "cap_height, or check outer_arm_length and the armhole",
    )


# -- when the cap is found -----------------------------------------------------------------------


def check_plan(d: Draft, sleeve: SleeveBody, plan: CapPlan) -> None:
    """Refuse a cap, or a sleeve under it, that nobody could wear or sew."""
    _check_bicep(d, sleeve, plan.bicep, lambda: f"give {heights_for(d, sleeve, plan.ease)}")
    loosest = type(sleeve).bicep_ease.high
    d.require(
        plan.found != "bicep width" or sleeve.cap_height is not None
        or plan.bicep <= sleeve.upper_arm + loosest,
        f"the bicep width comes to {d.say(plan.bicep)} for this armhole and its cap ease, more "
        f"than {d.say(loosest)} over upper_arm_girth",
        check=("cap_height", "bicep_width", "upper_arm_girth", *HALVES),
    )  # fmt: skip
    _check_share(d, sleeve, plan)
    _check_lean(d, sleeve, plan)


def _check_bicep(d: Draft, sleeve: SleeveBody, bicep: float, do: Callable[[], str]) -> None:
    d.require(
        bicep >= sleeve.upper_arm,
        f"a bicep width of {d.say(bicep)} is less than upper_arm_girth {d.say(sleeve.upper_arm)}",
        check=("bicep_width", "cap_height", "upper_arm_girth"), do=do,
    )  # fmt: skip


def _check_share(d: Draft, sleeve: SleeveBody, plan: CapPlan) -> None:
    """The cap is neither so flat nor so steep that it is none."""
    least, most = cap_heights(sleeve.armhole)
    flat = plan.height < least
    advice = f"check upper_arm_girth and the armhole, or set a {'narrow' if flat else 'wid'}er"
    advice += " bicep_width"
    if sleeve.cap_height is not None:
        advice = f"give a cap_height of {d.say(least)} to {d.say(most)}"
    d.require(
        least <= plan.height <= most,
        f"a cap height of {d.say(plan.height)} is too {'flat' if flat else 'steep'} for an armhole "
        f"of {d.say(sleeve.armhole)}, where {CAP_SHARES[0]:g} to {CAP_SHARES[1]:g} of it, "
        f"{d.say(least)} to {d.say(most)}, can be set in",
        check=("cap_height", "bicep_width", "bicep_ease", "upper_arm_girth"), do=advice,
    )  # fmt: skip


def _check_lean(d: Draft, sleeve: SleeveBody, plan: CapPlan) -> None:
    """Seams lean neither out so far nor in so far that the cap cannot end square to them.

    Where they flare, its ends dip below the bicep line; where they taper, it ends along a line
    that rises to the crown, and needs the crown above that.
    """
    option, hem, drop = sleeve.hem_option, sleeve.hem_width(plan.bicep), sleeve.length - plan.height
    # On a very short sleeve hardly any flare is left; a hem as wide as the bicep has none.
    widest = max(flared(plan.bicep, MOST_FLARE, drop), plan.bicep)
    d.require(
        hem <= widest,
        f"{option} {d.say(hem)} flares the sleeve so far that the ends of its cap dip below the "
        "bicep line",
        check=(option, "sleeve_length"),
        do=f"give a {option} of {d.say(widest)} or less, or a longer sleeve_length",
    )
    slope = math.atan2(plan.height, plan.bicep / 2.0 + abs(plan.crown.x))
    d.require(
        slope - sleeve.taper(plan.bicep, plan.crown).lean >= LEAST_RISE,
        f"from bicep width {d.say(plan.bicep)} to {option} {d.say(hem)} the sleeve tapers as "
        f"steeply as its cap of {d.say(plan.height)} rises, which leaves the cap no hollow",
        check=(option, "bicep_width", "bicep_ease", "sleeve_length", "upper_arm_girth",
               "wrist_girth", "outer_arm_length"),
    )  # fmt: skip


def check_hem(d: Draft, sleeve: SleeveBody, width: float) -> None:
    """Refuse a hem that does not go round the wrist, or over the hand."""
    option, hand = sleeve.hem_option, sleeve.hand
    d.require(
        width >= sleeve.wrist, f"the hem, {d.say(width)} wide, is less than wrist_girth",
        check=(option, "wrist_girth"),
    )  # fmt: skip
    if not sleeve.opens and hand is not None:
        d.require(
            width >= hand,
            f"a hand of {d.say(hand)} (hand_girth) does not pass a {option} of {d.say(width)}",
            check=(option, "opening", "hand_girth"),
            do=f"give a {option} of {d.say(hand)} or more, or set opening=placket",
        )


# -- what would do instead -----------------------------------------------------------------------


def said(d: Draft, name: str, span: Range | None) -> str:
    """'a cap_height of 10 cm to 12 cm', printed inside; nothing where there is no room for it."""
    if span is None or span[1] - span[0] < 2.0 * PRINTED_INSIDE:
        return ""
    return f"{name} of {d.say(span[0] + PRINTED_INSIDE)} to {d.say(span[1] - PRINTED_INSIDE)}"


def heights_for(d: Draft, sleeve: SleeveBody, ease: float) -> str:
    """Which cap heights an ease can be had with, on a bicep no narrower than the arm."""
    span = _growing(
        lambda height: sleeve.cap(sleeve.upper_arm, height, ease).spline.length,
        (0.0, sleeve.armhole + ease), cap_heights(sleeve.armhole),
    )  # fmt: skip
    return said(d, "a cap_height", span) or "another cap_height or cap_ease"


def fitting(d: Draft, sleeve: SleeveBody, bicep: float, height: float) -> str:
    """Which cap heights go with this bicep, and which bicep widths with this height."""
    eases, usual = type(sleeve).cap_ease, sleeve.usual_cap_ease
    lengths = sleeve.armhole + eases.low, sleeve.armhole + eases.high
    least, most = cap_heights(sleeve.armhole)
    allowed = max(least, FLATTEST * bicep), min(most, HIGHEST * bicep)
    heights = _growing(lambda at: sleeve.cap(bicep, at, usual).spline.length, lengths, allowed)
    allowed = max(sleeve.upper_arm, height / HIGHEST), height / FLATTEST
    biceps = _growing(lambda at: sleeve.cap(at, height, usual).spline.length, lengths, allowed)
    if not least <= height <= most:
        biceps = None
    ways = [said(d, "a cap_height", heights), said(d, "a bicep_width", biceps)]
    return " or ".join(filter(None, ways)) or "another cap_height and bicep_width"


def _growing(measure: Callable[[float], float], wanted: Range, within: Range) -> Range | None:
    """Where in a range a growing measure lies between two values; None for nowhere, or unknown."""
    low, high = within
    if low >= high:
        return None
    try:
        at_low, at_high = measure(low), measure(high)
        if at_high < wanted[0] or at_low > wanted[1]:
            return None
        first, last = (
            low if value <= at_low else high if value >= at_high
            else solve(measure, value, low, high)
            for value in wanted
        )  # fmt: skip
    except GeometryError:
        return None
    return first, last


# -- marks set by hand ---------------------------------------------------------------------------


def check_marks(d: Draft, sleeve: SleeveBody, cap: Cap, tried: Trial) -> None:
    """Refuse marks set by hand that spoil the cap.

    How far off its guide a mark may lie depends on the cap, which the maker has not seen yet; so
    the refusal says how far.
    """
    given = [name for name in MARKS if sleeve.values[name] is not None]
    fault = _fault(d, cap, given) if given else ""

    def advice() -> str:
        ways = [said(d, f"a {name}", _would_do(d, sleeve, name, given, tried)) for name in given]
        give = " or ".join(filter(None, ways))
        out = "it" if len(given) == 1 else "some of them"
        return f"{f'give {give}, or ' if give else ''}leave {out} out"

    marks = " and ".join(f"{name} {d.say(sleeve.values[name])}" for name in given)
    d.require(not fault, f"with {marks} {fault}", check=given, do=advice)


def _would_do(
    d: Draft, sleeve: SleeveBody, name: str, given: Sequence[str], tried: Trial
) -> Range | None:
    """Between what a mark may lie while the others stay; None where it is another's fault."""

    def good(value: float | None) -> bool:
        cap = tried(name, value)
        return cap is not None and not _fault(d, cap, given)

    usual = tried(name, None)
    if usual is None or not good(None):
        return None
    side, place = name.split("_")
    at = (usual.front if side == "front" else usual.back)[PLACES.index(place)]
    option = getattr(type(sleeve), name)
    least = _last(good, at, min(option.low, at))
    most = _last(good, at, max(option.high, at))
    return max(least, option.low), min(most, option.high)


def _last(good: Callable[[float], bool], at: float, end: float) -> float:
    """How far from a good value towards an end all is good."""
    if good(end):
        return end
    while abs(end - at) > NEAR:
        middle = (at + end) / 2.0
        at, end = (middle, end) if good(middle) else (at, middle)
    return at


def _fault(d: Draft, cap: Cap, given: Sequence[str]) -> str:
    """What is wrong with a cap, in words; nothing if nothing is."""
    for side, place in (("front", cap.places[1]), ("back", cap.places[-2])):
        if f"{side}_lower" in given and place.y <= 0.0:
            return (
                f"the {side} lower mark lies {d.say(-place.y)} below the bicep line, and the cap "
                "would hook under itself"
            )
    if max(abs(lean) for lean in _leans(cap)) > 90.0:
        return "the cap overhangs"
    if (found := _bends(cap)) != BENDS:
        return f"the cap is not hollow, full, hollow but changes {found} times"
    if (tilt := abs(next(_leans(cap, CROWN)))) > LEVEL_AT_CROWN:
        return (
            f"the cap tilts {tilt:.1f} degrees at the crown, at most {LEVEL_AT_CROWN:g} is allowed"
        )
    return ""


def _bends(cap: Cap) -> int:
    """How often it changes from hollow to full; between marks its curvature runs linearly."""
    spans = cap.spline.spans
    curving = [spans[0].start_curvature, *(span.end_curvature for span in spans)]
    sides = [each > 0.0 for each in curving if abs(each) > STRAIGHT]
    return sum(one != other for one, other in pairwise(sides))


def _leans(cap: Cap, first: int = 0) -> Iterator[float]:
    """How it leans from level on its way to the back, degrees, from that mark on."""
    for span in cap.spline.spans[first:]:
        for t in STEPS:
            off = span.alpha * (1.0 - t) + span.beta * t + span.shape * (t * t - t)
            yield math.degrees(math.remainder(span.direction + off - math.pi, math.tau))
