"""What would do instead: the cap heights and bicep widths that go with what is given."""

from __future__ import annotations

from collections.abc import Callable

from blockwright import Draft, GeometryError, solve
from blockwright_sleeve.body import SleeveBody
from blockwright_sleeve.limits import FLATTEST, HIGHEST, cap_heights, said


def heights_for(d: Draft, sleeve: SleeveBody, ease: float) -> str:
    """Which cap heights an ease can be had with, on a bicep no narrower than the arm."""
    span = _growing(
        lambda height: sleeve.cap(sleeve.upper_arm, height, ease).spline.length,
        (0.0, sleeve.armhole + ease), cap_heights(sleeve.armhole),
    )  # fmt: skip
    return said(d, "a cap_height", span) or "another cap_height or cap_ease"


def fitting(d: Draft, sleeve: SleeveBody, bicep: float, height: float) -> str:
    """Which cap heights go with this bicep, and which bicep widths with this height."""
    eases = type(sleeve).cap_ease
    lengths = sleeve.armhole + eases.low, sleeve.armhole + eases.high
    least, most = cap_heights(sleeve.armhole)
    heights = _growing(
        lambda tried: sleeve.cap(bicep, tried, sleeve.usual_cap_ease).spline.length,
        lengths, (max(least, FLATTEST * bicep), min(most, HIGHEST * bicep)),
    )  # fmt: skip
    biceps = _growing(
        lambda tried: sleeve.cap(tried, height, sleeve.usual_cap_ease).spline.length,
        lengths, (max(sleeve.upper_arm, height / HIGHEST), height / FLATTEST),
    )  # fmt: skip
    if not least <= height <= most:
        biceps = None
    ways = [said(d, "a cap_height", heights), said(d, "a bicep_width", biceps)]
    return " or ".join(filter(None, ways)) or "another cap_height and bicep_width"


def _growing(
    measure: Callable[[float], float], wanted: tuple[float, float], within: tuple[float, float]
) -> tuple[float, float] | None:
    """Where in a range a growing measure lies between two values; None for nowhere, or unknown."""
    low, high = within
    if low >= high:
        return None
    ends = []
    try:
        at_low, at_high = measure(low), measure(high)
        if at_high < wanted[0] or at_low > wanted[1]:
            return None
        for value in wanted:
            if value <= at_low:
                ends.append(low)
            elif value >= at_high:
                ends.append(high)
            else:
                ends.append(solve(measure, value, low, high))
    except GeometryError:
        return None
    return ends[0], ends[1]
