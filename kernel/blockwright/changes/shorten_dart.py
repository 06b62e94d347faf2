"""Draw the point of a dart back toward its mouth."""

from __future__ import annotations

from dataclasses import replace

from blockwright.changes.change import changed
from blockwright.curves.point import distance
from blockwright.errors import GeometryError
from blockwright.pattern.dart import roof_between
from blockwright.pattern.pattern import Lineage, Pattern
from blockwright.pattern.ref import Ref


def shorten_dart(
    pattern: Pattern, piece: Ref | str, dart: str, by: float
) -> tuple[Pattern, Lineage]:
    """Draw the point of a dart back toward its mouth, by `by` mm along the middle of the dart.

    `by` is more than 0 and less than the depth of the dart.  Legs that were equal stay equal, and
    the mouth is cut anew.  Every promise of the pattern is carried.  A shorter dart has a wider
    angle, so its edge gets a slight corner there, and a promised corner may break.

    Raises PatternError if there is no such piece or dart, and GeometryError if `by` is not in that
    range or the mouth is wider than the edge it is pressed over.

    Example:
        >>> from blockwright import Dart, Draft, Edge, Point, polyline, shorten_dart
        >>> tip, a, b = Point(100, 200), Point(110, 300), Point(90, 300)
        >>> mouth = Edge("mouth", polyline([a, b]), "dart")
        >>> rest = Edge("rest", polyline([b, Point(0, 300), Point(0, 0), Point(200, 300), a]))
        >>> dart = Dart("waist dart", tip, "mouth", "end", "pressed to the centre")
        >>> d = Draft("test.front", "Front")
        >>> front = d.piece("front", [mouth, rest], darts=[dart])
        >>> short, lineage = shorten_dart(d.pattern(), "front", "waist dart", 30.0)
        >>> round(short.piece("front").dart("waist dart").apex.y, 1)
        230.0
    """
    old = pattern.piece(piece)
    found = old.dart(dart)
    start, end = old.dart_legs(found)
    middle = start.between(end, 0.5)
    deep = distance(found.apex, middle)
    if not 0.0 < by < deep:
        raise GeometryError(
            f"{dart} cannot be shortened by {by:.1f} mm; give more than 0 and less than the "
            f"{deep:.1f} mm it is deep"
        )
    shorter = replace(found, apex=found.apex.between(middle, by / deep))
    before, after = old.before(found.mouth).curve, old.after(found.mouth).curve
    roof = roof_between(shorter.apex, before, after, shorter.pressed)
    made = replace(
        old,
        edges=tuple(replace(e, curve=roof) if e.name == found.mouth else e for e in old.edges),
        darts=tuple(shorter if each is found else each for each in old.darts),
    )
    values: dict[str, str | float] = {"piece": old.label, "dart": dart, "by": by}
    return changed(Lineage(pattern), {old.ref: [made]}, "shorten_dart", values)
