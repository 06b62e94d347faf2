"""What every drawing shows of a piece, and where the pieces lie on the sheet; mm, y up."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from blockwright.body.lengths import Unit, format_length
from blockwright.curves.affine import Affine
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point, distance
from blockwright.pattern.piece import Piece
from blockwright.plugin.format import Document

MARGIN = 20.0
GAP = 40.0
# Notch ticks reach half a centimetre into the piece (published depth); twin ticks stand apart
# by twice that, so that they cannot be taken for one.
NOTCH_DEPTH = 5.0
NOTCH_SPACING = 10.0
BAR_HEIGHT = 45.0
CM_BAR = 100.0
INCH_BAR = 101.6


@dataclass(frozen=True, slots=True)
class Placed:
    """A piece moved to its place on the sheet."""

    piece: Piece
    move: Affine

    def curves(self) -> list[Curve]:
        """Outline edges in order, where they lie on the sheet."""
        return [edge.curve.moved(self.move) for edge in self.piece.edges]


@dataclass(frozen=True, slots=True)
class Sheet:
    """All pieces side by side above the test bars, from the origin to width and height."""

    placed: tuple[Placed, ...]
    width: float
    height: float


def lay_out(document: Document) -> Sheet:
    """Pieces side by side, apart by GAP, bottoms level, above a strip for the test bars."""
    placed = []
    x = MARGIN
    top = 0.0
    floor = MARGIN + BAR_HEIGHT
    for piece in document.pattern.pieces:
        boxes = [edge.curve.bounds for edge in piece.edges]
        x0, y0 = min(b[0] for b in boxes), min(b[1] for b in boxes)
        x1, y1 = max(b[2] for b in boxes), max(b[3] for b in boxes)
        placed.append(Placed(piece, Affine.move(Point(x - x0, floor - y0))))
        x += x1 - x0 + GAP
        top = max(top, floor + y1 - y0)
    least = INCH_BAR + 2.0 * MARGIN
    return Sheet(tuple(placed), max(x - GAP + MARGIN, least), top + MARGIN)


def notch_ticks(piece: Piece) -> Iterator[tuple[Point, Point]]:
    """Ticks from the edge into the piece: every notch, and the ends of dart legs."""
    for notch in piece.notches:
        curve = piece.edge(notch.edge).curve
        for i in range(notch.count):
            along = notch.along + (i - (notch.count - 1) / 2.0) * NOTCH_SPACING
            at = min(max(along, 0.0), curve.length)
            point = curve.point_at(at)
            yield point, point + curve.tangent_at(at).left() * NOTCH_DEPTH


def dart_lines(piece: Piece) -> Iterator[tuple[Point, Point]]:
    """Both legs of every dart, from the outline to the apex."""
    for dart in piece.darts:
        for end in piece.dart_legs(dart):
            yield end, dart.apex


def label_lines(document: Document, piece: Piece) -> list[str]:
    """The piece's label, most important first."""
    pattern = document.pattern
    pair = ", a mirrored pair" if piece.mirrored and piece.cut == 2 else ""
    lines = [piece.name.upper(), f"{pattern.title} ({pattern.block})"]
    if pattern.body:
        lines.append(f"for {pattern.body}")
    lines += [f"cut {piece.cut}{pair}", "no seam allowance"]
    if pattern.estimates:
        lines.append("estimated: " + ", ".join(e.name for e in pattern.estimates))
    if not document.proof.held:
        lines.append("UNPROVED")
    return lines


def dart_notes(document: Document, piece: Piece) -> Iterator[tuple[Point, float, str]]:
    """Middle, direction and words along the leg of each dart: what it takes in, how pressed."""
    for dart in piece.darts:
        start, end = piece.dart_legs(dart)
        intake = format_length(distance(start, end), document.unit)
        leg = dart.apex - start if dart.apex.x >= start.x else start - dart.apex
        off = leg.unit().left() * 2.0
        yield start.between(dart.apex) + off, leg.angle, f"{dart.name}, {intake}, {dart.says}"


def bar_labels() -> tuple[str, str, str]:
    """Words beside the test bars."""
    return (
        format_length(CM_BAR, Unit.CM),
        format_length(INCH_BAR, Unit.IN),
        "Measure both bars before cutting good cloth; print at 100 %.",
    )
