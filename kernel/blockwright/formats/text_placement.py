"""Words on a drawing: how much room they take, and a place clear of every line; mm, y up."""

from __future__ import annotations

import math
import re
from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass
from functools import cached_property
from typing import NamedTuple
from unicodedata import east_asian_width

from blockwright.curves._numpy import np
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point

# Sizes, mm: a piece's name is read from a standing height, the rest from the table.
NAME_SIZE, LINE_SIZE, NOTE_SIZE = 9.0, 5.5, 4.0
# Average width of a letter in common sans-serif faces, of a capital, and of a square one, as shares
# of the size.
LETTER, CAPITAL, SQUARE_LETTER = 0.6, 0.72, 1.0
# From one baseline to the next, and how far a baseline is above the bottom of its slot.
LEADING, SEAT = 1.35, 0.3
# Words stay this far from lines and from each other, mm; nearer they run into the stroke.  Words
# along a line are put a little further from it.
CLEAR = 0.8
BESIDE = 1.0
# Words about a place with a cross stand so far from its middle, mm.
AROUND = 3.5
# DXF gives the height of capitals, which is this share of a text's size.
CAPITALS = 0.7
# Tried in turn until the words fit, down to the least size, mm: capitals 1.75 mm high, as in small
# print (common practice, no source).
SCALES = (1.0, 0.85, 0.7, 0.55, 0.4)
LEAST = 2.5
# Lines are broken so that the longest takes about this share of its whole length.
WRAPS = (1.0, 0.7, 0.5, 0.35, 0.25)
# Places looked at over the breadth and the height of a piece, and so many of them at a time.
GRID, TOGETHER = 24, 16
# Words beside a piece stand so far from it and are of this scale; a line of them is so long at
# most; they are tried at steps so far apart, so many up and down.  All but the last two are mm.
OUTSIDE, OUTSIDE_LINE, OUTSIDE_STEP = 6.0, 60.0, 3.0
OUTSIDE_SCALE, OUTSIDE_STEPS = 0.6, 400
# Lines are looked at as chains of straight ones this near to them, mm.
FLAT = 0.1
# Stands for the square of no length at all, so that nothing is divided by it.
TINY = 1e-30
# Where a line may be broken: at a space, but not after a digit.
AFTER_WORDS = re.compile(r"(?<!\d) ")


class TextLine(NamedTuple):
    """A line of text and its size, mm.  One that is `whole` is never broken into several."""

    text: str
    size: float
    warning: bool = False
    whole: bool = False

    @property
    def width(self) -> float:
        """How long it is, about, mm."""
        return math.fsum(_share(letter) for letter in self.text) * self.size


def _share(letter: str) -> float:
    if east_asian_width(letter) in "WF":
        return SQUARE_LETTER
    return CAPITAL if letter.isupper() else LETTER


class Words(NamedTuple):
    """A line of text in its place.

    `at` is the middle of its baseline, or with `centred` false the start; it runs in direction
    `angle`, radians.
    """

    line: TextLine
    at: Point
    angle: float = 0.0
    centred: bool = True


class Box(NamedTuple):
    """A rectangle turned by `angle` about its middle."""

    middle: Point
    width: float
    height: float
    angle: float

    def corners(self) -> list[Point]:
        """Its four corners, counter-clockwise."""
        w, h = self.width / 2.0, self.height / 2.0
        return [
            self.middle + Point(x, y).turned(self.angle)
            for x, y in ((-w, -h), (w, -h), (w, h), (-w, h))
        ]

    def sides(self) -> list[tuple[Point, Point]]:
        """Its sides and diagonals."""
        a, b, c, d = self.corners()
        return [(a, b), (b, c), (c, d), (d, a), (a, c), (b, d)]


def around(words: Words) -> Box:
    """The box round a line of words."""
    width, height = words.line.width, words.line.size * 1.2
    middle = Point(0.0 if words.centred else width / 2.0, words.line.size * 0.3)
    return Box(words.at + middle.turned(words.angle), width, height, words.angle)


@dataclass(frozen=True, slots=True)
class Near:
    """A place in a piece, then places ever further from it; words run at `angle`, radians."""

    at: Point
    angle: float = 0.0


