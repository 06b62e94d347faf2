"""Corners beside a hem by role, drill holes of short darts, opened darts, limits of the sheet."""

from __future__ import annotations

import math
from itertools import pairwise
from typing import Any

import numpy as np
import pytest
import shapely
from finish_samples import polygon

from blockwright import (
    Curve,
    Dart,
    Edge,
    InputErrors,
    Piece,
    Point,
    distance,
    line,
    polyline,
    roof_between,
)
from blockwright.curves.offset import trimmed_parallel
from blockwright.pattern.copies import unfold
from blockwright.pattern.finishing.finish import Finish, finish
from blockwright.pattern.finishing.finish_sheet import parse_finish
from blockwright.pattern.piece import Role

# -- beside a hem ----------------------------------------------------------------------------------

HEM, BESIDE, LEAN = 30.0, 8.0, 40.0
"""Allowances of the hem and of what runs into it, and how far that leans in over 200 mm."""


def tapered(role: Role, right: bool) -> Piece:
    """A piece whose edge of that role leans inward going up from the hem, right or left."""
    low, high = (
        (Point(200, 0), Point(200 - LEAN, 200)) if right else (Point(0, 0), Point(LEAN, 200))
    )
    at = [Point(0, 0), low if right else Point(200, 0)]
    at += [high, Point(0, 200)] if right else [Point(200, 200), high]
    roles: list[Role] = ["hem", role, "seam", "seam"] if right else ["hem", "seam", "seam", role]
    edges = tuple(
        Edge(f"{i} {each}", line(a, b), each)
        for i, (each, (a, b)) in enumerate(zip(roles, pairwise([*at, at[0]]), strict=True))
    )
    return Piece("bib", edges, (Point(80, 50), Point(80, 150)), Point(100, 100))


@pytest.mark.parametrize("right", [True, False])
@pytest.mark.parametrize("role", ["seam", "neck", "armhole", "waist"])
def test_what_runs_into_a_hem_is_turned_up_with_it(role: Role, right: bool) -> None:
    """Mirrored in the hem line, the strip below it ends where the cut cloth above it does.

    Common practice, no source: fold the hem up and cut the allowance beside it along the edge.
    """
    how = Finish(roles={"hem": HEM, "seam": 10.0, role: BESIDE})
    cut = polygon([edge.curve for edge in finish(tapered(role, right), how).cut])
    side = 1.0 if right else -1.0
    foot, lean = (200.0 if right else 0.0), math.atan2(LEAN, 200.0)
    for height in (5.0, 15.0, 25.0):
        above, below = (
            shapely.intersection(cut, shapely.LineString([(-300.0, y), (500.0, y)])).bounds
            for y in (height, -height)
        )
        place = 2 if right else 0
        assert below[place] == pytest.approx(above[place], abs=1e-6)
        # And above it is the allowance, square out from an edge that leans.
        out = (above[place] - foot) * side
        assert out == pytest.approx(BESIDE / math.cos(lean) - height * math.tan(lean), abs=1e-6)
    assert cut.bounds[1] == pytest.approx(-HEM)


@pytest.mark.parametrize("right", [True, False])
@pytest.mark.parametrize("role", ["seam", "neck", "armhole", "waist"])
@pytest.mark.parametrize(("hem", "beside"), [(0.0, BESIDE), (HEM, 0.0), (0.0, 0.0)])
def test_where_one_of_them_takes_no_allowance_nothing_is_turned_up(
    role: Role, right: bool, hem: float, beside: float
) -> None:
    """The other's cut line is carried on to the sew line of that, and ends there."""
    piece = tapered(role, right)
    how = Finish(roles={"seam": 10.0, "hem": hem, role: beside})
    cut = polygon([edge.curve for edge in finish(piece, how).cut])
    lean, foot = math.atan2(LEAN, 200.0), 200.0 if right else 0.0
    out = beside / math.cos(lean) + hem * math.tan(lean)
    corner = (foot + (out if right else -out), -hem)
    assert cut.is_valid
    assert cut.exterior.distance(shapely.Point(*corner)) < 1e-6
    assert cut.bounds[1] == pytest.approx(-hem, abs=1e-9)
    assert cut.bounds[2 if right else 0] == pytest.approx(corner[0], abs=1e-6)


# -- squared and mitred ----------------------------------------------------------------------------


