"""Back and front of a darted skirt made from their quarters."""

from __future__ import annotations

from collections.abc import Sequence

from blockwright import (
    Affine,
    Curve,
    Dart,
    Edge,
    Guide,
    Notch,
    Piece,
    Point,
    join,
    line,
    roof_between,
)
from blockwright_skirt.quarter import Quarter, waists

HIP_NOTCH = "hip notch"
PRESSED = "pressed to the centre"
MIRROR = Affine(a=-1.0)


def dart_names(side: str, count: int) -> list[str]:
    """Names of the darts of a piece, from the centre out."""
    return [f"inner {side} dart", f"outer {side} dart"] if count > 1 else [f"{side} dart"][:count]


def make_pieces(back: Quarter, front: Quarter) -> tuple[Piece, Piece]:
    """Back and front, waist trued over darts and side seam.

    The back has a seam at the centre, where the skirt opens; the front lies on the fold.
    """
    behind, before = waists(back, front)
    return _back(back, behind), _front(front, before[::-1])


def _back(quarter: Quarter, waist: Sequence[Curve]) -> Piece:
    """`waist`: its stretches from the centre out, each running out."""
    waist = [curve.reversed() for curve in waist]
    edges = [Edge("back waist", waist[0], "waist")]
    darts = []
    placed = zip(dart_names("back", len(waist) - 1), quarter.darts, strict=True)
    for i, (name, dart) in enumerate(placed, start=1):
        mouth = roof_between(dart.apex, waist[i], waist[i - 1], "end")
        darts.append(Dart(name, dart.apex, f"{name} mouth", "end", PRESSED))
        edges = [
            Edge("back waist", waist[i], "waist"), Edge(f"{name} mouth", mouth, "dart"), *edges
        ]  # fmt: skip
    below, hem = quarter.below_hip(), quarter.hem()
    side = join([below.reversed(), quarter.side_spline().curve().reversed()])
    low, high = _grain(quarter)
    return Piece(
        "back",
        (
            Edge("back hem", hem, "hem"),
            Edge("back side", side),
            *edges,
            Edge("centre back", line(waist[0].end, hem.start)),
        ),
        grain=(low, high),
        label_at=_label(quarter),
        cut=2,
        mirrored=True,
        darts=tuple(darts),
        notches=(Notch(HIP_NOTCH, "back side", below.length),),
        guides=(Guide("hip line", line(Point(0.0, -quarter.depth), quarter.side_hip)),),
    )


def _front(quarter: Quarter, waist: Sequence[Curve]) -> Piece:
    """`waist`: its stretches from the centre out, each running in."""
    waist = [curve.reversed().moved(MIRROR) for curve in waist]
    edges = [Edge("front waist", waist[0], "waist")]
    darts = []
    placed = zip(dart_names("front", len(waist) - 1), quarter.darts, strict=True)
    for i, (name, dart) in enumerate(placed, start=1):
        apex = MIRROR(dart.apex)
        mouth = roof_between(apex, waist[i - 1], waist[i], "start")
        darts.append(Dart(name, apex, f"{name} mouth", "start", PRESSED))
        edges += [Edge(f"{name} mouth", mouth, "dart"), Edge("front waist", waist[i], "waist")]
    hem = quarter.hem().moved(MIRROR).reversed()
    above, below = quarter.side_spline().curve(), quarter.below_hip()
    low, high = _grain(quarter)
    return Piece(
        "front",
        (
            Edge("front hem", hem, "hem"),
            Edge("centre front", line(hem.end, waist[0].start), "fold"),
            *edges,
            Edge("front side", join([above, below]).moved(MIRROR)),
        ),
        grain=(MIRROR(low), MIRROR(high)),
        label_at=MIRROR(_label(quarter)),
        darts=tuple(darts),
        notches=(Notch(HIP_NOTCH, "front side", above.length),),
        guides=(Guide("hip line", line(MIRROR(quarter.side_hip), Point(0.0, -quarter.depth))),),
    )


def _grain(quarter: Quarter) -> tuple[Point, Point]:
    """Near the centre: that part stays where it is when darts are closed into the hem."""
    x = quarter.hip / 8.0
    return Point(x, -0.92 * quarter.length), Point(x, -0.3 * quarter.length)


def _label(quarter: Quarter) -> Point:
    return Point(0.55 * quarter.hip, -0.5 * (quarter.depth + quarter.length))
