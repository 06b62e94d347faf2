"""Slips of an author: accepted where the meaning is plain, told in one clear line where not."""

from __future__ import annotations

import math
from collections.abc import Callable

import numpy as np
import pytest

from blockwright import (
    Across,
    Affine,
    Draft,
    Edge,
    Given,
    InputError,
    Pattern,
    PatternError,
    Piece,
    Stretch,
    Taken,
    draft,
    line,
    polyline,
)
from blockwright.testing import Body
from promised import prove_promised as prove

HEM = Edge("hem", line((0, 0), (200, 0)), "hem")
SIDE = Edge("side", line((200, 0), (200, 300)))
TOP = Edge("top", line((200, 300), (0, 300)), "waist")
FOLD = Edge("fold", line((0, 300), (0, 0)), "fold")
EDGES = [HEM, SIDE, TOP, FOLD]


def table() -> Draft:
    """An oblong, 200 mm by 300."""
    d = Draft("test.oblong", "Oblong")
    d.piece("oblong", EDGES)
    return d


# -- amounts ------------------------------------------------------------------------------------

NUMBER = "give mm as a number"
EASES = [
    ("2 cm", r"is '2 cm'; give mm as a number, 20\.0$"),
    ("a bit", f"is 'a bit'; {NUMBER}, such as 20.0$"),
    (None, f"is None; {NUMBER}, such as 20.0$"),
    (math.nan, f"is nan; {NUMBER}"),
    (math.inf, f"is inf; {NUMBER}"),
    ((1.0, 2.0, 3.0), rf"is \(1.0, 2.0, 3.0\); {NUMBER}.*or the least and the greatest: \(low, h"),
    ((), rf"is \(\); {NUMBER}"),
    (("1 cm", "2 cm"), rf"is \('1 cm', '2 cm'\); {NUMBER}, 10.0, or the least"),
    ((0.0, math.nan), rf"is \(0.0, nan\); {NUMBER}"),
    ((math.inf, math.inf), "give at least one finite end"),
    ((2.0, 1.0), r"\(2, 1\) is upside down; write the least first"),
]


@pytest.mark.parametrize(("ease", "says"), EASES)
def test_an_ease_is_a_number_or_a_range(ease: object, says: str) -> None:
    given = Given("other", 300.0)
    for what, promised in {
        "ease of seam 'x'": lambda d: d.seam("x", SIDE, given, ease=ease),
        "last of seam 'x'": lambda d: d.seam("x", SIDE, given, last=ease),
        "ease of seam 'x' up to 'n'": lambda d: d.seam(
            "x", SIDE, given, stretches=[Stretch("n", ease)]
        ),
        "ease of girth 'x'": lambda d: d.girth("x", body=200.0, ease=ease, runs=[HEM]),
        "ease of measure 'x'": lambda d: d.measure("x", length=200.0, ease=ease, runs=[HEM]),
    }.items():
        if ease is None and what.startswith("last"):
            continue  # no ease is promised after the last notch
        with pytest.raises(PatternError, match=says) as slip:
            promised(table())
        assert str(slip.value).startswith(what)
        assert "\n" not in str(slip.value)


@pytest.mark.parametrize(
    ("promised", "says"),
    [
        (lambda d: d.girth("x", body="92 cm", ease=0.0, runs=[HEM]), "body of girth 'x' is '92 cm"),
        (
            lambda d: d.measure("x", length=math.nan, runs=[HEM]),
            "length of measure 'x' is nan; giv",
        ),
        (
            lambda d: d.level("x", HEM, (0, 0), within="2"),
            "within of level 'x' is '2'; give degree",
        ),
        (lambda d: d.level("x", HEM, "left", within=2.0), "level 'x': at is 'left'; give a Poi"),
        (lambda d: d.shape("x", HEM, bends=0.5), "bends of shape 'x' is 0.5; give a whole number"),
        (lambda d: d.shape("x", HEM, bends=0, toward="up"), "shape 'x': toward is 'up'; give a Po"),
        (lambda d: d.through("x", HEM, [(0, 0)]), r"type tuple is no mark; .*d\.mark\(name, at, r"),
        (lambda d: d.seam("x", SIDE, SIDE, stretches=["n"]), "type str; give Stretch"),
        (lambda d: d.girth("x", body=1.0, ease=0.0, spans=[HEM]), "type Edge is no span; give its"),
        (lambda d: d.girth("x", body=1.0, ease=0.0, levels=[HEM]), "type Edge is no level; give A"),
        (lambda d: d.girth("x", body=1.0, ease=0.0, runs=3.0), "type float is no edge"),
        (
            lambda d: d.piece("more", [Edge("-hem", HEM.curve)]),
            "edge '-hem' begins with '-', which walks an edge backwards .*; give it another name",
        ),
    ],
)
def test_other_slips_are_told(promised: Callable[[Draft], object], says: str) -> None:
    with pytest.raises(PatternError, match=says) as slip:
        promised(table())
    assert "\n" not in str(slip.value)


# -- one where several are meant, a name where an edge is meant -----------------------------------


def same(written: Callable[[Draft], object], meant: Callable[[Draft], object]) -> bool:
    """Whether two ways to write a promise are the same promise, and it holds."""
    one, other = table(), table()
    written(one)
    meant(other)
    assert prove(one.pattern()).held
    return one.pattern().promises == other.pattern().promises


