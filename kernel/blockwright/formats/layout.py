"""What every drawing shows of a draft, and where it lies on the sheet; mm, y up."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import TYPE_CHECKING, NamedTuple

from blockwright.body.lengths import Length, Unit
from blockwright.curves._numpy import np
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point, distance
from blockwright.curves.primitives import arc, line
from blockwright.formats.text_placement import (
    LINE_SIZE,
    NAME_SIZE,
    NOTE_SIZE,
    Room,
    TextLine,
    Words,
    beside,
    near,
)
from blockwright.pattern.finishing.cut_marks import CutNotch
from blockwright.pattern.piece import Piece
from blockwright.pattern.ref import Mark, Ref
from blockwright.words.catalogue import label

if TYPE_CHECKING:
    from blockwright.pattern.finishing.finish import FinishedPiece
    from blockwright.plugin.format import Document

MARGIN = 20.0
GAP = 40.0
# Notch ticks reach half a centimetre into the piece (published depth); twin ticks stand apart
# by twice that, so that they cannot be taken for one.
NOTCH_DEPTH = 5.0
NOTCH_SPACING = 10.0
ARROW = Point(5.0, 2.0)
CROSS = 2.0
# Curves whose ends are further apart than this, mm, do not meet; the gap is drawn, not closed.
MEET = 1e-3
# The strip below the pieces: test bars to the left, what the sheet is to the right.
STRIP = 52.0
CM_BAR = 100.0
INCH_BAR = 101.6
BARS = ((17.0, CM_BAR, 10.0, Unit.CM), (0.0, INCH_BAR, 25.4, Unit.IN))
TITLE_AT = MARGIN + INCH_BAR + 14.0
# Beside the title stand the finished sizes, in so many lines at most, this far apart.
SIZE_LINES, NOTE_LEADING = 6, 6.25
# A body's name longer than this is cut on the drawing, letters.
LONGEST_NAME = 40
# A dart's note may run on past its point by this share of the leg.
PAST_POINT = 0.8
# A curve whose control points are this near to its chord (mm) is a straight line.
STRAIGHT = 1e-6

Stroke = tuple[str, Point, Point]
"""A straight line: its role, and its ends."""


Lines = tuple[str, tuple[Curve, ...]]
"""Curves that follow one another: their role, and themselves."""


@dataclass(frozen=True, slots=True)
class Placed:
    """A piece with what is drawn on it, and the step that takes it to its place on the sheet.

    `lines` begin with the 'outline', which is what is cut; `folds` are the numbers of its curves
    that lie on a fold, where the cloth goes on.

    Example:
        >>> from blockwright import BodySheet, Document, Unit, draft, lay_out, load, prove
        >>> values = {"waist_girth": 70, "hip_girth": 96, "waist_to_hip": 20}
        >>> body = BodySheet.from_values(values, units="cm")
        >>> pattern = draft(load().block("skirt.circle"), body)
        >>> sheet = lay_out(Document(pattern, prove(pattern), Unit.CM))
        >>> placed = sheet.placed[0]
        >>> placed.piece.name, placed.lines[0][0], [words.line.text for words in placed.words][0]
        ('panel', 'outline', 'grain')
    """

    piece: Piece
    step: Point
    lines: tuple[Lines, ...]
    strokes: tuple[Stroke, ...]
    words: tuple[Words, ...]
    marks: tuple[Mark, ...]
    folds: tuple[int, ...] = ()


@dataclass(frozen=True, slots=True)
class Sheet:
    """All pieces side by side above a strip with the test bars and what the sheet is.

    From the origin to width and height; `words` and `bars` are those of the strip.

    Example:
        >>> from blockwright import BodySheet, Document, Unit, draft, lay_out, load, prove
        >>> values = {"waist_girth": 70, "hip_girth": 96, "waist_to_hip": 20}
        >>> body = BodySheet.from_values(values, units="cm")
        >>> pattern = draft(load().block("skirt.circle"), body)
        >>> sheet = lay_out(Document(pattern, prove(pattern), Unit.CM))
        >>> len(sheet.placed), sheet.bars[0][0]
        (1, 'test-bar')
    """

    placed: tuple[Placed, ...]
    words: tuple[Words, ...]
    bars: tuple[Stroke, ...]
    width: float
    height: float


def lay_out(document: Document) -> Sheet:
    """Pieces side by side, apart by GAP, bottoms level, on a sheet as wide as pieces and words.

    What a bundled drawing shows, for a format of your own: outlines, lines and words, mm, y up.

    Example:
        >>> from blockwright import BodySheet, Document, Unit, draft, lay_out, load, prove
        >>> values = {"waist_girth": 70, "hip_girth": 96, "waist_to_hip": 20}
        >>> body = BodySheet.from_values(values, units="cm")
        >>> pattern = draft(load().block("skirt.circle"), body)
        >>> sheet = lay_out(Document(pattern, prove(pattern), Unit.CM))
        >>> [placed.piece.name for placed in sheet.placed]
        ['panel']
    """
    placed = []
    x = MARGIN
    top = 0.0
    floor = MARGIN + STRIP
    for one in _pieces(document):
        piece = one.piece
        lines = tuple(_lines(one))
        x0, y0, x1, y1 = bounds(lines[0][1])
        inside = tuple(_strokes(one))
        room = _room(document, piece, lines, inside)
        marks = tuple(
            mark for mark in document.pattern.marks if mark.on(piece.ref) and room.covers(mark)
        )
        words = tuple(_words(document, piece, room))
        step, folds = Point(x - x0, floor - y0), tuple(_folds(one))
        placed.append(Placed(piece, step, lines, inside, words, marks, folds))
        x += x1 - x0 + GAP
        top = max(top, floor + y1 - y0)
    strip = tuple(_strip_words(document))
    widest = max(words.at.x + words.line.width for words in strip if not words.centred)
    width = max(x - GAP, widest) + MARGIN
    return Sheet(tuple(placed), strip, tuple(_bars()), width, top + MARGIN)


def bounds(curves: Iterable[Curve]) -> tuple[float, float, float, float]:
    """Least x, least y, greatest x, greatest y of curves."""
    x0, y0, x1, y1 = zip(*(curve.bounds for curve in curves), strict=True)
    return min(x0), min(y0), max(x1), max(y1)


def is_straight(curve: Curve) -> bool:
    """Whether the curve is the straight line between its ends."""
    chord = curve.end - curve.start
    if abs(chord) == 0.0:
        return False
    square = np.array([*chord.unit().left()])
    off = np.abs((curve.control - [*curve.start]) @ square).max()
    return bool(off <= STRAIGHT and curve.length - abs(chord) <= STRAIGHT)


# -- lines -----------------------------------------------------------------------------------


class _Drawn(NamedTuple):
    """A piece to draw, with its allowances if it has them."""

    piece: Piece
    finished: FinishedPiece | None


def _pieces(document: Document) -> list[_Drawn]:
    if document.finished:
        return [_Drawn(finished.piece, finished) for finished in document.finished]
    return [_Drawn(piece, None) for piece in document.pattern.pieces]


def outlines(document: Document) -> list[tuple[Piece, tuple[Curve, ...]]]:
    """Every piece with what is cut of it, in its own coordinates, without placing any words."""
    return [(drawn.piece, next(_lines(drawn))[1]) for drawn in _pieces(document)]


def _lines(drawn: _Drawn) -> Iterator[Lines]:
    """Every chain of curves of a piece; what is cut comes first."""
    sewn = tuple(edge.curve for edge in drawn.piece.edges)
    if drawn.finished is None:
        yield "outline", sewn
    else:
        yield "outline", tuple(edge.curve for edge in drawn.finished.cut)
        yield "sew", sewn
        for drill in drawn.finished.drills:
            yield "drill", (arc(drill.at, drill.diameter / 2.0, 0.0, 2.0 * math.pi),)
    for guide in drawn.piece.guides:
        yield "guide", (guide.curve,)


def _folds(drawn: _Drawn) -> Iterator[int]:
    edges = drawn.finished.cut if drawn.finished else drawn.piece.edges
    return (i for i, edge in enumerate(edges) if edge.role == "fold")


def _strokes(drawn: _Drawn) -> Iterator[Stroke]:
    """Every straight line drawn inside a piece's outline, in its own coordinates."""
    piece = drawn.piece
    for dart in piece.darts:
        for end in piece.dart_legs(dart):
            yield "dart", end, dart.apex
    for notch in notches(piece, drawn.finished):
        for a, b in _notch_lines(notch):
            yield "notch", a, b
    low, high = piece.grain
    yield "grain", low, high
    along = (high - low).unit()
    one_way = drawn.finished is not None and drawn.finished.nap == "one"
    for tip, way in ((high, along),) if one_way else ((high, along), (low, -along)):
        for side in (ARROW.y, -ARROW.y):
            yield "grain", tip, tip - way * ARROW.x + way.left() * side


