"""Every tolerance of patterns, once: what the proof holds, and what counts as one place."""

from __future__ import annotations

from blockwright.curves.point import Point, distance

# A tenth of a millimetre on any length: under a sixth of what production makers match to
# (0.03 in, a published shop figure), and far under what a needle can follow.
LENGTH = 0.1
# Half a degree on any corner: 0.9 mm over a hand's breadth of 10 cm.
ANGLE = 0.5
# A kink that nobody promised away is named from this angle, degrees: 3.5 mm over a hand's breadth
# of 10 cm, which the eye sees.  Common practice, no source.
SEEN_ANGLE = 2.0
# Notches of one name meet within half a millimetre when nobody promised it more closely: the
# width of a pencil line.  Common practice, no source.
NOTCH = 0.5
# A curve is said to pass its marks when it is nearer than a pencil line is thick by ten times.
ON_CURVE = 0.01
# Two places are one when they are nearer than this: corners, ends of grain lines, points of darts.
# The edges of an outline meet to the millionth of `curves.curve`, as its area needs.
CLOSED = 1e-3
# Ends of cut lines this near, mm, are one: far below what any blade follows.
ONE_CUT = 0.02
# A stretch shorter than this, mm, is a corner that was met twice.
CORNER = 0.01
# Places, mm, and angles, degrees, that differ by less than this differ by rounding.
ROUNDED = 1e-6


def meet(a: Point, b: Point) -> bool:
    """Whether two places are one: no further apart than an outline may gape."""
    return distance(a, b) <= CLOSED
