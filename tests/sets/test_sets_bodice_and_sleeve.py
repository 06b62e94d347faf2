"""A bodice and its sleeve drafted together: the cap is promised to the armhole as it was drawn."""

from __future__ import annotations

from dataclasses import replace

import pytest
from bending import handle_moved, notch_moved, stretched, told

from blockwright import BodySheet, InputError, InputErrors, Proof, Ref, Unit, draft, prove
from blockwright.body.survey import body, rows
from blockwright_bodice.easy import EasyBodice
from blockwright_bodice.fitted import FittedBodice
from blockwright_skirt.straight import StraightSkirt
from blockwright_sleeve.fitted import FittedSleeve
from blockwright_sleeve.straight import StraightSleeve
from blockwright_trousers.straight import StraightTrousers

BODY = body(next(row for row in rows() if row["sex"] == "female")) | {"armscye_girth": 400.0}
SET = (FittedBodice, FittedSleeve)
SIDES = ("front", "back")


def drafted(blocks, values=BODY, **settings):
    """The pattern and its proof; settings as 'key.option' have the dots written as '__'."""
    given = {name.replace("__", "."): value for name, value in settings.items()}
    pattern = draft(blocks, BodySheet(name="Test body", units=Unit.CM, values=values), given)
    return pattern, prove(pattern)


@pytest.fixture(scope="module")
def both():
    pattern, proof = drafted(SET)
    assert proof.held
    return pattern


def armhole(pattern, side: str) -> float:
    return pattern.edge(f"bodice {side} armhole").curve.length


def cap_ease(pattern) -> float:
    """What the seam of cap and armhole measures, end to end."""
    subject = Ref("sleeve.fitted", "cap to armhole")
    (seam,) = [r for r in prove(pattern).results if (r.code, r.subject) == ("seam", subject)]
    return seam.measured


def broken(pattern) -> set[tuple[str, ...]]:
    """What is broken: the label of what it is about, and the names it is between."""
    proof = prove(pattern)
    return {(proof.label(result.subject), *told(result)[2:]) for result in proof.broken}


# -- order and names ---------------------------------------------------------------------------


def test_the_sleeve_is_drafted_after_the_bodice_whichever_is_given_first(both) -> None:
    turned, _ = drafted(SET[::-1])
    assert turned.block == both.block == "bodice.fitted+sleeve.fitted"
    assert turned.title == "Fitted bodice, Fitted sleeve"
    for a, b in zip(turned.pieces, both.pieces, strict=True):
        assert (a.ref, a.label) == (b.ref, b.label)
        for edge, other in zip(a.edges, b.edges, strict=True):
            assert edge.name == other.name
            assert (edge.curve.control == other.curve.control).all()
    assert turned.solved == both.solved


def test_labels_begin_with_the_family(both) -> None:
    assert [piece.label for piece in both.pieces] == ["bodice back", "bodice front", "sleeve"]
    assert [both.origin(piece.block).title for piece in both.pieces] == [
        "Fitted bodice", "Fitted bodice", "Fitted sleeve",
    ]  # fmt: skip
    for piece in both.pieces:
        family = piece.label.partition(" ")[0]
        assert piece.block == f"{family}.fitted"
        for name in piece.edge_names():
            assert both.label(Ref(piece.block, name)) == f"{family} {name}"
            assert both.owner(f"{family} {name}") is piece
        for dart in piece.darts:
            assert dart.mouth in piece.edge_names()
        for notch in piece.notches:
            assert notch.edge in piece.edge_names()
    for named in (*both.marks, *both.solved):
        label = both.label(Ref(named.block, named.name))
        assert label == f"{named.block.partition('.')[0]} {named.name}"
    for mark in both.marks:
        (piece,) = [piece for piece in both.pieces if mark.on(piece.ref)]
        assert piece.block == mark.block
    assert all(result.subject.block for result in prove(both).results)


def test_a_block_alone_keeps_its_own_names() -> None:
    pattern, _ = drafted([FittedBodice])
    assert [piece.name for piece in pattern.pieces] == ["back", "front"]
    assert [piece.label for piece in pattern.pieces] == ["back", "front"]
    assert pattern.block == "bodice.fitted"


def identities(pattern) -> list[tuple[object, ...]]:
    """What everything in a pattern is called, and of which block."""
    found = [(piece.ref, *piece.edge_names()) for piece in pattern.pieces]
    found += [(p.ref, n.name, n.edge) for p in pattern.pieces for n in p.notches]
    found += [(p.ref, d.name, d.mouth) for p in pattern.pieces for d in p.darts]
    found += [(type(promise), promise.ref) for promise in pattern.promises]
    found += [(mark.ref, mark.piece) for mark in pattern.marks]
    found += [(solved.block, solved.name) for solved in pattern.solved]
    return sorted(found, key=repr)


