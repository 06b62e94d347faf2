"""Notches carried square to the cut line, drill holes inset, darts; what cannot be is refused."""

from __future__ import annotations

from dataclasses import replace

import pytest
import shapely
from finish_samples import EVERY, drafted, own, polygon

from blockwright import (
    Dart,
    Edge,
    InputError,
    Notch,
    Piece,
    Point,
    distance,
    line,
    nearest,
    polyline,
)
from blockwright.pattern.finishing.finish import USUAL, Finish, finish, finish_all


@pytest.mark.parametrize("keys", EVERY)
@pytest.mark.parametrize("opened", [False, True])
def test_notches_stand_square_on_the_cut_line(keys: str, opened: bool) -> None:
    for piece in drafted(keys, "tom" if "easy" in keys else "nora").pieces:
        finished = finish(piece, Finish(opened=opened))
        ticks = sum(notch.count for notch in finished.piece.notches)
        assert len(own(finished)) == ticks
        outline = polygon([edge.curve for edge in finished.cut], accuracy=0.002).exterior
        for cut in own(finished):
            assert shapely.distance(shapely.points(*cut.at), outline) < 0.01
            # Straight in, it comes to the place on the sew line that it marks, square to it.
            named = [n.edge for n in finished.piece.notches if n.name == cut.name]
            edges = [edge for name in named for edge in finished.piece.stretches(name)]
            edge = min(edges, key=lambda e: nearest(e.curve, cut.at).distance)
            place = nearest(edge.curve, cut.at)
            allowance = distance(cut.at, edge.curve.point_at(place.along))
            assert allowance == pytest.approx(USUAL[edge.role], abs=0.02)
            assert abs(edge.curve.tangent_at(place.along).dot(cut.inward)) < 1e-3


def test_twin_notches_stand_apart_and_meet_those_of_the_partner() -> None:
    pattern = drafted("bodice.fitted+sleeve.fitted", "nora")
    for name in ("bodice back", "sleeve"):
        twins = [n for n in finish(pattern.piece(name), Finish()).notches if n.name == "back notch"]
        assert len(twins) == 2
        assert 8.0 < distance(twins[0].at, twins[1].at) < 13.0


def test_drill_holes_lie_inside_the_dart_half_an_inch_from_its_point() -> None:
    """Half an inch short of the point: a published handout on marking."""
    piece = drafted("bodice.fitted+sleeve.fitted", "nora").piece("bodice front")
    drills = finish(piece, Finish()).drills
    assert len(drills) == len(piece.darts) == 2
    for drill, dart in zip(drills, piece.darts, strict=True):
        assert distance(drill.at, dart.apex) == pytest.approx(12.7)
        start, end = piece.dart_legs(dart)
        assert shapely.Polygon([[*dart.apex], [*start], [*end]]).contains(shapely.points(*drill.at))


def darted(*notches: Notch) -> Piece:
    """A square with a dart in the middle of its waist, which is one edge 180 mm long."""
    corners = [Point(0.0, 200.0), Point(0.0, 0.0), Point(200.0, 0.0), Point(200.0, 200.0)]
    left, tip, right = Point(90.0, 200.0), Point(100.0, 205.0), Point(110.0, 200.0)
    edges = (
        Edge("waist", line(corners[3], right), "waist"),
        Edge("dart mouth", polyline([right, tip, left]), "dart"),
        Edge("waist", line(left, corners[0]), "waist"),
        Edge("rest", polyline(corners)),
    )
    dart = Dart("dart", Point(100.0, 120.0), "dart mouth", "end", "pressed to the centre")
    grain, label_at = (Point(50.0, 20.0), Point(50.0, 180.0)), Point(100.0, 50.0)
    return Piece("square", edges, grain, label_at, darts=(dart,), notches=notches)


@pytest.mark.parametrize(("along", "x"), [(30.0, 170.0), (150.0, 30.0)])
def test_a_notch_on_an_edge_with_a_dart_in_it_is_counted_with_the_dart_closed(along, x) -> None:
    (cut,) = own(finish(darted(Notch("pocket", "waist", along)), Finish()))
    assert [*cut.at] == pytest.approx([x, 210.0])


