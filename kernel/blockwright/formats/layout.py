"""What every drawing shows of a draft, and where it lies on the sheet; mm, y up."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace
from itertools import groupby
from typing import TYPE_CHECKING, NamedTuple

from blockwright.body.lengths import Length, Unit
from blockwright.curves._numpy import np
from blockwright.curves.affine import Affine
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point, distance
from blockwright.curves.primitives import arc, line
from blockwright.formats.labels import (
    allowances,
    edge_says,
    for_whom,
    line_of,
    piece_label,
    proved,
)
from blockwright.formats.line_key import Sample, samples
from blockwright.formats.text_placement import (
    LINE_SIZE,
    NAME_SIZE,
    NOTE_SIZE,
    Beside,
    Near,
    Put,
    Room,
    TextLine,
    Words,
    around,
    readable,
)
from blockwright.pattern.copies import OTHER, unfold
from blockwright.pattern.finishing.cut_marks import CutNotch
from blockwright.pattern.piece import Edge, Piece
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
STRIP = 66.0
CM_BAR = 100.0
INCH_BAR = 101.6
BARS = ((17.0, CM_BAR, 10.0, Unit.CM), (0.0, INCH_BAR, 25.4, Unit.IN))
TITLE_AT = MARGIN + INCH_BAR + 14.0
# Beside the title stand the finished sizes, in so many lines at most, this far apart.
SIZE_LINES, NOTE_LEADING = 6, 6.25
# Over them stands the key of the lines, from this height up, its rows so far apart.
KEY_AT, KEY_ROW = 40.0, 7.0
# Names of other edges than folds and waists stand only where an edge is as long as this, mm.
NAMED_EDGE = 60.0
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
    that lie on a fold, where the cloth goes on.  Among the `strokes` are the leaders to words that
    stand beside the piece.

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

    @property
    def extent(self) -> tuple[float, float, float, float]:
        """Least x, least y, greatest x, greatest y of what is cut, and of words beside it."""
        corners = [corner for words in self.words for corner in around(words).corners()]
        x0, y0, x1, y1 = bounds(self.lines[0][1])
        xs, ys = [x0, x1, *(at.x for at in corners)], [y0, y1, *(at.y for at in corners)]
        return min(xs), min(ys), max(xs), max(ys)

    def parted(self) -> Iterator[Lines]:
        """The lines, the outline parted where it goes onto a fold or comes off it."""
        (role, outline), *others = self.lines
        if self.folds:
            first = self.folds[0]
            turned = [(first + i) % len(outline) for i in range(len(outline))]
            for fold, run in groupby(turned, key=lambda i: i in self.folds):
                yield "fold" if fold else role, tuple(outline[i] for i in run)
        else:
            yield role, outline
        yield from others


@dataclass(frozen=True, slots=True)
class Sheet:
    """All pieces side by side above a strip with the test bars and what the sheet is.

    From the origin to width and height; `words` and `bars` are those of the strip.  `key` says
    what each kind of line means; a format that has layers or pens for that leaves it out.

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
    key: tuple[Sample, ...] = ()