def notches(piece: Piece, finished: FinishedPiece | None) -> Sequence[CutNotch]:
    """The notches on what is cut: a slit for each tick of a piece without allowances."""
    return finished.notches if finished else [*_sewn_notches(piece)]


def _sewn_notches(piece: Piece) -> Iterator[CutNotch]:
    for notch in piece.notches:
        curve, here = piece.notch_at(notch)
        for i in range(notch.count):
            along = here + (i - (notch.count - 1) / 2.0) * NOTCH_SPACING
            along = min(max(along, 0.0), curve.length)
            inward = curve.tangent_at(along).left()
            yield CutNotch(notch.name, curve.point_at(along), inward, "slit", NOTCH_DEPTH, 0.0)


def _notch_lines(notch: CutNotch) -> Iterator[tuple[Point, Point]]:
    foot, half = notch.at + notch.inward * notch.depth, notch.inward.left() * notch.width / 2.0
    if notch.kind == "V":
        yield notch.at + half, foot
        yield foot, notch.at - half
    else:
        yield notch.at, foot
    if notch.kind == "T":
        yield foot + half, foot - half


def cross(at: Point) -> list[tuple[Point, Point]]:
    """The two lines of the cross drawn at a mark."""
    return [(at - step, at + step) for step in (Point(CROSS, 0.0), Point(0.0, CROSS))]


