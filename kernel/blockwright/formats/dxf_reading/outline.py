"""Outlines: lines of a file end to end, closed, and looked at; mm, y up."""

from __future__ import annotations

import math
from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from blockwright.curves._numpy import np
from blockwright.curves.chain import signed_area
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point, distance
from blockwright.errors import GeometryError
from blockwright.formats.dxf_reading.shapes import Bent, Run
from blockwright.pattern.piece import Edge

# Ends this near, mm, are one; a turn point this near to a vertex is at it.
MEETS, AT = 0.02, 0.05
# Vertices no further apart, mm, are one place: no cutter goes nearer.
SAME_PLACE = 1e-4
# A mirror line this near to an edge, mm, lies along it.
ALONG = 0.1
# Sew lines are looked for so far inside the cut line, mm: no allowance is wider.
WIDEST = 150.0


class Strand(NamedTuple):
    """A line of the file with its ends; `run` its vertices (m, 2), or a curve."""

    run: np.ndarray | None
    curve: Curve | None
    start: Point
    end: Point

    @property
    def back(self) -> Strand:
        """The same travelled the other way."""
        run = None if self.run is None else self.run[::-1]
        curve = None if self.curve is None else self.curve.reversed()
        return Strand(run, curve, self.end, self.start)


class Polygon:
    """A closed outline as straight stretches, from `a` to `b` (m, 2), with the edge of each."""

    def __init__(self, edges: Sequence[Edge]) -> None:
        chains = [edge.curve.flatten(accuracy=0.01) for edge in edges]
        self.a = np.concatenate([chain[:-1] for chain in chains])
        self.b = np.concatenate([chain[1:] for chain in chains])
        self.edge = np.repeat(np.arange(len(chains)), [len(chain) - 1 for chain in chains])
        self._step = self.b - self.a
        self._square = np.maximum((self._step**2).sum(axis=1), 1e-30)

    def nearest(self, at: Point) -> tuple[float, int]:
        """How far a place is off, mm, and the stretch it is nearest to."""
        off = np.array([at.x, at.y]) - self.a
        share = np.clip((off * self._step).sum(axis=1) / self._square, 0.0, 1.0)
        away = np.hypot(*(off - share[:, None] * self._step).T)
        stretch = int(away.argmin())
        return float(away[stretch]), stretch

    def inward(self, stretch: int) -> Point:
        """The unit step to the left of a stretch."""
        return Point(*self._step[stretch].tolist()).unit().left()

    def carried(self, at: Point, inward: Point) -> tuple[Point, int]:
        """Where the way in from a place meets the outline first, or else the nearest place."""
        off = self.a - [at.x, at.y]
        way = np.array([inward.x, inward.y])
        across = way[0] * self._step[:, 1] - way[1] * self._step[:, 0]
        with np.errstate(divide="ignore", invalid="ignore"):
            far = (off[:, 0] * self._step[:, 1] - off[:, 1] * self._step[:, 0]) / across
            share = (off[:, 0] * way[1] - off[:, 1] * way[0]) / across
        met = (share >= -1e-9) & (share <= 1.0 + 1e-9) & (far >= -AT) & (far <= WIDEST)
        if not met.any():
            _, stretch = self.nearest(at)
            return at, stretch
        stretch = int(np.where(met, far, np.inf).argmin())
        return at + inward * float(far[stretch]), stretch


def lies_along(curve: Curve, a: Point, b: Point) -> bool:
    """Whether a curve is straight and lies on the line from a to b, its middle between them."""
    way = (b - a).unit()
    off = max(abs(way.cross(end - a)) for end in (curve.start, curve.end))
    bow = curve.length - distance(curve.start, curve.end)
    middle = way.dot(curve.start.between(curve.end, 0.5) - a)
    return off <= ALONG and bow <= ALONG and 0.0 <= middle <= distance(a, b)


def around(form: Run | Bent) -> tuple[float, float, float, float]:
    """Least x and y, greatest x and y."""
    if isinstance(form, Bent):
        return form.curve.bounds
    (x0, y0), (x1, y1) = form.points.min(axis=0).tolist(), form.points.max(axis=0).tolist()
    return x0, y0, x1, y1


def spaced(points: np.ndarray) -> np.ndarray:
    """Vertices without those at the place of the one before them."""
    fresh = np.hypot(*np.diff(points, axis=0).T) > SAME_PLACE
    return np.asarray(points[np.concatenate([[True], fresh])])


def rings_of(strands: Sequence[Strand]) -> list[list[Strand]]:
    """Closed lines that open ones make, end to end, whichever way each was drawn."""
    ends: dict[tuple[int, int], list[int]] = {}
    for i, strand in enumerate(strands):
        for end in (strand.start, strand.end):
            ends.setdefault(_cell(end), []).append(i)
    free = set(range(len(strands)))
    rings = []
    for i in range(len(strands)):
        if i not in free:
            continue
        free.discard(i)
        ring = [strands[i]]
        while distance(ring[-1].end, ring[0].start) > MEETS:
            following = _following(strands, ends, free, ring[-1].end)
            if following is None:
                break
            number, strand = following
            free.discard(number)
            ring.append(strand)
        else:
            if len(ring) > 1:
                rings.append(ring)
    return rings


def _following(
    strands: Sequence[Strand], ends: Mapping[tuple[int, int], list[int]], free: set[int], at: Point
) -> tuple[int, Strand] | None:
    column, row = _cell(at)
    for across in (0, -1, 1):
        for up in (0, -1, 1):
            for i in ends.get((column + across, row + up), ())[:50]:
                if i in free and distance(strands[i].start, at) <= MEETS:
                    return i, strands[i]
                if i in free and distance(strands[i].end, at) <= MEETS:
                    return i, strands[i].back
    return None


def _cell(at: Point) -> tuple[int, int]:
    return math.floor(at.x / MEETS), math.floor(at.y / MEETS)


def made_closed(curves: Sequence[Curve]) -> list[Curve]:
    """The curves, each begun exactly where the one before it ends."""
    done = []
    for i, curve in enumerate(curves):
        gap = curves[i - 1].end - curve.start
        if abs(gap):
            control = curve.control.copy()
            control[0, :2] += [*gap]
            control[0, 0] = [*curves[i - 1].end]
            curve = Curve(control)  # noqa: PLW2901
        done.append(curve)
    return done


def area_of(curves: Sequence[Curve]) -> float:
    """What curves enclose, mm^2, gaps that are closed later left open."""
    try:
        return signed_area(made_closed(curves))
    except GeometryError:
        return 0.0


def bounds(edges: Iterable[Edge]) -> tuple[float, float, float, float]:
    """Least x and y, greatest x and y, of edges."""
    x0, y0, x1, y1 = zip(*(edge.curve.bounds for edge in edges), strict=True)
    return min(x0), min(y0), max(x1), max(y1)


def middle_of(edges: Sequence[Edge], grain: tuple[Point, Point]) -> Point:
    """Where the label goes: the middle of the piece if that is inside it, or of the grain."""
    x0, y0, x1, y1 = bounds(edges)
    middle = Point((x0 + x1) / 2.0, (y0 + y1) / 2.0)
    outline = np.concatenate([edge.curve.flatten(accuracy=1.0) for edge in edges]) - [*middle]
    angles = np.arctan2(outline[:, 1], outline[:, 0])
    turns = np.remainder(np.diff(angles, append=angles[:1]) + math.pi, math.tau) - math.pi
    return middle if abs(turns.sum()) > math.pi else grain[0].between(grain[1], 0.5)
