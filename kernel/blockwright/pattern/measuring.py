"""Measure a pattern: what every piece is held to, then every promise."""

from __future__ import annotations

from collections.abc import Iterator

from blockwright.errors import PatternError
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Piece
from blockwright.pattern.promise import Promise
from blockwright.pattern.promises.dart_legs import DartLegs
from blockwright.pattern.promises.outline import Outline
from blockwright.pattern.ref import Ref
from blockwright.pattern.result import Result


def measured(pattern: Pattern) -> tuple[Result, ...]:
    """Every result, piece by piece and then promise by promise.

    Raises PatternError, with the promise it is of, where one names an edge or a piece that is not
    there.
    """
    own = (promise for piece in pattern.pieces for promise in piece_checks(piece))
    return tuple(
        result for promise in (*own, *pattern.promises) for result in _measure(promise, pattern)
    )


def piece_checks(piece: Piece) -> Iterator[Promise]:
    """What a piece is held to, whatever its author promised."""
    yield Outline(piece.ref)
    for dart in piece.darts:
        yield DartLegs(Ref(piece.block, dart.name), piece.ref)


def _measure(promise: Promise, pattern: Pattern) -> tuple[Result, ...]:
    """What a promise measures; a slip in it is told with its name."""
    try:
        return promise.measure(pattern)
    except PatternError as error:
        raise PatternError(f"{promise.kind} {promise.name!r}: {error}") from error
