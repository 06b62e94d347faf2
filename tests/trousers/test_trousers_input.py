"""Sheets and options that cannot be drafted: one line, naming what, and what to do."""

from __future__ import annotations

import pytest
from bending import told
from trousers_samples import MIDDLING, drafted, sheet

from blockwright import InputError, Unit, draft, prove
from blockwright_trousers.straight import StraightTrousers

BASE = {
    name: MIDDLING[name] for name in ("waist_girth", "hip_girth", "outside_leg_length", "body_rise")
}


@pytest.mark.parametrize(
    ("changes", "settings", "names"),
    [
        ({"hip_girth": 600.0}, {}, ("hip_girth", "waist_girth", "nine tenths", "hip_ease")),
        ({"total_crotch_length": 560.0}, {}, ("total_crotch_length", "body_rise", "can be")),
        ({"total_crotch_length": 900.0}, {}, ("total_crotch_length", "body_rise", "can be")),
        ({"waist_to_hip": 360.0}, {}, ("waist_to_hip", "body_rise", "crotch line")),
        ({"knee_height": 730.0}, {}, ("knee_height", "outside_leg_length", "body_rise")),
        ({}, {"leg_length": "55 cm"}, ("knee_height", "leg_length")),
        ({"thigh_girth": 720.0}, {}, ("thigh_girth", "thigh_ease", "hip_ease")),
        ({}, {"knee_width": "30 cm"}, ("knee_width", "knee_girth")),
        (
            {},
            {"back_rise": "2 cm", "back_fork": "12 cm", "seat_ease": "1 cm"},
            ("seat_ease", "back_fork", "back_rise", "leave one out"),
        ),
        (
            {},
            {"back_drop": "1 cm", "inside_leg_stretch": "1 cm"},
            ("inside_leg_stretch", "back_drop"),
        ),
        (
            {},
            {"front_hip": "25 cm", "back_hip": "26 cm", "hip_ease": "4 cm"},
            ("hip_ease", "front_hip", "back_hip"),
        ),
        (
            {},
            {"back_rise": "12 cm", "back_fork": "26 cm"},
            ("back_fork (26.0 cm)", "back_rise (12.0 cm)", "inside leg"),
        ),
        (
            {"total_crotch_length": 480.0},
            {"back_rise": "2 cm", "back_fork": "15 cm"},
            ("back_fork", "back_rise", "seat_ease", "it may be"),
        ),
        ({}, {"front_hip": "20 cm", "back_hip": "20 cm"}, ("front_hip", "back_hip", "hip_ease")),
        ({}, {"back_drop": "6 cm"}, ("back_drop", "inside_leg_stretch")),
        ({"waist_to_hip": 150.0}, {"front_dart_length": "20 cm"},
         ("front_dart_length", "waist_to_hip")),
        ({}, {"back_dart_intake": "4 cm", "back_dart_length": "6 cm"}, ("back_dart_intake",)),
        ({"waist_girth": 1100.0}, {"back_darts": "2"}, ("back_darts", "waist_girth")),
        ({}, {"back_darts": "3"}, ("back_darts", "a whole number from 0 to 2")),
        # The front takes too much or too little of the hip, or of the waist.
        ({}, {"back_hip": "12 cm"}, ("front at the hip line", "back_hip (12.0 cm)", "hip_girth")),
        ({}, {"back_hip": "19 cm"}, ("front at the hip line", "back_hip (19.0 cm)")),
        ({}, {"front_hip": "12 cm"}, ("front at the hip line", "front_hip (12.0 cm)")),
        ({}, {"front_hip": "75 cm"}, ("front at the hip line", "front_hip (75.0 cm)")),
        ({}, {"front_waist": "70 cm"}, ("front waist", "front_waist (70.0 cm)", "waist_girth")),
        ({}, {"hip_ease": "20 cm", "front_darts": "0", "back_darts": "0"},
         ("side seam above the knee", "hip_ease (20.0 cm)", "front_darts (0)")),
        ({}, {"back_dart_intake": "4 cm", "front_darts": "0"}, ("side seam", "back_dart_intake")),
        # Forks.
        ({}, {"crease_to_fork": "4 cm"}, ("crotch curve", "crease_to_fork (4.0 cm)")),
        ({}, {"crease_to_fork": "14 cm"}, ("front crease", "crease_to_fork (14.0 cm)")),
        ({}, {"crease_to_fork": "25 cm"}, ("front inside leg", "crease_to_fork (25.0 cm)")),
        ({}, {"back_fork": "5 cm"}, ("back fork beside a front fork of", "back_fork (5.0 cm)")),
        ({}, {"front_fork": "3 cm", "back_fork": "7.5 cm"},
         ("length of both forks", "front_fork (3.0 cm) or back_fork (7.5 cm)")),
        # Slopes.
        ({}, {"seat_slant": "10 cm"}, ("slope of the back waist", "seat_slant (10.0 cm)", "18°")),
        ({}, {"front_in": "4 cm"}, ("slope of the front waist", "front_in (4.0 cm)", "8°")),
        ({}, {"crotch_ease": "0 cm", "seat_ease": "9 cm"}, ("seat ease", "crotch_ease", "can be")),
        # Inside legs and crotch curves.
        ({}, {"back_hollow": "3 cm"}, ("back inside leg", "back_hollow (3.0 cm)")),
        ({}, {"front_hollow": "3 cm"}, ("front inside leg", "front_hollow (3.0 cm)")),
        ({}, {"front_curve": "1 cm"}, ("tip of the front fork", "front_curve (1.0 cm)")),
        ({}, {"front_curve": "2 cm"}, ("front crotch curve", "front_curve (2.0 cm)")),
        ({}, {"back_curve": "3 cm"}, ("tip of the front fork", "back_curve (3.0 cm)")),
        ({}, {"back_curve": "4.5 cm"}, ("back crotch curve", "back_curve (4.5 cm)")),
        ({}, {"inside_leg_stretch": "2 cm", "back_fork": "16 cm"}, ("back_fork (16.0 cm)",)),
        # Knee and hem.
        ({}, {"knee_width": "100 cm"}, ("leg at the knee", "the fork", "knee_width (100.0 cm)")),
        ({"thigh_girth": 250.0}, {},
         ("thigh_girth (25.0 cm)", "knee_girth (38.5 cm)", "set knee_width")),
        ({"thigh_girth": 980.0, "knee_girth": 650.0}, {}, ("thigh_girth", "knee_girth")),
        ({"thigh_girth": 200.0, "knee_girth": 300.0},
         {"hip_ease": "20 cm", "front_fork": "9 cm", "knee_width": "50 cm"},
         ("round the thigh", "thigh_girth (20.0 cm)", "hip_ease (20.0 cm)")),
        ({}, {"hem_width": "15 cm"},
         ("ankle_girth (23.5 cm)", "hem_width", "31.3 cm", "foot")),
        ({"ankle_girth": 400.0}, {},
         ("ankle_girth (40.0 cm)", "hem", "is 46.0 cm", "knee_width")),
        ({}, {"hem_width": "110 cm"},
         ("hem_width (110.0 cm)", "15°", "it may be", "knee of 51.2 cm")),
        ({}, {"leg_length": "65 cm", "hem_width": "42 cm"},
         ("leg_length (65.0 cm)", "hem_width (42.0 cm)", "15°")),
        # What results, and what has no effect.
        ({}, {"crotch_depth": "28 cm", "crotch_ease": "9 cm"}, ("crotch_ease", "crotch_depth")),
        ({}, {"crotch_depth": "40 cm"}, ("crotch_depth", "crotch_ease", "it may be")),
        ({}, {"crotch_depth": "15 cm"}, ("crotch_depth as given makes", "crotch_ease -12.5 cm")),
        ({}, {"front_darts": "0", "front_dart_intake": "1 cm"},
         ("front_dart_intake 1.0 cm has no effect", "front_darts is 0")),
        ({}, {"back_darts": "0", "back_dart_length": "9 cm"},
         ("back_dart_length 9.0 cm has no effect", "back_darts is 0")),
        ({"waist_girth": 1000.0}, {"back_dart_intake": "1 cm"},
         ("back_dart_intake 1.0 cm has no effect", "set back_darts")),
        ({"waist_to_hip": 190.0}, {"front_dart_length": "19 cm"},
         ("front dart", "hip line", "front_dart_length")),
        # Legs and rise.
        ({"outside_leg_length": 1006.0, "inside_leg_height": 837.0, "body_rise": 279.0}, {},
         ("outside_leg_length (100.6 cm)", "inside_leg_height (83.7 cm)", "body_rise (27.9 cm)")),
    ],
)  # fmt: skip
def test_refused_in_one_line(changes, settings, names) -> None:
    with pytest.raises(InputError) as refused:
        drafted(MIDDLING | changes, **settings)
    message = str(refused.value)
    assert "\n" not in message
    for name in names:
        assert name in message