@pytest.mark.parametrize("along", [89.0, 90.5])
def test_a_notch_too_near_a_dart_is_refused(along: float) -> None:
    with pytest.raises(InputError, match=r"pocket is [01]\.[05] mm from the end of waist"):
        finish(darted(Notch("pocket", "waist", along)), Finish())


def test_an_allowance_by_edge_goes_by_the_label_in_a_set() -> None:
    """It goes for every stretch of the edge, and for both halves of a piece that is opened."""
    pattern = drafted("bodice.fitted+sleeve.fitted", "nora")
    (place,) = [i for i, piece in enumerate(pattern.pieces) if piece.label == "bodice front"]
    for opened in (False, True):
        how = Finish(edges={"bodice front waist": 25.0}, opened=opened)
        front = finish_all(pattern, how)[place]
        cut = polygon([edge.curve for edge in front.cut], accuracy=0.002).exterior
        waist = [edge.curve for edge in front.piece.edges if edge.role == "waist"]
        middles = [curve.point_at(curve.length / 2.0) for curve in waist]
        away = [shapely.distance(shapely.points(*at), cut) for at in middles]
        assert away == pytest.approx([25.0] * (4 if opened else 2), abs=0.01)
    with pytest.raises(InputError, match="did you mean bodice front waist"):
        finish_all(pattern, Finish(edges={"bodice front wais": 25.0}))


def test_a_notch_too_near_a_corner_is_refused() -> None:
    piece = drafted("bodice.fitted+sleeve.fitted", "nora").piece("bodice back")
    (notch,) = piece.notches
    moved = replace(piece, notches=(replace(notch, along=2.0),))
    with pytest.raises(InputError, match=r"back notch is 2\.0 mm from the end of .*armhole"):
        finish(moved, Finish())
    finish(moved, Finish(notch_clear=1.0))


def test_an_allowance_for_an_edge_that_is_not_there() -> None:
    pattern = drafted("skirt.straight", "nora")
    with pytest.raises(InputError, match="did you mean back side"):
        finish_all(pattern, Finish(edges={"back sid": 20.0}))


def test_an_edge_on_the_fold_takes_no_allowance() -> None:
    pattern = drafted("skirt.straight", "nora")
    folds = [e.name for piece in pattern.pieces for e in piece.edges if e.role == "fold"]
    assert folds
    for name in folds:
        with pytest.raises(InputError) as refused:
            finish_all(pattern, Finish(edges={name: 20.0}))
        assert refused.value.code in ("finish.unknown-edge", "finish.misspelt-edge")


@pytest.mark.parametrize("opened", [False, True])
@pytest.mark.parametrize(
    ("how", "says"),
    [
        (
            Finish(usual={}),
            r"piece front: nothing says .* front .* takes; .* for '(hem|waist)' or",
        ),
        (
            Finish(usual={}, roles={"hem": 30.0, "waist": 10.0}),
            "front side takes; .* for 'seam' or",
        ),
        (Finish(usual={"seam": 10.0}, edges={"front hem": 30.0}), "takes; .* for 'waist' or"),
    ],
)
def test_an_edge_that_is_given_no_allowance(how: Finish, says: str, opened: bool) -> None:
    piece = drafted("skirt.straight", "nora").piece("front")
    with pytest.raises(InputError, match=says):
        finish(piece, replace(how, opened=opened))


@pytest.mark.parametrize("opened", [False, True])
def test_allowances_by_role_or_by_edge_need_no_usual_ones(opened: bool) -> None:
    piece = drafted("skirt.straight", "nora").piece("front")
    usual = finish(piece, Finish(opened=opened))
    edges = {edge.name: USUAL[edge.role] for edge in piece.edges if edge.role != "dart"}
    without_fold = {role: width for role, width in USUAL.items() if role != "fold"}
    for how in (
        Finish(usual={}, roles=USUAL),
        Finish(usual={}, edges=edges),
        Finish(usual=without_fold),
    ):
        assert finish(piece, replace(how, opened=opened)) == usual


def test_an_allowance_wider_than_the_piece_is_refused_by_name() -> None:
    pattern = drafted("bodice.fitted+sleeve.fitted", "nora")
    with pytest.raises(InputError, match="neck"):
        finish_all(pattern, Finish(roles={"neck": 200.0}))


