"""Seam ends meet when sewn and pressed open, turned hems lie on the garment, spikes are cut off."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest
import shapely
from finish_samples import drafted, polygon, sampled

from blockwright import Affine, Edge, Piece, Point, distance, line, polyline
from blockwright.pattern.finishing.cut_corner import Side, folded, squared
from blockwright.pattern.finishing.finish import Finish, finish
from blockwright.pattern.piece import Role

# Cut lines are carried on straight over a corner, so where a hollow neck meets a shoulder that is
# not square to it they leave each other by the bend of the neck over those two millimetres.
NEAR, NEAR_NECK = 0.05, 0.15

# Set, person; piece and edge with its end to look at; its partner; all ends where the seam crosses
# a neck, armhole or waist.
SEAMS = [
    ("bodice.fitted+sleeve.fitted", "nora", ("bodice front", "front shoulder", "start"),
     ("bodice back", "back shoulder", "end")),
    ("bodice.easy+sleeve.straight", "tom", ("bodice front", "front shoulder", "end"),
     ("bodice back", "back shoulder", "start")),
    ("bodice.fitted+sleeve.fitted", "nora", ("bodice front", "front side", "start"),
     ("bodice back", "back side", "end")),
    ("bodice.fitted+sleeve.fitted", "nora", ("bodice front", "front side", "end"),
     ("bodice back", "back side", "start")),
    ("bodice.fitted+sleeve.fitted", "nora", ("sleeve", "front underarm", "end"),
     ("sleeve", "back underarm", "start")),
    ("trousers.straight", "tom", ("front", "front side", "start"), ("back", "back side", "end")),
]  # fmt: skip


def end_of(piece: Piece, name: str, which: str) -> tuple[Point, Point]:
    """The end of a seam, and its way outward over that end."""
    first, last = piece.stretches(name)[0].curve, piece.stretches(name)[-1].curve
    if which == "end":
        return last.end, last.end_tangent
    return first.start, -first.start_tangent


def reach(finished, place: Point, way: Point) -> Point:
    """Where the stitching, carried on over its end, leaves the cut piece."""
    ray = shapely.LineString([[*place], [*(place + way * 80.0)]])
    cut = polygon([edge.curve for edge in finished.cut], accuracy=0.002).exterior
    met = shapely.intersection(ray, cut)
    points = [Point(p.x, p.y) for p in shapely.get_parts(met) if p.geom_type == "Point"]
    return min(points, key=lambda at: distance(at, place))


@pytest.mark.parametrize(("keys", "person", "one", "other"), SEAMS)
def test_seam_ends_meet(keys: str, person: str, one, other) -> None:
    """Laid seam on seam at the end, both cut pieces end at the same place on the stitching."""
    pattern = drafted(keys, person)
    places = []
    for name, edge, which in (one, other):
        piece = pattern.piece(name)
        finished = finish(piece, Finish())
        place, way = end_of(piece, edge, which)
        out = reach(finished, place, way)
        along = (out - place).dot(way)
        assert abs((out - place).cross(way)) < 1e-6
        places.append(along)
        # And the allowance ends square there: a line of its width, square to the stitching.
        ends = [e.curve for e in finished.cut if e.name.startswith("end of")]
        square = [
            c for c in ends
            if min(distance(c.start, out), distance(c.end, out)) < 0.01
            and abs((c.end - c.start).unit().dot(way)) < 1e-6
        ]  # fmt: skip
        assert square, (name, edge)
        assert abs(square[0].end - square[0].start) == pytest.approx(10.0, abs=NEAR)
    near = NEAR_NECK if one[1].endswith("front shoulder") and one[2] == "start" else NEAR
    assert places[0] == pytest.approx(places[1], abs=near)


@pytest.mark.parametrize(
    ("keys", "piece", "seam", "hem", "at"),
    [
        ("trousers.straight", "front", "front side", "front hem", "hem"),
        ("bodice.fitted+sleeve.fitted", "sleeve", "front underarm", "wrist", "wrist"),
        ("skirt.flared", "back", "back side", "back hem", "hem"),
    ],
)
def test_a_turned_hem_lies_on_the_garment(
    keys: str, piece: str, seam: str, hem: str, at: str
) -> None:
    """Mirrored in the hem line, the cut edge beside the hem allowance is that beside the seam."""
    whole = drafted(keys, "nora").piece(piece)
    finished = finish(whole, Finish(roles={"hem": 35.0}))
    hem_edge, seam_edge = whole.edge(hem).curve, whole.edge(seam).curve
    ends = [(hem_edge.start, hem_edge.start_tangent), (hem_edge.end, hem_edge.end_tangent)]
    corner, way = min(
        ends,
        key=lambda end: min(distance(end[0], seam_edge.start), distance(end[0], seam_edge.end)),
    )
    cut = shapely.union_all(
        [
            shapely.LineString(e.curve.flatten(accuracy=0.002))
            for e in finished.cut
            if e.name == seam
        ]
    )
    (edge,) = [e.curve for e in finished.cut if e.name == seam]
    points = sampled(edge, 2000)
    below = [p for p in points if (Point(*p) - corner).cross(way) * (1 if _down(way) else -1) > 0.2]
    assert len(below) > 5
    mirror = Affine.mirror(corner, corner + way)
    turned = shapely.points([[*mirror(Point(*p))] for p in below])
    assert shapely.distance(turned, cut).max() < NEAR
    assert at in hem


def _down(way: Point) -> bool:
    """Hems run to the right along the foot of a piece, so below is right of them."""
    return way.x > 0.0


def wedge(angle: float) -> Piece:
    """A piece with one sharp corner, degrees."""
    tip = Point(200.0, 0.0).turned(np.radians(angle))
    a, b, c = Point(0.0, 0.0), Point(200.0, 0.0), tip
    edges = (Edge("one", line(a, b)), Edge("two", line(b, c)), Edge("three", line(c, a)))
    return Piece("wedge", edges, (Point(60.0, 5.0), Point(90.0, 8.0)), Point(80.0, 6.0))


@pytest.mark.parametrize("angle", [12.0, 20.0, 45.0, 90.0])
def test_a_spike_is_cut_off_at_the_stated_length(angle: float) -> None:
    how = Finish(bevel=25.0)
    finished = finish(wedge(angle), how)
    cut = polygon([edge.curve for edge in finished.cut])
    assert cut.is_valid
    reached = shapely.distance(shapely.points(0.0, 0.0), cut.exterior)
    tip = max(
        distance(Point(0.0, 0.0), Point(*p)) for p in cut.exterior.coords if np.hypot(*p) < 90.0
    )
    spike = 10.0 / np.sin(np.radians(angle / 2.0))
    if spike <= how.bevel:
        assert tip == pytest.approx(spike, rel=1e-6)
    else:
        # The bevel stands square to the spike at the length; its ends lie a little further.
        assert reached == pytest.approx(10.0, abs=1e-6)
        assert tip == pytest.approx(np.hypot(how.bevel, _half_width(angle, how.bevel)), rel=1e-3)


def _half_width(angle: float, at: float) -> float:
    """Half the breadth of the spike where it is cut off."""
    half = np.radians(angle / 2.0)
    return (10.0 / np.sin(half) - at) * np.tan(half)


def test_a_hollow_corner_is_trimmed() -> None:
    """At an inward corner the cut lines cross; what lies beyond is left out."""
    corner = Point(100.0, 100.0)
    edges = (
        Edge("foot", polyline([Point(0.0, 0.0), Point(300.0, 0.0), Point(300.0, 100.0)])),
        Edge("step", line(Point(300.0, 100.0), corner)),
        Edge("rise", line(corner, Point(100.0, 300.0))),
        Edge("rest", polyline([Point(100.0, 300.0), Point(0.0, 300.0), Point(0.0, 0.0)])),
    )
    piece = Piece("step", edges, (Point(20.0, 20.0), Point(20.0, 200.0)), Point(50.0, 50.0))
    cut = polygon([e.curve for e in finish(piece, Finish()).cut])
    assert cut.is_valid
    assert cut.area == pytest.approx(320.0 * 120.0 + 120.0 * 200.0, rel=1e-9)


def test_edges_of_different_widths_meet() -> None:
    pattern = drafted("skirt.straight", "nora")
    piece = pattern.piece("back")
    cut = finish(piece, Finish(edges={"centre back": 25.0, "back side": 15.0})).cut
    box = polygon([e.curve for e in cut]).bounds
    sewn = polygon([e.curve for e in piece.edges]).bounds
    assert sewn[0] - box[0] == pytest.approx(25.0, abs=1e-6)
    assert box[2] - sewn[2] == pytest.approx(15.0, abs=1e-3)
    assert sewn[1] - box[1] == pytest.approx(30.0, abs=1e-3)


def test_no_allowance_is_the_sew_line() -> None:
    piece = drafted("bodice.fitted+sleeve.fitted", "nora").piece("bodice back")
    none = Finish(roles=dict.fromkeys(("seam", "armhole", "neck", "waist", "hem"), 0.0))
    cut = polygon([e.curve for e in finish(piece, none).cut])
    assert cut.symmetric_difference(polygon([e.curve for e in piece.edges])).area < 1e-6
    # Nothing is turned up, so only the darts and the fold are notched.
    marks = {notch.name for notch in finish(replace(piece, notches=()), none).notches}
    assert marks == {"back waist dart leg", "shoulder dart leg", "centre back fold"}


def test_where_one_line_changes_its_width_the_cut_line_has_a_step() -> None:
    """Two edges in one straight line, 20 and 10 mm wide: their cut lines never meet.

    The step is a slope as long as it is deep, laid on the narrower allowance.
    """
    edges = (
        Edge("left foot", line(Point(0, 0), Point(100, 0))),
        Edge("right foot", line(Point(100, 0), Point(200, 0))),
        Edge("rest", polyline([Point(200, 0), Point(200, 300), Point(0, 300), Point(0, 0)])),
    )
    piece = Piece("plain", edges, (Point(20, 20), Point(20, 200)), Point(100, 100))
    finished = finish(piece, Finish(edges={"left foot": 20.0})).cut
    (step,) = (edge.curve for edge in finished if edge.name == "end of left foot")
    assert [*step.start, *step.end] == pytest.approx([100.0, -20.0, 110.0, -10.0])
    cut = polygon([edge.curve for edge in finished])
    assert cut.is_valid
    slope = 10.0 * 10.0 / 2.0
    assert cut.area == pytest.approx(220.0 * 310.0 + 110.0 * 20.0 + 110.0 * 10.0 + slope)


def test_what_is_turned_up_ends_where_it_first_reaches_the_cut_line_of_the_hem() -> None:
    """The allowance of the seam winds; below the hem its mirror image passes 30 mm three times."""
    seam = line(Point(0, 100), Point(0, 0))
    winding = polyline([Point(-10, 100), Point(-15, 20), Point(-20, 60), Point(-25, 0)])
    hem, cut = line(Point(0, 0), Point(100, 0)), line(Point(0, -30), Point(100, -30))
    turned = folded(Side(seam, winding, -25.0), Side(hem, cut, -30.0))
    assert turned is not None
    assert tuple(turned[0].end) == pytest.approx((-22.5, -30.0))
    assert tuple(turned[2].start) == pytest.approx((-22.5, -30.0))


def test_a_wide_hem_below_a_narrow_and_short_seam_is_turned_up_with_it() -> None:
    """A seam of 10 mm with 2 mm of allowance, carried on over a hem of 40 mm."""
    seam, beside = line(Point(0, 10), Point(0, 0)), line(Point(-2, 10), Point(-2, 0))
    hem, cut = line(Point(0, 0), Point(100, 0)), line(Point(0, -40), Point(100, -40))
    turned = folded(Side(seam, beside, -2.0), Side(hem, cut, -40.0))
    assert turned is not None
    assert tuple(turned[0].end) == pytest.approx((-2.0, -40.0))


@pytest.mark.parametrize(("step", "told"), [(0.015, False), (0.03, True)])
def test_ends_of_cut_lines_within_a_fiftieth_of_a_millimetre_are_one(
    step: float, told: bool
) -> None:
    edges = (
        Edge("left foot", line(Point(0, 0), Point(100, 0))),
        Edge("right foot", line(Point(100, 0), Point(200, 0))),
        Edge("rest", polyline([Point(200, 0), Point(200, 300), Point(0, 300), Point(0, 0)])),
    )
    piece = Piece("plain", edges, (Point(20, 20), Point(20, 200)), Point(100, 100))
    cut = finish(piece, Finish(edges={"left foot": 10.0 + step})).cut
    assert ("end of left foot" in [edge.name for edge in cut]) == told


def test_a_narrow_seam_is_squared_at_a_wide_edge_that_crosses_it() -> None:
    """2 mm beside the seam, carried on over 40 mm beside the edge across it."""
    seam, beside = line(Point(0, 0), Point(0, 100)), line(Point(2, 0), Point(2, 100))
    across, cut = line(Point(0, 100), Point(-90, 100)), line(Point(0, 140), Point(-90, 140))
    turned = squared(Side(seam, beside, -2.0), Side(across, cut, -40.0))
    assert turned is not None
    first, places, second = turned
    assert tuple(first.end) == pytest.approx((2.0, 140.0))
    assert [tuple(place) for place in places] == [pytest.approx((0.0, 140.0))]
    assert tuple(second.start) == pytest.approx((0.0, 140.0))


@pytest.mark.parametrize("roles", [("seam", "neck"), ("neck", "seam"), ("waist", "seam")])
def test_a_seam_is_not_squared_at_a_hollow_corner(roles: tuple[Role, Role]) -> None:
    """There the cut lines cross.  The piece has no spur and no slit to its stitching."""
    corner = Point(100.0, 100.0)
    first, second = roles
    edges = (
        Edge("foot", polyline([Point(0.0, 0.0), Point(300.0, 0.0), Point(300.0, 100.0)])),
        Edge("step", line(Point(300.0, 100.0), corner), first),
        Edge("rise", line(corner, Point(100.0, 300.0)), second),
        Edge("rest", polyline([Point(100.0, 300.0), Point(0.0, 300.0), Point(0.0, 0.0)])),
    )
    piece = Piece("step", edges, (Point(20.0, 20.0), Point(20.0, 200.0)), Point(50.0, 50.0))
    how = Finish(roles={"neck": 6.0, "waist": 6.0})
    cut = polygon([e.curve for e in finish(piece, how).cut])
    high, right = (6.0 if role != "seam" else 10.0 for role in roles)
    assert cut.is_valid
    assert cut.area == pytest.approx(320.0 * (110.0 + high) + (110.0 + right) * (210.0 - high))
