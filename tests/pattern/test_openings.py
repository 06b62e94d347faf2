"""The openings of a garment, counted and measured on every copy of its pieces.

The lengths are sums of the straight edges that the cases are drawn with.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import pytest

from blockwright import Draft, Edge, Given, Pattern, Point, Unit, line, prove

HIGH = 300.0
Found = set[tuple[frozenset[str], float, int]]


def box(names: str, roles: str, *, wide: float = 200.0, high: float = HIGH) -> list[Edge]:
    """A rectangle: its lower edge, right side, upper edge, left side."""
    at = [Point(0, 0), Point(wide, 0), Point(wide, high), Point(0, high), Point(0, 0)]
    return [
        Edge(name, line(a, b), role)  # type: ignore[arg-type]
        for name, role, a, b in zip(names.split(), roles.split(), at[:-1], at[1:], strict=True)
    ]


def sewn(
    pieces: Sequence[tuple[list[Edge], int, bool]],
    seams: Sequence[tuple[object, object]],
    *,
    over: Iterable[tuple[object, object]] = (),
    free: Iterable[str] = (),
) -> Pattern:
    """Pieces, each with its number of copies and whether half of them are mirrored, and seams."""
    d = Draft("test.garment", "Garment")
    for i, (edges, cut, mirrored) in enumerate(pieces):
        high = edges[1].curve.length
        middle = Point(edges[0].curve.length / 2, high / 2)
        grain = Point(middle.x, high * 0.2), Point(middle.x, high * 0.8)
        d.piece(f"piece {i}", edges, grain=grain, label_at=middle, cut=cut, mirrored=mirrored)
    for i, (a, b) in enumerate(seams):
        d.seam(f"seam {i}", a, b)  # type: ignore[arg-type]
    for i, (a, b) in enumerate(over):
        d.seam(f"over {i}", a, b, over=True)  # type: ignore[arg-type]
    for edge in free:
        d.unsewn(edge, "left open")
    return d.pattern()


def found(pattern: Pattern) -> Found:
    proof = prove(pattern)
    assert proof.held, proof.text
    return {
        (frozenset(edge.name for edge in each.edges), round(each.length, 6), each.times)
        for each in proof.openings
    }


def panel(centre: str = "fold", which: str = "") -> list[Edge]:
    """A panel of a skirt: hem, side, waist, centre."""
    names = " ".join(which + name for name in ("hem", "side", "waist", "centre"))
    return box(names, f"hem seam waist {centre}")


def test_a_skirt_of_front_and_back_on_the_fold_is_open_above_and_below() -> None:
    front, back = panel(which="f-"), panel(which="b-")
    skirt = sewn([(front, 1, False), (back, 1, False)], [(front[1], back[1])],
                 free=["f-waist", "b-waist"])  # fmt: skip
    assert found(skirt) == {
        (frozenset({"f-hem", "b-hem"}), 800.0, 1),
        (frozenset({"f-waist", "b-waist"}), 800.0, 1),
    }
    said = prove(skirt).text
    assert "opening: 'f-hem' and 'b-hem', 80.0 cm round" in said(Unit.CM)


def test_half_a_skirt_whose_centre_is_a_hem_is_one_opening() -> None:
    """A right skirt is open twice.  Here one line runs up the front, round and down again."""
    front = panel("hem", "f-")
    back = box("b-hem b-centre b-waist b-side", "hem hem waist seam")
    half = sewn(
        [(front, 1, False), (back, 1, False)],
        [(front[1], -back[3])],
        free=["f-waist", "b-waist"],
    )
    names = {f"{which}-{name}" for which in "fb" for name in ("hem", "waist", "centre")}
    assert found(half) == {(frozenset(names), 4 * 200.0 + 2 * HIGH, 1)}


@pytest.mark.parametrize("panels", [1, 2, 6])
def test_equal_panels_make_one_ring(panels: int) -> None:
    gore = box("hem right waist left", "hem seam waist seam")
    skirt = sewn([(gore, panels, False)], [(gore[1], -gore[3])], free=["waist"])
    assert found(skirt) == {
        (frozenset({"hem"}), 200.0 * panels, 1),
        (frozenset({"waist"}), 200.0 * panels, 1),
    }


def test_two_panels_in_turn_make_one_ring() -> None:
    wide = box("a-hem a-right a-waist a-left", "hem seam waist seam")
    narrow = box("b-hem b-right b-waist b-left", "hem seam waist seam", wide=80.0)
    skirt = sewn([(wide, 3, False), (narrow, 3, False)],
                 [(wide[1], -narrow[3]), (narrow[1], -wide[3])],
                 free=["a-waist", "b-waist"])  # fmt: skip
    assert found(skirt) == {
        (frozenset({"a-hem", "b-hem"}), 840.0, 1),
        (frozenset({"a-waist", "b-waist"}), 840.0, 1),
    }


def test_a_pair_of_sleeves_is_open_twice_at_each_end() -> None:
    sleeve = box("wrist back top front", "hem seam hem seam")
    pair = sewn([(sleeve, 2, True)], [(sleeve[1], -sleeve[3])])
    assert found(pair) == {(frozenset({"wrist"}), 200.0, 2), (frozenset({"top"}), 200.0, 2)}


def test_trousers_have_two_legs_and_one_waist() -> None:
    names = "hem inseam crotch waist side"
    at = [(0, 0), (200, 0), (200, 300), (180, 500), (0, 500), (0, 0)]
    points = [Point(*each) for each in at]

    def leg(which: str) -> list[Edge]:
        roles = ("hem", "seam", "seam", "waist", "seam")
        return [
            Edge(which + name, line(a, b), role)  # type: ignore[arg-type]
            for name, role, a, b in zip(names.split(), roles, points[:-1], points[1:], strict=True)
        ]

    d = Draft("test.trousers", "Trousers")
    legs = {which: leg(which) for which in ("f-", "b-")}
    for which, edges in legs.items():
        d.piece(which + "leg", edges, grain=(Point(90, 40), Point(90, 400)),
                label_at=Point(90, 250), cut=2, mirrored=True)  # fmt: skip
        d.twin(which + "crotch", edges[2])
        d.unsewn(edges[3], "left open")
    d.seam("inseam", legs["f-"][1], legs["b-"][1])
    d.seam("side", legs["f-"][4], legs["b-"][4])
    assert found(d.pattern()) == {
        (frozenset({"f-hem", "b-hem"}), 400.0, 2),
        (frozenset({"f-waist", "b-waist"}), 720.0, 1),
    }


def test_a_piece_on_two_folds_is_a_quarter_of_a_cloth() -> None:
    quarter = box("edge side fold-c fold-d", "hem hem fold fold")
    assert found(sewn([(quarter, 1, False)], [])) == {
        (frozenset({"edge", "side"}), 4 * (200.0 + HIGH), 1)
    }


def test_a_facing_moves_the_opening_and_a_seam_over_another_closes_none() -> None:
    tube = box("hem right waist left", "hem seam waist seam")
    facing = box("joined f-right f-edge f-left", "seam seam hem seam", high=50.0)
    faced = sewn(
        [(tube, 1, False), (facing, 1, False)],
        [(tube[1], -tube[3]), (facing[1], -facing[3]), (tube[2], -facing[0])],
    )
    lower = (frozenset({"hem"}), 200.0, 1)
    assert found(faced) == {lower, (frozenset({"f-edge"}), 200.0, 1)}
    stitched = sewn([(tube, 1, False), (facing, 1, False)],
                    [(tube[1], -tube[3]), (facing[1], -facing[3]), (tube[2], -facing[0])],
                    over=[(facing[2], -tube[2])])  # fmt: skip
    assert found(stitched) == {lower, (frozenset({"f-edge"}), 200.0, 1)}


def squares(*, lid: bool) -> Pattern:
    """Two squares sewn together along three sides, and along the fourth or to a given length."""
    roles = "seam seam seam seam"
    one, other = box("a b c d", roles, high=200.0), box("e f g h", roles, high=200.0)
    seams: list[tuple[object, object]] = [(one[i], -other[-i % 4]) for i in (0, 1, 3)]
    given = Given("lid", 200.0)
    seams += [(one[2], given), (other[2], given)] if lid else [(one[2], -other[2])]
    return sewn([(one, 1, False), (other, 1, False)], seams)


def test_what_is_sewn_shut_all_round_is_not_proved() -> None:
    """Two squares sewn together along all four sides: nobody can turn them."""
    proof = prove(squares(lid=False))
    assert [each.code for each in proof.broken] == ["sewing.shut"]
    assert "leave an edge open" in proof.off(proof.broken[0])


def test_what_is_sewn_to_a_given_length_may_be_open_there() -> None:
    assert found(squares(lid=True)) == set()


def test_two_bands_of_two_layers_make_one_ring() -> None:
    """Each band is cut on a fold along its top; both layers are sewn end to end, one to a tube."""
    panel_ = box("hem right waist left", "hem seam waist seam")
    band = box("low front fold back", "seam seam fold seam", high=40.0)
    tube = sewn(
        [(panel_, 2, False), (band, 2, False)],
        [(panel_[1], -panel_[3]), (band[1], -band[3]), (band[0], -panel_[2])],
        free=["low"],
    )
    assert found(tube) == {(frozenset({"hem"}), 400.0, 1), (frozenset({"low"}), 400.0, 1)}
    assert not prove(tube).warnings
