"""The one curve value: a chain of cubic Bézier pieces, measured by distance along it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from functools import cached_property

from blockwright.curves import bezier, tolerance
from blockwright.curves._numpy import np
from blockwright.curves.affine import Affine
from blockwright.curves.point import Point
from blockwright.errors import GeometryError

# A point this far past the end, mm, is asked for by rounding and not by mistake.
PAST_END = 1e-7
# A part of a piece that is no longer than this share of the curve is only rounding.
SLIVER = 1e-12
# Newton's method inverts length to this share of it in 3 or 4 steps.  A bracket helps the rest.
INVERSE_SETTLED = 1e-13
INVERSE_STEPS = 60
# A speed under this share of a piece's size is none.  The direction is that of the next handle.
AT_REST = 1e-12


class Curve:
    """An immutable chain of cubic Bézier pieces, millimetres, y up.

    Lines, arcs and fair curves are all curves of this kind; `line`, `arc`, `fair_curve` and the
    like make them.  A place on it is given by its distance from the start, measured along the
    curve.  Lengths and places are good to 1e-9 of the whole.  It is travelled from `start` to
    `end`, and left is the left of a traveller.  Curvature is positive where the curve turns left.

    Methods that take a distance raise GeometryError if it is outside 0..length.  Past an end by
    rounding, 1e-7 mm and 1e-9 of the length, they give the end.

    Example:
        >>> from math import pi
        >>> from blockwright import Point, arc
        >>> neck = arc(Point(0.0, 0.0), 80.0, pi, 1.5 * pi)
        >>> first, rest = neck.split_at(neck.length / 3)
        >>> f"{neck.length:.1f} mm: {first.length:.1f} and {rest.length:.1f}"
        '125.7 mm: 41.9 and 83.8'
        >>> f"({rest.start.x:.1f}, {rest.start.y:.1f})"
        '(-69.3, -40.0)'
    """

    __slots__ = ("__dict__", "_control")

    def __init__(self, control: np.ndarray | Sequence[object]) -> None:
        """`control` has the control points (n, 4, 2), mm, with n at least 1.

        Raises GeometryError unless the shape is right, every number is finite, pieces meet within a
        millionth of a millimetre, and every piece has a length.
        """
        array = np.array(control, dtype=float)
        if array.ndim != 3 or array.shape[1:] != (4, 2) or not len(array):
            raise GeometryError(f"control points have shape {array.shape}, not (n, 4, 2)")
        if not np.isfinite(array).all():
            raise GeometryError("a control point is not a finite number")
        gaps = array[1:, 0] - array[:-1, 3]
        if gaps.size and np.abs(gaps).max() > tolerance.MEETS:
            raise GeometryError(f"pieces do not meet: a gap of {np.abs(gaps).max():.3g} mm")
        empty = ~(array != array[:, :1]).any(axis=(1, 2))
        if empty.all():
            raise GeometryError("the curve has no length: all its points are one")
        if empty.any():
            raise GeometryError(f"piece {int(empty.argmax()) + 1} of the curve has no length")
        array.flags.writeable = False
        self._control = array

    @classmethod
    def unchecked(cls, control: np.ndarray) -> Curve:
        """A curve of control points that were checked before.  It keeps the array."""
        curve = cls.__new__(cls)
        control.flags.writeable = False
        curve._control = control
        return curve

    # -- what it is --------------------------------------------------------------------------

    @property
    def control(self) -> np.ndarray:
        """The control points (n, 4, 2), mm.  The array is read-only; copy it to change it."""
        return self._control

    @property
    def start(self) -> Point:
        """The start, mm."""
        return _point(self._control[0, 0])

    @property
    def end(self) -> Point:
        """The end, mm."""
        return _point(self._control[-1, 3])

    def __eq__(self, other: object) -> bool:
        return isinstance(other, Curve) and np.array_equal(self._control, other._control)

    def __hash__(self) -> int:
        return hash(self._control.tobytes())

    def __repr__(self) -> str:
        a, b = self.start, self.end
        return (
            f"<Curve of {len(self._control)} pieces, {self.length:.2f} mm, "
            f"({a.x:.2f}, {a.y:.2f}) to ({b.x:.2f}, {b.y:.2f})>"
        )

    # -- length and places along it ----------------------------------------------------------

    @cached_property
    def _arc(self) -> tuple[np.ndarray, np.ndarray, np.ndarray, np.ndarray]:
        """The piece, t0 and t1 of each interval, and the distances (m + 1,) of their ends."""
        index, t0, t1, lengths = bezier.arc_intervals(self._control)
        return index, t0, t1, np.concatenate([[0.0], np.cumsum(lengths)])

    @cached_property
    def length(self) -> float:
        """The length, mm.  Raises GeometryError if it is too large to measure."""
        return float(self._arc[3][-1])

    @cached_property
    def joints(self) -> np.ndarray:
        """The distances (n + 1,) along the curve at which its pieces begin and end, mm."""
        _, _, t1, ends = self._arc
        return np.concatenate([[0.0], ends[1:][t1 == 1.0]])

    def _locate(self, distances: np.ndarray) -> tuple[np.ndarray, np.ndarray]:
        """The piece and the parameter at each distance (m,)."""
        index, t0, t1, ends = self._arc
        slack = PAST_END + 1e-9 * self.length
        if len(distances) and not (
            distances.min() >= -slack and distances.max() <= self.length + slack
        ):
            raise GeometryError(
                f"no point at {_outlier(distances, self.length):.4f} mm: "
                f"the curve is {self.length:.4f} mm long"
            )
        at = np.clip(distances, 0.0, self.length)
        which = np.clip(np.searchsorted(ends, at, side="right") - 1, 0, len(index) - 1)
        piece, low, high = index[which], t0[which].copy(), t1[which].copy()
        begin = low.copy()
        want = at - ends[which]
        whole = ends[which + 1] - ends[which]
        velocity = bezier.velocity(self._control[piece])
        t = low + (high - low) * np.divide(want, whole, out=np.zeros_like(want), where=whole > 0)
        for _ in range(INVERSE_STEPS):
            over = bezier.arc_length(velocity, begin, t) - want
            if np.abs(over).max(initial=0.0) <= INVERSE_SETTLED * self.length:
                break
            high = np.where(over > 0.0, t, high)
            low = np.where(over < 0.0, t, low)
            speed = bezier.speed(velocity, t[:, None])[:, 0]
            still = np.where(over == 0.0, 0.0, np.inf)
            step = np.divide(over, speed, out=still, where=speed > 0.0)
            newton = t - step
            inside = (newton >= low) & (newton <= high)
            t = np.where(inside, newton, (low + high) / 2.0)
        # The whole length gives exactly the end.
        return piece, np.where(at == self.length, 1.0, t)

    def along(self, piece: np.ndarray, t: np.ndarray) -> np.ndarray:
        """The distances (m,), mm, of places given by piece (m,) and parameter 0..1 (m,).

        Pieces count from 0.  Neither is checked.
        """
        index, t0, t1, ends = self._arc
        which = np.searchsorted(index + t0, piece + t, side="right") - 1
        # The end of a piece is also the start of the next one.  Stay on the piece asked for.
        while (index[which] > piece).any():
            which = which - (index[which] > piece)
        inside = ends[which] + bezier.arc_length(
            bezier.velocity(self._control[piece]), t0[which], t
        )
        return np.asarray(np.where(t >= t1[which], ends[which + 1], inside))

    def points_at(self, distances: Iterable[float]) -> np.ndarray:
        """The points (m, 2) at distances (m,) along the curve, mm, in any order.

        Raises GeometryError if a distance is outside 0..length.
        """
        piece, t = self._locate(np.asarray(list(distances), dtype=float))
        return bezier.evaluate(self._control[piece], t)

    def point_at(self, distance: float) -> Point:
        """The point at a distance along the curve, mm; see `points_at`."""
        return _point(self.points_at([distance])[0])

    def tangents_at(self, distances: Iterable[float]) -> np.ndarray:
        """The unit directions of travel (m, 2) at distances (m,) along the curve, mm.

        Where the speed is zero, the direction is that of the nearest handle.  At a corner it is
        that of the piece after it.  Raises GeometryError if a distance is outside 0..length.
        """
        piece, t = self._locate(np.asarray(list(distances), dtype=float))
        return directions(self._control[piece], t)

    def tangent_at(self, distance: float) -> Point:
        """The unit direction of travel at a distance along the curve, mm; see `tangents_at`."""
        return _point(self.tangents_at([distance])[0])

    @property
    def start_tangent(self) -> Point:
        """The unit direction of travel at the start."""
        return _end_direction(self._control[0].tolist())

    @property
    def end_tangent(self) -> Point:
        """The unit direction of travel at the end."""
        return -_end_direction(self._control[-1, ::-1].tolist())

    def curvatures_at(self, distances: Iterable[float]) -> np.ndarray:
        """The curvatures (m,), 1/mm, at distances (m,) along the curve, mm.

        A curvature is positive where the curve turns left, that of the piece after at a joint, and
        inf or nan at a cusp.  Raises GeometryError if a distance is outside 0..length.
        """
        piece, t = self._locate(np.asarray(list(distances), dtype=float))
        return curvatures(self._control[piece], t)

    def curvature_at(self, distance: float) -> float:
        """The curvature, 1/mm, at a distance along the curve, mm; see `curvatures_at`."""
        return float(self.curvatures_at([distance])[0])

    # -- cutting up --------------------------------------------------------------------------

    def divide(self, parts: int) -> list[Point]:
        """The `parts` + 1 points that divide the length equally, with both ends.

        Raises GeometryError if `parts` is less than 1.

        Example:
            >>> from blockwright import Point, line
            >>> [f"{mark.y:.1f}" for mark in line(Point(0.0, 0.0), Point(0.0, 90.0)).divide(3)]
            ['0.0', '30.0', '60.0', '90.0']
        """
        if parts < 1:
            raise GeometryError(f"cannot divide a curve into {parts} parts: ask for 1 or more")
        places = self.points_at(np.linspace(0.0, self.length, parts + 1))
        return [self.start, *map(_point, places[1:-1]), self.end]

    def part(self, begin: float, end: float) -> Curve:
        """The stretch between two distances along the curve, mm.

        Raises GeometryError unless `begin` is less than `end` and both are in 0..length.
        """
        if not begin < end:
            raise GeometryError(f"a part must begin before it ends: {begin:.4f} to {end:.4f} mm")
        (i, j), (t, u) = self._locate(np.array([begin, end], dtype=float))
        first, last = int(i), int(j)
        control = self._control[first : last + 1]
        t0, t1 = np.zeros(len(control)), np.ones(len(control))
        t0[0], t1[-1] = t, u
        cut = bezier.restrict(control, t0, t1)
        inner = (t0 == 0.0) & (t1 == 1.0)
        cut[inner] = control[inner]
        keep = self._long_enough(cut)
        return Curve(cut[keep] if keep.any() else cut)

    def split_at(self, distance: float) -> tuple[Curve, Curve]:
        """The curve before and after a distance, mm.  Raises GeometryError unless it is inside."""
        if not 0.0 < distance < self.length:
            raise GeometryError(
                f"cannot split at {distance:.4f} mm: the curve is {self.length:.4f} mm long"
            )
        (i,), (t,) = self._locate(np.array([distance], dtype=float))
        control = self._control
        before, after = bezier.split(control[i], min(max(float(t), 0.0), 1.0))
        keep_before, keep_after = self._long_enough(np.stack([before, after]))
        left = [*control[:i], before] if keep_before else control[:i]
        right = [after, *control[i + 1 :]] if keep_after else control[i + 1 :]
        if not (len(left) and len(right)):
            raise GeometryError(f"cannot split at {distance:.4f} mm: the curve ends there")
        return self.unchecked(np.array(left)), self.unchecked(np.array(right))

    def _long_enough(self, pieces: np.ndarray) -> np.ndarray:
        """Which parts of pieces are longer than the sliver of a cut at the very end of a piece."""
        long: np.ndarray = np.abs(pieces - pieces[:, :1]).max(axis=(1, 2)) > SLIVER * self.length
        return long

    # -- moving ------------------------------------------------------------------------------

    def reversed(self) -> Curve:
        """The same curve travelled the other way."""
        return self.unchecked(self._control[::-1, ::-1])

    def moved(self, transform: Affine) -> Curve:
        """The curve with every point moved by a map.  It is travelled the same way.

        A mirrored curve turns the other way.  Raises GeometryError if the map leaves a piece
        without length or makes a number that is not finite.
        """
        return Curve(transform.apply(self._control))

    # -- seen from outside -------------------------------------------------------------------

    @cached_property
    def bounds(self) -> tuple[float, float, float, float]:
        """The least x and y and the greatest x and y of the curve without its handles, mm.

        They are exact except for rounding.
        """
        control = self._control
        step = np.diff(control, axis=1)
        a = step[:, 0] - 2.0 * step[:, 1] + step[:, 2]
        b = step[:, 1] - step[:, 0]
        c = step[:, 0]
        # The roots of a t^2 + 2 b t + c, in the form that does not cancel.
        with np.errstate(all="ignore"):
            root = np.sqrt(b * b - a * c)
            q = -(b + np.copysign(root, b))
            candidates = np.stack([q / a, c / q])
        candidates = np.where(np.isfinite(candidates), np.clip(candidates, 0.0, 1.0), 0.0)
        places = [control[:, 0], control[:, 3]]
        for axis in (0, 1):
            for t in candidates[:, :, axis]:
                places.append(bezier.evaluate(control, t))
        every = np.concatenate(places)
        (x0, y0), (x1, y1) = every.min(axis=0), every.max(axis=0)
        return float(x0), float(y0), float(x1), float(y1)

    def flatten(self, *, accuracy: float = 0.01) -> np.ndarray:
        """The corners (m, 2), mm, of a polyline within `accuracy` mm of the curve.

        The bound is sure: a step dt leaves at most dt^2/8 of the second derivative.  The ends of
        the pieces are exactly among the corners.  Raises GeometryError unless the accuracy is more
        than zero.
        """
        if not accuracy > 0.0:
            raise GeometryError(f"accuracy must be more than 0 mm, not {accuracy}")
        control = self._control
        bend = 6.0 * np.linalg.norm(np.diff(control, n=2, axis=1), axis=2).max(axis=1)
        steps = np.maximum(1, np.ceil(np.sqrt(bend / (8.0 * accuracy)))).astype(int)
        piece = np.repeat(np.arange(len(control)), steps)
        first = np.cumsum(steps) - steps
        t = (np.arange(len(piece)) - first[piece] + 1) / steps[piece]
        points = bezier.evaluate(control[piece], t)
        points[first + steps - 1] = control[:, 3]
        return np.concatenate([control[:1, 0], points])


def curvatures(control: np.ndarray, t: np.ndarray) -> np.ndarray:
    """The signed curvatures (m,) of pieces (m, 4, 2), each at its parameter."""
    d1, d2 = bezier.derivative(control, t), bezier.second_derivative(control, t)
    with np.errstate(divide="ignore", invalid="ignore"):
        cross = d1[:, 0] * d2[:, 1] - d1[:, 1] * d2[:, 0]
        return np.asarray(cross / np.hypot(d1[:, 0], d1[:, 1]) ** 3)


def directions(control: np.ndarray, t: np.ndarray) -> np.ndarray:
    """The unit directions of travel (m, 2) of pieces (m, 4, 2), each at its parameter."""
    velocity = bezier.derivative(control, t)
    speed = np.hypot(velocity[:, 0], velocity[:, 1])
    span = np.abs(control - control[:, :1]).max(axis=(1, 2))
    for i in np.flatnonzero(speed <= AT_REST * span):
        piece = control[i].tolist()
        velocity[i] = tuple(_end_direction(piece) if t[i] < 0.5 else -_end_direction(piece[::-1]))
        speed[i] = 1.0
    return np.asarray(velocity / speed[:, None])


def _end_direction(piece: list[list[float]]) -> Point:
    """The unit direction from a piece's first control point to the next one apart from it."""
    start = Point(*piece[0])
    span = max(abs(x - start.x) + abs(y - start.y) for x, y in piece)
    for x, y in piece[1:]:
        step = Point(x - start.x, y - start.y)
        if abs(step) > AT_REST * span:
            return step.unit()
    raise GeometryError("a curve piece has no length, so no direction")


def _point(pair: np.ndarray) -> Point:
    return Point(float(pair[0]), float(pair[1]))


def _outlier(distances: np.ndarray, length: float) -> float:
    outside = np.maximum(-distances, distances - length)
    return float(distances[int(np.argmax(np.nan_to_num(outside, nan=np.inf)))])
