"""Words on a drawing: how much room they take, and a place clear of every line; mm, y up."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Sequence
from typing import NamedTuple
from unicodedata import east_asian_width

from blockwright.curves._numpy import np
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point, distance

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
# DXF gives the height of capitals, which is this share of a text's size.
CAPITALS = 0.7
# Tried in turn until the words fit; at four tenths the smallest letters are still 1.2 mm high.
SCALES = (1.0, 0.85, 0.7, 0.55, 0.4)
# Places looked at over the breadth and the height of a piece.
GRID = 24
# Lines are looked at as chains of straight ones this near to them, mm.
FLAT = 0.1
# Stands for the square of no length at all, so that nothing is divided by it.
TINY = 1e-30


class TextLine(NamedTuple):
    """A line of text and its size, mm."""

    text: str
    size: float
    warning: bool = False

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

    def sides(self) -> list[tuple[Point, Point]]:
        """Its sides and diagonals."""
        w, h = self.width / 2.0, self.height / 2.0
        a, b, c, d = (
            self.middle + Point(x, y).turned(self.angle)
            for x, y in ((-w, -h), (w, -h), (w, h), (-w, h))
        )
        return [(a, b), (b, c), (c, d), (d, a), (a, c), (b, d)]


Places = Callable[[float, float], Iterable[tuple[Point, float]]]
"""Middles and directions to try for words of a width and height, best first."""


def near(at: Point, bounds: tuple[float, float, float, float]) -> Places:
    """Level at `at`, then ever further from it, anywhere in the bounds."""
    x0, y0, x1, y1 = bounds

    def places(width: float, height: float) -> Iterator[tuple[Point, float]]:
        yield at, 0.0
        grid = [
            Point(x0 + (x1 - x0) * i / GRID, y0 + (y1 - y0) * j / GRID)
            for i in range(1, GRID)
            for j in range(1, GRID)
        ]
        for place in sorted(grid, key=lambda place: distance(place, at)):
            yield place, 0.0

    return places


def beside(curve: Curve, share: float) -> Places:
    """Along a curve on either side, first at `share` of it, then ever further from there."""
    shares = sorted((i / GRID for i in range(GRID + 1)), key=lambda s: abs(s - share))

    def places(width: float, height: float) -> Iterator[tuple[Point, float]]:
        for off in (height / 2.0 + BESIDE, -height / 2.0 - BESIDE):
            for at in shares:
                place = at * curve.length
                angle = _readable(curve.tangent_at(place).angle)
                yield curve.point_at(place) + Point(0.0, off).turned(angle), angle

    return places


def _readable(angle: float) -> float:
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
        """`curves` and straight `lines` are those drawn inside the outline."""
        self._outline = np.concatenate([_chain(curve) for curve in outline])
        # Edges meet but for rounding; a ray through the gap would not see the outline.
        self._outline[:, 0] = np.roll(self._outline[:, 1], 1, axis=0)
        self._lines = np.concatenate(
            [self._outline, *(_chain(curve) for curve in curves), _pairs(lines)]
        )

    def put(self, lines: Sequence[TextLine], places: Places) -> list[Words]:
        """The lines one under the other, at the first place that is free.

        If there is none they are tried smaller; a piece too small for the smallest carries them
        at the first place, over its lines.
        """
        for scale in SCALES:
            scaled = [TextLine(line.text, line.size * scale, line.warning) for line in lines]
            width = max(line.width for line in scaled)
            height = sum(line.size for line in scaled) * LEADING
            for at, angle in places(width, height):
                box = Box(at, width, height, angle)
                if self._free(box):
                    return self._write(scaled, box)
        at, angle = next(iter(places(width, height)))
        return self._write(scaled, Box(at, width, height, angle))

    def _write(self, lines: Sequence[TextLine], box: Box) -> list[Words]:
        self._lines = np.concatenate([self._lines, _pairs(box.sides())])
        return _stacked(lines, box)

    def _free(self, box: Box) -> bool:
        """No line comes nearer than CLEAR to the box, and it lies inside the outline."""
        cos, sin = math.cos(box.angle), math.sin(box.angle)
        turn = np.array([[cos, -sin], [sin, cos]])
        ends = (self._lines - [*box.middle]) @ turn
        clear = apart(ends, box.width / 2.0 + CLEAR, box.height / 2.0 + CLEAR)
        return bool(clear.all()) and self.covers(box.middle)

    def covers(self, point: Point) -> bool:
        """Whether a point lies inside the outline or on it, within CLEAR."""
        a, b = self._outline[:, 0] - [*point], self._outline[:, 1] - [*point]
        # A ray to the right crosses the outline an odd number of times from inside.
        straddles = (a[:, 1] > 0.0) != (b[:, 1] > 0.0)
        cross = a[:, 0] * b[:, 1] - a[:, 1] * b[:, 0]
        crossed = straddles & ((cross > 0.0) == (b[:, 1] > a[:, 1]))
        if crossed.sum() % 2 == 1:
            return True
        along = b - a
        square = np.maximum((along * along).sum(axis=1), TINY)
        share = np.clip(-(a * along).sum(axis=1) / square, 0.0, 1.0)
        nearest = a + along * share[:, None]
        return bool(np.hypot(nearest[:, 0], nearest[:, 1]).min() <= CLEAR)


def apart(lines: np.ndarray, width: float, height: float) -> np.ndarray:
    """Which lines (..., n, 2, 2) stay out of an upright box about the origin, as (..., n).

    `width` and `height` are half of the box's.
    """
    middle, half = lines.mean(axis=-2), (lines[..., 1, :] - lines[..., 0, :]) / 2.0
    reach = np.abs(half)
    # Two convex shapes are apart when an axis of either separates them.
    return np.asarray(
        (np.abs(middle[..., 0]) > width + reach[..., 0])
        | (np.abs(middle[..., 1]) > height + reach[..., 1])
        | (
            np.abs(middle[..., 0] * half[..., 1] - middle[..., 1] * half[..., 0])
            > width * reach[..., 1] + height * reach[..., 0]
        )
    )


def _chain(curve: Curve) -> np.ndarray:
    """The straight lines (n, 2, 2) that stand for a curve."""
    corners = curve.flatten(accuracy=FLAT)
    return np.stack([corners[:-1], corners[1:]], axis=1)


def _pairs(lines: Iterable[tuple[Point, Point]]) -> np.ndarray:
    return np.array([[[*a], [*b]] for a, b in lines]).reshape(-1, 2, 2)


def _stacked(lines: Sequence[TextLine], box: Box) -> list[Words]:
    words = []
    down = box.height / 2.0
    for line in lines:
        down -= line.size * LEADING
        seat = Point(0.0, down + SEAT * line.size).turned(box.angle)
        words.append(Words(line, box.middle + seat, box.angle))
    return words
