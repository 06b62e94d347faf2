"""Points that are blunted, and the step from one allowance to another in one line.

What a cutter makes of both is common practice, no source.
"""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
import shapely
from finish_samples import own, polygon

from blockwright import Edge, Finish, Notch, Piece, Point, finish, line, polyline
from blockwright.pattern.piece import Role


def tip(angle: float) -> Piece:
    """A piece with one corner of that many degrees, at the origin."""
    a, b, c = Point(0, 0), Point(300, 0), Point(300, 0).turned(math.radians(angle))
    edges = (Edge("one", line(a, b)), Edge("two", line(b, c)), Edge("three", line(c, a)))
    return Piece("tip", edges, (Point(100, 10), Point(150, 12)), Point(120, 11))


def reach(angle: float, how: Finish) -> float:
    """How far the cut piece reaches from that corner along the middle of it, outward."""
    cut = polygon([edge.curve for edge in finish(tip(angle), how).cut], accuracy=0.002)
    assert cut.is_valid
    way = Point(-1, 0).turned(math.radians(angle / 2.0)) * 300.0
    return float(shapely.intersection(cut, shapely.LineString([(0, 0), (way.x, way.y)])).length)


@pytest.mark.parametrize("angle", [20.0, 30.0, 45.0, 60.0, 90.0, 120.0])
@pytest.mark.parametrize("width", [6.0, 10.0, 30.0])
def test_a_spike_longer_than_two_and_a_half_allowances_is_cut_off_there(
    angle: float, width: float
) -> None:
    """Two allowances of one width meet width / sin(angle / 2) from their corner."""
    spike = width / math.sin(math.radians(angle / 2.0))
    found = reach(angle, Finish(roles={"seam": width}))
    assert found == pytest.approx(min(spike, 2.5 * width), abs=1e-6)
    assert (found < spike - 1e-6) is (angle < 47.0)


def test_the_sheet_says_where_a_spike_is_cut_off_instead() -> None:
    assert reach(20.0, Finish(bevel=30.0)) == pytest.approx(30.0)
    assert reach(20.0, Finish(bevel=300.0)) == pytest.approx(10.0 / math.sin(math.radians(10.0)))


def test_the_square_corner_of_two_wide_hems_is_no_spike() -> None:
    """Both are 3 cm, and their corner is whole, 4.2 cm from the sewn one."""
    at = [Point(0, 0), Point(200, 0), Point(200, 200), Point(0, 200), Point(0, 0)]
    edges = [Edge(f"hem {i}", line(a, b), "hem") for i, (a, b) in enumerate(pairwise(at))]
    cloth = Piece("cloth", tuple(edges), (Point(50, 50), Point(50, 150)), Point(100, 100))
    cut = polygon([edge.curve for edge in finish(cloth, Finish()).cut])
    assert cut.area == pytest.approx(260.0**2)


# -- steps -----------------------------------------------------------------------------------------


def slit(
    wide: float, narrow: float, turn: float = 0.0, first: bool = True, short: float = 100.0,
    *notches: Notch, role: Role = "seam",
) -> tuple[Piece, Finish]:  # fmt: skip
    """A side in two parts with these allowances, in one line but for `turn` degrees between.

    The wider part comes `first`, from below, or is the upper one.  The narrower is `short` mm long.
    """
    way = Point(0, 1).turned(math.radians(turn))
    long = (100.0, short) if first else (short, 100.0)
    low, middle = Point(200, 0), Point(200, long[0])
    high = middle + way * long[1]
    names = ("wide", "narrow") if first else ("narrow", "wide")
    roles: dict[str, Role] = {"wide": "seam", "narrow": role}
    edges = (
        Edge("hem", line(Point(0, 0), low), "hem"),
        Edge(names[0], line(low, middle), roles[names[0]]),
        Edge(names[1], line(middle, high), roles[names[1]]),
        Edge("rest", polyline([high, Point(0, high.y), Point(0, 0)])),
    )
    grain = Point(50, 10), Point(50, 80)
    piece = Piece("side", edges, grain, Point(100, 50), notches=notches)
    return piece, Finish(roles={"hem": 10.0, "fold": 0.0}, edges={"wide": wide, "narrow": narrow})


