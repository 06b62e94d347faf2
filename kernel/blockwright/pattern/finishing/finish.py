"""Finished pieces: sew lines with their allowances, as they are cut."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import dataclass, field, replace
from typing import Literal

from blockwright.curves.intersect import self_crossings
from blockwright.curves.nearest import nearest
from blockwright.curves.point import distance
from blockwright.errors import InputError
from blockwright.pattern.copies import OTHER, unfold
from blockwright.pattern.crossed_edges import crossed_edges
from blockwright.pattern.finishing.agreeing import Takes, agreed, sewn_together
from blockwright.pattern.finishing.cut_line import END_OF, cut_line
from blockwright.pattern.finishing.cut_marks import CutNotch, Drill, NotchKind, NotchStyle
from blockwright.pattern.finishing.notching import block_notches, fold_ends, usual_notches
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Edge, Piece, labelled
from blockwright.pattern.ref import Ref
from blockwright.spelling import nearest_to

# Allowances by the role of an edge, mm.  1 cm on seams is the industry's (a published book).  That
# faced or bound curves take less and a hem takes more is common practice, no source.
USUAL: Mapping[str, float] = {
    "seam": 10.0,
    "armhole": 10.0,
    "neck": 6.0,
    "waist": 10.0,
    "hem": 30.0,
    "fold": 0.0,
}


@dataclass(frozen=True, slots=True)
class Finish:
    """How pieces are finished.  Lengths are in mm.

    An allowance is looked up by the name of the edge in `edges`, then by its role in `roles`, then
    among the block's own, then in `usual`.  An edge without an allowance is refused, but a fold
    takes none.  `usual` has every role but 'dart' unless it is given.  A spike at a corner is cut
    off `bevel` from the corner, and two and a half times the wider allowance from it if that is
    None.  A notch is a 'slit', 'V' or 'T', `notch_depth` deep and
    `notch_width` wide, and no nearer than `notch_clear` to a corner.  A drill hole lies inside the
    dart, `drill_inset` from its point, and is `drill_diameter` wide.  `opened` draws pieces on the
    fold whole.  `nap` says whether pieces may lie 'one' way only on the cloth, or 'two'.
    Source: 1 cm on seams is the industry's (a published book); the rest is common practice, no
    source.

    Example:
        >>> from blockwright import Edge, Finish, Piece, Point, polyline
        >>> hem = Edge("hem", polyline([Point(0, 0), Point(200, 0)]), "hem")
        >>> side = Edge("side", polyline([Point(200, 0), Point(200, 300), Point(0, 0)]))
        >>> wedge = Piece("wedge", (hem, side), (Point(180, 20), Point(180, 250)), Point(150, 80))
        >>> how = Finish(roles={"hem": 40.0})
        >>> how.allowance(wedge, hem), how.allowance(wedge, side)
        (40.0, 10.0)
    """

    roles: Mapping[str, float] = field(default_factory=dict)
    edges: Mapping[str, float] = field(default_factory=dict)
    usual: Mapping[str, float] = field(default_factory=lambda: dict(USUAL))
    bevel: float | None = None
    notch: NotchKind = "slit"
    notch_depth: float = 5.0
    notch_width: float = 4.0
    notch_clear: float = 3.0
    drill_inset: float = 12.7
    drill_diameter: float = 3.0
    opened: bool = False
    nap: Literal["one", "two"] = "two"

    @property
    def notches(self) -> NotchStyle:
        """How notches are cut."""
        return NotchStyle(self.notch, self.notch_depth, self.notch_width, self.notch_clear)

    def allowance(self, piece: Piece, edge: Edge) -> float:
        """The allowance of an edge, mm.  The mouth of a dart has that of the edge before it.

        Raises InputError if nothing gives the edge an allowance.
        """
        if edge.role == "dart":
            return self.allowance(piece, piece.before(edge.name))
        name = labelled(piece.word, edge.name.removesuffix(OTHER))
        role = edge.role
        for given, key in ((self.edges, name), (self.roles, role), (self.usual, role)):
            if key in given:
                return given[key]
        if role == "fold":
            return 0.0  # the cloth goes on beyond a fold
        raise InputError.coded("finish.no-allowance", piece=piece.label, edge=name, role=role)


@dataclass(frozen=True, slots=True)
class FinishedPiece:
    """A piece as it is cut.  `finish` makes it.

    `cut` is the outline, counter-clockwise and closed.  `piece` has the sew lines; it is the whole
    piece if the fold was opened out.  An edge of `cut` has the name of the edge it runs beside.  At
    a corner the name begins with 'end of'.  `notches` lie on the cut line: those of the block, then
    both legs of every dart, both ends of every fold and centre line, and the fold of every hem.
    `drills` lie inside the darts.  Lengths are in mm.

    Example:
        >>> from blockwright import Edge, Finish, Notch, Piece, Point, finish, polyline
        >>> hem = Edge("hem", polyline([Point(0, 0), Point(200, 0)]), "hem")
        >>> side = Edge("side", polyline([Point(200, 0), Point(200, 300), Point(0, 0)]))
        >>> notches = (Notch("middle", "hem", 100.0),)
        >>> grain, label_at = (Point(180, 20), Point(180, 250)), Point(150, 80)
        >>> wedge = Piece("wedge", (hem, side), grain, label_at, notches=notches)
        >>> cut = finish(wedge, Finish())
        >>> [(notch.name, round(notch.at.y)) for notch in cut.notches]
        [('middle', -30), ('hem fold', 0), ('hem fold', 0)]
    """

    piece: Piece
    cut: tuple[Edge, ...]
    notches: tuple[CutNotch, ...]
    drills: tuple[Drill, ...]
    nap: Literal["one", "two"] = "two"


def finish_all(
    pattern: Pattern, how: Finish, elsewhere: Collection[str] = ()
) -> tuple[FinishedPiece, ...]:
    """Every piece of a pattern with its allowances.

    The allowances of a block go before the usual ones.  A hem that is sewn to something is finished
    as a seam.  Edges that are sewn together have one allowance: where their roles say unlike ones,
    that of the role other than 'seam', and the narrowest of several.  `how` may name edges that are
    `elsewhere`, on other patterns; nothing is done with them.  An edge is named by its label.  In a
    pattern of one block it may also be named as in a set.

    Raises InputError if `how` names an edge that is on the fold or that neither a piece has nor
    `elsewhere`, if it names one side of a seam and gives it another allowance than the other side
    has, and as `finish` does.

    Example:
        >>> from blockwright import Edge, Finish, Pattern, Piece, Point, finish_all, polyline
        >>> hem = Edge("hem", polyline([Point(0, 0), Point(200, 0)]), "hem")
        >>> side = Edge("side", polyline([Point(200, 0), Point(200, 300), Point(0, 0)]))
        >>> wedge = Piece("wedge", (hem, side), (Point(180, 20), Point(180, 250)), Point(150, 80))
        >>> pattern = Pattern("test.wedge", "Wedge", (wedge,))
        >>> [cut.piece.name for cut in finish_all(pattern, Finish(edges={"hem": 20.0}))]
        ['wedge']
    """
    how = _by_label(pattern, how)
    known = edge_labels(pattern)
    strange = unknown_edges(pattern, how)
    for name in how.edges:
        if name in known or (name in strange and name in elsewhere):
            continue
        if near := nearest_to(name, [*known, *sorted({*elsewhere} - {name})]):
            raise InputError.coded("finish.misspelt-edge", edge=name, near=near)
        raise InputError.coded("finish.unknown-edge", edge=name, known=known)
    groups = sewn_together(pattern)
    sewn = {edge for group in groups for edge in group}
    pieces, hows, takes = [], [], {}
    for drawn in pattern.pieces:
        its = replace(how, usual={**how.usual, **pattern.origin(drawn.block).allowances})
        piece = _hems_as_seams(drawn, sewn)
        for edge in piece.edges:
            label = labelled(piece.word, edge.name)
            if (ref := Ref(piece.block, edge.name)) in sewn:
                width = its.allowance(piece, edge)
                takes[ref] = Takes(label, edge.role, width, label in how.edges)
        pieces.append(piece)
        hows.append(its)
    together = {takes[edge].label: width for edge, width in agreed(groups, takes).items()}
    return tuple(
        finish(piece, replace(its, edges={**how.edges, **together}))
        for piece, its in zip(pieces, hows, strict=True)
    )


def edge_labels(pattern: Pattern) -> list[str]:
    """The labels of the edges that take an allowance, each once."""
    return list(
        dict.fromkeys(
            labelled(piece.word, edge.name)
            for piece in pattern.pieces
            for edge in piece.edges
            if edge.role != "fold"
        )
    )


def unknown_edges(pattern: Pattern, how: Finish) -> list[str]:
    """The edges that `how` names and that may be on another pattern.

    In a set an edge's own name, without the word of its block, is a slip for its label.  A fold may
    have the name of another pattern's seam.
    """
    edges = [edge for piece in pattern.pieces for edge in piece.edges]
    own = {edge.name for edge in edges if edge.role != "fold"}
    known = {*edge_labels(pattern), *own}
    return [name for name in _by_label(pattern, how).edges if name not in known]


def _by_label(pattern: Pattern, how: Finish) -> Finish:
    """The finish with the names that edges have in a set, where their block is drafted alone.

    So one sheet serves a skirt alone and in a set: 'skirt front side' is its 'front side'.
    """
    called = {
        f"{word} {edge.name}": edge.name
        for piece in pattern.pieces
        if not piece.word
        for edge in piece.edges
        for word in (piece.block, piece.block.partition(".")[0])
    }
    own = {called.get(name, name): width for name, width in how.edges.items()}
    return replace(how, edges=own | {n: w for n, w in how.edges.items() if n not in called})


def _hems_as_seams(piece: Piece, sewn: Collection[Ref]) -> Piece:
    """The piece, with a hem that is sewn to something a seam: it is not turned up."""
    edges = (
        replace(edge, role="seam")
        if edge.role == "hem" and Ref(piece.block, edge.name) in sewn
        else edge
        for edge in piece.edges
    )
    return replace(piece, edges=tuple(edges))


def finish(piece: Piece, how: Finish) -> FinishedPiece:
    """The piece with its allowances outside its edges.  `how` may open a piece on the fold.

    It knows nothing of what the piece is sewn to; see `finish_all`.  Raises InputError if an edge
    has no allowance, an allowance is too wide for the bends of its edge or reaches over another,
    two allowances do not meet at a corner, a notch of the block is too near to a corner, or a notch
    on the fold has several ticks.  The message names the edge or the notch.

    Example:
        >>> from blockwright import Edge, Finish, Piece, Point, finish, polyline, signed_area
        >>> at = [Point(0, 0), Point(200, 0), Point(200, 300), Point(0, 300), Point(0, 0)]
        >>> square = Edge("square", polyline(at))
        >>> cloth = Piece("cloth", (square,), (Point(50, 50), Point(50, 250)), Point(100, 150))
        >>> cut = finish(cloth, Finish(roles={"seam": 15.0}))
        >>> round(signed_area([edge.curve for edge in cut.cut]), 1)
        75900.0
    """
    _check_folded(piece, how)
    opened = [end._replace(into=None) for end in fold_ends(piece)] if how.opened else []
    if how.opened:
        piece = unfold(piece)
    widths = [how.allowance(piece, edge) for edge in piece.edges]
    cut = cut_line(piece, widths, how.bevel)
    if met := self_crossings([edge.curve for edge in cut]):
        one, other = (edge.name.removeprefix(END_OF) for edge in crossed_edges(cut, met[0]))
        raise InputError.coded("finish.cuts-in", piece=piece.label, edge=one, other=other)
    own = tuple(block_notches(piece, widths, cut, how.notches))
    usual = usual_notches(piece, widths, cut, how.notches, own, opened)
    return FinishedPiece(piece, cut, own + usual, _drills(piece, how), how.nap)


def _check_folded(piece: Piece, how: Finish) -> None:
    """Raises InputError if some ticks of a notch would lie beyond the fold."""
    folds = [edge.curve for edge in piece.edges if edge.role == "fold"]
    for notch in piece.notches:
        curve, along = piece.notch_at(notch)
        at = curve.point_at(along)
        reach = (notch.count - 1) * how.notch_depth
        if reach and any(nearest(fold, at).distance < reach for fold in folds):
            raise InputError.coded(
                "finish.ticks-on-fold", piece=piece.label, notch=notch.name, count=notch.count
            )


def _drills(piece: Piece, how: Finish) -> tuple[Drill, ...]:
    drills = []
    for dart in piece.darts:
        start, end = piece.dart_legs(dart)
        middle = start.between(end, 0.5)
        way = (middle - dart.apex).unit()
        inset = min(how.drill_inset, distance(dart.apex, middle) / 2.0)
        drills.append(Drill(dart.name, dart.apex + way * inset, how.drill_diameter))
    return tuple(drills)
