"""The pen of a sketch: strokes and words as SVG, of one size on the screen at any scale."""

from __future__ import annotations

import html
import math
import re
from dataclasses import dataclass

from blockwright.curves.curve import Curve
from blockwright.curves.point import Point

# Largest letters of pieces' and of other names, pixels.
NAME, WORD = 14.0, 11.0
# How wide a letter is and how far from a line the middle of its name stands, as shares of its size.
LETTER, STAND_OFF = 0.6, 0.9
# A name beside a line takes this share of it at most: names of neighbours keep out of the corner.
SHARE = 0.75
# Every colour stands out from white and from black alike, by 4.5 to 1.
INK, MOSS, RUST, BLUE, TEAL = "#6a7687", "#697d2a", "#bb592f", "#3976c6", "#268376"
# By what a stroke is: colour, width and dashes; pixels.
LOOKS = {
    "seam": (INK, 1.8, ""),
    "fold": (TEAL, 1.8, "12 3 2 3"),
    "dart": (RUST, 1.2, "3 3"),
    "leg": (RUST, 1.2, ""),
    "notch": (INK, 1.8, ""),
    "guide": (MOSS, 1.0, "2 3"),
    "grain": (BLUE, 1.2, ""),
    "mark": (RUST, 1.4, ""),
}
_NOT_IN_XML = re.compile("[^\t\n\r -\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


@dataclass(frozen=True, slots=True)
class Pen:
    """Draws where one pixel of the screen is `pixel` mm wide."""

    pixel: float

    def fitting(self, text: str, most: float, room: float) -> float:
        """The size of letters, pixels, at which a text is no longer than `room` mm; or `most`."""
        return min(most, room / self.pixel / (LETTER * max(len(text), 1)))

    def beside(self, name: str, curve: Curve, most: float) -> str:
        """A name along the middle of a curve, to its left, as large as fits."""
        size = self.fitting(name, most, SHARE * curve.length)
        middle = curve.length / 2.0
        half = LETTER * len(name) * size * self.pixel / 2.0
        at, way = curve.point_at(middle), curve.tangent_at(middle)
        # Where the curve bends over its name, the name gives way.
        bend = max((curve.point_at(middle + s) - at).dot(way.left()) for s in (-half, 0.0, half))
        seat = at + way.left() * (bend + STAND_OFF * size * self.pixel)
        angle = -math.degrees(math.remainder(way.angle, math.pi))
        turn = f' transform="rotate({number(angle)} {pair(*seat)})"'
        return self.word(name, seat, size, turn)

    def word(self, text: str, at: Point, size: float, more: str = "") -> str:
        """A text with its middle at a place, or as `more` attributes say."""
        anchor = "" if "text-anchor" in more else ' text-anchor="middle"'
        return (
            f'<text x="{number(at.x)}" y="{number(-at.y)}" dy="0.35em" fill="{INK}" '
            f'font-size="{number(size * self.pixel)}"{anchor}{more}>{escaped(text)}</text>'
        )


def stroke(role: str, path: str, says: str) -> str:
    """A path that looks as its role does, and says what it is when pointed at."""
    colour, width, dashes = LOOKS[role]
    dashed = f' stroke-dasharray="{dashes}"' if dashes else ""
    return (
        f'<path data-role="{role}" d="{path}" stroke="{colour}" stroke-width="{width:g}"{dashed} '
        f'vector-effect="non-scaling-stroke"><title>{escaped(says)}</title></path>'
    )


def path(curve: Curve) -> str:
    """A curve by its own control points."""
    pieces = [f"C{pair(*b)} {pair(*c)} {pair(*d)}" for _, b, c, d in curve.control.tolist()]
    return " ".join([f"M{pair(*curve.start)}", *pieces])


def lines(*ends: tuple[Point, Point]) -> str:
    """Straight lines, each from one end to the other."""
    return " ".join(f"M{pair(*a)} L{pair(*b)}" for a, b in ends)


def pair(x: float, y: float) -> str:
    """A place on the picture, where y runs down."""
    return f"{number(x)} {number(-y)}"


def number(value: float) -> str:
    """A number to 0.0001, without needless zeros."""
    text = f"{value:.4f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def escaped(text: str) -> str:
    """Text as XML holds it; a sign that it cannot hold becomes a replacement character."""
    return html.escape(_NOT_IN_XML.sub("\ufffd", text))