@dataclass(frozen=True)
class Beside:
    """Along a curve on either side, first at `share` of it, then ever further from there."""

    curve: Curve
    share: float

    @cached_property
    def places(self) -> list[tuple[Point, float]]:
        """Places on the curve, and the readable direction of each."""
        shares = sorted((i / GRID for i in range(GRID + 1)), key=lambda s: abs(s - self.share))
        along = [share * self.curve.length for share in shares]
        ways = self.curve.tangents_at(along).tolist()
        angles = [readable(Point(*way).angle) for way in ways]
        return [
            *zip((Point(*at) for at in self.curve.points_at(along).tolist()), angles, strict=True)
        ]

    @property
    def at(self) -> Point:
        """The place on the curve that the words are about."""
        return self.curve.point_at(min(self.share, 1.0) * self.curve.length)


class Put(NamedTuple):
    """Words in their places, and the leader to words that stand beside the piece."""

    words: list[Words]
    leader: tuple[Point, Point] | None = None


def readable(angle: float) -> float:
    """The same direction or the opposite one, whichever is not upside down."""
    turned = math.remainder(angle, math.pi)
    return turned if turned > -math.pi / 2.0 + 1e-9 else math.pi / 2.0


class Room:
    """What is free inside an outline: away from its lines and from words already put there."""

    def __init__(
        self,
        outline: Iterable[Curve],
        curves: Iterable[Curve] = (),
        lines: Iterable[tuple[Point, Point]] = (),
    ) -> None:
        """`curves` and straight `lines` are all others that are drawn of the piece."""
        self._outline = np.concatenate([_chain(curve) for curve in outline])
        # Edges meet but for rounding; a ray through the gap would not see the outline.
        self._outline[:, 0] = np.roll(self._outline[:, 1], 1, axis=0)
        self._lines = np.concatenate(
            [self._outline, *(_chain(curve) for curve in curves), _pairs(lines)]
        )
        self._boxes = _pairs([])
        self._beside: tuple[float, float, float, float] = (
            *self._lines.min(axis=(0, 1)).tolist(),
            *self._lines.max(axis=(0, 1)).tolist(),
        )

    def put(self, lines: Sequence[TextLine], places: Sequence[Near | Beside]) -> Put:
        """The lines one under the other, at the first place that is free.

        If there is none they are broken into more lines, then tried smaller.  Words that fit
        nowhere in the piece stand beside it, with a leader to the first place.
        """
        return self.put_inside(lines, places) or self._put_outside(lines, places[0].at)

    def put_inside(self, lines: Sequence[TextLine], places: Sequence[Near | Beside]) -> Put | None:
        """As `put`, but None for words that fit nowhere in the piece."""
        for scale in SCALES:
            tried = [*_broken(lines, scale)]
            for place in places:
                for written in tried:
                    box = self._first_free(place, *_size(written))
                    if box is not None:
                        return Put(self._write(written, box))
        return None

    def _first_free(self, place: Near | Beside, width: float, height: float) -> Box | None:
        """The first box of a size in the cloth that no line comes nearer to than CLEAR."""
        tried = self._near(place, width, height) if isinstance(place, Near) else _along(
            place, height
        )  # fmt: skip
        for first in range(0, len(tried), TOGETHER):
            part = tried[first : first + TOGETHER]
            boxes = [Box(at, width, height, angle) for at, angle in part]
            clear = self._clear(self._lines, boxes)
            for box, free in zip(boxes, clear.tolist(), strict=True):
                if free and self.covers(box.middle):
                    return box
        return None

    def _near(self, near: Near, width: float, height: float) -> list[tuple[Point, float]]:
        """The place itself, then those of the grid that have room, the nearest first."""
        at, clear = self._grid
        room = at[clear >= min(width, height) / 2.0]
        away = np.hypot(*(room - [*near.at]).T)
        ordered = room[np.argsort(away, kind="stable")]
        w, h = width / 2.0 + AROUND, height / 2.0 + AROUND
        close = [near.at + step for step in (
            Point(0.0, 0.0), Point(0.0, h), Point(0.0, -h), Point(w, 0.0), Point(-w, 0.0),
            Point(w, h), Point(-w, h), Point(w, -h), Point(-w, -h),
        )]  # fmt: skip
        close += [Point(*each) for each in ordered.tolist()]
        return [(each, near.angle) for each in close]

    @cached_property
    def _grid(self) -> tuple[np.ndarray, np.ndarray]:
        """Places (n, 2) in the cloth, and how far each is from the outline, mm."""
        low, high = self._outline.min(axis=(0, 1)), self._outline.max(axis=(0, 1))
        steps = np.arange(1, GRID) / GRID
        across = np.stack(np.meshgrid(steps, steps, indexing="ij"), axis=-1).reshape(-1, 2)
        at = low + across * (high - low)
        at = at[self._inside(at)]
        return at, self._nearest(at)

    def _put_outside(self, lines: Sequence[TextLine], anchor: Point) -> Put:
        """The lines beside the piece, with a leader that crosses no other words if it can."""
        small = [_scaled(line, OUTSIDE_SCALE) for line in lines]
        written = [part for line in small for part in _wrapped(line, OUTSIDE_LINE)]
        width, height = _size(written)
        x0, _, x1, _ = self._beside
        left, right = x0 - OUTSIDE - width / 2.0, x1 + OUTSIDE + width / 2.0
        tried = [
            Box(Point(x, anchor.y + up * OUTSIDE_STEP), width, height, 0.0)
            for step in range(OUTSIDE_STEPS)
            for x in (right, left)
            for up in dict.fromkeys((step, -step))
        ]
        first = None
        for box in tried:
            if not self._clear(self._lines, [box])[0]:
                continue
            leader = _leader(box, anchor)
            first = first or (box, leader)
            if self._uncrossed(leader):
                break
        else:
            box, leader = first or (tried[-1], _leader(tried[-1], anchor))
        words = self._write(written, box)
        self._lines = np.concatenate([self._lines, _pairs([leader])])
        return Put(words, leader)

    def _uncrossed(self, leader: tuple[Point, Point]) -> bool:
        """Whether a leader crosses no words."""
        a, b = leader
        along = Box(a.between(b, 0.5), abs(b - a), 0.0, (b - a).angle)
        return bool(self._clear(self._boxes, [along])[0])

    def _write(self, lines: Sequence[TextLine], box: Box) -> list[Words]:
        sides = _pairs(box.sides())
        self._boxes = np.concatenate([self._boxes, sides])
        self._lines = np.concatenate([self._lines, sides])
        return _stacked(lines, box)

    @staticmethod
    def _clear(lines: np.ndarray, boxes: Sequence[Box]) -> np.ndarray:
        """Of which boxes, all of one size, no line comes nearer than CLEAR."""
        middles = np.array([[*box.middle] for box in boxes])
        width, height = boxes[0].width / 2.0 + CLEAR, boxes[0].height / 2.0 + CLEAR
        reach = math.hypot(width, height)
        near = lines_near(lines, middles.min(axis=0) - reach, middles.max(axis=0) + reach)
        cos = np.array([math.cos(box.angle) for box in boxes])
        sin = np.array([math.sin(box.angle) for box in boxes])
        turn = np.stack([cos, -sin, sin, cos], axis=-1).reshape(-1, 1, 2, 2)
        ends = (near - middles[:, None, None]) @ turn
        return np.asarray(apart(ends, width, height).all(axis=1))

    def covers(self, point: Point) -> bool:
        """Whether a point lies inside the outline or on it, within CLEAR."""
        at = np.array([[*point]])
        return bool(self._inside(at)[0]) or bool(self._nearest(at)[0] <= CLEAR)

    def _inside(self, at: np.ndarray) -> np.ndarray:
        """Which points (n, 2) lie inside the outline."""
        a, b = (self._outline[None, :, end] - at[:, None] for end in (0, 1))
        # A ray to the right crosses the outline an odd number of times from inside.
        straddles = (a[..., 1] > 0.0) != (b[..., 1] > 0.0)
        cross = a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]
        crossed = straddles & ((cross > 0.0) == (b[..., 1] > a[..., 1]))
        return np.asarray(crossed.sum(axis=1) % 2 == 1)

    def _nearest(self, at: np.ndarray) -> np.ndarray:
        """How far points (n, 2) are from the outline, mm."""
        a, b = (self._outline[None, :, end] - at[:, None] for end in (0, 1))
        along = b - a
        square = np.maximum((along * along).sum(axis=2), TINY)
        share = np.clip(-(a * along).sum(axis=2) / square, 0.0, 1.0)
        foot = a + along * share[..., None]
        return np.asarray(np.hypot(foot[..., 0], foot[..., 1]).min(axis=1, initial=math.inf))


