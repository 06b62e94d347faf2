"""Affine maps of the plane: to turn, move, mirror and scale."""

from __future__ import annotations

import math
from dataclasses import dataclass

from blockwright.curves._numpy import np
from blockwright.curves.point import Point


@dataclass(frozen=True, slots=True)
class Affine:
    """A map of the plane: x' = a x + b y + e and y' = c x + d y + f, with e and f in mm.

    `move`, `turn`, `mirror`, `scale` and `laying` make one, and `then` chains two.  Called with a
    point, it gives the point moved.  `Curve.moved` moves a whole curve.  `Affine()` moves nothing.
    It is a frozen value.  Its numbers are not checked.

    Example:
        >>> from blockwright import Affine, Point
        >>> lay = Affine.mirror(Point(0.0, 0.0), Point(0.0, 1.0)).then(Affine.move(Point(5.0, 0.0)))
        >>> lay(Point(30.0, 20.0))
        Point(x=-25.0, y=20.0)
        >>> lay.inverse()(Point(-25.0, 20.0))
        Point(x=30.0, y=20.0)
    """

    a: float = 1.0
    b: float = 0.0
    c: float = 0.0
    d: float = 1.0
    e: float = 0.0
    f: float = 0.0

    @staticmethod
    def move(step: Point) -> Affine:
        """The map that moves every point by `step`, mm."""
        return Affine(e=step.x, f=step.y)

    @staticmethod
    def turn(angle: float, about: Point | None = None) -> Affine:
        """The turn by `angle` radians counter-clockwise about a point or the origin."""
        cos, sin = math.cos(angle), math.sin(angle)
        return _about(Affine(cos, -sin, sin, cos), about)

    @staticmethod
    def mirror(a: Point, b: Point) -> Affine:
        """The mirror in the line through a and b.  Raises ZeroDivisionError if a is b."""
        line = (b - a).unit()
        cos, sin = line.x * line.x - line.y * line.y, 2.0 * line.x * line.y
        return _about(Affine(cos, sin, sin, -cos), a)

    @staticmethod
    def scale(factor: float, about: Point | None = None) -> Affine:
        """The map that enlarges by `factor` about a point or the origin, which stays.

        A factor between 0 and 1 makes things smaller.  A negative factor also makes half a turn.
        """
        return _about(Affine(factor, 0.0, 0.0, factor), about)

    @staticmethod
    def laying(a: Point, b: Point, on_a: Point, on_b: Point) -> Affine:
        """The turn and move that lay `a` on `on_a`, with `b` in the direction of `on_b`.

        Lengths do not change, so `b` comes to `on_b` only if the two distances are equal.  Raises
        ZeroDivisionError if `a` is `b` or `on_a` is `on_b`.

        Example:
            >>> from blockwright import Affine, Point
            >>> up = Point(0.0, 0.0), Point(0.0, 90.0)
            >>> Affine.laying(Point(10.0, 5.0), Point(20.0, 5.0), *up)(Point(20.0, 5.0))
            Point(x=0.0, y=10.0)
        """
        here, there = (b - a).unit(), (on_b - on_a).unit()
        cos, sin = here.dot(there), here.cross(there)
        turn = Affine(cos, -sin, sin, cos)
        return turn.then(Affine.move(on_a - turn(a)))

    def inverse(self) -> Affine:
        """The map that moves every point back.  Raises ZeroDivisionError if this map flattens."""
        size = self.a * self.d - self.b * self.c
        a, b, c, d = self.d / size, -self.b / size, -self.c / size, self.a / size
        return Affine(a, b, c, d, -(a * self.e + b * self.f), -(c * self.e + d * self.f))

    def __call__(self, point: Point) -> Point:
        """The point moved."""
        return Point(
            self.a * point.x + self.b * point.y + self.e,
            self.c * point.x + self.d * point.y + self.f,
        )

    def way(self, direction: Point) -> Point:
        """A step, turned and scaled as the points are but not moved."""
        return self(direction) - Point(self.e, self.f)

    def apply(self, points: np.ndarray) -> np.ndarray:
        """The array of points (..., 2), mm, moved.  The shape stays."""
        matrix = np.array([[self.a, self.c], [self.b, self.d]])
        return np.asarray(points @ matrix + np.array([self.e, self.f]))

    def then(self, other: Affine) -> Affine:
        """This map followed by `other`."""
        o, s = other, self
        return Affine(
            o.a * s.a + o.b * s.c,
            o.a * s.b + o.b * s.d,
            o.c * s.a + o.d * s.c,
            o.c * s.b + o.d * s.d,
            o.a * s.e + o.b * s.f + o.e,
            o.c * s.e + o.d * s.f + o.f,
        )


def _about(linear: Affine, centre: Point | None) -> Affine:
    if centre is None:
        return linear
    moved = linear(centre)
    return linear.then(Affine.move(centre - moved))


STAYS = Affine()
"""The map that moves nothing."""
