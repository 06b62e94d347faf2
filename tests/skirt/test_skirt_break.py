"""Every promise of a skirt breaks when its piece is bent in some way."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace

import pytest
from bending import (
    end_moved,
    every_stretch,
    handle_moved,
    joint_turned,
    notch_moved,
    stretched,
    told,
    with_edge,
)
from skirt_samples import BODY, HANDOUT, drafted

from blockwright import Affine, Curve, Pattern, PatternError, Point
from blockwright_skirt.circle import CircleSkirt
from blockwright_skirt.flared import FlaredSkirt
from blockwright_skirt.gored import GoredSkirt
from blockwright_skirt.straight import StraightSkirt
from parts import thinned
from promised import prove_promised as prove

SKIRTS = [
    (StraightSkirt, {}),
    (StraightSkirt, HANDOUT),
    (FlaredSkirt, {}),
    (FlaredSkirt, {"closed": "0.5"}),
    (CircleSkirt, {}),
    (GoredSkirt, {}),
]


def bends(pattern: Pattern) -> Iterator[Pattern]:
    """A pattern bent in one place at a time, by a few millimetres or, to cross itself, by far."""
    for piece in pattern.pieces:
        yield pattern.with_piece(replace(piece, cut=1, mirrored=False))
        for edge, i in every_stretch(piece):
            for end in ("start", "end"):
                yield handle_moved(pattern, edge.name, end, 3.0, i)
                yield end_moved(pattern, edge.name, end, (0.0, 3.0), i)
            for piece_of_curve in range(1, len(edge.curve.control)):
                yield joint_turned(pattern, edge.name, piece_of_curve, stretch=i)
            yield stretched(pattern, edge.name, stretch=i)
            yield stretched(pattern, edge.name, 20.0, i)
            yield with_edge(pattern, edge.name, edge.curve.moved(Affine(e=25.0)), i)
            yield with_edge(pattern, edge.name, carried_far(edge.curve), i)
        for dart in piece.darts:
            for step in (Point(8.0, 0.0), Point(0.0, -3000.0)):
                darts = [replace(d, apex=d.apex + step) if d is dart else d for d in piece.darts]
                yield pattern.with_piece(replace(piece, darts=tuple(darts)))
    for name in {notch.name for piece in pattern.pieces for notch in piece.notches}:
        yield notch_moved(pattern, name)


def carried_far(curve: Curve) -> Curve:
    """The ends stay, what is between is carried far over the opposite edge."""
    control = curve.control.copy()
    first, last = Point(*control[0, 0]), Point(*control[-1, 3])
    away = [*((last - first).unit().left() * 3000.0)]
    middle = (control[0, 0] + control[-1, 3]) / 2.0 + away
    return Curve([[control[0, 0], middle, middle, control[-1, 3]]])


@pytest.mark.parametrize(
    ("block", "settings"), thinned(SKIRTS), ids=lambda value: getattr(value, "key", None)
)
def test_every_promise_can_break(block, settings) -> None:
    pattern, proof = drafted(block, BODY, **settings)
    assert proof.held, list(proof.broken)
    kept = {told(result) for result in prove(pattern).results}
    for bent in bends(pattern):
        # Edges torn so far apart that a run cannot be walked at all prove nothing here.
        with suppress(PatternError):
            kept -= {told(result) for result in prove(bent).broken}
        if not kept:
            break
    assert not kept


@pytest.mark.parametrize("closed", ["1", "0.5"])
def test_a_corner_where_a_dart_is_closed_breaks_its_promise(closed: str) -> None:
    """The darts of a flared skirt, closed for good or by half, are places in one waist."""
    pattern, _ = drafted(FlaredSkirt, BODY, closed=closed, back_darts="1", front_darts="1")
    for name in ("back", "front"):
        waist = [edge.curve for edge in pattern.stretches(f"{name} waist")]
        assert len(waist) == (1 if closed == "1" else 2)
        # The piece that begins at the dart: of the one curve, or of the second.
        at_dart = len(waist[0].control) // 2 if closed == "1" else 0
        bent = joint_turned(pattern, f"{name} waist", at_dart, stretch=-1)
        assert ("corner", f"waist over the {name} dart") in {told(r) for r in prove(bent).broken}


@pytest.mark.parametrize(
    ("block", "edge", "stretch", "names"),
    [
        (
            StraightSkirt,
            "front side",
            None,
            {
                ("seam", "side"),
                ("seam.stretch", "side", "", "hip notch"),
                ("seam.stretch", "side", "hip notch", ""),
            },
        ),
        (StraightSkirt, "front waist", 0, {("girth", "waist")}),
        (StraightSkirt, "front waist", -1, {("girth", "waist")}),
        (StraightSkirt, "front hem", None, {("girth", "hem")}),
        (CircleSkirt, "waist", None, {("girth", "waist")}),
        (GoredSkirt, "hem", None, {("girth", "hem"), ("length", "length")}),
    ],
)
def test_half_a_millimetre_breaks_what_is_measured_there_only(
    block, edge: str, stretch: int | None, names
) -> None:
    pattern, _ = drafted(block, BODY)
    bent = stretched(pattern, edge, 0.5, stretch)
    broken = {told(result) for result in prove(bent).broken if result.kind != "shape"}
    assert broken
    assert broken <= names
