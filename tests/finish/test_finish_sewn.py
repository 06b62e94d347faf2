"""Both sides of a seam have one allowance, and a hem that is sewn to something is a seam.

What a sewer expects of both is common practice, no source.
"""

from __future__ import annotations

from dataclasses import replace

import pytest
import shapely
from finish_samples import EVERY, drafted, polygon

from blockwright import (
    Draft,
    Edge,
    Finish,
    Given,
    InputError,
    Pattern,
    Piece,
    Point,
    Way,
    finish_all,
    line,
)
from blockwright.pattern.finishing.agreeing import sewn_together
from blockwright.pattern.piece import Role
from blockwright.pattern.record import Origin
from blockwright.pattern.ref import Ref
from promised import prove_promised as prove


def panel(
    d: Draft, name: str, top: Role, bottom: Role, wide: tuple[float, ...] = (200.0,)
) -> Piece:
    """A panel 100 mm high, with its lower edge in parts of these widths."""
    x, places = 0.0, [Point(0, 0)]
    for part in wide:
        x += part
        places.append(Point(x, 0))
    several = len(wide) > 1
    edges = [
        Edge(f"{name} bottom{f' {i + 1}' if several else ''}", line(a, b), bottom)
        for i, (a, b) in enumerate(zip(places, places[1:], strict=False))
    ]
    edges += [
        Edge(f"{name} right", line(Point(x, 0), Point(x, 100))),
        Edge(f"{name} top", line(Point(x, 100), Point(0, 100)), top),
        Edge(f"{name} left", line(Point(0, 100), Point(0, 0))),
    ]
    return d.piece(name, edges)


def shirt(top: Role = "seam", bottom: Role = "hem") -> Pattern:
    """A cuff whose top is sewn to the bottom of a sleeve."""
    d = Draft("test.shirt", "Shirt")
    panel(d, "sleeve", "armhole", bottom)
    cuff = panel(d, "cuff", top, "seam")
    d.seam("cuff", "sleeve bottom", -cuff.edge("cuff top"))
    return d.pattern()


def heights(pattern: Pattern, how: Finish) -> dict[str, tuple[float, float]]:
    """How far the cut line of each piece goes below and above its sew line, mm."""
    found = {}
    for piece in finish_all(pattern, how):
        cut = polygon([edge.curve for edge in piece.cut]).bounds
        found[piece.piece.name] = (-cut[1], cut[3] - 100.0)
    return found


def test_a_hem_that_is_sewn_to_something_is_finished_as_a_seam() -> None:
    pattern = shirt()
    assert prove(pattern).held
    found = heights(pattern, Finish())
    assert found["sleeve"][0] == pytest.approx(10.0)
    assert found["cuff"][1] == pytest.approx(10.0)
    sleeve = finish_all(pattern, Finish())[0]
    # Nothing is turned up, so no notch marks a fold.
    assert sleeve.notches == ()
    assert {edge.role for edge in sleeve.cut if "bottom" in edge.name} == {"seam"}


def test_a_corner_beside_a_hem_that_is_sewn_is_not_cut_for_turning_up() -> None:
    """The allowance of a slanted side is carried on straight, not mirrored in the hem line."""
    found = []
    for sewn in (False, True):
        d = Draft("test.sleeve", "Sleeve")
        at = [Point(0, 0), Point(160, 0), Point(200, 100), Point(0, 100), Point(0, 0)]
        roles: list[Role] = ["hem", "seam", "armhole", "seam"]
        edges = [
            Edge(f"edge {i}", line(a, b), role)
            for i, (role, a, b) in enumerate(zip(roles, at, at[1:], strict=False))
        ]
        d.piece("sleeve", edges)
        if sewn:
            d.seam("cuff", edges[0], Given("cuff", 160.0))
        cut = finish_all(d.pattern(), Finish(roles={"hem": 10.0}))[0].cut
        found.append(polygon([edge.curve for edge in cut]))
    slant = 100.0 / 40.0
    right = [max(x for x, y in one.exterior.coords if y < -9.99) for one in found]
    out = 10.0 * (1.0 + slant**-2.0) ** 0.5
    # The side leans out going up, so carried on below the hem it leans in, and mirrored out.
    assert right[0] == pytest.approx(160.0 + out + 10.0 / slant, abs=1e-6)
    assert right[1] == pytest.approx(160.0 + out - 10.0 / slant, abs=1e-6)


@pytest.mark.parametrize(
    ("top", "bottom", "roles", "both"),
    [
        ("neck", "seam", {}, 6.0),
        ("seam", "neck", {}, 6.0),
        ("seam", "waist", {"waist": 20.0}, 20.0),
        ("neck", "waist", {}, 6.0),
        ("neck", "waist", {"neck": 25.0}, 10.0),
        ("hem", "neck", {}, 6.0),
        ("hem", "hem", {}, 10.0),
        ("seam", "seam", {"seam": 15.0}, 15.0),
    ],
)
def test_edges_sewn_together_take_one_allowance(
    top: Role, bottom: Role, roles: dict[str, float], both: float
) -> None:
    found = heights(shirt(top, bottom), Finish(roles=roles))
    assert (found["sleeve"][0], found["cuff"][1]) == pytest.approx((both, both))


