"""Trousers put together again by moving the finished pieces, without the promises.

Darts are closed by turning, seams laid on seams; then the lines must run on.
"""

from __future__ import annotations

import math

import pytest
from trousers_samples import MIDDLING, drafted

from blockwright import Affine, Curve, distance
from blockwright.body.survey import body, rows

HALF_A_DEGREE = math.radians(0.5)
STEP = 0.5
CASES = {
    "two back darts": (MIDDLING, {}),
    "two front darts": (MIDDLING, {"front_darts": "2", "front_dart_intake": "1.2 cm"}),
    "no darts": (MIDDLING | {"waist_girth": 960.0}, {"front_darts": "0", "back_darts": "0"}),
    "waist over hip": (MIDDLING | {"waist_girth": 1100.0}, {}),
    "no stretch": (MIDDLING, {"inside_leg_stretch": "0 cm"}),
    "narrow hem": (MIDDLING, {"hem_width": "34 cm"}),
    "flared": (MIDDLING, {"hem_width": "70 cm"}),
    **{f"survey row {i}": (body(rows()[i]), {}) for i in (3, 458, 1406)},
}


@pytest.fixture(scope="module", params=CASES, ids=list(CASES))
def pattern(request):
    values, settings = CASES[request.param]
    made, proof = drafted(values, **settings)
    assert proof.held, list(proof.broken)
    return made


def turn_between(first: Curve, second: Curve) -> float:
    """Angle by which the way turns where one curve runs into the next, radians; near their ends."""
    assert distance(first.end, second.start) < 1e-3
    a, b = first.end_tangent, second.start_tangent
    # Secants say the same as the tangents, so no handle can pretend.
    for tangent, secant in (
        (a, first.end - first.point_at(first.length - STEP)),
        (b, second.point_at(STEP) - second.start),
    ):
        assert abs(math.atan2(tangent.cross(secant), tangent.dot(secant))) < 0.05
    return math.atan2(a.cross(b), a.dot(b))


def laid(seam: Curve, on: Curve) -> Affine:
    """Lays a seam on another at their starts."""
    return Affine.laying(
        seam.start, seam.start + seam.start_tangent, on.start, on.start + on.start_tangent
    )


def test_seat_runs_on_over_the_inside_leg(pattern) -> None:
    front, back = pattern.edge("front inside leg").curve, pattern.edge("back inside leg").curve
    lay = laid(back, front.reversed())
    # Walked from the front waist through the fork to the back waist.
    down = pattern.edge("front crotch").curve.reversed()
    up = pattern.edge("back crotch").curve.reversed().moved(lay)
    assert abs(turn_between(down, up)) < HALF_A_DEGREE


@pytest.mark.parametrize("seam", ["side", "inside leg"])
def test_hem_runs_on(pattern, seam: str) -> None:
    front, back = pattern.edge(f"front {seam}").curve, pattern.edge(f"back {seam}").curve
    hem, other = pattern.edge("front hem").curve, pattern.edge("back hem").curve
    # Both walked from the hem up; the back is laid on the front.
    if seam == "side":
        lay = laid(back, front.reversed())
        first, second = other.moved(lay), hem
    else:
        lay = laid(back.reversed(), front)
        first, second = hem, other.moved(lay)
    assert abs(turn_between(first, second)) < HALF_A_DEGREE


def test_hem_is_square_to_the_crease(pattern) -> None:
    for name in ("front", "back"):
        piece = pattern.piece(name)
        low, high = piece.grain
        hem = piece.edge(f"{name} hem").curve
        assert low.x == high.x == 0.0
        middle = hem.length / 2.0
        assert abs(hem.point_at(middle).x) < 0.01
        assert abs(hem.tangent_at(middle).y) < 1e-4


def closed_waist(pattern, name: str) -> tuple[list[Curve], Affine]:
    """The waist from the centre seam to the side with darts closed, and the turn of the last part.

    The part at the centre seam lies still.
    """
    piece = pattern.piece(name)
    parts = [edge.curve for edge in piece.stretches(f"{name} waist")]
    darts = list(piece.darts)
    legs = [piece.dart_legs(dart) for dart in darts]
    if name == "back":
        parts = [part.reversed() for part in reversed(parts)]
        legs = [(end, start) for start, end in legs]
    lay = Affine()
    closed = [parts[0]]
    for dart, (inner, outer), part in zip(darts, legs, parts[1:], strict=True):
        assert distance(dart.apex, inner) == pytest.approx(distance(dart.apex, outer), abs=1e-6)
        lay = Affine.laying(dart.apex, outer, dart.apex, inner).then(lay)
        closed.append(part.moved(lay))
    return closed, lay


