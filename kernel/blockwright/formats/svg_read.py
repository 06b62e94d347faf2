"""Our own SVG read again: outlines and notches, in millimetres, y up."""

from __future__ import annotations

import re
from xml.etree import ElementTree

from blockwright.curves.affine import Affine
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point, distance
from blockwright.curves.primitives import bezier_curve, line
from blockwright.errors import InputError
from blockwright.formats.readback import NamedEcho, letters

# Numbers are written to a ten-thousandth of a millimetre.
TOUCH = 0.001
NAMESPACE = "{http://www.w3.org/2000/svg}"
_STEP = re.compile(r"([MLCZ])([^MLCZ]*)")


def echo(data: bytes) -> NamedEcho:
    """What an SVG of ours holds; InputError when it is none."""
    try:
        root = ElementTree.fromstring(data)
    except ElementTree.ParseError as error:
        raise InputError.coded("file.broken", kind="SVG", why=str(error)) from None
    size = _size(root)
    names: list[str] = []
    outlines: list[tuple[Curve, ...]] = []
    notches = 0
    for group in root.iter(f"{NAMESPACE}g"):
        ticks: list[Curve] = []
        outline: list[Curve] = []
        for path in group.iter(f"{NAMESPACE}path"):
            if path.get("class") in ("outline", "fold"):  # a fold closes the outline
                outline += _curves(path.get("d", ""))
            elif path.get("class") == "notch":
                ticks += _curves(path.get("d", ""))
        if outline:
            names.append(group.findtext(f"{NAMESPACE}title", ""))
            outlines.append(tuple(curve.moved(size) for curve in outline))
        notches += _notches(ticks)
    return NamedEcho(tuple(outlines), notches, names=letters(names))


def _size(root: ElementTree.Element) -> Affine:
    """From user units to mm: what the page says that it measures over what it shows."""
    try:
        _, _, *shown = (float(number) for number in root.get("viewBox", "").split())
        wide, high = (float(root.get(name, "").removesuffix("mm")) for name in ("width", "height"))
        return Affine(wide / shown[0], 0.0, 0.0, high / shown[1])
    except (ValueError, IndexError, ZeroDivisionError):
        raise InputError.coded("svg.no-size") from None


def _notches(ticks: list[Curve]) -> int:
    """How many notches the lines are, those of a V or a T being one.

    The second line of these begins, or has its middle, at the foot of the one before it.  Other
    lines that touch are notches side by side.
    """
    count = 0
    foot: Point | None = None
    for tick in ticks:
        touched = (tick.start, tick.start.between(tick.end, 0.5))
        if foot is not None and any(distance(foot, at) < TOUCH for at in touched):
            foot = None
        else:
            count, foot = count + 1, tick.end
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
