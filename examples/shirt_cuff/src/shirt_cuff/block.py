"""The shirt cuff: wrist and ease, and one end over the other to button."""

from __future__ import annotations

import math

from blockwright import (
    Across,
    Block,
    Curve,
    Draft,
    Edge,
    Given,
    Guide,
    InputError,
    Notch,
    Note,
    Point,
    Stretch,
    arc,
    auto_length_option,
    choice_option,
    join,
    length_option,
    line,
    measurement,
)

# All numbers here are common practice, no source.  A shirt button and the hole it goes through, mm;
# corners rounded over a quarter of the depth.
BUTTON, BUTTONHOLE = 11.0, 15.0
ROUNDED = 0.25


class ShirtCuff(Block):
    """Buttoned shirt cuff, folded at the wrist or seamed there to a facing."""

    key = "cuff.shirt"
    title = "Shirt cuff"

    wrist = measurement("wrist_girth")
    ease = length_option("5 cm", low="2 cm", high="10 cm", says="buttoned cuff over the wrist")
    overlap = length_option("2.5 cm", low="2 cm", high="4 cm", says="one end over the other")
    depth = length_option("6.5 cm", low="4.5 cm", high="9 cm", says="finished depth")
    wrist_edge = choice_option(
        "fold", of=("fold", "square", "rounded"),
        says="the wrist edge: a fold, or a seam to a facing with square or rounded corners",
    )  # fmt: skip
    sleeve_hem = auto_length_option(
        auto="not looked at", low="15 cm", high="60 cm",
        says="the sleeve's hem, flat, its placket open; what it has over the cuff is pleated",
    )  # fmt: skip

    def draft(self, d: Draft) -> None:
        """As it lies open, right side up: sleeve edge at the top, button end to the right."""
        width, depth = self.wrist + self.ease + self.overlap, self.depth
        folded = self.wrist_edge == "fold"
        foot = -depth if folded else 0.0  # the facing hangs from the fold
        low = Edge("facing edge" if folded else "wrist edge", self._low_edge(width, foot))
        top_right, top_left = Point(width, depth), Point(0.0, depth)
        button_end = Edge("button end", line(low.curve.end, top_right))
        sleeve = Edge("sleeve edge", line(top_right, top_left))
        hole_end = Edge("buttonhole end", line(top_left, low.curve.start))
        outline, ends = (low, button_end, sleeve, hole_end), (button_end, hole_end)

        # Buttoned, the button lies in the outer end of its hole, one end of the cuff on the other.
        half, middle = self.overlap / 2.0, depth / 2.0
        button = d.mark("button", Point(width - half, middle), "half the overlap in, half way up")
        hole = d.mark("buttonhole", Point(half, middle), "as far in from the other end")
        notches = [Notch("button", sleeve.name, half), Notch("hole", sleeve.name, width - half)]
        guides = [
            Guide("button", arc(button, BUTTON / 2.0, 0.0, math.tau)),
            Guide("buttonhole", line(hole, hole + Point(BUTTONHOLE, 0.0))),
        ]
        if folded:
            guides.append(Guide("fold line", line(Point(0.0, 0.0), Point(width, 0.0))))
            notches += [Notch("fold", end.name, depth) for end in ends]
        d.piece(
            "cuff", outline, cut=2 if folded else 4, mirrored=True, notches=notches, guides=guides,
            # The lengthwise thread, which gives least, goes round the wrist.
            grain=(Point(width * 0.3, depth * 0.2), Point(width * 0.7, depth * 0.2)),
            label_at=Point(width / 2.0, -middle if folded else depth * 0.6),
            notes=[Note(Point(width * 0.12, -middle), "facing")] if folded else (),
        )  # fmt: skip

        d.girth(
            "wrist, laid flat", body=self.wrist, ease=self.ease + self.overlap,
            levels=[Across("cuff", line(hole, button))],
        )  # fmt: skip
        places = {"button": half, "hole": half + self.wrist + self.ease}
        d.seam(
            "sleeve edge, buttoned", sleeve, Given("wrist, ease and overlap", width, places),
            stretches=[Stretch(name, (0.0, 0.0)) for name in places], last=0.0,
        )  # fmt: skip
        for a, b in zip(outline, (*outline[1:], low), strict=True):
            smooth = self.wrist_edge == "rounded" and low in (a, b)
            d.corner(f"{a.name} to {b.name}", (a.name, b.name), angle=180.0 if smooth else 90.0)
        if folded:
            d.seam("facing edge over the sleeve edge", low, -sleeve, over=True)
            for end in ends:
                d.seam(
                    f"{end.name}, on itself", end, Given("both", 2.0 * depth, {"fold": depth}),
                    stretches=[Stretch("fold", (0.0, 0.0))], last=0.0,
                )  # fmt: skip
        else:
            d.shape("wrist edge nowhere hollow", low, bends=0)
            for edge in (low, *ends):
                d.twin(f"{edge.name}, cuff to facing", edge)
        if self.sleeve_hem is not None:
            self._sew_to_sleeve(d, sleeve, self.sleeve_hem, width)

    def _low_edge(self, width: float, foot: float) -> Curve:
        """Straight across, or rounded up into both ends."""
        left, right = Point(0.0, foot), Point(width, foot)
        if self.wrist_edge != "rounded":
            return line(left, right)
        radius, square = ROUNDED * self.depth, math.pi / 2.0
        a, b = left + Point(radius, radius), right + Point(-radius, radius)
        first, last = arc(a, radius, -2.0 * square, -square), arc(b, radius, -square, 0.0)
        return join([first, line(first.end, last.start), last])

    def _sew_to_sleeve(self, d: Draft, sleeve: Edge, hem: float, width: float) -> None:
        """The hem goes into the cuff, what it has over it laid in pleats."""
        pleats = hem - width
        if pleats < 0.0:
            raise InputError(
                f"{self.key}: a sleeve_hem of {d.say(hem)} does not reach along the cuff, "
                f"{d.say(width)} laid flat; widen the hem, or set less ease"
            )
        d.found("pleats of the sleeve", pleats, "its hem goes into the cuff")
        d.measure("sleeve hem in its pleats", length=hem, ease=-pleats, runs=[sleeve])