def test_lengths_are_said_in_the_sheets_unit() -> None:
    with pytest.raises(InputError, match=r"hip_girth \(23 5/8 in\)"):
        drafted(MIDDLING | {"hip_girth": 600.0}, Unit.IN)


def test_the_seat_message_gives_the_range_that_would_do() -> None:
    """A seat ease inside the range it names can be drafted, one outside cannot."""
    long = MIDDLING | {"total_crotch_length": 900.0}
    with pytest.raises(InputError, match=r"it can be -[\d.]+ cm to -?[\d.]+ cm") as refused:
        drafted(long)
    most = float(str(refused.value).split(" it can be ")[1].split(" cm")[1].split()[-1])
    with pytest.raises(InputError, match="seat ease"):
        drafted(long, seat_ease=f"{most + 0.1} cm")
    _, proof = drafted(long, seat_ease=f"{most - 0.1} cm")
    assert proof.held


def test_missing_measurements_are_estimated_and_said() -> None:
    pattern = draft(StraightTrousers, sheet(BASE))
    assert prove(pattern).held
    assert {estimate.name for estimate in pattern.estimates} == {
        "waist_to_hip",
        "total_crotch_length",
        "thigh_girth",
        "knee_girth",
        "knee_height",
        "ankle_girth",
    }
    found = {estimate.name: estimate.value for estimate in pattern.estimates}
    # Half of the inside leg and 5 cm: *Mansie Wauch*'s draft and the women's block.  The body model
    # stands in for it, and is a little higher.
    (*_, knee) = StraightTrousers.knee_height.estimates
    assert knee.find(1050.0, 275.0) == pytest.approx((1050 - 275) / 2 + 50)
    assert found["knee_height"] == pytest.approx((1050 - 275) / 2 + 50, abs=20.0)
    # The seat line stands a twelfth of the seat over the fork: *Mansie Wauch*.
    assert found["waist_to_hip"] == pytest.approx(275 - 990 / 12)


