"""Our own HP-GL read again: the lines that are cut, and the number of notches."""

from __future__ import annotations

import re
from itertools import pairwise

from blockwright.curves.point import Point
from blockwright.curves.primitives import line
from blockwright.errors import InputError
from blockwright.plugin.format import Echo

# Millimetres in one unit, and the pens of what is cut and of notches.  Typed here and not taken
# from the writer: a plot drawn in another unit is then found.
UNIT = 0.025
CUT, NOTCH = 1, 2
_INSTRUCTION = re.compile(r"([A-Z]{2})([^;A-Z]*);")


def echo(data: bytes) -> Echo:
    """The outlines cut with pen 1, in mm; InputError when it is no HP-GL of ours."""
    lines: dict[int, list[list[Point]]] = {CUT: [], NOTCH: []}
    pen = 0
    try:
        for name, numbers in _INSTRUCTION.findall(data.decode("ascii")):
            values = [int(number) * UNIT for number in numbers.split(",") if number.strip()]
            if name == "SP":
                pen = int(numbers)
            elif name in ("PU", "PD"):
                points = [Point(x, y) for x, y in zip(values[::2], values[1::2], strict=True)]
                runs = lines.setdefault(pen, [])
                if name == "PU" and points:
                    runs.append(points[-1:])
                elif name == "PD":
                    runs[-1] += points
    except (ValueError, IndexError) as error:
        raise InputError.coded("file.broken", kind="HP-GL", why=str(error)) from None
    outlines = tuple(
        tuple(line(a, b) for a, b in pairwise(run) if a != b) for run in lines[CUT] if len(run) > 1
    )
    return Echo(outlines)
