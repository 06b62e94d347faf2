"""Every dart of every block moved to every edge, and round all edges and back again.

Bodies: the conformance kit's, from the survey (see blockwright/body/ansur2-sample.md) and made
up. Whatever the proof says is looked at once more by areas, lengths and angles measured here.
"""

from __future__ import annotations

import math
import random
from collections import Counter
from collections.abc import Iterator
from dataclasses import fields, is_dataclass

import numpy as np
import pytest

from blockwright import (
    Curve,
    Dart,
    GeometryError,
    InputError,
    Pattern,
    PatternError,
    Piece,
    Point,
    draft,
    load,
    move_dart,
    prove,
    signed_area,
)
from blockwright.pattern.dart import opening, sewn_outline
from blockwright.testing.bodies import many
from blockwright.words.catalogue import words_of
from parts import parts

BODIES, ROUND, PARTS = 50, 25, 25
SAME = 1e-6
DRAFTED = [
    ("bodice.fitted", {}),
    ("bodice.fitted", {"bust_dart": "shoulder"}),
    ("bodice.easy", {"back_shoulder": "dart"}),
    ("sleeve.fitted", {}),
    ("skirt.straight", {}),
    ("skirt.flared", {"closed": "0.5"}),
    ("trousers.straight", {}),
]
# A cutter's reasons for leaving a dart where it is; every other refusal is a mistake.
REFUSED = (
    "is on the fold and takes no dart",
    "there is no room to open",
    "leaves the piece",
    "crosses",
    "wider than the edge it is pressed over",
    "lays cloth over cloth",
)


def patterns(
    key: str, settings: dict[str, str], part: int, bodies: int = BODIES
) -> Iterator[Pattern]:
    block = load().block(key)
    for body in many([block], bodies)[part::PARTS]:
        try:
            yield draft(block, body.sheet, settings)
        except InputError:
            continue  # refused, which other tests look at


def darts(pattern: Pattern) -> Iterator[tuple[Piece, Dart]]:
    for piece in pattern.pieces:
        for dart in piece.darts:
            yield piece, dart


def edges(piece: Piece) -> list[str]:
    mouths = {dart.mouth for dart in piece.darts}
    return [name for name in piece.edge_names() if name not in mouths]


def moved(pattern: Pattern, piece: Piece, dart: Dart, edge: str, along: float) -> Pattern | str:
    """The pattern with a dart moved, or why not, which must be one of a cutter's reasons."""
    try:
        made, _ = move_dart(
            pattern, piece.ref, dart.name, edge, along, pressed=dart.pressed, says=dart.says
        )
    except (GeometryError, PatternError) as error:
        if any(reason in str(error) for reason in REFUSED):
            return str(error)
        raise
    return made


def opened(piece: Piece) -> float:
    return math.fsum(opening(dart.apex, *piece.dart_legs(dart)) for dart in piece.darts)


def check_sound(before: Pattern, after: Pattern, piece: Piece) -> None:
    """Proved, or the record says what was given up; and nothing of the cloth is lost or won."""
    proof = prove(after)
    assert proof.held, [(proof.say(each), proof.off(each)) for each in proof.broken]
    assert len(after.promises) + len(after.given_up) == len(before.promises)
    for each in after.given_up:
        assert each.why.code in words_of("results")
        assert each.promise.name in proof.text(after_unit)
    old, new = before.piece(piece.ref), after.piece(piece.ref)
    areas = [signed_area(sewn_outline(each)) for each in (old, new)]
    assert areas[1] == pytest.approx(areas[0], rel=1e-9)
    assert opened(new) == pytest.approx(opened(old), abs=1e-9)
    for name in edges(old):
        assert new.length(name) == pytest.approx(old.length(name), abs=SAME)
    assert [n.name for n in new.notches] == [n.name for n in old.notches]


after_unit = load().bodies["survey"].sheet("female-1").units


