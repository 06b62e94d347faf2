"""Sets of blocks written elsewhere: what they say they offer and take is held to."""

from __future__ import annotations

import pytest
from bending import stretched

from blockwright import (
    Block,
    BodySheet,
    Draft,
    Edge,
    InputError,
    InputErrors,
    Notch,
    PatternError,
    Point,
    Ref,
    Rule,
    Unit,
    draft,
    length_option,
    line,
    measurement,
)
from blockwright_sleeve.fitted import FittedSleeve
from promised import prove_promised as prove

BODY = {
    "waist_girth": 700.0,
    "hip_girth": 950.0,
    "upper_arm_girth": 290.0,
    "wrist_girth": 160.0,
    "outer_arm_length": 585.0,
    "upper_arm_length": 330.0,
}


def box(d: Draft, name: str, width: float, height: float, notches=()) -> dict[str, Edge]:
    """A rectangle on the table; its edges by name."""
    corners = [Point(0.0, 0.0), Point(width, 0.0), Point(width, height), Point(0.0, height)]
    sides = ("bottom", "right", "top", "left")
    edges = {
        side: Edge(side, line(a, b))
        for side, a, b in zip(sides, corners, corners[1:] + corners[:1], strict=True)
    }
    middle = width / 2.0
    d.piece(
        name,
        list(edges.values()),
        grain=(Point(middle, height * 0.1), Point(middle, height * 0.9)),
        label_at=Point(middle * 0.5, height / 2.0),
        notches=notches,
    )
    return edges


class Tube(Block):
    """A straight tube that offers its upper edge."""

    key = "tube.plain"
    title = "Tube"
    offers = ("waist edge",)

    hip = measurement("hip_girth")
    ease = length_option("4 cm", low="0 cm", high="9 cm", says="over the hip")

    def draft(self, d: Draft) -> None:
        width = self.hip + self.ease
        edges = box(d, "tube", width, 500.0, [Notch("side notch", "top", width / 4.0)])
        d.offer("waist edge", -edges["top"])
        d.girth("hip", body=self.hip, ease=self.ease, runs=[edges["bottom"]])


class Band(Block):
    """A band sewn to a waist edge; without one it is as long as the waist."""

    key = "band.plain"
    title = "Band"

    waist = measurement("waist_girth", taken="waist edge")
    ease = length_option("1 cm", low="0 cm", high="9 cm", says="band over the edge")

    def draft(self, d: Draft) -> None:
        edges = box(d, "band", self.waist + self.ease, 30.0)
        if edge := d.taken("waist edge"):
            d.seam("waist", edges["bottom"], edge, ease=self.ease)


class Lace(Band):
    """A band that can do without a sheet, a tube and anything."""

    key = "lace.plain"
    title = "Lace"
    waist = measurement(
        "waist_girth",
        taken="waist edge",
        estimate=Rule(("hip_girth",), lambda hip: 0.7 * hip, "seven tenths of the hip"),
    )


class Liar(Tube):
    """Says it offers a second edge and does not."""

    key = "liar.plain"
    offers = ("waist edge", "hem edge")


class Egg(Block):
    """Takes from the hen."""

    key = "egg.plain"
    title = "Egg"
    offers = ("shell",)
    waist = measurement("waist_girth", taken="feather")

    def draft(self, d: Draft) -> None:
        d.offer("shell", box(d, "egg", self.waist, 10.0)["top"])


class Hen(Block):
    """Takes from the egg."""

    key = "hen.plain"
    title = "Hen"
    offers = ("feather",)
    waist = measurement("waist_girth", taken="shell")

    def draft(self, d: Draft) -> None:
        d.offer("feather", box(d, "hen", self.waist, 10.0)["top"])


class Ring(Egg):
    """Offers what it takes itself."""

    key = "ring.plain"
    offers = ("feather",)

    def draft(self, d: Draft) -> None:
        d.offer("feather", box(d, "ring", self.waist, 10.0)["top"])


class Bare(Block):
    """Armholes without notches."""

    key = "bare.plain"
    title = "Bare"
    offers = ("front armhole", "back armhole")

    def draft(self, d: Draft) -> None:
        edges = box(d, "bare", 220.0, 230.0)
        d.offer("front armhole", edges["bottom"])
        d.offer("back armhole", edges["right"])


def drafted(blocks, values=BODY, **settings):
    given = {name.replace("__", "."): value for name, value in settings.items()}
    pattern = draft(blocks, BodySheet(name="Test body", units=Unit.CM, values=values), given)
    return pattern, prove(pattern)


def without(*names: str) -> dict[str, float]:
    return {name: value for name, value in BODY.items() if name not in names}


def length(pattern, edge: str) -> float:
    return pattern.edge(edge).curve.length


@pytest.mark.parametrize("blocks", [[Tube, Band], [Band, Tube], [Band, Hen, Tube]])
def test_the_band_is_drafted_after_the_tube(blocks) -> None:
    pattern, proof = drafted(blocks)
    assert proof.held
    assert length(pattern, "band bottom") == pytest.approx(950.0 + 40.0 + 10.0)
    keys = pattern.block.split("+")
    assert keys.index("tube.plain") < keys.index("band.plain")
    # The rest stays in the order it was given.
    assert [k for k in keys if k != "band.plain"] == [b.key for b in blocks if b is not Band]


