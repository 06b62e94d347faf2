"""A quarter of a darted skirt, and the back and front made of two of them.

A quarter is drawn with its centre at x = 0 and its side seam to the right.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from blockwright import (
    Affine,
    Curve,
    Dart,
    Draft,
    Edge,
    FairSpline,
    GeometryError,
    Guide,
    Notch,
    Part,
    Piece,
    Point,
    arc_between,
    fair_spline,
    join,
    line,
    roof_between,
    true_line,
)
from blockwright_skirt.skirt import HIP_NOTCH

MIRROR = Affine(a=-1.0)
PRESSED = "pressed to the centre"

# At the waist the side seam leans so much more than its chord does as the chord leans more than
# the seam at the hip.  At a half the fair curve would be straight at the waist, at one it would be
# an arc; a little over a half keeps it full all the way.
SIDE_FULLNESS = 0.6
# A seam that turns outward into a flare is rounded over so much either way, mm, or half its length
# in all where it is short: a corner would not lie flat.  And it flares by at most half a square,
# or a piece would be wider than it is long.  Common practice, no source.
ROUNDING, MOST_FLARE = 60.0, math.pi / 4.0
# So much longer than its chord is an arc square to the sides of such a flare, at most.
LONGEST_ARC = MOST_FLARE / math.sin(MOST_FLARE)


@dataclass(frozen=True, slots=True)
class WaistDart:
    """A dart of a quarter, by places: its point, and the ends of its legs at the waist."""

    apex: Point
    inner: Point
    outer: Point

    def closed_inward(self) -> Affine:
        """Turns what lies beyond the dart so that its outer leg comes on its inner one."""
        return Affine.laying(self.apex, self.outer, self.apex, self.inner)


@dataclass(frozen=True, slots=True)
class Flare:
    """How a seam runs down from a place: from one lean into another, rounded, then straight.

    `first`, `last`: leans outward going down, radians; `rounding`: length of the tangents of the
    arc between them, mm, 0 where there is none; `straight`: from there to the hem, mm; `sweep`:
    how wide the hem is from where it leaves the level to the seam, mm.
    """

    first: float
    last: float
    rounding: float
    straight: float
    sweep: float

    @staticmethod
    def to(out: float, drop: float, width: float, first: float) -> Flare:
        """The flare that ends `out` mm further out than it begins, `drop` mm lower at the middle.

        `first`: the lean it comes down with, at most.  Where that is less than it needs, it is
        rounded into the flare; where it is more, the seam comes down in the flare's own lean.
        `width`: as in `flare_lean`, whose GeometryError it raises.
        """
        lean = flare_lean(drop, width, out)
        sweep = width + out
        rounding = min(ROUNDING, drop / 4.0) if first < lean else 0.0
        if rounding:
            step = down(first) * rounding
            drop, width, out = drop + step.y, width + step.x, out - step.x
            lean = flare_lean(drop, width, out)
        slant = (drop - sweep * math.tan(lean / 2.0)) / math.cos(lean)
        return Flare(min(first, lean), lean, rounding, slant - rounding, sweep)

    def seam(self, begin: Point) -> list[Curve]:
        """The seam from where it begins to the hem."""
        if not self.rounding:
            return [line(begin, begin + down(self.last) * self.straight)]
        after = begin + (down(self.first) + down(self.last)) * self.rounding
        return [
            arc_between(begin, after, self.last - self.first),
            line(after, after + down(self.last) * self.straight),
        ]


@dataclass(frozen=True, slots=True)
class Quarter:
    """A quarter: waist, side and hem, mm.

    `hip`: its width at the hip line; `taken`: how far the side seam moves in from there to the
    waist; `rise`: how far its end lies over the centre waist; `depth` of the hip line and
    `length` at the centre; `intake` of each dart, and `dart_lengths` from the centre out.
    """

    hip: float
    taken: float
    rise: float
    depth: float
    length: float
    intake: float
    dart_lengths: tuple[float, ...]
    flare: Flare

    @property
    def side_waist(self) -> Point:
        """The end of the waist at the side."""
        return Point(self.hip - self.taken, self.rise)

    @property
    def side_hip(self) -> Point:
        """The hip line at the side."""
        return Point(self.hip, -self.depth)

    @property
    def darts(self) -> list[WaistDart]:
        """Darts that divide the line from centre to side waist equally, square to it.

        Their legs are equal by construction: the point lies on the middle line of the mouth.
        Source: a published draft has two back darts at the thirds of the waist (see the tests).
        """
        side = self.side_waist
        way = side.unit()
        half = way * (self.intake / 2.0)
        parts = len(self.dart_lengths) + 1
        middles = [side * (i / parts) for i in range(1, parts)]
        return [
            WaistDart(middle - way.left() * long, middle - half, middle + half)
            for middle, long in zip(middles, self.dart_lengths, strict=True)
        ]

    @property
    def openings(self) -> list[float]:
        """The angle of each dart, radians."""
        return [2.0 * math.atan(self.intake / 2.0 / long) for long in self.dart_lengths]

    @property
    def side_way(self) -> Point:
        """Direction of the side seam at the waist, going down."""
        chord = self.side_hip - self.side_waist
        return down(side_lean(math.atan2(chord.x, -chord.y), self.flare.first))

    def side_spline(self) -> FairSpline:
        """The side seam from waist to hip, not yet drawn."""
        return fair_spline([self.side_waist, self.side_hip], self.side_way, down(self.flare.first))

    def below_hip(self) -> Curve:
        """The side seam from hip to hem."""
        return join(self.flare.seam(self.side_hip))

    def hem(self) -> Curve:
        """The hem from the centre: level, then an arc that meets the side seam square."""
        start, end = Point(0.0, -self.length), self.below_hip().end
        if not self.flare.last:
            return line(start, end)
        leaves = Point(end.x - self.flare.sweep, start.y)
        return join([line(start, leaves), arc_between(leaves, end, self.flare.last)])


def side_lean(chord: float, below: float) -> float:
    """How far a seam leans at the waist, radians, outward going down.

    Its chord from there to the hip leans by `chord`, the seam at the hip by `below`.
    """
    return chord + SIDE_FULLNESS * (chord - below)


def flare_or_refuse(
    d: Draft, says: str, check: Sequence[str], out: float, drop: float, width: float, first: float
) -> Flare:
    """`Flare.to` of these, refused with what `says` and `check`, as in `d.require`."""
    try:
        return Flare.to(out, drop, width, first)
    except GeometryError:
        d.require(False, says, check=check)
        raise


def flare_lean(drop: float, width: float, out: float) -> float:
    """How far a seam leans outward, radians, to end `out` mm further out at the hem.

    `drop`: from where it leans to the hem at the middle, mm; `width`: from where the hem leaves
    the level to the straight fall of the seam, mm.  The hem is an arc that ends square to the
    seam, so its end lies higher than its middle; that makes a quadratic in the tangent of half
    the lean.  Raises GeometryError for more than half a square.
    """
    square = drop * drop - out * (out + 2.0 * width)
    lean = 2.0 * math.atan(out / (drop + math.sqrt(square))) if square >= 0.0 else math.inf
    if lean > MOST_FLARE:
        raise GeometryError(f"a flare of {out:.0f} mm is too much")
    return lean


def waist_parts(back: Quarter, front: Quarter) -> tuple[list[Part], list[Part]]:
    """The stretches of waist of back and front, with how they lie when all is sewn.

    Darts are closed one after another, the front's side seam is laid on the back's, and the front
    is mirrored, so that the waist runs from centre back to centre front.
    """
    behind = []
    begin, lay = Point(0.0, 0.0), Affine()
    for dart in back.darts:
        behind.append(Part([begin, dart.inner], lay))
        begin, lay = dart.outer, dart.closed_inward().then(lay)
    side = back.side_waist
    behind.append(Part([begin, side], lay))

    before = []
    begin, way = MIRROR(front.side_waist), MIRROR(front.side_way)
    onto = Affine.laying(begin, begin + way, lay(side), lay(side + back.side_way))
    begin, lay = front.side_waist, MIRROR.then(onto)
    for dart in reversed(front.darts):
        before.append(Part([begin, dart.outer], lay))
        begin, lay = dart.inner, dart.closed_inward().inverse().then(lay)
    before.append(Part([begin, Point(0.0, 0.0)], lay))
    return behind, before


def waists(back: Quarter, front: Quarter) -> tuple[tuple[Curve, ...], tuple[Curve, ...]]:
    """The waist of back and front, a curve for every stretch, each on its flat quarter.

    They run from centre back to centre front: on the back outward, on the front inward.
    """
    behind, before = waist_parts(back, front)
    curves = true_line([*behind, *before], *_square(before[-1]))
    return curves[: len(behind)], curves[len(behind) :]


def waist_length(back: Quarter, front: Quarter) -> float:
    """Length of the sewn waist from centre to centre, mm."""
    behind, before = waist_parts(back, front)
    parts = [*behind, *before]
    places = [Point(0.0, 0.0), *(part.lay(part.marks[1]) for part in parts)]
    return fair_spline(places, *_square(parts[-1])).length


def _square(last: Part) -> tuple[Point, Point]:
    """Directions of the sewn waist at centre back and centre front: square to the centres."""
    return Point(1.0, 0.0), last.lay(Point(-1.0, 0.0)) - last.lay(Point(0.0, 0.0))


def down(lean: float) -> Point:
    """Downward, leaning to the right by so many radians."""
    return Point(math.sin(lean), -math.cos(lean))


# -- back and front ------------------------------------------------------------------------------


def dart_names(side: str, count: int) -> list[str]:
    """Names of the darts of a piece, from the centre out."""
    return [f"inner {side} dart", f"outer {side} dart"] if count > 1 else [f"{side} dart"][:count]


def make_pieces(back: Quarter, front: Quarter) -> tuple[Piece, Piece]:
    """Back and front, waist trued over darts and side seam.

    The back has a seam at the centre, where the skirt opens; the front lies on the fold.
    """
    behind, before = waists(back, front)
    return _piece("back", back, behind), _piece("front", front, before[::-1])


def _piece(side: str, quarter: Quarter, waist: Sequence[Curve]) -> Piece:
    """A back as its quarter lies, or a front mirrored; `waist`: its stretches, centre to side."""
    lay, is_back = (Affine(), True) if side == "back" else (MIRROR, False)
    pressed: Literal["start", "end"] = "end" if is_back else "start"
    # Each stretch runs counter-clockwise round its piece: in on the back, out on the front.
    waist = [curve.reversed().moved(lay) for curve in waist]
    edges, darts = [Edge(f"{side} waist", waist[0], "waist")], []
    placed = zip(dart_names(side, len(waist) - 1), quarter.darts, strict=True)
    for i, (name, dart) in enumerate(placed, start=1):
        apex, inner, outer = lay(dart.apex), waist[i - 1], waist[i]
        before, after = (outer, inner) if is_back else (inner, outer)
        mouth = roof_between(apex, before, after, pressed)
        darts.append(Dart(name, apex, f"{name} mouth", pressed, PRESSED))
        edges += [Edge(f"{name} mouth", mouth, "dart"), Edge(f"{side} waist", waist[i], "waist")]
    hem = quarter.hem().moved(lay)
    above, below = quarter.side_spline().curve().moved(lay), quarter.below_hip().moved(lay)
    hip = lay(quarter.side_hip), Point(0.0, -quarter.depth)
    x, low, high = quarter.hip / 8.0, -0.92 * quarter.length, -0.3 * quarter.length
    if is_back:
        outline = (
            Edge("back hem", hem, "hem"),
            Edge("back side", join([below.reversed(), above.reversed()])),
            *reversed(edges),
            Edge("centre back", line(waist[0].end, hem.start)),
        )
    else:
        outline = (
            Edge("front hem", hem.reversed(), "hem"),
            Edge("centre front", line(hem.start, waist[0].start), "fold"),
            *edges,
            Edge("front side", join([above, below])),
        )
    return Piece(
        side,
        outline,
        # Near the centre: that part stays where it is when darts are closed into the hem.
        grain=(lay(Point(x, low)), lay(Point(x, high))),
        label_at=lay(Point(0.55 * quarter.hip, -0.5 * (quarter.depth + quarter.length))),
        cut=2 if is_back else 1,
        mirrored=is_back,
        darts=tuple(darts),
        notches=(Notch(HIP_NOTCH, f"{side} side", (below if is_back else above).length),),
        guides=(Guide("hip line", line(*(hip[::-1] if is_back else hip))),),
    )
