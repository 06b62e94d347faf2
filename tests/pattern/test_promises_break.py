"""Every kind of promise holds on the piece as drafted and breaks when the piece is bent."""

from __future__ import annotations

import pkgutil
from collections.abc import Iterator
from dataclasses import replace
from importlib import import_module
from inspect import isabstract
from typing import Any

import numpy as np
import pytest
from bending import (
    MILLIMETRE,
    end_moved,
    handle_moved,
    notch_moved,
    stretched,
    told,
    with_edge,
)
from sleeve_samples import MISSES_BODY, MISSES_SETTINGS, Unit, drafted

from blockwright import Affine, Curve, Pattern, Point, Promise, Ref, Way, nearest
from blockwright.pattern import measure, promises
from blockwright.pattern.promises.girth import FinishedLength
from blockwright.pattern.promises.kinds import KINDS
from blockwright.pattern.promises.twin import Twin
from blockwright_sleeve.fitted import FittedSleeve
from promised import prove_promised as prove


@pytest.fixture(scope="module")
def sleeve() -> Pattern:
    pattern, proof = drafted(FittedSleeve, MISSES_BODY, Unit.IN, **MISSES_SETTINGS)
    assert proof.held
    # It is cut in a mirrored pair, so an edge of it would fit that of the other.
    twin = Twin(Ref("sleeve.fitted", "own copy"), Ref("sleeve.fitted", "cap"))
    wrist = pattern.edge("wrist").curve.length
    run = (Way(Ref("sleeve.fitted", "wrist")),)
    length = FinishedLength(Ref("sleeve.fitted", "wrist as drawn"), wrist, (0.0, 0.0), (run,))
    pattern = replace(pattern, promises=(*pattern.promises, twin, length))
    assert prove(pattern).held
    return pattern


def broken(pattern: Pattern) -> set[tuple[Any, ...]]:
    return {told(result) for result in prove(pattern).broken}


def broken_kinds(pattern: Pattern) -> set[str]:
    return {result.kind for result in prove(pattern).broken}


def crown_bent(pattern: Pattern) -> Pattern:
    """Both handles at the crown carried a millimetre, one up and one down: it tilts."""
    cap = pattern.edge("cap").curve
    crown = next(mark for mark in pattern.marks if mark.name == "crown")
    control = cap.control.copy()
    i = int(np.argmin(np.hypot(*(control[:, 0] - list(crown)).T)))
    control[i, 1] += (0.0, MILLIMETRE)
    control[i - 1, 2] -= (0.0, MILLIMETRE)
    return with_edge(pattern, "cap", Curve(control))


def dented(pattern: Pattern) -> Pattern:
    """The full stretch of the cap pushed in at the crown: one hollow more."""
    cap = pattern.edge("cap").curve
    crown = next(mark for mark in pattern.marks if mark.name == "crown")
    control = cap.control.copy()
    i = int(np.argmin(np.hypot(*(control[:, 0] - list(crown)).T)))
    control[i, :2] -= (0.0, 20 * MILLIMETRE)
    control[i - 1, 2:] -= (0.0, 20 * MILLIMETRE)
    return with_edge(pattern, "cap", Curve(control))


def hooked(pattern: Pattern) -> Pattern:
    """The start of the cap turned under itself."""
    return handle_moved(pattern, "cap", "start", 400 * MILLIMETRE)


def apex_moved(pattern: Pattern) -> Pattern:
    piece = pattern.piece("sleeve")
    darts = tuple(replace(d, apex=d.apex + Point(0.0, 8 * MILLIMETRE)) for d in piece.darts)
    return pattern.with_piece(replace(piece, darts=darts))


def dart_astray(pattern: Pattern) -> Pattern:
    """The dart's point carried along its middle line, out over the far edge."""
    piece = pattern.piece("sleeve")
    (dart,) = piece.darts
    middle = piece.dart_legs(dart)[0].between(piece.dart_legs(dart)[1], 0.5)
    away = dart.apex + (dart.apex - middle) * 4.0
    return pattern.with_piece(replace(piece, darts=(replace(dart, apex=away),)))


def mark_missed(pattern: Pattern) -> Pattern:
    return with_edge(
        pattern, "cap", pattern.edge("cap").curve.moved(Affine.move(Point(0.0, MILLIMETRE)))
    )


def crossed(pattern: Pattern) -> Pattern:
    """The front seam carried over to the back, far beyond the back seam."""
    curve = pattern.edge("front underarm").curve
    control = curve.control.copy()
    control[0, 1:] -= (400.0, 0.0)
    control[0, 3] = curve.control[0, 3]
    return with_edge(pattern, "front underarm", Curve(control))