@pytest.mark.parametrize("edge", ["sleeve bottom", "cuff top"])
def test_one_side_alone_may_not_be_given_another_allowance(edge: str) -> None:
    other = "cuff top" if edge == "sleeve bottom" else "sleeve bottom"
    with pytest.raises(InputError) as told:
        finish_all(shirt(), Finish(edges={edge: 25.0}))
    assert told.value.code == "finish.sides-differ"
    assert str(told.value) == (
        f"{edge} is given an allowance of 25.0 mm, but {other}, which is sewn to it, takes "
        "10.0 mm; give both the same under [edges] in the finish sheet, or neither"
    )


def test_both_sides_may_be_given_the_same_and_not_unlike_ones() -> None:
    same = {"sleeve bottom": 25.0, "cuff top": 25.0}
    found = heights(shirt(), Finish(edges=same))
    assert (found["sleeve"][0], found["cuff"][1]) == pytest.approx((25.0, 25.0))
    assert heights(shirt(), Finish(edges={"cuff top": 10.0})) == heights(shirt(), Finish())
    with pytest.raises(InputError, match=r"sewn to it, takes (20|25)\.0 mm"):
        finish_all(shirt(), Finish(edges=same | {"cuff top": 20.0}))


def test_the_allowances_of_two_blocks_meet_at_the_narrower() -> None:
    """Skirt and waistband, each with its own allowance for the waist."""
    pattern = shirt("waist", "waist")
    origin = replace(pattern.origins[0], allowances={"waist": 16.0})
    bands = replace(pattern.pieces[1], block="test.band")
    seam = replace(pattern.promises[0], b=(-Way(Ref("test.band", "cuff top")),))
    both = replace(
        pattern, pieces=(pattern.pieces[0], bands), promises=(seam,),
        origins=(origin, Origin("test.band", "Band", "", {"waist": 12.0})),
    )  # fmt: skip
    found = heights(both, Finish())
    assert (found["sleeve"][0], found["cuff"][1]) == pytest.approx((12.0, 12.0))


def test_an_edge_is_sewn_to_those_that_lie_on_it() -> None:
    """Two parts of one side meet two of the other, and lie beside the wrong ones by the ease."""
    d = Draft("test.yoke", "Yoke")
    panel(d, "yoke", "seam", "seam", (100.0, 104.0))
    panel(d, "skirt", "waist", "seam", (98.0, 102.0))
    yoke = [f"yoke bottom {i}" for i in (1, 2)]
    skirt = [f"skirt bottom {i}" for i in (1, 2)]
    d.seam("yoke", yoke, skirt, ease=4.0)
    groups = [{edge.name for edge in group} for group in sewn_together(d.pattern())]
    assert sorted(groups, key=sorted) == [
        {"yoke bottom 1", "skirt bottom 1"},
        {"yoke bottom 2", "skirt bottom 2"},
    ]


def test_an_edge_sewn_to_several_and_to_itself() -> None:
    d = Draft("test.yoke", "Yoke")
    panel(d, "yoke", "seam", "seam")
    panel(d, "skirt", "waist", "neck", (90.0, 110.0))
    d.seam("yoke", "yoke bottom", ["skirt bottom 1", "skirt bottom 2"])
    d.twin("yoke top", "yoke top")
    groups = [{edge.name for edge in group} for group in sewn_together(d.pattern())]
    assert {"yoke bottom", "skirt bottom 1", "skirt bottom 2"} in groups
    assert {"yoke top"} in groups
    assert heights(d.pattern(), Finish())["yoke"][0] == pytest.approx(6.0)


@pytest.mark.parametrize("keys", EVERY)
def test_every_seam_of_a_bundled_block_has_one_allowance(keys: str) -> None:
    """Both sides are measured on the cut pieces, in the middle of each edge."""
    pattern = drafted(keys, "tom" if "easy" in keys else "nora")
    wide = Finish(roles={"neck": 7.0, "armhole": 12.0, "waist": 15.0, "seam": 18.0})
    beside: dict[Ref, float] = {}
    for drawn, piece in zip(pattern.pieces, finish_all(pattern, wide), strict=True):
        cut = polygon([edge.curve for edge in piece.cut], accuracy=0.002).exterior
        for edge in drawn.edges:
            middle = edge.curve.point_at(edge.curve.length / 2.0)
            beside.setdefault(Ref(drawn.block, edge.name), cut.distance(shapely.Point(*middle)))
    groups = sewn_together(pattern)
    assert groups
    for group in groups:
        widths = [beside[edge] for edge in group]
        assert widths == pytest.approx([widths[0]] * len(widths), abs=0.02)