def test_the_seam_walks_the_other_block_s_edge() -> None:
    pattern, _ = drafted([Band, Tube])
    waist = ("seam", Ref("band.plain", "waist"))
    (seam,) = [r for r in prove(pattern).results if (r.code, r.subject) == waist]
    assert seam.measured == pytest.approx(10.0)
    bent = stretched(pattern, "tube top", 1.0)
    (seam,) = [r for r in prove(bent).results if (r.code, r.subject) == waist]
    assert seam.measured == pytest.approx(9.0, abs=0.01)
    assert not seam.held


def test_a_piece_named_as_its_block_keeps_its_name() -> None:
    pattern, _ = drafted([Band, Tube])
    assert [piece.label for piece in pattern.pieces] == ["tube", "band"]
    assert [pattern.label(Ref("tube.plain", e.name)) for e in pattern.piece("tube").edges] == [
        "tube bottom", "tube right", "tube top", "tube left",
    ]  # fmt: skip


def test_what_is_taken_needs_no_measurement_and_no_estimate() -> None:
    for block in (Band, Lace):
        pattern, proof = drafted([block, Tube], without("waist_girth"))
        assert proof.held
        assert pattern.measurements["waist_girth"] == pytest.approx(990.0)
        assert not pattern.estimates
        (source,) = pattern.sources
        assert (source.name, source.says) == ("waist_girth", "walked on tube.plain")


def test_without_the_other_block_it_falls_back() -> None:
    pattern, _ = drafted([Band, Hen])
    assert length(pattern, "band bottom") == pytest.approx(710.0)
    assert [s.says for s in pattern.sources] == [
        "from the sheet: no block drafted with band.plain offers it",
        "from the sheet: no block drafted with hen.plain offers it",
    ]
    pattern, _ = drafted([Lace, Hen], BODY)
    assert length(pattern, "lace bottom") == pytest.approx(710.0)
    pattern, _ = drafted(Lace, without("waist_girth"))
    assert length(pattern, "bottom") == pytest.approx(0.7 * 950.0 + 10.0)
    assert not pattern.sources
    assert [e.rule for e in pattern.estimates] == ["seven tenths of the hip"]


def test_taking_what_nobody_offers_needs_the_measurement() -> None:
    with pytest.raises(InputErrors) as refused:
        drafted([Band], without("waist_girth"))
    assert (
        "band.plain needs waist_girth, or a block drafted with it that offers the waist edge: "
        in str(refused.value)
    )
    with pytest.raises(InputErrors) as refused:
        drafted([Lace], without("waist_girth", "hip_girth"))
    assert (
        "lace.plain needs waist_girth, or hip_girth to estimate it from, or a block drafted with "
        "it that offers the waist edge: " in str(refused.value)
    )


def test_offering_what_is_not_offered_is_the_author_s_slip() -> None:
    with pytest.raises(PatternError) as slip:
        drafted([Liar])
    assert str(slip.value) == "liar.plain says it offers 'hem edge' and does not; call d.offer"
    assert not isinstance(slip.value, InputError)


def test_blocks_that_wait_for_each_other() -> None:
    for blocks in ([Egg, Hen], [Tube, Hen, Egg]):
        with pytest.raises(PatternError) as slip:
            drafted(blocks)
        assert str(slip.value).endswith(
            " each take from another; one of them must be drafted first"
        )
        assert "egg.plain" in str(slip.value)
        assert "hen.plain" in str(slip.value)
        assert "tube.plain" not in str(slip.value)
    # Apart they are drawn from the sheet.
    for block in (Egg, Hen):
        assert length(drafted(block)[0], "top") == 700.0


def test_a_block_does_not_take_from_itself() -> None:
    pattern, _ = drafted([Ring, Tube])
    assert length(pattern, "ring top") == 700.0
    (source,) = pattern.sources
    assert source.says == "from the sheet: no block drafted with ring.plain offers it"


def test_two_that_offer_the_same() -> None:
    with pytest.raises(InputError) as refused:
        drafted([Band, Liar, Tube])
    assert str(refused.value) == (
        "liar.plain and tube.plain both offer the waist edge; draft them apart"
    )


def test_an_armhole_without_notches_is_the_author_s_slip() -> None:
    with pytest.raises(PatternError) as slip:
        drafted([FittedSleeve, Bare])
    assert "no 'front notch'" in str(slip.value)


def test_settings_by_key() -> None:
    pattern, _ = drafted([Band, Tube], tube__plain__ease="6 cm", band__plain__ease="2 cm")
    assert length(pattern, "band bottom") == pytest.approx(950.0 + 60.0 + 20.0)
    assert pattern.options == {"tube.plain.ease": 60.0, "band.plain.ease": 20.0}
    with pytest.raises(InputErrors) as refused:
        drafted([Band, Tube], ease="2 cm")
    assert str(refused.value) == (
        "option 'ease' is one of 2 blocks; write tube.plain.ease or band.plain.ease"
    )
