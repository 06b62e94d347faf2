"""A piece is the same whichever of its edges its outline is listed from."""

from __future__ import annotations

from dataclasses import replace

import pytest

from blockwright import Dart, Edge, Notch, PatternError, Piece, Point, line, polyline

# Widths of the stretches of the waist, from the right, and of the two darts between them, mm.
STRETCHES, DARTS, TALL = (50.0, 60.0, 70.0), (20.0, 30.0), 300.0
WIDE = sum(STRETCHES) + sum(DARTS)
EDGES = 8


def panel() -> Piece:
    """Two darts in its waist, which runs from right to left; a notch on each stretch of it."""
    edges, darts, x = [], [], WIDE
    for i, wide in enumerate(STRETCHES):
        edges.append(Edge("waist", line(Point(x, TALL), Point(x - wide, TALL)), "waist"))
        x -= wide
        if i < len(DARTS):
            ends = [Point(x, TALL), Point(x - DARTS[i], TALL)]
            edges.append(Edge(f"mouth {i}", polyline(ends), "dart"))
            apex = Point(x - DARTS[i] / 2.0, TALL - 100.0)
            darts.append(Dart(f"dart {i}", apex, f"mouth {i}", "end", "pressed to the centre"))
            x -= DARTS[i]
    corners = [Point(0, TALL), Point(0, 0), Point(WIDE, 0), Point(WIDE, TALL)]
    edges += [
        Edge(name, line(a, b))
        for name, a, b in zip(("centre", "hem", "side"), corners[:-1], corners[1:], strict=True)
    ]
    notches = tuple(Notch(f"at {at:g}", "waist", at) for at in (10.0, 60.0, 120.0, 175.0))
    grain = Point(50, 50), Point(50, 250)
    # The darts are listed the other way about than they come.
    return Piece(
        "panel", tuple(edges), grain, Point(100, 100), darts=tuple(darts[::-1]), notches=notches
    )


def listed_from(first: int) -> Piece:
    whole = panel()
    return replace(whole, edges=whole.edges[first:] + whole.edges[:first])


@pytest.mark.parametrize("first", range(EDGES))
def test_stretches_and_darts_come_in_outline_order(first: int) -> None:
    piece = listed_from(first)
    assert len(piece.edges) == EDGES
    assert [round(e.curve.length, 9) for e in piece.stretches("waist")] == list(STRETCHES)
    assert [dart.name for dart in piece.darts_on("waist")] == ["dart 0", "dart 1"]
    assert piece.darts_on("hem") == ()
    assert piece.length("waist") == pytest.approx(sum(STRETCHES))
    assert (piece.before("waist").name, piece.after("waist").name) == ("side", "centre")
    assert (piece.before("hem").name, piece.after("side").name) == ("centre", "waist")
    found = piece.dart_between("waist", "waist")
    assert found is not None
    assert piece.dart_between("waist", "centre") is None


# Along the waist with its darts closed; measured from the right on the flat piece.
PLACES = {10.0: 10.0, 60.0: 80.0, 120.0: 170.0, 175.0: 225.0}


@pytest.mark.parametrize("first", range(EDGES))
def test_places_along_an_edge_are_measured_with_its_darts_closed(first: int) -> None:
    piece = listed_from(first)
    for notch in piece.notches:
        curve, along = piece.notch_at(notch)
        at = curve.point_at(along)
        assert (at.x, at.y) == pytest.approx((WIDE - PLACES[notch.along], TALL))
    # At a dart it is the end of the stretch before it.
    for along, long in ((50.0, 50.0), (110.0, 60.0), (180.0, 70.0)):
        stretch, here = piece.place("waist", along)
        assert (piece.edges[stretch].curve.length, here) == pytest.approx((long, long))


@pytest.mark.parametrize("first", range(EDGES))
def test_the_legs_of_a_dart_are_the_ends_beside_its_mouth(first: int) -> None:
    piece = listed_from(first)
    legs = piece.dart_legs(piece.dart("dart 0")), piece.dart_legs(piece.dart("dart 1"))
    at = [WIDE - end.x for ends in legs for end in ends]
    assert at == pytest.approx([50.0, 70.0, 130.0, 160.0])


@pytest.mark.parametrize("first", range(EDGES))
def test_the_widest_gap_is_found_wherever_it_is(first: int) -> None:
    piece = listed_from(first)
    opened = tuple(
        replace(e, curve=line(e.curve.start, e.curve.end + Point(0, 2))) if e.name == "hem" else e
        for e in piece.edges
    )
    before, after, gap = replace(piece, edges=opened).widest_gap()
    assert (before.name, after.name, gap) == ("hem", "side", pytest.approx(2.0))


@pytest.mark.parametrize("first", range(EDGES))
def test_an_edge_in_several_stretches_has_no_one_line(first: int) -> None:
    piece = listed_from(first)
    with pytest.raises(
        PatternError, match="edge 'waist' of piece 'panel' is 3 stretches with darts"
    ):
        piece.edge("waist")
    with pytest.raises(
        PatternError, match=r"piece 'panel' has no edge 'wast'; did you mean waist\?"
    ):
        piece.edge("wast")
    assert piece.edge("hem").curve.length == pytest.approx(WIDE)
    assert sorted(piece.edge_names()) == ["centre", "hem", "mouth 0", "mouth 1", "side", "waist"]


@pytest.mark.parametrize("first", range(4))
def test_two_stretches_of_four_edges_come_in_outline_order(first: int) -> None:
    """Each stretch is two edges after the other one, but only one of them after a dart."""
    right, left, apex = Point(60, 100), Point(40, 100), Point(50, 20)
    edges = [
        Edge("waist", line(Point(150, 100), right), "waist"),
        Edge("mouth", line(right, left), "dart"),
        Edge("waist", line(left, Point(0, 100)), "waist"),
        Edge("rest", polyline([Point(0, 100), Point(0, 0), Point(150, 0), Point(150, 100)])),
    ]
    piece = Piece(
        "panel", (*edges[first:], *edges[:first]), (Point(20, 20), Point(20, 80)), Point(100, 50),
        darts=(Dart("dart", apex, "mouth", "end", "pressed to the centre"),),
    )  # fmt: skip
    assert [edge.curve.length for edge in piece.stretches("waist")] == pytest.approx([90.0, 40.0])