def _bars() -> Iterator[Stroke]:
    for up, length, step, _ in BARS:
        a = Point(MARGIN, MARGIN + up)
        b = a + Point(length, 0.0)
        yield "test-bar", a, b
        ticks = round(length / step)
        for i in range(ticks + 1):
            at = a.between(b, i / ticks)
            yield "test-bar", at, at + Point(0.0, 4.0 if i in (0, ticks) else 2.0)


# -- words -----------------------------------------------------------------------------------


def _room(
    document: Document, piece: Piece, lines: Iterable[Lines], inside: Iterable[Stroke]
) -> Room:
    (_, outline), *others = lines
    strokes = [(a, b) for _, a, b in inside]
    strokes += [arm for mark in document.pattern.marks if mark.on(piece.ref) for arm in cross(mark)]
    return Room(outline, [curve for _, curves in others for curve in curves], strokes)


def _words(document: Document, piece: Piece, room: Room) -> Iterator[Words]:
    """All words on a piece, those bound to one place first."""
    around = bounds(edge.curve for edge in piece.edges)
    yield from room.put([_line(label("label.grain"), NOTE_SIZE)], beside(line(*piece.grain), 0.5))
    for edge in piece.edges:
        if edge.role == "fold":
            yield from room.put([_line(label("label.fold"), NOTE_SIZE)], beside(edge.curve, 0.5))
    for dart in piece.darts:
        start, end = piece.dart_legs(dart)
        intake = Length(distance(start, end), document.unit)
        text = label("label.dart", dart=dart.name, intake=intake, says=dart.says)
        words = _line(text, NOTE_SIZE)
        leg = line(start, start.between(dart.apex, 1.0 + PAST_POINT))
        yield from room.put([words], beside(leg, 0.5 / (1.0 + PAST_POINT)))
    for guide in piece.guides:
        yield from room.put([_line(guide.name, NOTE_SIZE)], beside(guide.curve, 0.8))
    for note in piece.notes:
        yield from room.put([_line(note.words, NOTE_SIZE)], near(note.at, around))
    yield from room.put(list(_label(document, piece)), near(piece.label_at, around))


