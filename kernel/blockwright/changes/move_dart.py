"""Move a dart, or a share of it, to another place."""

from __future__ import annotations

from typing import Literal

from blockwright.changes.change import changed
from blockwright.changes.turning import Turning
from blockwright.curves.primitives import line
from blockwright.errors import PatternError
from blockwright.pattern.pattern import Lineage, Pattern
from blockwright.pattern.piece import Dart, Edge
from blockwright.pattern.ref import Ref

Pressed = Literal["start", "end"]


def move_dart(
    pattern: Pattern,
    piece: Ref | str,
    dart: str,
    edge: str,
    along: float,
    *,
    pressed: Pressed,
    says: str,
    name: str = "",
    share: float = 1.0,
) -> tuple[Pattern, Lineage]:
    """Close a dart, or `share` of it, and open as much at another place.

    The piece is slashed from the point of the dart to the place `along` mm from the start of
    `edge`, measured with the darts of the edge closed.  The cloth between is turned about the
    point.  The edge keeps its name and has one more dart in it, with the mouth cut as the dart is
    `pressed`.  A dart that is moved whole keeps its name unless another `name` is given.  With a
    share under 1 the old dart stays, narrower, and the new dart has the `name` given.  `pressed`
    and `says` are those of the new dart; see `Dart`.

    Every promise of the pattern is carried, or given up and recorded.  Raises PatternError if
    there is no such piece, dart or edge, the edge is on the fold, `share` is not more than 0 and at
    most 1, `pressed` is not 'start' or 'end', or another dart has the name.  Raises GeometryError
    if the place is not inside the edge, the slash leaves the piece or crosses a dart, a mouth is
    wider than the edge it is pressed over, or cloth would lie over cloth.
    Source: common practice, no source (slash and turn about the dart's point).

    Example:
        >>> from blockwright import Dart, Draft, Edge, Point, distance, line, move_dart, polyline
        >>> tip, a, b = Point(100, 150), Point(110, 300), Point(90, 300)
        >>> side = Edge("side", line(Point(200, 0), Point(200, 300)))
        >>> right = Edge("waist", line(Point(200, 300), a), "waist")
        >>> mouth = Edge("mouth", polyline([a, b]), "dart")
        >>> left = Edge("waist", line(b, Point(0, 300)), "waist")
        >>> rest = Edge("rest", polyline([Point(0, 300), Point(0, 0), Point(200, 0)]))
        >>> dart = Dart("bust dart", tip, "mouth", "end", "pressed to the centre")
        >>> d, edges = Draft("test.front", "Front"), [side, right, mouth, left, rest]
        >>> front = d.piece("front", edges, darts=[dart], grain=(Point(50, 20), Point(50, 250)))
        >>> moved, lineage = move_dart(d.pattern(), "front", "bust dart", "side", 150.0,
        ...     pressed="start", says="pressed down")
        >>> piece = moved.piece("front")
        >>> [edge.name for edge in piece.edges]
        ['side', 'mouth', 'side', 'waist', 'rest']
        >>> round(distance(*piece.dart_legs(piece.dart("bust dart"))), 1)
        13.3
    """
    old = pattern.piece(piece)
    name = name or (dart if share == 1.0 else "")
    others = [each.name for each in old.darts if each.name != dart or share != 1.0]
    if not name or name in others:
        what = f"two darts would be called {name!r}" if name else "the new dart has no name"
        raise PatternError(f"move_dart: {what}; give name=")
    turning = Turning(old, dart, edge, along, share, filled=False)
    before, after = turning.opened
    role = turning.edge.role
    called = old.dart(dart).mouth if name == dart else f"{name} mouth"
    if called != old.dart(dart).mouth and called in old.edge_names():
        raise PatternError(f"move_dart: an edge is called {called!r}; give another name=")
    mouth = Edge(called, line(before.end, after.start), "dart")
    opened = Dart(name, turning.apex, mouth.name, pressed, says)
    made = turning.piece([Edge(edge, before, role), mouth, Edge(edge, after, role)], opened)
    names = (name,) if share == 1.0 else (dart, name)
    lineage = Lineage(pattern, cloths={old.ref: turning}, darts={(old.ref, dart): names})
    values: dict[str, str | float] = {
        "piece": old.label, "dart": dart, "edge": edge, "along": along,
        "name": name, "pressed": pressed, "says": says, "share": share,
    }  # fmt: skip
    return changed(lineage, {old.ref: [made]}, "move_dart", values)