BENDS = {
    "seam": lambda p: stretched(p, "back underarm", stretch=1),
    "seam, eased": lambda p: stretched(p, "cap"),
    "seam, notch": lambda p: notch_moved(p, "front notch"),
    "seam, crown notch": lambda p: notch_moved(p, "crown notch"),
    "twin, not mirrored": lambda p: p.with_piece(replace(p.piece("sleeve"), mirrored=False)),
    "twin, cut once": lambda p: p.with_piece(replace(p.piece("sleeve"), cut=1)),
    "corner, under the arm": lambda p: handle_moved(p, "cap", "end"),
    "corner, over the dart": lambda p: handle_moved(p, "back underarm", "start", stretch=1),
    "corner, at the wrist": lambda p: handle_moved(p, "wrist", "end"),
    "level": crown_bent,
    "through": mark_missed,
    "girth, along": lambda p: stretched(p, "wrist"),
    "girth, across": lambda p: end_moved(p, "cap", "end", (-MILLIMETRE, 0.0)),
    "length": lambda p: stretched(p, "wrist"),
    "dart-legs": lambda p: end_moved(p, "back underarm", "start", (MILLIMETRE, 0.0), stretch=1),
    "dart-legs, apex": apex_moved,
    "shape, bends": dented,
    "shape, hook": hooked,
    "outline, gap": lambda p: end_moved(p, "wrist", "start", (0.0, -MILLIMETRE)),
    "outline, crossing": crossed,
    "outline, label": lambda p: p.with_piece(
        replace(p.piece("sleeve"), label_at=Point(900.0, 0.0))
    ),
    "outline, grain": lambda p: p.with_piece(
        replace(p.piece("sleeve"), grain=(Point(0.0, 0.0), Point(0.0, 2000.0)))
    ),
    "outline, dart astray": dart_astray,
}


@pytest.mark.parametrize("name", BENDS)
def test_a_bent_piece_breaks_its_promise(sleeve: Pattern, name: str) -> None:
    kind = name.partition(",")[0]
    assert kind in broken_kinds(BENDS[name](sleeve)), broken(BENDS[name](sleeve))


ALWAYS = {"outline", "dart-legs"}
"""What every piece is held to, which no block promises."""


def kinds_in_the_kernel() -> Iterator[str]:
    """The kind of every promise that can be measured, module by module."""
    kinds = pkgutil.iter_modules(promises.__path__, f"{promises.__name__}.")
    for module in (measure, *(import_module(found.name) for found in kinds)):
        for made in vars(module).values():
            if isinstance(made, type) and issubclass(made, Promise) and not isabstract(made):
                yield made.kind


def test_every_kind_of_promise_is_bent_here() -> None:
    bent = {name.partition(",")[0] for name in BENDS}
    assert not ALWAYS & set(KINDS)
    kinds = set(KINDS) - {"unsewn"}  # which states and does not measure
    assert bent == ALWAYS | kinds == set(kinds_in_the_kernel()) - {"unsewn"}


def test_a_dart_outside_its_piece_is_told(sleeve: Pattern) -> None:
    assert ("outline.darts", "sleeve") in broken(dart_astray(sleeve))


def test_stretching_one_seam_breaks_that_seam_only(sleeve: Pattern) -> None:
    assert broken(stretched(sleeve, "back underarm", 0.5, stretch=1)) == {("seam", "underarm")}


def test_a_tenth_of_a_millimetre_is_the_edge(sleeve: Pattern) -> None:
    assert not broken(stretched(sleeve, "back underarm", 0.09, stretch=1))
    assert broken(stretched(sleeve, "back underarm", 0.11, stretch=1)) == {("seam", "underarm")}


def test_a_clockwise_piece_is_broken(sleeve: Pattern) -> None:
    """Mirrored without turning its edges round, a piece runs the wrong way."""
    piece = sleeve.piece("sleeve")
    edges = tuple(replace(e, curve=e.curve.moved(Affine(a=-1.0))) for e in piece.edges)
    turned = sleeve.with_piece(replace(piece, edges=edges))
    assert ("outline.counter-clockwise", "sleeve") in broken(turned)


def test_a_label_or_a_grain_outside_is_told_apart(sleeve: Pattern) -> None:
    piece = sleeve.piece("sleeve")
    low, high = piece.grain
    label = replace(piece, label_at=Point(900.0, 0.0))
    assert broken(sleeve.with_piece(label)) == {("outline.label", "sleeve")}
    grain = replace(piece, grain=(low, high + Point(0.0, 400.0)))
    assert ("outline.grain", "sleeve") in broken(sleeve.with_piece(grain))
    assert ("outline.label", "sleeve") not in broken(sleeve.with_piece(grain))


def test_a_missing_notch_is_not_held(sleeve: Pattern) -> None:
    piece = sleeve.piece("sleeve")
    kept = tuple(n for n in piece.notches if n.name != "crown notch")
    lost = sleeve.with_piece(replace(piece, notches=kept))
    upto = [each for each in prove(lost).broken if each.values.get("to") == "crown notch"]
    assert [each.code for each in upto] == ["seam.stretch"]
    assert upto[0].why
    assert (upto[0].why.code, upto[0].why.values["notch"]) == ("notch.missing", "crown notch")


def test_no_piece_and_no_promise_is_no_proof(sleeve: Pattern) -> None:
    proof = prove(replace(sleeve, pieces=(), promises=()))
    assert not proof.results
    assert not proof.held


def test_a_piece_is_held_to_its_outline_whatever_is_promised(sleeve: Pattern) -> None:
    bare = replace(sleeve, promises=())
    assert prove(bare).held
    assert {result.kind for result in prove(bare).results} == ALWAYS
    assert broken_kinds(apex_moved(bare)) == {"dart-legs"}
    gap = end_moved(bare, "wrist", "start", (0.0, -MILLIMETRE))
    assert broken(gap) == {("outline.closes", "sleeve")}


def test_the_miss_is_the_shift(sleeve: Pattern) -> None:
    """Shifted up, the edge misses the crown by the shift."""
    moved = mark_missed(sleeve)
    (result,) = (each for each in prove(moved).results if each.kind == "through")
    crown = next(mark for mark in sleeve.marks if mark.name == "crown")
    assert nearest(moved.edge("cap").curve, crown).distance == pytest.approx(MILLIMETRE, rel=0.01)
    assert result.measured == pytest.approx(MILLIMETRE, rel=0.05)