def _label(document: Document, piece: Piece) -> Iterator[TextLine]:
    """The piece's label, most important first."""
    pattern = document.pattern
    yield _line(piece.label.upper(), NAME_SIZE)
    yield _line(pattern.origin(piece.block).title, LINE_SIZE)
    if pattern.body:
        yield _line(_for(document), LINE_SIZE)
    yield _line(_how_cut(piece), LINE_SIZE)
    yield _line(allowances(document), LINE_SIZE)
    estimates = [e for e in pattern.estimates if e.block in ("", piece.block)]
    if estimates:
        yield _line(label("label.estimated"), NOTE_SIZE)
    for estimate in estimates:
        yield _line(estimate.name.replace("_", " "), NOTE_SIZE)
    if not document.proof.held:
        yield TextLine(label("label.unproved"), NAME_SIZE, warning=True)


def _for(document: Document) -> str:
    body = document.pattern.body
    return label("label.for", name=_short(body)) if body else ""


def allowances(document: Document) -> str:
    """Whether what is cut has its allowances, in words."""
    return label("label.with-allowances" if document.finished else "label.no-allowance")


def proved(document: Document) -> str:
    """How many promises hold, in words."""
    count, broken = len(document.proof.results), len(document.proof.broken)
    if document.proof.held:
        return label("label.proved", count=count)
    return label("label.broken", broken=broken, count=count)


def title(document: Document) -> str:
    """What the drawing is of, and for whom, in words."""
    pattern = document.pattern
    if not pattern.body:
        return pattern.title
    return label("label.title", title=pattern.title, name=pattern.body)


def _how_cut(piece: Piece) -> str:
    if any(edge.role == "fold" for edge in piece.edges):
        return label("label.cut-fold", count=piece.cut)
    if not piece.mirrored or piece.cut < 2:
        return label("label.cut", count=piece.cut)
    if piece.cut == 2:
        return label("label.cut-pair", count=piece.cut)
    return label("label.cut-pairs", count=piece.cut, pairs=piece.cut // 2)


def _strip_words(document: Document) -> Iterator[Words]:
    for up, length, _, unit in BARS:
        label = _line(f"{length / unit.millimetres:g} {unit}", NOTE_SIZE)
        yield Words(label, Point(MARGIN + length / 2.0, MARGIN + up + 5.0))
    titles = [title for title in _titles(document) if title[1].text]
    for up, title in titles:
        yield Words(title, Point(TITLE_AT, MARGIN + up), centred=False)
    beside = TITLE_AT + max(title.width for _, title in titles) + NOTE_SIZE * 4.0
    for i, row in enumerate(_sizes(document)):
        at = Point(beside, MARGIN + (SIZE_LINES - 1 - i) * NOTE_LEADING)
        yield Words(row, at, centred=False)


def _titles(document: Document) -> list[tuple[float, TextLine]]:
    """What the sheet is, each line with its height."""
    pattern, held = document.pattern, document.proof.held
    sheet = label("label.sheet", block=pattern.block, allowances=allowances(document))
    return [
        (28.0, _line(pattern.title, NAME_SIZE)),
        (19.5, _line(_for(document), LINE_SIZE)),
        (12.5, TextLine(proved(document), NOTE_SIZE, warning=not held)),
        (6.25, _line(sheet, NOTE_SIZE)),
        (0.0, _line(label("label.measure-bars"), NOTE_SIZE)),
    ]


def _sizes(document: Document) -> list[TextLine]:
    """The finished girths and lengths as measured and the lengths solved for, in a few lines."""
    unit = document.unit
    proof = document.proof
    finished = (r for r in proof.results if r.code in ("girth", "length"))
    found = {proof.label(r.subject): r.measured for r in finished}
    found |= {proof.label(Ref(s.block, s.name)): s.value for s in proof.solved}
    sizes = [
        label("label.size", name=name, length=Length(value, unit))
        for name, value in found.items()
        if math.isfinite(value)
    ]
    a_line = -(-len(sizes) // SIZE_LINES) or 1
    rows = [sizes[i : i + a_line] for i in range(0, len(sizes), a_line)]
    return [_line("; ".join(row), NOTE_SIZE) for row in rows]


def _line(text: str, size: float) -> TextLine:
    return TextLine(" ".join(text.split()), size)


def _short(name: str) -> str:
    plain = " ".join(name.split())
    return plain if len(plain) <= LONGEST_NAME else plain[: LONGEST_NAME - 1] + "…"
