"""Named sample geometries for the curve tests, odd ones included."""

from __future__ import annotations

import math
from collections.abc import Iterator

import numpy as np
from scipy.special import fresnel

from blockwright.curves.curve import Curve
from blockwright.curves.fair import fair_curve
from blockwright.curves.point import Point
from blockwright.curves.primitives import arc, bezier_curve, line, polyline

Marks = list[tuple[float, float]]

# Nine marks, unevenly laid, on a circle of radius 100 mm.
CIRCLE: Marks = [
    (100.0 * math.cos(math.radians(a)), 100.0 * math.sin(math.radians(a)))
    for a in (0.0, 12.0, 40.0, 47.0, 70.0, 95.0, 110.0, 138.0, 150.0)
]
# Nine marks like those of a sleeve cap, 340 by 150 mm.
CAP: Marks = [
    (0.0, 0.0),
    (30.0, 8.0),
    (75.0, 45.0),
    (110.0, 110.0),
    (170.0, 150.0),
    (230.0, 112.0),
    (265.0, 50.0),
    (310.0, 10.0),
    (340.0, 0.0),
]


def euler_spiral(s: np.ndarray, first: float, last: float, length: float) -> np.ndarray:
    """Points (n, 2) of the spiral from the origin along x, from Fresnel's integrals.

    Curvature runs from `first` to `last` over `length`.
    """
    rate = (last - first) / length
    scale = math.sqrt(math.pi / abs(rate))
    # Complete the square: the angle is rate (s + first/rate)^2 / 2 less a constant.
    shift = first / rate

    def value(at: np.ndarray) -> np.ndarray:
        sine, cosine = fresnel(at / scale)
        return scale * (cosine + 1j * math.copysign(1.0, rate) * sine)

    turn = np.exp(-0.5j * rate * shift * shift)
    z = turn * (value(np.asarray(s) + shift) - value(np.array(shift)))
    return np.column_stack([z.real, z.imag])


# Six marks on an Euler spiral 400 mm long, curvature from -0.002 to 0.014 per mm.
SPIRAL_BENDS = (-0.002, 0.014, 400.0)
SPIRAL: Marks = [
    (float(x), float(y))
    for x, y in euler_spiral(np.array([0.0, 60.0, 150.0, 230.0, 310.0, 400.0]), *SPIRAL_BENDS)
]


def random_marks(
    count: int, seed: int, *, turning: float = 60.0, spread: float = 25.0
) -> Iterator[tuple[Marks, Point | None, Point | None]]:
    """Sets of 3 to 12 marks, every other one with both end directions fixed.

    Each turns up to `turning` degrees; the longest chord is 100 mm and the shortest down to
    `spread` times less; end directions lie up to 60 degrees off the end chords.
    """
    random = np.random.default_rng(seed)
    for i in range(count):
        marks = int(random.integers(3, 13))
        chords = np.exp(-random.uniform(0.0, math.log(spread), marks - 1))
        chords *= 100.0 / chords.max()
        turns = np.radians(random.uniform(-turning, turning, marks - 2))
        heading = random.uniform(-math.pi, math.pi) + np.concatenate([[0.0], np.cumsum(turns)])
        steps = chords[:, None] * np.column_stack([np.cos(heading), np.sin(heading)])
        places = np.concatenate([[[0.0, 0.0]], np.cumsum(steps, axis=0)])
        places += random.uniform(-300.0, 300.0, 2)
        off = np.radians(random.uniform(-60.0, 60.0, 2))
        start = end = None
        if i % 2:
            start = Point.polar(1.0, heading[0] + off[0])
            end = Point.polar(1.0, heading[-1] + off[1])
        yield [(float(x), float(y)) for x, y in places], start, end


def bezier(*numbers: float) -> Curve:
    """One piece from eight coordinates."""
    pairs = zip(numbers[::2], numbers[1::2], strict=True)
    return bezier_curve(*(Point(x, y) for x, y in pairs))


CURVES: dict[str, Curve] = {
    "line": line(Point(3.0, -2.0), Point(120.0, 55.0)),
    "corner": polyline([Point(0.0, 0.0), Point(80.0, 10.0), Point(90.0, 95.0)]),
    "circle": arc(Point(20.0, -30.0), 70.0, 0.4, 0.4 + math.tau),
    "clockwise arc": arc(Point(0.0, 0.0), 250.0, 2.0, 0.3),
    "cap": fair_curve(CAP),
    "spiral": fair_curve(SPIRAL),
    "one piece": bezier(0.0, 0.0, 30.0, 90.0, 120.0, -40.0, 150.0, 40.0),
    "loop": bezier(0.0, 0.0, 150.0, 100.0, -50.0, 100.0, 100.0, 0.0),
    "cusp": bezier(0.0, 0.0, 100.0, 100.0, 0.0, 100.0, 100.0, 0.0),
    "almost a cusp": bezier(0.0, 0.0, 100.0, 100.0, 1e-4, 100.0, 100.0, 0.0),
    "no handle at the start": bezier(0.0, 0.0, 0.0, 0.0, 60.0, 80.0, 120.0, 0.0),
    "no handles": bezier(0.0, 0.0, 0.0, 0.0, 90.0, 30.0, 90.0, 30.0),
    "straight but for rounding": bezier(0.0, 0.0, 30.0, 1e-13, 60.0, -1e-13, 90.0, 0.0),
    "there and back": bezier(0.0, 0.0, 150.0, 0.0, -50.0, 0.0, 100.0, 0.0),
    "tiny": bezier(0.0, 0.0, 1e-4, 2e-4, 2e-4, -1e-4, 3e-4, 0.0),
    "far from the origin": bezier(9e3, 9e3, 9.03e3, 9.09e3, 9.12e3, 8.96e3, 9.15e3, 9.04e3),
}
SMOOTH = ["line", "circle", "clockwise arc", "cap", "spiral", "one piece", "far from the origin"]
