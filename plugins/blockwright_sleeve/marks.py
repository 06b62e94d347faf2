"""Marks of the cap set by hand: refused where they spoil its shape, with what would do instead."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise

from blockwright import Draft, InputError
from blockwright_sleeve.body import SleeveBody
from blockwright_sleeve.cap import CROWN, PLACES, Cap
from blockwright_sleeve.limits import LEVEL_AT_CROWN, said

SIDES = ("front", "back")
MARKS = [f"{side}_{place}" for side in SIDES for place in PLACES]
# A cap is hollow, full, hollow: it changes so often.  Curvature, 1/mm, under which it is straight.
BENDS, STRAIGHT = 2, 1e-5
# Places between two marks at which the cap is looked at for an overhang.
STEPS = [step / 12.0 for step in range(13)]
# Limits are looked for so closely, mm: nearer than they are printed.
NEAR = 0.25

Trial = Callable[[str, float | None], Cap | None]
"""The cap with one option set otherwise, all that is solved found anew; None where there is none.

None as the value leaves the option to the block.
"""


def check_marks(d: Draft, sleeve: SleeveBody, cap: Cap, tried: Trial) -> None:
    """InputError for marks set by hand that spoil the cap.

    How far off its guide a mark may lie depends on the cap, which the maker does not see before it
    is drawn; so the refusal tells it.
    """
    given = [name for name in MARKS if sleeve.values[name] is not None]
    fault = _fault(d, cap, given) if given else ""
    if not fault:
        return
    ways = [said(d, f"a {name}", _would_do(d, sleeve, name, given, tried)) for name in given]
    marks = " and ".join(f"{name} {d.say(sleeve.values[name])}" for name in given)
    give = " or ".join(filter(None, ways))
    raise InputError(
        f"{sleeve.key}: with {marks} {fault}; {f'give {give}, or ' if give else ''}leave "
        f"{'it' if len(given) == 1 else 'some of them'} out"
    )


def _would_do(
    d: Draft, sleeve: SleeveBody, name: str, given: Sequence[str], tried: Trial
) -> tuple[float, float] | None:
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
    tilt = abs(next(_leans(cap, CROWN)))
    if tilt > LEVEL_AT_CROWN:
        return (
            f"the cap tilts {tilt:.1f} degrees at the crown, where {LEVEL_AT_CROWN:g} is the most"
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
