"""Label and grain of pieces whose author leaves them to us: in the cloth, and they do not jump."""

from __future__ import annotations

import math
import random
from dataclasses import replace

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
)
from blockwright.pattern.table.label_placement import fitted_grain, usual_grain, usual_label
from blockwright.testing.bodies import many
from promised import prove_promised as prove

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


def test_a_grain_whose_middle_is_not_within_the_cloth_is_drawn_anew() -> None:
    """The grain as it was drawn is kept, for a change that gives it room again."""
    made = put(
        [polyline([Point(0, 0), Point(100, 0), Point(100, 200), Point(0, 200), Point(0, 0)])]
    )
    drawn = (Point(50.0, -60.004), Point(50.0, 59.996))
    fitted = fitted_grain(replace(made, grain=drawn))
    assert fitted.longer_grain == drawn
    assert fitted.grain == usual_grain(made, made.label_at)


def test_a_piece_of_a_millimetre_has_its_label_at_its_centroid() -> None:
    """A square of 0.2 by 0.5 and a triangle of 0.8 by 0.5 beside it, by their centroids."""
    at = [Point(0, 0), Point(1, 0), Point(0.2, 0.5), Point(0, 0.5), Point(0, 0)]
    piece = Piece("tiny", (Edge("all", polyline(at)),), (at[0], at[1]), at[0])
    square, triangle = 0.2 * 0.5, 0.8 * 0.5 / 2.0
    x = (square * 0.1 + triangle * (0.2 + 0.8 / 3.0)) / (square + triangle)
    y = (square * 0.25 + triangle * 0.5 / 3.0) / (square + triangle)
    assert tuple(usual_label(piece)) == pytest.approx((x, y))


@pytest.mark.parametrize(
    ("low", "high", "shown"),
    [
        (50.0, 150.0, (50.0, 150.0)),
        (0.0, 200.0, (0.0, 200.0)),
        (-60.0, 140.0, (30.0, 140.0)),
        (60.0, 260.0, (60.0, 170.0)),
        (-40.0, 240.0, (30.0, 170.0)),
        (-60.0, 199.5, (30.0, 199.5)),
        (0.5, 260.0, (0.5, 170.0)),
    ],
)
def test_as_much_of_a_grain_is_shown_as_lies_in_the_cloth(low, high, shown) -> None:
    """200 mm of cloth: an end beyond it goes to 0.15 of that within.  The drawn one is kept."""
    at = [Point(0, 0), Point(100, 0), Point(100, 200), Point(0, 200), Point(0, 0)]
    drawn = (Point(50.0, low), Point(50.0, high))
    fitted = fitted_grain(replace(put([polyline(at)]), grain=drawn))
    assert [end.x for end in fitted.grain] == pytest.approx([50.0, 50.0])
    assert [end.y for end in fitted.grain] == pytest.approx(shown)
    assert fitted.longer_grain == (None if shown == (low, high) else drawn)
    # Once there is room for it, it is whole again.
    taller = [Point(0, -99), Point(100, -99), Point(100, 399), Point(0, 399), Point(0, -99)]
    again = fitted_grain(replace(fitted, edges=(Edge("all", polyline(taller)),)))
    assert (again.grain, again.longer_grain) == (drawn, None)


@pytest.mark.parametrize("turned", [0.0, 90.0, 180.0, 270.0])
def test_where_the_middle_is_not_cloth_the_label_goes_to_the_middle_of_the_bend(
    turned: float,
) -> None:
    """Half a ring of 230 to 300 mm: on one side of its centre there is cloth once."""
    lay = Affine.turn(math.radians(turned))
    label = usual_label(put([curve.moved(lay) for curve in crescent(230.0)]))
    assert tuple(label) == pytest.approx(tuple(lay(Point(0.0, 265.0))), abs=1e-6)


# -- they do not jump ------------------------------------------------------------------------------

Corners = list[tuple[float, float]]


def letter_l(w: float, h: float, foot: float, back: float) -> Corners:
    return [(0, 0), (w, 0), (w, foot), (back, foot), (back, h), (0, h)]


def letter_u(w: float, h: float, left: float, right: float, base: float) -> Corners:
    inner = [(w - right, h), (w - right, base), (left, base), (left, h)]
    return [(0, 0), (w, 0), (w, h), *inner, (0, h)]