def test_rise_from_the_two_legs() -> None:
    """Body rise is outside leg less inside leg (a published rule)."""
    values = {name: value for name, value in BASE.items() if name != "body_rise"}
    pattern = draft(StraightTrousers, sheet(values | {"inside_leg_height": 775.0}))
    assert prove(pattern).held
    found = {estimate.name: estimate.value for estimate in pattern.estimates}
    assert found["body_rise"] == 275.0


def test_what_is_needed_is_named() -> None:
    with pytest.raises(InputError) as refused:
        draft(StraightTrousers, sheet({"hip_girth": 990.0}))
    message = str(refused.value)
    for name in ("waist_girth", "outside_leg_length", "body_rise"):
        assert name in message


@pytest.mark.parametrize("given", ["back_rise", "back_fork", "neither"])
def test_what_is_not_given_is_solved(given: str) -> None:
    settings = {"back_rise": {"back_rise": "2.5 cm"}, "back_fork": {"back_fork": "13 cm"}}
    pattern, proof = drafted(MIDDLING, **settings.get(given, {}))
    assert proof.held, list(proof.broken)
    (solved,) = pattern.solved
    assert solved.name == ("back fork" if given == "back_rise" else "centre back rise")
    seat = sum(pattern.edge(f"{half} crotch").curve.length for half in ("front", "back"))
    assert seat == pytest.approx(MIDDLING["total_crotch_length"] + 10.0, abs=0.01)


def test_hip_ease_is_kept_when_one_hip_is_given() -> None:
    for settings in ({"front_hip": "25.5 cm"}, {"back_hip": "27 cm"}):
        _, proof = drafted(MIDDLING, hip_ease="6 cm", **settings)
        (hip,) = (result for result in proof.results if told(result) == ("girth", "hip"))
        assert hip.measured == pytest.approx(MIDDLING["hip_girth"] + 60.0, abs=0.01)


def test_darts_by_the_body() -> None:
    """The more the waist is narrower than the hip, the more is taken in by darts."""
    intakes = []
    for waist in (640.0, 740.0, 840.0, 1000.0):
        pattern, _ = drafted(MIDDLING | {"waist_girth": waist})
        taken = 0.0
        for piece in pattern.pieces:
            for dart in piece.darts:
                start, end = piece.dart_legs(dart)
                taken += abs(start - end)
        intakes.append(taken)
    assert intakes[0] > intakes[1] > intakes[2] > intakes[3] == 0.0
