"""Every skirt on every woman of the survey: drafted and proved, or refused by name.

Bodies: ANSUR II, see blockwright/body/ansur2-sample.md.
Their waist is at the navel, lower and larger than the
waist a skirt is drafted for, so these are harder than a dressmaker's customers.
"""

from __future__ import annotations

import pytest
from shapely.geometry import LineString, Point
from skirt_samples import ALL, drafted, polygon

from blockwright import InputError, signed_area
from blockwright.body.survey import body, rows
from blockwright_skirt.circle import CircleSkirt
from blockwright_skirt.flared import FlaredSkirt
from blockwright_skirt.gored import GoredSkirt
from blockwright_skirt.straight import StraightSkirt
from parts import sampled

WOMEN = [body(row) for row in rows() if row["sex"] == "female"]
MOST_REFUSED = 0.01
PARTS = 4
EVERY_TIME = 8


def test_the_whole_survey_is_here() -> None:
    assert len(WOMEN) == 497


@pytest.mark.parametrize("some", sampled(EVERY_TIME, PARTS))
@pytest.mark.parametrize("block", ALL, ids=lambda block: block.key)
def test_every_woman(block, some: slice) -> None:
    check_all(block, WOMEN[some], MOST_REFUSED, {})


@pytest.mark.parametrize(
    ("block", "settings", "most"),
    [
        (StraightSkirt, {"hip_ease": "1 cm", "waist_ease": "0 cm"}, 0.01),
        # On some of them this makes side seams too unlike to be sewn.
        (StraightSkirt, {"waist_shift": "0 cm"}, 0.05),
        (StraightSkirt, {"back_darts": "0", "front_darts": "0"}, 0.1),
        # A dart asked for where there is nothing to take in is refused.
        (StraightSkirt, {"back_darts": "2", "front_darts": "1"}, 0.1),
        (FlaredSkirt, {"closed": "0.4", "length": "75 cm"}, 0.01),
        # A quarter of a circle does not clear every hip.
        (CircleSkirt, {"circles": "0.25", "panels": "3"}, 0.1),
        (CircleSkirt, {"circles": "1.7"}, 0.0),
        (GoredSkirt, {"panels": "4", "flare": "10 cm", "flare_from": "36 cm"}, 0.01),
        (GoredSkirt, {"panels": "12", "flare": "0 cm"}, 0.01),
    ],
)
def test_every_twentieth_woman_as_set(block, settings, most: float) -> None:
    check_all(block, WOMEN[::20], most, settings)


def check_all(block, bodies, most: float, settings) -> None:
    refused = []
    for values in bodies:
        try:
            pattern, proof = drafted(block, values, **settings)
        except InputError as error:
            refused.append(str(error))
            continue
        assert proof.held, (values, list(proof.broken))
        for piece in pattern.pieces:
            check_piece(piece)
        if block in (StraightSkirt, FlaredSkirt):
            check_darted(pattern)
        if block in (FlaredSkirt, GoredSkirt):
            check_not_hollow(pattern)
    for message in refused:
        assert "\n" not in message
        assert "waist_girth" in message, message
    assert len(refused) <= most * len(bodies), refused


def check_piece(piece) -> None:
    """An independent judge on the outline: valid, of our area, with all that is in it inside."""
    outline = polygon(piece)
    assert outline.is_valid
    assert outline.area == pytest.approx(signed_area([e.curve for e in piece.edges]), rel=1e-4)
    for dart in piece.darts:
        assert outline.contains(Point(*dart.apex))
        start, end = piece.dart_legs(dart)
        # The legs run inside from the point to the waist.
        for leg in (start, end):
            inside = LineString([[*dart.apex], [*dart.apex.between(leg, 0.99)]])
            assert outline.contains(inside)
    assert outline.contains(Point(*piece.label_at))
    assert outline.contains(LineString([[*place] for place in piece.grain]))
    for note in piece.notes:
        assert outline.contains(Point(*note.at))
    grown = outline.buffer(0.05)
    for guide in piece.guides:
        assert grown.contains(LineString(guide.curve.flatten()))


def check_darted(pattern) -> None:
    """What a cutter would see at a glance, beyond the promises."""
    for piece in pattern.pieces:
        depth = pattern.measurements["waist_to_hip"]
        waist = [edge for edge in piece.edges if edge.role == "waist"]
        # The waist never hangs much below its centre, 6 mm at most.
        assert min(edge.curve.bounds[1] for edge in waist) > -6.0
        for dart in piece.darts:
            start, end = piece.dart_legs(dart)
            assert -depth < dart.apex.y < min(start.y, end.y)
            # A dart opens by no more than 31 degrees: wider ones poke.
            assert abs(end - start) < 0.55 * abs(end - dart.apex)


def check_not_hollow(pattern) -> None:
    """A flare begins below the hip: above it a seam that is hollow would be tight on the body."""
    piece = pattern.pieces[0]
    side = next(edge for edge in piece.edges if edge.name in ("back side", "right seam"))
    notch = next(notch for notch in piece.notches if notch.edge == side.name)
    above = side.curve.part(notch.along, side.curve.length)
    chord = (above.end - above.start).unit()
    for share in (0.25, 0.5, 0.75):
        out = (above.point_at(share * above.length) - above.start).cross(chord)
        assert out > -0.005 * above.length