def test_a_block_may_have_its_own_allowances() -> None:
    pattern = drafted("skirt.straight", "nora")
    (origin,) = pattern.origins
    own = replace(pattern, origins=(replace(origin, allowances={"hem": 55.0}),))
    lowest = [polygon([e.curve for e in f.cut]).bounds[1] for f in finish_all(own, Finish())]
    plain = [polygon([e.curve for e in p.edges]).bounds[1] for p in pattern.pieces]
    assert [b - a for a, b in zip(lowest, plain, strict=True)] == pytest.approx([55.0, 55.0])
    given = finish_all(own, Finish(roles={"hem": 20.0}))
    assert polygon([e.curve for e in given[0].cut]).bounds[1] == pytest.approx(plain[0] - 20.0)


def test_the_grain_of_an_opened_piece_lies_on_its_fold() -> None:
    piece = drafted("bodice.fitted+sleeve.fitted", "nora").piece("bodice back")
    low, high = finish(piece, Finish(opened=True)).piece.grain
    assert low.x == pytest.approx(0.0, abs=1e-9)
    assert isinstance(high, Point)
    assert high.y > low.y


def test_where_an_edge_runs_on_there_is_no_corner_to_keep_clear_of() -> None:
    """A tie is sewn to part of a straight side: a notch where that part ends."""
    places = [Point(0, 0), Point(200, 0), Point(200, 150), Point(200, 300), Point(0, 300)]
    names = ("hem", "side", "tie seat", "top", "fold")
    edges = tuple(
        Edge(name, line(a, b), "fold" if name == "fold" else "seam")
        for name, a, b in zip(names, places, places[1:] + places[:1], strict=True)
    )
    panel = Piece("panel", edges, (Point(50, 20), Point(50, 280)), Point(100, 150))
    noted = replace(panel, notches=(Notch("tie", "tie seat", 0.0),))
    (cut,) = own(finish(noted, Finish()))
    assert [*cut.at] == pytest.approx([210.0, 150.0])
    with pytest.raises(InputError, match=r"tie is 0\.0 mm from the end of side"):
        finish(replace(panel, notches=(Notch("tie", "side", 0.0),)), Finish())


def bib(count: int = 1) -> Piece:
    """Half a bib on its fold, which is the centre; a notch at the upper end of it."""
    at = [Point(0.0, 0.0), Point(120.0, 0.0), Point(90.0, 200.0), Point(0.0, 200.0)]
    names = (("hem", "hem"), ("side", "seam"), ("upper", "seam"), ("centre", "fold"))
    edges = tuple(
        Edge(name, line(a, b), role)
        for (name, role), a, b in zip(names, at, at[1:] + at[:1], strict=True)
    )
    notches = (Notch("centre", "upper", 90.0, count),)
    return Piece("bib", edges, (Point(30.0, 30.0), Point(30.0, 150.0)), at[0], notches=notches)


def test_a_notch_on_the_fold_is_one_when_it_is_opened() -> None:
    for opened in (False, True):
        (cut,) = own(finish(bib(), Finish(opened=opened)))
        assert (cut.at.x, cut.at.y) == (pytest.approx(0.0), pytest.approx(210.0))
        assert (cut.inward.x, cut.inward.y) == (pytest.approx(0.0), pytest.approx(-1.0))


def test_there_is_room_for_one_tick_on_the_fold() -> None:
    for opened in (False, True):
        with pytest.raises(InputError, match="bib: centre has 2 ticks on the fold, where there is"):
            finish(bib(count=2), Finish(opened=opened))


def test_a_fold_that_is_not_square_is_a_corner() -> None:
    piece = bib()
    low = Point(0.0, 170.0)
    upper = Edge("upper", line(Point(90.0, 200.0), low))
    edges = (*piece.edges[:2], upper, Edge("centre", line(low, Point(0.0, 0.0)), "fold"))
    notches = (Notch("centre", "upper", upper.curve.length),)
    with pytest.raises(InputError, match=r"bib: centre is 0\.0 mm from the end of upper"):
        finish(replace(piece, edges=edges, notches=notches), Finish())
