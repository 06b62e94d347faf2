"""Wrong garments whose every promise holds, as someone who tried to cheat wrote them.

Each is a tunic, a skirt or a pair of trousers of straight lines.  The result that is about the
fault fails, alone.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence

import pytest

from blockwright import (
    Dart,
    Draft,
    Edge,
    Finish,
    Given,
    InputError,
    Pattern,
    PatternError,
    Point,
    fair_curve,
    finish_all,
    line,
    polyline,
    prove,
)

Corner = tuple[float, float]


def outline(parts: Iterable[tuple[str, str]], at: Sequence[Corner]) -> list[Edge]:
    """Straight edges, each with a name and a role, from corner to corner and back."""
    points = [Point(*each) for each in (*at, at[0])]
    return [
        Edge(name, line(a, b), role)  # type: ignore[arg-type]
        for (name, role), a, b in zip(parts, points[:-1], points[1:], strict=True)
    ]


def piece(d: Draft, name: str, edges: list[Edge], **other: object) -> None:
    d.piece(name, edges, **{"grain": ((60, 40), (60, 260)), "label_at": (90, 150), **other})  # type: ignore[arg-type]


def failing(pattern: Pattern) -> set[str]:
    return {result.code for result in prove(pattern).results if not result.held}


# -- how the pieces hang together -------------------------------------------------------------

TUNIC = [(0, 0), (240, 0), (240, 300), (200, 500), (80, 500), (0, 460)]
NAMES = ("hem", "side", "arm", "shoulder", "neck", "centre")
ROLES = ("hem", "seam", "armhole", "seam", "neck", "fold")


def tunic(
    shoulders: Sequence[tuple[object, object]] = (("f-shoulder", "b-shoulder"),),
    centre: str = "fold",
) -> Draft:
    """Front and back of a tunic, the sides sewn, the shoulders as given."""
    d = Draft("test.tunic", "Tunic")
    for which in ("f-", "b-"):
        roles = (*ROLES[:-1], centre)
        parts = [(which + name, role) for name, role in zip(NAMES, roles, strict=True)]
        copies = {"cut": 2, "mirrored": True} if centre != "fold" else {}
        piece(d, which + "half", outline(parts, TUNIC), **copies)
    d.seam("side", "f-side", "b-side")
    for i, (a, b) in enumerate(shoulders):
        d.seam(f"shoulder {i}", a, b)  # type: ignore[arg-type]
    for which in ("f-", "b-"):
        d.corner(f"{which}neck", (f"{which}neck", f"{which}centre"), angle=(60.0, 120.0))
    return d


def with_ends(d: Draft) -> Pattern:
    """The tunic with its openings stated, and with whatever angle its shoulders have."""
    d.unsewn(["f-neck", "b-neck", "f-arm", "b-arm"], "bound")
    for name in ("arm", "neck"):
        first, second = ("arm", "shoulder") if name == "arm" else ("shoulder", "neck")
        d.corner(name, (f"f-{first}", f"f-{second}"), (f"b-{first}", f"b-{second}"),
                 angle=(120.0, 310.0))  # fmt: skip
    d.corner("underarm", ("f-side", "f-arm"), ("b-side", "b-arm"), angle=(300.0, 380.0))
    return d.pattern()


def test_a_right_tunic_shows_nothing() -> None:
    assert failing(with_ends(tunic())) == set()
    found = {each.edges[0].name: each.times for each in prove(with_ends(tunic())).openings}
    assert found == {"f-hem": 1, "f-arm": 2, "f-neck": 1}


def test_shoulders_sewn_crosswise() -> None:
    """The neck end of the front is sewn to the armhole end of the back, so all openings are one."""
    crossed = with_ends(tunic([("f-shoulder", "-b-shoulder")]))
    assert "sewing.crossed" in failing(crossed)


def test_a_tunic_in_two_halves_that_nobody_joins() -> None:
    assert failing(with_ends(tunic(centre="hem"))) == {"sewing.several-openings"}


def test_armholes_sewn_shut() -> None:
    d = tunic()
    d.seam("arms", "f-arm", "b-arm")
    d.unsewn(["f-neck", "b-neck"], "bound")
    assert "sewing.roles" in failing(d.pattern())


LEG = [(0, 0), (200, 0), (200, 300), (180, 500), (0, 500)]


def trousers(*, joined: bool) -> Pattern:
    d = Draft("test.trousers", "Trousers")
    names = ("hem", "inseam", "crotch", "waist", "side")
    for which in ("f-", "b-"):
        roles = ("hem", "seam", "seam", "waist", "seam")
        parts = [(which + name, role) for name, role in zip(names, roles, strict=True)]
        piece(d, which + "leg", outline(parts, LEG), cut=2, mirrored=True)
        if joined:
            d.twin(which + "crotch", which + "crotch")
        d.corner(which + "waist", (which + "crotch", which + "waist"), angle=(80.0, 110.0))
    d.seam("inseam", "f-inseam", "b-inseam")
    d.seam("side", "f-side", "b-side")
    if not joined:
        d.seam("crotch", "f-crotch", "b-crotch")
    d.unsewn(["f-waist", "b-waist"], "bound")
    d.corner("fork", *((f"{w}-inseam", f"{w}-crotch") for w in "fb"), angle=(340.0, 380.0))
    return d.pattern()


def test_trousers_of_two_legs() -> None:
    assert "sewing.several-openings" not in failing(trousers(joined=True))
    assert "sewing.several-openings" in failing(trousers(joined=False))


def skirt(*seams: tuple[object, object]) -> Pattern:
    d = Draft("test.skirt", "Skirt")
    for which in ("f-", "b-"):
        roles = ("hem", "seam", "waist", "fold")
        names = ("hem", "side", "waist", "centre")
        parts = [(which + name, role) for name, role in zip(names, roles, strict=True)]
        piece(d, which + "half", outline(parts, [(0, 0), (200, 0), (200, 300), (0, 300)]))
    d.seam("side", "f-side", "b-side")
    for i, (a, b) in enumerate(seams):
        d.seam(f"more {i}", a, b)  # type: ignore[arg-type]
    d.unsewn(["f-waist", "b-waist"], "faced")
    return d.pattern()


def test_a_hem_sewn_shut() -> None:
    assert failing(skirt()) == set()
    assert "sewing.roles" in failing(skirt(("f-hem", "b-hem")))


def test_a_run_of_no_edge_is_refused() -> None:
    for a, b in (([], []), (["f-waist"], [])):
        with pytest.raises(PatternError, match="a side of seam 'more 0' is empty"):
            skirt((a, b))


def test_a_given_length_is_a_number() -> None:
    with pytest.raises(PatternError, match="the length of 'band' is '480'"):
        skirt(("f-waist", Given("band", "480")))  # type: ignore[arg-type]


def test_an_edge_that_is_offered_and_not_taken_is_printed() -> None:
    d = Draft("test.band", "Band")
    parts = [("a", "seam"), ("b", "hem"), ("c", "seam"), ("d", "hem")]
    piece(d, "band", outline(parts, [(0, 0), (200, 0), (200, 300), (0, 300)]))
    d.offer("lower", "a")
    d.offer("upper", "c")
    said = [prove(d.pattern()).why(each) for each in prove(d.pattern()).stated]
    assert said == ["nothing is sewn to 'a' and 'c', which other blocks may take"]


def test_a_seam_that_ends_in_a_slit() -> None:
    """Two straight sides part at the top of a vent: nothing is to be explained."""
    d = Draft("test.vent", "Skirt")
    for which in ("f-", "b-"):
        parts = [(which + "hem", "hem"), (which + "vent", "hem"), (which + "side", "seam"),
                 (which + "waist", "waist"), (which + "centre", "fold")]  # fmt: skip
        at = [(0, 0), (200, 0), (200, 100), (200, 300), (0, 300)]
        piece(d, which + "half", outline(parts, at))
    d.seam("side", "f-side", "b-side")
    d.unsewn(["f-waist", "b-waist"], "faced")
    assert failing(d.pattern()) == set()


# -- darts ------------------------------------------------------------------------------------


def darted(mouth: Sequence[Corner], **other: object) -> Pattern:
    """A panel with a dart in its upper edge whose mouth runs through these places."""
    d = Draft("test.panel", "Panel")
    (first, second) = Point(110, 300), Point(90, 300)
    edges = [
        *outline([("hem", "hem"), ("right", "hem"), ("up", "hem"), ("left", "hem")],
                 [(0, 0), (200, 0), (200, 300), (0, 300)])[:2],
        Edge("top", line(Point(200, 300), first), "waist"),
        Edge("mouth", polyline([first, *(Point(*at) for at in mouth), second]), "dart"),
        Edge("top", line(second, Point(0, 300)), "waist"),
        Edge("left", line(Point(0, 300), Point(0, 0)), "hem"),
    ]  # fmt: skip
    dart = Dart("dart", Point(100, 150), "mouth", "end", "pressed to the left")
    given = {"darts": [dart], "grain": ((40, 40), (40, 260)), "label_at": (160, 80), **other}
    d.piece("panel", edges, **given)  # type: ignore[arg-type]
    d.corner("top over the dart", dart, angle=(150.0, 210.0))
    d.unsewn("top", "bound")
    return d.pattern()


@pytest.mark.parametrize(
    ("mouth", "told"),
    [
        ([], False),
        ([(100, 302)], False),
        ([(100, 160)], True),  # cut out almost to the point
        ([(100, 420)], True),  # a spike
        ([(170, 305), (100, 302)], True),  # juts sideways
    ],
)
def test_the_mouth_of_a_dart(mouth: Sequence[Corner], told: bool) -> None:
    assert ("piece.dart-mouth" in failing(darted(mouth))) == told


def wide_dart(apex: Corner, half: float) -> Pattern:
    """A panel with a dart so wide on either side of its middle."""
    d = Draft("test.panel", "Panel")
    first, second = Point(200 + half, 300), Point(200 - half, 300)
    edges = [
        Edge("hem", line(Point(0, 0), Point(400, 0)), "hem"),
        Edge("right", line(Point(400, 0), Point(400, 300)), "hem"),
        Edge("top", line(Point(400, 300), first), "waist"),
        Edge("mouth", line(first, second), "dart"),
        Edge("top", line(second, Point(0, 300)), "waist"),
        Edge("left", line(Point(0, 300), Point(0, 0)), "hem"),
    ]
    dart = Dart("dart", Point(*apex), "mouth", "end", "pressed to the left")
    piece(d, "panel", edges, darts=[dart], grain=((40, 40), (40, 260)), label_at=(340, 80))
    d.corner("top over the dart", dart, angle=(100.0, 310.0))
    d.unsewn("top", "bound")
    return d.pattern()


@pytest.mark.parametrize(
    ("apex", "half", "told"),
    [
        ((200, 150), 40.0, set()),
        ((200, 240), 100.0, {"piece.dart-angle"}),
        ((200, 290), 4.0, {"piece.dart-length"}),
    ],
)
def test_a_dart_that_makes_no_smooth_point(apex: Corner, half: float, told: set[str]) -> None:
    found = failing(wide_dart(apex, half))
    assert found & {"piece.dart-angle", "piece.dart-length"} == told


@pytest.mark.parametrize(("wave", "told"), [(7.0, True), (0.3, False)])
def test_a_side_like_a_jigsaw(wave: float, told: bool) -> None:
    """Waves of 20 mm on both sides, which lie on each other."""
    marks = [Point(200 + wave * (i % 2), 10.0 * i) for i in range(31)]
    side = fair_curve(marks, start=Point(0, 1), end=Point(0, 1))
    d = Draft("test.skirt", "Skirt")
    for which in ("f-", "b-"):
        names = ("hem", "side", "waist", "centre")
        roles = ("hem", "seam", "waist", "fold")
        parts = [(which + name, role) for name, role in zip(names, roles, strict=True)]
        edges = outline(parts, [(0, 0), (200, 0), (200, 300), (0, 300)])
        piece(d, which + "half", [edges[0], Edge(which + "side", side), *edges[2:]])
    d.seam("side", "f-side", "b-side")
    d.unsewn(["f-waist", "b-waist"], "faced")
    assert ("piece.tight" in failing(d.pattern())) == told


def test_a_label_in_a_dart() -> None:
    assert failing(darted([], label_at=(100, 250))) == {"outline.label"}
    assert failing(darted([], grain=((100, 170), (100, 290)))) == {"outline.grain"}


def test_an_edge_of_role_dart_is_the_mouth_of_one() -> None:
    dart = Dart("dart", Point(100, 150), "mouth", "end", "pressed to the left")
    again = Dart("again", Point(100, 160), "mouth", "end", "pressed to the left")
    with pytest.raises(PatternError, match="is the mouth of 2 darts"):
        darted([], darts=[dart, again])
    parts = [("a", "hem"), ("b", "dart"), ("c", "hem"), ("d", "hem")]
    with pytest.raises(
        PatternError, match=r"edge 'b' .* is the mouth of 0 darts; give it one Dart"
    ):
        piece(Draft("test.p", "P"), "p", outline(parts, [(0, 0), (200, 0), (200, 300), (0, 300)]))


# -- numbers ----------------------------------------------------------------------------------


@pytest.mark.parametrize("cut", [0, 101, True, 2.0])
def test_a_piece_is_cut_a_few_times(cut: object) -> None:
    d = Draft("test.panel", "Panel")
    parts = [("a", "hem"), ("b", "hem"), ("c", "hem"), ("d", "hem")]
    with pytest.raises(PatternError, match="a whole number from 1 to 100"):
        piece(d, "p", outline(parts, [(0, 0), (200, 0), (200, 300), (0, 300)]), cut=cut)


@pytest.mark.parametrize("times", [0, -1, 1.5, True])
def test_a_girth_is_counted_once_or_more(times: object) -> None:
    with pytest.raises(PatternError, match=r"times of girth 'hip' is .*; give a whole number"):
        Draft("test.panel", "Panel").girth(
            "hip", runs=["a"], body=-480.0, ease=0.0, times=times  # type: ignore[arg-type]
        )  # fmt: skip


# -- what is cut ------------------------------------------------------------------------------


@pytest.mark.parametrize(("wide", "fits"), [(3.0, False), (40.0, True)])
def test_a_slot_narrower_than_its_allowances(wide: float, fits: bool) -> None:
    d = Draft("test.slot", "Slot")
    left, right = 100.0 - wide / 2.0, 100.0 + wide / 2.0
    at = [(0, 0), (200, 0), (200, 300), (right, 300), (right, 180), (left, 180), (left, 300),
          (0, 300)]  # fmt: skip
    names = ("hem", "r", "wr", "sr", "s", "sl", "wl", "l")
    piece(d, "front", outline([(name, "seam") for name in names], at), grain=((40, 40), (40, 260)))
    d.unsewn(list(names), "faced")
    if fits:
        finish_all(d.pattern(), Finish())
        return
    with pytest.raises(
        InputError, match=r"piece front: the allowances of .* reach over one another"
    ):
        finish_all(d.pattern(), Finish())


# -- statements -------------------------------------------------------------------------------


def test_a_fold_is_not_left_open() -> None:
    d = Draft("test.band", "Band")
    parts = [("a", "hem"), ("b", "hem"), ("c", "hem"), ("d", "fold")]
    piece(d, "band", outline(parts, [(0, 0), (200, 0), (200, 300), (0, 300)]))
    with pytest.raises(PatternError, match="edge 'd' is a fold, so it cannot be left open"):
        d.unsewn("d", "left open")
