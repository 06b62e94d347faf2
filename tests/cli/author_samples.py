"""A block in a file, as somebody writes their first one, and slips made in it."""

from __future__ import annotations

APRON = '''"""An apron."""

from blockwright import Block, Edge, Point, length_option, line, measurement


class Apron(Block):
    """Apron: two panels from waist to hem."""

    key = "apron.plain"
    title = "Apron"

    waist = measurement("waist_girth")
    ease = length_option("2 cm", low="0 cm", high="6 cm", says="over the waist girth")
    length = length_option("50 cm", low="20 cm", high="90 cm", says="waist to hem")

    def draft(self, d):
        width = (self.waist + self.ease) / 2
        bottom_left, bottom_right = Point(0, 0), Point(width, 0)
        top_left, top_right = Point(0, self.length), Point(width, self.length)
        hem = Edge("hem", line(bottom_left, bottom_right), "hem")
        right = Edge("right side", line(bottom_right, top_right))
        waist = Edge("waist", line(top_right, top_left), "waist")
        left = Edge("left side", line(top_left, bottom_left))
        d.piece(
            "panel", [hem, right, waist, left], cut=2,
            grain=(Point(width / 2, self.length * 0.1), Point(width / 2, self.length * 0.9)),
            label_at=Point(width / 4, self.length / 2),
        )
        d.seam("side seam", right, -left)
        d.unsewn(waist, "bound")
        d.girth("waist", runs=[waist], times=2, body=self.waist, ease=self.ease)
        d.girth("length", runs=[right], body=self.length, ease=0)
'''


def apron(*slips: tuple[str, str]) -> str:
    """The apron with something else written in places that are there once."""
    source = APRON
    for was, becomes in slips:
        assert source.count(was) == 1, was
        source = source.replace(was, becomes)
    return source


def line_of(source: str, words: str) -> int:
    """The number of the one line of a source that has these words, counted from 1."""
    (number,) = [i for i, line in enumerate(source.split("\n"), 1) if words in line]
    return number


# Two blocks that are sewn together, each whole: a crown, and a brim that takes its edge.
CROWN = '''
from blockwright import Block, Edge, Point, length_option, line, measurement


class Crown(Block):
    """Crown: one panel from edge to tip."""

    key = "hat.crown"
    title = "Crown"
    offers = ("crown edge",)

    head = measurement("head_girth")
    height = length_option("12 cm", low="8 cm", high="20 cm", says="edge to tip")

    def draft(self, d):
        wide, high = self.head, self.height
        edge = Edge("edge", line(Point(0, 0), Point(wide, 0)))
        right = Edge("right", line(Point(wide, 0), Point(wide, high)))
        tip = Edge("tip", line(Point(wide, high), Point(0, high)), "hem")
        left = Edge("left", line(Point(0, high), Point(0, 0)))
        d.piece(
            "crown", [edge, right, tip, left], label_at=Point(wide / 4, high / 2),
            grain=(Point(wide / 2, high * 0.1), Point(wide / 2, high * 0.9)),
        )
        d.seam("back of the crown", right, -left)
        d.girth("head", runs=[edge], body=self.head, ease=0)
        d.offer("crown edge", edge)
'''
BRIM = '''
from blockwright import Block, Edge, Point, length_option, line, measurement


class Brim(Block):
    """Brim: one strip sewn to a crown."""

    key = "hat.brim"
    title = "Brim"

    head = measurement("head_girth", taken="crown edge")
    depth = length_option("6 cm", low="3 cm", high="10 cm", says="edge to edge")

    def draft(self, d):
        wide, deep = self.head, self.depth
        outer = Edge("outer edge", line(Point(0, 0), Point(wide, 0)), "hem")
        right = Edge("right", line(Point(wide, 0), Point(wide, deep)))
        inner = Edge("inner edge", line(Point(wide, deep), Point(0, deep)))
        left = Edge("left", line(Point(0, deep), Point(0, 0)))
        d.piece(
            "brim", [outer, right, inner, left], label_at=Point(wide / 4, deep / 2),
            grain=(Point(wide / 2, deep * 0.1), Point(wide / 2, deep * 0.9)),
        )
        d.seam("back of the brim", right, -left)
        if taken := d.taken("crown edge"):
            d.seam("brim to crown", -inner, taken)
        else:
            d.unsewn(inner, "left open")
            d.girth("head", runs=[inner], body=self.head, ease=0)
'''
