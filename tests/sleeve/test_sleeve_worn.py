"""What a wearer feels: a cap that suits its armhole, a wrist the hand passes, the length asked."""

from __future__ import annotations

import re

import pytest
from bending import end_moved, told
from sleeve_samples import BOTH, MIDDLING, WORKROOM, drafted

from blockwright import InputError, Pattern, distance, draft, load_sheet, prove
from blockwright_bodice.easy import EasyBodice
from blockwright_bodice.fitted import FittedBodice
from blockwright_sleeve.fitted import FittedSleeve
from blockwright_sleeve.straight import StraightSleeve

PEOPLE = ("nora", "tom", "ines", "stand")
WITH_HAND = MIDDLING | {"hand_girth": 205.0}


def workroom(person: str, blocks, **settings) -> Pattern:
    """A draft for a person of the workroom."""
    return draft(blocks, load_sheet(WORKROOM / f"{person}.toml"), settings)


def sizes(pattern: Pattern) -> dict[str, float]:
    """Bicep, cap height and armhole of the sleeve of a set, on the pieces."""
    cap = pattern.edge("sleeve cap").curve
    return {
        "bicep": distance(cap.start, cap.end),
        "height": cap.bounds[3] - cap.start.y,
        "armhole": sum(
            pattern.edge(f"bodice {side} armhole").curve.length for side in ("front", "back")
        ),
        "ease": cap.length,
    }


# -- the cap and its armhole -------------------------------------------------------------------


@pytest.mark.parametrize("person", ["nora", "ines", "stand"])
def test_a_roomy_armhole_gets_a_wider_sleeve_not_a_higher_cap(person: str) -> None:
    easy = sizes(workroom(person, [EasyBodice, StraightSleeve]))
    fitted = sizes(workroom(person, [FittedBodice, FittedSleeve]))
    assert easy["armhole"] > fitted["armhole"] + 50.0
    assert easy["bicep"] > fitted["bicep"] + 40.0
    assert easy["height"] / easy["bicep"] < fitted["height"] / fitted["bicep"] - 0.01
    assert easy["height"] / easy["armhole"] < fitted["height"] / fitted["armhole"]


@pytest.mark.parametrize("person", PEOPLE)
def test_deeper_armholes_leave_the_cap_as_flat_as_it_is(person: str) -> None:
    slopes = []
    for deeper in ("0", "5 cm"):
        found = sizes(workroom(person, [EasyBodice, StraightSleeve], scye_ease=deeper))
        slopes.append(found["height"] / found["bicep"])
        assert found["height"] == pytest.approx(0.28 * found["armhole"], abs=0.2)
    assert slopes[0] == pytest.approx(slopes[1], abs=0.01)


def test_a_large_arm_keeps_its_least_ease() -> None:
    """Where 0.28 of the armhole leaves less than 5 cm, the cap is as flat as the arm needs."""
    body = MIDDLING | {"upper_arm_girth": 350.0}
    pattern, proof = drafted(StraightSleeve, body)
    assert proof.held
    cap = pattern.edge("cap").curve
    assert distance(cap.start, cap.end) == pytest.approx(400.0, abs=0.1)
    (height,) = [s.value for s in pattern.solved if s.name == "cap height"]
    assert height < 0.28 * 450.0 - 5.0


def test_one_rule_runs_into_the_other() -> None:
    """A millimetre of arm more, where the one begins, changes bicep and cap by millimetres."""
    found = []
    for arm in range(310, 325):
        pattern, _ = drafted(StraightSleeve, MIDDLING | {"upper_arm_girth": float(arm)})
        cap = pattern.edge("cap").curve
        found.append(distance(cap.start, cap.end))
    steps = [b - a for a, b in zip(found, found[1:], strict=False)]
    assert min(steps) == pytest.approx(0.0, abs=0.1)
    assert max(steps) == pytest.approx(1.0, abs=0.1)


