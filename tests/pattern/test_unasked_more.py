"""Wrong patterns whose own promises all hold, and honest ones that look odd.

The pieces are invented.  That cloth folded along two parallel lines opens out into no flat piece,
that a dart's point lies in the cloth and that a garment hangs together is common practice, no
source.
"""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from blockwright import Dart, Draft, Edge, Given, Pattern, Point, arc, line, polyline, prove

WIDE, HIGH = 200.0, 300.0


def box(which: str, roles: tuple[str, str, str, str]) -> list[Edge]:
    """A rectangle: hem, side, waist, centre."""
    at = [Point(0, 0), Point(WIDE, 0), Point(WIDE, HIGH), Point(0, HIGH), Point(0, 0)]
    names = (f"{which} {name}" for name in ("hem", "side", "waist", "centre"))
    return [
        Edge(name, line(a, b), role)  # type: ignore[arg-type]
        for name, role, a, b in zip(names, roles, at[:-1], at[1:], strict=True)
    ]


def failing(pattern: Pattern) -> set[str]:
    return {result.code for result in prove(pattern).results if not result.held}


def skirt(*, roles: tuple[str, str, str, str], joined: str = "") -> Pattern:
    """Front and back; `joined`: how their sides are sewn."""
    d = Draft("test.skirt", "Skirt")
    for which in ("front", "back"):
        d.piece(which, box(which, roles))
        d.unsewn(f"{which} waist", "bound")
    if joined == "seam":
        d.seam("side", "front side", "back side")
    if joined == "given":
        d.seam("front side", "front side", Given("side", HIGH))
        d.seam("back side", "back side", Given("side", HIGH))
    return d.pattern()


def test_front_and_back_that_nothing_joins() -> None:
    pattern = skirt(roles=("hem", "hem", "waist", "fold"))
    proof = prove(pattern)
    assert proof.held
    (loose,) = proof.warnings
    assert loose.code == "sewing.loose"
    assert loose.why is not None
    assert [ref.name for ref in loose.why.values["pieces"]] == ["back"]  # type: ignore[union-attr]


@pytest.mark.parametrize("joined", ["seam", "given"])
def test_front_and_back_that_are_joined(joined: str) -> None:
    """A given length stands for what is not drafted here, as for a patch on a guide line."""
    assert not failing(skirt(roles=("hem", "seam", "waist", "fold"), joined=joined))


def test_a_pattern_that_lost_its_origins_is_measured_all_the_same() -> None:
    drafted = skirt(roles=("hem", "hem", "waist", "fold"))
    assert failing(replace(drafted, origins=())) == {"sewing.loose"}


def test_a_drawing_that_was_read_says_nothing_of_its_seams() -> None:
    drafted = skirt(roles=("hem", "hem", "waist", "fold"))
    assert not failing(replace(drafted, origins=(), promises=()))


def test_a_seam_that_is_missing_is_told_once() -> None:
    assert failing(skirt(roles=("hem", "seam", "waist", "fold"))) == {"sewing.partner"}


def test_two_parallel_folds() -> None:
    assert failing(skirt(roles=("hem", "fold", "waist", "fold"))) == {"piece.folds", "sewing.loose"}


def quarter(turn: float) -> Pattern:
    """A sector of a ring between two folds, whose lines meet in its centre."""
    d = Draft("test.circle", "Circle")
    low, high = Point(math.cos(turn), math.sin(turn)), Point(1, 0)
    edges = [
        Edge("hem", arc(Point(0, 0), 600.0, 0.0, turn), "hem"),
        Edge("one fold", line(low * 600.0, low * 100.0), "fold"),
        Edge("hole", arc(Point(0, 0), 100.0, turn, 0.0), "hem"),
        Edge("other fold", line(high * 100.0, high * 600.0), "fold"),
    ]
    d.piece("circle", edges)
    return d.pattern()


def dart_skirt(apex: float) -> Pattern:
    """A panel with a dart, its mouth a straight line; the corner there is stated."""
    d = Draft("test.panel", "Panel")
    a, b = Point(110, HIGH), Point(90, HIGH)
    hem, side, _, centre = box("front", ("hem", "hem", "waist", "hem"))
    mouth = Edge("mouth", line(a, b), "dart")
    waist = [
        Edge("waist", polyline([Point(WIDE, HIGH), a]), "waist"),
        mouth,
        Edge("waist", polyline([b, Point(0, HIGH)]), "waist"),
    ]
    dart = Dart("dart", Point(100, apex), mouth, "end", "pressed to the centre")
    d.piece("front", [hem, side, *waist, centre], darts=[dart], grain=((40, 40), (40, 200)))
    d.corner("waist over the dart", dart, angle=(150.0, 210.0))
    d.unsewn("waist", "bound")
    return d.pattern()


@pytest.mark.parametrize(("apex", "fails"), [(HIGH - 90, set()), (HIGH + 90, {"outline.darts"})])
def test_a_dart_whose_point_lies_above_the_waist(apex: float, fails: set[str]) -> None:
    assert failing(dart_skirt(apex)) == fails


def open_cape(collar_high: float = 50.0, end_lean: float = 0.0) -> Pattern:
    """Open in front, with a collar of two layers that are turned at its end."""
    d = Draft("test.cape", "Cape")
    n, down = math.pi * 60.0, -math.pi / 2
    cape = [
        Edge("front edge", line(Point(700, 0), Point(120, 0)), "hem"),
        Edge("neck", arc(Point(0, 0), 120.0, 0.0, down), "neck"),
        Edge("centre back", line(Point(0, -120), Point(0, -700)), "fold"),
        Edge("hem", arc(Point(0, 0), 700.0, down, 0.0), "hem"),
    ]
    tip = Point(n + end_lean, collar_high)
    collar = [
        Edge("collar neck", line(Point(0, 0), Point(n, 0)), "neck"),
        Edge("collar end", line(Point(n, 0), tip)),
        Edge("collar top", line(tip, Point(0, collar_high))),
        Edge("collar back", line(Point(0, collar_high), Point(0, 0)), "fold"),
    ]
    d.piece("cape", cape)
    d.piece("collar", collar, cut=2)
    d.twin("end", "collar end")
    d.twin("top", "collar top")
    d.unsewn("collar neck", "left open")
    d.seam("neck", "collar neck", "-neck", shaped=True)
    return d.pattern()


def test_a_collar_of_two_layers_on_an_open_front() -> None:
    """A right angle on the cape and one on the collar, on either layer: 360 degrees."""
    assert not failing(open_cape())


def test_a_leaning_collar_on_an_open_front() -> None:
    assert failing(open_cape(end_lean=10.0)) == {"sewing.corner"}


def test_a_quarter_between_two_folds() -> None:
    assert "piece.folds" not in failing(quarter(math.pi / 2))


def test_a_third_between_two_folds() -> None:
    assert "piece.folds" in failing(quarter(math.pi * 2 / 3))