def lines_near(lines: np.ndarray, low: np.ndarray, high: np.ndarray) -> np.ndarray:
    """Those of the lines (n, 2, 2) whose boxes come into the box from `low` to `high`."""
    a, b = lines[:, 0], lines[:, 1]
    beside = (np.maximum(a, b) < low) | (np.minimum(a, b) > high)
    return np.asarray(lines[~(beside[:, 0] | beside[:, 1])])


def apart(lines: np.ndarray, width: float, height: float) -> np.ndarray:
    """Which lines (..., n, 2, 2) stay out of an upright box about the origin, as (..., n).

    `width` and `height` are half of the box's.
    """
    (x0, y0), (x1, y1) = (np.moveaxis(lines[..., end, :], -1, 0) for end in (0, 1))
    x, y, across, up = (x0 + x1) / 2.0, (y0 + y1) / 2.0, (x1 - x0) / 2.0, (y1 - y0) / 2.0
    wide, high = np.abs(across), np.abs(up)
    # Two convex shapes are apart when an axis of either separates them.
    return np.asarray(
        (np.abs(x) > width + wide)
        | (np.abs(y) > height + high)
        | (np.abs(x * up - y * across) > width * high + height * wide)
    )


def _chain(curve: Curve) -> np.ndarray:
    """The straight lines (n, 2, 2) that stand for a curve."""
    corners = curve.flatten(accuracy=FLAT)
    return np.stack([corners[:-1], corners[1:]], axis=1)