@pytest.mark.parametrize("block", BOTH)
def test_the_cap_is_promised_against_the_armhole(block) -> None:
    """The underarm seam is shorter than the sleeve by a cap of 0.125 to 0.42 of the armhole."""
    pattern, proof = drafted(block, MIDDLING)
    (found,) = [r for r in proof.results if r.subject.name == "underarm seam, a cap shorter"]
    low, high = found.wanted
    assert high - low == pytest.approx((0.42 - 0.125) * 450.0)
    (height,) = [s.value for s in pattern.solved if s.name == "cap height"]
    assert high - found.measured == pytest.approx(height - 0.125 * 450.0, abs=0.1)
    moved = end_moved(pattern, "front underarm", "end", (0.0, 120.0))
    assert told(found) in {told(result) for result in prove(moved).broken}


SUGGESTED = re.compile(r"a (cap_height|bicep_width) of ([0-9.]+) cm to ([0-9.]+) cm")


@pytest.mark.parametrize(
    ("blocks", "settings"),
    [
        ([EasyBodice, FittedSleeve], {"cap_height": "10cm"}),
        ([EasyBodice, FittedSleeve], {"cap_height": "25cm"}),
        ([EasyBodice, StraightSleeve], {"cap_height": "10cm", "bicep_width": "30cm"}),
        ([FittedSleeve], {"cap_height": "18cm"}),
        ([FittedSleeve], {"cap_height": "15cm", "cap_ease": "2cm"}),
        ([StraightSleeve], {"cap_height": "15cm"}),
        ([StraightSleeve], {"cap_height": "38cm", "cap_ease": "0"}),
        ([StraightSleeve], {"cap_height": "3cm"}),
    ],
)
def test_what_a_refusal_says_would_do_does(blocks, settings) -> None:
    with pytest.raises(InputError) as refused:
        workroom("nora", blocks, **settings)
    ways = SUGGESTED.findall(str(refused.value))
    assert ways
    for option, *ends in ways:
        for end in ends:
            pattern = workroom("nora", blocks, **(settings | {option: f"{end}cm"}))
            assert prove(pattern).held, (option, end)


# -- the hand ----------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("block", "option", "setting"),
    [(FittedSleeve, "wrist_ease", "4cm"), (FittedSleeve, "wrist_width", "20.4cm"),
     (StraightSleeve, "hem", "20.4cm")],
)  # fmt: skip
def test_a_wrist_that_the_hand_does_not_pass_is_refused_unless_it_opens(
    block, option: str, setting: str
) -> None:
    with pytest.raises(InputError, match=r"hand of 20.5 cm \(hand_girth\)") as refused:
        drafted(block, WITH_HAND, **{option: setting})
    assert f"{block.hem_option} of 20.5 cm or more, or set opening=placket" in str(refused.value)
    _, proof = drafted(block, WITH_HAND, opening="placket", **{option: setting})
    assert proof.held
    _, proof = drafted(block, MIDDLING, **{option: setting})  # nobody measured the hand
    assert proof.held


@pytest.mark.parametrize("block", BOTH)
def test_the_hand_is_promised_to_pass(block) -> None:
    _, proof = drafted(block, WITH_HAND)
    (found,) = over_the_hand(proof)
    assert found.wanted[0] == 205.0
    assert found.measured >= 205.0
    _, proof = drafted(block, WITH_HAND, opening="placket")
    assert not over_the_hand(proof)


def over_the_hand(proof) -> list:
    """Results of a hem that the hand has to pass."""
    return [result for result in proof.results if result.subject.name.endswith("over the hand")]


def test_a_large_hand_gets_a_wider_wrist_unless_it_opens() -> None:
    body = MIDDLING | {"hand_girth": 230.0}
    for opening, wrist in (("none", 230.0), ("placket", 210.0)):
        pattern, proof = drafted(FittedSleeve, body, opening=opening)
        assert proof.held
        assert pattern.edge("wrist").curve.length == pytest.approx(wrist, abs=0.1)


