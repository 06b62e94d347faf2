"""What a drawing says in words: on each piece, most important first, and below the pieces."""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator
from typing import TYPE_CHECKING

from blockwright.body.lengths import Length, format_length
from blockwright.curves.nearest import nearest
from blockwright.formats.text_placement import LINE_SIZE, NAME_SIZE, NOTE_SIZE, TextLine
from blockwright.pattern.copies import OTHER
from blockwright.pattern.piece import Piece, labelled
from blockwright.words.catalogue import label

if TYPE_CHECKING:
    from blockwright.pattern.finishing.finish import FinishedPiece
    from blockwright.pattern.record import Estimate
    from blockwright.plugin.format import Document

# The name of a body or a piece longer than this is cut on the drawing, letters.
LONGEST_NAME = 40
# Allowances nearer to one another than this, mm, are one width.
ONE_WIDTH = 0.05


def piece_name(piece: Piece) -> str:
    """The name that a drawing has for a piece: without its block's word if it has that itself.

    Example:
        >>> from blockwright import Edge, Piece, Point, polyline
        >>> ring = Edge("edge", polyline([Point(0, 0), Point(9, 0), Point(9, 6), Point(0, 0)]))
        >>> under = Piece("under sleeve", (ring,), (Point(5, 1), Point(5, 2)), Point(6, 2))
        >>> from dataclasses import replace
        >>> piece_name(replace(under, word="sleeve")), piece_name(replace(under, word="bodice"))
        ('under sleeve', 'bodice under sleeve')
    """
    return piece.name if piece.word in piece.name.split() else labelled(piece.word, piece.name)


def line_of(text: str, size: float) -> TextLine:
    """Text on one line."""
    return TextLine(" ".join(text.split()), size)


def piece_label(
    document: Document, piece: Piece, finished: FinishedPiece | None, number: int, count: int
) -> Iterator[TextLine]:
    """The label of piece `number` of `count`, most important first."""
    pattern = document.pattern
    origin = pattern.origin(piece.block)
    yield line_of(_short(piece_name(piece)).upper(), NAME_SIZE)
    if not document.proof.held:
        yield TextLine(label("label.unproved"), NAME_SIZE, warning=True)
    if pattern.body:
        yield line_of(for_whom(document), LINE_SIZE)
    yield line_of(how_cut(piece), LINE_SIZE)._replace(whole=True)
    yield line_of(_widths_said(document, finished), LINE_SIZE)
    yield line_of(origin.title, LINE_SIZE)
    yield line_of(label("label.number", number=number, count=count), NOTE_SIZE)
    if pattern.measurements:
        yield line_of(label("label.toile"), NOTE_SIZE)
    if origin.eases:
        eases = [_sized(document, each, mm) for each, mm in origin.eases.items()]
        yield line_of(label("label.eases", eases=", ".join(eases)), NOTE_SIZE)
    if origin.chosen:
        chosen = [f"{_words(name)} {value}" for name, value in origin.chosen.items()]
        yield line_of(label("label.chosen", chosen=", ".join(chosen)), NOTE_SIZE)
    estimates = [
        f"{_words(e.name)}{_range(document, e)}"
        for e in pattern.estimates
        if e.block in ("", piece.block)
    ]
    if estimates:
        yield line_of(label("label.estimated", names=", ".join(estimates)), NOTE_SIZE)
    if document.stamp:
        yield line_of(_stamped(document, piece), NOTE_SIZE)


def _range(document: Document, estimate: Estimate) -> str:
    """Between what lengths an estimate may be wrong; nothing where that is not known."""
    if estimate.low is None or estimate.high is None:
        return ""
    low, high = (format_length(mm, document.unit) for mm in (estimate.low, estimate.high))
    return " " + label("label.range", low=low, high=high)


def for_whom(document: Document) -> str:
    """Whose measurements it is drafted from; nothing where no name is known."""
    short = _short(document.pattern.body)
    return label("label.for", name=short) if short else ""


