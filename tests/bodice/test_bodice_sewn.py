"""Bodices sewn together here by moving the pieces: every line must run on without a corner.

Directions are those of chords over the last tenth of a millimetre of the moved curves; nothing is
taken from the promises.
"""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
from bending import end_moved, handle_moved
from bodice_samples import BODY, MEN, WOMEN, curve, drafted

from blockwright import Affine, Curve, Piece, Point, distance
from blockwright.pattern.dart import closing
from blockwright_bodice.easy import EasyBodice
from blockwright_bodice.fitted import FittedBodice

CORNER = 0.5  # degrees
MEETS = 0.05  # mm
# Two places so near on a line, mm, tell its direction to a few thousandths of a degree.
CLOSE = 0.1
# How far from a joint two places of a straight seam are taken to lay it by, mm.
HOLD = 30.0

# Waist girth over the bust on the first, so that it has no waist darts.
STOUT = max(WOMEN, key=lambda values: values["waist_girth"] - values["bust_girth"])
BODIES = {
    "textbook": BODY,
    "slim": min(WOMEN, key=lambda values: values["bust_girth"]),
    "large": max(WOMEN, key=lambda values: values["bust_girth"]),
    "stout": STOUT,
    "man": max(MEN, key=lambda values: values["chest_girth"]),
    "stout man": max(MEN, key=lambda values: values["waist_girth"] - values["chest_girth"]),
}
CASES = [
    *(
        (FittedBodice, body, {"bust_dart": opens, "back_shoulder": back})
        for body in ("textbook", "slim", "large", "stout")
        for opens in ("side", "shoulder")
        for back in ("dart", "ease")
    ),
    (FittedBodice, "textbook", {"scye_ease": "4 cm", "bust_ease": "14 cm"}),
    (FittedBodice, "textbook", {"waist_ease": "30 cm", "neck_ease": "10 cm"}),
    (FittedBodice, "textbook", {"bust_dart_back": "0 cm", "shoulder_slope": "14"}),
    *(
        (EasyBodice, body, {"back_shoulder": back})
        for body in ("textbook", "stout", "man", "stout man")
        for back in ("dart", "ease")
    ),
    (EasyBodice, "textbook", {"waist_ease": "50 cm"}),
    (EasyBodice, "man", {"chest_ease": "40 cm", "scye_ease": "8 cm"}),
]


def named(case) -> str:
    block, body, settings = case
    return " ".join([block.key, body, *settings.values()])


def turn(first: Curve, second: Curve) -> float:
    """Corner between curves laid end to start, degrees; they must meet."""
    assert distance(first.end, second.start) < MEETS
    a = first.end - first.point_at(first.length - CLOSE)
    b = second.point_at(CLOSE) - second.start
    return math.degrees(math.atan2(a.cross(b), a.dot(b)))


def straight(seam: Curve) -> bool:
    return seam.length - distance(seam.start, seam.end) < 1e-6


def laid(piece: Piece, seam: Curve, on: Curve) -> Piece:
    """The piece moved so that a seam of it starts and runs on another as that does."""
    return piece.moved(Affine.laying(seam.start, seam.point_at(HOLD), on.start, on.point_at(HOLD)))


def run(piece: Piece, name: str) -> list[Curve]:
    """The curves of one line in outline order, mouths of darts left out."""
    return [edge.curve for edge in piece.stretches(name)]


def check_darts(piece: Piece) -> None:
    """Each dart closed: its legs fall together and the seam, which is one edge, runs on over it."""
    for dart in piece.darts:
        before, after = piece.before(dart.mouth), piece.after(dart.mouth)
        assert before.name == after.name
        start, end = before.curve.end, after.curve.start
        assert distance(start, dart.apex) == pytest.approx(distance(end, dart.apex), abs=MEETS)
        closed = piece.moved(closing(dart.apex, start, end))
        assert abs(turn(before.curve, closed.after(dart.mouth).curve)) < CORNER


def check_folds(piece: Piece) -> None:
    """Neck and waist are square to the centre, so that they run on into their mirror image."""
    (fold,) = [edge for edge in piece.edges if edge.role == "fold"]
    assert max(abs(fold.curve.start.x), abs(fold.curve.end.x)) < 1e-9
    for first, second in pairwise([piece.before(fold.name), fold, piece.after(fold.name)]):
        assert turn(first.curve, second.curve) == pytest.approx(90.0, abs=CORNER)
    for edge, other in ((piece.before(fold.name), False), (piece.after(fold.name), True)):
        mirrored = edge.curve.moved(Affine.mirror(fold.curve.start, fold.curve.end)).reversed()
        pair = (mirrored, edge.curve) if other else (edge.curve, mirrored)
        assert abs(turn(*pair)) < CORNER


