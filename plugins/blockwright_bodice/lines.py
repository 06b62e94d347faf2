"""Lines over the shoulder, drawn as sewn and cut apart, and the refusals that both bodices share.

How long the finished shoulder is, the neck, and the armhole.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from blockwright import (
    Affine,
    Draft,
    Edge,
    LaidLine,
    Notch,
    Part,
    Point,
    distance,
    fair_curve,
    lay_line,
)
from blockwright_bodice.bodice import WHOLE_BODY, Bodice
from blockwright_bodice.half import TO_LEFT, TO_RIGHT, Half, Shoulder, half_way, hollow

# The back neck rises at the shoulder this many times as steeply as on the way from the nape; at
# three times it would leave the nape quite straight.
FLAT_NAPE = 2.7
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


def finished_shoulder(d: Draft, bodice: Bodice) -> float:
    """Length of the finished shoulder.

    Shoulder length and the across widths each say where the armhole runs, and on a body they
    seldom agree.  The finished shoulder is the one that leaves the least squares of the three
    differences, so that the armhole is a clean curve; `promise_across` measures what that
    leaves of the widths.
    Refuses widths that disagree by more than a garment can hide.
    """
    d.require(
        bodice.back_shoulder == "dart" or bodice.shoulder_dart is None,
        "shoulder_dart is set, but the back shoulder is eased", check=["shoulder_dart"],
        do="leave it out, or set back_shoulder=dart",
    )  # fmt: skip
    underarm = bodice.underarm
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
        _check_across(d, bodice, name, other, WHOLE_BODY * half, follows)
    longest = SHOULDER_EASE + bodice.back_ease
    d.require(
        -SHOULDER_EASE <= length - bodice.shoulder_length <= longest,
        f"shoulder_length does not go with the widths across, which ask for {d.say(length)}",
        check=("shoulder_length", *names),
    )
    return length


def _check_across(
    d: Draft, bodice: Bodice, name: str, other: str, found: float, follows: float
) -> None:
    """Refuse a width across that comes out too unlike the measured one.

    `other`: the other width; `follows`: how much of a change of the measured width the finished
    one takes on.
    """
    measured: float = bodice.values[name]
    narrower, wider = ACROSS_EASE
    beyond = found - measured - min(max(found - measured, narrower), wider)
    limit = measured + beyond / (1.0 - follows) + math.copysign(PRINTED_INSIDE, beyond)
    d.require(
        not beyond,
        f"{name} {d.say(measured)} does not go with {other}, shoulder_length and neck_base_girth: "
        f"with these {d.say(limit)} or {'more' if beyond > 0.0 else 'less'} would",
        check=(name, other, "shoulder_length", "neck_base_girth"),
    )


def tell_shoulder(d: Draft, bodice: Bodice, shoulder: Shoulder) -> None:
    """Put the finished shoulder among what was found."""
    d.found(
        "finished shoulder", distance(shoulder.neck, shoulder.tip),
        "it agrees best with shoulder length, across back and across front, and the armhole "
        "is a clean curve", measured=bodice.shoulder_length,
    )  # fmt: skip


def neck_line(d: Draft, bodice: Bodice, front: Shoulder, back: Shoulder) -> tuple[Edge, Edge]:
    """Front and back neck: one fair line over the shoulder, as long as the neck asks.

    The front one runs from the centre front to the shoulder, the back one on to the nape.
    """
    lay = Affine.laying(front.neck, front.tip, back.neck, back.beside_neck)
    nape = d.mark("back neck point", Point(0.0, 0.0), "start of the draft", piece="back")
    # A back neck is nearly flat at the nape and rises more and more to the shoulder; the middle
    # of such a line is the mark that keeps the whole one so.
    rising = Point(-1.0, 0.0).turned(FLAT_NAPE * back.neck.angle)
    flat = fair_curve([back.neck, nape], rising, TO_LEFT)
    middle = flat.point_at(flat.length / 2.0)

    def laid(depth: float) -> LaidLine:
        pit = Point(0.0, front.neck.y - depth)
        parts = [Part((pit, front.neck), lay), Part((back.neck, middle, nape))]
        return lay_line(parts, lay.way(TO_LEFT), TO_LEFT)

    target = (bodice.neck_base + bodice.neck_ease) / WHOLE_BODY
    depth = d.solve(
        "front neck depth", lambda depth: laid(depth).length, target=target,
        low=0.4 * bodice.neck_width, high=3.0 * bodice.neck_width,
        # A neck line is a little longer than half round a circle of the neck width.
        near=(target - 1.5 * bodice.neck_width, 0.9),
        so_that="the neck line is the neck base girth and its ease", goal="half neck line",
        check=("neck_ease", "neck_base_girth"),
    )  # fmt: skip
    front_neck, back_neck = laid(depth).curves()
    d.mark("front neck point", front_neck.start, "front neck depth below the side neck point",
           piece="front")  # fmt: skip
    return Edge("front neck", front_neck, "neck"), Edge("back neck", back_neck, "neck")


def armhole_line(front: Half, back: Half) -> tuple[Edge, Edge]:
    """Front and back armhole: one fair line over the shoulder, square to both side seams.

    The back one runs up from the underarm, the front one down to it.
    """
    over, under = front.shoulder, back.shoulder
    lay = Affine.laying(over.tip, over.neck, under.tip, under.beside_tip)
    parts = [
        Part((back.underarm, *reversed(hollow(back)), back.across, under.tip)),
        Part((over.tip, front.across, *hollow(front), front.underarm), lay),
    ]
    up, down = lay_line(parts, -back.side.left(), lay.way(-front.side.left())).curves()
    return Edge("front armhole", down, "armhole"), Edge("back armhole", up, "armhole")


def plain_waist(front: tuple[Point, Point], back: tuple[Point, Point]) -> LaidLine:
    """The waist without darts, one fair line from centre back to centre front.

    `front`, `back`: each side seam, its underarm and its lower end.
    """
    (front_under, front_low), (back_under, back_low) = front, back
    lay = Affine.laying(front_low, front_under, back_low, back_under)
    centre = Point(0.0, back_low.y)
    parts = [Part((centre, back_low)), Part((front_low, centre), lay)]
    return lay_line(parts, TO_RIGHT, lay.way(TO_RIGHT))


@dataclass(frozen=True, slots=True)
class Over:
    """One half of a bodice with its lines over the shoulder, and the notch of its armhole."""

    half: Half
    neck: Edge
    armhole: Edge
    notch: Notch


def lines_over(d: Draft, bodice: Bodice, front: Half, back: Half) -> tuple[Over, Over]:
    """Front and back with their lines; the back armhole has two notches side by side.

    Refuses an armhole that does not go round the arm.
    """
    front_neck, back_neck = neck_line(d, bodice, front.shoulder, back.shoulder)
    hole, back_hole = armhole_line(front, back)
    _check_round_arm(d, bodice, hole.curve.length + back_hole.curve.length)
    up, up_back = (bodice.armhole_notch * edge.curve.length for edge in (hole, back_hole))
    notch = Notch("front notch", hole.name, hole.curve.length - up)
    return (
        Over(front, front_neck, hole, notch),
        Over(back, back_neck, back_hole, Notch("back notch", back_hole.name, up_back, count=2)),
    )


# -- refusals ------------------------------------------------------------------------------------


def check_depth(d: Draft, bodice: Bodice) -> None:
    """Refuse an armhole that leaves no side seam above the waist."""
    spare = bodice.back_waist + bodice.underarm - LEAST_SIDE
    deepest = bodice.values["scye_depth"] + spare
    d.require(
        spare >= 0.0,
        "scye_depth is too deep for back_neck_point_to_waist: "
        f"{d.say(deepest - PRINTED_INSIDE)} or less would do",
        check=("scye_ease", "scye_depth", "back_neck_point_to_waist"),
    )


def check_armhole(d: Draft, bodice: Bodice, hollow: float, name: str) -> None:
    """Refuse widths across that leave too little of the girth of that name for the arm.

    `hollow`: how far the armhole reaches past the across points, front and back alike.
    """
    girth: float = bodice.values[name]
    least = girth + 4.0 * (LEAST_HOLLOW - hollow) + PRINTED_INSIDE
    d.require(
        hollow >= LEAST_HOLLOW,
        f"{name} {d.say(girth)} leaves no room for the arm beside the widths across: with these "
        f"it must be {d.say(least)} or more",
        check=(name.replace("girth", "ease"), name, "across_back_width", "across_front_width"),
    )


def _check_round_arm(d: Draft, bodice: Bodice, round_arm: float) -> None:
    """Refuse an armhole, so long in all, that does not go round the arm."""
    for name, girth in bodice.arm_girths:
        # An armhole deeper by so much is longer by about twice that.
        deeper = (girth - round_arm) / 2.0
        d.require(
            round_arm >= girth,
            f"the armhole comes out {d.say(round_arm)}, less than {name} {d.say(girth)}",
            check=("scye_ease", "scye_depth", "across_back_width", name),
            do=f"check scye_depth, across_back_width and {name}, or set scye_ease some "
            f"{d.say(deeper)} higher",
        )