def allowances(document: Document) -> str:
    """Whether what is cut has its allowances."""
    return label("label.with-allowances" if document.finished else "label.no-allowance")


def proved(document: Document) -> str:
    """How many promises hold."""
    count, broken = len(document.proof.results), len(document.proof.broken)
    if document.proof.held:
        return label("label.proved", count=count)
    return label("label.broken", broken=broken, count=count)


def title(document: Document) -> str:
    """What the drawing is of, and for whom."""
    pattern = document.pattern
    if not pattern.body:
        return pattern.title
    return label("label.title", title=pattern.title, name=pattern.body)


def how_cut(piece: Piece) -> str:
    """How many are cut, and how."""
    if any(edge.role == "fold" for edge in piece.edges):
        return label("label.cut-fold", count=piece.cut)
    if not piece.mirrored or piece.cut < 2:
        return label("label.cut", count=piece.cut)
    if piece.cut == 2:
        return label("label.cut-pair", count=piece.cut)
    return label("label.cut-pairs", count=piece.cut, pairs=piece.cut // 2)


def edge_says(name: str, role: str) -> str:
    """What stands beside an edge: its name, and whether it is on the fold."""
    plain = name.removesuffix(OTHER)
    return label("label.fold-edge", edge=plain) if role == "fold" else plain


# -- allowances --------------------------------------------------------------------------------


def _widths_said(document: Document, finished: FinishedPiece | None) -> str:
    """The widths of the allowances as they are cut, one of several edges without their names."""
    if finished is None:
        return allowances(document)
    named = _by_role(finished)
    groups: dict[float, list[str]] = defaultdict(list)
    for name, width in named.items():
        near = next((each for each in groups if abs(each - width) <= ONE_WIDTH), width)
        groups[near].append(name)
    if not groups:
        return allowances(document)
    usual = max(groups, key=lambda width: len(groups[width]))
    alone = len(groups) > 1 and len(groups[usual]) == 1
    parts = [] if alone else [format_length(usual, document.unit)]
    parts += [
        _sized(document, name, width)
        for width, names in groups.items()
        for name in names
        if alone or width != usual
    ]
    return label("label.widths", widths=", ".join(parts))


def _by_role(finished: FinishedPiece) -> dict[str, float]:
    """The width of the allowance, mm, by role where all edges of it have one, else by edge."""
    roles: dict[str, dict[str, float]] = defaultdict(dict)
    for edge in finished.piece.edges:
        if edge.role not in ("fold", "dart"):
            width = _width(finished, edge.name)
            if width is not None:
                roles[edge.role][edge.name.removesuffix(OTHER)] = width
    named: dict[str, float] = {}
    for role, widths in roles.items():
        alike = max(widths.values()) - min(widths.values()) <= ONE_WIDTH
        named |= {role: next(iter(widths.values()))} if alike else widths
    return named


def _width(finished: FinishedPiece, name: str) -> float | None:
    """How far the cut line lies from a sew line at the middle of its longest part, mm."""
    beside = [edge.curve for edge in finished.cut if edge.name == name]
    if not beside:
        return None
    longest = max(beside, key=lambda curve: curve.length)
    middle = longest.point_at(longest.length / 2.0)
    sewn = finished.piece.stretches(name)
    return min(nearest(edge.curve, middle).distance for edge in sewn)


# -- small words -------------------------------------------------------------------------------


def _sized(document: Document, name: str, mm: float) -> str:
    return label("label.size", name=_words(name), length=Length(mm, document.unit))


def _short(name: str) -> str:
    plain = " ".join(name.split())
    return plain if len(plain) <= LONGEST_NAME else plain[: LONGEST_NAME - 1] + "…"


def _words(name: str) -> str:
    """The name of an option, a measurement or a role as people write it."""
    return name.replace("_", " ")


def _stamped(document: Document, piece: Piece) -> str:
    origin = document.pattern.origin(piece.block)
    if not origin.version:
        return document.stamp
    return label("label.version", stamp=document.stamp, block=origin.title, version=origin.version)
