"""What is measured although nobody promised it: wrong patterns with every promise kept.

Each case is a small skirt, or a bodice and its sleeve, with one fault that its own promises do not
see.  Exactly the results that are about the fault fail.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Sequence

import pytest

from blockwright import (
    Affine,
    Dart,
    Draft,
    Edge,
    Given,
    Guide,
    Notch,
    Note,
    Pattern,
    Piece,
    Point,
    Unit,
    fair_curve,
    line,
    polyline,
    prove,
    roof_between,
)
from blockwright.pattern.pattern import together

HIGH = 300.0


def loop(*at: tuple[float, float]) -> list[Point]:
    return [Point(x, y) for x, y in (*at, at[0])]


def edges(names: Sequence[str], roles: Sequence[str], at: Sequence[Point]) -> list[Edge]:
    return [
        Edge(name, line(a, b), role)  # type: ignore[arg-type]
        for name, role, a, b in zip(names, roles, at[:-1], at[1:], strict=True)
    ]


def half(which: str, *, centre: str = "fold", side: object = None) -> list[Edge]:
    """A half skirt, its centre on the left: hem, side, waist, centre."""
    at = loop((0, 0), (200, 0), (200, HIGH), (0, HIGH))
    names = [f"{which} {name}" for name in ("hem", "side", "waist", "centre")]
    made = edges(names, ("hem", "seam", "waist", centre), at)
    if side is not None:
        made[1] = Edge(names[1], side)  # type: ignore[arg-type]
    return made


def skirt(
    *,
    front: Sequence[Edge] | None = None,
    back: Sequence[Edge] | None = None,
    notches: Iterable[tuple[float, float, int]] = (),
    front_cut: int = 1,
    seam: Callable[[Draft], None] | None = None,
    more: Callable[[Draft], None] = lambda d: None,
    grain: tuple[Point, Point] = (Point(60, 40), Point(60, 260)),
    **on_front: object,
) -> Pattern:
    """Front and back on the fold, sewn at the side; the waist left open."""
    d = Draft("test.skirt", "Skirt")
    at = [(f"hip {i}", *each) for i, each in enumerate(notches)]
    front_edges, back_edges = front or half("front"), back or half("back")
    d.piece(
        "front", front_edges, grain=grain, label_at=Point(120, 150), cut=front_cut,
        notches=[Notch(name, "front side", a) for name, a, _, _ in at], **on_front,
    )  # type: ignore[arg-type]  # fmt: skip
    d.piece(
        "back", back_edges, grain=(Point(60, 40), Point(60, 260)), label_at=Point(120, 150),
        notches=[Notch(name, "back side", b, count) for name, _, b, count in at],
    )  # fmt: skip
    if seam:
        seam(d)
    else:
        d.seam("side", "front side", "back side")
    d.unsewn(["front waist", "back waist"], "left open")
    more(d)
    return d.pattern()


def failing(pattern: Pattern) -> set[str]:
    return {result.code for result in prove(pattern).results if not result.held}


def test_a_right_skirt_shows_nothing() -> None:
    proof = prove(skirt(notches=[(200, 200, 1)]))
    assert proof.held
    assert not proof.warnings


# -- the two sides as they lie sewn -----------------------------------------------------------


def waved(long: float = HIGH) -> object:
    """A side in waves, upright at both ends."""
    marks = [Point(200 + (0, 12, -12, 12, 0)[i], long * i / 4) for i in range(5)]
    return fair_curve(marks, start=Point(0, 1), end=Point(0, 1))


def test_a_wavy_side_on_a_straight_one_as_long() -> None:
    wave = waved()
    top = wave.length  # type: ignore[attr-defined]
    at = loop((0, 0), (200, 0), (200, top), (0, top))
    names = [f"back {name}" for name in ("hem", "side", "waist", "centre")]
    straight = edges(names, ("hem", "seam", "waist", "fold"), at)
    proof = prove(skirt(front=half("front", side=wave), back=straight))
    assert {result.code for result in proof.results if not result.held} == {"seam.bends"}
    assert proof.held
    assert [each.code for each in proof.warnings] == ["seam.bends"]


def test_a_side_in_waves_of_straight_lines() -> None:
    zigzag = polyline([Point(200 + 15 * (i % 2), 30 * i) for i in range(11)])
    top = zigzag.length
    at = loop((0, 0), (200, 0), (200, top), (0, top))
    names = [f"back {name}" for name in ("hem", "side", "waist", "centre")]
    straight = edges(names, ("hem", "seam", "waist", "fold"), at)
    found = failing(skirt(front=half("front", side=zigzag), back=straight))
    assert {"seam.bends", "piece.corner-inside"} <= found


def test_two_wavy_sides_that_lie_on_each_other() -> None:
    assert failing(skirt(front=half("front", side=waved()), back=half("back", side=waved()))) == (
        set()
    )


def test_two_sides_of_one_straight_cut_through_waves() -> None:
    """Beside each other without a gap: one side bulges where the other is hollow."""
    other = waved().moved(Affine.mirror(Point(200, 0), Point(200, 1)))  # type: ignore[attr-defined]
    pattern = skirt(front=half("front", side=waved()), back=half("back", side=other))
    assert failing(pattern) == set()


def test_a_stated_shape_is_printed() -> None:
    wave = waved()
    top = wave.length  # type: ignore[attr-defined]
    at = loop((0, 0), (200, 0), (200, top), (0, top))
    names = [f"back {name}" for name in ("hem", "side", "waist", "centre")]
    straight = edges(names, ("hem", "seam", "waist", "fold"), at)
    shaped = skirt(
        front=half("front", side=wave),
        back=straight,
        seam=lambda d: d.seam("side", "front side", "back side", shaped=True),
    )
    proof = prove(shaped)
    assert not proof.warnings
    assert "stated.shaped" in [reason.code for reason in proof.stated]


@pytest.mark.parametrize("apart", [0.6, -0.6, 300 - 1e-6])
def test_shared_notches_that_do_not_meet(apart: float) -> None:
    at = 0.0 if apart > 200 else 100.0
    proof = prove(skirt(notches=[(at, at + apart, 1)]))
    assert failing(skirt(notches=[(at, at + apart, 1)])) == {"seam.notch"}
    assert not proof.held


def test_shared_notches_within_a_pencil_line() -> None:
    assert failing(skirt(notches=[(100.0, 100.4, 1)])) == set()


def test_shared_notches_of_unlike_ticks() -> None:
    assert failing(skirt(notches=[(100.0, 100.0, 2)])) == {"seam.notch"}


def test_notches_of_an_eased_seam_may_miss_by_the_ease_alone() -> None:
    longer = edges(
        [f"front {name}" for name in ("hem", "side", "waist", "centre")],
        ("hem", "seam", "waist", "fold"), loop((0, 0), (200, 0), (200, 310), (0, 310)),
    )  # fmt: skip

    def eased(d: Draft) -> None:
        d.seam("side", "front side", "back side", ease=10.0)

    assert failing(skirt(front=longer, seam=eased, notches=[(110, 100, 1)])) == set()
    assert failing(skirt(front=longer, seam=eased, notches=[(112, 100, 1)])) == {"seam.notch"}
    assert failing(skirt(front=longer, seam=eased, notches=[(98, 100, 1)])) == {"seam.notch"}


# -- every edge is sewn once --------------------------------------------------------------------


def test_a_back_on_the_fold_with_half_a_front() -> None:
    def half_front(d: Draft) -> None:
        d.unsewn("front centre", "left open")

    pattern = skirt(front=half("front", centre="seam"), more=half_front)
    assert failing(pattern) == {"sewing.copies"}


def test_an_edge_without_a_partner() -> None:
    found = failing(skirt(seam=lambda d: d.seam("side", "front side", Given("side", HIGH))))
    assert found == {"sewing.partner"}


def test_an_edge_in_two_seams() -> None:
    def twice(d: Draft) -> None:
        d.seam("side", "front side", "back side")
        d.seam("side once more", "front side", Given("side", HIGH))

    assert failing(skirt(seam=twice)) == {"sewing.twice"}


@pytest.mark.parametrize(("long", "share"), [(330.0, None), (340.0, 12), (600.0, 50)])
def test_a_side_that_is_gathered_in_is_printed(long: float, share: int | None) -> None:
    """A tenth is eased in; more is gathered."""
    at = loop((0, 0), (200, 0), (200, long), (0, long))
    names = [f"front {name}" for name in ("hem", "side", "waist", "centre")]
    front = edges(names, ("hem", "seam", "waist", "fold"), at)

    def seam(d: Draft) -> None:
        d.seam("side", "front side", "back side", ease=long - HIGH)

    said = [prove(skirt(front=front, seam=seam)).why(each) for each in
            prove(skirt(front=front, seam=seam)).stated]  # fmt: skip
    gathered = f"'side' gathers in {share} % of its longer side"
    assert (gathered in said) == (share is not None)


def test_an_edge_sewn_over_its_seam_is_stated() -> None:
    def over(d: Draft) -> None:
        d.seam("side", "front side", "back side")
        d.seam("tape", "front side", Given("tape", HIGH), over=True)

    pattern = skirt(seam=over)
    assert failing(pattern) == set()
    assert "stated.over" in [reason.code for reason in prove(pattern).stated]


def test_a_front_cut_twice() -> None:
    assert failing(skirt(front_cut=2)) == {"sewing.copies"}


def gored(*, cut: int, angle: float) -> Pattern:
    """Gores that come together in a point at the top, `angle` degrees each."""
    out = HIGH * math.tan(math.radians(angle / 2))
    sides = edges(("hem", "right", "left"), ("hem", "seam", "seam"),
                  loop((-out, 0), (out, 0), (0, HIGH)))  # fmt: skip
    d = Draft("test.gores", "Gores")
    d.piece("gore", sides, grain=(Point(0, 40), Point(0, 150)), label_at=Point(30, 60), cut=cut)
    d.seam("seam", "right", -sides[2])
    d.corner("hem", ("left", "hem"), ("hem", "right"), angle=180.0 - angle)
    return d.pattern()


def test_gores_that_leave_a_gap_at_the_point() -> None:
    assert failing(gored(cut=6, angle=60.0)) == set()
    assert failing(gored(cut=6, angle=58.0)) == {"sewing.corner"}
    assert failing(gored(cut=5, angle=60.0)) == {"sewing.corner"}


# -- bodice and sleeve ---------------------------------------------------------------------------

ARMHOLE = "armhole"


def bodice(*, said: bool = True) -> Draft:
    """One piece of each side with an armhole, sewn under the arm, and open elsewhere."""
    d = Draft("test.bodice", "Bodice", word="bodice")
    for which, way in (("front", 1.0), ("back", -1.0)):
        hollow = fair_curve(
            [Point(way * 200, 200), Point(way * 170, 230), Point(way * 160, 400)],
            start=Point(-way, 0.0), end=Point(0.0, 1.0),
        )  # fmt: skip
        corners = [Point(0, 0), Point(way * 200, 0), hollow.start, hollow.end, Point(0, 400)]
        parts = [
            Edge(f"{which} waist", line(corners[0], corners[1]), "hem"),
            Edge(f"{which} side", line(corners[1], corners[2])),
            Edge(f"{which} armhole", hollow, "armhole"),
            Edge(f"{which} shoulder", line(corners[3], corners[4])),
            Edge(f"{which} centre", line(corners[4], corners[0]), "fold"),
        ]
        if way < 0:
            parts = [Edge(e.name, e.curve.reversed(), e.role) for e in reversed(parts)]
        d.piece(which, parts, grain=(Point(way * 60, 40), Point(way * 60, 300)),
                label_at=Point(way * 90, 150))  # fmt: skip
    d.seam("side", "front side", -Edge("back side", line(Point(0, 0), Point(0, 1))))
    d.seam("shoulder", "front shoulder", -Edge("back shoulder", line(Point(0, 0), Point(0, 1))))
    d.offer(ARMHOLE, ["front armhole", "back armhole"])
    if said:
        d.unsewn(["front armhole", "back armhole"], "left open")
    return d


def sleeve(
    body: Draft,
    *,
    block: str = "test.sleeve",
    up: float = 1.0,
    turned: bool = False,
    alone: bool = False,
    **cut: object,
) -> Pattern:
    """A sleeve whose cap is as long as the armhole; `up` -1 hangs the cap into the sleeve."""
    long = body.offers()[ARMHOLE].length

    def cap(high: float) -> object:
        marks = [Point(150, 400), Point(75, 400 + up * high * 0.55), Point(0, 400 + up * high),
                 Point(-75, 400 + up * high * 0.55), Point(-150, 400)]  # fmt: skip
        return fair_curve(marks, start=Point(-1, 0), end=Point(-1, 0))

    low, high = 10.0, 300.0
    for _ in range(60):
        middle = (low + high) / 2
        low, high = (middle, high) if cap(middle).length < long else (low, middle)  # type: ignore
    top = cap(low)
    parts = [
        Edge("wrist", line(Point(-150, 0), Point(150, 0)), "hem"),
        Edge("front underarm", line(Point(150, 0), Point(150, 400))),
        Edge("cap", top, "armhole"),  # type: ignore[arg-type]
        Edge("back underarm", line(Point(-150, 400), Point(-150, 0))),
    ]
    grain = (Point(60, 40), Point(60, 200))
    d = Draft(block, "Sleeve", word=block.removeprefix("test."), taken=body.offers())
    d.piece("sleeve", parts, grain=grain[::-1] if turned else grain, label_at=Point(0, 120),
            **{"cut": 2, "mirrored": True, **cut})  # type: ignore[arg-type]  # fmt: skip
    d.seam("underarm", "front underarm", -parts[3])
    taken = d.taken(ARMHOLE)
    assert taken
    d.seam(
        "cap to armhole",
        "cap",
        Given("armhole", long) if alone else taken,
        ease=(-0.1, 0.1),
        shaped=True,
    )
    return d.pattern()


def dressed(**how: object) -> Pattern:
    body = bodice(said=False)
    return together([body.pattern(), sleeve(body, **how)])  # type: ignore[arg-type]


def test_a_right_sleeve_in_its_armhole() -> None:
    proof = prove(dressed())
    assert proof.held, proof.broken
    assert not proof.warnings


def test_a_cap_that_hangs_into_the_sleeve() -> None:
    assert "sewing.hangs" in failing(dressed(up=-1.0))


def test_a_cap_that_hangs_into_the_sleeve_drafted_alone() -> None:
    assert "sewing.hangs" in failing(sleeve(bodice(), up=-1.0, alone=True))
    assert failing(sleeve(bodice(), alone=True)) == set()


@pytest.mark.parametrize("cut", [{"cut": 1, "mirrored": False}, {"cut": 2, "mirrored": False},
                                 {"cut": 4, "mirrored": True}])  # fmt: skip
def test_sleeves_that_are_too_few_alike_or_too_many(cut: dict[str, object]) -> None:
    assert failing(dressed(**cut)) == {"sewing.copies"}


def test_two_sleeves_in_one_armhole() -> None:
    body = bodice(said=False)
    both = [sleeve(body), sleeve(body, block="test.other")]
    assert "sewing.twice" in failing(together([body.pattern(), *both]))


def test_a_sleeve_upside_down_on_its_grain() -> None:
    assert failing(dressed(turned=True)) == {"piece.upside-down"}


def test_an_armhole_that_no_block_of_the_set_takes() -> None:
    body, other = bodice(said=False), skirt()
    assert failing(body.pattern()) == set()  # alone it is open
    assert failing(together([body.pattern(), other])) == {"sewing.partner"}
    assert failing(together([bodice().pattern(), other])) == set()


# -- corners ----------------------------------------------------------------------------------


def leaning(which: str, hem_drop: float) -> list[Edge]:
    """A half whose hem falls to the side."""
    at = loop((0, 0), (200, -hem_drop), (200, HIGH), (0, HIGH))
    names = [f"{which} {name}" for name in ("hem", "side", "waist", "centre")]
    return edges(names, ("hem", "seam", "waist", "fold"), at)


def test_a_hem_that_peaks_at_the_seam() -> None:
    drop = 200 * math.tan(math.radians(20))
    proof = prove(skirt(front=leaning("front", drop), back=leaning("back", drop)))
    assert proof.held
    assert {each.code for each in proof.warnings} == {"sewing.corner"}
    found = sorted(each.measured for each in proof.warnings)
    assert found == pytest.approx([140.0, 220.0, 220.0])  # at the side, and at both folds


def test_an_angle_that_is_stated_is_printed() -> None:
    drop = 200 * math.tan(math.radians(20))

    def stated(d: Draft) -> None:
        d.corner("side", ("front hem", "front side"), ("back hem", "back side"), angle=(130, 150))
        for which in ("front", "back"):
            d.corner(f"{which} hem", (f"{which} centre", f"{which} hem"), angle=110.0)

    pattern = skirt(front=leaning("front", drop), back=leaning("back", drop), more=stated)
    proof = prove(pattern)
    assert proof.held
    assert not proof.warnings
    assert sum("stated.angle" in reason.code for reason in proof.stated) == 3


def test_promised_corners_that_do_not_fit_together() -> None:
    """Each corner is promised by itself, 90 and 180 degrees; sewn, they make a notch in the hem."""
    step = Edge("front hem", fair_curve([Point(0, 0), Point(200, -60)], start=Point(1, 0),
                                        end=Point(0, -1)), "hem")  # fmt: skip
    front = half("front")
    front[0] = step
    front[1] = Edge("front side", line(Point(200, -60), Point(200, HIGH)))

    def promise(d: Draft) -> None:
        d.corner("front", ("front hem", "front side"), angle=0.0)
        d.corner("back", ("back hem", "back side"), angle=90.0)

    def eased(d: Draft) -> None:
        d.seam("side", "front side", "back side", ease=60.0)

    found = failing(skirt(front=front, seam=eased, more=promise))
    assert "piece.tip" in found


def darted(apex: Point, *, down: float) -> list[Edge]:
    """A front whose waist has a dart; one side of it ends `down` mm lower."""
    right = line(Point(200, HIGH), Point(120, HIGH - down))
    left = line(Point(80, HIGH - down), Point(0, HIGH))
    front = half("front")
    mouth = roof_between(apex, right, left, "end")
    return [front[0], front[1], Edge("front waist", right, "waist"), Edge("mouth", mouth, "dart"),
            Edge("front waist", left, "waist"), front[3]]  # fmt: skip


def test_a_waist_that_peaks_over_a_closed_dart() -> None:
    apex = Point(100, 150)
    dart = Dart("dart", apex, "mouth", "end", "pressed to the centre")
    good = skirt(front=darted(apex, down=-80 * math.tan(0.1327)), darts=[dart])
    found = failing(skirt(front=darted(apex, down=0.0), darts=[dart]))
    assert "sewing.dart-corner" in found
    over = [each for each in prove(good).results if each.code == "sewing.dart-corner"]
    assert over
    assert abs(over[0].measured - 180.0) < 6.0


# -- a piece by itself ----------------------------------------------------------------------------


def test_a_bent_fold() -> None:
    front = half("front")
    bent = fair_curve([Point(0, HIGH), Point(4, HIGH / 2), Point(0, 0)])
    front[3] = Edge("front centre", bent, "fold")
    assert "piece.fold-straight" in failing(skirt(front=front))


def test_a_piece_beyond_its_own_fold() -> None:
    front = half("front")
    front[0] = Edge("front hem", polyline([Point(0, 0), Point(-20, -20), Point(200, 0)]), "hem")
    assert "piece.fold-straight" in failing(skirt(front=front))


@pytest.mark.parametrize(("turn", "told"), [(0, False), (90, False), (45, False), (10, True)])
def test_a_fold_off_the_grain(turn: float, told: bool) -> None:
    way = Point(0, 80).turned(math.radians(turn))
    middle = Point(90, 150)
    found = failing(skirt(grain=(middle - way, middle + way)))
    assert ("piece.fold-grain" in found) == told


def test_a_kinked_side() -> None:
    kinked = polyline([Point(200, 0), Point(205, 150), Point(200, HIGH)])
    pattern = skirt(front=half("front", side=kinked), back=half("back", side=kinked))
    assert "piece.corner-inside" in failing(pattern)


@pytest.mark.parametrize("where", ["guide", "note"])
def test_a_pocket_30_cm_outside(where: str) -> None:
    guide = Guide("pocket", line(Point(500, 100), Point(500, 200)))
    on: dict[str, object] = {"guides": [guide]}
    if where == "note":
        on = {"notes": [Note(Point(500, 100), "pocket")]}
    assert failing(skirt(**on)) == {"piece.lines"}  # type: ignore[arg-type]


@pytest.mark.parametrize(("past", "told"), [(0.4, False), (0.7, True)])
def test_a_guide_that_ends_on_the_outline(past: float, told: bool) -> None:
    guide = Guide("hip line", line(Point(0, 200), Point(200 + past, 200)))
    assert (failing(skirt(guides=[guide])) == {"piece.lines"}) == told


def test_a_sliver() -> None:
    d = Draft("test.strip", "Strip")
    d.piece("strip", edges(("a", "b", "c", "d"), ("hem",) * 4, loop((0, 0), (300, 0), (300, 5),
            (0, 5))), grain=(Point(20, 2), Point(280, 2)), label_at=Point(150, 2))  # fmt: skip
    assert failing(d.pattern()) == {"piece.narrow"}


def test_a_sharp_tip() -> None:
    d = Draft("test.pennant", "Pennant")
    tip = edges(("a", "b", "c"), ("hem",) * 3, loop((0, 0), (600, 40), (0, 80)))
    d.piece("pennant", tip, grain=(Point(20, 40), Point(200, 40)), label_at=Point(100, 40))
    assert failing(d.pattern()) == {"piece.tip"}


def test_two_pieces_of_one_seam_with_their_grain_against_each_other() -> None:
    down = Point(60, 260), Point(60, 40)
    assert failing(skirt(grain=down)) == {"sewing.upside-down"}


def test_an_unsound_outline_is_told_alone() -> None:
    front = half("front")
    front[3] = Edge("front centre", line(Point(0, HIGH), Point(0, 5)), "fold")
    assert failing(skirt(front=front)) == {"outline.closes"}


def test_pieces_know_nothing_of_the_recipe() -> None:
    """The same results come from the pattern alone, without the draft that made it."""
    pattern = skirt(notches=[(100, 140, 1)])
    again = Pattern(
        pattern.block, pattern.title, tuple(Piece(**{f: getattr(p, f) for f in p.__slots__})
        for p in pattern.pieces), pattern.promises, origins=pattern.origins,
    )  # fmt: skip
    assert failing(again) == {"seam.notch"}


def test_a_pattern_of_no_piece_is_not_proved() -> None:
    assert not prove(Draft("test.nothing", "Nothing").pattern()).held


def test_a_drawing_of_which_nothing_is_promised_says_so() -> None:
    drawn = Pattern("test.read", "Read", skirt().pieces)
    said = prove(drawn).text(Unit.CM).splitlines()[-1]
    assert said == "test.read: all 10 checks of its pieces held; no seam is promised"


def test_results_stand_in_one_order() -> None:
    """That of the notches along the seam, whatever order a set of their names has."""
    apart = [(40.0 * i, 40.0 * i + 5.0, 1) for i in range(1, 7)]
    results = prove(skirt(notches=apart)).results
    found = [each.values["notch"] for each in results if each.code == "seam.notch"]
    assert found == [f"hip {i}" for i in range(6)]
