"""Checks of what an author puts on a piece, made before the piece is used."""

from __future__ import annotations

from collections import Counter

from blockwright.curves.curve import Curve
from blockwright.curves.point import Point
from blockwright.errors import PatternError
from blockwright.pattern import tolerance
from blockwright.pattern.piece import Dart, Guide, Notch, Note, Piece
from blockwright.spelling import what_is

MOST_TICKS = 9
"""The most ticks of one notch.  Nobody can count more with a finger."""


def check_parts(piece: Piece) -> None:
    """Raises PatternError unless every part of a piece is of its kind and at a finite place."""
    on = f"of piece {piece.name!r}"
    for name in (piece.name, *(edge.name for edge in piece.edges)):
        _check_text(f"a name {on}", name)
    if not isinstance(piece.grain, tuple | list) or len(piece.grain) != 2:
        raise PatternError(
            f"grain {on} is {what_is(piece.grain)}; give its lower and its upper end, two points"
        )
    for place in piece.grain:
        check_place(f"an end of grain {on}", place)
    if tolerance.meet(*piece.grain):
        raise PatternError(f"grain {on} begins where it ends; give its lower and its upper end")
    check_place(f"label_at {on}", piece.label_at)
    for dart in piece.darts:
        _check_kind(f"a dart {on}", dart, Dart)
        _check_text(f"the name of a dart {on}", dart.name)
        _check_text(f"says of dart {dart.name!r}", dart.says)
        check_place(f"the apex of dart {dart.name!r}", dart.apex)
    _check_mouths(piece)
    for notch in piece.notches:
        _check_kind(f"a notch {on}", notch, Notch)
        _check_text(f"the name of a notch {on}", notch.name)
        if type(notch.count) is not int or not 1 <= notch.count <= MOST_TICKS:
            raise PatternError(
                f"count of notch {notch.name!r} is {notch.count!r}; give a whole number from 1 to "
                f"{MOST_TICKS}"
            )
    for guide in piece.guides:
        _check_kind(f"a guide {on}", guide, Guide)
        _check_text(f"the name of a guide {on}", guide.name)
        _check_kind(f"the curve of guide {guide.name!r}", guide.curve, Curve)
    for note in piece.notes:
        _check_kind(f"a note {on}", note, Note)
        _check_text(f"the words of a note {on}", note.words)
        check_place(f"note {note.words!r}", note.at)


def _check_mouths(piece: Piece) -> None:
    """Raises PatternError unless every edge of role 'dart' is the mouth of one dart."""
    mouths = Counter(dart.mouth for dart in piece.darts)
    for edge in piece.edges:
        if edge.role == "dart" and mouths[edge.name] != 1:
            raise PatternError(
                f"edge {edge.name!r} of piece {piece.name!r} has role 'dart' and is the mouth of "
                f"{mouths[edge.name]} darts; give it one Dart in darts=[...], or another role"
            )


def check_place(what: str, at: object) -> None:
    """Raises PatternError unless `at` is a finite point."""
    _check_kind(what, at, Point)
    try:
        finite = abs(at.x) + abs(at.y) < float("inf")  # type: ignore[attr-defined]
    except TypeError:
        finite = False
    if not finite:
        raise PatternError(
            f"{what} is at ({at.x}, {at.y}), "  # type: ignore[attr-defined]
            "which is nowhere; give finite numbers, mm"
        )


def _check_kind(what: str, given: object, kind: type) -> None:
    if not isinstance(given, kind):
        raise PatternError(f"{what} is {what_is(given)}; give a {kind.__name__}")


def _check_text(what: str, given: object) -> None:
    if type(given) is not str or not given.isprintable():
        said = repr(given) if type(given) is str else what_is(given)
        raise PatternError(f"{what} is {said}; give text of one line")