def letter_c(w: float, h: float, top: float, foot: float, back: float) -> Corners:
    inner = [(w, foot), (back, foot), (back, h - top), (w, h - top)]
    return [(0, 0), (w, 0), *inner, (w, h), (0, h)]


def wedge(w: float, h: float, tip: float) -> Corners:
    return [(0, 0), (w, 0), (tip, h)]


LOPSIDED = [(0, 0), (400, 0), (400, 60), (350, 60), (350, 50), (50, 50), (50, 300), (0, 300)]
SWEEPS: dict[str, tuple[Corners, Corners]] = {
    "L with a wider back": (letter_l(300, 400, 20, 20), letter_l(300, 400, 250, 280)),
    "L until it is nearly an oblong": (letter_l(300, 400, 30, 60), letter_l(300, 400, 380, 60)),
    "U with a higher base": (letter_u(300, 400, 50, 50, 10), letter_u(300, 400, 50, 50, 390)),
    "U with a wider side": (letter_u(400, 300, 20, 60, 50), letter_u(400, 300, 200, 60, 50)),
    "U that loses a side": (letter_u(400, 300, 50, 50, 50), LOPSIDED),
    "C with a wider back": (letter_c(300, 400, 40, 40, 20), letter_c(300, 400, 40, 40, 280)),
    "C turned over": (letter_c(300, 400, 20, 180, 60), letter_c(300, 400, 180, 20, 60)),
    "wedge whose tip moves over": (wedge(200, 300, 0), wedge(200, 300, 200)),
    "thin wedge that opens": (wedge(20, 300, 0), wedge(300, 300, 100)),
}
# Times as far as the fastest corner of the outline; the most found on these are 2.8 and 9.4.
LABEL_MOST, GRAIN_MOST = 4.0, 12.0
COARSE, FINE, PLACES = 2.0, 0.1, 12


def placed(a: Corners, b: Corners, share: float) -> tuple[Point, Point, Point]:
    """Label and ends of grain on the shape at a share of the way from one to the other."""
    at = [Point(*p).between(Point(*q), share) for p, q in zip(a, b, strict=True)]
    outline = polyline([*at, at[0]])
    piece = Piece("piece", (Edge("all", outline),), (at[0], at[1]), at[0])
    label = usual_label(piece)
    grain = usual_grain(piece, label)
    for place in (label, *grain):
        assert Polygon([tuple(p) for p in at]).contains(Place(*place)), share
    return label, *grain


@pytest.mark.parametrize("sweep", SWEEPS)
def test_they_move_little_faster_than_the_outline(sweep: str) -> None:
    """In coarse steps over the whole way, and in steps of 0.1 mm at places by chance."""
    a, b = SWEEPS[sweep]
    far = max(math.dist(p, q) for p, q in zip(a, b, strict=True))
    chance = random.Random(sweep)
    coarse = [(i * COARSE / far, COARSE) for i in range(int(far / COARSE))]
    fine = [(chance.uniform(0.0, 1.0 - FINE / far), FINE) for _ in range(PLACES)]
    for share, step in coarse + fine:
        before, after = placed(a, b, share), placed(a, b, share + step / far)
        label, *grain = (distance(*each) for each in zip(before, after, strict=True))
        assert label < LABEL_MOST * step, share
        assert max(grain) < GRAIN_MOST * step, share


@pytest.mark.parametrize("sweep", SWEEPS)
def test_they_move_little_whichever_corner_moves(sweep: str) -> None:
    """Every corner moved by a tenth of a millimetre on its own, a way by chance."""
    a, b = SWEEPS[sweep]
    chance = random.Random(sweep)
    for _ in range(PLACES):
        share = chance.uniform(0.05, 0.95)
        mixed = [tuple(Point(*p).between(Point(*q), share)) for p, q in zip(a, b, strict=True)]
        moved = [tuple(Point(*p) + Point.polar(FINE, chance.uniform(0.0, math.tau))) for p in mixed]
        before, after = placed(mixed, mixed, 0.0), placed(moved, moved, 0.0)
        label, *grain = (distance(*each) for each in zip(before, after, strict=True))
        assert label < LABEL_MOST * FINE
        assert max(grain) < GRAIN_MOST * FINE
