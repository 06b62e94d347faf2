"""The circle skirt: waist and hem are arcs about one centre."""

from __future__ import annotations

import math

from blockwright import (
    Across,
    Curve,
    Draft,
    Edge,
    Notch,
    Point,
    arc,
    auto_count_option,
    length_option,
    line,
    ratio_option,
)
from blockwright_skirt.skirt import GIRTHS, Skirt

# A panel wider than half a circle does not lie on the width of the cloth and meets itself at the
# seam.  Common practice, no source.
MOST_A_PANEL = 0.5
CENTRE = Point(0.0, 0.0)


class CircleSkirt(Skirt):
    """Circle skirt: any part of a circle up to two, cut in equal panels.

    The waist is an arc of radius (waist girth and ease) / (2 pi x circles); source in the tests.
    """

    key = "skirt.circle"
    title = "Circle skirt"

    # fmt: off
    waist_ease = length_option("1 cm", low="0 cm", high="10 cm",
                               says="finished waist over the waist girth")
    circles = ratio_option(
        1.0, low=0.25, high=2.0, says="how much of a circle: 0.5 is a half circle, 2 a double one"
    )
    panels = auto_count_option(
        auto="as few as leave none over half a circle", low=1, high=8, says="equal panels"
    )
    # fmt: on

    @property
    def radius(self) -> float:
        """Radius of the waist, mm."""
        return self.finished_waist / (math.tau * self.circles)

    def draft(self, d: Draft) -> None:
        """Draw one panel, to be cut as often as there are panels."""
        self.check_length(d)
        self.check_waist(d, 0.0)
        panels = self._panels(d)
        self._check_hip(d)
        inner = self.radius
        outer, level = inner + self.length, inner + self.depth
        half = math.pi * self.circles / panels

        def swing(radius: float, way: float = 1.0) -> Curve:
            down = -math.pi / 2.0
            return arc(CENTRE, radius, down - way * half, down + way * half)

        hem = Edge("hem", swing(outer), "hem")
        waist = Edge("waist", swing(inner, -1.0), "waist")
        right = Edge("right seam", line(hem.curve.end, waist.curve.start))
        left = Edge("left seam", line(waist.curve.end, hem.curve.start))
        hip = swing(level)
        self.add_panel(
            d, [hem, right, waist, left], hip, (self.length - self.depth, self.depth), times=panels,
            grain=(Point(0.0, -inner - 0.9 * self.length), Point(0.0, -inner - 0.15 * self.length)),
            label_at=Point.polar(inner + 0.55 * self.length, -math.pi / 2.0 + 0.45 * half),
            notches=[Notch("middle of the waist", waist.name, waist.curve.length / 2.0)],
        )  # fmt: skip
        across = [Across("panel", hip)]
        d.girth("hip", body=self.hip, ease=(0.0, math.inf), levels=across, times=panels)
        wide, wider = self._wide(self.depth) - self.waist, self._wide(self.length) - self.waist
        d.girth("hip line", body=self.waist, ease=wide, levels=across, times=panels)
        d.girth("hem", body=self.waist, ease=wider, runs=[hem], times=panels)
        d.measure("length", length=self.length, runs=[right])

    def _wide(self, down: float) -> float:
        """Width so far down from the waist, mm, by what was asked for, whatever was drawn.

        Lines that keep their distance all round differ by it in every turn, at any radius.
        """
        return self.finished_waist + math.tau * self.circles * down

    def _panels(self, d: Draft) -> int:
        """How many panels: as asked, or as few as leave none over half a circle."""
        fewest = math.ceil(self.circles / MOST_A_PANEL - 1e-9)
        panels = fewest if self.panels is None else self.panels
        d.require(
            panels >= fewest,
            f"{panels} panels of a skirt of {self.circles:g} circles would be more than half a "
            "circle each",
            check=("panels", "circles"), do=f"give panels {fewest} or more",
        )  # fmt: skip
        return panels

    def _check_hip(self, d: Draft) -> None:
        """Source: check that the hip line clears the hips; see the tests."""
        found = self._wide(self.depth)
        needed = math.ceil(100.0 * (self.hip - self.finished_waist) / math.tau / self.depth) / 100.0
        d.require(
            found >= self.hip,
            f"{self.circles:g} of a circle is {d.say(found)} wide at the hip, less than hip_girth "
            f"{d.say(self.hip)}, for this waist_girth and waist_to_hip",
            check=GIRTHS,
            do=f"give circles {needed:g} or more" if needed <= type(self).circles.high else "",
        )