def spike(first: Role, second: Role, width: float = 10.0) -> tuple[shapely.Polygon, float]:
    """The cut piece about a corner of 60 degrees at (200, 0), and how far its mitre would reach."""
    at = [
        Point(0, 0),
        Point(200, 0),
        Point(200, 0) + Point(-100, 100 * math.sqrt(3.0)),
        Point(0, 0),
    ]
    edges = tuple(
        Edge(f"{i} {role}", line(a, b), role)
        for i, (role, (a, b)) in enumerate(zip((first, second, "seam"), pairwise(at), strict=True))
    )
    piece = Piece("tip", edges, (Point(90, 20), Point(90, 60)), Point(100, 50))
    how = Finish(roles=dict.fromkeys(("seam", "neck", "armhole", "waist", "hem"), width))
    return polygon([edge.curve for edge in finish(piece, how).cut]), width / math.sin(math.pi / 6.0)


CROSSED: tuple[Role, ...] = ("neck", "armhole", "waist")


@pytest.mark.parametrize(
    ("first", "second"),
    [("seam", "seam"), *((a, b) for a in CROSSED for b in CROSSED), ("hem", "hem")],
)
def test_edges_of_one_kind_meet_in_a_mitre(first: Role, second: Role) -> None:
    """Neither is sewn across the other, so neither ends square to the other."""
    cut, reach = spike(first, second)
    tip = Point(200, 0) + Point(math.cos(math.pi / 6.0), -math.sin(math.pi / 6.0)) * reach
    assert cut.exterior.distance(shapely.Point(*tip)) < 1e-6


@pytest.mark.parametrize("crossed", CROSSED)
@pytest.mark.parametrize("seam_first", [True, False])
def test_a_seam_that_is_crossed_ends_square_to_its_stitching(
    crossed: Role, seam_first: bool
) -> None:
    """Common practice, no source: pressed open, its allowance then ends under the edge it meets."""
    cut, reach = spike(*(("seam", crossed) if seam_first else (crossed, "seam")))
    tip = Point(200, 0) + Point(math.cos(math.pi / 6.0), -math.sin(math.pi / 6.0)) * reach
    assert not cut.buffer(0.1).contains(shapely.Point(*tip))
    # The stitching, carried on over the corner, leaves the cut cloth where it is ten millimetres
    # from the edge it meets; there the allowance of the seam ends, ten wide and square to it.
    way = Point(1, 0) if seam_first else Point(1, -math.sqrt(3.0)).unit()
    side = -way.left() if seam_first else way.left()
    end = Point(200, 0) + way * (10.0 / math.sin(math.pi / 3.0))
    for along in (0.0, 5.0, 10.0):
        place = end + side * along
        assert cut.exterior.distance(shapely.Point(*place)) < 1e-6, along


# -- drill holes -----------------------------------------------------------------------------------


def with_dart(deep: float, pressed: str = "end", fold: bool = False) -> Piece:
    """A square with a dart in its waist, which runs from right to left."""
    before, after = line(Point(200, 200), Point(110, 200)), line(Point(90, 200), Point(0, 200))
    apex = Point(100, 200 - deep)
    edges = (
        Edge("waist", before, "waist"),
        Edge("mouth", roof_between(apex, before, after, pressed), "dart"),
        Edge("waist", after, "waist"),
        Edge("centre", line(Point(0, 200), Point(0, 0)), "fold" if fold else "seam"),
        Edge("rest", polyline([Point(0, 0), Point(200, 0), Point(200, 200)])),
    )
    darts = (Dart("dart", apex, "mouth", "end" if pressed == "end" else "start", "as pressed"),)
    grain = Point(50, 20), Point(50, 180)
    return Piece("square", edges, grain, Point(100, 50), darts=darts)


@pytest.mark.parametrize(
    ("deep", "inset"),
    [(120.0, 12.7), (25.5, 12.7), (25.3, 12.65), (20.0, 10.0), (12.0, 6.0)],
)
def test_a_drill_hole_goes_half_way_into_a_short_dart_at_most(deep: float, inset: float) -> None:
    """Half an inch from the point, a published handout on marking; the half is common practice, no
    source: a hole beyond the mouth would be cut off."""
    (drill,) = finish(with_dart(deep), Finish()).drills
    assert (drill.at.x, drill.at.y) == pytest.approx((100.0, 200.0 - deep + inset))


# -- opened out ------------------------------------------------------------------------------------


@pytest.mark.parametrize("pressed", ["start", "end"])
def test_darts_of_both_halves_are_pressed_alike(pressed: str) -> None:
    """Both to the centre, or both away from it, as the mirror image of one half shows.

    The mouth is cut for the side it is pressed to, so it fits on that side only: the cloth folded
    over the pressed leg lies under the waist.
    """
    whole = unfold(with_dart(120.0, pressed, fold=True))
    own, other = whole.darts
    leg = {"start": 0, "end": 1}
    mine = whole.dart_legs(own)[leg[own.pressed]]
    theirs = whole.dart_legs(other)[leg[other.pressed]]
    assert distance(theirs, Point(-mine.x, mine.y)) < 1e-9
    assert own.pressed == pressed
    assert (other.apex.x, other.apex.y) == pytest.approx((-100.0, 80.0))
    mouth = whole.edge(other.mouth).curve
    made = roof_between(
        other.apex, whole.before(other.mouth).curve, whole.after(other.mouth).curve, other.pressed
    )
    assert abs(made.length - mouth.length) < 1e-9
    places = np.linspace(0.0, mouth.length, 50)
    assert np.abs(made.points_at(places) - mouth.points_at(places)).max() < 1e-9


