"""How near each promise is held: just inside a limit it holds, just outside it is broken."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest

from blockwright import (
    Curve,
    Dart,
    Draft,
    Edge,
    Pattern,
    Piece,
    Point,
    Result,
    Way,
    contains,
    line,
    polyline,
)
from blockwright.pattern.walk import NoRunError, walk
from promised import prove_promised as prove

WIDE, TALL = 200.0, 300.0


def told(pattern: Pattern) -> set[str]:
    """The codes of what is broken."""
    return {result.code for result in prove(pattern).broken}


def panel(d: Draft, gap: float = 0.0) -> Piece:
    """A rectangle; its left edge ends `gap` mm short of where the hem begins."""
    at = [Point(0, 0), Point(WIDE, 0), Point(WIDE, TALL), Point(0, TALL), Point(0, gap)]
    names = ["hem", "right", "waist", "left"]
    edges = [Edge(n, line(a, b)) for n, a, b in zip(names, at[:-1], at[1:], strict=True)]
    return d.piece("panel", edges, grain=(Point(50, 50), Point(50, 250)), label_at=Point(100, 150))


# -- closing, and lying on marks -------------------------------------------------------------------


@pytest.mark.parametrize(
    ("gap", "codes"),
    [(9e-7, set()), (1.1e-6, {"outline.closes"}), (9e-4, {"outline.closes"}),
     (1.1e-3, {"outline.closes"})],
)  # fmt: skip
def test_an_outline_closes_to_a_millionth_of_a_millimetre(gap: float, codes: set[str]) -> None:
    """What is open by more has no area that can be computed: the proof says so and goes on."""
    d = Draft("test.panel", "Panel")
    panel(d, gap)
    assert told(d.pattern()) == codes


@pytest.mark.parametrize(("apart", "follows"), [(9e-4, True), (1.1e-3, False), (0.01, False)])
def test_edges_of_a_run_meet_to_a_thousandth_of_a_millimetre(apart: float, follows: bool) -> None:
    d = Draft("test.panel", "Panel")
    panel(d, apart)
    pattern = d.pattern()
    if follows:
        assert run(pattern, "left", "hem") == pytest.approx(TALL + WIDE, abs=0.002)
        return
    with pytest.raises(NoRunError, match="'hem' does not follow 'left'"):
        run(pattern, "left", "hem")


@pytest.mark.parametrize(("off", "codes"), [(0.009, set()), (0.011, {"through"})])
def test_an_edge_lies_on_its_marks_to_a_hundredth_of_a_millimetre(
    off: float, codes: set[str]
) -> None:
    d = Draft("test.panel", "Panel")
    square = panel(d)
    on = d.mark("on the hem", Point(60, 0), "somewhere on the hem")
    beside = d.mark("beside the hem", Point(120, off), "beside it")
    d.through("hem", square.edge("hem"), [on, beside])
    pattern = d.pattern()
    assert told(pattern) == codes
    (result,) = (each for each in prove(pattern).results if each.code == "through")
    assert result.measured == pytest.approx(off)


# -- the side an edge curves to --------------------------------------------------------------------

# Cubics from (0, 0) to (200, 0): one full all the way, one that bends the other way in a short
# stretch of its middle, one that runs to the left in its middle, one that is an S.
FULL = ((0.0, 0.0), (60.0, -60.0), (140.0, -60.0), (200.0, 0.0))
DENTED = ((0.0, 0.0), (190.0, -60.0), (10.0, -60.0), (200.0, 0.0))
BACKWARD = ((0.0, 0.0), (210.0, -60.0), (-10.0, -60.0), (200.0, 0.0))
WAVE = ((0.0, 0.0), (60.0, -60.0), (140.0, 60.0), (200.0, 0.0))


def changes_of_side(control: Sequence[tuple[float, float]]) -> int:
    """How often a cubic changes the side it curves to: the real roots of its bend, by numpy.

    The curvature of a plane curve is x'y'' - y'x'' over the cube of its speed (any calculus book).
    """
    basis = np.array([[-1, 3, -3, 1], [3, -6, 3, 0], [-3, 3, 0, 0], [1, 0, 0, 0]], dtype=float)
    x, y = (np.poly1d(basis @ np.array(axis)) for axis in zip(*control, strict=True))
    bend = x.deriv() * y.deriv(2) - y.deriv() * x.deriv(2)
    return sum(abs(root.imag) < 1e-9 and 0.0 < root.real < 1.0 for root in bend.roots)


def with_hem(
    control: Sequence[tuple[float, float]], bends: int, toward: Point | None = None
) -> dict[str, Result]:
    """What is measured of a hem of that cubic, by code."""
    hem = Edge("hem", Curve(np.array([control])), "hem")
    sides = [hem.curve.end, Point(WIDE, TALL), Point(0, TALL), hem.curve.start]
    d = Draft("test.hem", "Hem")
    grain = Point(50, 100), Point(50, 280)
    d.piece("panel", [hem, Edge("rest", polyline(sides))], grain=grain, label_at=Point(100, 250))
    d.shape("shape of the hem", hem, bends=bends, toward=toward)
    return {result.code: result for result in prove(d.pattern()).results}


@pytest.mark.parametrize(("control", "often"), [(FULL, 0), (WAVE, 1), (DENTED, 2)])
def test_every_change_of_side_within_one_cubic_is_counted(
    control: tuple[tuple[float, float], ...], often: int
) -> None:
    assert changes_of_side(control) == often
    found = with_hem(control, often)["shape.bends"]
    assert (found.measured, found.held) == (often, True)
    assert not with_hem(control, often + 1)["shape.bends"].held


def test_a_dent_within_the_twelfth_part_of_a_cubic_is_not_looked_for() -> None:
    """It is looked at twelve places; this one bends the other way between the middle two only."""
    # The halves mirror each other.  The bend is that of a - b s^2, with s counted from the middle.
    long, half = 200.0, 0.03
    b = long / (1.0 / 12.0 + half * half)
    w = long - 2.0 / 3.0 * b * half * half
    control = ((0.0, 0.0), (w, -40.0), (long - w, -40.0), (long, 0.0))
    assert changes_of_side(control) == 2
    assert with_hem(control, 0)["shape.bends"].measured == 0.0


@pytest.mark.parametrize(("curvature", "bends"), [(0.9e-5, 0), (1.5e-5, 1)])
def test_a_wave_flatter_than_a_radius_of_a_hundred_metres_is_straight(
    curvature: float, bends: int
) -> None:
    """Its curvature is greatest at the first place looked at, a 24th from its end."""
    long = 200.0
    high = curvature * long**2 / 16.5
    control = ((0.0, 0.0), (long / 3.0, high), (2.0 * long / 3.0, -high), (long, 0.0))
    assert with_hem(control, bends)["shape.bends"].measured == bends


def test_an_edge_that_turns_back_in_its_middle_is_told() -> None:
    """Both its ends run to the right."""
    found = with_hem(BACKWARD, 0, Point(1.0, 0.0))["shape.turns-back"]
    assert found.measured > 90.0
    assert not found.held
    # The steepest of the full one is its end, at 45 degrees.
    found = with_hem(FULL, 0, Point(2.0, 0.0))["shape.turns-back"]
    assert (found.measured, found.held) == (pytest.approx(45.0), True)


# -- a run over an eased seam ----------------------------------------------------------------------


def sewn_panels(ease: float, higher: float) -> Pattern:
    """Two panels sewn side to side; that of the front is longer by `ease`, mm.

    Both sides are in two parts; those of the front part `higher` mm further up.
    """
    d = Draft("test.eased", "Eased")
    for name, tall, middle in (("back", TALL, 150.0), ("front", TALL + ease, 150.0 + higher)):
        x = WIDE if name == "back" else 0.0
        low, half, high = Point(x, 0), Point(x, middle), Point(x, tall)
        at = [Point(0, 0), Point(WIDE, 0), Point(WIDE, tall), Point(0, tall), Point(0, 0)]
        lines = dict(zip(["hem", "right", "waist", "left"], pairwise(at), strict=True))
        edges = []
        for part, (a, b) in lines.items():
            if a.x == b.x == x:
                ends = [("lower", low, half), ("upper", half, high)]
                if name == "front":
                    ends = [(each, b, a) for each, a, b in reversed(ends)]
                edges += [Edge(f"{name} {each}", line(a, b)) for each, a, b in ends]
            else:
                edges.append(Edge(f"{name} {part}", line(a, b)))
        d.piece(name, edges, grain=(Point(50, 50), Point(50, 250)), label_at=Point(100, 150))
    front = [-edge for edge in d.pattern().piece("front").edges if "er" in edge.name]
    d.seam("side", front[::-1], ["back lower", "back upper"], ease=ease)
    pattern = d.pattern()
    assert prove(pattern).held
    return pattern


def run(pattern: Pattern, *names: str) -> float:
    """Length walked along edges, those with a minus before them from their ends."""
    ways = (Way(pattern.edge_ref(name.removeprefix("-")), name[0] != "-") for name in names)
    return walk(pattern, tuple(ways)).length


@pytest.mark.parametrize("ease", [0.0, 12.0, -12.0])
def test_a_run_goes_on_over_an_eased_seam(ease: float) -> None:
    """The ends of a seam come together whatever is eased in between them."""
    pattern = sewn_panels(ease, 0.0)
    assert run(pattern, "-back waist", "-front waist") == pytest.approx(2 * WIDE)
    assert run(pattern, "back hem", "front hem") == pytest.approx(2 * WIDE)


@pytest.mark.parametrize(
    ("ease", "higher", "follows"),
    [(0.0, 0.09, True), (0.0, 0.11, False), (12.0, 12.0, True), (12.0, 12.2, False)],
)
def test_within_a_seam_corners_come_together_within_its_ease(
    ease: float, higher: float, follows: bool
) -> None:
    pattern = sewn_panels(ease, higher)
    names = "back lower", "-front upper"
    if follows:
        upper = TALL + ease - 150.0 - higher
        assert run(pattern, *names) == pytest.approx(150.0 + upper)
        return
    with pytest.raises(NoRunError, match="'front upper' does not follow 'back lower'"):
        run(pattern, *names)


# -- darts clear of each other ---------------------------------------------------------------------


def two_darts(first: Point, second: Point) -> set[str]:
    """What breaks of a panel with a dart from its hem and one from its waist, at those points."""
    hem = [Point(0, 0), Point(90, 0), Point(110, 0), Point(WIDE, 0)]
    waist = [Point(WIDE, TALL), Point(110, TALL), Point(90, TALL), Point(0, TALL)]
    names = ["hem", "hem mouth", "hem", "right", "waist", "waist mouth", "waist", "left"]
    at = [*hem, *waist]
    edges = [
        Edge(name, line(a, b), "dart" if "mouth" in name else "seam")
        for name, a, b in zip(names, at, at[1:] + at[:1], strict=True)
    ]
    darts = [
        Dart("hem dart", first, "hem mouth", "end", "pressed right"),
        Dart("waist dart", second, "waist mouth", "end", "pressed left"),
    ]
    d = Draft("test.darts", "Darts")
    d.piece(
        "panel", edges, darts=darts, grain=(Point(30, 50), Point(30, 250)),
        label_at=Point(60, 150),
    )  # fmt: skip
    return told(d.pattern())


def test_darts_may_share_their_point() -> None:
    """Of a dart that is turned in part the new one ends where the old one does."""
    assert two_darts(Point(100, 150), Point(100, 150)) == set()
    assert two_darts(Point(100, 140), Point(100, 160)) == set()


@pytest.mark.parametrize("over", [0.01, 1.0, 40.0])
def test_darts_that_cross_are_told(over: float) -> None:
    """The point of each lies in the other."""
    crossed = two_darts(Point(100, 150 + over), Point(100, 150 - over))
    assert crossed == {"outline.darts"}


def test_a_dart_whose_point_lies_on_an_edge_is_told() -> None:
    """It leaves the cloth in two parts; its point is that of no other dart."""
    assert "outline.darts" in two_darts(Point(40, TALL), Point(100, 280))
    assert "outline.darts" not in two_darts(Point(40, TALL - 1.0), Point(100, 280))


# -- either way round ------------------------------------------------------------------------------


@pytest.mark.parametrize("clockwise", [False, True])
def test_inside_is_inside_whichever_way_an_outline_runs(clockwise: bool) -> None:
    at = [Point(0, 0), Point(WIDE, 0), Point(WIDE, TALL), Point(0, TALL), Point(0, 0)]
    curves = [line(a, b) for a, b in pairwise(at)]
    if clockwise:
        curves = [curve.reversed() for curve in reversed(curves)]
    assert contains(curves, Point(100, 150))
    assert not contains(curves, Point(-100, 150))


def test_of_a_clockwise_piece_only_the_way_is_told() -> None:
    """Its label and grain lie inside, and need no moving."""
    d = Draft("test.panel", "Panel")
    panel(d)
    pattern = d.pattern()
    square = pattern.piece("panel")
    edges = tuple(replace(e, curve=e.curve.reversed()) for e in reversed(square.edges))
    assert told(pattern.with_piece(replace(square, edges=edges))) == {"outline.counter-clockwise"}


# -- crossings -------------------------------------------------------------------------------------


LOOP = [Point(120, 0), Point(80, 60), Point(60, -40), Point(140, 60)]
FAR_OVER = [Point(-40, 150)]


@pytest.mark.parametrize(
    ("of_hem", "of_right", "code", "names"),
    [
        ([], FAR_OVER, "outline.crosses", {"right", "left"}),
        (LOOP, [], "outline.crosses-itself", {"hem"}),
    ],
)
def test_which_edges_cross_is_told(
    of_hem: list[Point], of_right: list[Point], code: str, names: set[str]
) -> None:
    hem = [Point(0, 0), *of_hem, Point(WIDE, 0)]
    over = [Point(WIDE, 0), *of_right, Point(WIDE, TALL)]
    edges = [
        Edge("hem", polyline(hem)),
        Edge("right", polyline(over)),
        Edge("waist", line(Point(WIDE, TALL), Point(0, TALL))),
        Edge("left", line(Point(0, TALL), Point(0, 0))),
    ]
    d = Draft("test.panel", "Panel")
    d.piece("panel", edges, grain=(Point(50, 250), Point(50, 290)), label_at=Point(60, 280))
    (simple,) = (r for r in prove(d.pattern()).broken if r.code == "outline.simple")
    assert simple.why is not None
    assert simple.why.code == code
    values = {key: simple.why.values[key] for key in ("edge", "other") if key in simple.why.values}
    assert {edge.name for edge in values.values()} == names


@pytest.mark.parametrize(("against", "turned"), [(False, 0.0), (True, 180.0)])
def test_a_straight_edge_turns_from_its_way_by_nothing_or_by_half_a_turn(
    against: bool, turned: float
) -> None:
    """Whatever the way: rounding makes no cosine beyond one."""
    for degrees in (0.0, 28.4, 45.0, 67.8, 78.6, 82.0, 200.0):
        way = Point(1.0, 0.0).turned(math.radians(degrees))
        at = [Point(0, 0), way * 100.0, way * 50.0 + way.left() * 50.0, Point(0, 0)]
        d = Draft("test.way", "Way")
        edges = [Edge(f"{i}", line(*at[i : i + 2])) for i in range(3)]
        d.piece("piece", edges)
        d.shape("straight", edges[0], bends=0, toward=-way if against else way)
        (found,) = [r for r in prove(d.pattern()).results if r.code == "shape.turns-back"]
        assert found.measured == pytest.approx(turned, abs=1e-5)
