"""The waist: one line as sewn over closed darts and side seam, square to both centre seams."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from itertools import pairwise, zip_longest
from typing import Literal

from blockwright import (
    Affine,
    Curve,
    Dart,
    Edge,
    FairSpline,
    GeometryError,
    Point,
    fair_spline,
    on_line,
    points_on_line,
    roof_between,
)
from blockwright_trousers.fork import Crotch
from blockwright_trousers.half import Half, Leg, start_way
from blockwright_trousers.together import Broyden

# The side points are moved until every width and length is met to this, mm.
SETTLED = 1e-5
# Near enough to see how far the waist dips at the darts.
NEARLY = 0.5
MOST_ROUNDS = 60


@dataclass(frozen=True, slots=True)
class DartPlan:
    """The darts of a half: how many, and intake and length of each, mm."""

    count: int
    intake: float
    length: float

    @property
    def leg(self) -> float:
        """Length of either leg; `length` is that of the line midway between them."""
        return math.hypot(self.length, self.intake / 2.0)

    @property
    def opening(self) -> float:
        """Angle of a dart at its point, radians."""
        return 2.0 * math.atan(self.intake / 2.0 / self.length)


@dataclass(frozen=True, slots=True)
class Top:
    """A half above its hip line, before the side point of the waist is found."""

    crotch: Crotch
    leg: Leg
    hip: Point  # on the side seam
    darts: DartPlan
    width: float  # of the waist, darts closed, mm
    dips: tuple[float, ...] = ()  # of the waist under the line from centre to side, at each dart

    @property
    def half(self) -> Half:
        """Front or back."""
        return self.crotch.half

    @property
    def guess(self) -> Point:
        """A guess at the side point of the waist: on the waist line, so far out as it is wide."""
        open_width = self.width + self.darts.count * self.darts.intake
        return self.half.at(self.half.reach(self.crotch.top) - open_width, 0.0)

    def shares(self, side: Point) -> list[float]:
        """Where the darts lie, as shares of the waist from the centre seam.

        On a front the first lies on the crease and a second half way from it to the side; on a
        back they divide the waist equally.  Source: thirds of the back waist, a published lesson.
        """
        count = self.darts.count
        if self.half.inward < 0.0:
            return [(i + 1) / (count + 1) for i in range(count)]
        top = self.crotch.top
        crease = top.x / (top.x - side.x)
        return [crease, (1.0 + crease) / 2.0][:count]

    def closed(self, side: Point) -> Closed:
        """The half with its darts closed, for a side point of the waist."""
        top, darts = self.crotch.top, self.darts
        upward = (side - top).unit().left() * -self.half.inward
        turn = -self.half.inward * darts.opening if darts.count else 0.0
        maps = [Affine()]
        apexes = []
        for share, dip in zip_longest(self.shares(side), self.dips, fillvalue=0.0):
            apexes.append(top.between(side, share) - upward * (darts.length + dip))
            maps.append(Affine.turn(turn, apexes[-1]).then(maps[-1]))
        # Inner legs, as they lie flat.
        inner = upward.turned(turn / 2.0)
        return Closed(self, tuple(maps), tuple(apexes), inner, side, self.leg.side(side, self.hip))


@dataclass(frozen=True, slots=True)
class Closed:
    """A half with its darts closed: the part at the centre seam lies still, the rest is turned.

    `maps`: a turn for every part from the centre seam to the side; `inner`: direction of every
    dart's leg nearer the centre, going up.
    """

    top: Top
    maps: tuple[Affine, ...]
    apexes: tuple[Point, ...]
    inner: Point
    side: Point
    side_seam: FairSpline

    def laid_side(self) -> tuple[Point, Point]:
        """The side point and one below it on the side seam, as they lie closed."""
        last = self.maps[-1]
        return last(self.side), last(self.side + start_way(self.side_seam))

    def met(self, waist: Curve) -> list[float]:
        """Where the dart legs meet the waist, from the centre seam to the side, closed."""
        alongs: list[float] = []
        for apex, lay in zip(self.apexes, self.maps, strict=False):
            on, toward = lay(apex), lay(apex + self.inner)
            way = toward - on
            met = [s for s in on_line(waist, on, toward) if (waist.point_at(s) - on).dot(way) > 0.0]
            if not met or not (alongs or [0.0])[-1] < met[0] < waist.length:
                raise GeometryError("a dart misses the waist")
            alongs.append(met[0])
        return alongs

    def dipped(self, waist: Curve) -> Top:
        """The half with the points of its darts lowered until the legs are as long as wanted."""
        short = []
        for apex, lay in zip(self.apexes, self.maps, strict=False):
            on, toward = lay(apex), lay(apex + self.inner)
            way = toward - on
            legs = [(met - on).dot(way) for met in points_on_line([waist], on, toward)]
            ends = [leg for leg in legs if leg > 0.0]
            if not ends:
                raise GeometryError("a dart misses the waist")
            short.append(self.top.darts.leg - ends[0])
        return replace(self.top, dips=tuple(short))

    def cut(self, waist: Curve) -> Waist:
        """The waist, likewise, cut apart at the darts."""
        alongs = [0.0, *self.met(waist), waist.length]
        parts = [
            waist.part(a, b).moved(lay.inverse())
            for (a, b), lay in zip(pairwise(alongs), self.maps, strict=True)
        ]
        return self._edges(parts)

    def _edges(self, parts: Sequence[Curve]) -> Waist:
        name = f"{self.top.half.name} waist"
        edges = [Edge(name, parts[0], "waist")]
        darts = []
        for i, apex in enumerate(self.apexes):
            before, after = parts[i], parts[i + 1]
            which = f" {i + 1}" if len(self.apexes) > 1 else ""
            dart = f"{self.top.half.name} dart{which}"
            roof = roof_between(apex, before, after, "start")
            edges += [Edge(f"{dart} mouth", roof, "dart"), Edge(name, after, "waist")]
            # The fold is laid toward the centre.  A back is walked the other way round.
            pressed: Literal["start", "end"] = "start" if self.top.half.inward > 0.0 else "end"
            darts.append(Dart(dart, apex, f"{dart} mouth", pressed, "pressed to the centre"))
        return Waist(tuple(edges), tuple(darts))


@dataclass(frozen=True, slots=True)
class Waist:
    """The waist edges of a half with the dart mouths between them, from the centre to the side."""

    edges: tuple[Edge, ...]
    darts: tuple[Dart, ...]


@dataclass(frozen=True, slots=True)
class Sewn:
    """Front and back with darts closed and side seams laid together at the waist."""

    front: Closed
    back: Closed

    @property
    def lay(self) -> Affine:
        """Lays the closed front on the closed back."""
        return Affine.laying(*self.front.laid_side(), *self.back.laid_side())

    def waist(self) -> FairSpline:
        """From the centre back over the side seam to the centre front."""
        front, back, lay = self.front.top.crotch, self.back.top.crotch, self.lay
        side, _ = self.back.laid_side()
        arriving = lay(front.top) - lay(front.top + front.square)
        return fair_spline([back.top, side, lay(front.top)], back.square, arriving)

    def waists(self) -> tuple[Curve, Curve]:
        """The waists of front and back, each from its centre to the side as it lies closed."""
        waist = self.waist()
        front = waist.between(1, 2).moved(self.lay.inverse()).reversed()
        return front, waist.between(0, 1)

    def cut(self) -> tuple[Waist, Waist]:
        """The waists of front and back, on the flat pieces."""
        front, back = self.waists()
        return self.front.cut(front), self.back.cut(back)


def find_waist(front: Top, back: Top) -> Sewn:
    """Find the side points of the waist, and lower the darts to where the waist dips.

    The front one lies on the waist line; how far out each lies makes its waist as wide as
    wanted, and the height of the back one makes the side seams equally long.
    Raises GeometryError if there are none.
    """
    a, b = front.guess, back.guess
    moves = Broyden()
    if front.darts.count or back.darts.count:
        sewn = _settle(front, back, a, b, moves, NEARLY)
        in_front, behind = sewn.waists()
        front, back = sewn.front.dipped(in_front), sewn.back.dipped(behind)
        a, b = sewn.front.side, sewn.back.side
        moves.afresh()
    return _settle(front, back, a, b, moves, SETTLED)


def _settle(front: Top, back: Top, a: Point, b: Point, moves: Broyden, within: float) -> Sewn:
    """The side points within so much of what is wanted, mm, from a guess at both."""
    for _ in range(MOST_ROUNDS):
        sewn = Sewn(front.closed(a), back.closed(b))
        back_span, front_span = sewn.waist().spans
        short = (
            front.width - front_span.length,
            back.width - back_span.length,
            sewn.front.side_seam.length - sewn.back.side_seam.length,
        )
        if max(map(abs, short)) < within:
            return sewn
        wider_front, wider_back, higher_back = moves.step(short)
        a += front.half.at(-wider_front, 0.0)
        b += back.half.at(-wider_back, higher_back)
    raise GeometryError("the side points of the waist cannot be found")
