"""Every promise of the bodices holds on the pieces as drafted and breaks when they are bent."""

from __future__ import annotations

from dataclasses import replace

import pytest
from bending import end_moved, handle_moved, stretched, told, with_edge
from bodice_samples import BODY, drafted

from blockwright import Affine, Pattern, Point, line, polyline
from blockwright.pattern.promises.girth import Girth
from blockwright_bodice.easy import EasyBodice
from blockwright_bodice.fitted import FittedBodice
from promised import prove_promised as prove

BENT = 1.0  # mm


@pytest.fixture(scope="module")
def fitted() -> Pattern:
    pattern, proof = drafted(FittedBodice, BODY)
    assert proof.held
    return pattern


@pytest.fixture(scope="module")
def easy() -> Pattern:
    pattern, proof = drafted(EasyBodice, BODY)
    assert proof.held
    return pattern


def broken(pattern: Pattern) -> set[tuple[str, ...]]:
    return {told(result) for result in prove(pattern).broken}


def apex_moved(pattern: Pattern, name: str, step: Point) -> Pattern:
    """The point of one dart carried away."""
    piece = next(p for p in pattern.pieces if any(d.name == name for d in p.darts))
    darts = tuple(replace(d, apex=d.apex + step) if d.name == name else d for d in piece.darts)
    return pattern.with_piece(replace(piece, darts=darts))


def taken_in(pattern: Pattern, piece: str, by: float = BENT) -> Pattern:
    """All edges of a piece but its fold carried toward the fold."""
    found = pattern.piece(piece)
    step = Point(-by if piece == "back" else by, 0.0)
    edges = tuple(
        e if e.role == "fold" else replace(e, curve=e.curve.moved(Affine.move(step)))
        for e in found.edges
    )
    return pattern.with_piece(replace(found, edges=edges))


def narrowed(pattern: Pattern, edge: str, by: float = BENT) -> Pattern:
    """A straight side seam moved toward the fold, whole."""
    step = Point(-by if edge.startswith("back") else by, 0.0)
    return with_edge(pattern, edge, pattern.edge(edge).curve.moved(Affine.move(step)))


def dented(pattern: Pattern, name: str) -> Pattern:
    """The middle of an edge pushed over to the other side: one bend more."""
    return stretched(pattern, name, 30.0 * BENT)


def carried_out(pattern: Pattern, piece: str, name: str) -> Pattern:
    """A dart's point carried far out of its piece, over the fold."""
    return apex_moved(pattern, name, Point(-400.0 if piece == "back" else 400.0, 0.0))


def turned_over(pattern: Pattern, piece: str) -> Pattern:
    """A piece mirrored without turning its edges round."""
    found = pattern.piece(piece)
    edges = tuple(replace(e, curve=e.curve.moved(Affine(a=-1.0))) for e in found.edges)
    return pattern.with_piece(replace(found, edges=edges))


def shrunk(pattern: Pattern, *names: str) -> Pattern:
    """Edges at a fourth of their size."""
    for name in names:
        curve = pattern.edge(name).curve
        pattern = with_edge(pattern, name, curve.moved(Affine.scale(0.25, curve.start)))
    return pattern


def middle_over(pattern: Pattern, name: str) -> Pattern:
    """The middle of an armhole carried over the fold of its piece."""
    curve = pattern.edge(name).curve
    a, b = curve.split_at(curve.length / 2.0)
    over = Point(-3.0 * a.end.x, a.end.y)
    return with_edge(pattern, name, polyline([a.start, over, b.end]))


