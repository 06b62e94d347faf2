"""The source of a block that drafts and is proved, as a stranger writes it."""

from __future__ import annotations

SAYS = "A cuff in one piece, to try the host with."
CUFF = '''
from blockwright import Block, Edge, Point, hookimpl, length_option, line, measurement


class Cuff(Block):
    """{says}"""

    key = "{key}"
    title = "Cuff"

    wrist = measurement("wrist_girth")
    depth = length_option("6 cm", low="3 cm", high="12 cm", says="finished depth")

    def draft(self, d):
        {first}
        wide, deep = self.wrist, self.depth
        at = [Point(0, 0), Point(wide, 0), Point(wide, deep), Point(0, deep)]
        names = [("hem", "hem"), ("end", "hem"), ("sleeve edge", "hem"), ("other end", "hem")]
        edges = [
            Edge(name, line(a, b), role)
            for (name, role), a, b in zip(names, at, [*at[1:], at[0]], strict=True)
        ]
        d.piece(
            "cuff", edges, grain=(Point(20, 10), Point(20, self.depth - 10)),
            label_at=Point(self.wrist / 2, self.depth / 2),
        )
        d.girth("wrist", runs=[edges[0]], body=self.wrist, ease=0.0)
'''
OFFERED = """

@hookimpl
def blockwright_blocks():
    return [Cuff]
"""


def cuff(key: str, *, first: str = "", says: str = SAYS, offered: bool = True) -> str:
    """A module with one block; `first` is what it does before it draws."""
    return CUFF.format(key=key, first=first or "pass", says=says) + OFFERED * offered


def line_of(source: str, words: str) -> int:
    """The number of the line of a source that has these words, counted from 1."""
    (number,) = [i for i, line in enumerate(source.split("\n"), 1) if words in line]
    return number
