"""Our own SVG read again: outlines and notches, in millimetres, y up."""

from __future__ import annotations

import re
from xml.etree import ElementTree

from blockwright.curves.curve import Curve
from blockwright.curves.make import bezier_curve, line
from blockwright.curves.point import Point, distance
from blockwright.errors import InputError
from blockwright.plugin.format import Echo

# Numbers are written to a ten-thousandth of a millimetre.
TOUCH = 0.001
NAMESPACE = "{http://www.w3.org/2000/svg}"
_STEP = re.compile(r"([MLCZ])([^MLCZ]*)")


def echo(data: bytes) -> Echo:
    """What an SVG of ours holds; InputError when it is none."""
    try:
        root = ElementTree.fromstring(data)
    except ElementTree.ParseError as error:
        raise InputError(f"not a whole SVG file: {error}") from None
    outlines: list[tuple[Curve, ...]] = []
    ticks: list[Curve] = []
    for path in root.iter(f"{NAMESPACE}path"):
        if path.get("class") == "outline":
            outlines.append(tuple(_curves(path.get("d", ""))))
        elif path.get("class") == "notch":
            ticks += _curves(path.get("d", ""))
    return Echo(tuple(outlines), _notches(ticks))


def _notches(ticks: list[Curve]) -> int:
    """How many notches the lines are: those of a V or a T touch at an end or a middle."""
    count = len(ticks)
    for i, one in enumerate(ticks):
        places = (one.start, one.end)
        for other in ticks[i + 1 :]:
            touched = (other.start, other.end, other.start.between(other.end, 0.5))
            if any(distance(a, b) < TOUCH for a in places for b in touched):
                count -= 1
                break
    return count


def _curves(path: str) -> list[Curve]:
    curves: list[Curve] = []
    start = at = Point(0.0, 0.0)
    for command, numbers in _STEP.findall(path):
        values = [float(number) for number in numbers.split()]
        # The page's y runs down.
        points = [Point(x, -y) for x, y in zip(values[::2], values[1::2], strict=True)]
        if command == "M":
            start = at = points[0]
        elif command == "C":
            curves.append(bezier_curve(at, *points))
            at = points[-1]
        else:
            end = points[0] if points else start
            if end != at:
                curves.append(line(at, end))
            at = end
    return curves
