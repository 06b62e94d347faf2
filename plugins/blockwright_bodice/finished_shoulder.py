"""The finished shoulder: the best compromise of what three measurements say of the armhole."""

from __future__ import annotations

from blockwright import Draft, distance
from blockwright_bodice.bodice import WHOLE_BODY, Bodice
from blockwright_bodice.checks import check_across, check_shoulder
from blockwright_bodice.half import half_way
from blockwright_bodice.shoulder import Shoulder


def finished_shoulder(d: Draft, bodice: Bodice, underarm: float) -> float:
    """Length of the finished shoulder.

    Shoulder length and the across widths each say where the armhole runs, and on a body they
    seldom agree.  The finished shoulder is the one that leaves the least squares of the three
    differences, so that the armhole is a clean curve; `promise_across` measures what that
    leaves of the widths.  `underarm`: its height, mm.
    Raises InputError where they disagree by more than a garment can hide.
    """
    wanted = bodice.across_back / 2.0 + bodice.back_ease, bodice.across_front / 2.0

    def across(length: float) -> tuple[float, float]:
        back = bodice.back_shoulder_seam(length)
        front = bodice.front_shoulder_seam(length, 0.0)
        down = back.tip.y - underarm - bodice.shallower_front
        return half_way(back, underarm).x, -half_way(front, front.tip.y - down).x

    here, further = across(bodice.shoulder_length), across(bodice.shoulder_length + 1.0)
    rates = [b - a for a, b in zip(here, further, strict=True)]
    short = [want - x for want, x in zip(wanted, here, strict=True)]
    pull = sum(rate * step for rate, step in zip(rates, short, strict=True))
    length = bodice.shoulder_length + pull / (1.0 + sum(rate * rate for rate in rates))
    names = "across_back_width", "across_front_width"
    for name, other, half, rate in zip(names, names[::-1], across(length), rates, strict=True):
        # Where one width is estimated from the other both change together.
        follows = rate * sum(rates) / (1.0 + sum(rate * rate for rate in rates))
        check_across(d, bodice, name, other, WHOLE_BODY * half, follows)
    check_shoulder(d, bodice, length)
    return length


def tell_shoulder(d: Draft, shoulder: Shoulder) -> None:
    """Put the finished shoulder among what was found."""
    d.found(
        "finished shoulder", distance(shoulder.neck, shoulder.tip),
        "it agrees best with shoulder length, across back and across front, and the armhole "
        "is a clean curve",
    )  # fmt: skip
