"""Blocks whose promises cannot fail, each the tube of `broken_blocks` with one mistake."""

from __future__ import annotations

import math

from broken_blocks import HIP_LEVEL, Tube, also_fails, fails

from blockwright import (
    Across,
    Block,
    Draft,
    Edge,
    Given,
    Point,
    fair_spline,
    lay_line,
    line,
)
from blockwright import Part as LinePart

READ_OFF = "was read off the drawing; promise what the body or an option says"


@fails("promises-are-independent", "girth: hip", READ_OFF, "[blockwright draft tube.plain --body")
class HipAsItIsDrawn(Tube):
    """Tube that promises the hem width it drew, and not the hip."""

    def girths(self, d: Draft, edges: dict[str, Edge]) -> None:
        drawn = 2.0 * edges["hem"].curve.length - self.ease
        d.girth("hip", runs=[edges["hem"]], times=2, body=drawn, ease=self.ease)
        d.girth("top hip", runs=[edges["top"]], times=2, body=self.top, ease=self.ease)


@also_fails("promises-are-independent", "seam: side seam", READ_OFF)
class EaseAsItIsDrawn(Tube):
    """Tube whose side seam has the ease that it happens to have."""

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        right, left = edges["right"], edges["left"]
        d.seam("side seam", right, -left, ease=right.curve.length - left.curve.length)
        self.girths(d, edges)
        self.tops(d)


@also_fails("promises-are-independent", "seam: side seam", READ_OFF)
class EaseRoundWhatIsDrawn(Tube):
    """Tube whose side seam may vary by little, round the ease that it happens to have."""

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        right, left = edges["right"], edges["left"]
        drawn = right.curve.length - left.curve.length
        d.seam("side seam", right, -left, ease=(drawn - 1.0, drawn + 1.0))
        self.girths(d, edges)
        self.tops(d)


@also_fails("promises-are-independent", "seam: zip", READ_OFF)
class ZipAsLongAsTheSide(Tube):
    """Tube whose zip is as long as the edge that it is sewn to."""

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        super().promises(d, edges)
        d.seam("zip", edges["right"], Given("zip", edges["right"].curve.length), over=True)


@also_fails("promises-are-independent", "through: hip", READ_OFF)
class MarkOnTheEdge(Tube):
    """Tube whose side passes the mark that was put on it."""

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        super().promises(d, edges)
        side = edges["right"].curve
        hip = d.mark("hip", side.point_at(side.length / 2.0), "half way up the side")
        d.through("hip", edges["right"], [hip])


@also_fails("promises-are-independent", "corner: top at the side", READ_OFF)
class CornerAsItIsDrawn(Tube):
    """Tube whose corner is as many degrees as were drawn."""

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        super().promises(d, edges)
        before, after = edges["right"].curve.end_tangent, edges["top"].curve.start_tangent
        drawn = 180.0 - math.degrees(math.atan2(before.cross(after), before.dot(after)))
        d.corner("top at the side", (edges["right"], edges["top"]), angle=drawn)


@also_fails("promises-are-independent", "measure: side length", READ_OFF)
class SideAsLongAsItsSpline(Tube):
    """Tube whose side is as long as the spline that it is drawn by."""

    def edges(self, d: Draft) -> dict[str, Edge]:
        marks = [(self.bottom, 0.0), (self.bottom, self.depth - HIP_LEVEL)]
        self.spline = fair_spline([*marks, (self.above, self.depth)], start=Point(0.0, 1.0))
        return super().edges(d) | {"right": Edge("right", self.spline.curve())}

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        super().promises(d, edges)
        d.measure("side length", length=self.spline.length, runs="right")


@also_fails("promises-are-independent", "measure: sides together", READ_OFF)
class SidesAsLongAsTheirLine(Tube):
    """Tube whose sides are as long as the line that was laid over both."""

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        super().promises(d, edges)
        laid = lay_line([LinePart([Point(0.0, 0.0), Point(50.0, 5.0), Point(100.0, 0.0)])])
        (fold,) = laid.curves()
        bend = [fold.end, Point(100.0, 90.0), Point(0.0, 90.0), fold.start]
        round_it = [
            Edge(f"{i} round the tab", line(a, b), "hem" if i else "seam")
            for i, (a, b) in enumerate(zip(bend, bend[1:], strict=False))
        ]
        d.piece("tab", [Edge("fold", fold, "hem"), *round_it])
        d.seam("tab on the tube", round_it[0], Given("its place", 90.0))
        d.measure("sides together", length=laid.length, runs="fold")


@fails("promises-are-narrow", "seam 'side seam' holds from -30 to 30 mm, 60 mm wide", "narrower")
class SeamOfAnyEase(Tube):
    """Tube whose sides may differ by the width of two fingers, either way."""

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        d.seam("side seam", edges["right"], -edges["left"], ease=(-30.0, 30.0))
        self.girths(d, edges)
        self.tops(d)


@also_fails("promises-are-narrow", "girth 'hip' holds from", "mm wide", "write (low, math.inf)")
class HipOfAnyWidth(Tube):
    """Tube that is wide enough for two, if need be."""

    def girths(self, d: Draft, edges: dict[str, Edge]) -> None:
        half = self.bottom - 10.0
        hip = Across("panel", line((-half, 20.0), (half, 20.0)))
        d.girth("hip", levels=hip, times=2, body=self.hip, ease=(0.0, 1200.0))
        d.girth("top hip", runs=[edges["top"]], times=2, body=self.top, ease=self.ease)


@also_fails("promises-are-narrow", "level 'hem' holds from -40 to 40 degrees, 80 degrees wide")
class LevelOfAnySlope(Tube):
    """Tube whose hem may slope as it will."""

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        super().promises(d, edges)
        d.level("hem", edges["hem"], (0.0, 0.0), within=40.0)


# -- what is taken -------------------------------------------------------------------------------


class Yoke(Block):
    """Plain yoke that a tube is sewn to."""

    key, title, offers = "yoke.plain", "Yoke", ("lower edge", "upper edge")

    def draft(self, d: Draft) -> None:
        at = [(0.0, 0.0), (300.0, 0.0), (300.0, 80.0), (0.0, 80.0), (0.0, 0.0)]
        names = ("lower", "right end", "upper", "left end")
        edges = [
            Edge(f"yoke {name}", line(a, b), "hem")
            for name, a, b in zip(names, at, at[1:], strict=False)
        ]
        d.piece("yoke", edges)
        d.offer("lower edge", edges[0])
        d.offer("upper edge", edges[2])


@fails(
    "takes-are-offered",
    "it takes 'lowr edge', which yoke.plain does not offer; did you mean lower edge?",
    beside=(Yoke,),
)
class TakesAMisspeltRun(Tube):
    """Tube that looks for the yoke it is sewn to under a misspelt name."""

    takes = ("lowr edge", "upper edge")

    def draft(self, d: Draft) -> None:
        d.taken("lowr edge")
        super().draft(d)
