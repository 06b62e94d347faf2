"""The angle at a corner, at a dart, and where a dart was."""

from __future__ import annotations

import math

import pytest

from blockwright import Dart, Draft, Edge, Pattern, Point, Reason, Ref, line, polyline
from blockwright.pattern.joint import interior_angle, joint_point, why_no_corner
from blockwright.pattern.promises.corner import CornerAngle
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


# The middle of each dart in a straight waist and half its width; its place with the darts closed.
TWO_DARTS = {"right": (150.0, 10.0), "left": (60.0, 20.0)}
PLACES = {"right": 40.0, "left": 40.0 + 60.0}


def two_darts() -> tuple[Draft, list[Dart]]:
    """A panel with two darts in its waist, on a table."""
    x, edges, darts = WIDE, [], []
    for name, (middle, half) in TWO_DARTS.items():
        ends = Point(middle + half, TALL), Point(middle - half, TALL)
        edges += [Edge("waist", line(Point(x, TALL), ends[0]), "waist"),
                  Edge(f"{name} mouth", line(*ends), "dart")]  # fmt: skip
        apex = Point(middle, TALL - DEEP)
        darts.append(Dart(name, apex, f"{name} mouth", "end", "pressed left"))
        x = ends[1].x
    low = [Point(0, TALL), Point(0, 0), Point(WIDE, 0), Point(WIDE, TALL)]
    edges += [Edge("waist", line(Point(x, TALL), low[0]), "waist"), Edge("rest", polyline(low))]
    d = Draft(BLOCK, "Panel")
    d.piece("panel", edges, darts=darts, grain=(Point(20, 50), Point(20, 150)),
            label_at=Point(100, 100))  # fmt: skip
    return d, darts


@pytest.mark.parametrize("name", PLACES)
def test_a_corner_of_a_dart_that_is_gone_is_that_of_the_dart_now_at_its_place(name: str) -> None:
    """Closed, each dart bends the waist by its own angle."""
    d, _ = two_darts()
    opens = 2.0 * math.degrees(math.atan(TWO_DARTS[name][1] / DEEP))
    joint = DartJoint(ref("waist"), "another dart", PLACES[name])
    assert interior_angle(d.pattern(), joint) == pytest.approx(180.0 + opens)


@pytest.mark.parametrize("number", [0, 1])
def test_a_promise_at_a_dart_knows_the_place_of_the_dart(number: int) -> None:
    d, darts = two_darts()
    d.corner("over the dart", darts[number])
    (promise,) = d.pattern().promises
    assert isinstance(promise, CornerAngle)
    (joint,) = promise.joints
    assert isinstance(joint, DartJoint)
    assert (joint.dart, joint.along) == (darts[number].name, PLACES[darts[number].name])


def test_two_edges_with_a_dart_between_them_make_a_corner() -> None:
    """A dart of 20 mm by 120 mm in a straight line from the shoulder to the neck."""
    right, left = Point(110.0, TALL), Point(90.0, TALL)
    low = [Point(0, TALL), Point(0, 0), Point(WIDE, 0), Point(WIDE, TALL)]
    edges = [
        Edge("shoulder", line(low[-1], right)),
        Edge("mouth", line(right, left), "dart"),
        Edge("neck", line(left, low[0]), "neck"),
        Edge("rest", polyline(low)),
    ]
    d = Draft(BLOCK, "Panel")
    d.piece("panel", edges, darts=[Dart("dart", Point(100.0, TALL - DEEP), "mouth", "end", "left")])
    angle = interior_angle(d.pattern(), Joint(ref("shoulder"), ref("neck")))
    assert angle == pytest.approx(180.0 + 2.0 * math.degrees(math.atan(10.0 / DEEP)))


def test_edges_apart_are_told_before_corners_named_too_often() -> None:
    apart = Joint(ref("hem"), ref("waist"))
    (result,) = CornerAngle(ref("corner"), (apart, apart)).measure(pattern(dart=False))
    assert result.why is not None
    assert result.why.code == "corner.apart"


def test_of_two_corners_near_the_old_place_of_a_dart_the_nearer_is_measured() -> None:
    """99 and 100.5 mm along the waist, which falls by 10 degrees and then by 20 more."""
    first = Point(WIDE - 99.0, TALL)
    second = first + Point(-1.5, 0.0).turned(math.radians(10.0))
    last = second + Point(-90.0, 0.0).turned(math.radians(30.0))
    corners = [Point(WIDE, TALL), first, second, last]
    low = [last, Point(last.x, 0), Point(WIDE, 0), corners[0]]
    d = Draft(BLOCK, "Panel")
    d.piece("panel", [Edge("waist", polyline(corners), "waist"), Edge("rest", polyline(low))])
    for along, turn in ((98.5, 10.0), (99.5, 10.0), (100.0, 20.0), (101.0, 20.0)):
        joint = DartJoint(ref("waist"), "gone", along)
        assert interior_angle(d.pattern(), joint) == pytest.approx(180.0 - turn)
