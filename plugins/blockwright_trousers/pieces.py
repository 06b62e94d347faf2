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
    Note,
    Piece,
    Point,
    arc_between,
    distance,
    join,
    line,
)
from blockwright_trousers.fork import Fork, HipLine, Levels
from blockwright_trousers.leg import BACK, Leg, at_level
from blockwright_trousers.waist import Sewn, Waist

# The thigh is measured so far below the tip of the back fork, the lower of the two; the crotch
# hangs lower than the body's, so the body is fullest no lower than that; mm.
BELOW_FORK = 5.0
# The name of the centre stands so far along the crotch seam from the tip of its fork, as a share,
# and so far beside it, mm.
CENTRE_AT, CENTRE_BESIDE = 0.85, 30.0


@dataclass(frozen=True, slots=True)
class Plan:
    """All that is found before the pieces are drawn; pairs are front and back."""

    at: Levels
    legs: tuple[Leg, Leg]
    fork: Fork
    seams: tuple[Curve, Curve]  # the crotch, from the tip of the fork to the waist
    hips: tuple[HipLine, HipLine]
    sewn: Sewn

    @property
    def below_fork(self) -> float:
        """Height at which the thigh is measured."""
        return self.fork.back.tip.y - BELOW_FORK

    def pieces(self) -> tuple[Piece, Piece]:
        """Front and back."""
        front, back = self.sewn.cut()
        return self._piece(0, front), self._piece(1, back)

    def _piece(self, i: int, waist: Waist) -> Piece:
        """Edges are set out as they follow each other on a front and turned round for a back."""
        leg, at, half = self.legs[i], self.at, self.legs[i].half
        waist_edges, darts = waist
        inside = (self.fork.front_leg, self.fork.back_leg)[i].curve()
        seam = (self.sewn.front, self.sewn.back)[i].side_seam
        lower = line(leg.place("knee", 1.0), leg.place("hem", 1.0))
        outer = line(leg.place("knee", -1.0), leg.place("hem", -1.0))
        down = leg.down(1.0)  # both seams lean in alike, and the hem is square to them
        lean = math.atan2(-half.reach(down), -down.y)
        hem = arc_between(outer.end, lower.end, -2.0 * half.inward * lean)
        low = max(at.hem, hem.point_at(hem.length / 2.0).y)
        edges = [
            Edge(f"{half.name} hem", hem, "hem"),
            Edge(f"{half.name} inside leg", join([lower.reversed(), inside.reversed()])),
            Edge(f"{half.name} crotch", self.seams[i]),
            *waist_edges,
            Edge(f"{half.name} side", join([seam.curve(), outer])),
        ]
        notches = [
            ("inside knee notch", edges[1], lower.length),
            # On the front's hip line; on the back as far down the seam.
            ("hip notch", edges[-1], self.sewn.front.side_seam.spans[0].length),
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
            darts=darts,
            notches=tuple(Notch(name, edge.name, along) for name, edge, along in notches),
            guides=tuple(self._guides(i, seam.curve(), low)),
            notes=(self._centre(i),),
        )

    def _centre(self, i: int) -> Note:
        """Names the centre beside the upper part of the crotch seam, which runs up from it."""
        seam, half = self.seams[i], self.legs[i].half
        at = seam.length * CENTRE_AT
        beside = seam.tangent_at(at).left() * (half.inward * CENTRE_BESIDE)
        return Note(seam.point_at(at) + beside, f"centre {half.name}")

    def _guides(self, i: int, side: Curve, low: float) -> Iterator[Guide]:
        """The lines inside; `low` is where the hem is on the crease, which a curved hem lifts."""
        leg, at, hip = self.legs[i], self.at, self.hips[i]
        yield Guide("hip line", line(hip.inner, hip.side))
        upright = Point(hip.crotch.start.x, at.crotch)
        yield Guide("crotch line", line(upright, at_level(side, at.crotch)))
        yield Guide("knee line", line(leg.place("knee", 1.0), leg.place("knee", -1.0)))
        foot = max(0.98 * at.hem, 0.98 * low + 0.02 * at.knee)
        yield Guide("crease", line(Point(0.0, foot), Point(0.0, at.hip)))


def thigh(piece: Piece, y: float) -> float:
    """Width of the leg of a half at a height below its fork, mm."""
    inside, side = (
        at_level(piece.edge(f"{piece.name} {seam}").curve, y) for seam in ("inside leg", "side")
    )
    return distance(inside, side)