@pytest.mark.parametrize("block", BOTH)
@pytest.mark.parametrize("person", PEOPLE)
def test_a_placket_is_drawn_square_to_the_hem_at_the_back(block, person: str) -> None:
    pattern = workroom(person, block, opening="placket")
    assert prove(pattern).held
    piece = pattern.piece("sleeve")
    (slit,) = [guide.curve for guide in piece.guides if guide.name == "placket"]
    notch = piece.notch("placket")
    hem = piece.edge(notch.edge).curve
    assert notch.along == pytest.approx(hem.length / 4.0)
    assert distance(slit.start, hem.point_at(notch.along)) < 1e-6
    assert slit.start_tangent.dot(hem.tangent_at(notch.along)) == pytest.approx(0.0, abs=1e-6)
    assert slit.length == pytest.approx(100.0)
    assert slit.end.y > slit.start.y


# -- the length --------------------------------------------------------------------------------


def lengths(proof) -> tuple[float, float, float]:
    (found,) = [result for result in proof.results if told(result) == ("length", "length")]
    return *found.wanted, found.measured


@pytest.mark.parametrize("person", PEOPLE)
@pytest.mark.parametrize("block", BOTH)
def test_a_sleeve_is_as_long_as_the_arm(block, person: str) -> None:
    arm = load_sheet(WORKROOM / f"{person}.toml").values["outer_arm_length"]
    low, high, measured = lengths(prove(workroom(person, block)))
    assert low == high == arm
    assert measured == pytest.approx(arm, abs=0.1)


@pytest.mark.parametrize(
    ("block", "settings"),
    [
        (StraightSleeve, {"hem": "20cm"}),
        (StraightSleeve, {"hem": "55cm"}),
        (StraightSleeve, {"sleeve_length": "30cm"}),
        (FittedSleeve, {"elbow_dart": "5cm"}),
        (FittedSleeve, {"elbow_dart": "5mm", "wrist_width": "30cm"}),
        (FittedSleeve, {"sleeve_length": "52cm"}),
    ],
)
@pytest.mark.parametrize("longer_back", [0.0, 40.0])
def test_it_is_as_long_however_it_tapers_or_bends(block, settings, longer_back: float) -> None:
    body = MIDDLING | {"back_armhole_length": MIDDLING["back_armhole_length"] + longer_back}
    pattern, proof = drafted(block, body, **settings)
    assert proof.held, list(proof.broken)
    wanted = 10.0 * float(settings.get("sleeve_length", "58.5cm").removesuffix("cm"))
    assert lengths(proof)[:2] == (wanted, wanted)
    # Measured here as well, from the crown over the middle of the elbow to the middle of the hem.
    marks = {mark.name: mark for mark in pattern.marks}
    crown = marks["crown"]
    if block is FittedSleeve:
        hem = pattern.edge("wrist").curve
        elbow = marks["front elbow"].between(marks["back elbow"], 0.5)
        found = distance(crown, elbow) + distance(elbow, hem.point_at(hem.length / 2.0))
    else:
        places = pattern.edge("hem").curve.flatten(accuracy=1e-4)
        low = min(places, key=lambda place: abs(place[0] - crown.x))
        found = crown.y - low[1]
    assert found == pytest.approx(wanted, abs=0.3)


def test_the_underarm_is_as_long_as_it_was_measured() -> None:
    """Underarm length of the workroom, armpit to wrist, within 1.5 cm: the underarm line lies so
    far below the armpit (dresspatternmaking.com, sleeve general)."""
    for person in PEOPLE:
        seam = workroom(person, FittedSleeve).edge("front underarm").curve.length
        arm = load_sheet(WORKROOM / f"{person}.toml").values["underarm_length"]
        assert seam == pytest.approx(arm, abs=15.0), person
