"""Label and grain of pieces whose author leaves them to us: in the cloth, and they do not jump."""

from __future__ import annotations

import math
import random

import pytest
from shapely.geometry import LineString, Polygon
from shapely.geometry import Point as Place

from blockwright import (
    Affine,
    Curve,
    Draft,
    Edge,
    InputError,
    Piece,
    Point,
    arc,
    distance,
    draft,
    line,
    load,
    polyline,
    prove,
)
from blockwright.pattern.table.label_placement import usual_grain, usual_label
from blockwright.testing.bodies import many

LAY = {f"turned {degrees}": Affine.turn(math.radians(degrees)) for degrees in (0, 90, 180, 37)}


def put(curves: list[Curve]) -> Piece:
    """A piece of these edges, label and grain left open; it is proved."""
    d = Draft("test.piece", "Piece")
    piece = d.piece("piece", [Edge(f"{i}", curve) for i, curve in enumerate(curves)])
    assert prove(d.pattern()).held
    return piece


def crescent(inner: float) -> list[Curve]:
    """Half a ring, 300 mm in radius."""
    c, a, b = Point(0.0, 0.0), Point(300.0, 0.0), Point(inner, 0.0)
    return [arc(c, 300.0, 0.0, math.pi), line(-1.0 * a, -1.0 * b), arc(c, inner, math.pi, 0.0),
            line(b, a)]  # fmt: skip


def rectangle() -> list[Curve]:
    return [polyline([Point(0, 0), Point(400, 0), Point(400, 60), Point(0, 60), Point(0, 0)])]


def corner() -> list[Curve]:
    at = [(0, 0), (300, 0), (300, 60), (60, 60), (60, 400), (0, 400), (0, 0)]
    return [polyline([Point(*each) for each in at])]


SHAPES = {
    "band": rectangle(),
    "crescent": crescent(230.0),
    "thin crescent": crescent(290.0),
    "corner": corner(),
}


@pytest.mark.parametrize("lay", LAY)
@pytest.mark.parametrize("shape", SHAPES)
def test_they_lie_in_the_cloth_however_it_lies(shape: str, lay: str) -> None:
    curves = [curve.moved(LAY[lay]) for curve in SHAPES[shape]]
    piece = put(curves)
    cloth = Polygon([tuple(p) for curve in curves for p in curve.flatten(accuracy=0.01)[:-1]])
    assert cloth.contains(Place(*piece.label_at))
    low, high = piece.grain
    assert cloth.contains(LineString([tuple(low), tuple(high)]))
    assert low.x == pytest.approx(high.x, abs=1e-9)
    assert high.y > low.y


def test_a_rectangle_has_its_label_in_the_middle_and_its_grain_half_way_to_the_left() -> None:
    piece = put(rectangle())
    assert (piece.label_at.x, piece.label_at.y) == (pytest.approx(200.0), pytest.approx(30.0))
    low, high = piece.grain
    assert (low.x, low.y, high.y) == tuple(map(pytest.approx, (100.0, 9.0, 51.0)))


def test_a_half_disc_has_its_label_at_its_centroid() -> None:
    """4 r / 3 pi from the diameter: the centroid of a half disc, in any handbook of mechanics."""
    disc = [arc(Point(0, 0), 300.0, 0.0, math.pi), line(Point(-300, 0), Point(300, 0))]
    assert put(disc).label_at.y == pytest.approx(4.0 * 300.0 / (3.0 * math.pi), rel=2e-3)


def test_one_that_is_given_stays() -> None:
    d, (outline,) = Draft("test.piece", "Piece"), rectangle()
    at, grain = Point(50.0, 20.0), (Point(20.0, 10.0), Point(20.0, 50.0))
    labelled = d.piece("labelled", [Edge("a", outline)], label_at=at)
    grained = d.piece("grained", [Edge("b", outline)], grain=grain)
    assert labelled.label_at == at
    assert grained.grain == grain
    assert grained.label_at.x == pytest.approx(200.0)


def test_an_outline_that_is_none_is_told_by_the_proof() -> None:
    d = Draft("test.piece", "Piece")
    d.piece("open", [Edge("a", line(Point(0, 0), Point(90, 0)))])
    assert [(each.code, each.subject.name) for each in prove(d.pattern()).broken] == [
        ("outline.closes", "open")
    ]


def star(chance: random.Random, swell: float = 0.0) -> list[Curve]:
    """Corners all round the origin at random distances."""
    count = chance.randint(5, 9)
    far = [chance.uniform(100.0, 250.0) + swell for _ in range(count)]
    at = [Point.polar(mm, math.tau * i / count) for i, mm in enumerate(far)]
    return [polyline([*at, at[0]])]


def test_random_shapes_hold_them_and_move_them_little() -> None:
    for seed in range(200):
        piece = put(star(random.Random(seed)))
        swollen = put(star(random.Random(seed), swell=0.1))
        moved = [distance(piece.label_at, swollen.label_at)]
        moved += map(distance, piece.grain, swollen.grain)
        assert max(moved) < 2.0, seed


@pytest.mark.parametrize("key", load(only=["blockwright"]).blocks)
def test_they_would_do_for_every_piece_of_ours(key: str) -> None:
    block = load(only=["blockwright"]).block(key)
    for body in many([block], 12):
        try:
            pattern = draft(block, body.sheet)
        except InputError:
            continue
        for piece in pattern.pieces:
            label = usual_label(piece)
            low, high = usual_grain(piece, label)
            flat = [tuple(p) for edge in piece.edges for p in edge.curve.flatten()[:-1]]
            cloth = Polygon(flat)
            assert cloth.contains(Place(*label)), (body.name, piece.name)
            assert cloth.contains(LineString([tuple(low), tuple(high)])), (body.name, piece.name)