def _pairs(lines: Iterable[tuple[Point, Point]]) -> np.ndarray:
    return np.array([[[*a], [*b]] for a, b in lines]).reshape(-1, 2, 2)


def _along(beside: Beside, height: float) -> list[tuple[Point, float]]:
    """Middles and directions beside a curve, for words of a height."""
    return [
        (at + Point(0.0, off).turned(angle), angle)
        for off in (height / 2.0 + BESIDE, -height / 2.0 - BESIDE)
        for at, angle in beside.places
    ]


def _scaled(line: TextLine, scale: float) -> TextLine:
    return line._replace(size=min(line.size, max(line.size * scale, LEAST)))


def _broken(lines: Sequence[TextLine], scale: float) -> Iterator[list[TextLine]]:
    """The lines at a scale, as they are and then broken to be ever narrower."""
    scaled = [_scaled(line, scale) for line in lines]
    widest = max(line.width for line in scaled)
    seen = []
    for share in WRAPS:
        room = max(widest * share, *(line.width for line in scaled if line.whole), 0.0)
        broken = [part for line in scaled for part in _wrapped(line, room)]
        if broken not in seen:
            seen.append(broken)
            yield broken


def _wrapped(line: TextLine, room: float) -> list[TextLine]:
    """A line broken between words so that each part goes into the room, if its words do.

    A number stays with the word after it, which may be its unit.
    """
    parts: list[str] = []
    for word in AFTER_WORDS.split(line.text):
        longer = f"{parts[-1]} {word}" if parts else word
        if parts and line._replace(text=longer).width <= room:
            parts[-1] = longer
        else:
            parts.append(word)
    return [line] if line.whole else [line._replace(text=part) for part in parts]


def _size(lines: Sequence[TextLine]) -> tuple[float, float]:
    """Width and height of lines one under the other."""
    return max(line.width for line in lines), sum(line.size for line in lines) * LEADING


def _leader(box: Box, anchor: Point) -> tuple[Point, Point]:
    """From a level box to the place that its words are about."""
    w, h = box.width / 2.0 + CLEAR, box.height / 2.0 + CLEAR
    off = anchor - box.middle
    return box.middle + Point(min(max(off.x, -w), w), min(max(off.y, -h), h)), anchor


def _stacked(lines: Sequence[TextLine], box: Box) -> list[Words]:
    words = []
    down = box.height / 2.0
    for line in lines:
        down -= line.size * LEADING
        seat = Point(0.0, down + SEAT * line.size).turned(box.angle)
        words.append(Words(line, box.middle + seat, box.angle))
    return words
