"""Blocks that behave badly, and a format that does; invented."""

from __future__ import annotations

import os
import time
import warnings

from blockwright import Block, Document, Draft, Edge, Point, line, measurement


class Panel(Block):
    """A plain panel, which does nothing wrong."""

    key = "test.panel"
    title = "Panel"
    waist = measurement("waist_girth")

    def draft(self, d: Draft) -> None:
        wide = self.waist / 4.0
        corners = [Point(0, 0), Point(wide, 0), Point(wide, 300), Point(0, 300), Point(0, 0)]
        names = ["hem", "right", "waist", "left"]
        edges = [
            Edge(name, line(a, b)) for name, a, b in zip(names, corners, corners[1:], strict=False)
        ]
        d.piece("panel", edges, cut=4)
        d.unsewn(edges, "left open")
        d.girth("waist", body=self.waist, ease=self.ease, runs=[edges[2]], times=4)

    ease = 0.0


class Broken(Panel):
    """A panel whose promise does not hold."""

    ease = 30.0


class Sleeps(Panel):
    """A panel that waits for nothing."""

    def draft(self, d: Draft) -> None:
        time.sleep(600)


class LoopsInC(Panel):
    """A panel in one call of compiled code that does not end: no signal handler of Python runs."""

    def draft(self, d: Draft) -> None:
        sum(range(10**15))


class Prints(Panel):
    """A panel that prints and warns."""

    def draft(self, d: Draft) -> None:
        print("measuring")
        warnings.warn("slack tape", stacklevel=1)
        super().draft(d)


class Raises(Panel):
    """A panel with a slip in it."""

    def draft(self, d: Draft) -> None:
        raise KeyError("hip")


class Exits(Panel):
    """A panel that ends its process."""

    def draft(self, d: Draft) -> None:
        os._exit(3)


class Killed(Panel):
    """A panel that kills its process."""

    def draft(self, d: Draft) -> None:
        os.kill(os.getpid(), 9)


def never_written(document: Document) -> bytes:
    """A format that does not end."""
    while True:
        pass