def out(piece: Piece, how: Finish, y: float) -> float:
    """How far the cut line is outside the side at that height, mm."""
    cut = polygon([edge.curve for edge in finish(piece, how).cut], accuracy=0.002)
    assert cut.is_valid
    across = shapely.intersection(cut, shapely.LineString([(100.0, y), (400.0, y)]))
    return float(across.bounds[2]) - 200.0


@pytest.mark.parametrize("first", [True, False])
@pytest.mark.parametrize(("wide", "narrow"), [(30.0, 10.0), (25.0, 15.0), (20.0, 0.0)])
def test_the_wider_allowance_goes_over_to_the_narrower_at_45_degrees(
    wide: float, narrow: float, first: bool
) -> None:
    """The wider is whole to the joint, and the slope is beside the narrower edge."""
    piece, how = slit(wide, narrow, first=first)
    up = 1.0 if first else -1.0
    for away in (-60.0, -1.0, -0.01):
        assert out(piece, how, 100.0 + up * away) == pytest.approx(wide, abs=1e-6)
    for away in (0.0, 0.5, 0.99):
        y = 100.0 + up * away * (wide - narrow)
        assert out(piece, how, y) == pytest.approx(wide - away * (wide - narrow), abs=0.01)
    for away in (0.1, 20.0):
        assert out(piece, how, 100.0 + up * (wide - narrow + away)) == pytest.approx(narrow)


def test_a_short_edge_has_half_of_it_left_beside_the_slope() -> None:
    piece, how = slit(30.0, 10.0, short=24.0)
    assert out(piece, how, 100.0 + 6.0) == pytest.approx(20.0)
    assert out(piece, how, 100.0 + 12.0) == pytest.approx(10.0, abs=1e-6)


@pytest.mark.parametrize("turn", [-20.0, -4.0, 4.0, 20.0])
@pytest.mark.parametrize("first", [True, False])
def test_no_edge_has_less_than_its_allowance_where_the_side_turns_a_little(
    turn: float, first: bool
) -> None:
    """Carried on until they met, the two cut lines would meet far along one of the edges."""
    piece, how = slit(30.0, 10.0, turn, first)
    cut = polygon([edge.curve for edge in finish(piece, how).cut], accuracy=0.002)
    assert cut.is_valid
    for name, width in (("wide", 30.0), ("narrow", 10.0)):
        curve = piece.edge(name).curve
        for share in (0.1, 0.3, 0.5, 0.7, 0.9):
            at = curve.point_at(share * curve.length)
            side = curve.tangent_at(share * curve.length).left()
            place = at - side * (width - 0.01)
            assert cut.contains(shapely.Point(place.x, place.y)), (name, share)
    # Nor does it reach far beyond the wider allowance.
    sewn = polygon([edge.curve for edge in piece.edges])
    corner = piece.edge("wide").curve.end if first else piece.edge("wide").curve.start
    beyond = shapely.difference(cut, sewn.buffer(30.5))
    assert beyond.is_empty or beyond.distance(shapely.Point(corner.x, corner.y)) > 60.0


def test_no_cloth_is_added_beside_a_fold() -> None:
    """It goes on beyond the fold, so the step there is square."""
    piece, how = slit(20.0, 0.0, role="fold")
    assert out(piece, how, 99.9) == pytest.approx(20.0)
    assert out(piece, how, 100.1) == pytest.approx(0.0, abs=1e-6)


@pytest.mark.parametrize(("along", "off"), [(8.0, 22.0), (50.0, 10.0)])
def test_a_notch_beside_the_slope_is_on_the_cut_line(along: float, off: float) -> None:
    notch = Notch("pocket", "narrow", along)
    piece, how = slit(30.0, 10.0, 0.0, True, 100.0, notch)
    (cut,) = own(finish(piece, how))
    assert (cut.at.x, cut.at.y) == pytest.approx((200.0 + off, 100.0 + along))
