"""Leave a dart unsewn and take its intake in at a seam."""

from __future__ import annotations

from dataclasses import replace

from blockwright.changes.change import changed
from blockwright.changes.turning import notches_shifted
from blockwright.curves.chain import join
from blockwright.curves.curve import Curve
from blockwright.curves.fair import fair_curve
from blockwright.curves.point import Point
from blockwright.errors import PatternError
from blockwright.pattern.pattern import Became, Lineage, Pattern
from blockwright.pattern.piece import Way
from blockwright.pattern.ref import Ref


def take_in(
    pattern: Pattern, piece: Ref | str, dart: str, seam: str, down: float
) -> tuple[Pattern, Lineage]:
    """Leave a dart unsewn and take its intake in at a seam instead.

    `seam` is an edge that meets the edge with the dart.  The edge with the dart becomes one fair
    line, as long as it was with the dart closed.  The end of the seam moves in with it.  The seam
    is drawn anew over `down` mm and runs on smoothly into the rest.  Notches on the new stretch are
    left out.

    Every promise of the pattern is carried, or given up and recorded.  A seam breaks until its
    other side is taken in as well.  Raises PatternError if there is no such piece, dart or seam,
    the dart is not the only one in an edge, or the seam is on the fold or does not meet that edge.
    Raises GeometryError if `down` is longer than the seam or no fair line can be drawn.

    Example:
        >>> from blockwright import Dart, Draft, Edge, Point, line, polyline, take_in
        >>> tip, a, b = Point(100, 200), Point(110, 300), Point(90, 300)
        >>> side = Edge("side", polyline([Point(200, 0), Point(200, 300)]))
        >>> right = Edge("waist", line(Point(200, 300), a), "waist")
        >>> mouth = Edge("mouth", polyline([a, b]), "dart")
        >>> left = Edge("waist", line(b, Point(0, 300)), "waist")
        >>> rest = Edge("rest", polyline([Point(0, 300), Point(0, 0), Point(200, 0)]))
        >>> dart = Dart("waist dart", tip, "mouth", "end", "pressed to the centre")
        >>> d, edges = Draft("test.skirt", "Skirt"), [side, right, mouth, left, rest]
        >>> skirt = d.piece("skirt", edges, darts=[dart])
        >>> slim, lineage = take_in(d.pattern(), "skirt", "waist dart", "side", 200.0)
        >>> round(slim.length("waist"), 1), round(slim.edge("side").curve.end.x, 1)
        (180.0, 180.0)
    """
    old = pattern.piece(piece)
    found = old.dart(dart)
    before, after = old.before(found.mouth), old.after(found.mouth)
    edge = before.name
    if edge != after.name or len(old.darts_on(edge)) != 1:
        raise PatternError(
            f"dart {dart!r} is not the only one in an edge, so that there is no one line to draw "
            "in its place; close or move it first"
        )
    wanted = old.length(edge)
    marks = [before.curve.start, *_inner(before.curve), *_inner(after.curve), after.curve.end]
    whole = fair_curve(marks, before.curve.start_tangent, after.curve.end_tangent)
    follows = old.after(edge).name == seam
    if not follows and old.before(edge).name != seam:
        raise PatternError(f"{seam!r} does not meet {edge!r}")
    if old.edge(seam).role == "fold":
        raise PatternError(f"{seam!r} is on the fold and stays straight; choose another edge")
    long = old.edge(seam).curve
    if follows:
        kept, rest = whole.split_at(wanted)[0], long.split_at(down)[1]
        drawn = join([fair_curve([kept.end, rest.start], end=rest.start_tangent), rest])
    else:
        kept, rest = whole.split_at(whole.length - wanted)[1], long.split_at(long.length - down)[0]
        drawn = join([rest, fair_curve([rest.end, kept.start], start=rest.end_tangent)])
    fresh = (0.0, down) if follows else (long.length - down, long.length)
    lost = {n.name for n in old.notches if n.edge == seam and fresh[0] < n.along < fresh[1]}
    longer = drawn.length - long.length if follows else 0.0
    shifted = notches_shifted(old, seam, fresh[0], longer)
    made = replace(
        old,
        edges=tuple(
            replace(e, curve={edge: kept, seam: drawn}.get(e.name, e.curve))
            for e in old.edges
            if e is not after and e.name != found.mouth
        ),
        darts=tuple(each for each in old.darts if each is not found),
        notches=tuple(n for n in shifted if n.edge != seam or n.name not in lost),
    )
    refs = Ref(old.block, edge), Ref(old.block, seam)
    lineage = Lineage(
        pattern,
        edges={ref: Became((Way(ref),), drawn=True) for ref in refs},
        darts={(old.ref, dart): ()},
        notches=frozenset((refs[1], name) for name in lost),
    )
    values: dict[str, str | float] = {"piece": old.label, "dart": dart, "seam": seam, "down": down}
    return changed(lineage, {old.ref: [made]}, "take_in", values)


def _inner(curve: Curve) -> list[Point]:
    return [curve.point_at(curve.length * share) for share in (0.25, 0.75)]
