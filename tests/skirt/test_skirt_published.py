"""Skirts against published drafts, measured on the pieces; the source is named beside each."""

from __future__ import annotations

import math

import pytest
from skirt_samples import BODY, HANDOUT, LESSON, drafted, waist_of

from blockwright import distance
from blockwright_skirt.circle import CircleSkirt
from blockwright_skirt.flared import FlaredSkirt
from blockwright_skirt.straight import StraightSkirt

# Within a millimetre: the drafts are stated to the half millimetre and laid with a ruler.
NEAR = 1.0


def hip_width(piece) -> float:
    """From the centre to the hip notch, level."""
    side = piece.edge(f"{piece.name} side").curve
    return abs(side.point_at(piece.notch("hip notch").along).x)


def waist_width(piece) -> float:
    """Along the waist with its darts open: the stretches and the widths of the darts."""
    return sum(edge.curve.length for edge in waist_of(piece)) + sum(intakes(piece))


def intakes(piece) -> list[float]:
    return [distance(*piece.dart_legs(dart)) for dart in piece.darts]


def lengths(piece) -> list[float]:
    """Dart point to the middle of its mouth."""
    middles = [
        start.between(end, 0.5) for start, end in (piece.dart_legs(dart) for dart in piece.darts)
    ]
    return [distance(dart.apex, middle) for dart, middle in zip(piece.darts, middles, strict=True)]


def side_rise(piece) -> float:
    side = piece.edge(f"{piece.name} side").curve
    return max(side.start.y, side.end.y)


def test_the_handout() -> None:
    """wikieducator.org, Handout for drafting skirt block, at waist 68 and hip 94: half width H/2 +
    2.5 = 49.5; back hip half of that and 0.75 = 25.5, front 24; back waist W/4 + 2 + 1.2 = 20.2,
    front W/4 + 2 = 19; side waist raised 1; one dart a quarter, 2 wide, 12 and 10 long."""
    pattern, proof = drafted(StraightSkirt, BODY, **HANDOUT)
    assert proof.held, list(proof.broken)
    back, front = pattern.piece("back"), pattern.piece("front")
    assert hip_width(back) == pytest.approx(255.0, abs=NEAR)
    assert hip_width(front) == pytest.approx(240.0, abs=NEAR)
    assert waist_width(back) == pytest.approx(202.0, abs=NEAR)
    assert waist_width(front) == pytest.approx(190.0, abs=NEAR)
    assert side_rise(back) == pytest.approx(10.0, abs=NEAR)
    assert side_rise(front) == pytest.approx(10.0, abs=NEAR)
    assert intakes(back) == pytest.approx([20.0], abs=NEAR)
    assert intakes(front) == pytest.approx([20.0], abs=NEAR)
    assert lengths(back) == pytest.approx([120.0], abs=NEAR)
    assert lengths(front) == pytest.approx([100.0], abs=NEAR)
    net = 2.0 * (waist_width(back) + waist_width(front) - 40.0)
    assert net == pytest.approx(704.0, abs=0.1)


