"""Bodices with their sleeves on every body of the survey: drafted and proved, or refused by name.

Bodies: ANSUR II, see blockwright/body/ansur2-sample.md.
Columns are mapped as blockwright/body/survey.py says; their
waist is at the navel, lower and larger than the one a bodice is drafted to.
"""

from __future__ import annotations

import numpy as np
import pytest
from bodice_samples import MEN, WOMEN, drafted, polygon, width_at
from shapely.geometry import LineString, Point

from blockwright import InputError, signed_area
from blockwright_bodice.easy import EasyBodice
from blockwright_bodice.fitted import FittedBodice
from blockwright_sleeve.fitted import FittedSleeve
from blockwright_sleeve.straight import StraightSleeve
from parts import sampled

PARTS = 4
EVERY_TIME = 12
MOST_REFUSED = 0.01


def test_the_whole_survey_is_here() -> None:
    assert (len(WOMEN), len(MEN)) == (497, 1021)


@pytest.mark.parametrize("some", sampled(EVERY_TIME, PARTS))
def test_every_woman(some: slice) -> None:
    check_all((FittedBodice, FittedSleeve), WOMEN[some])


@pytest.mark.parametrize("some", sampled(EVERY_TIME, PARTS))
def test_every_man(some: slice) -> None:
    check_all((EasyBodice, StraightSleeve), MEN[some])


def test_every_fifteenth_woman_with_the_bust_dart_at_the_shoulder() -> None:
    check_all((FittedBodice, FittedSleeve), WOMEN[::15], bust_dart="shoulder")


def test_every_thirtieth_woman_in_an_easy_bodice() -> None:
    check_all((EasyBodice, StraightSleeve), WOMEN[::30], back_shoulder="dart")


def test_the_bust_line_clears_an_armhole_that_dips() -> None:
    """Side seams that hang outward make the armhole dip under its ends; the line runs below."""
    dipped = 0
    for values in WOMEN:
        if values["waist_girth"] < values["bust_girth"]:
            continue
        try:
            pattern, proof = drafted(FittedBodice, values, scye_ease="4 cm")
        except InputError:
            continue
        assert proof.held, list(proof.broken)
        back, armhole = pattern.piece("back"), pattern.edge("back armhole").curve
        (level,) = [guide.curve for guide in back.guides if guide.name == "bust line"]
        assert width_at(back, level.start.y) == pytest.approx(level.length, abs=0.01)
        if armhole.bounds[1] < armhole.start.y - 0.01:
            dipped += 1
            assert level.start.y < armhole.bounds[1]
    assert dipped >= 5


def check_all(blocks, bodies, **settings) -> None:
    refused = []
    for values in bodies:
        try:
            pattern, proof = drafted(blocks, values, **settings)
        except InputError as error:
            refused.append(str(error))
            continue
        assert proof.held, (values, list(proof.broken))
        for piece in pattern.pieces:
            check_piece(piece)
        check_notches(pattern)
        check_armhole(pattern)
    for message in refused:
        assert "\n" not in message
        assert any(name in message for name in bodies[0]), message
    assert len(refused) <= max(MOST_REFUSED * len(bodies), 1.0), refused


def check_piece(piece) -> None:
    """An independent judge on the outline: valid, of our area, with all that is in it inside."""
    outline = polygon(piece)
    assert outline.is_valid
    assert outline.is_simple
    assert outline.area == pytest.approx(signed_area([e.curve for e in piece.edges]), rel=1e-3)
    for dart in piece.darts:
        assert outline.contains(Point(*dart.apex)), dart
        for leg in piece.dart_legs(dart):
            inside = LineString([[*dart.apex], [*dart.apex.between(leg, 0.99)]])
            assert outline.contains(inside), dart
    assert outline.contains(Point(*piece.label_at))
    assert outline.contains(LineString([[*place] for place in piece.grain]))
    grown = outline.buffer(0.05)
    for guide in piece.guides:
        assert grown.contains(LineString(guide.curve.flatten())), guide.name


def check_notches(pattern) -> None:
    """Below the notches armhole and cap are sewn flat: as far from the underarm on either."""
    cap = pattern.edge("sleeve cap").curve
    on_cap = {notch.name: notch.along for notch in pattern.notches_on("sleeve cap")}
    (front,) = pattern.notches_on("bodice front armhole")
    (back,) = pattern.notches_on("bodice back armhole")
    front_armhole = pattern.edge("bodice front armhole").curve
    assert on_cap["front notch"] == pytest.approx(front_armhole.length - front.along, abs=0.01)
    assert cap.length - on_cap["back notch"] == pytest.approx(back.along, abs=0.01)


def check_armhole(pattern) -> None:
    """What a cutter would see at a glance: nowhere deeper along the side seam than at it."""
    for side, along in (("back", 0.0), ("front", None)):
        armhole = pattern.edge(f"bodice {side} armhole").curve
        at = armhole.length if along is None else along
        underarm, runs = armhole.point_at(at), armhole.tangent_at(at)
        # Both run toward the body's left, the side seam leaves to their left: down.
        down = runs.left()
        places = armhole.points_at(np.linspace(0.0, armhole.length, 100)) - [*underarm]
        assert (places @ [*down]).max() < 0.01