FITTED = {
    # Seams and widths along edges: a millimetre longer.
    ("seam", "shoulder"): lambda p: stretched(p, "front shoulder"),
    ("seam", "side"): lambda p: stretched(p, "back side"),
    ("girth", "neck"): lambda p: stretched(p, "front neck", BENT),
    ("girth", "waist"): lambda p: stretched(p, "back waist", stretch=1),
    # Widths across.
    ("girth", "bust"): lambda p: narrowed(p, "back side"),
    ("girth", "across back"): lambda p: taken_in(p, "back", 25.0),
    ("girth", "across front"): lambda p: taken_in(p, "front", 25.0),
    # Corners: a handle turned.
    ("corner", "neck over the shoulder"): lambda p: handle_moved(p, "back neck", "start"),
    ("corner", "armhole over the shoulder"): lambda p: handle_moved(p, "front armhole", "start"),
    ("corner", "armhole under the arm"): lambda p: handle_moved(p, "back armhole", "start"),
    ("corner", "waist over the side seam"): lambda p: handle_moved(p, "front waist", "start"),
    ("corner", "back shoulder over the shoulder dart"): lambda p: handle_moved(
        p, "back shoulder", "start", stretch=1
    ),
    ("corner", "front side over the bust dart"): lambda p: handle_moved(
        p, "front side", "end", stretch=0
    ),
    ("corner", "back waist over the back waist dart"): lambda p: handle_moved(
        p, "back waist", "start", stretch=1
    ),
    ("corner", "front waist over the front waist dart"): lambda p: handle_moved(
        p, "front waist", "start", stretch=1
    ),
    ("corner", "neck at the centre front, square"): lambda p: handle_moved(
        p, "front neck", "start"
    ),
    ("corner", "neck at the centre back, square"): lambda p: handle_moved(p, "back neck", "end"),
    ("corner", "waist at the centre back, square"): lambda p: handle_moved(
        p, "back waist", "start"
    ),
    ("corner", "waist at the centre front, square"): lambda p: handle_moved(
        p, "front waist", "end"
    ),
    # Darts: a point moved across, so that one leg is longer.
    **{
        ("dart-legs", name, piece): lambda p, name=name: apex_moved(p, name, Point(3.0, 3.0))
        for name, piece in (
            ("back waist dart", "back"),
            ("shoulder dart", "back"),
            ("front waist dart", "front"),
            ("bust dart", "front"),
        )
    },
    ("outline.darts", "back"): lambda p: carried_out(p, "back", "back waist dart"),
    ("outline.darts", "front"): lambda p: carried_out(p, "front", "front waist dart"),
    ("length", "finished shoulder"): lambda p: stretched(p, "front shoulder", 60.0),
    ("length", "centre back"): lambda p: stretched(p, "centre back"),
    ("girth", "armhole round the upper arm"): lambda p: shrunk(p, "front armhole", "back armhole"),
    # Outlines.
    ("outline.closes", "back"): lambda p: end_moved(p, "back waist", "start", (0.0, -BENT)),
    ("outline.closes", "front"): lambda p: end_moved(p, "front neck", "start", (BENT, 0.0)),
    ("outline.simple", "back"): lambda p: middle_over(p, "back armhole"),
    ("outline.simple", "front"): lambda p: middle_over(p, "front armhole"),
    **{
        ("outline.counter-clockwise", piece): lambda p, piece=piece: turned_over(p, piece)
        for piece in ("back", "front")
    },
    **{
        ("outline.label", piece): lambda p, piece=piece: p.with_piece(
            replace(p.piece(piece), label_at=Point(0.0, 900.0))
        )
        for piece in ("back", "front")
    },
    **{
        ("outline.grain", piece): lambda p, piece=piece: p.with_piece(
            replace(p.piece(piece), grain=(p.piece(piece).grain[0], Point(0.0, 900.0)))
        )
        for piece in ("back", "front")
    },
    # Shapes.
    **{
        ("shape.bends", name): lambda p, name=name: dented(p, name)
        for name in ("front neck", "back neck", "front armhole", "back armhole")
    },
}
EASY = {
    ("length", "finished shoulder"): lambda p: stretched(p, "front shoulder", 60.0),
    ("girth", "chest"): lambda p: narrowed(p, "front side"),
    ("girth", "waist"): lambda p: stretched(p, "front waist"),
    ("girth", "across front"): lambda p: taken_in(p, "front", 40.0),
    ("seam", "shoulder"): lambda p: stretched(p, "back shoulder"),
}