def test_the_lesson_with_two_back_darts() -> None:
    """project-patterns.co.uk 2018/11/22 at waist 68 and hip 94: half width H/2 + 1.5 = 48.5, back
    hip H/4 + 1.5 = 25, front 23.5; back waist W/4 + 4.25 = 21.25; side waist raised 1.25; two back
    darts at the thirds of the waist.  From memory: front waist W/4 + 2.25 = 19.25, darts 2 wide,
    14 and 12.5 and 10 long, waist ease 1."""
    pattern, proof = drafted(StraightSkirt, BODY, **LESSON)
    assert proof.held, list(proof.broken)
    back, front = pattern.piece("back"), pattern.piece("front")
    assert hip_width(back) == pytest.approx(250.0, abs=NEAR)
    assert hip_width(front) == pytest.approx(235.0, abs=NEAR)
    assert waist_width(back) == pytest.approx(212.5, abs=NEAR)
    assert waist_width(front) == pytest.approx(192.5, abs=NEAR)
    assert side_rise(back) == pytest.approx(12.5, abs=NEAR)
    assert intakes(back) == pytest.approx([20.0, 20.0], abs=NEAR)
    assert sorted(lengths(back)) == pytest.approx([125.0, 140.0], abs=NEAR)
    assert intakes(front) == pytest.approx([20.0], abs=NEAR)
    assert lengths(front) == pytest.approx([100.0], abs=NEAR)
    middles = sorted(a.between(b, 0.5).x for a, b in map(back.dart_legs, back.darts))
    assert middles == pytest.approx([212.5 / 3.0, 212.5 * 2.0 / 3.0], abs=NEAR)
    net = 2.0 * (waist_width(back) + waist_width(front) - 60.0)
    assert net == pytest.approx(690.0, abs=0.1)


def test_the_waist_rises_as_far_unasked() -> None:
    """With the rise left to the block, the lesson's skirt comes within 1 to 1.25 cm (handout and
    lesson above) and two millimetres."""
    settings = {name: value for name, value in LESSON.items() if name != "side_rise"}
    pattern, _ = drafted(StraightSkirt, BODY, **settings)
    assert 8.0 <= side_rise(pattern.piece("back")) <= 14.5


def test_half_the_hip_with_its_ease() -> None:
    """Hip ease 5 cm in all, half width (H + 5)/2: fashion-era.com, skirt lesson 3; the same at
    dresspatternmaking.com, H/2 + 1 in (19 in for a hip of 36), within half a millimetre."""
    pattern, _ = drafted(StraightSkirt, BODY)
    found = sum(hip_width(piece) for piece in pattern.pieces)
    assert found == pytest.approx((940.0 + 50.0) / 2.0, abs=0.1)
    inch = 25.4
    body = BODY | {"hip_girth": 36.0 * inch}
    pattern, _ = drafted(StraightSkirt, body, hip_ease="2 in", hip_shift="0")
    found = sum(hip_width(piece) for piece in pattern.pieces)
    assert found == pytest.approx(19.0 * inch, abs=0.5)


@pytest.mark.parametrize(("name", "centre"), [("back", "centre back"), ("front", "centre front")])
def test_corners_of_a_block_are_square(name: str, centre: str) -> None:
    """All block corners square: the lesson at project-patterns.co.uk 2018/11/22.  The centre is
    upright; a millimetre off it waist and hem are still level, to half a degree."""
    pattern, _ = drafted(StraightSkirt, BODY)
    piece = pattern.piece(name)
    upright = piece.edge(centre).curve
    assert upright.start.x == pytest.approx(upright.end.x, abs=1e-9)
    arriving, leaving = piece.before(centre).curve, piece.after(centre).curve
    assert arriving.point_at(arriving.length - 1.0).y == pytest.approx(arriving.end.y, abs=0.0087)
    assert leaving.point_at(1.0).y == pytest.approx(leaving.start.y, abs=0.0087)


@pytest.mark.parametrize(
    ("circles", "radius"),
    [
        ("1", lambda c: c / (2.0 * math.pi)),
        ("0.5", lambda c: c / math.pi),
        ("0.25", lambda c: 2.0 * c / math.pi),
        ("0.75", lambda c: 2.0 * c / (3.0 * math.pi)),
        ("0.375", lambda c: 4.0 * c / (3.0 * math.pi)),
        ("1.7", lambda c: c / (2.0 * math.pi * 1.7)),
    ],
)
@pytest.mark.parametrize("waist", [680.0, 1090.0])
def test_the_radius_of_a_circle_skirt(circles: str, radius, waist: float) -> None:
    """r = C/(2 pi) for a full circle, C/pi half, 2C/pi quarter, 2C/(3 pi) three quarters, 4C/(3 pi)
    three eighths, in general C/(2 pi f): coutureschmiede.com 2014/10."""
    body = BODY | {"waist_girth": waist, "hip_girth": waist + 20.0}
    pattern, proof = drafted(CircleSkirt, body, circles=circles, waist_ease="1 cm")
    assert proof.held, list(proof.broken)
    wanted = radius(waist + 10.0)
    assert radius_of(pattern.edge("waist").curve) == pytest.approx(wanted, abs=0.01)
    assert radius_of(pattern.edge("hem").curve) == pytest.approx(wanted + 600.0, abs=0.01)