def test_identities_are_the_same_alone_and_in_a_set(both) -> None:
    alone = [each for block in SET for each in identities(drafted(block)[0])]
    assert identities(both) == sorted(alone, key=repr)


# -- one proof ---------------------------------------------------------------------------------


def count(proof: Proof) -> int:
    """How many results there are; that every edge is sewn once is one result of a whole set."""
    return sum(result.code != "sewing.once" for result in proof.results)


def test_one_proof_has_the_promises_of_both(both) -> None:
    proof = prove(both)
    alone = [drafted(block)[1] for block in SET]
    assert count(proof) == sum(map(count, alone))
    names = [proof.say(result) for result in proof.results]
    assert len(set(names)) == len(names)
    assert proof.text(Unit.CM).endswith(
        f"bodice.fitted+sleeve.fitted: all {len(names)} promises held"
    )
    assert proof.to_json()["block"] == "bodice.fitted+sleeve.fitted"


def test_the_bodice_is_the_same_with_its_sleeve(both) -> None:
    alone, _ = drafted(FittedBodice)
    for name in ("back", "front"):
        for a, b in zip(alone.piece(name).edges, both.piece(f"bodice {name}").edges, strict=True):
            assert (a.name, a.role) == (b.name, b.role)
            assert (a.curve.control == b.curve.control).all()


# -- the armhole -------------------------------------------------------------------------------


def test_the_cap_fits_the_armhole_that_was_drawn(both) -> None:
    cap = both.edge("sleeve cap").curve.length
    assert cap - sum(armhole(both, side) for side in SIDES) == pytest.approx(25.0, abs=0.1)
    assert {name: both.measurements[name] for name in
            ("front_armhole_length", "back_armhole_length")} == {
        f"{side}_armhole_length": pytest.approx(armhole(both, side)) for side in SIDES
    }  # fmt: skip


@pytest.mark.parametrize("side", SIDES)
def test_a_millimetre_on_the_bodice_breaks_the_sleeve_s_seam(both, side: str) -> None:
    bent = stretched(both, f"bodice {side} armhole", 1.0)
    assert cap_ease(bent) == pytest.approx(cap_ease(both) - 1.0, abs=0.01)
    cap = ("sleeve cap to armhole",)
    assert cap in broken(bent)
    assert cap not in broken(stretched(both, f"bodice {side} armhole", 0.09))


@pytest.mark.parametrize("side", SIDES)
def test_a_notch_moved_on_the_bodice_breaks_the_sleeve_s_seam(both, side: str) -> None:
    piece = both.piece(f"bodice {side}")
    notches = tuple(replace(n, along=n.along + 1.0) for n in piece.notches)
    bent = both.with_piece(replace(piece, notches=notches))
    found = broken(bent)
    assert found == {
        ("sleeve cap to armhole", *stretch)
        for stretch in (
            (("", "front notch"), ("front notch", "crown notch"))
            if side == "front"
            else (("crown notch", "back notch"), ("back notch", ""))
        )
    }
    # The crown notch is the sleeve's own.
    assert broken(notch_moved(both, "crown notch")) == {
        ("sleeve cap to armhole", "front notch", "crown notch"),
        ("sleeve cap to armhole", "crown notch", "back notch"),
    }


def test_a_corner_of_the_bodice_is_its_own(both) -> None:
    assert broken(handle_moved(both, "bodice back neck", "end", 1.0)) >= {
        ("bodice neck at the centre back, square",)
    }


def test_a_notch_height_beside_a_bodice_is_refused() -> None:
    with pytest.raises(InputError, match=r"notch_height .* taken from bodice\.fitted"):
        drafted(SET, notch_height="0.3")


def test_a_set_of_nothing_is_refused() -> None:
    with pytest.raises(InputError, match="no block to draft"):
        drafted([])


@pytest.mark.parametrize("height", ["0.2", "0.45"])
def test_notches_are_where_the_bodice_has_them(height: str) -> None:
    pattern, proof = drafted(SET, armhole_notch=height)
    assert proof.held
    (notch,) = [n for n in pattern.notches_on("sleeve cap") if n.name == "front notch"]
    assert notch.along == pytest.approx(float(height) * armhole(pattern, "front"), abs=0.01)