@pytest.mark.parametrize("name", FITTED, ids=" ".join)
def test_a_bent_piece_breaks_its_promise(fitted: Pattern, name: tuple[str, ...]) -> None:
    assert name in broken(FITTED[name](fitted))


@pytest.mark.parametrize("name", EASY, ids=" ".join)
def test_a_bent_easy_piece_breaks_its_promise(easy: Pattern, name: tuple[str, ...]) -> None:
    assert name in broken(EASY[name](easy))


def test_every_promise_of_the_fitted_bodice_is_bent_here(fitted: Pattern) -> None:
    assert {told(result) for result in prove(fitted).results} == set(FITTED)


def test_every_kind_the_easy_bodice_adds_is_bent_here(easy: Pattern) -> None:
    promised = {told(result) for result in prove(easy).results}
    assert promised - set(FITTED) == {("girth", "chest")}


def test_an_eased_shoulder_is_promised_its_ease() -> None:
    pattern, proof = drafted(FittedBodice, BODY, back_shoulder="ease")
    (result,) = [each for each in proof.results if told(each) == ("seam", "shoulder")]
    assert result.wanted == (6.0, 6.0)
    assert ("seam", "shoulder") in broken(stretched(pattern, "back shoulder", 0.2))
    assert not broken(stretched(pattern, "back shoulder", 0.05))


@pytest.mark.parametrize("stretch", [0, 1])
def test_a_bust_dart_at_the_shoulder_is_promised_as_well(stretch: int) -> None:
    pattern, proof = drafted(FittedBodice, BODY, bust_dart="shoulder")
    assert proof.held
    longer = stretched(pattern, "front shoulder", stretch=stretch)
    assert broken(longer) >= {("seam", "shoulder")}
    turned = handle_moved(pattern, "front shoulder", "start", stretch=1)
    assert ("corner", "front shoulder over the bust dart") in broken(turned)


@pytest.mark.parametrize("stretch", [0, 1])
@pytest.mark.parametrize(
    ("edge", "promise"),
    [
        ("back waist", ("girth", "waist")),
        ("front waist", ("girth", "waist")),
        ("front side", ("seam", "side")),
        ("back shoulder", ("seam", "shoulder")),
    ],
)
def test_an_edge_is_measured_on_both_sides_of_its_dart(fitted, edge, stretch, promise) -> None:
    assert promise in broken(stretched(fitted, edge, 0.2, stretch))
    assert promise not in broken(stretched(fitted, edge, 0.02, stretch))


@pytest.mark.parametrize(("by", "caught"), [(0.04, False), (0.06, True)])
def test_a_tenth_of_a_millimetre_round_the_bust_is_the_edge(fitted, by, caught) -> None:
    """The back's side moved in counts twice, since it is cut on the fold."""
    bent = narrowed(fitted, "back side", by)
    assert (("girth", "bust") in broken(bent)) is caught


def test_the_bust_is_measured_where_the_dart_is_closed(fitted: Pattern) -> None:
    """The level goes over the bust dart: cloth between its legs is not counted."""
    piece = fitted.piece("front")
    (guide,) = [each for each in piece.guides if each.name == "bust line"]
    straight = line(guide.curve.start, Point(guide.curve.end.x, guide.curve.start.y))
    girth = next(p for p in fitted.promises if isinstance(p, Girth) and p.name == "bust")
    levels = tuple(
        replace(level, parts=(straight,)) if level.piece == piece.ref else level
        for level in girth.levels
    )
    promises = tuple(replace(p, levels=levels) if p is girth else p for p in fitted.promises)
    assert broken(replace(fitted, promises=promises)) == {("girth", "bust")}
