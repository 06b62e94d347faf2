"""The waist: one line as sewn over closed darts and side seam, square to both centre seams."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from functools import cache
from itertools import pairwise, zip_longest
from typing import Literal

from blockwright import (
    Affine,
    Curve,
    Dart,
    Draft,
    Edge,
    FairSpline,
    GeometryError,
    Point,
    fair_spline,
    on_line,
    points_on_line,
    roof_between,
    solve_many,
)
from blockwright_trousers.body import TrousersBody
from blockwright_trousers.fork import Crotch
from blockwright_trousers.leg import Half, Leg, start_way

# Near enough to see how far the waist dips at the darts, mm.
NEARLY = 0.5
# What the darts take of what the waist is narrower than the hip, beside the leaning centre back:
# on the published draft 2 of 6.75 cm at the front, 4 of 5.75 at the back.
TAKEN_IN = {"front": 2.0 / 6.75, "back": 4.0 / 5.75}
# How long they are, as a share of the way to the hip line: 10 cm of 20.6 at the front as published.
DOWN = {"front": 0.485, "back": 0.6}
# Less than this is not worth a dart, more is worth two; mm.
LEAST_DART, MOST_OF_ONE = 8.0, 25.0
# A dart shorter than four times its intake opens wider than 14 degrees and pokes; the side seam
# takes the rest.  Common practice, no source.
WIDEST_DART = 0.25

Waist = tuple[tuple[Edge, ...], tuple[Dart, ...]]
"""The waist edges of a half with the dart mouths between them, centre to side; and the darts."""


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
    def guess(self) -> float:
        """How far out from the crease its side point may lie: so far as the waist is wide."""
        open_width = self.width + self.darts.count * self.darts.intake
        return open_width - self.half.reach(self.crotch.top)

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
        dips = []
        for apex, lay in zip(self.apexes, self.maps, strict=False):
            on, toward = lay(apex), lay(apex + self.inner)
            places = points_on_line([waist], on, toward)
            legs = [leg for place in places if (leg := (place - on).dot(toward - on)) > 0.0]
            if not legs:
                raise GeometryError("a dart misses the waist")
            dips.append(self.top.darts.leg - legs[0])
        return replace(self.top, dips=tuple(dips))

    def cut(self, waist: Curve) -> Waist:
        """The waist, likewise, cut apart at the darts."""
        alongs = [0.0, *self.met(waist), waist.length]
        first, *rest = (
            waist.part(a, b).moved(lay.inverse())
            for (a, b), lay in zip(pairwise(alongs), self.maps, strict=True)
        )
        half, before = self.top.half, first
        edges, darts = [Edge(f"{half.name} waist", first, "waist")], []
        # The fold is laid toward the centre.  A back is walked the other way round.
        pressed: Literal["start", "end"] = "start" if half.inward > 0.0 else "end"
        for i, (apex, after) in enumerate(zip(self.apexes, rest, strict=True), start=1):
            dart = f"{half.name} dart" + (f" {i}" if len(rest) > 1 else "")
            roof = roof_between(apex, before, after, "start")
            edges += [
                Edge(f"{dart} mouth", roof, "dart"), Edge(f"{half.name} waist", after, "waist")
            ]  # fmt: skip
            darts.append(Dart(dart, apex, f"{dart} mouth", pressed, "pressed to the centre"))
            before = after
        return tuple(edges), tuple(darts)


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

    @property
    def sizes(self) -> tuple[float, float, float]:
        """Widths of front and back waist, and how much longer the back side seam is, mm."""
        behind, before = self.waist().spans
        longer = self.back.side_seam.length - self.front.side_seam.length
        return before.length, behind.length, longer

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
    places: tuple[float, ...] = front.guess, back.guess, 0.0
    if front.darts.count or back.darts.count:
        sewn, places = _settle(front, back, places, settled=NEARLY)
        in_front, behind = sewn.waists()
        front, back = sewn.front.dipped(in_front), sewn.back.dipped(behind)
    return _settle(front, back, places)[0]


def _settle(
    front: Top, back: Top, places: tuple[float, ...], **how: float
) -> tuple[Sewn, tuple[float, ...]]:
    """The halves sewn, and how far out front and back end and how high the back does, mm."""

    @cache
    def sewn(places: tuple[float, ...]) -> Sewn:
        front_side = front.half.at(-places[0], 0.0)
        return Sewn(front.closed(front_side), back.closed(back.half.at(-places[1], places[2])))

    wanted = front.width, back.width, 0.0
    found = solve_many(lambda at: sewn(at).sizes, wanted, places, rates=(1.0, 1.0, 1.0), **how)
    return sewn(found), found


def plan_darts(d: Draft, block: TrousersBody, half: str, spare: float, deepest: float) -> DartPlan:
    """The darts of a half.

    `spare`: what its waist is narrower than its hip, beside the leaning centre; `deepest`: waist
    to hip line; mm.
    """
    wanted = TAKEN_IN[half] * spare
    count: int | None = block.values[f"{half}_darts"]
    intake: float | None = block.values[f"{half}_dart_intake"]
    length: float = block.values[f"{half}_dart_length"] or DOWN[half] * deepest
    number = (wanted > LEAST_DART) + (wanted > MOST_OF_ONE) if count is None else count
    if not number:
        _check_no_darts(d, block, half)
        return DartPlan(0, 0.0, length)
    d.require(
        intake is not None or wanted > 0.0,
        f"{half}_darts is {count}, but waist_girth {d.say(block.waist)} leaves nothing to take in "
        f"from hip_girth {d.say(block.hip)}",
        do=f"give {half}_dart_intake, or no darts",
    )
    if intake is None:
        intake = min(wanted / number, WIDEST_DART * length)
    d.require(
        2.0 * intake <= length <= deepest,
        f"{half} darts of {d.say(length)} taking in {d.say(intake)} each are not between twice "
        f"that and the hip line {d.say(deepest)} down",
        do=f"set {half}_dart_length, {half}_dart_intake or {half}_darts, or check waist_to_hip",
    )
    return DartPlan(number, intake, length)


def _check_no_darts(d: Draft, block: TrousersBody, half: str) -> None:
    """Refuse the size of darts where there are none."""
    why = "is 0" if block.values[f"{half}_darts"] == 0 else "comes to 0 for this body"
    for name in (f"{half}_dart_intake", f"{half}_dart_length"):
        size: float | None = block.values[name]
        d.require(
            size is None,
            f"{name} {d.say(size or 0.0)} has no effect: {half}_darts {why}",
            do=f"leave {name} out, or set {half}_darts to 1 or 2",
        )