def test_one_run_span_or_level_needs_no_list() -> None:
    def hem(runs: object) -> Callable[[Draft], None]:
        return lambda d: d.girth("x", body=200.0, ease=0.0, runs=runs)

    for runs in ("hem", HEM, -HEM, ["hem"], ("hem",), [["hem"]]):
        turned = -HEM if runs == -HEM else HEM
        assert same(hem(runs), hem([[turned]]))
    span = (("fold", "hem"), (HEM, SIDE))

    def across(spans: object) -> Callable[[Draft], None]:
        return lambda d: d.girth("x", body=200.0, ease=0.0, spans=spans)

    assert same(across(span), across([span]))

    def level(levels: object) -> Callable[[Draft], None]:
        return lambda d: d.girth("x", body=200.0, ease=0.0, levels=levels)

    middle = Across("oblong", line((50, 150), (150, 150)))
    assert same(level(middle), level([middle]))


def test_a_name_with_a_minus_is_an_edge_walked_backwards() -> None:
    given = Given("other", 500.0)
    assert same(
        lambda d: d.seam("x", ["-top", "-side"], given),
        lambda d: d.seam("x", [-TOP, -SIDE], given),
    )
    assert same(lambda d: d.seam("x", "-top", -HEM), lambda d: d.seam("x", -TOP, "-hem"))


def test_numbers_of_numpy_and_lists_are_eases() -> None:
    given = Given("other", 290.0)
    for ease in (np.float64(10.0), [10.0, 10.0], (np.int64(10), 10.0)):
        assert same(
            lambda d, ease=ease: d.seam("x", SIDE, given, ease=ease),
            lambda d: d.seam("x", SIDE, given, ease=10.0),
        )


# -- mirrored --------------------------------------------------------------------------------------


def test_a_piece_is_not_mirrored_by_moving_it() -> None:
    (piece,) = table().pattern().pieces
    assert isinstance(piece.moved(Affine.turn(1.0)), Piece)
    with pytest.raises(PatternError, match=r"'oblong' cannot be mirrored.*cut=2, mirrored=True"):
        piece.moved(Affine.mirror(HEM.curve.start, FOLD.curve.start))


# -- offers ----------------------------------------------------------------------------------------


def test_an_offer_that_is_not_declared_is_told_when_it_is_drafted() -> None:
    d = Draft("test.oblong", "Oblong", offers=("side edge", "waist edge"))
    with pytest.raises(PatternError, match=r"offers 'wast edge', .* did you mean waist edge\?"):
        d.offer("wast edge", TOP)
    d.offer("waist edge", TOP)
    with pytest.raises(PatternError, match="but its offers declare nothing; write 'top' there"):
        Draft("test.oblong", "Oblong", offers=()).offer("top", TOP)


def oblong_block(name: str, wide: float) -> type:
    """A block that offers its waist edge."""
    from blockwright import Block

    class Oblong(Block):
        """An oblong that offers its top."""

        key, title, offers = f"{name}.plain", name, ("waist edge",)

        def draft(self, d: Draft) -> None:
            at = [(0, 0), (wide, 0), (wide, 300), (0, 300), (0, 0)]
            top = Edge(f"{name} top", line(at[2], at[3]), "waist")
            rest = [Edge(f"{name} {i}", line(at[i], at[i + 1])) for i in (0, 1, 3)]
            d.piece(name, [*rest[:2], top, rest[2]])
            d.offer("waist edge", top)

    return Oblong


def band_block(of: str) -> type:
    """A block that is sewn to the waist edge of one of them."""
    from blockwright import Block

    class Band(Block):
        """A band that says whose waist it takes."""

        key, title, takes = "band.plain", "Band", ("waist edge",)

        def draft(self, d: Draft) -> None:
            taken = d.taken("waist edge", of=of)
            wide = taken.length if taken else 100.0
            at = [(0, 0), (wide, 0), (wide, 40), (0, 40), (0, 0)]
            d.piece("band", [Edge("long", line(*at[:2])), Edge("rest", polyline(at[1:]))])
            if taken:
                d.seam("waist", "-long", taken)

    return Band


def drafted(of: str) -> Pattern:
    blocks = [band_block(of), oblong_block("skirt", 200.0), oblong_block("shorts", 150.0)]
    return draft(blocks, Body("survey:female-17").sheet)


@pytest.mark.parametrize(("of", "wide"), [("skirt.plain", 200.0), ("shorts.plain", 150.0)])
def test_a_block_says_whose_run_it_takes(of: str, wide: float) -> None:
    pattern = drafted(of)
    assert prove(pattern).held
    assert [(each.name, each.says) for each in pattern.sources] == [
        ("waist edge", f"walked on {of}")
    ]
    (seam,) = (promise for promise in pattern.promises if promise.name == "waist")
    assert seam.sewn[1][0].edge.block == of
    assert pattern.piece("band").length("long") == pytest.approx(wide)
    # In the pattern of the set both runs are kept, each under its block.
    assert [*pattern.offers] == ["skirt.plain: waist edge", "shorts.plain: waist edge"]
    beside = draft([*map(oblong_block, ("skirt", "shorts"), (200.0, 150.0))],
                   Body("survey:female-17").sheet)  # fmt: skip
    later = draft(band_block(of), Body("survey:female-17").sheet, beside=beside)
    assert later.piece("band").length("long") == pytest.approx(wide)


def test_two_that_offer_it_are_both_named_where_the_block_does_not_say_whose() -> None:
    with pytest.raises(InputError, match=r"skirt\.plain and shorts\.plain both offer the waist e"):
        drafted("")
    assert drafted("cape.plain").piece("band").length("long") == 100.0


def test_a_draft_by_hand_takes_from_a_list_of_runs() -> None:
    runs = [Taken("waist", (), long, {}, block) for block, long in (("a.b", 1.0), ("c.d", 2.0))]
    d = Draft("test.band", "Band", taken=runs)
    taken = d.taken("waist", of="c.d")
    assert taken is not None
    assert taken.length == 2.0
    assert d.taken("hem") is None
