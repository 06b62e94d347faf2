"""The notches that every finished piece has: dart legs, folds, centre lines and hems.

What is notched is common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

import numpy as np
import pytest
import shapely
from finish_samples import EVERY, drafted, of_row, own, polygon

from blockwright import (
    Dart,
    Edge,
    Finish,
    Guide,
    InputError,
    Notch,
    Piece,
    Point,
    distance,
    finish,
    finish_all,
    line,
    roof_between,
)
from blockwright.pattern.copies import OTHER
from blockwright.pattern.finishing.finish import FinishedPiece
from blockwright.pattern.piece import Role

ALLOWANCE = {"seam": 10.0, "waist": 8.0, "hem": 30.0}


def skirt(
    *notches: Notch,
    centre: Role = "fold",
    high: float = 300.0,
    low: float = 0.0,
    foot: float = 200.0,
    dart_at: float = 100.0,
) -> Piece:
    """Half a skirt 200 mm wide and 300 long, its centre on the left, with a dart in its waist.

    `high` and `low` are the heights of waist and hem at the centre, `foot` how far out the hem
    goes, and `dart_at` where the dart is.
    """
    at = [Point(0, low), Point(foot, 0), Point(200, 300), Point(0, high)]
    top = line(at[2], at[3])
    per = top.length / 200.0
    before = top.part(0.0, (200.0 - dart_at - 10.0) * per)
    after = top.part((200.0 - dart_at + 10.0) * per, top.length)
    middle = before.end.between(after.start, 0.5)
    apex = middle + (after.start - before.end).unit().left() * 100.0
    edges = (
        Edge("front hem", line(at[0], at[1]), "hem"),
        Edge("side", line(at[1], at[2])),
        Edge("waist", before, "waist"),
        Edge("mouth", roof_between(apex, before, after, "end"), "dart"),
        Edge("waist", after, "waist"),
        Edge("centre front", line(at[3], at[0]), centre),
    )
    darts = (Dart("waist dart", apex, "mouth", "end", "pressed to the centre"),)
    grain = Point(50, 60), Point(50, 150)
    return Piece("front", edges, grain, Point(60, 100), darts=darts, notches=notches)


def how(**more: object) -> Finish:
    return replace(Finish(roles=ALLOWANCE), **more)  # type: ignore[arg-type]


def places(finished: FinishedPiece, name: str) -> list[tuple[float, float]]:
    return sorted((n.at.x, n.at.y) for n in finished.notches if n.name == name)


# -- darts -----------------------------------------------------------------------------------------


@pytest.mark.parametrize("opened", [False, True])
@pytest.mark.parametrize("keys", EVERY)
def test_both_legs_of_every_dart_are_notched_where_they_meet_the_cut_line(
    keys: str, opened: bool
) -> None:
    """Folded on its notches a dart lies on its legs, so the notch, the leg's end and the point of
    the dart are in one line, and the notch points at the point."""
    looked = 0
    for piece in drafted(keys, "tom" if "easy" in keys else "nora").pieces:
        finished = finish(piece, Finish(opened=opened))
        outline = polygon([edge.curve for edge in finished.cut], accuracy=0.002).exterior
        assert len(finished.drills) == len(finished.piece.darts)
        for dart in finished.piece.darts:
            name = dart.name.removesuffix(OTHER) + " leg"
            name += OTHER if dart.name.endswith(OTHER) else ""
            legs = [notch for notch in finished.notches if notch.name == name]
            ends = finished.piece.dart_legs(dart)
            assert len(legs) == 2
            for notch, end in zip(legs, ends, strict=True):
                way = (end - dart.apex).unit()
                assert outline.distance(shapely.Point(*notch.at)) < 0.01
                assert abs((notch.at - dart.apex).cross(way)) < 0.01
                assert distance(notch.at, dart.apex) > distance(end, dart.apex)
                assert (notch.inward + way).x == pytest.approx(0.0, abs=1e-9)
                looked += 1
    assert looked or keys in ("skirt.circle", "skirt.gored", "skirt.flared") or "easy" in keys


def test_two_legs_nearer_each_other_than_notches_may_be_have_one_notch() -> None:
    """The legs are 20 mm apart at the waist and a little more at its cut line.

    The tip of the mouth is between them, and is a corner of the dart itself.
    """
    assert len(places(finish(skirt(), how(notch_clear=20.0)), "waist dart leg")) == 2
    assert len(places(finish(skirt(), how(notch_clear=23.0)), "waist dart leg")) == 1


def test_a_leg_close_to_a_corner_of_the_cut_line_is_marked_by_the_corner() -> None:
    """The outer leg ends 3 mm from the side seam, whose allowance ends 13 mm from it."""
    near = skirt(dart_at=187.0)
    assert len(places(finish(near, how(notch_clear=9.0)), "waist dart leg")) == 2
    assert len(places(finish(near, how(notch_clear=14.0)), "waist dart leg")) == 1


# -- folds and centre lines ------------------------------------------------------------------------


@pytest.mark.parametrize("kind", ["slit", "V", "T"])
def test_the_ends_of_a_fold_are_nicked(kind) -> None:
    """Half of a V, 2 mm wide and 5 deep, 0.8 mm beside the fold."""
    finished = finish(skirt(), how(notch=kind))
    nicks = [notch for notch in finished.notches if notch.name == "centre front fold"]
    assert {notch.kind for notch in nicks} == {"slit"}
    found = sorted(((n.at, n.at + n.inward * n.depth) for n in nicks), key=lambda ends: ends[0].y)
    ends = [[*a, *b] for a, b in found]
    assert ends == [
        pytest.approx([2.8, -30.0, 0.8, -25.0], abs=1e-6),
        pytest.approx([2.8, 308.0, 0.8, 303.0], abs=1e-6),
    ]


def test_an_opened_fold_is_notched_at_both_ends() -> None:
    finished = finish(skirt(), how(opened=True, notch="V"))
    fold = [notch for notch in finished.notches if notch.name == "centre front fold"]
    found = sorted((notch.at.y, *notch.inward, notch.at.x) for notch in fold)
    assert found == [
        pytest.approx([-30.0, 0.0, 1.0, 0.0], abs=1e-6),
        pytest.approx([308.0, 0.0, -1.0, 0.0], abs=1e-6),
    ]
    assert {notch.kind for notch in fold} == {"V"}


@pytest.mark.parametrize("opened", [False, True])
def test_a_fold_that_ends_in_a_point_is_marked_by_the_point(opened: bool) -> None:
    """The waist dips to the centre, as a V neck does; the hem is square to it."""
    finished = finish(skirt(high=270.0), how(opened=opened))
    (place,) = places(finished, "centre front fold")
    assert place == pytest.approx((0.0 if opened else 2.8, -30.0), abs=1e-6)


@pytest.mark.parametrize("opened", [False, True])
def test_a_notch_of_the_block_on_the_fold_is_the_only_one_there(opened: bool) -> None:
    piece = skirt()
    notched = replace(piece, notches=(Notch("centre", "waist", piece.length("waist")),))
    finished = finish(notched, how(opened=opened))
    assert len(own(finished)) == 1
    (place,) = places(finished, "centre front fold")
    assert place[1] == pytest.approx(-30.0)


def test_a_centre_seam_needs_no_notch() -> None:
    names = {notch.name for notch in finish(skirt(centre="seam"), how()).notches}
    assert names == {"waist dart leg", "front hem fold"}


@pytest.mark.parametrize(
    ("name", "foot", "found"),
    [("centre front", 0.0, [-30.0, 308.0]), ("centre front", 20.0, [308.0]), ("crease", 0.0, [])],
)
def test_a_centre_line_is_notched_where_it_ends_on_an_edge(
    name: str, foot: float, found: list[float]
) -> None:
    """A guide line that is called a centre, and each of its ends that is not inside the piece."""
    guide = Guide(name, line(Point(30, foot), Point(30, 300)))
    piece = replace(skirt(centre="seam"), guides=(guide,))
    marks = places(finish(piece, how()), name)
    assert sorted(y for _, y in marks) == pytest.approx(found)
    assert all(x == pytest.approx(30.0) for x, _ in marks)


def test_two_folds_that_meet_have_no_cut_edge_to_notch_there() -> None:
    """A quarter of a circle, as a round cloth is cut on two folds."""
    at = [Point(0, 0), Point(200, 0), Point(200, 200), Point(0, 200), Point(0, 0)]
    names = (("lower fold", "fold"), ("right", "seam"), ("upper", "seam"), ("left fold", "fold"))
    edges = tuple(
        Edge(name, line(a, b), role)  # type: ignore[arg-type]
        for (name, role), (a, b) in zip(names, pairwise(at), strict=True)
    )
    piece = Piece("cloth", edges, (Point(50, 50), Point(50, 150)), Point(100, 100))
    finished = finish(piece, how())
    assert places(finished, "lower fold") == [pytest.approx((210.0, 2.8))]
    assert places(finished, "left fold") == [pytest.approx((2.8, 210.0))]


# -- hems ------------------------------------------------------------------------------------------


def test_the_fold_of_a_hem_is_notched_on_both_sides_of_it() -> None:
    finished = finish(skirt(centre="seam"), how())
    hem = [notch for notch in finished.notches if notch.name == "front hem fold"]
    found = sorted((*notch.at, *notch.inward) for notch in hem)
    assert found == [
        pytest.approx([-10.0, 0.0, 1.0, 0.0], abs=1e-6),
        pytest.approx([210.0, 0.0, -1.0, 0.0], abs=1e-6),
    ]


@pytest.mark.parametrize("foot", [160.0, 200.0, 240.0])
def test_the_notch_of_a_hem_is_in_line_with_its_fold(foot: float) -> None:
    """Beside a slanted side the cut line turns there, and the notch is in that corner."""
    finished = finish(skirt(foot=foot), how())
    (place,) = places(finished, "front hem fold")
    assert place[1] == pytest.approx(0.0, abs=1e-6)
    slant = np.hypot(200.0 - foot, 300.0) / 300.0
    assert place[0] == pytest.approx(foot + 10.0 * slant, abs=1e-6)


def test_a_hem_by_another_name_says_that_it_is_one() -> None:
    piece = skirt(centre="seam")
    edges = (replace(piece.edges[0], name="wrist"), *piece.edges[1:])
    assert len(places(finish(replace(piece, edges=edges), how()), "wrist hem fold")) == 2


def test_a_hem_without_allowance_has_no_fold() -> None:
    finished = finish(skirt(), how(roles={**ALLOWANCE, "hem": 0.0}))
    assert places(finished, "front hem fold") == []


def test_a_hem_narrower_than_notches_are_kept_clear_is_turned_by_eye() -> None:
    """2 mm from its fold the cut line has its corner, which would come off with the notch."""
    rolled = {**ALLOWANCE, "hem": 2.0}
    assert places(finish(skirt(), how(roles=rolled)), "front hem fold") == []
    near = finish(skirt(), how(roles=rolled, notch_clear=1.0))
    assert len(places(near, "front hem fold")) == 1


def test_the_second_half_of_an_opened_hem_has_its_own() -> None:
    finished = finish(skirt(), how(opened=True))
    assert places(finished, "front hem fold") == [pytest.approx((210.0, 0.0))]
    assert places(finished, f"front hem fold{OTHER}") == [pytest.approx((-210.0, 0.0))]


# -- on every bundled block ------------------------------------------------------------------------


@pytest.mark.parametrize("opened", [False, True])
@pytest.mark.parametrize("keys", EVERY)
def test_no_two_notches_are_on_one_place_and_none_is_refused(keys: str, opened: bool) -> None:
    """However far they are kept clear; only a notch of the block itself may be refused."""
    for piece in drafted(keys, "tom" if "easy" in keys else "nora").pieces:
        for clear in (0.0, 3.0, 40.0):
            bare = replace(piece, notches=())
            finished = finish(bare, Finish(notch_clear=clear, opened=opened))
            least = max(clear - 6.0, 0.01)  # a nick begins 2.8 mm beside the fold it marks
            for i, notch in enumerate(finished.notches):
                assert all(distance(notch.at, o.at) > least for o in finished.notches[:i])


@pytest.mark.parametrize("keys", [key for key in EVERY if "easy" not in key])
def test_bodies_of_the_survey_are_finished_with_all_their_notches(keys: str) -> None:
    """ANSUR II (NATICK/TR-15/007, 2014)."""
    done = 0
    for row in range(0, 400, 80):
        try:
            pattern = of_row(row, keys)
        except InputError:
            continue  # the block refuses the body
        for finished in finish_all(pattern, Finish()):
            legs = [n for n in finished.notches if n.name.endswith(" leg")]
            assert len(legs) == 2 * len(finished.piece.darts)
            hems = [edge for edge in finished.piece.edges if edge.role == "hem"]
            assert not hems or any(n.name.endswith("fold") for n in finished.notches)
        done += 1
    assert done