def test_waist_runs_on_and_is_square_at_the_centres(pattern) -> None:
    front, front_lay = closed_waist(pattern, "front")
    back, back_lay = closed_waist(pattern, "back")
    for parts in (front, back):
        for first, second in zip(parts, parts[1:], strict=False):
            assert abs(turn_between(first, second)) < HALF_A_DEGREE
    front_side = pattern.edge("front side").curve.moved(front_lay)
    back_side = pattern.edge("back side").curve.reversed().moved(back_lay)
    lay = laid(front_side, back_side)
    assert abs(turn_between(back[-1], front[-1].reversed().moved(lay))) < HALF_A_DEGREE
    for name, parts in (("front", front), ("back", back)):
        seam = pattern.edge(f"{name} crotch").curve
        up = seam.end_tangent if name == "front" else -seam.start_tangent
        assert abs(up.dot(parts[0].start_tangent)) < math.sin(HALF_A_DEGREE)


def test_side_seams_are_equal(pattern) -> None:
    front, back = pattern.edge("front side").curve, pattern.edge("back side").curve
    assert front.length == pytest.approx(back.length, abs=0.01)


@pytest.mark.parametrize("hem", ["36 cm", "70 cm", "96 cm"])
@pytest.mark.parametrize("wider", ["0 cm", "1 cm", "4 cm"])
def test_seams_below_the_knee_are_equal(hem: str, wider: str) -> None:
    """However wide the hem: front and back lean alike, and the hem is as wide as asked for."""
    made, proof = drafted(MIDDLING, hem_width=hem, back_wider=wider)
    assert proof.held, list(proof.broken)
    below = []
    for name in ("front", "back"):
        piece = made.piece(name)
        notch = piece.notch("inside knee notch")
        whole = made.edge(f"{name} inside leg").curve.length
        below.append(notch.along if name == "front" else whole - notch.along)
    assert below[0] == pytest.approx(below[1], abs=1e-6)
    hems = sum(made.edge(f"{name} hem").curve.length for name in ("front", "back"))
    assert hems == pytest.approx(10.0 * float(hem.removesuffix(" cm")), abs=1e-3)


def test_finished_legs_are_measured() -> None:
    """Outside leg as measured and no shorter; inside leg shorter by what the crotch hangs."""
    body = MIDDLING | {"inside_leg_height": 780.0}
    for settings, cut, eases in (({}, 0.0, (0.0, 100.0)),
                                 ({"leg_length": "95 cm"}, 100.0, (0.0, 100.0)),
                                 ({"crotch_ease": "3 cm"}, 0.0, (30.0, 30.0)),
                                 ({"crotch_depth": "30.5 cm"}, 0.0, (30.0, 30.0))):  # fmt: skip
        _, proof = drafted(body, **settings)
        assert proof.held, list(proof.broken)
        found = {each.subject.name: each for each in proof.results if each.code == "length"}
        outside, inside = found["outside leg length"], found["inside leg length"]
        low, _ = outside.wanted
        assert low == pytest.approx(1050.0 - cut)
        assert 0.0 < outside.measured - low < 15.0
        # The sheet's inside leg is 5 mm longer than outside leg less rise.  The usual crotch ease
        # goes with the rise at the centre back, so any that could be asked for is allowed.
        plumb = 780.0 - 5.0 - cut
        low, high = inside.wanted
        assert low == pytest.approx(plumb - eases[1])
        assert high == pytest.approx(plumb - eases[0] + 50.0)
        if eases[0] == eases[1]:
            assert 0.0 < inside.measured - low < 15.0


def test_darts_are_pressed_to_the_centre(pattern) -> None:
    """The mouth is cut so that the fold, laid to the centre, ends in the waist."""
    for name, centre_first in (("front", True), ("back", False)):
        piece = pattern.piece(name)
        for dart in piece.darts:
            assert dart.pressed == ("start" if centre_first else "end")
            assert dart.says == "pressed to the centre"
            start, end = piece.dart_legs(dart)
            centre = piece.edge(f"{name} crotch").curve
            middle = centre.point_at(centre.length / 2.0)
            nearer = start if dart.pressed == "start" else end
            other = end if dart.pressed == "start" else start
            assert abs(nearer.x - middle.x) < abs(other.x - middle.x)
