"""The angle at a corner, at a dart, and where a dart was."""

from __future__ import annotations

import math

import pytest

from blockwright import Dart, Draft, Edge, Pattern, Point, Reason, Ref, line, polyline
from blockwright.pattern.joint import interior_angle, joint_point, why_no_corner
from blockwright.pattern.ref import DartJoint, Joint

BLOCK = "test.panel"
WIDE, TALL = 200.0, 300.0
# The waist rises to here from both its ends; its dart goes down from there.
PEAK, HALF, DEEP = 20.0, 10.0, 120.0


def ref(name: str) -> Ref:
    return Ref(BLOCK, name)


def pattern(*, dart: bool) -> Pattern:
    """A panel whose waist has a corner in its middle, or a dart there instead."""
    right, middle, left = Point(WIDE, TALL), Point(WIDE / 2, TALL + PEAK), Point(0, TALL)
    low = [Point(0, 0), Point(WIDE, 0)]
    edges = [Edge("hem", line(*low), "hem"), Edge("side", line(low[1], right))]
    darts = []
    if dart:
        ends = [middle + Point(HALF, 0), middle - Point(HALF, 0)]
        edges += [
            Edge("waist", line(right, ends[0]), "waist"),
            Edge("mouth", polyline(ends), "dart"),
            Edge("waist", line(ends[1], left), "waist"),
        ]
        darts = [Dart("dart", middle - Point(0, DEEP), "mouth", "end", "pressed left")]
    else:
        edges += [Edge("waist", polyline([right, middle, left]), "waist")]
    edges += [Edge("centre", line(left, low[0]))]
    d = Draft(BLOCK, "Panel")
    d.piece(
        "panel", edges, darts=darts, grain=(Point(50, 50), Point(50, 250)),
        label_at=Point(100, 100),
    )  # fmt: skip
    return d.pattern()


SLOPE = math.degrees(math.atan2(PEAK, WIDE / 2))
LONG = math.hypot(PEAK, WIDE / 2)


def test_corners_are_measured_inside_the_piece() -> None:
    plain = pattern(dart=False)
    for first, second, angle in (
        ("hem", "side", 90.0),
        ("side", "waist", 90.0 + SLOPE),
        ("waist", "centre", 90.0 + SLOPE),
        ("centre", "hem", 90.0),
    ):
        joint = Joint(ref(first), ref(second))
        assert interior_angle(plain, joint) == pytest.approx(angle)
        assert why_no_corner(plain, joint) is None
    assert joint_point(plain, Joint(ref("side"), ref("waist"))) == Point(WIDE, TALL)


def test_edges_that_do_not_follow_one_another_make_no_corner() -> None:
    plain = pattern(dart=False)
    turned = Joint(ref("side"), ref("hem"))
    assert math.isnan(interior_angle(plain, turned))
    values = {"first": ref("side"), "second": ref("hem")}
    assert why_no_corner(plain, turned) == Reason("corner.turned", values)
    apart = Joint(ref("hem"), ref("waist"))
    values = {"first": ref("hem"), "after": ref("side"), "piece": ref("panel")}
    assert why_no_corner(plain, apart) == Reason("corner.apart", values)


def test_at_a_dart_it_is_closed_first() -> None:
    """The dart turns the cloth beyond it by its own angle, so that the peak is flatter by that."""
    darted = pattern(dart=True)
    slope = math.degrees(math.atan2(PEAK, WIDE / 2 - HALF))
    closed = 2.0 * math.degrees(math.atan2(HALF, DEEP))
    for along in (0.0, 90.0):
        joint = DartJoint(ref("waist"), "dart", along)
        assert interior_angle(darted, joint) == pytest.approx(180.0 - 2.0 * slope + closed)
        assert joint_point(darted, joint) == Point(WIDE / 2 + HALF, TALL + PEAK)
        assert why_no_corner(darted, joint) is None
    # One that is not there any more is looked for by its place, and this one stands at it.
    end = math.hypot(PEAK, WIDE / 2 - HALF)
    gone = DartJoint(ref("waist"), "another", end)
    assert interior_angle(darted, gone) == pytest.approx(180.0 - 2.0 * slope + closed)
    before = DartJoint(ref("waist"), "another", end - 0.1)
    assert interior_angle(darted, before) == pytest.approx(180.0)


@pytest.mark.parametrize("off", [-1.99, -0.5, 0.0, 0.5, 1.99])
def test_where_a_dart_was_the_corner_it_left_is_measured(off: float) -> None:
    """It may have slipped by up to two millimetres."""
    joint = DartJoint(ref("waist"), "gone", LONG + off)
    assert interior_angle(pattern(dart=False), joint) == pytest.approx(180.0 - 2.0 * SLOPE)
    assert tuple(joint_point(pattern(dart=False), joint)) == pytest.approx((WIDE / 2, TALL + PEAK))


@pytest.mark.parametrize("along", [0.0, 50.0, LONG - 2.01, LONG + 2.01, 2.0 * LONG])
def test_elsewhere_an_edge_runs_on(along: float) -> None:
    joint = DartJoint(ref("waist"), "gone", along)
    assert interior_angle(pattern(dart=False), joint) == pytest.approx(180.0)
