"""What the bundled blocks offer: runs that another block can be sewn to, from end to end."""

from __future__ import annotations

from itertools import pairwise
from pathlib import Path

import pytest

from blockwright import (
    Block,
    Curve,
    Draft,
    Edge,
    Pattern,
    Point,
    Ref,
    Unit,
    distance,
    draft,
    load,
    load_sheet,
    polyline,
)
from promised import prove_promised as prove

WORKROOM = Path(__file__).parents[2] / "examples" / "workroom"
HOST = load(only=["blockwright"])
WAIST, NECK = ("back waist", "front waist"), ("back neck", "front neck")
OFFERED = {
    "skirt.straight": WAIST,
    "skirt.flared": WAIST,
    "trousers.straight": WAIST,
    "bodice.fitted": NECK,
    "bodice.easy": NECK,
}
"""By block: a run from the centre back to the side or the shoulder, one on to the centre front."""
SEAM = Ref("band.plain", "to the other")


def band(*runs: str) -> type[Block]:
    """A block that is sewn to these runs, one after the other."""

    class Band(Block):
        """Straight band."""

        key = "band.plain"
        title = "Band"
        takes = runs

        def draft(self, d: Draft) -> None:
            taken = [d.taken(run) for run in runs]
            wide = sum(run.length for run in taken if run)
            at = [Point(0, 0), Point(wide, 0), Point(wide, 40), Point(0, 40), Point(0, 0)]
            edges = [Edge(f"{i}", polyline([a, b])) for i, (a, b) in enumerate(pairwise(at))]
            grain, label_at = (Point(10, 5), Point(10, 35)), Point(wide / 2, 20)
            d.piece("band", edges, grain=grain, label_at=label_at, cut=2, mirrored=True)
            d.seam("to the other", edges[0], [run for run in taken if run])

    return Band


def drafted(key: str, runs: tuple[str, ...]) -> Pattern:
    who = "tom" if key == "bodice.easy" else "nora"
    return draft([band(*runs), HOST.block(key)], load_sheet(WORKROOM / f"{who}.toml"))


def walked(pattern: Pattern, run) -> list[Curve]:
    curves = []
    for way in run:
        there = [edge.curve for edge in pattern.stretches(way.edge)]
        curves += there if way.forward else [curve.reversed() for curve in reversed(there)]
    return curves


@pytest.mark.parametrize("key", OFFERED)
def test_half_a_body_is_sewn_from_the_centre_back_to_the_centre_front(key: str) -> None:
    pattern = drafted(key, OFFERED[key])
    proof = prove(pattern)
    assert proof.held, proof.text(Unit.CM)
    (seam,) = [each for each in pattern.promises if each.ref == SEAM]
    assert pattern.label(seam.ref) == "band to the other"
    family = key.partition(".")[0]
    back, front = pattern.piece(f"{family} back"), pattern.piece(f"{family} front")
    curves = walked(pattern, seam.b)
    ends = {
        curves[0].start: back.edge(_centre("back", family)).curve,
        curves[-1].end: front.edge(_centre("front", family)).curve,
    }
    for end, centre in ends.items():
        assert min(distance(end, centre.start), distance(end, centre.end)) < 1e-6


def _centre(side: str, family: str) -> str:
    """The edge at the centre that comes to waist or neck."""
    return f"{side} crotch" if family == "trousers" else f"centre {side}"


@pytest.mark.parametrize("key", OFFERED)
def test_the_front_does_not_come_before_the_back(key: str) -> None:
    back, front = OFFERED[key]
    pattern = drafted(key, (front, back))
    proof = prove(pattern)
    (broken,) = proof.broken
    assert (broken.code, broken.subject) == ("seam", SEAM)
    assert (broken.why.code, {**broken.why.values}) == (
        "run.turned", {"before": Ref(key, front), "after": Ref(key, back)},
    )  # fmt: skip
    assert "does not follow" in proof.why(broken.why)


@pytest.mark.parametrize("key", OFFERED)
def test_what_was_taken_is_told(key: str) -> None:
    proof = prove(drafted(key, OFFERED[key]))
    lines = [line for line in proof.text(Unit.CM).splitlines() if line.startswith("taken: ")]
    assert [line.split(" ", 3)[1:3] for line in lines] == [run.split() for run in OFFERED[key]]
    assert all(line.endswith(f"walked on {key}") for line in lines)


def test_what_nobody_offers_is_told_in_a_set_alone() -> None:
    class Sewn(band("hood neck")):
        """A band that can do without."""

        def draft(self, d: Draft) -> None:
            assert d.taken("hood neck") is None
            at = [Point(0, 0), Point(90, 0), Point(90, 40), Point(0, 0)]
            grain, label_at = (Point(70, 5), Point(70, 25)), Point(60, 10)
            d.piece("band", [Edge("band", polyline(at))], grain=grain, label_at=label_at)

    sheet = load_sheet(WORKROOM / "nora.toml")
    both = prove(draft([Sewn, HOST.block("skirt.straight")], sheet))
    said = "not taken: hood neck, no block drafted with band.plain offers it"
    assert said in both.text(Unit.CM).splitlines()
    (taken,) = both.to_json()["taken"]
    assert (taken["name"], taken["value"]) == ("hood neck", None)
    assert prove(draft(Sewn, sheet)).sources == ()


def test_what_two_offer_and_nobody_takes_may_be_drafted_together() -> None:
    blocks = [HOST.block("skirt.straight"), HOST.block("trousers.straight")]
    assert prove(draft(blocks, load_sheet(WORKROOM / "nora.toml"))).held