def check_shoulder(back: Piece, front: Piece, longer: float) -> None:
    """Shoulders laid together at the neck and at the tip: neck and armhole run on."""
    under, over = run(back, "back shoulder"), run(front, "front shoulder")
    assert all(map(straight, (*under, *over)))
    together = sum(c.length for c in under) - sum(c.length for c in over)
    assert together == pytest.approx(longer, abs=0.1)
    # The front runs from the neck out, the back from the tip in.
    at_neck = laid(front, over[0], under[-1].reversed())
    assert abs(turn(at_neck.edge("front neck").curve, back.edge("back neck").curve)) < CORNER
    at_tip = laid(front, over[-1].reversed(), under[0])
    up, down = back.edge("back armhole").curve, at_tip.edge("front armhole").curve
    assert abs(turn(up, down)) < CORNER


def check_side(back: Piece, front: Piece) -> None:
    """Side seams laid together at the underarm and at the waist: armhole and waist run on."""
    (seam,) = run(back, "back side")
    parts = run(front, "front side")
    assert all(map(straight, (seam, *parts)))
    assert seam.length == pytest.approx(sum(c.length for c in parts), abs=0.1)
    under = laid(front, parts[0], seam.reversed())
    assert abs(turn(under.edge("front armhole").curve, back.edge("back armhole").curve)) < CORNER
    waist = laid(front, parts[-1].reversed(), seam)
    assert abs(turn(run(back, "back waist")[-1], run(waist, "front waist")[0])) < CORNER
    # Underarm to waist over the dart: on the back's seam all the way.
    if len(parts) == 2:
        laid_low = parts[1].moved(Affine.laying(*ends(parts[1].reversed()), *ends(seam)))
        laid_high = parts[0].moved(Affine.laying(*ends(parts[0]), *ends(seam.reversed())))
        assert distance(laid_low.start, laid_high.end) < MEETS
    else:
        assert len(parts) == 1


def ends(seam: Curve) -> tuple[Point, Point]:
    return seam.start, seam.end


def check(pattern) -> None:
    back, front = pattern.piece("back"), pattern.piece("front")
    for piece in (back, front):
        check_darts(piece)
        check_folds(piece)
    check_shoulder(back, front, 6.0 if pattern.options["back_shoulder"] == "ease" else 0.0)
    check_side(back, front)


@pytest.mark.parametrize("case", CASES, ids=named)
def test_every_line_runs_on(case) -> None:
    block, body, settings = case
    pattern, proof = drafted(block, BODIES[body], **settings)
    assert proof.held
    check(pattern)


def test_the_bodies_are_unlike() -> None:
    """Darts at the waist or none; seams that hang inward and outward."""
    darts = {
        body: len(drafted(FittedBodice, BODIES[body])[0].piece("front").darts)
        for body in ("textbook", "stout")
    }
    assert darts == {"textbook": 2, "stout": 1}
    for ease, out in (("6 cm", 0.0), ("50 cm", 50.0)):
        hang = curve(drafted(EasyBodice, BODY, waist_ease=ease)[0], "back side")
        assert hang.start.x - hang.end.x == pytest.approx(out, abs=15.0)


BENT = {
    "neck": lambda p: handle_moved(p, "front neck", "end"),
    "armhole over": lambda p: handle_moved(p, "front armhole", "start"),
    "armhole under": lambda p: handle_moved(p, "front armhole", "end"),
    "waist": lambda p: handle_moved(p, "front waist", "start"),
    "waist dart": lambda p: handle_moved(p, "back waist", "start", stretch=1),
    "centre": lambda p: handle_moved(p, "back neck", "end"),
    "dart": lambda p: end_moved(p, "back waist", "start", (0.0, 1.0), stretch=1),
    "shoulder": lambda p: end_moved(p, "front shoulder", "end", (-1.0, 0.0)),
    "side": lambda p: end_moved(p, "back side", "start", (0.0, 1.0)),
}


@pytest.mark.parametrize("bent", BENT)
def test_a_bent_bodice_is_noticed(bent: str) -> None:
    """The sewing above can fail."""
    pattern, _ = drafted(FittedBodice, BODY)
    check(pattern)
    with pytest.raises(AssertionError):
        check(BENT[bent](pattern))
