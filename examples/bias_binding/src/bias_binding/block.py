"""The bound pocket: a patch on the bias with a dart at its foot, and a strip for its mouth."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import ClassVar

from bias_binding.off_grain import OffGrain
from blockwright import (
    Affine,
    Block,
    Dart,
    Draft,
    Edge,
    Given,
    Point,
    Rule,
    length_option,
    line,
    measurement,
    roof_between,
)

# All numbers here are common practice, no source.  A strip of binding is cut at 45 degrees to the
# grain, where cloth gives most; chalk and ruler are good to a degree.
BIAS = (44.0, 46.0)
# How far up the pocket the point of its dart is, as a share of the depth.
DART_UP = 0.45
# The corner of the pocket and the two of the strip together: three square ones, or a little more.
LEANS_OUT = (265.0, 285.0)


class BoundPocket(Block):
    """Patch pocket on the bias, full at its foot, with a bias strip to bind its mouth."""

    key = "pocket.bound"
    title = "Bound pocket"
    allowances: ClassVar[Mapping[str, str]] = {"hem": "1 cm"}  # the ends of the strip are turned in

    hand = measurement(
        "hand_girth",
        estimate=Rule(("wrist_girth",), lambda wrist: 1.25 * wrist, "1.25 times the wrist girth"),
    )
    ease = length_option("4 cm", low="2 cm", high="8 cm", says="mouth over half the hand")
    depth = length_option("15 cm", low="12 cm", high="25 cm", says="mouth to foot, at the sides")
    intake = length_option("3 cm", low="1 cm", high="5 cm", says="width of the dart at the foot")
    binding = length_option("0.8 cm", low="0.6 cm", high="1.5 cm", says="finished width")

    def draft(self, d: Draft) -> None:
        """Both pieces as they are seen from outside, the mouth of the pocket at the top."""
        mouth = self._draw_pocket(d, self.hand / 2.0 + self.ease)
        self._draw_binding(d, mouth)

    def _draw_pocket(self, d: Draft, width: float) -> Edge:
        """The pocket, of which the mouth is given back.

        It is drawn as a rectangle and slashed from the foot to the point of the dart.  Each half of
        the foot is turned out about that point; the sides go with it, as long as before.
        """
        half, up = width / 2.0, DART_UP * self.depth
        point = d.mark("dart point", Point(0.0, up), "45 % of the depth up", piece="pocket")
        turn = Affine.turn(math.asin(self.intake / 2.0 / up), point)
        leg, foot = turn(Point(0.0, 0.0)), turn(Point(half, 0.0))
        out = foot.x - half
        top = Point(half, foot.y + math.sqrt(self.depth**2 - out**2))
        mirror = Affine.mirror(Point(0.0, 0.0), Point(0.0, 1.0))

        left_foot = Edge("foot", line(mirror(foot), mirror(leg)))
        right_foot = Edge("foot", line(leg, foot))
        right = Edge("right side", line(foot, top))
        mouth = Edge("mouth", line(top, mirror(top)))
        left = Edge("left side", line(mirror(top), mirror(foot)))
        roof = roof_between(point, left_foot.curve, right_foot.curve, "end")
        opening = Edge("dart mouth", roof, "dart")
        dart = Dart("foot dart", point, opening.name, "end", "pressed to the right")
        d.piece(
            "pocket", [left_foot, opening, right_foot, right, mouth, left], darts=[dart],
            cut=2, mirrored=True, label_at=Point(half / 2.0, top.y / 2.0),
            grain=_on_the_bias(Point(-half / 2.0, top.y * 0.6), half / 3.0),
        )  # fmt: skip

        d.girth("mouth", body=self.hand / 2.0, ease=self.ease, runs=[mouth])
        place = Given("its place on the garment", 2.0 * self.depth + width)
        d.seam("sides and foot on the garment", [left, "foot", right], place)
        d.corner("foot over the dart", dart)
        d.promise(OffGrain(d.ref("mouth on the bias"), d.ref(mouth), BIAS))
        return mouth

    def _draw_binding(self, d: Draft, mouth: Edge) -> None:
        """A strip as long as the mouth, folded over it: one long edge outside, one inside."""
        long, wide = mouth.curve.length, 2.0 * self.binding
        a, b = Point(0.0, 0.0), Point(long, 0.0)
        up = Point(0.0, wide)
        outer = Edge("outer edge", line(a, b))
        right = Edge("right end", line(b, b + up), "hem")
        inner = Edge("inner edge", line(b + up, a + up))
        left = Edge("left end", line(a + up, a), "hem")
        d.piece(
            "binding", [outer, right, inner, left], cut=2, mirrored=True,
            grain=_on_the_bias(Point(long / 4.0, wide / 2.0), wide * 0.7),
        )  # fmt: skip

        d.seam("binding to the mouth", outer, -mouth)
        d.seam("binding, folded over the mouth", inner, -outer, over=True)
        # Both corners of the strip are square; that of the pocket leans out with its side.
        d.corner(
            "left end of the binding at the mouth",
            ("mouth", "left side"), ("left end", "outer edge"), ("inner edge", "left end"),
            angle=LEANS_OUT,
        )  # fmt: skip
        d.corner(
            "right end of the binding at the mouth",
            ("right side", "mouth"), ("outer edge", "right end"), ("right end", "inner edge"),
            angle=LEANS_OUT,
        )  # fmt: skip
        for edge in (outer, inner):
            d.promise(OffGrain(d.ref(f"{edge.name} on the bias"), d.ref(edge), BIAS))


def _on_the_bias(middle: Point, across: float) -> tuple[Point, Point]:
    """A grain line that goes up as far as it goes across, mm."""
    step = Point(across / 2.0, across / 2.0)
    return middle - step, middle + step
