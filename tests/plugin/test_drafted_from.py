"""What a block is drafted from: measured, estimated, taken from another block, or asked for."""

from __future__ import annotations

from typing import Any, ClassVar

import pytest

from blockwright import (
    Block,
    BodySheet,
    Edge,
    InputError,
    InputErrors,
    Pattern,
    PatternError,
    Point,
    Rule,
    Unit,
    draft,
    length_option,
    line,
    load,
    measurement,
    prove,
)
from blockwright.plugin.drafting import in_order

HALVED = Rule(("waist_girth",), lambda waist: waist / 2.0, "half the waist")
SUM = Rule(("waist_girth", "waist_to_hip"), lambda a, b: a + b, "waist and depth")


def square(d: Any, wide: float) -> list[Edge]:
    at = [Point(0, 0), Point(wide, 0), Point(wide, 100), Point(0, 100), Point(0, 0)]
    names = ("hem", "right", "top", "left")
    edges = [Edge(n, line(a, b)) for n, a, b in zip(names, at[:-1], at[1:], strict=True)]
    d.piece("panel", edges, grain=(Point(20, 20), Point(20, 80)), label_at=Point(wide / 2, 50))
    return edges


class Plain(Block):
    """A square of the hip."""

    key = "plain.square"
    title = "Square"
    hip = measurement("hip_girth", estimate=(SUM, HALVED))
    ease = length_option("1 cm", low="0 cm", high="9 cm", says="ease")

    def draft(self, d) -> None:
        square(d, self.hip + self.ease)


class Giver(Block):
    """Offers its right edge."""

    key = "giver.square"
    title = "Giver"
    offers = ("right edge",)

    def draft(self, d) -> None:
        d.offer("right edge", square(d, 100.0)[1])


class Taker(Block):
    """Takes the right edge of another."""

    key = "taker.square"
    title = "Taker"
    right = measurement("hip_girth", taken="right edge")
    ease = length_option("2 cm", low="0 cm", high="9 cm", says="ease")

    def draft(self, d) -> None:
        square(d, self.right + self.ease)


def sheet(estimates: dict[str, str] | None = None, **values: float) -> BodySheet:
    return BodySheet(name="Trial", units=Unit.CM, values=values, estimates=estimates or {})


def told(pattern: Pattern) -> list[tuple[str, float, str]]:
    return [(each.name, each.value, each.rule) for each in pattern.estimates]


# -- measurements ----------------------------------------------------------------------------------


def test_a_measurement_of_the_sheet_is_no_estimate() -> None:
    pattern = draft(Plain, sheet(hip_girth=300.0, waist_girth=100.0))
    assert (pattern.measurements, told(pattern)) == ({"hip_girth": 300.0}, [])
    assert pattern.unused == {"waist_girth": 100.0}


def test_what_the_sheet_only_estimates_is_told_with_the_pattern() -> None:
    body = sheet({"hip_girth": "by eye", "waist_girth": "a guess"}, hip_girth=300.0)
    assert told(draft(Plain, body)) == [("hip_girth", 300.0, "by eye")]


def test_the_first_rule_whose_measurements_are_there_is_taken() -> None:
    both = draft(Plain, sheet(waist_girth=200.0, waist_to_hip=50.0))
    assert told(both) == [("hip_girth", 250.0, "waist and depth")]
    from_both = {"hip_girth": 250.0, "waist_girth": 200.0, "waist_to_hip": 50.0}
    assert both.measurements == from_both
    assert both.unused == {}
    assert told(draft(Plain, sheet(waist_girth=200.0))) == [("hip_girth", 100.0, "half the waist")]


def test_an_estimate_of_an_estimate_tells_both() -> None:
    body = sheet({"waist_girth": "a guess"}, waist_girth=200.0)
    assert told(draft(Plain, body)) == [
        ("waist_girth", 200.0, "a guess"), ("hip_girth", 100.0, "half the waist"),
    ]  # fmt: skip


def test_what_is_missing_is_told_with_the_least_that_would_do() -> None:
    with pytest.raises(InputErrors) as refused:
        draft(Plain, sheet())
    said = "plain.square needs hip_girth, or waist_girth to estimate it from: "
    assert said in str(refused.value)


def test_a_measurement_that_another_block_offers_is_said_to_be_offered() -> None:
    with pytest.raises(InputErrors, match=r"needs hip_girth, or a block .* offers the right edge"):
        draft(Taker, sheet())


# -- taken from another block ----------------------------------------------------------------------


def sources(pattern: Pattern) -> list[tuple[str, float | None, str]]:
    return [(each.name, each.value, each.says) for each in pattern.sources]