def lay_out(document: Document, *, words: bool = True) -> Sheet:
    """Pieces side by side, apart by GAP, bottoms level, on a sheet as wide as pieces and words.

    What a bundled drawing shows, for a format of your own: outlines, lines and words, mm, y up.
    A format without texts leaves out the `words` of the pieces, which may need room beside them.

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
    drawn = _pieces(document)
    for number, one in enumerate(drawn, start=1):
        made = _placed(document, one, number if words else 0, len(drawn))
        x0, y0, x1, y1 = made.extent
        placed.append(replace(made, step=Point(x - x0, floor - y0)))
        x += x1 - x0 + GAP
        top = max(top, floor + y1 - y0)
    strip = tuple(_strip_words(document))
    widest = max(words.at.x + words.line.width for words in strip if not words.centred)
    width = max(x - GAP, widest) + MARGIN
    return Sheet(
        tuple(placed), strip, tuple(_bars()), width, top + MARGIN, strip_key(placed, width)
    )


def strip_key(placed: Sequence[Placed], width: float) -> tuple[Sample, ...]:
    """The key of the lines over the strip of a sheet of that width, mm."""
    at = Point(MARGIN, MARGIN + KEY_AT)
    return samples(roles(placed), at, width - 2.0 * MARGIN, KEY_ROW)


def _placed(document: Document, one: _Drawn, number: int, count: int) -> Placed:
    """A piece with all that is drawn on it, at the origin; no words on a piece of number 0."""
    piece = one.piece
    lines = tuple(_lines(one))
    strokes = tuple(_strokes(one))
    marked = [*_marks(document, piece)]
    room = _room(piece, lines, strokes, marked)
    marks = tuple(mark for mark in marked if room.covers(mark))
    says = [*piece_label(document, *one, number, count)]
    put = [*_words(document, one, room, says)] if number else []
    words = tuple(words for each in put for words in each.words)
    leaders = tuple(("leader", *each.leader) for each in put if each.leader)
    return Placed(
        piece, Point(0.0, 0.0), lines, (*strokes, *leaders), words, marks, tuple(_folds(one))
    )


def roles(placed: Iterable[Placed]) -> set[str]:
    """The kinds of lines that are on the pieces."""
    found = {role for one in placed for role, _ in one.parted()}
    found |= {role for one in placed for role, _, _ in one.strokes}
    return found | {"mark" for one in placed if one.marks}


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
    pieces = document.pattern.pieces
    return [_Drawn(unfold(piece) if document.opened else piece, None) for piece in pieces]


def outlines(document: Document) -> list[tuple[Piece, tuple[Curve, ...]]]:
    """Every piece with what is cut of it, in its own coordinates, without placing any words."""
    return [(drawn.piece, next(_lines(drawn))[1]) for drawn in _pieces(document)]


def cut_edges(document: Document) -> list[tuple[Piece, tuple[Edge, ...]]]:
    """Every piece with the edges of what is cut of it."""
    return [
        (one.piece, one.finished.cut if one.finished else one.piece.edges)
        for one in _pieces(document)
    ]


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


def _marks(document: Document, piece: Piece) -> Iterator[Mark]:
    """The marks on a piece, on both sides of a fold that was opened out."""
    pattern = document.pattern
    sewn = next((each for each in pattern.pieces if each.ref == piece.ref), piece)
    opened = [edge.curve for edge in sewn.edges if edge.role == "fold"]
    if sum(edge.role == "fold" for edge in piece.edges) >= len(opened):
        opened = []
    for mark in pattern.marks:
        if mark.on(piece.ref):
            yield mark
            for fold in opened[:1]:
                at = Affine.mirror(fold.start, fold.end)(mark)
                if distance(at, mark) > MEET:
                    yield replace(mark, x=at.x, y=at.y)


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
    piece: Piece, lines: Iterable[Lines], inside: Iterable[Stroke], marks: Iterable[Mark]
) -> Room:
    """What is free in the cloth inside the sew lines."""
    strokes = [(a, b) for _, a, b in inside]
    strokes += [arm for mark in marks for arm in cross(mark)]
    others = [curve for role, curves in lines if role != "sew" for curve in curves]
    return Room([edge.curve for edge in piece.edges], others, strokes)


def _words(
    document: Document, drawn: _Drawn, room: Room, label_lines: Sequence[TextLine]
) -> Iterator[Put]:
    """All words on a piece, those bound to one place first; `label_lines` is its label."""
    piece = drawn.piece
    grain = line(*piece.grain)
    yield _beside(room, label("label.grain"), grain, 0.5)
    told = [edge for edge in piece.edges if edge.role in ("fold", "waist")]
    for says, edge in _longest((edge_says(e.name, e.role), e.curve) for e in told).items():
        yield _beside(room, says, edge, 0.5)
    for dart in piece.darts:
        start, end = piece.dart_legs(dart)
        intake = Length(distance(start, end), document.unit)
        text = label(
            "label.dart", dart=dart.name.removesuffix(OTHER), intake=intake, says=dart.says
        )
        leg = line(start, start.between(dart.apex, 1.0 + PAST_POINT))
        yield _beside(room, text, leg, 0.5 / (1.0 + PAST_POINT))
    for name, guide in _longest((guide.name, guide.curve) for guide in piece.guides).items():
        yield _beside(room, name, guide, 0.8)
    for note in piece.notes:
        yield room.put([line_of(note.words, NOTE_SIZE)], [Near(note.at)])
    turned = readable(grain.start_tangent.angle)
    yield room.put(label_lines, [Near(piece.label_at), Near(piece.label_at, turned)])
    others = [edge for edge in piece.edges if edge.role not in ("fold", "waist", "dart")]
    for says, edge in _longest((edge_says(e.name, e.role), e.curve) for e in others).items():
        if edge.length >= NAMED_EDGE:
            put = room.put_inside([line_of(says, NOTE_SIZE)], [Beside(edge, 0.5)])
            if put:
                yield put


def _beside(room: Room, text: str, curve: Curve, share: float) -> Put:
    """Words about a line: beside it, or else near it."""
    along = Beside(curve, share)
    return room.put([line_of(text, NOTE_SIZE)], [along, Near(along.at)])


def _longest(named: Iterable[tuple[str, Curve]]) -> dict[str, Curve]:
    """The longest of the curves of each name: darts part an edge or a guide in several."""
    found: dict[str, Curve] = {}
    for name, curve in named:
        other = found.setdefault(name, curve)
        found[name] = max(other, curve, key=lambda each: each.length)
    return found


def _strip_words(document: Document) -> Iterator[Words]:
    for up, length, _, unit in BARS:
        says = line_of(f"{length / unit.millimetres:g} {unit}", NOTE_SIZE)
        yield Words(says, Point(MARGIN + length / 2.0, MARGIN + up + 5.0))
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
        (28.0, line_of(pattern.title, NAME_SIZE)),
        (19.5, line_of(for_whom(document), LINE_SIZE)),
        (12.5, TextLine(proved(document), NOTE_SIZE, warning=not held)),
        (6.25, line_of(sheet, NOTE_SIZE)),
        (0.0, line_of(label("label.measure-bars"), NOTE_SIZE)),
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
    return [line_of("; ".join(row), NOTE_SIZE) for row in rows]
