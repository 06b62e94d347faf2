"""Close a dart and let another edge spread by as much."""

from __future__ import annotations

from dataclasses import replace

from blockwright.changes.change import changed
from blockwright.changes.turning import Turning, notches_shifted
from blockwright.curves.chain import join
from blockwright.curves.primitives import arc_between
from blockwright.pattern.pattern import Became, Lineage, Pattern
from blockwright.pattern.piece import Way
from blockwright.pattern.ref import Ref


def spread(
    pattern: Pattern, piece: Ref | str, dart: str, edge: str, along: float, *, share: float = 1.0
) -> tuple[Pattern, Lineage]:
    """Close a dart, or `share` of it, and let another edge spread by as much.

    It turns the cloth as `move_dart` does, but fills the gap with cloth.  Where `edge` opened it
    gets an arc about the point of the dart, and runs on smoothly if the slash was square to it.
    `along` is in mm from the start of the edge with its darts closed.  `share` is more than 0 and
    at most 1.

    Every promise of the pattern is carried.  A width that was asked for grows by the cloth that is
    let in.  A seam keeps its ease, so it breaks until its other side is as long.  Raises the errors
    of `move_dart`.
    Source: common practice, no source (slash and turn about the dart's point).

    Example:
        >>> from blockwright import Dart, Draft, Edge, Point, line, polyline, spread
        >>> tip, a, b = Point(100, 150), Point(110, 300), Point(90, 300)
        >>> hem = Edge("hem", line(Point(0, 0), Point(200, 0)), "hem")
        >>> right = Edge("right", polyline([Point(200, 0), Point(200, 300), a]))
        >>> mouth = Edge("mouth", polyline([a, b]), "dart")
        >>> left = Edge("left", polyline([b, Point(0, 300), Point(0, 0)]))
        >>> dart = Dart("waist dart", tip, "mouth", "end", "pressed to the centre")
        >>> d, edges = Draft("test.skirt", "Skirt"), [hem, right, mouth, left]
        >>> skirt = d.piece("skirt", edges, darts=[dart], grain=(Point(50, 20), Point(50, 250)))
        >>> wide, lineage = spread(d.pattern(), "skirt", "waist dart", "hem", 100.0)
        >>> round(wide.length("hem"), 1)
        220.0
    """
    old = pattern.piece(piece)
    turning = Turning(old, dart, edge, along, share, filled=True)
    before, after = turning.opened
    bridge = arc_between(before.end, after.start, turning.angle)
    made = turning.piece([replace(turning.edge, curve=join([before, bridge, after]))])
    made = replace(made, notches=notches_shifted(old, edge, along, bridge.length))
    ref = Ref(old.block, edge)
    lineage = Lineage(
        pattern,
        edges={ref: Became((Way(ref),), bridge.length, along)},
        cloths={old.ref: turning},
        darts={(old.ref, dart): (dart,) if share < 1.0 else ()},
    )
    values: dict[str, str | float] = {
        "piece": old.label, "dart": dart, "edge": edge, "along": along, "share": share,
    }  # fmt: skip
    return changed(lineage, {old.ref: [made]}, "spread", values)