def test_what_is_taken_is_walked_and_the_sheet_is_not_used() -> None:
    pattern = draft([Taker, Giver], sheet())
    assert sources(pattern) == [("hip_girth", 100.0, "walked on giver.square")]
    pattern = draft([Taker, Giver], sheet(hip_girth=300.0))
    says = "walked on giver.square; the sheet's 30.0 cm is not used"
    assert sources(pattern) == [("hip_girth", 100.0, says)]
    taker = pattern.piece("taker panel")
    assert taker.edge("hem").curve.length == pytest.approx(120.0)


def test_alone_it_is_drafted_from_the_sheet() -> None:
    pattern = draft(Taker, sheet(hip_girth=300.0))
    says = "from the sheet: no block drafted with taker.square offers it"
    assert sources(pattern) == [("hip_girth", 300.0, says)]


def test_a_block_takes_nothing_from_itself() -> None:
    class Own(Taker):
        """Offers an edge of the name that it takes."""

        offers = ("right edge",)

        def draft(self, d) -> None:
            d.offer("right edge", square(d, self.right)[1])

    pattern = draft(Own, sheet(hip_girth=300.0))
    assert pattern.piece("panel").edge("hem").curve.length == pytest.approx(300.0)


def test_one_is_drafted_beside_a_pattern_that_is_there() -> None:
    giver = draft(Giver, sheet())
    assert [piece.label for piece in giver.pieces] == ["panel"]
    both = draft(Taker, sheet(), beside=giver)
    assert [piece.label for piece in both.pieces] == ["giver panel", "taker panel"]
    assert sources(both) == [("hip_girth", 100.0, "walked on giver.square")]
    with pytest.raises(InputError, match=r"giver\.square is there already"):
        draft([Giver], sheet(), beside=both)
    other = BodySheet(name="Another", units=Unit.CM, values={})
    with pytest.raises(InputError, match="for 'Trial' and this sheet is of 'Another'"):
        draft(Taker, other, beside=giver)
    nobody = BodySheet(name="", units=Unit.CM, values={})
    assert len(draft(Taker, nobody, beside=giver).pieces) == 2


# -- the order of a set ----------------------------------------------------------------------------


def block(key: str, takes: tuple[str, ...] = (), offers: tuple[str, ...] = ()) -> type[Block]:
    """A block of a set, for its order only."""
    return type(key, (Block,), {
        "__doc__": "Of a set.", "key": key, "title": key, "takes": takes, "offers": offers,
        "draft": lambda self, d: None,
    })  # fmt: skip


A = block("a.one", offers=("x",))
B = block("b.one", takes=("x",), offers=("y",))
C = block("c.one", takes=("y",))
D = block("d.one")


@pytest.mark.parametrize(
    ("given", "ordered"),
    [
        ([A, B, C, D], [A, B, C, D]),
        ([C, B, A, D], [A, B, C, D]),
        ([D, C, B, A], [D, A, B, C]),
        ([C, D], [C, D]),
        ([B, C], [B, C]),
        ([C, A], [C, A]),
    ],
)
def test_blocks_are_drafted_after_those_they_take_from(given, ordered) -> None:
    assert in_order(given) == ordered


def test_a_block_does_not_wait_for_what_it_offers_itself() -> None:
    own = block("e.one", takes=("z",), offers=("z",))
    assert in_order([own, A]) == [own, A]


def test_blocks_that_wait_for_each_other_are_refused() -> None:
    first, second = block("p.one", ("q",), ("p",)), block("q.one", ("p",), ("q",))
    with pytest.raises(PatternError, match=r"p\.one, q\.one each take from another"):
        in_order([D, first, second])
    with pytest.raises(InputError, match=r"a\.one is given twice"):
        in_order([A, B, A])
    again = block("e.one", offers=("x",))
    # Which of the two is meant, the block that takes it says, with d.taken("x", of="e.one").
    assert in_order([B, A, again]) == [A, again, B]
    assert in_order([A, again]) == [A, again]


# -- options ---------------------------------------------------------------------------------------


@pytest.mark.parametrize("name", ["taker.square.ease", "taker.ease"])
def test_an_option_of_two_blocks_is_given_to_one_by_its_key_or_word(name: str) -> None:
    body = sheet(hip_girth=300.0)
    pattern = draft([Plain, Taker], body, {name: "5 cm"})
    assert pattern.piece("plain panel").edge("hem").curve.length == pytest.approx(310.0)
    assert pattern.piece("taker panel").edge("hem").curve.length == pytest.approx(350.0)


