"""Blocks to try the doors of the kit with: known failures, loops, sets."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

from broken_blocks import HIP_LEVEL, HemBeginsElsewhere, NotchForSome, OptionOfNoUse, Tube

from blockwright import (
    Block,
    Draft,
    Edge,
    Point,
    Rule,
    Traits,
    fair_curve,
    length_option,
    line,
    measurement,
)

REASON = "the hem is moved next week"


def with_traits(block: type[Tube], **traits: Any) -> type[Tube]:
    """The block with some of its traits changed."""
    own = {"traits": replace(block.traits, **traits), "__doc__": block.__doc__}
    return type(block.__name__, (block,), own)


Known = with_traits(HemBeginsElsewhere, known_failures={"outline-closes": REASON})
Mended = with_traits(Tube, known_failures={"outline-closes": REASON})
Misspelt = with_traits(Tube, known_failures={"outline-close": REASON})


class EndlessForOne(Tube):
    """Tube that does not end for one body, by its hip."""

    key = "tube.endless-for-one"
    traits = Traits(wearers="women", seconds=0.05)
    endless_hip = 0.0

    def draft(self, d: Draft) -> None:
        while self.hip == self.endless_hip:
            pass
        super().draft(d)


class EndlessAtAnEnd(Tube):
    """Tube that does not end when it is as long as it may be."""

    key = "tube.endless-at-an-end"
    traits = Traits(wearers="women", seconds=0.05)

    def draft(self, d: Draft) -> None:
        while self.depth == 600.0:
            pass
        super().draft(d)


class Lining(OptionOfNoUse):
    """Tube with an option of no use, which a block beside it has as well."""

    key = "lining.plain"


class Waisted(Tube):
    """Tube that offers its top to a band, and meets it squarely at the sides."""

    key = "tube.waisted"
    offers = ("top",)
    top = measurement(
        "top_hip_girth",
        estimate=Rule(("hip_girth",), lambda hip: 0.95 * hip, "0.95 of the hip; no source"),
    )

    def side(self, way: float) -> Any:
        marks = [
            Point(way * self.bottom, 0.0),
            Point(way * self.bottom, self.depth - HIP_LEVEL),
            Point(way * self.above, self.depth),
        ]
        return fair_curve(marks, start=Point(0.0, 1.0), end=Point(0.0, 1.0))

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        super().promises(d, edges)
        d.offer("top", edges["top"])


class Band(Block):
    """Straight band, sewn to the top of a panel or as long as half the waist."""

    key = "band.plain"
    title = "Band"
    traits = Traits(wearers="women")
    long = measurement("waist_girth", taken="top")
    deep = length_option("4 cm", low="2 cm", high="8 cm", says="depth of the band")

    def draft(self, d: Draft) -> None:
        """Its low edge at y = 0, the fold above."""
        middle, corners = self.deep / 2.0, (Point(self.long, 0), Point(self.long, self.deep))
        low = Edge("low edge", line(Point(0, 0), corners[0]))
        front = Edge("front end", line(*corners))
        fold = Edge("top fold", line(corners[1], Point(0, self.deep)), "fold")
        back = Edge("back end", line(Point(0, self.deep), Point(0, 0)))
        d.piece(
            "band", [low, front, fold, back], cut=2, label_at=Point(self.long / 2.0, middle),
            grain=(Point(20.0, middle), Point(self.long - 20.0, middle)),
        )  # fmt: skip
        d.seam("ends", front, -back)
        d.unsewn(low, "left open")
        if taken := d.taken("top"):
            d.seam("band to tube", low, taken)
        else:
            d.girth("length", runs=[low], body=self.long, ease=0.0)


class Sash(Band):
    """Band that is deeper on a wide hip."""

    key = "band.sash"
    hip = measurement("hip_girth")

    def draft(self, d: Draft) -> None:
        self.values = {**self.values, "deep": self.deep + self.hip / 100.0}
        super().draft(d)


class SashOfTwoRules(Sash):
    """Sash that is deeper from one millimetre of the hip to the next."""

    key = "band.sash-of-two-rules"

    def draft(self, d: Draft) -> None:
        self.values = {**self.values, "deep": self.deep + 15.0 * (self.hip > 1019.95)}
        super().draft(d)


class NotchedWaisted(Waisted, NotchForSome):
    """Tube that offers its top to a band, and has a notch more on a wide hip."""

    key = "tube.notched"
    traits = Traits(wearers="women", steps="a wide hip has a notch more")


class BandOnItsOwn(Band):
    """Band with an option and a measurement for when it is sewn to nothing."""

    key = "band.on-its-own"
    wrist = measurement("wrist_girth")
    lap = length_option("2 cm", low="0 cm", high="4 cm", says="how far the ends lie over")

    def draft(self, d: Draft) -> None:
        if not d.taken("top"):
            self.values = {**self.values, "waist_girth": self.long + self.lap + self.wrist / 100.0}
        super().draft(d)


class IdleBand(Band):
    """Band with an option and a measurement of no use, alone or beside a tube."""

    key = "band.idle"
    wrist = measurement("wrist_girth")
    lap = length_option("2 cm", low="0 cm", high="4 cm", says="how far the ends lie over")