@pytest.mark.parametrize("bodice", [FittedBodice, EasyBodice])
@pytest.mark.parametrize("sleeve", [FittedSleeve, StraightSleeve])
def test_either_sleeve_goes_with_either_bodice(bodice, sleeve) -> None:
    pattern, proof = drafted([sleeve, bodice])
    assert proof.held
    assert pattern.block == f"{bodice.key}+{sleeve.key}"
    assert [s.says for s in pattern.sources] == [f"walked on {bodice.key}"] * 2


def test_a_deeper_armhole_makes_a_longer_cap() -> None:
    caps = [
        drafted(SET, scye_ease=ease)[0].edge("sleeve cap").curve.length for ease in ("0", "3 cm")
    ]
    assert caps[1] - caps[0] > 20.0


# -- what the sheet says -----------------------------------------------------------------------

MEASURED = BODY | {"front_armhole_length": 250.0, "back_armhole_length": 260.0}


def taken(proof) -> list[str]:
    return [line for line in proof.text(Unit.CM).splitlines() if line.startswith("taken: ")]


def test_armhole_lengths_of_the_sheet_are_not_used_and_it_is_told(both) -> None:
    pattern, proof = drafted(SET, MEASURED)
    assert pattern.edge("sleeve cap").curve.length == both.edge("sleeve cap").curve.length
    assert taken(proof) == [
        f"taken: {side}_armhole_length {armhole(pattern, side) / 10.0:.1f} cm, walked on "
        f"bodice.fitted; the sheet's {given} cm is not used"
        for side, given in (("front", "25.0"), ("back", "26.0"))
    ]
    assert proof.to_json()["taken"] == [
        {"name": s.name, "value": s.value, "says": s.says} for s in pattern.sources
    ]


def test_without_lengths_on_the_sheet_nothing_is_said_of_it(both) -> None:
    assert taken(prove(both)) == [
        f"taken: {side}_armhole_length {armhole(both, side) / 10.0:.1f} cm, walked on bodice.fitted"
        for side in SIDES
    ]
    # And they are not estimated from the armscye either.
    assert not [e for e in both.estimates if "armhole" in e.name]


def test_a_sleeve_alone_takes_the_sheet_s_and_says_so() -> None:
    for blocks in ([FittedSleeve], [StraightSkirt, FittedSleeve]):
        pattern, proof = drafted(blocks, MEASURED)
        assert taken(proof) == [
            f"taken: {side}_armhole_length {given} cm, from the sheet: no block drafted with "
            "sleeve.fitted offers it"
            for side, given in (("front", "25.0"), ("back", "26.0"))
        ]
        (cap,) = [e for p in pattern.pieces for e in p.edges if e.name.endswith("cap")]
        assert cap.curve.length == pytest.approx(510.0 + 25.0, abs=0.1)


def test_a_sleeve_alone_estimates_as_ever() -> None:
    pattern, proof = drafted(FittedSleeve)
    assert not taken(proof)
    assert {e.name for e in pattern.estimates} >= {f"{side}_armhole_length" for side in SIDES}


def test_a_sleeve_without_armhole_asks_for_a_block_that_offers_it() -> None:
    values = {n: v for n, v in BODY.items() if n != "armscye_girth"}
    with pytest.raises(InputErrors) as refused:
        drafted(FittedSleeve, values)
    for side in SIDES:
        assert (
            f"sleeve.fitted needs {side}_armhole_length, or armscye_girth to estimate it from, or "
            f"a block drafted with it that offers the {side} armhole: " in str(refused.value)
        )
    _, proof = drafted(SET, values)
    assert proof.held


# -- which sets --------------------------------------------------------------------------------


def test_two_bodices_offer_the_same() -> None:
    with pytest.raises(InputError) as refused:
        drafted([FittedSleeve, FittedBodice, EasyBodice])
    assert str(refused.value) == (
        "bodice.fitted and bodice.easy both offer the front armhole; draft them apart"
    )


def test_a_block_given_twice() -> None:
    with pytest.raises(InputError, match=r"^bodice\.fitted is given twice; give it once$"):
        drafted([FittedBodice, FittedSleeve, FittedBodice])


def test_two_sleeves_cannot_be_sewn_to_one_bodice_and_are_named_by_their_keys() -> None:
    pattern, proof = drafted([FittedSleeve, StraightSleeve, FittedBodice])
    twice = [each.subject.name for each in proof.broken if each.code == "sewing.twice"]
    assert sorted(twice) == ["back armhole", "front armhole"]
    assert len(proof.broken) == len(twice)
    assert [piece.label for piece in pattern.pieces] == [
        "bodice back", "bodice front", "sleeve.fitted sleeve", "sleeve.straight sleeve",
    ]  # fmt: skip
    found = broken(stretched(pattern, "bodice front armhole", 1.0))
    assert {(f"{key} cap to armhole",) for key in ("sleeve.fitted", "sleeve.straight")} <= found


