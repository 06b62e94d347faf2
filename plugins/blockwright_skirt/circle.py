"""The circle skirt: waist and hem are arcs about one centre."""

from __future__ import annotations

import math

from blockwright import (
    Across,
    Curve,
    Draft,
    Edge,
    Guide,
    InputError,
    Notch,
    Point,
    Stretch,
    arc,
    auto_count_option,
    length_option,
    line,
    ratio_option,
)
from blockwright_skirt.pieces import HIP_NOTCH
from blockwright_skirt.skirt import Skirt

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

    waist_ease = length_option(
        "1 cm", low="0 cm", high="10 cm", says="finished waist over the waist girth"
    )
    circles = ratio_option(
        1.0, low=0.25, high=2.0, says="how much of a circle: 0.5 is a half circle, 2 a double one"
    )
    panels = auto_count_option(
        auto="as few as leave none over half a circle", low=1, high=8, says="equal panels"
    )

    @property
    def radius(self) -> float:
        """Radius of the waist, mm."""
        return self.finished_waist / (math.tau * self.circles)

    def draft(self, d: Draft) -> None:
        """Draw one panel, to be cut as often as there are panels."""
        self.check_length(d)
        self.check_waist(d, 0.0)
        panels = self._panels()
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
        d.piece(
            "panel",
            [hem, right, waist, left],
            grain=(Point(0.0, -inner - 0.9 * self.length), Point(0.0, -inner - 0.15 * self.length)),
            label_at=Point.polar(inner + 0.55 * self.length, -math.pi / 2.0 + 0.45 * half),
            cut=panels,
            notches=[
                Notch(HIP_NOTCH, right.name, self.length - self.depth),
                Notch("middle of the waist", waist.name, waist.curve.length / 2.0),
                Notch(HIP_NOTCH, left.name, self.depth),
            ],
            guides=[Guide("hip line", hip)],
        )
        d.seam("seam", right, -left, stretches=[Stretch(HIP_NOTCH, (0.0, 0.0))], last=0.0)
        d.corner("waist over a seam", (right.name, waist.name), (waist.name, left.name))
        d.corner("hem over a seam", (left.name, hem.name), (hem.name, right.name))
        d.girth("waist", body=self.waist, ease=self.waist_ease, runs=[waist], times=panels)
        across = [Across("panel", hip)]
        d.girth("hip", body=self.hip, ease=(0.0, math.inf), levels=across, times=panels)
        wide, wider = self._wide(self.depth) - self.waist, self._wide(self.length) - self.waist
        d.girth("hip line", body=self.waist, ease=wide, levels=across, times=panels)
        d.girth("hem", body=self.waist, ease=wider, runs=[hem], times=panels)
        d.girth("length", body=self.length, ease=0.0, runs=[right])

    def _wide(self, down: float) -> float:
        """Width so far down from the waist, mm, by what was asked for, whatever was drawn.

        Lines that keep their distance all round differ by it in every turn, at any radius.
        """
        return self.finished_waist + math.tau * self.circles * down

    def _panels(self) -> int:
        fewest = math.ceil(self.circles / MOST_A_PANEL - 1e-9)
        if self.panels is None:
            return fewest
        if self.panels < fewest:
            raise InputError(
                f"{self.key}: {self.panels} panels of a skirt of {self.circles:g} circles would be "
                f"more than half a circle each; give panels {fewest} or more"
            )
        return self.panels

    def _check_hip(self, d: Draft) -> None:
        """Source: check that the hip line clears the hips; see the tests."""
        found = self._wide(self.depth)
        if found >= self.hip:
            return
        needed = math.ceil(100.0 * (self.hip - self.finished_waist) / math.tau / self.depth) / 100.0
        most = type(self).circles.high
        advice = f"give circles {needed:g} or more" if needed <= most else "check these three"
        raise InputError(
            f"{self.key}: {self.circles:g} of a circle is {d.say(found)} wide at the hip, less "
            f"than hip_girth {d.say(self.hip)}, for waist_girth {d.say(self.waist)} and "
            f"waist_to_hip {d.say(self.depth)}; {advice}"
        )
