"""Every promise of the trousers holds as drafted and breaks when its piece is bent."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import pytest
from bending import (
    end_moved,
    every_stretch,
    handle_moved,
    notch_moved,
    stretched,
    told,
    with_edge,
)
from trousers_samples import MIDDLING, drafted

from blockwright import Affine, Pattern, Point, polyline
from promised import prove_promised as prove

SETTINGS = {"front_curve": "3 cm"}


@pytest.fixture(scope="module")
def trousers() -> Pattern:
    pattern, proof = drafted(MIDDLING, **SETTINGS)
    assert proof.held, list(proof.broken)
    return pattern


def broken(pattern: Pattern) -> set[tuple]:
    return {told(result) for result in prove(pattern).broken}


def bends(pattern: Pattern) -> Iterator[Pattern]:
    """A millimetre or two wrong in one place each."""
    for piece in pattern.pieces:
        for edge, i in every_stretch(piece):
            if edge.role == "dart":
                continue  # the mouth is cut off when the dart is sewn: nothing hangs on it
            yield stretched(pattern, edge.name, stretch=i)
            for which in ("start", "end"):
                # Handles of the straight leg are 15 cm long: half a degree is 1.3 mm.
                yield handle_moved(pattern, edge.name, which, by=2.0, stretch=i)
        for notch in piece.notches:
            yield _notch_moved(pattern, piece.name, notch.name)
        for i in range(len(piece.darts)):
            yield apex_moved(pattern, piece.name, i, Point(1.0, 0.0))


def _notch_moved(pattern: Pattern, piece: str, notch: str) -> Pattern:
    """The notch on one piece only: its partner on the other has the same name."""
    one = pattern.piece(piece)
    return pattern.with_piece(notch_moved(replace(pattern, pieces=(one,)), notch).pieces[0])


def apex_moved(pattern: Pattern, name: str, i: int, step: Point) -> Pattern:
    piece = pattern.piece(name)
    darts = list(piece.darts)
    darts[i] = replace(darts[i], apex=darts[i].apex + step)
    return pattern.with_piece(replace(piece, darts=tuple(darts)))


def test_every_promise_breaks(trousers) -> None:
    caught: set[tuple] = set()
    for bent in bends(trousers):
        found = broken(bent)
        assert found
        caught |= found
    for name in ("front", "back"):
        caught |= broken(end_moved(trousers, f"{name} hem", "start", (1.0, 0.0)))
        # A hem that runs through the waist.
        hem = trousers.edge(f"{name} hem").curve
        far = polyline([hem.start, Point(hem.start.x * 0.5, 300.0), hem.end])
        caught |= broken(with_edge(trousers, f"{name} hem", far))
        caught |= broken(apex_moved(trousers, name, 0, Point(0.0, -2000.0)))
        once = replace(trousers.piece(name), cut=1, mirrored=False)
        caught |= broken(trousers.with_piece(once))
    caught |= broken(moved(trousers, "front inside leg", -100.0))
    caught |= broken(moved(trousers, "front crotch", 1.0))
    for bent in far_bent(trousers):
        caught |= broken(bent)
    promised = {told(result) for result in prove(trousers).results}
    assert promised - caught == set()


def far_bent(pattern: Pattern) -> Iterator[Pattern]:
    """So far wrong that it leaves a range: several centimetres, or the wrong way round."""
    for name, i in (("front side", None), ("front inside leg", None), ("front waist", 0)):
        yield stretched(pattern, name, by=60.0, stretch=i)
    for name, step in (("front side", -50.0), ("back inside leg", 75.0)):
        yield moved(pattern, name, step)
    for piece in pattern.pieces:
        yield pattern.with_piece(replace(piece, label_at=Point(9000.0, 0.0)))
        over = Affine.mirror(Point(0.0, 0.0), Point(0.0, 1.0))
        turned = [replace(edge, curve=edge.curve.moved(over)) for edge in piece.edges]
        yield pattern.with_piece(replace(piece, edges=tuple(turned)))
        for seam in ("crotch", "inside leg"):
            curve = pattern.edge(f"{piece.name} {seam}").curve
            # On past its end, and back to it.
            past = curve.end + curve.end_tangent * 50.0
            yield with_edge(
                pattern, f"{piece.name} {seam}", polyline([curve.start, past, curve.end])
            )
    # The centre back spiked up.
    yield end_moved(pattern, "back waist", "end", (0.0, 80.0))
    top = pattern.stretches("back waist")[-1].curve
    spiked = polyline([top.start, top.end + Point(0.0, 80.0)])
    yield with_edge(pattern, "back waist", spiked, -1)


def moved(pattern: Pattern, edge: str, step: float) -> Pattern:
    """An edge carried bodily to the right."""
    return with_edge(pattern, edge, pattern.edge(edge).curve.moved(Affine.move(Point(step, 0.0))))


@pytest.mark.parametrize(
    ("edge", "stretch", "promise"),
    [
        ("front crotch", None, ("length", "seat seam")),
        ("back crotch", None, ("length", "seat seam")),
        ("front side", None, ("seam", "side")),
        ("back side", None, ("seam.stretch", "side", "", "hip notch")),
        ("back inside leg", None, ("seam", "inside leg")),
        ("front waist", 0, ("girth", "waist")),  # at the centre
        ("front waist", 1, ("girth", "waist")),
        ("back waist", 0, ("girth", "waist")),
        ("back waist", 1, ("girth", "waist")),  # between its darts
        ("back waist", 2, ("girth", "waist")),
        ("back hem", None, ("girth", "hem")),
    ],
)
def test_a_longer_edge_is_caught(trousers, edge: str, stretch: int | None, promise) -> None:
    assert promise in broken(stretched(trousers, edge, stretch=stretch))


@pytest.mark.parametrize(
    ("edge", "stretch", "which", "corner"),
    [
        ("front crotch", None, "start", "seat seam over the inside leg"),
        ("back inside leg", None, "start", "seat seam over the inside leg"),
        ("front crotch", None, "end", "waist at the centre front"),
        ("back waist", 2, "end", "waist at the centre back"),
        ("front side", None, "start", "waist at the side"),
        ("back waist", 0, "start", "waist at the side"),
        ("front waist", 1, "start", "waist over the front dart"),
        ("back waist", 1, "end", "waist over the back dart 1"),
        ("back waist", 1, "start", "waist over the back dart 2"),
        ("front hem", None, "start", "hem at the side"),
        ("back hem", None, "start", "hem at the inside leg"),
    ],
)
def test_a_turned_end_is_caught(
    trousers, edge: str, stretch: int | None, which: str, corner: str
) -> None:
    turned = handle_moved(trousers, edge, which, by=2.0, stretch=stretch)
    assert ("corner", corner) in broken(turned)


@pytest.mark.parametrize(
    ("edge", "step", "promise"),
    [
        ("front side", 1.0, ("girth", "hip")),
        ("back side", -1.0, ("girth", "hip")),
        ("back inside leg", 1.0, ("girth", "knee")),
        ("front inside leg", -90.0, ("girth", "thigh")),
        ("front side", -50.0, ("girth", "front hip")),
        ("back inside leg", 75.0, ("girth", "back thigh over front thigh")),
        ("front crotch", 1.0, ("through", "front crotch through its mark")),
    ],
)
def test_a_moved_edge_is_caught(trousers, edge: str, step: float, promise) -> None:
    assert promise in broken(moved(trousers, edge, step))
