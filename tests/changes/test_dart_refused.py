"""Changes of darts that cannot be done are refused in words that say why."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from dart_panel import bodice, to_side

from blockwright import (
    BodySheet,
    Dart,
    Edge,
    GeometryError,
    InputError,
    Pattern,
    PatternError,
    Piece,
    Point,
    draft,
    line,
    load,
    move_dart,
    polyline,
    roof_between,
    shorten_dart,
    spread,
    take_in,
)


def test_what_cannot_be_done_is_said(pattern: Pattern, panel: Piece) -> None:
    with pytest.raises(PatternError, match=r"'bust dart'; did you mean waist dart\? It has"):
        shorten_dart(pattern, "panel", "bust dart", 5.0)
    with pytest.raises(PatternError, match=r"no piece 'panl'; did you mean panel\?"):
        shorten_dart(pattern, "panl", "waist dart", 5.0)
    with pytest.raises(PatternError, match=r"no edge 'sid'; did you mean side\?"):
        spread(pattern, "panel", "waist dart", "sid", 5.0)
    bare = Pattern("test.panel", "Panel", (replace(panel, darts=()),))
    with pytest.raises(PatternError, match="no dart 'x'; it has none"):
        shorten_dart(bare, "panel", "x", 5.0)
    with pytest.raises(PatternError, match="'hem' does not meet 'waist'"):
        take_in(pattern, "panel", "waist dart", "hem", 10.0)
    with pytest.raises(PatternError, match="'centre' is on the fold and takes no dart"):
        spread(pattern, "panel", "waist dart", "centre", 150.0)


def test_only_a_dart_that_is_alone_in_an_edge_is_taken_in(pattern: Pattern) -> None:
    split, _ = move_dart(
        pattern, "panel", "waist dart", "waist", 50.0, name="second dart", pressed="end",
        says="pressed to the centre", share=0.5,
    )  # fmt: skip
    with pytest.raises(PatternError, match="'waist dart' is not the only one in an edge"):
        take_in(split, "panel", "waist dart", "side", 200.0)


def test_darts_of_one_piece_have_names_of_their_own(pattern: Pattern) -> None:
    more = {"pressed": "start", "says": "pressed down", "share": 0.5}
    with pytest.raises(PatternError, match="the new dart has no name; give name="):
        move_dart(pattern, "panel", "waist dart", "side", 220.0, **more)
    with pytest.raises(PatternError, match="two darts would be called 'waist dart'; give name="):
        move_dart(pattern, "panel", "waist dart", "side", 220.0, name="waist dart", **more)


@pytest.mark.parametrize("share", [2.0, 1.0 + 1e-9, 0.0, -0.5, math.nan])
def test_a_dart_is_closed_wholly_or_in_part(pattern: Pattern, share: float) -> None:
    for close in (
        lambda: to_side(pattern, share),
        lambda: spread(pattern, "panel", "waist dart", "hem", 120.0, share=share),
    ):
        with pytest.raises(PatternError, match=f"share of {share:g} of 'waist dart'"):
            close()


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
        Edge("top", outer, "waist"),
        Edge("centre", line(Point(0.0, 100.0), Point(0.0, 0.0))),
    )
    piece = Piece(
        "bay", edges, (Point(5, 5), Point(5, 50)), Point(20, 10),
        darts=(Dart("dart", apex, "mouth", "end", ""),),
    )  # fmt: skip
    pattern = Pattern("test.bay", "Bay", (piece,))
    with pytest.raises(GeometryError, match="leaves the piece"):
        move_dart(pattern, "bay", "dart", "foot", 150.0, pressed="start", says="")


@pytest.mark.parametrize(
    ("name", "says", "words"),
    [
        ("back waist dart", "down", "an edge of another piece is called 'back waist dart mouth'"),
        ("a\nb", "down", "give text of one line"),
        ("new dart", "up\ndown", "give text of one line"),
    ],
)
def test_a_name_that_cannot_be_is_refused(name: str, says: str, words: str) -> None:
    with pytest.raises(PatternError, match=words):
        move_dart(
            bodice(), "front", "bust dart", "front shoulder", 57.0, name=name, pressed="start",
            says=says,
        )  # fmt: skip


@pytest.mark.parametrize("near", [5e-4, 5e-3])
def test_a_dart_does_not_open_within_a_hundredth_of_an_end(near: float) -> None:
    pattern = bodice()
    for along in (near, pattern.length("front shoulder") - near):
        with pytest.raises(GeometryError, match="no room to open 'front shoulder'"):
            move_dart(
                pattern, "front", "bust dart", "front shoulder", along, pressed="start", says=""
            )


def test_a_fold_is_not_taken_in() -> None:
    with pytest.raises(PatternError, match="'centre back' is on the fold and stays straight"):
        take_in(bodice(), "back", "back waist dart", "centre back", 100.0)


def test_a_block_is_not_drafted_twice_nor_for_two_bodies() -> None:
    pattern = bodice()
    body = BodySheet.from_values(pattern.measurements, units="mm", name="Trial")
    with pytest.raises(InputError, match=r"bodice\.fitted is there already"):
        draft(load().block("bodice.fitted"), body, beside=pattern)
    values = {"waist_girth": 70, "hip_girth": 96, "waist_to_hip": 20}
    other = BodySheet.from_values(values, units="cm", name="Another")
    with pytest.raises(InputError, match="drafted for 'Trial' and this sheet is of 'Another'"):
        draft(load().block("skirt.straight"), other, beside=pattern)
