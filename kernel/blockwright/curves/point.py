"""A place on the paper."""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from numbers import Real
from typing import Any

from blockwright.errors import PatternError
from blockwright.spelling import what_is


@dataclass(frozen=True, slots=True)
class Point:
    """A place, or the step from one place to another, in millimetres, y up.

    It adds, subtracts and scales like a vector.  `abs` gives its length, and `x, y = point` its
    numbers.  Angles are in radians, counter-clockwise from the x axis.  It is a frozen value; two
    are equal if all their digits are.  Its numbers are not checked.

    Example:
        >>> from blockwright import Point
        >>> neck, shoulder = Point(70.0, 40.0), Point(190.0, 0.0)
        >>> shoulder - neck, neck.between(shoulder)
        (Point(x=120.0, y=-40.0), Point(x=130.0, y=20.0))
        >>> neck.toward(Point(70.0, 0.0), 15.0)
        Point(x=70.0, y=25.0)
    """

    x: float
    y: float

    def __iter__(self) -> Iterator[float]:
        yield self.x
        yield self.y

    def __add__(self, other: Point) -> Point:
        return Point(self.x + other.x, self.y + other.y)

    def __sub__(self, other: Point) -> Point:
        return Point(self.x - other.x, self.y - other.y)

    def __mul__(self, factor: float) -> Point:
        return Point(self.x * factor, self.y * factor)

    __rmul__ = __mul__

    def __truediv__(self, divisor: float) -> Point:
        return Point(self.x / divisor, self.y / divisor)

    def __neg__(self) -> Point:
        return Point(-self.x, -self.y)

    def __abs__(self) -> float:
        """The length of the step, mm."""
        return math.hypot(self.x, self.y)

    @property
    def angle(self) -> float:
        """The direction of the step, radians, -pi to pi.  It is 0 for a step of no length."""
        return math.atan2(self.y, self.x)

    def dot(self, other: Point) -> float:
        """The dot product, mm^2.  It is positive if both steps go the same way."""
        return self.x * other.x + self.y * other.y

    def cross(self, other: Point) -> float:
        """The cross product, mm^2.  It is positive if `other` points to the left of this step."""
        return self.x * other.y - self.y * other.x

    def unit(self) -> Point:
        """The step of length one in the same direction.

        Raises ZeroDivisionError for a step of no length.
        """
        return self / abs(self)

    def left(self) -> Point:
        """The step after a quarter turn to the left."""
        return Point(-self.y, self.x)

    def toward(self, other: Point, distance: float) -> Point:
        """The point `distance` mm from here towards `other`; a negative distance leads away.

        It may lie beyond `other`.  Raises ZeroDivisionError if `other` is this point.
        """
        return self + (other - self).unit() * distance

    def between(self, other: Point, share: float = 0.5) -> Point:
        """The point at `share` of the way to `other`: 0 is here, 1 is `other`, 2 is beyond."""
        return self + (other - self) * share

    def turned(self, angle: float, about: Point | None = None) -> Point:
        """The point turned by `angle` radians counter-clockwise about a point or the origin."""
        centre = about or Point(0.0, 0.0)
        cos, sin = math.cos(angle), math.sin(angle)
        step = self - centre
        return centre + Point(step.x * cos - step.y * sin, step.x * sin + step.y * cos)

    @staticmethod
    def polar(length: float, angle: float) -> Point:
        """The step of `length` mm in direction `angle` radians."""
        return Point(length * math.cos(angle), length * math.sin(angle))


PointLike = Point | Iterable[float]
"""What an author may write where a place is meant: a Point, a pair (x, y) or a row of numpy."""


def as_point(given: object, what: str = "a place") -> Point:
    """The point that is meant: a Point as it is, or one made of a pair of numbers (x, y).

    A pair is a tuple, a list or a row of numpy.  Raises PatternError for anything else; `what` says
    there what the place is.

    Example:
        >>> from blockwright.curves.point import as_point
        >>> as_point((30, 40.5))
        Point(x=30.0, y=40.5)
    """
    if isinstance(given, Point):
        return given
    if isinstance(given, tuple | list) or hasattr(given, "__array__"):
        row: Any = given if getattr(given, "ndim", 1) == 1 else ()
        numbers = list(row)
        if len(numbers) == 2 and all(isinstance(number, Real) for number in numbers):
            return Point(float(numbers[0]), float(numbers[1]))
    said = repr(given) if isinstance(given, str | tuple | list) else what_is(given)
    raise PatternError(f"{what} is {said[:LONGEST]}; give a Point or a pair (x, y), mm")


# Letters of a wrong place that a message repeats.
LONGEST = 60


def distance(a: Point, b: Point) -> float:
    """The straight distance between two points, mm.

    Example:
        >>> from blockwright import Point, distance
        >>> distance(Point(0.0, 0.0), Point(30.0, 40.0))
        50.0
    """
    return math.hypot(b.x - a.x, b.y - a.y)
