"""The pieces of trousers, drawn from the lines that were found."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace

from blockwright import (
    Curve,
    Edge,
    Guide,
    Notch,
    Piece,
    Point,
    arc_between,
    distance,
    join,
    line,
)
from blockwright_trousers.fork import Crotch
from blockwright_trousers.half import BACK, Leg, at_level
from blockwright_trousers.waist import Closed, Waist


@dataclass(frozen=True, slots=True)
class Levels:
    """Heights of the lines, mm; the waist line is 0."""

    hip: float
    crotch: float
    knee: float
    hem: float


@dataclass(frozen=True, slots=True)
class HipLine:
    """The hip line of a half: its crotch, its side end, and the width of its cloth, mm."""

    crotch: Crotch
    side: Point
    cloth: float

    @property
    def width(self) -> float:
        """From the upright of the fork to the side."""
        return distance(self.side, Point(self.crotch.start.x, self.side.y))

    @property
    def inner(self) -> Point:
        """Its end on the crotch seam."""
        return Point(self.side.x + self.crotch.half.at(self.cloth, 0.0).x, self.side.y)

    @property
    def centre_lean(self) -> float:
        """How far the centre line leans to the side at the waist."""
        return self.crotch.half.reach(self.crotch.start) - self.crotch.half.reach(self.crotch.top)


@dataclass(frozen=True, slots=True)
class Lines:
    """All that one half is drawn from."""

    at: Levels
    leg: Leg
    hip: HipLine
    crotch: Curve  # from the tip of the fork to the waist
    inside: Curve  # the inside leg from the tip to the knee
    side: Closed
    hip_along: float  # where the hip notch lies on the side seam, from the waist, mm
    waist: Waist


def draw(lines: Lines) -> Piece:
    """The piece of a half.

    Edges are set out as they follow each other on a front and turned round for a back.
    """
    leg, at, half = lines.leg, lines.at, lines.leg.half
    lower = line(leg.place("knee", 1.0), leg.place("hem", 1.0))
    outer = line(leg.place("knee", -1.0), leg.place("hem", -1.0))
    hem = arc_between(outer.end, lower.end, -2.0 * half.inward * _lean(leg))
    low = max(at.hem, hem.point_at(hem.length / 2.0).y)
    seam = lines.side.side_seam
    edges = [
        Edge(f"{half.name} hem", hem, "hem"),
        Edge(f"{half.name} inside leg", join([lower.reversed(), lines.inside.reversed()])),
        Edge(f"{half.name} crotch", lines.crotch),
        *lines.waist.edges,
        Edge(f"{half.name} side", join([seam.curve(), outer])),
    ]
    notches = [
        ("inside knee notch", edges[1], lower.length),
        ("hip notch", edges[-1], lines.hip_along),
        ("side knee notch", edges[-1], seam.length),
    ]
    if half is BACK:
        notches = [(name, edge, edge.curve.length - along) for name, edge, along in notches]
        edges = [replace(edge, curve=edge.curve.reversed()) for edge in reversed(edges)]
    return Piece(
        half.name,
        tuple(edges),
        grain=(Point(0.0, 0.9 * low + 0.1 * at.knee), Point(0.0, 0.3 * at.knee + 0.7 * at.hip)),
        label_at=half.at(0.4 * leg.knee, 0.6 * at.crotch + 0.4 * at.knee),
        cut=2,
        mirrored=True,
        darts=lines.waist.darts,
        notches=tuple(Notch(name, edge.name, along) for name, edge, along in notches),
        guides=tuple(_guides(lines, seam.curve())),
    )


def _lean(leg: Leg) -> float:
    """How far both seams lean in going down to the hem, radians; the hem is square to them."""
    down = leg.down(1.0)
    return math.atan2(-leg.half.reach(down), -down.y)


def _guides(lines: Lines, side: Curve) -> Iterator[Guide]:
    leg, at = lines.leg, lines.at
    yield Guide("hip line", line(lines.hip.inner, lines.hip.side))
    upright = Point(lines.hip.crotch.start.x, at.crotch)
    yield Guide("crotch line", line(upright, at_level(side, at.crotch)))
    yield Guide("knee line", line(leg.place("knee", 1.0), leg.place("knee", -1.0)))
    yield Guide("crease", line(Point(0.0, at.hem * 0.98), Point(0.0, at.hip)))
