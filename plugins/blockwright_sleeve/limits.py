"""Between what a cap may lie, and how limits are printed."""

from __future__ import annotations

from blockwright import Draft

# A flatter cap than a tenth of the bicep is a straight edge; a higher one than this has guides
# over 52 degrees, on which the marks make it overhang where the armhole's halves are uneven.
FLATTEST, HIGHEST = 0.1, 0.65
# How high a cap is, as a share of the armhole.  The steepest published is 6 in on 14 1/4, of a
# shell that fits close; the flattest a quarter, for work (see the tests).  Half of that is left for
# drop shoulders: flatter, it is a kimono's, and no cap (common practice, no source).
CAP_SHARES = (0.125, 0.42)
# A cap takes at most this share of the sleeve's length: something is left under it.
MOST_OF_LENGTH = 0.9
# Degrees: a slope of 1 mm over the 2 cm where the shoulder seam meets the cap.
LEVEL_AT_CROWN = 3.0
# Limits are printed so far inside, mm: what is printed does, however it is rounded.
PRINTED_INSIDE = 1.0


def cap_heights(armhole: float) -> tuple[float, float]:
    """The least and the most height of a cap set into an armhole of that length, mm."""
    least, most = CAP_SHARES
    return least * armhole, most * armhole


def said(d: Draft, name: str, span: tuple[float, float] | None) -> str:
    """'a cap_height of 10 cm to 12 cm', printed inside; nothing where there is no room for it."""
    if span is None or span[1] - span[0] < 2.0 * PRINTED_INSIDE:
        return ""
    return f"{name} of {d.say(span[0] + PRINTED_INSIDE)} to {d.say(span[1] - PRINTED_INSIDE)}"
