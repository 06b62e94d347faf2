"""Our own SVG read again: outlines and notches, in millimetres, y up."""

from __future__ import annotations

import re
from xml.etree import ElementTree

from blockwright.curves.curve import Curve
from blockwright.curves.make import bezier_curve, line
from blockwright.curves.point import Point
from blockwright.errors import InputError
from blockwright.plugin.format import Echo

NAMESPACE = "{http://www.w3.org/2000/svg}"
_STEP = re.compile(r"([MLCZ])([^MLCZ]*)")


def echo(data: bytes) -> Echo:
    """What an SVG of ours holds; InputError when it is none."""
    try:
        root = ElementTree.fromstring(data)
    except ElementTree.ParseError as error:
        raise InputError(f"not a whole SVG file: {error}") from None
    outlines, notches = [], 0
    for path in root.iter(f"{NAMESPACE}path"):
        if path.get("class") == "outline":
            outlines.append(tuple(_curves(path.get("d", ""))))
        elif path.get("class") == "notch":
            notches += 1
    return Echo(tuple(outlines), notches)


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
