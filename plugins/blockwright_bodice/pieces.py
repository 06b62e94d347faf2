"""Back and front of a bodice made from their lines, cut on the fold, and what they promise."""

from __future__ import annotations

from collections.abc import Sequence

from blockwright import (
    Across,
    Curve,
    Dart,
    Draft,
    Edge,
    Guide,
    Piece,
    Point,
    line,
    roof_between,
)
from blockwright_bodice.bodice import EASED_SHOULDER, WHOLE_BODY, Bodice
from blockwright_bodice.half import Half, Shoulder
from blockwright_bodice.lines import ACROSS_EASE, SHOULDER_EASE, Over

# An armhole is larger than the arm by less than this, mm.
ROOMIEST_ARMHOLE = 500.0


def back_piece(
    bodice: Bodice, waist: Sequence[Edge], over: Over, across: Curve, darts: Sequence[Dart] = ()
) -> Piece:
    """The back, cut on the fold; `waist` with the mouths of its darts, in outline order."""
    shoulder, shoulder_darts = _back_shoulder_edges(over.half.shoulder)
    side = Edge("back side", line(waist[-1].curve.end, over.armhole.curve.start))
    middle = Edge("centre back", line(over.neck.curve.end, waist[0].curve.start), "fold")
    x, low = over.half.across.x, -bodice.back_waist
    return Piece(
        "back", (*waist, side, over.armhole, *shoulder, over.neck, middle),
        grain=(Point(x * 0.15, low * 0.92), Point(x * 0.15, low * 0.3)),
        label_at=Point(x * 0.55, low * 0.36), darts=(*darts, *shoulder_darts),
        notches=(over.notch,),
        guides=(Guide(bodice.girth_line, across), Guide("across back line", level(over.half))),
    )  # fmt: skip


def front_piece(
    bodice: Bodice, waist: Sequence[Edge], over: Over, across: Curve, side: Sequence[Edge],
    darts: Sequence[Dart] = (),
) -> Piece:  # fmt: skip
    """The front, cut on the fold; `waist` and `side` with the mouths of their darts."""
    middle = Edge("centre front", line(waist[-1].curve.end, over.neck.curve.start), "fold")
    shoulder = Edge("front shoulder", line(over.neck.curve.end, over.half.shoulder.tip))
    x, low = over.half.across.x, -bodice.back_waist
    return Piece(
        "front", (*waist, middle, over.neck, shoulder, over.armhole, *side),
        grain=(Point(x * 0.15, low * 0.92), Point(x * 0.15, low * 0.4)),
        label_at=Point(x * 0.5, low * 0.33), darts=tuple(darts), notches=(over.notch,),
        guides=(
            Guide(bodice.girth_line, across),
            Guide("across front line", level(over.half).reversed()),
        ),
    )  # fmt: skip


def level(half: Half) -> Curve:
    """From the centre to the armhole, at the height at which the across width is promised."""
    return line(Point(0.0, half.across.y), half.across)


def _back_shoulder_edges(shoulder: Shoulder) -> tuple[list[Edge], list[Dart]]:
    """The back shoulder in outline order, tip to neck, with its dart if it has one."""
    dart = shoulder.dart
    if dart is None:
        return [Edge("back shoulder", line(shoulder.tip, shoulder.neck))], []
    outer, inner = line(shoulder.tip, dart.outer), line(dart.inner, shoulder.neck)
    edges = [
        Edge("back shoulder", outer),
        Edge("back shoulder dart mouth", roof_between(dart.apex, outer, inner, "end"), "dart"),
        Edge("back shoulder", inner),
    ]
    return edges, [Dart("shoulder dart", dart.apex, edges[1].name, "end", "pressed to the centre")]


def add_pieces(d: Draft, bodice: Bodice, front: Piece, back: Piece) -> None:
    """Add both pieces; promise every seam and every line that runs on over one, or over a dart."""
    d.add(back)
    d.add(front)
    neck = front.edge("front neck"), back.edge("back neck")
    armhole = front.edge("front armhole"), back.edge("back armhole")
    under, other = back.stretches("back shoulder")[0], back.edge("back side")
    eased = EASED_SHOULDER if bodice.back_shoulder == "ease" else 0.0
    d.measure(
        "finished shoulder", length=bodice.shoulder_length,
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
    # The armhole goes round the root of the arm, where the sheet tells how much that is.
    for name, girth in bodice.arm_girths:
        says = f"armhole round the {name.removesuffix('_girth').replace('_', ' ')}"
        d.girth(says, body=girth, ease=(0.0, ROOMIEST_ARMHOLE), runs=armhole, asked=False)
    middle = back.edge("centre back")
    d.measure("centre back", length=bodice.back_waist, runs=[middle])
    d.offer("front armhole", -armhole[0])
    d.offer("back armhole", -armhole[1])
    d.offer("back neck", -neck[1])  # from the centre back
    d.offer("front neck", -neck[0])  # to the centre front
    # A block is finished when it becomes a garment; until then nothing is sewn here.
    d.unsewn([*neck, *armhole, "front waist", "back waist"], "left open")
    for edge in (*neck, *armhole):
        d.shape(edge.name, edge, bends=0)
    d.girth("neck", body=bodice.neck_base, ease=bodice.neck_ease, runs=neck, times=WHOLE_BODY)


def promise_widths(
    d: Draft, bodice: Bodice, front: Piece, back: Piece, waist: float | tuple[float, float]
) -> None:
    """The width at bust or chest, and at the waist with its ease, mm."""
    name = bodice.girth_line.removesuffix(" line")
    d.girth(
        name, body=bodice.values[f"{name}_girth"], ease=bodice.values[f"{name}_ease"],
        levels=[Across(piece.name, piece.guides[0].curve) for piece in (back, front)],
        times=WHOLE_BODY,
    )  # fmt: skip
    body, runs = bodice.values["waist_girth"], ["back waist", "front waist"]
    d.girth("waist", body=body, ease=waist, runs=runs, times=WHOLE_BODY)


def promise_across(d: Draft, bodice: Bodice, front: Half, back: Half) -> None:
    """The widths half way down the armhole, beside the measured ones."""
    for name, piece, body, half in (
        ("across back", "back", bodice.across_back, back),
        ("across front", "front", bodice.across_front, front),
    ):
        across = level(half).reversed() if half is front else level(half)
        d.girth(name, body=body, ease=ACROSS_EASE, levels=[Across(piece, across)], times=WHOLE_BODY)
