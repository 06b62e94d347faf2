"""DXF R12 for old cutters: curves as fine straight lines, one layer a role, each piece a block; mm.

Lines of text in pairs, written here and not by a library: the oldest readers take nothing else, and
those libraries that read the file are then a judge of it.  Every number has at most six decimals
and no exponent, every name at most 31 letters of A-Z 0-9 _ - $, every text seven bits.
"""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Sequence
from typing import NamedTuple
from unicodedata import combining, normalize

from blockwright.curves import bezier
from blockwright.curves._numpy import np
from blockwright.curves.curve import Curve, directions
from blockwright.curves.point import Point, distance
from blockwright.formats import layout, line_styles
from blockwright.formats.dxf_layers import NAMES
from blockwright.formats.labels import piece_name
from blockwright.formats.text_placement import CAPITALS, Words
from blockwright.plugin.format import Document, Flat

# Longest name and longest text of R12, letters (from memory).
LONGEST_NAME, LONGEST_TEXT = 31, 250
# No vertex on a smooth stretch turns by more than about this: where curves are tight, a line as far
# off as `flat` allows would show as a corner, to the eye and to a reader.
TURN = math.radians(2.0)
# Nor is a stretch along a curve longer than this, mm: longer ones leave to a reader how the curve
# lies between, where it straightens.
LONGEST = 50.0
# A straight piece of a curve, if it is so long, mm, has so many stretches: with three in one line
# a reader sees that it is straight.
RULED, RULED_STEPS = 8.0, 4
# Below this, a share of a stretch, a piece of curve is straight but for rounding.
STRAIGHT = 1e-4
# Edges that meet at more than this make a corner of the line.
CORNER = math.radians(1.0)
# Vertices nearer than this, mm, are one: two decimals more than any cutter has.
SAME = 1e-4
_SIGNS = str.maketrans(
    {
        "ß": "ss", "ẞ": "SS", "æ": "ae", "Æ": "AE", "œ": "oe", "Œ": "OE", "ø": "o", "Ø": "O",
        "ł": "l", "Ł": "L", "đ": "d", "Đ": "D", "ð": "d", "Ð": "D", "þ": "th", "Þ": "Th",
        "ħ": "h", "ı": "i", "–": "-", "—": "-", "−": "-", "×": "x", "⁄": "/", "″": '"',
        "′": "'", "‘": "'", "’": "'", "“": '"', "”": '"', "„": '"', "«": '"', "»": '"',
    }
)  # fmt: skip

Tag = tuple[int, str | int | float]
"""A pair of lines: the group code, and the value."""


def write(document: Document) -> bytes:
    """The whole file, the same bytes for the same document."""
    sheet = layout.lay_out(document)
    names = block_names(piece_name(placed.piece) for placed in sheet.placed)
    blocks = []
    entities: list[Tag] = []
    for name, placed in zip(names, sheet.placed, strict=True):
        blocks.append((name, list(_piece(placed, Flat(document.options).flat))))
        entities += insert(name, placed.step)
    for role, a, b in sheet.bars:
        entities += straight(NAMES[role], a, b)
    for words in sheet.words:
        entities += _text(words)
    low = Point(layout.MARGIN, layout.MARGIN)
    high = Point(sheet.width, sheet.height) - low
    dashes = {NAMES[role]: stroke.dashes for role, stroke in line_styles.STROKES.items()}
    return drawing(dashes | {NAMES["text"]: ()}, blocks, entities, (low, high))


def _piece(placed: layout.Placed, flat: float) -> Iterator[Tag]:
    for role, curves in placed.parted():
        closed = distance(curves[-1].end, curves[0].start) <= SAME
        yield from polyline(NAMES[role], chain(curves, flat, closed=closed).points, closed)
    for role, a, b in placed.strokes:
        yield from straight(NAMES[role], a, b)
    for mark in placed.marks:
        yield from dot(NAMES["mark"], Point(*mark))
    for words in placed.words:
        yield from _text(words)


def _text(words: Words) -> Iterator[Tag]:
    """Centred by the reader that can, and by its start by one that cannot."""
    half = words.line.width / 2.0 if words.centred else 0.0
    start = words.at - Point(half, 0.0).turned(words.angle)
    height = words.line.size * CAPITALS
    yield from text(NAMES["text"], words.line.text, start, height, words.angle)
    if words.centred:
        yield from ((72, 1), *at(words.at, 11))


# -- curves as straight lines ----------------------------------------------------------------


