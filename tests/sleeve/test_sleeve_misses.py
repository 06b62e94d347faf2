"""The misses' sleeve of common practice, given as explicit values, measured on the piece."""

from __future__ import annotations

import math

import pytest
from sleeve_samples import INCH, MISSES_BODY, MISSES_SETTINGS, drafted

from blockwright import Unit, distance, nearest
from blockwright_sleeve.fitted import FittedSleeve


@pytest.fixture(scope="module")
def misses():
    return drafted(FittedSleeve, MISSES_BODY, Unit.IN, **MISSES_SETTINGS)


def test_every_promise_holds(misses) -> None:
    _, proof = misses
    assert proof.held, proof.text(Unit.IN)
    assert len(proof.results) >= 16


def test_cap_passes_its_marks_rebuilt_here(misses) -> None:
    """The six marks from the stated inches, not from the plugin's own marks."""
    pattern, _ = misses
    cap = pattern.edge("cap").curve
    marks = {mark.name: mark for mark in pattern.marks}
    crown = marks["crown"]
    half = 13.0 * INCH / 2.0
    for side, x, offsets in (
        ("front", half, (3 / 4, 3 / 16, -1 / 2)),
        ("back", -half, (5 / 8, 3 / 16, -3 / 8)),
    ):
        gx, gy = x - crown.x, -crown.y
        length = math.hypot(gx, gy)
        # Outward is to the right of the way down on the front, to the left of it on the back.
        nx, ny = (-gy / length, gx / length) if side == "front" else (gy / length, -gx / length)
        for quarter, offset in zip((0.25, 0.5, 0.75), offsets, strict=True):
            at = type(cap.start)(
                crown.x + gx * quarter + nx * offset * INCH,
                crown.y + gy * quarter + ny * offset * INCH,
            )
            assert nearest(cap, at).distance < 0.01, (side, quarter)


def test_wrist_is_nine_inches(misses) -> None:
    pattern, _ = misses
    assert pattern.edge("wrist").curve.length == pytest.approx(9.0 * INCH, abs=0.1)


def test_bicep_is_thirteen_inches(misses) -> None:
    pattern, _ = misses
    cap = pattern.edge("cap").curve
    assert distance(cap.start, cap.end) == pytest.approx(13.0 * INCH, abs=0.1)


def test_underarm_seams_agree_with_the_dart_closed(misses) -> None:
    pattern, _ = misses
    front = pattern.edge("front underarm").curve.length
    above, below = pattern.stretches("back underarm")
    assert front == pytest.approx(above.curve.length + below.curve.length, abs=0.1)
    assert front == pytest.approx(pattern.length("back underarm"), abs=0.1)


def test_dart_legs_agree_and_take_in_an_inch(misses) -> None:
    pattern, _ = misses
    piece = pattern.piece("sleeve")
    (dart,) = piece.darts
    start, end = piece.dart_legs(dart)
    assert distance(dart.apex, start) == pytest.approx(distance(dart.apex, end), abs=1e-6)
    assert distance(start, end) == pytest.approx(1.0 * INCH, abs=0.01)


def test_cap_is_the_armhole_and_an_inch(misses) -> None:
    pattern, _ = misses
    assert pattern.edge("cap").curve.length == pytest.approx(18.0 * INCH, abs=0.1)


def test_ease_lies_between_the_notches_over_the_crown(misses) -> None:
    pattern, _ = misses
    cap = pattern.edge("cap").curve
    at = {notch.name: notch.along for notch in pattern.notches_on("cap")}
    front, back = 8.25 * INCH, 8.75 * INCH
    assert at["front notch"] == pytest.approx(0.33 * front, abs=0.1)
    assert cap.length - at["back notch"] == pytest.approx(0.33 * back, abs=0.1)
    assert at["crown notch"] == pytest.approx(front + INCH / 2.0, abs=0.1)


def test_crown_notch_is_at_the_top_of_the_cap(misses) -> None:
    pattern, _ = misses
    cap = pattern.edge("cap").curve
    crown = next(mark for mark in pattern.marks if mark.name == "crown")
    notch = pattern.piece("sleeve").notch("crown notch")
    assert distance(cap.point_at(notch.along), crown) < 5.0


def test_the_forearm_is_bent_forward(misses) -> None:
    pattern, _ = misses
    wrist = pattern.edge("wrist").curve
    middle = wrist.point_at(wrist.length / 2.0)
    assert middle.x > 15.0  # front is to the right
