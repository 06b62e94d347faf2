"""What both bodices promise: seams, lines that run on, lengths and the widths across."""

from __future__ import annotations

from collections.abc import Sequence

from blockwright import Across, Draft, Edge, Piece, Point, line
from blockwright_bodice.bodice import EASED_SHOULDER, WHOLE_BODY, Bodice
from blockwright_bodice.checks import ACROSS_EASE, SHOULDER_EASE
from blockwright_bodice.half import Half

# An armhole is larger than the arm by less than this, mm.
ROOMIEST_ARMHOLE = 500.0


def promise_seams(d: Draft, bodice: Bodice, front: Piece, back: Piece) -> None:
    """Every seam, and every line that runs on over one or over a dart, as sewn."""
    neck = front.edge("front neck"), back.edge("back neck")
    armhole = front.edge("front armhole"), back.edge("back armhole")
    under, other = back.stretches("back shoulder")[0], back.edge("back side")
    eased = EASED_SHOULDER if bodice.back_shoulder == "ease" else 0.0
    d.girth(
        "finished shoulder", body=bodice.shoulder_length,
        ease=(-SHOULDER_EASE, SHOULDER_EASE + bodice.back_ease), runs=["front shoulder"],
    )  # fmt: skip
    d.seam("shoulder", -under, "front shoulder", ease=eased)
    d.seam("side", "front side", -other)
    for name, before, behind in (
        ("neck over the shoulder", ("front neck", "front shoulder"),
         ("back shoulder", "back neck")),
        ("armhole over the shoulder", ("front shoulder", "front armhole"),
         ("back armhole", "back shoulder")),
        ("armhole under the arm", ("front armhole", "front side"), ("back side", "back armhole")),
        ("waist over the side seam", ("front side", "front waist"), ("back waist", "back side")),
    ):  # fmt: skip
        d.corner(name, before, behind)
    for piece in (front, back):
        for dart in piece.darts:
            d.corner(f"{piece.before(dart.mouth).name} over the {dart.name}", dart)
    for name, *joint in (
        ("neck at the centre front", "centre front", "front neck"),
        ("neck at the centre back", "back neck", "centre back"),
        ("waist at the centre back", "centre back", "back waist"),
        ("waist at the centre front", "front waist", "centre front"),
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
        d.girth(
            f"armhole round the {says}", body=girth, ease=(0.0, ROOMIEST_ARMHOLE), runs=armhole,
            asked=False,
        )  # fmt: skip


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