def test_four_families_have_one_proof() -> None:
    blocks = [StraightTrousers, FittedSleeve, StraightSkirt, FittedBodice]
    pattern, proof = drafted(blocks)
    assert proof.held
    # As given, but the sleeve after the bodice.
    order = [StraightTrousers, StraightSkirt, FittedBodice, FittedSleeve]
    assert pattern.block == "+".join(block.key for block in order)
    assert [piece.label for piece in pattern.pieces] == [
        "trousers back", "trousers front", "skirt back", "skirt front",
        "bodice back", "bodice front", "sleeve",
    ]  # fmt: skip
    alone = [drafted(block)[1] for block in order]
    assert count(proof) == sum(map(count, alone))
    assert [e.block for e in pattern.estimates] == [
        key.block for block, each in zip(order, alone, strict=True)
        for key in each.estimates if block is not FittedSleeve
    ]  # fmt: skip
    # A fault in one of them is that one's.
    found = broken(stretched(pattern, "skirt back side", 1.0))
    assert ("skirt side",) in found
    assert all(label.startswith("skirt ") for label, *_ in found)


def test_measurements_two_blocks_lack_are_told_at_once() -> None:
    values = {n: v for n, v in BODY.items() if n not in ("waist_girth", "wrist_girth")}
    with pytest.raises(InputErrors) as refused:
        drafted(SET, values)
    lines = str(refused.value).splitlines()
    assert len(lines) == 2
    assert "bodice.fitted needs waist_girth: " in lines[0]
    assert "sleeve.fitted needs wrist_girth: " in lines[1]


# -- settings ----------------------------------------------------------------------------------


def test_settings_go_to_the_block_that_has_them() -> None:
    pattern, proof = drafted(
        SET, bust_ease="10 cm", cap_ease="3 cm", bodice__fitted__waist_ease="5 cm"
    )
    assert proof.held
    assert pattern.options["bodice.fitted.bust_ease"] == 100.0
    assert pattern.options["bodice.fitted.waist_ease"] == 50.0
    assert pattern.options["sleeve.fitted.cap_ease"] == 30.0
    assert cap_ease(pattern) == pytest.approx(30.0, abs=0.1)


def test_an_option_of_both_is_asked_for_by_key() -> None:
    with pytest.raises(InputErrors) as refused:
        drafted([*SET, StraightSkirt], waist_ease="2 cm")
    assert str(refused.value) == (
        "option 'waist_ease' is one of 2 blocks; write bodice.fitted.waist_ease or "
        "skirt.straight.waist_ease"
    )
    three, _ = drafted(
        [*SET, StraightSkirt],
        bodice__fitted__waist_ease="2 cm", skirt__straight__waist_ease="3 cm",
    )  # fmt: skip
    assert three.options["bodice.fitted.waist_ease"] == 20.0
    assert three.options["skirt.straight.waist_ease"] == 30.0


@pytest.mark.parametrize(
    ("name", "says"),
    [
        ("bodice__fitted__bust_eas", "bodice.fitted: no option 'bodice.fitted.bust_eas'; did "
                                     "you mean bust_ease?"),
        ("sleeve__fitted__bust_ease", "sleeve.fitted: no option 'sleeve.fitted.bust_ease'"),
        ("trousers__straight__hem_width", "no option 'trousers.straight.hem_width'"),
        ("cap_eas", "no option 'cap_eas'; did you mean cap_ease?"),
    ],
)  # fmt: skip
def test_settings_that_no_block_has(name: str, says: str) -> None:
    with pytest.raises(InputErrors) as refused:
        drafted(SET, **{name: "1 cm"})
    assert says in str(refused.value)


def test_a_wrong_value_is_told_whichever_block_it_is_for() -> None:
    with pytest.raises(InputErrors) as refused:
        drafted(SET, bust_ease="90 cm", cap_ease="90 cm")
    assert str(refused.value).splitlines() == [
        "option bust_ease: '90 cm' is not allowed; give a length from 0.0 cm to 30.0 cm",
        "option cap_ease: '90 cm' is not allowed; give a length from 0.0 cm to 8.0 cm",
    ]


def test_what_one_block_refuses_the_set_refuses() -> None:
    with pytest.raises(InputError, match=r"^sleeve\.fitted: "):
        drafted(SET, cap_height="40 cm")
    with pytest.raises(InputError, match=r"^bodice\.fitted: .*across_back_width"):
        drafted(SET, BODY | {"across_back_width": 250.0})
