"""What is bent while a block drafts, and honest promises that follow something and pass."""

from __future__ import annotations

import math
from dataclasses import replace

import broken_blocks
import pytest
from broken_blocks import HIP_LEVEL, Tube

import blockwright
from blockwright import Affine, Draft, Edge, Given, Guide, Point, arc, fair_curve, join, line
from blockwright.curves import primitives
from blockwright.curves.fair import FairSpline, fair_spline
from blockwright.pattern.truing import LaidLine
from blockwright.testing.bending import MAKERS, SOLVERS, Bend
from blockwright.testing.bodies import few
from blockwright.testing.run import CHECKS
from blockwright.testing.tautology_check import BENT, SHARES, followers
from blockwright.testing.trial import Trial

CURVES = {
    "line": line(Point(0, 0), Point(200, 0)),
    "short line": line(Point(0, 0), Point(10, 5)),
    "arc": arc(Point(0, 0), 100.0, 0.0, math.pi),
    "circle": arc(Point(0, 0), 100.0, 0.0, math.tau),
    "fair curve": fair_curve([(0, 0), (60, 30), (150, -20)]),
}


@pytest.mark.parametrize("name", CURVES)
@pytest.mark.parametrize("seed", range(3))
def test_a_bent_curve_has_its_ends_and_another_length(name: str, seed: int) -> None:
    curve = CURVES[name]
    bent = Bend(seed, 0.04).curve(curve)
    assert (bent.start, bent.end) == (curve.start, curve.end)
    # Above the tenth of a millimetre and half the degree that promises are held to.
    assert abs(bent.length - curve.length) > 0.1
    turned = bent.start_tangent.cross(curve.start_tangent)
    assert abs(math.degrees(math.asin(turned))) > 0.5


def test_two_calls_bend_differently_and_nothing_is_left_bent() -> None:
    names = {name: getattr(blockwright, name) for name in (*MAKERS, *SOLVERS)}
    kept = [{**vars(kind)} for kind in (Draft, FairSpline, LaidLine)]
    with Bend(1, 0.04).drawing():
        first, second = (blockwright.line((0, 0), (200, 0)) for _ in range(2))
        assert first != second
        assert broken_blocks.line is blockwright.line is not names["line"]
        # What the kernel measures with is not bent.
        assert primitives.line is names["line"]
        spline = fair_spline([(0, 0), (60, 30), (150, -20)])
        assert spline.length == pytest.approx(spline.curve().length)
        d = Draft("test.line", "Line")
        long = d.solve(
            "reach", lambda x: blockwright.line((0, 0), (x, 0)).length, target=80.0, low=1.0,
            high=100.0, so_that="it is as long as asked", goal="length",
        )  # fmt: skip
        assert long == pytest.approx(80.0, abs=1e-4)
        assert blockwright.line((0, 0), (long, 0)).length > 80.1
    assert names == {name: getattr(blockwright, name) for name in names}
    assert broken_blocks.line is names["line"]
    assert kept == [{**vars(kind)} for kind in (Draft, FairSpline, LaidLine)]
    assert blockwright.line((0, 0), (200, 0)).length == pytest.approx(200.0)


class PatchPocket(Tube):
    """Tube with a pocket sewn on top, as long as the line on the tube, each drawn by itself."""

    def draft(self, d: Draft) -> None:
        place = fair_curve([(-50, 200), (0, 150), (50, 200)])
        edges = self.edges(d)
        self.panel(d, edges, guides=[Guide("pocket", place)])
        self.promises(d, edges)
        foot = Edge("foot", fair_curve([(-50, 50), (0, 0), (50, 50)]))
        mouth = Edge("pocket mouth", line(Point(50, 50), Point(-50, 50)), "hem")
        d.piece("patch", [foot, mouth], cut=2)
        d.seam("pocket", foot, Given("its place", place.length))


class MirroredSides(Tube):
    """Tube whose left side is its right side turned over, so that both are always as long."""

    def edges(self, d: Draft) -> dict[str, Edge]:
        edges = super().edges(d)
        over = Affine.mirror(Point(0, 0), Point(0, 1))
        left = edges["right"].curve.moved(over).reversed()
        return edges | {"left": Edge("left", left)}


class MarkFromAnotherLine(Tube):
    """Tube whose side is drawn through a mark that was found on another line."""

    def edges(self, d: Draft) -> dict[str, Edge]:
        own = super().edges(d)
        tops = {key: replace(own[key], role="hem") for key in ("top", "rest of the top")}
        return own | tops

    def side(self, way: float) -> object:
        other = fair_curve([(0.0, 0.0), (30.0, 60.0), (0.0, self.depth)])
        in_or_out = other.point_at(other.length / 2.0).x / 10.0
        self.found = Point(way * (self.bottom + in_or_out), self.depth / 2.0)
        marks = [(way * self.bottom, 0.0), self.found, (way * self.above, self.depth)]
        if way < 0.0:
            return join([line(*marks[:2]), line(*marks[1:])])
        return fair_curve(marks)

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        mark = d.mark("half way", self.found, "where the other line is, a tenth as far")
        d.through("left through its mark", "left", mark)
        d.through("left begins at its mark", "left", d.mark("top", edges["left"].curve.start, "?"))
        d.girth("hip", runs="hem", times=2, body=self.hip, ease=self.ease)
        for side in ("left", "right"):
            d.measure(side, length=self.depth, ease=(0.0, 60.0), runs=side)
        d.unsewn(["top", "left", "right"], "left open")


class WindowOfAnotherEdge(Tube):
    """Tube whose side may be eased by a share of the other side."""

    def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
        left = edges["left"].curve.length
        d.seam("side seam", "right", "-left", ease=(-0.04 * left, 0.04 * left))
        self.girths(d, edges)
        self.tops(d)


HONEST = (Tube, PatchPocket, MirroredSides, MarkFromAnotherLine, WindowOfAnotherEdge)


@pytest.mark.parametrize("block", HONEST)
def test_an_honest_promise_may_follow_something(block: type[Tube]) -> None:
    trials = [Trial((block,), body) for body in few([block])]
    assert trials[0].outcome.held, trials[0].outcome
    for name in ("promises-are-independent", "promises-are-narrow", "edges-are-sewn"):
        check = CHECKS[name]
        assert check.complaints(trials[0] if check.on == "body" else trials) == []
    # It was looked at: the bent drafts came about.
    for seed, share in enumerate(SHARES[:BENT]):
        with Bend(seed, share).drawing():
            outcome = trials[0].proved()
        assert outcome.pattern is not None
        assert not outcome.held


def test_a_block_that_refuses_every_bent_drawing_is_not_judged() -> None:
    class Strict(Tube):
        """Tube that looks at its own side, and fails if it is not what it should be."""

        def promises(self, d: Draft, edges: dict[str, Edge]) -> None:
            straight = edges["hem"].curve
            assert straight.length == pytest.approx(2.0 * self.bottom), "bent"
            d.girth("hip", runs="hem", body=straight.length, ease=0.0)
            d.seam("side seam", "right", "-left")
            self.tops(d)
            assert self.depth > HIP_LEVEL

    trial = Trial((Strict,), few([Strict])[0])
    assert trial.outcome.held
    assert followers(trial) == []
