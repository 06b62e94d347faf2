"""Darts turned, split, shortened, spread and taken in: what is sewn stays what it was."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest

from blockwright import (
    Dart,
    Draft,
    Edge,
    GeometryError,
    Guide,
    Notch,
    Pattern,
    PatternError,
    Piece,
    Point,
    distance,
    line,
    move_dart,
    polyline,
    prove,
    roof_between,
    shorten_dart,
    signed_area,
    spread,
    take_in,
)
from blockwright.pattern.across import sewn_outline, width_across
from blockwright.pattern.dart import opening

INTAKE, DEEP = 30.0, 120.0


@pytest.fixture
def panel() -> Piece:
    """A panel 240 by 300 with a waist dart in the middle of its top."""
    apex = Point(120.0, 300.0 - DEEP)
    right, left = Point(120.0 + INTAKE / 2, 300.0), Point(120.0 - INTAKE / 2, 300.0)
    inner = line(Point(240.0, 300.0), right)
    outer = line(left, Point(0.0, 300.0))
    mouth = Edge("waist dart mouth", roof_between(apex, inner, outer, "end"), "dart")
    edges = (
        Edge("hem", line(Point(0.0, 0.0), Point(240.0, 0.0)), "hem"),
        Edge("side", line(Point(240.0, 0.0), Point(240.0, 300.0))),
        Edge("waist side", inner, "waist"),
        mouth,
        Edge("waist centre", outer, "waist"),
        Edge("centre", line(Point(0.0, 300.0), Point(0.0, 0.0)), "fold"),
    )
    return Piece(
        "panel", edges, (Point(60.0, 20.0), Point(60.0, 150.0)), Point(60.0, 80.0),
        darts=(Dart("waist dart", apex, mouth.name, "end", "pressed to the centre"),),
        notches=(Notch("hip notch", "side", 100.0), Notch("hem notch", "hem", 200.0)),
        guides=(Guide("hip line", line(Point(0.0, 100.0), Point(240.0, 100.0))),),
    )  # fmt: skip


def cloth(piece: Piece) -> float:
    """Area that shows when the darts are sewn."""
    return signed_area(sewn_outline(piece))


def angle(piece: Piece, name: str) -> float:
    dart = next(dart for dart in piece.darts if dart.name == name)
    return opening(dart.apex, *piece.dart_legs(dart))


def proved(piece: Piece) -> bool:
    table = Draft("test.panel", "Panel")
    table.add(piece)
    return prove(table.pattern()).held


def to_side(piece: Piece, share: float = 1.0) -> Piece:
    return move_dart(
        piece, "waist dart", "side", 220.0, name="side dart", pressed="start",
        says="pressed down", parts=("side", "side upper"), share=share,
    )  # fmt: skip


def test_a_dart_moved_keeps_cloth_angle_and_seams(panel: Piece) -> None:
    moved = to_side(panel)
    assert proved(panel)
    assert proved(moved)
    assert cloth(moved) == pytest.approx(cloth(panel), rel=1e-12)
    assert [dart.name for dart in moved.darts] == ["side dart"]
    assert angle(moved, "side dart") == pytest.approx(angle(panel, "waist dart"), abs=1e-12)
    for name in ("hem", "waist side", "waist centre", "centre"):
        assert moved.edge(name).curve.length == pytest.approx(panel.edge(name).curve.length)
    lengths = [moved.edge(name).curve.length for name in ("side", "side upper")]
    assert lengths == pytest.approx([220.0, 80.0])
    # The waist edges now meet: the dart is closed.
    gap = distance(moved.edge("waist side").curve.end, moved.edge("waist centre").curve.start)
    assert gap < 1e-9


def test_a_share_splits_one_dart_in_two(panel: Piece) -> None:
    split = to_side(panel, 0.4)
    whole = angle(panel, "waist dart")
    assert proved(split)
    assert angle(split, "side dart") == pytest.approx(0.4 * whole)
    assert angle(split, "waist dart") == pytest.approx(0.6 * whole)
    assert cloth(split) == pytest.approx(cloth(panel), rel=1e-12)


def test_split_on_its_own_edge_then_shortened_apart(panel: Piece) -> None:
    split = move_dart(
        panel, "waist dart", "waist side", 50.0, name="second dart", pressed="end",
        says="pressed to the centre", parts=("waist side", "waist middle"), share=0.5,
    )  # fmt: skip
    apart = shorten_dart(split, "second dart", 20.0)
    assert proved(apart)
    first, second = (angle(apart, name) for name in ("waist dart", "second dart"))
    assert angle(split, "waist dart") == pytest.approx(angle(split, "second dart"))
    assert first + second > angle(panel, "waist dart")  # a shorter dart opens wider
    assert cloth(split) == pytest.approx(cloth(panel), rel=1e-12)


def test_a_guide_crossed_by_the_cut_is_cut_and_turned(panel: Piece) -> None:
    moved = move_dart(
        panel, "waist dart", "hem", 120.0, name="hem dart", pressed="start", says="",
        parts=("hem", "hem side"),
    )  # fmt: skip
    assert len(moved.guides) == 2
    assert math.fsum(guide.curve.length for guide in moved.guides) == pytest.approx(240.0)
    assert moved.notch("hem notch").edge == "hem side"
    assert moved.notch("hem notch").along == pytest.approx(80.0)


def test_spread_closes_the_dart_into_a_smooth_wider_hem(panel: Piece) -> None:
    flared = spread(panel, "waist dart", "hem", 120.0)
    assert proved(flared)
    assert not flared.darts
    added = (300.0 - DEEP) * angle(panel, "waist dart")
    assert flared.edge("hem").curve.length == pytest.approx(240.0 + added)
    hem = flared.edge("hem").curve
    for along in (119.0, 121.0 + added):
        ahead, behind = hem.tangent_at(along + 1.1), hem.tangent_at(along - 1.1)
        assert ahead.dot(behind) == pytest.approx(1.0, abs=2e-4)
    # Notches keep their distance from the end they are measured from.
    assert flared.notch("hem notch").along == pytest.approx(200.0 + added)
    assert width_across(panel, line(Point(0, 100), Point(240, 100))).width == pytest.approx(240.0)


def test_a_shortened_dart_keeps_its_mouth_and_equal_legs(panel: Piece) -> None:
    short = shorten_dart(panel, "waist dart", 25.0)
    assert proved(short)
    (dart,) = short.darts
    assert dart.apex.y == pytest.approx(300.0 - DEEP + 25.0)
    assert short.dart_legs(dart) == panel.dart_legs(panel.darts[0])


@pytest.mark.parametrize("by", [DEEP, DEEP + 1.0, 0.0, -5.0, math.nan])
def test_a_dart_is_shortened_by_less_than_it_is_deep(panel: Piece, by: float) -> None:
    with pytest.raises(GeometryError, match=r"cannot be shortened by .* than the 120\.0 mm"):
        shorten_dart(panel, "waist dart", by)


def test_taken_in_at_the_side_the_waist_is_as_long_as_before(panel: Piece) -> None:
    # The waist edges run from side to centre, so the side seam comes before them.
    taken = take_in(panel, "waist dart", "side", 200.0, name="waist")
    assert proved(taken)
    assert not taken.darts
    assert taken.edge("waist").curve.length == pytest.approx(240.0 - INTAKE, abs=1e-6)
    side = taken.edge("side").curve
    assert side.end.x == pytest.approx(240.0 - INTAKE, abs=0.5)
    assert side.point_at(90.0).x == pytest.approx(240.0)


def test_moving_there_and_back_is_no_move(panel: Piece) -> None:
    away = to_side(panel)
    back = move_dart(
        away, "side dart", "waist centre", 1e-4, name="waist dart", pressed="end",
        says="pressed to the centre", parts=("sliver", "waist centre"),
    )  # fmt: skip
    for name in ("side", "waist centre", "centre"):
        assert back.edge(name).curve.length == pytest.approx(away.edge(name).curve.length, abs=1e-3)
    assert cloth(back) == pytest.approx(cloth(panel), rel=1e-9)


def test_what_cannot_be_done_is_said(panel: Piece) -> None:
    with pytest.raises(PatternError, match=r"'bust dart'; did you mean waist dart\? It has"):
        shorten_dart(panel, "bust dart", 5.0)
    with pytest.raises(PatternError, match="no dart 'x'; it has none"):
        shorten_dart(replace(panel, darts=()), "x", 5.0)
    with pytest.raises(PatternError, match="meets neither"):
        take_in(panel, "waist dart", "hem", 10.0, name="waist")


@pytest.mark.parametrize("share", [2.0, 1.0 + 1e-9, 0.0, -0.5, math.nan])
def test_a_dart_is_closed_wholly_or_in_part(panel: Piece, share: float) -> None:
    for close in (
        lambda: to_side(panel, share),
        lambda: spread(panel, "waist dart", "hem", 120.0, share=share),
    ):
        with pytest.raises(PatternError, match=f"share of {share:g} of 'waist dart'"):
            close()


def test_spread_closes_a_share_of_the_dart(panel: Piece) -> None:
    half = spread(panel, "waist dart", "hem", 120.0, share=0.5)
    assert angle(half, "waist dart") == pytest.approx(0.5 * angle(panel, "waist dart"))


def test_a_slash_that_leaves_the_piece_is_refused() -> None:
    """A notch-shaped piece: the straight way from the point to the place lies outside it."""
    apex = Point(20.0, 60.0)
    bay = ((100, 100), (80, 100), (80, 20), (40, 20), (40, 100))
    inner, outer = (
        line(Point(40.0, 100.0), Point(25.0, 100.0)),
        line(Point(15.0, 100.0), Point(0.0, 100.0)),
    )
    edges = (
        Edge("foot", polyline([Point(0, 0), Point(100, 0), Point(100, 100)])),
        Edge("bay", polyline([Point(x, y) for x, y in bay])),
        Edge("top", inner, "waist"),
        Edge("mouth", roof_between(apex, inner, outer, "end"), "dart"),
        Edge("end", outer, "waist"),
        Edge("centre", line(Point(0.0, 100.0), Point(0.0, 0.0))),
    )  # fmt: skip
    piece = Piece(
        "bay", edges, (Point(5, 5), Point(5, 50)), Point(20, 10),
        darts=(Dart("dart", apex, "mouth", "end", ""),),
    )  # fmt: skip
    with pytest.raises(GeometryError, match="leaves the piece"):
        move_dart(
            piece, "dart", "foot", 150.0, name="d", pressed="start", says="", parts=("a", "b")
        )


def test_the_pattern_measures_levels_with_the_dart_folded_away(panel: Piece) -> None:
    from blockwright import Across

    table = Draft("test.panel", "Panel")
    table.add(panel)
    high = line(Point(0.0, 290.0), Point(240.0, 290.0))
    folded = INTAKE * (DEEP - 10.0) / DEEP
    table.girth("width", body=240.0 - folded, ease=0.0, levels=[Across("panel", high)])
    pattern: Pattern = table.pattern()
    assert prove(pattern).held
