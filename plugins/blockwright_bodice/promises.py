"""What both bodices promise: seams, lines that run on, lengths and the widths across."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from blockwright import Across, Draft, Edge, Piece, Point, line
from blockwright_bodice.bodice import EASED_SHOULDER, WHOLE_BODY, Bodice
from blockwright_bodice.checks import ACROSS_EASE, SHOULDER_EASE
from blockwright_bodice.half import Half

# An armhole is larger than the arm by less than this, mm.
ROOMIEST_ARMHOLE = 500.0


def promise_seams(d: Draft, bodice: Bodice, front: Piece, back: Piece) -> None:
    """Every seam, and every line that runs on over one or over a dart, as sewn."""
    neck, armhole = _named(front, "front neck"), _named(front, "front armhole")
    neck += _named(back, "back neck")
    armhole += _named(back, "back armhole")
    over, under = _named(front, "front shoulder"), _named(back, "back shoulder")
    side, other = _named(front, "front side"), _named(back, "back side")
    waist = _named(back, "back waist"), _named(front, "front waist")
    eased = EASED_SHOULDER if bodice.back_shoulder == "ease" else 0.0
    d.girth(
        "finished shoulder", body=bodice.shoulder_length,
        ease=(-SHOULDER_EASE, SHOULDER_EASE + bodice.back_ease), runs=[over],
    )  # fmt: skip
    d.seam("shoulder", [-edge for edge in reversed(under)], over, ease=eased)
    d.seam("side", side, [-edge for edge in reversed(other)])
    for name, joints in (
        ("neck over the shoulder", ((neck[0], over[0]), (under[-1], neck[1]))),
        ("armhole over the shoulder", ((over[-1], armhole[0]), (armhole[1], under[0]))),
        ("armhole under the arm", ((armhole[0], side[0]), (other[-1], armhole[1]))),
        ("waist over the side seam", ((waist[0][-1], other[0]), (side[-1], waist[1][0]))),
    ):
        d.corner(name, *((a.name, b.name) for a, b in joints))
    for name, run in (
        ("front shoulder", over), ("back shoulder", under), ("side seam", side),
        ("back waist", waist[0]), ("front waist", waist[1]),
    ):  # fmt: skip
        for a, b in pairwise(run):
            d.corner(f"{name} over the dart", (a.name, b.name))
    for name, *joint in (
        ("neck at the centre front", "centre front", neck[0].name),
        ("neck at the centre back", neck[1].name, "centre back"),
        ("waist at the centre back", "centre back", waist[0][0].name),
        ("waist at the centre front", waist[1][-1].name, "centre front"),
    ):
        d.corner(f"{name}, square", (joint[0], joint[1]), angle=90.0)
    _promise_armhole(d, bodice, armhole)
    middle = back.edge("centre back")
    d.girth("centre back", body=bodice.back_waist, ease=0.0, runs=[middle])
    d.offer("front armhole", -armhole[0])
    d.offer("back armhole", -armhole[1])
    d.offer("back neck", -neck[1])  # from the centre back
    d.offer("front neck", -neck[0])  # to the centre front
    for edge in (*neck, *armhole):
        d.shape(edge.name, edge, bends=0)
    d.girth("neck", body=bodice.neck_base, ease=bodice.neck_ease, runs=neck, times=WHOLE_BODY)


def _promise_armhole(d: Draft, bodice: Bodice, armhole: Sequence[Edge]) -> None:
    """The armhole goes round the root of the arm, where the sheet tells how much that is."""
    for name, girth in bodice.arm_girths:
        says = name.removesuffix("_girth").replace("_", " ")
        d.girth(f"armhole round the {says}", body=girth, ease=(0.0, ROOMIEST_ARMHOLE), runs=armhole)


def promise_across(d: Draft, bodice: Bodice, front: Half, back: Half) -> None:
    """The widths half way down the armhole, beside the measured ones."""
    for name, piece, body, half in (
        ("across back", "back", bodice.across_back, back),
        ("across front", "front", bodice.across_front, front),
    ):
        level = line(Point(0.0, half.across.y), half.across)
        if half is front:
            level = level.reversed()
        d.girth(name, body=body, ease=ACROSS_EASE, levels=[Across(piece, level)], times=WHOLE_BODY)


def _named(piece: Piece, prefix: str) -> list[Edge]:
    """The edges that begin with those words, in outline order, without the mouths of darts."""
    return [edge for edge in piece.edges if edge.name.startswith(prefix) and edge.role != "dart"]
