"""A dart taken in at either end of its edge: what one end becomes, the other does mirrored."""

from __future__ import annotations

import numpy as np
import pytest

from blockwright import (
    Curve,
    Dart,
    Draft,
    Edge,
    GeometryError,
    Notch,
    Pattern,
    PatternError,
    Piece,
    Point,
    line,
    nearest,
    roof_between,
    take_in,
)
from blockwright.pattern.piece import Role

WIDE, TALL, INTAKE, DOWN = 240.0, 300.0, 30.0, 180.0
HIP, HIGH = 100.0, 250.0
"""Heights of notches on either side: below what is drawn anew, and on it."""


def skirt() -> Pattern:
    """A panel that is its own mirror image, with a dart in the middle of its waist."""
    middle, apex = WIDE / 2.0, Point(WIDE / 2.0, TALL - 120.0)
    inner = line(Point(WIDE, TALL), Point(middle + INTAKE / 2.0, TALL))
    outer = line(Point(middle - INTAKE / 2.0, TALL), Point(0.0, TALL))
    parts: list[tuple[str, Curve, Role]] = [
        ("hem", line(Point(0.0, 0.0), Point(WIDE, 0.0)), "hem"),
        ("right", line(Point(WIDE, 0.0), Point(WIDE, TALL)), "seam"),
        ("waist", inner, "waist"),
        ("mouth", roof_between(apex, inner, outer, "end"), "dart"),
        ("waist", outer, "waist"),
        ("left", line(Point(0.0, TALL), Point(0.0, 0.0)), "seam"),
    ]
    d = Draft("test.skirt", "Skirt")
    d.piece(
        "skirt", [Edge(*part) for part in parts], label_at=Point(60.0, 80.0),
        grain=(Point(60.0, 20.0), Point(60.0, 150.0)),
        darts=[Dart("dart", apex, "mouth", "end", "pressed to the centre")],
        notches=[
            Notch("right hip", "right", HIP), Notch("right high", "right", HIGH),
            Notch("left hip", "left", TALL - HIP), Notch("left high", "left", TALL - HIGH),
        ],
    )  # fmt: skip
    return d.pattern()


def taken(side: str, down: float = DOWN) -> Piece:
    return take_in(skirt(), "skirt", "dart", side, down)[0].piece("skirt")


def mirrored(curve: Curve) -> np.ndarray:
    """Places along the mirror image of a curve, travelled the other way."""
    points = curve.points_at(np.linspace(curve.length, 0.0, 200))
    return np.column_stack([WIDE - points[:, 0], points[:, 1]])


def test_either_end_is_the_mirror_image_of_the_other() -> None:
    right, left = taken("right"), taken("left")
    for one, other in (("right", "left"), ("left", "right"), ("waist", "waist"), ("hem", "hem")):
        curve = left.edge(one).curve
        here = curve.points_at(np.linspace(0.0, curve.length, 200))
        assert np.abs(here - mirrored(right.edge(other).curve)).max() < 1e-4, one


@pytest.mark.parametrize(("side", "x"), [("right", WIDE - INTAKE), ("left", INTAKE)])
def test_the_waist_is_shortened_at_the_end_that_is_asked_for(side: str, x: float) -> None:
    """It was straight, so without the dart's cloth it is as long as the panel less that."""
    piece = taken(side)
    waist = piece.edge("waist").curve
    assert waist.length == pytest.approx(WIDE - INTAKE, abs=1e-6)
    corner = waist.start if side == "right" else waist.end
    seam = piece.edge(side).curve
    assert corner == (seam.end if side == "right" else seam.start)
    assert (corner.x, corner.y) == (pytest.approx(x, abs=0.01), pytest.approx(TALL, abs=0.01))


@pytest.mark.parametrize("side", ["right", "left"])
@pytest.mark.parametrize("down", [100.0, DOWN, 280.0])
def test_the_seam_is_drawn_anew_so_far_down_and_runs_on_smoothly(side: str, down: float) -> None:
    seam = taken(side, down).edge(side).curve
    upward = seam if side == "right" else seam.reversed()
    edge = WIDE if side == "right" else 0.0
    low = TALL - down
    for y in np.linspace(0.0, low, 20):
        assert upward.point_at(y).x == pytest.approx(edge, abs=1e-9)
    above = upward.point_at(low + 20.0)
    assert abs(above.x - edge) > 0.1
    # Just over where it is drawn anew it still runs upright.
    assert abs(upward.tangent_at(low + 1e-3).x) < 1e-3


@pytest.mark.parametrize("side", ["right", "left"])
def test_notches_below_what_is_drawn_anew_stay_where_they_are(side: str) -> None:
    piece = taken(side)
    other = "left" if side == "right" else "right"
    assert {n.name for n in piece.notches} == {f"{side} hip", f"{other} hip", f"{other} high"}
    for notch in piece.notches:
        curve, along = piece.notch_at(notch)
        x = WIDE if notch.edge == "right" else 0.0
        height = HIP if "hip" in notch.name else HIGH
        assert (*curve.point_at(along),) == pytest.approx((x, height), abs=1e-6)


@pytest.mark.parametrize("side", ["right", "left"])
def test_the_whole_of_a_seam_is_the_most_that_is_drawn_anew(side: str) -> None:
    piece = taken(side, TALL - 1.0)
    foot = Point(WIDE if side == "right" else 0.0, 0.0)
    assert nearest(piece.edge(side).curve, foot).distance < 1e-9
    for down in (TALL + 1.0, -1.0):
        with pytest.raises(GeometryError):
            taken(side, down)


@pytest.mark.parametrize("seam", ["hem", "mouth"])
def test_a_seam_that_does_not_meet_the_edge_is_refused(seam: str) -> None:
    with pytest.raises(PatternError, match=f"{seam!r} does not meet 'waist'"):
        taken(seam)
