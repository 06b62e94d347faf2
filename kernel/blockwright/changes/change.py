"""What every change does at its end: pieces, marks, promises and offers are carried along."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace

from blockwright.errors import PatternError
from blockwright.pattern.lineage import Lineage
from blockwright.pattern.mark import Mark
from blockwright.pattern.parts import check_parts
from blockwright.pattern.pattern import Change, Pattern
from blockwright.pattern.piece import Piece, Run
from blockwright.pattern.promise import GivenUp, Promise
from blockwright.pattern.ref import Ref


def changed(
    lineage: Lineage,
    pieces: Mapping[Ref, Iterable[Piece]],
    verb: str,
    values: Mapping[str, str | float],
) -> tuple[Pattern, Lineage]:
    """The pattern with its pieces replaced, everything that speaks of them carried; the lineage.

    Every verb ends with it.  `pieces`: by the identity of an old piece, the new ones in its place.
    `verb` and `values` go into the pattern's record, as do promises that are given up.
    Raises PatternError for a name that is no text of one line, or that another edge has.

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
    """PatternError for what cannot be drawn or written, and a name that two edges have."""
    owners: dict[Ref, Ref] = {}
    for piece in pieces:
        check_parts(piece)
        for name in piece.edge_names():
            if owners.setdefault(Ref(piece.block, name), piece.ref) != piece.ref:
                raise PatternError(
                    f"an edge of another piece is called {name!r}; give a name= that is new"
                )


def _promises(before: Pattern, lineage: Lineage) -> tuple[tuple[Promise, ...], tuple[GivenUp, ...]]:
    """Every promise carried, those given up before too: one may mean something again."""
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
    """The promises of a pattern and those given up, in the order they were promised in."""
    promises = list(pattern.promises)
    for each in sorted(pattern.given_up, key=lambda each: each.place):
        promises.insert(each.place, each.promise)
    return promises


def _mark(before: Pattern, mark: Mark, lineage: Lineage) -> Mark:
    """A mark where its cloth is now; one on no piece, or whose cloth is gone, stays."""
    on = next((piece.ref for piece in before.pieces if mark.on(piece.ref)), None)
    laid = lineage.laid(on, mark) if on else None
    if laid is None or on is None:
        return mark
    at = laid.lay(mark)
    return replace(mark, x=at.x, y=at.y, piece=laid.piece.name if mark.piece else "")


def _offers(before: Pattern, lineage: Lineage) -> dict[str, Run]:
    """The runs that are offered, as they are now; one whose edges are gone is offered no more."""
    carried = {name: lineage.run(run).run for name, run in before.offers.items()}
    return {name: run for name, run in carried.items() if run}
