"""Every promise of a skirt breaks when its piece is bent in some way."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress
from dataclasses import replace

import pytest
from bending import end_moved, handle_moved, notch_moved, stretched, with_edge
from skirt_samples import BODY, HANDOUT, drafted

from blockwright import Affine, Curve, Pattern, PatternError, Point, prove
from blockwright_skirt.circle import CircleSkirt
from blockwright_skirt.flared import FlaredSkirt
from blockwright_skirt.gored import GoredSkirt
from blockwright_skirt.straight import StraightSkirt

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
        for edge in piece.edges:
            for end in ("start", "end"):
                yield handle_moved(pattern, edge.name, end, 3.0)
                yield end_moved(pattern, edge.name, end, (0.0, 3.0))
            yield stretched(pattern, edge.name)
            yield stretched(pattern, edge.name, 20.0)
            yield with_edge(pattern, edge.name, edge.curve.moved(Affine(e=25.0)))
            yield with_edge(pattern, edge.name, carried_far(edge.curve))
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
    ("block", "settings"), SKIRTS, ids=lambda value: getattr(value, "key", None)
)
def test_every_promise_can_break(block, settings) -> None:
    pattern, proof = drafted(block, BODY, **settings)
    assert proof.held, list(proof.broken)
    kept = {(finding.kind, finding.name) for finding in proof.findings}
    for bent in bends(pattern):
        # Edges torn so far apart that a run cannot be walked at all prove nothing here.
        with suppress(PatternError):
            kept -= {(finding.kind, finding.name) for finding in prove(bent).broken}
        if not kept:
            break
    assert not kept


@pytest.mark.parametrize(
    ("block", "edge", "names"),
    [
        (
            StraightSkirt,
            "front side",
            {"side", "side: start to hip notch", "side: hip notch to end"},
        ),
        (StraightSkirt, "front waist at the side", {"waist"}),
        (StraightSkirt, "front hem", {"hem"}),
        (CircleSkirt, "waist", {"waist"}),
        (GoredSkirt, "hem", {"hem", "length"}),
    ],
)
def test_half_a_millimetre_breaks_what_is_measured_there_only(block, edge: str, names) -> None:
    pattern, _ = drafted(block, BODY)
    broken = {f.name for f in prove(stretched(pattern, edge, 0.5)).broken if f.kind != "shape"}
    assert broken
    assert broken <= names