# -- the finish sheet ------------------------------------------------------------------------------

# Entry, least and greatest, mm.  Common practice, no source: a notch under a millimetre is not
# seen, and one of more than a seam's allowance weakens the seam.
LIMITS = [
    ("notches", "depth", "notch_depth", 1.0, 15.0),
    ("notches", "width", "notch_width", 1.0, 15.0),
    ("notches", "clear", "notch_clear", 0.0, 50.0),
    ("drills", "inset", "drill_inset", 0.0, 60.0),
    ("drills", "diameter", "drill_diameter", 0.5, 12.0),
    ("corners", "bevel", "bevel", 5.0, 300.0),
]


@pytest.mark.parametrize(("table", "key", "field", "least", "most"), LIMITS)
def test_lengths_of_the_sheet_have_a_least_and_a_greatest(
    table: str, key: str, field: str, least: float, most: float
) -> None:
    def given(mm: float) -> Any:
        return getattr(parse_finish(f'units = "mm"\n[{table}]\n{key} = {mm}'), field)

    assert (given(least), given(most)) == (least, most)
    for outside in (least - 0.1, most + 0.1):
        with pytest.raises(InputErrors, match=rf"{table}\.{key}"):
            given(outside)


def test_an_allowance_is_nothing_to_a_foot() -> None:
    for mm in (0.0, 300.0):
        assert parse_finish(f'units = "mm"\n[edges]\nside = {mm}').edges == {"side": mm}
        assert parse_finish(f'units = "mm"\n[allowances]\nseam = {mm}').roles == {"seam": mm}
    for table, key in (("edges", "side"), ("allowances", "seam")):
        for mm in (-0.1, 300.1):
            with pytest.raises(InputErrors, match=rf"{table}\.{key}"):
                parse_finish(f'units = "mm"\n[{table}]\n{key} = {mm}')


# -- parallels of a bend that is only just too sharp -----------------------------------------------


@pytest.mark.parametrize("fold", [0.01, 0.05, 0.1, 1.0])
def test_a_parallel_that_only_just_folds_is_trimmed(fold: float) -> None:
    """A parabola y = x^2 / 2R, and the parallel inside it whose fold begins `fold` mm from its tip.

    The bend of a parabola is (1 + (x / R)^2)^(-3/2) / R (any calculus book).  So near its tip the
    fold begins where the parallel is R (1 + 3/2 (x / R)^2) away; both sides meet on the axis, at
    the height whose distance from the parabola is that: d^2 = 2 R h - R^2.
    """
    radius, wide = 20.0, 30.0
    top = wide * wide / 2.0 / radius
    # The three handles of a parabola as a quadratic, raised to a cubic.
    tip = 2.0 / 3.0 * -top
    handles = [
        (-wide, top),
        (-wide / 3.0, top + tip * 2.0),
        (wide / 3.0, top + tip * 2.0),
        (wide, top),
    ]
    parabola = Curve(np.array([handles]))
    assert parabola.point_at(parabola.length / 2.0).y == pytest.approx(0.0, abs=1e-9)
    away = radius * (1.0 + 1.5 * (fold / radius) ** 2)
    beside = trimmed_parallel(parabola, away)
    middle = beside.point_at(beside.length / 2.0)
    assert middle.x == pytest.approx(0.0, abs=0.01)
    assert middle.y == pytest.approx((away**2 + radius**2) / 2.0 / radius, abs=1e-3)
    fine = shapely.LineString(parabola.flatten(accuracy=1e-5))
    near = shapely.distance(
        shapely.points(beside.points_at(np.linspace(0, beside.length, 999))), fine
    )
    assert np.abs(near - away).max() < 0.01


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("[zzz]\nq = 1", "no such table; there are allowances, edges, corners, notches, drills, "),
        ("[notches]\nq = 1", "no such entry; there are kind, depth, width, clear"),
        ("[allowances]\nq = 1", "no such entry; there are seam, armhole, neck, waist, hem"),
        ("[notches]\ndepht = 1", "no such entry; did you mean depth?"),
    ],
)
def test_where_nothing_is_like_it_all_there_is_is_told(text: str, says: str) -> None:
    with pytest.raises(InputErrors) as refused:
        parse_finish(text)
    assert says in str(refused.value)