@pytest.mark.parametrize(
    ("settings", "says"),
    [
        ({"ease": "5 cm"}, "'ease' is one of 2 blocks; write plain.square.ease or taker.square.e"),
        ({"taker.square.depth": 1}, "taker.square: no option 'taker.square.depth'; there are e"),
        ({"taker.square.eas": 1}, "no option 'taker.square.eas'; did you mean ease"),
        ({"depth": 1}, "plain.square and taker.square: no option 'depth'"),
        ({"other.square.ease": 1}, "plain.square and taker.square: no option 'other.square.e"),
        ({"taker.ease": 1, "taker.square.ease": 2}, "option ease of taker.square is set twice"),
    ],
)
def test_options_of_a_set_that_are_not_clear(settings: dict[str, Any], says: str) -> None:
    with pytest.raises(InputErrors) as refused:
        draft([Plain, Taker], sheet(hip_girth=300.0), settings)
    assert says in str(refused.value)


def test_options_that_there_are_stand_in_the_order_of_their_names() -> None:
    names = ("hem", "fit", "back", "cap", "vent", "dart", "neck", "grain")
    options = {name: length_option("1 cm", low="0 cm", high="9 cm", says=name) for name in names}
    many = type("Many", (Plain,), {"__doc__": "Of many options.", **options})
    with pytest.raises(InputErrors) as refused:
        draft(many, sheet(hip_girth=300.0), {"quite_another": 1})
    (fault,) = refused.value.faults
    assert fault.values["known"] == sorted([*names, "ease"])


def test_a_value_that_an_option_cannot_have_is_refused() -> None:
    with pytest.raises(InputErrors, match="ease"):
        draft(Plain, sheet(hip_girth=300.0), {"ease": "wide"})


def test_the_allowances_of_a_block_are_by_role() -> None:
    class Hemmed(Plain):
        allowances: ClassVar = {"hem": "4 cm"}

    class Slip(Plain):
        allowances: ClassVar = {"hemm": "4 cm"}

    body = sheet(hip_girth=300.0)
    assert draft(Hemmed, body).origins[0].allowances == {"hem": 40.0}
    with pytest.raises(PatternError, match="its allowance for 'hemm': no such role; did you mean"):
        draft(Slip, body)


def test_a_name_that_both_blocks_have_is_asked_for_by_its_label() -> None:
    pattern = draft([Plain, Giver], sheet(hip_girth=300.0))
    with pytest.raises(PatternError, match="more than one edge 'hem'; write 'plain hem' or 'giver"):
        pattern.edge_ref("hem")
    with pytest.raises(PatternError, match="more than one piece 'panel'; write 'plain panel' or"):
        pattern.piece("panel")
    assert pattern.edge_ref("giver hem").block == Giver.key
    assert pattern.piece("plain panel").block == Plain.key


def test_an_estimate_has_the_range_of_most_bodies() -> None:
    given = {"height": 1650.0, "hip_girth": 960.0, "waist_girth": 700.0}
    pattern = draft(load().block("skirt.straight"), sheet(**given))
    (found,) = pattern.estimates
    assert found.low
    assert found.high
    assert found.low < found.value < found.high
    assert f"80 of 100 such bodies have {found.low / 10.0:.1f} cm" in prove(pattern).text(Unit.CM)


def test_two_blocks_of_a_set_have_one_estimate() -> None:
    """Alone, the skirt takes an eighth of the height and the trousers a part of the rise."""
    given = {
        "height": 1650.0, "hip_girth": 960.0, "waist_girth": 700.0, "body_rise": 270.0,
        "outside_leg_length": 1030.0, "inside_leg_height": 760.0,
    }  # fmt: skip
    blocks = [load().block(key) for key in ("skirt.straight", "trousers.straight")]
    alone = [dict(draft(block, sheet(**given)).measurements) for block in blocks]
    assert alone[0]["waist_to_hip"] != alone[1]["waist_to_hip"]
    together = draft(blocks, sheet(**given))
    values = [each.value for each in together.estimates if each.name == "waist_to_hip"]
    assert len(values) == 2
    assert len(set(values)) == 1


def test_the_model_estimates_what_it_knows_better_than_a_rule() -> None:
    given = {
        "height": 1650.0, "hip_girth": 960.0, "waist_girth": 700.0, "body_rise": 270.0,
        "outside_leg_length": 1030.0, "inside_leg_height": 760.0,
    }  # fmt: skip
    pattern = draft(load().block("trousers.straight"), sheet(**given))
    (knee,) = (each for each in pattern.estimates if each.name == "knee_height")
    assert "by the body model" in knee.rule
    assert abs(knee.value - 430.0) < 20.0, "half of the inside leg and 5 cm"