@pytest.mark.parametrize("part", parts(PARTS))
@pytest.mark.parametrize(("key", "settings"), DRAFTED)
def test_every_dart_goes_to_every_edge(key: str, settings: dict[str, str], part: int) -> None:
    random_ = random.Random(f"{key} {part}")
    done = Counter()
    for pattern in patterns(key, settings, part):
        for piece, dart in darts(pattern):
            for edge in edges(piece):
                along = random_.uniform(0.15, 0.85) * piece.length(edge)
                after = moved(pattern, piece, dart, edge, along)
                done[isinstance(after, Pattern)] += 1
                if isinstance(after, Pattern):
                    check_sound(pattern, after, piece)
    # Folds take none, and a short edge or a near dart refuses some; most take it.  The two bodies
    # of a part may both be refused, though never those of the first part.
    assert done[True] > done[False] / 2 or (part and not done), done


@pytest.mark.parametrize("part", parts(PARTS))
@pytest.mark.parametrize(("key", "settings"), DRAFTED)
def test_round_all_edges_and_back_is_no_change(
    key: str, settings: dict[str, str], part: int
) -> None:
    for pattern in patterns(key, settings, part, ROUND):
        for piece, dart in darts(pattern):
            home, along = place_of(piece, dart)
            away, route = pattern, []
            for edge in edges(piece):
                at = 0.45 * piece.length(edge)
                after = moved(away, piece, dart, edge, at) if edge != home else ""
                if isinstance(after, Pattern):
                    away = after
                    route.append(edge)
            back = moved(away, piece, dart, home, along)
            assert isinstance(back, Pattern), (dart.name, route, back)
            assert len(back.changes) == len(route) + 1
            assert not back.given_up
            for name in ("pieces", "promises", "marks", "offers"):
                check_alike(getattr(pattern, name), getattr(back, name), f"{dart.name}: {name}")


def place_of(piece: Piece, dart: Dart) -> tuple[str, float]:
    """The edge a dart is in, and how far along."""
    home = piece.before(dart.mouth).name
    index = piece.darts_on(home).index(dart)
    upto = piece.stretches(home)[: index + 1]
    return home, math.fsum(edge.curve.length for edge in upto)


def check_alike(a: object, b: object, where: str) -> None:
    """Two values are the same but for a millionth of a millimetre in their numbers."""
    if isinstance(a, Curve) and isinstance(b, Curve):
        assert b.length == pytest.approx(a.length, abs=SAME), where
        for x, y in zip(places(a), places(b), strict=True):
            assert math.dist(x, y) < SAME, where
    elif isinstance(a, Point) and isinstance(b, Point):
        assert math.dist(tuple(a), tuple(b)) < SAME, where
        assert getattr(a, "ref", None) == getattr(b, "ref", None), where
    elif isinstance(a, float) and isinstance(b, float):
        assert a == b or abs(a - b) < SAME, (where, a, b)
    elif is_dataclass(a) and type(a) is type(b):
        for each in fields(a):
            check_alike(getattr(a, each.name), getattr(b, each.name), f"{where}.{each.name}")
    elif isinstance(a, tuple) and isinstance(b, tuple):
        assert len(a) == len(b), (where, a, b)
        for i, (x, y) in enumerate(zip(a, b, strict=True)):
            check_alike(x, y, f"{where}[{i}]")
    else:
        assert a == b, where


def places(curve: Curve) -> list[list[float]]:
    return curve.points_at(np.linspace(0.0, curve.length, 17)).tolist()


def test_a_difference_is_seen() -> None:
    """The comparison above bites."""
    block = load().block("skirt.straight")
    pattern = draft(block, many([block], 1)[0].sheet)
    piece, dart = [*darts(pattern)][-1]
    home, along = place_of(piece, dart)
    aside = moved(pattern, piece, dart, "front hem", 0.5 * piece.length("front hem"))
    assert isinstance(aside, Pattern)
    again = moved(aside, piece, dart, home, along + 1e-3)
    assert isinstance(again, Pattern)
    with pytest.raises(AssertionError):
        check_alike(pattern.pieces, again.pieces, "pieces")
