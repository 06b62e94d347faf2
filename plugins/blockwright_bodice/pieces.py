"""Back and front of a bodice made from their lines, both cut on the fold."""

from __future__ import annotations

from collections.abc import Sequence

from blockwright import Curve, Dart, Edge, Guide, Notch, Piece, Point, line, roof_between
from blockwright_bodice.bodice import Bodice
from blockwright_bodice.half import Half
from blockwright_bodice.shoulder import Shoulder


def back_piece(
    bodice: Bodice, waist: Sequence[Edge], half: Half, armhole: Edge, neck: Edge, notch: Notch,
    across: Curve, darts: Sequence[Dart] = (),
) -> Piece:  # fmt: skip
    """The back, cut on the fold; `waist` with the mouths of its darts, in outline order."""
    shoulder, shoulder_darts = _back_shoulder_edges(half.shoulder)
    side = Edge("back side", line(waist[-1].curve.end, armhole.curve.start))
    middle = Edge("centre back", line(neck.curve.end, waist[0].curve.start), "fold")
    x, low = half.across.x, -bodice.back_waist
    return Piece(
        "back",
        (*waist, side, armhole, *shoulder, neck, middle),
        grain=(Point(x * 0.15, low * 0.92), Point(x * 0.15, low * 0.3)),
        label_at=Point(x * 0.55, low * 0.36),
        darts=(*darts, *shoulder_darts),
        notches=(notch,),
        guides=(Guide(bodice.girth_line, across),),
    )


def front_piece(
    bodice: Bodice, waist: Sequence[Edge], half: Half, armhole: Edge, neck: Edge, notch: Notch,
    across: Curve, side: Sequence[Edge], darts: Sequence[Dart] = (),
) -> Piece:  # fmt: skip
    """The front, cut on the fold; `waist` and `side` with the mouths of their darts."""
    middle = Edge("centre front", line(waist[-1].curve.end, neck.curve.start), "fold")
    shoulder = Edge("front shoulder", line(neck.curve.end, half.shoulder.tip))
    x, low = half.across.x, -bodice.back_waist
    return Piece(
        "front",
        (*waist, middle, neck, shoulder, armhole, *side),
        grain=(Point(x * 0.15, low * 0.92), Point(x * 0.15, low * 0.4)),
        label_at=Point(x * 0.5, low * 0.33),
        darts=tuple(darts),
        notches=(notch,),
        guides=(Guide(bodice.girth_line, across),),
    )


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
