"""The end of every change: pieces are replaced, and marks, promises and offers carried along."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from blockwright.errors import PatternError
from blockwright.pattern.pattern import GivenUp, Lineage, Pattern, Promise
from blockwright.pattern.piece import Piece, Run
from blockwright.pattern.record import Change
from blockwright.pattern.ref import Mark, Ref
from blockwright.pattern.table.validate import check_parts


def changed(
    lineage: Lineage,
    pieces: Mapping[Ref, Iterable[Piece]],
    verb: str,
    values: Mapping[str, str | float],
) -> tuple[Pattern, Lineage]:
    """The changed pattern, and the lineage.  Every verb ends with it.

    `pieces` gives the new pieces in place of an old one, by the identity of the old one.  Marks,
    promises and offers are carried along.  `verb` and `values` go into the record of the pattern,
    and so do promises that are given up.
    Raises PatternError unless every name is text of one line, and if another edge has it.

    Example:
        >>> from dataclasses import replace
        >>> from blockwright import Draft, Edge, Lineage, Point, changed, polyline
        >>> d, at = Draft("test.wedge", "Wedge"), [Point(0, 0), Point(90, 0), Point(90, 60)]
        >>> wedge = d.piece("wedge", [Edge("edge", polyline([*at, at[0]]))])
        >>> before = d.pattern()
        >>> piece = before.piece("wedge")
        >>> twice = {piece.ref: [replace(piece, cut=2)]}
        >>> after, _ = changed(Lineage(before), twice, "cut_twice", {"piece": "wedge"})
        >>> after.piece("wedge").cut, after.changes[0].verb
        (2, 'cut_twice')
    """
    before = lineage.before
    made_pieces = tuple(new for old in before.pieces for new in pieces.get(old.ref, (old,)))
    _check_names(made_pieces)
    promises, given_up = _promises(before, lineage)
    made = replace(
        before,
        pieces=made_pieces,
        promises=promises,
        given_up=given_up,
        marks=tuple(_mark(before, mark, lineage) for mark in before.marks),
        offers=_offers(before, lineage),
        changes=(*before.changes, Change(verb, dict(values))),
    )
    return made, lineage


def _check_names(pieces: Sequence[Piece]) -> None:
    """Raises PatternError if a part of a piece is unusable or two edges have one name."""
    owners: dict[Ref, Ref] = {}
    for piece in pieces:
        check_parts(piece)
        for name in piece.edge_names():
            if owners.setdefault(Ref(piece.block, name), piece.ref) != piece.ref:
                raise PatternError(
                    f"an edge of another piece is called {name!r}; give a name= that is new"
                )


def _promises(before: Pattern, lineage: Lineage) -> tuple[tuple[Promise, ...], tuple[GivenUp, ...]]:
    """Every promise carried.  Those given up before are carried too: one may hold again."""
    kept: list[Promise] = []
    given_up: list[GivenUp] = []
    place = 0
    for promise in in_order(before):
        became = promise.carried(lineage)
        for each in became.promises:
            if became.why is None:
                kept.append(each)
            else:
                given_up.append(GivenUp(each, became.why, place))
            place += 1
    return tuple(kept), tuple(given_up)


def in_order(pattern: Pattern) -> list[Promise]:
    """The promises of a pattern, with those given up, in the order they were promised in."""
    promises = list(pattern.promises)
    for each in sorted(pattern.given_up, key=lambda each: each.place):
        promises.insert(each.place, each.promise)
    return promises


def _mark(before: Pattern, mark: Mark, lineage: Lineage) -> Mark:
    """A mark where its cloth is now.  It stays if it is on no piece or its cloth is gone."""
    on = next((piece.ref for piece in before.pieces if mark.on(piece.ref)), None)
    laid = lineage.laid(on, mark) if on else None
    if laid is None or on is None:
        return mark
    at = laid.lay(mark)
    return replace(mark, x=at.x, y=at.y, piece=laid.piece.name if mark.piece else "")


def _offers(before: Pattern, lineage: Lineage) -> dict[str, Run]:
    """The runs offered, as they are now.  A run whose edges are gone is left out."""
    carried = {name: lineage.run(run).run for name, run in before.offers.items()}
    return {name: run for name, run in carried.items() if run}