@pytest.mark.parametrize(("girth", "radius"), [(1100.0, 175.07), (1140.0, 181.44)])
def test_a_worked_circle(girth: float, radius: float) -> None:
    """C 110 gives 17.507 and C 114 gives 18.144, cm: worked at smartpatternmaking.com (there with
    3.14 for pi: 17.52 and 18.15)."""
    body = BODY | {"waist_girth": girth, "hip_girth": girth}
    pattern, _ = drafted(CircleSkirt, body, waist_ease="0")
    assert radius_of(pattern.edge("waist").curve) == pytest.approx(radius, abs=0.01)


def radius_of(curve) -> float:
    """Radius of the circle through three points of a curve."""
    a, b, c = (curve.point_at(curve.length * share) for share in (0.0, 0.4, 1.0))
    twice_area = (b - a).cross(c - a)
    return abs(distance(a, b) * distance(b, c) * distance(c, a) / (2.0 * twice_area))


def test_waist_ease_of_a_circle_skirt() -> None:
    """A quarter to half an inch, three eighths typical: jenaelawson.com."""
    inch = 25.4
    assert inch / 4.0 <= CircleSkirt.waist_ease.default <= inch / 2.0


def test_waist_ease_of_a_darted_skirt() -> None:
    """Skirt waist 1/2 to 3/4 in (costume notes, CWU costxt_16) to 2 cm (a pattern house's
    statement, myhandmadewardrobepatterns.com)."""
    assert 0.5 * 25.4 <= StraightSkirt.waist_ease.default <= 20.0


def test_hip_darts_of_a_usual_body() -> None:
    """Back darts 4 to 5 in long, front an inch shorter: zaro.info (a weak source: within half an
    inch)."""
    pattern, _ = drafted(StraightSkirt, BODY)
    inch = 25.4
    back, front = max(lengths(pattern.piece("back"))), max(lengths(pattern.piece("front")))
    assert 3.5 * inch <= back <= 5.5 * inch
    assert 0.5 * inch <= back - front <= 1.5 * inch


def test_darts_are_pressed_to_the_centre() -> None:
    """Vertical darts fold toward the centre: Erwin, Practical Dress Design, 1954."""
    pattern, _ = drafted(StraightSkirt, BODY)
    for piece in pattern.pieces:
        assert piece.darts
        for dart in piece.darts:
            start, end = piece.dart_legs(dart)
            on, off = (start, end) if dart.pressed == "start" else (end, start)
            assert abs(on.x) < abs(off.x)
            assert dart.says == "pressed to the centre"


def test_a_flared_skirt_takes_in_the_same_waist() -> None:
    """Closing darts into the hem leaves waist and side seam as they are (slash and spread; common
    practice, no source): the flared skirt's waist is the straight one's, and its hem wider."""
    straight, _ = drafted(StraightSkirt, BODY)
    flared, _ = drafted(FlaredSkirt, BODY)

    def girth(pattern, role: str) -> float:
        return 2.0 * sum(e.curve.length for p in pattern.pieces for e in p.edges if e.role == role)

    assert girth(flared, "waist") == pytest.approx(girth(straight, "waist"), abs=0.05)
    assert girth(flared, "hem") > 1.5 * girth(straight, "hem")
    assert not any(piece.darts for piece in flared.pieces)