class Chain(NamedTuple):
    """A line of straight stretches along curves; without its first point again if it is closed.

    `points` (m, 2), mm; `turns` numbers the vertices at ends of curves and at corners, `curves`
    those on smooth curves that with the turns are enough to draw the curves through.
    """

    points: np.ndarray
    turns: list[int]
    curves: list[int]


def chain(curves: Sequence[Curve], flat: float, *, closed: bool) -> Chain:
    """Vertices on curves that follow one another; no stretch is further than `flat` mm off them."""
    control = np.concatenate([curve.control for curve in curves])
    legs = np.diff(control, axis=1)
    bend = 6.0 * np.linalg.norm(np.diff(legs, axis=1), axis=2).max(axis=1)
    steps = np.maximum(np.sqrt(bend / (8.0 * flat)), _turning(legs) / TURN)
    corner = _corners(control)
    parts = np.cumsum(np.append(False, corner))
    bent = np.bincount(parts, steps > STRAIGHT)[parts] > 0
    size = np.linalg.norm(legs, axis=2).sum(axis=1)
    ruled = (steps <= STRAIGHT) & (size >= RULED)
    far = np.maximum(size / LONGEST, np.where(ruled, RULED_STEPS, 1))
    # An even number has a vertex in the middle of the piece.
    steps = np.where(bent, 2 * np.ceil(np.maximum(steps, far) / 2.0), 1).astype(int)
    piece = np.repeat(np.arange(len(control)), steps)
    first = np.cumsum(steps) - steps
    t = (np.arange(len(piece)) - first[piece]) / steps[piece]
    points = np.concatenate([bezier.evaluate(control[piece], t), control[-1:, 3]])
    joints = np.append(first, len(piece))
    ends = np.cumsum([0, *(len(curve.control) for curve in curves)])
    turn = np.zeros(len(points), dtype=bool)
    turn[joints[ends]] = True
    turn[joints[1:-1]] |= corner
    curve = np.zeros(len(points), dtype=bool)
    curve[joints] = True
    curve[(first + steps // 2)[steps > 1]] = True
    curve &= ~turn
    return _distinct(points, turn, curve, closed)


def _turning(legs: np.ndarray) -> np.ndarray:
    """How far each piece turns, radians, at most: its control polygon does not turn less."""
    a, b, c = legs[:, 0], legs[:, 1], legs[:, 2]
    return np.asarray(np.maximum(_angle(a, b) + _angle(b, c), _angle(a, c)))


def _corners(control: np.ndarray) -> np.ndarray:
    """Whether the line has a corner at each joint of its pieces."""
    before = directions(control[:-1], np.ones(len(control) - 1))
    after = directions(control[1:], np.zeros(len(control) - 1))
    return _angle(before, after) > CORNER


def _angle(a: np.ndarray, b: np.ndarray) -> np.ndarray:
    cross = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
    return np.asarray(np.abs(np.arctan2(cross, (a * b).sum(axis=1))))


def _distinct(points: np.ndarray, turn: np.ndarray, curve: np.ndarray, closed: bool) -> Chain:
    """Vertices at one place made one."""
    fresh = np.abs(np.diff(points, axis=0)).max(axis=1) > SAME
    keep = np.concatenate([[True], fresh])
    number = np.cumsum(keep) - 1
    points = points[keep]
    if closed and np.abs(points[-1] - points[0]).max() <= SAME:
        points = points[:-1]
        number %= len(points)
    turns = sorted(set(number[turn].tolist()))
    return Chain(points, turns, sorted(set(number[curve].tolist()) - set(turns)))


# -- pairs of lines --------------------------------------------------------------------------


def polyline(layer: str, points: np.ndarray, closed: bool) -> Iterator[Tag]:
    """Straight stretches through points (m, 2)."""
    yield from ((0, "POLYLINE"), (8, layer), (66, 1), *at(Point(0.0, 0.0)), (70, int(closed)))
    for x, y in points.tolist():
        yield from ((0, "VERTEX"), (8, layer), *at(Point(x, y)))
    yield from ((0, "SEQEND"), (8, layer))


def straight(layer: str, a: Point, b: Point) -> Iterator[Tag]:
    """One straight line."""
    yield from ((0, "LINE"), (8, layer), *at(a), *at(b, 11))


def dot(layer: str, place: Point, *more: Tag, height: float = 0.0) -> Iterator[Tag]:
    """A point."""
    yield from ((0, "POINT"), (8, layer), *at(place, height=height), *more)


def text(layer: str, letters: str, start: Point, height: float, angle: float) -> Iterator[Tag]:
    """A text that starts somewhere; `height` of capitals, `angle` in radians."""
    yield from ((0, "TEXT"), (8, layer), *at(start), (40, height), (1, seven_bit(letters)))
    yield (50, math.degrees(angle))


def insert(block: str, step: Point) -> Iterator[Tag]:
    """A block put in its place."""
    yield from ((0, "INSERT"), (8, "0"), (2, block), *at(step))


def at(place: Point, code: int = 10, height: float = 0.0) -> tuple[Tag, Tag, Tag]:
    """The coordinates of a place."""
    return (code, place.x), (code + 10, place.y), (code + 20, height)


def drawing(
    dashes: dict[str, tuple[float, ...]],
    blocks: Iterable[tuple[str, list[Tag]]],
    entities: Iterable[Tag],
    extents: tuple[Point, Point],
    cross: float = 2.0 * layout.CROSS,
) -> bytes:
    """A whole R12 file: dash patterns of its layers by their names, blocks by theirs.

    A point shows as a cross as large as `cross`.
    """
    low, high = extents
    tags: list[Tag] = [(0, "SECTION"), (2, "HEADER"), (9, "$ACADVER"), (1, "AC1009")]
    tags += [(9, "$INSBASE"), *at(Point(0.0, 0.0)), (9, "$EXTMIN"), *at(low)]
    tags += [(9, "$EXTMAX"), *at(high), (9, "$PDMODE"), (70, 2)]
    tags += [(9, "$PDSIZE"), (40, cross), (0, "ENDSEC")]
    tags += [(0, "SECTION"), (2, "TABLES"), *_tables(dashes), (0, "ENDSEC")]
    tags += [(0, "SECTION"), (2, "BLOCKS")]
    for name, inside in blocks:
        tags += [(0, "BLOCK"), (8, "0"), (2, name), (70, 0), *at(Point(0.0, 0.0)), (3, name)]
        tags += [*inside, (0, "ENDBLK"), (8, "0")]
    tags += [(0, "ENDSEC"), (0, "SECTION"), (2, "ENTITIES"), *entities, (0, "ENDSEC"), (0, "EOF")]
    # Lines end as they did when R12 was new.
    return "".join(f"{code:3d}\r\n{_value(value)}\r\n" for code, value in tags).encode("ascii")


def _tables(dashes: dict[str, tuple[float, ...]]) -> Iterator[Tag]:
    dashed = {name: each for name, each in dashes.items() if each}
    yield from ((0, "TABLE"), (2, "LTYPE"), (70, 1 + len(dashed)))
    for name, each in {"CONTINUOUS": (), **dashed}.items():
        yield from ((0, "LTYPE"), (2, name), (70, 64), (3, name), (72, 65), (73, len(each)))
        yield (40, math.fsum(each))
        for i, dash in enumerate(each):
            yield (49, -dash if i % 2 else dash)
    yield from ((0, "ENDTAB"), (0, "TABLE"), (2, "LAYER"), (70, 1 + len(dashes)))
    for name in ("0", *dashes):
        line = name if name in dashed else "CONTINUOUS"
        yield from ((0, "LAYER"), (2, name), (70, 64), (62, 7), (6, line))
    yield from ((0, "ENDTAB"), (0, "TABLE"), (2, "STYLE"), (70, 1))
    yield from ((0, "STYLE"), (2, "STANDARD"), (70, 0), (40, 0.0), (41, 1.0), (50, 0.0))
    yield from ((71, 0), (42, 2.5), (3, "txt"), (4, ""), (0, "ENDTAB"))


def _value(value: str | float) -> str:
    if not isinstance(value, float):
        return str(value)
    digits = f"{value:.6f}".rstrip("0")
    digits += "0" if digits.endswith(".") else ""
    return "0.0" if digits == "-0.0" else digits


def block_names(pieces: Iterable[str]) -> list[str]:
    """A block name a piece, of the letters and the length that every reader takes."""
    names = []
    for number, piece in enumerate(pieces, start=1):
        letters = re.sub("[^A-Z0-9]+", "_", seven_bit(piece).upper()).strip("_")
        names.append(f"PIECE_{number}_{letters}"[:LONGEST_NAME].rstrip("_"))
    return names


def seven_bit(words: str) -> str:
    """Text in the letters of a typewriter: accents left off, what has no likeness as '?'.

    `%%` begins a command in DXF, so that it is parted.
    """
    apart = normalize("NFKD", words.translate(_SIGNS)).translate(_SIGNS)
    letters = (letter for letter in apart if not combining(letter))
    plain = "".join(letter if " " <= letter <= "~" else "?" for letter in letters)
    return re.sub("%(?=%)", "% ", plain)[:LONGEST_TEXT]
