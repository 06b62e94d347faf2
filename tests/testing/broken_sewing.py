"""Blocks with one mistake that a sewer would see, for the checks of what is measured unasked."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from broken_blocks import HIP_LEVEL, Tube, also_fails, fails

from blockwright import Dart, Draft, Edge, Given, Guide, Notch, Point, fair_curve, line, polyline


@fails("edges-are-sewn", "edge 'right' (seam) of piece 'panel'", "seam or twin", "d.unsewn")
class PromisesNoSeam(Tube):
    """Tube that leaves it to luck whether its sides fit."""

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        self.girths(d, edges)
        self.tops(d)


@fails("promises-a-size", "no finished size is promised", "d.girth or d.measure")
class PromisesNoSize(Tube):
    """Tube whose seam is promised, and no width."""

    def girths(self, d: Draft, edges: dict[str, Edge]) -> None:
        d.corner("hem over a side seam", ("left", "hem"), ("hem", "right"))


@fails("corners-run-on", "'top'", "wanted 180.0°")
class LeavesOutACorner(Tube):
    """Tube that says nothing of its top over the side seams, where it dips."""

    def side(self, way: float) -> Any:
        low, high = Point(way * self.bottom, 0.0), Point(way * self.above, self.depth)
        return line(low, high)

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        d.seam("side seam", edges["right"], -edges["left"])
        d.girth("top hip", runs=[edges["top"]], times=2, body=self.top, ease=self.ease)
        d.corner("hem over a side seam", ("left", "hem"), ("hem", "right"), angle=(160.0, 210.0))
        dart = Dart("waist dart", self.apex, "mouth", "end", "pressed to the left")
        d.corner("top over the dart", dart, angle=(160.0, 210.0))
        d.unsewn("top", "left open")


@fails("sides-bend-alike", "side seam: the sides bend alike", "shaped=True")
class OneSideWaves(Tube):
    """Tube with one side in waves, and the other straight, which is eased on."""

    WAVES = 12.0

    def side(self, way: float) -> Any:
        if way < 0.0:
            return super().side(way)
        straight = super().side(way)
        places = [straight.length * i / 6.0 for i in range(7)]
        out = [0.0, self.WAVES, -self.WAVES, self.WAVES, -self.WAVES, self.WAVES, 0.0]
        marks = [
            straight.point_at(at) + straight.tangent_at(at).left() * by
            for at, by in zip(places, out, strict=True)
        ]
        ends = straight.start_tangent, straight.end_tangent
        return fair_curve(marks, start=ends[0], end=ends[1])

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        d.seam("side seam", edges["right"], -edges["left"], ease=(0.0, 40.0))
        self.girths(d, edges)
        self.tops(d)


@fails("notches-meet", "notch hip meets itself", "wanted 0.0 mm")
class HipNotchesApart(Tube):
    """Tube whose hip is notched on both sides, once from the hem and once from the top."""

    def panel(self, d: Draft, edges: dict[str, Edge], **other: Any) -> None:
        up = self.depth - HIP_LEVEL
        left = edges["left"].curve.length
        notches = [Notch("hip", "right", up), Notch("hip", "left", left - up + 50.0)]
        super().panel(d, edges, notches=notches)


class StripBetween(Tube):
    """Tube with a strip in each of its sides."""

    WIDE = 40.0

    def strip_grain(self, long: float) -> tuple[Point, Point]:
        return Point(self.WIDE / 2.0, 40.0), Point(self.WIDE / 2.0, long - 40.0)

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        long, wide = edges["right"].curve.length, self.WIDE
        at = [Point(0, 0), Point(wide, 0), Point(wide, long), Point(0, long), Point(0, 0)]
        names = ("strip hem", "strip right", "strip top", "strip left")
        roles: tuple[Any, ...] = ("hem", "seam", "hem", "seam")
        strip = [
            Edge(name, line(a, b), role)
            for name, a, b, role in zip(names, at[:-1], at[1:], roles, strict=True)
        ]
        grain, label_at = self.strip_grain(long), Point(wide / 2.0, long / 2.0)
        d.piece("strip", strip, grain=grain, label_at=label_at, cut=2)
        d.seam("right seam", edges["right"], -strip[3])
        d.seam("left seam", -edges["left"], strip[1])
        for name, *corners in (
            ("hem, right", ("hem", "right"), ("strip left", "strip hem")),
            ("hem, left", ("left", "hem"), ("strip hem", "strip right")),
            ("top, right", ("right", "top"), ("strip top", "strip left")),
            ("top, left", ("top", "left"), ("strip right", "strip top")),
        ):
            d.corner(name, *corners, angle=(160.0, 210.0))  # type: ignore[arg-type]
        d.girth("hip", runs=[edges["hem"]], times=2, body=self.hip, ease=self.ease)
        d.girth("top hip", runs=[edges["top"]], times=2, body=self.top, ease=self.ease)
        dart = Dart("waist dart", self.apex, "mouth", "end", "pressed to the left")
        d.corner("top over the dart", dart, angle=(160.0, 210.0))
        d.unsewn("top", "left open")


@fails("pieces-lie-right", "both pieces lie the same way up", "turn one piece")
class StripUpsideDown(StripBetween):
    """Tube with strips whose grain runs down."""

    def strip_grain(self, long: float) -> tuple[Point, Point]:
        low, high = super().strip_grain(long)
        return high, low


@fails("pieces-can-be-sewn", "piece strip", "wide enough to sew")
class Slivers(StripBetween):
    """Tube with strips of 4 mm."""

    WIDE = 4.0


@fails("folds-are-straight", "fold: hem is straight", "draw 'hem' as one straight line")
class FoldsACurve(Tube):
    """Tube whose lower edge was made a fold, curved as the hem was."""

    def edges(self, d: Draft) -> dict[str, Edge]:
        low = self.bottom
        dip = fair_curve([Point(-low, 0.0), Point(0.0, 6.0), Point(low, 0.0)])
        own = super().edges(d)
        tops = {key: replace(own[key], role="hem") for key in ("top", "rest of the top")}
        return own | tops | {"hem": Edge("hem", dip, "fold")}

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        d.seam("side seam", edges["right"], -edges["left"])
        d.girth("top hip", runs=[edges["top"]], times=2, body=self.top, ease=self.ease)
        d.corner("fold over a side seam", ("left", "hem"), ("hem", "right"), angle=(160.0, 210.0))
        self.tops(d)


@fails("edges-have-no-corner", "right has no corner inside", "make two edges of 'right'")
class KinkedSide(Tube):
    """Tube whose sides are ruled from the hem to the hip and on to the top."""

    def side(self, way: float) -> Any:
        marks = [
            Point(way * self.bottom, 0.0),
            Point(way * self.bottom, self.depth - HIP_LEVEL),
            Point(way * (self.above - 20.0), self.depth),
        ]
        return polyline(marks)

    def edges(self, d: Draft) -> dict[str, Edge]:
        edges = super().edges(d)
        right, left = edges["top"].curve, edges["rest of the top"].curve
        high = self.above - 20.0
        shorter = {
            "top": line(Point(high, self.depth), right.end),
            "rest of the top": line(left.start, Point(-high, self.depth)),
        }
        return {key: replace(e, curve=shorter.get(key, e.curve)) for key, e in edges.items()}

    def girths(self, d: Draft, edges: dict[str, Edge]) -> None:
        d.girth("hip", runs=[edges["hem"]], times=2, body=self.hip, ease=self.ease)
        d.corner("hem over a side seam", ("left", "hem"), ("hem", "right"))


@fails("lines-are-inside", "lines and notes lie in the cloth", "move 'pocket' into the cloth")
class PocketBeside(Tube):
    """Tube whose pocket line was placed from the wrong corner."""

    def panel(self, d: Draft, edges: dict[str, Edge], **other: Any) -> None:
        beside = Point(self.bottom + 300.0, self.depth / 2.0)
        pocket = Guide("pocket", line(beside, beside + Point(0.0, 80.0)))
        super().panel(d, edges, guides=[pocket])


STRIP = [Point(0, 0), Point(40, 0), Point(40, 400), Point(0, 400), Point(0, 0)]
STRIP_GRAIN = (Point(20, 40), Point(20, 360))


def strip(*roles: str) -> list[Edge]:
    """The edges of a strip of cloth, 4 cm by 40 cm."""
    names = ("strip low", "strip right", "strip high", "strip left")
    return [
        Edge(name, line(a, b), role)  # type: ignore[arg-type]
        for name, a, b, role in zip(names, STRIP[:-1], STRIP[1:], roles, strict=True)
    ]


@also_fails("edges-are-sewn", "no seam joins 'strip' to 'panel'", "sew them together")
class StripForgotten(Tube):
    """Tube with a strip that is sewn to nothing."""

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        super().promises(d, edges)
        hems = strip("hem", "hem", "hem", "hem")
        d.piece("strip", hems, grain=STRIP_GRAIN, label_at=Point(20, 200))


@also_fails("edges-are-sewn", "'strip' are sewn together all round", "leave an edge open")
class StripSewnShut(Tube):
    """Tube with a belt of two strips, and nowhere to turn it."""

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        super().promises(d, edges)
        belt = strip("seam", "seam", "seam", "seam")
        d.piece("strip", belt, grain=STRIP_GRAIN, label_at=Point(20, 200), cut=2, mirrored=True)
        for edge in belt:
            d.twin(f"{edge.name} edges", edge)


@also_fails("folds-are-straight", "its folds can be laid", "one fold")
class FoldsBothSides(Tube):
    """Tube with a strip on a fold at its left and another at its right."""

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        super().promises(d, edges)
        folded = strip("seam", "fold", "hem", "fold")
        d.piece("strip", folded, grain=STRIP_GRAIN, label_at=Point(20, 200))
        d.seam("strip", "strip low", Given("belt", 40.0))
