"""HP-GL for pen plotters and knife plotters: absolute whole units of 0.025 mm, y up.

The unit and the instructions used (IN, SP, PU, PD, PA) are as in HP's PCL/PJL reference, part II
[page].  Nothing in the file is scaled, so every machine of that unit draws true size, and the two
test bars show whether it did.  The origin is the lower left corner of the sheet.

Some old machines hold coordinates in 16 bits and stop at 32767 units, 819 mm from the origin
(manual of the HL-1270N, chapter on HP-GL [page]); newer ones go to 2^23 units, 209 m [from
memory].  Coordinates are written as they are, never clamped.

There are no texts: letters drawn by the machine's own font would come out at the mercy of the
machine, and a knife would cut them.

The pens cannot tell a fold from a cut, so a piece on the fold is refused: it is opened out first.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence

from blockwright.curves._numpy import np
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point, distance
from blockwright.errors import InputError
from blockwright.formats import layout
from blockwright.formats.folds import refuse_folds
from blockwright.plugin.format import Document, Flat

# Millimetres in one unit, and the pens: what is cut, notches, what is drawn.
UNIT = 0.025
CUT, NOTCH, DRAW = 1, 2, 3
FARTHEST = 2**23
# Rounding to whole units moves a corner by so much at most, mm: half the diagonal of a unit.
ROUNDING = UNIT * 2.0**-0.5
# However fine is asked for, straight lines shorter than this sagitta (mm) are lost in the units.
FINEST = 0.005
# Cutting comes last: cloth or card that is cut through no longer lies still under a pen.
ORDER = (DRAW, NOTCH, CUT)
# So many points to one instruction: old machines read an instruction into a small buffer.
POINTS = 32

Units = tuple[int, int]
"""A place in whole units."""


def write(document: Document) -> bytes:
    """The whole file, 7-bit ASCII; three pens, one after the other.

    The lines lie within `Flat.flat` of the true curves, rounding included, or within
    0.023 mm where less is asked for.

    Raises InputError when that is not more than 0, for a piece on the fold, and when a line lies
    further out than HP-GL goes.
    """
    flat = Flat(document.options).flat
    if not flat > 0.0:
        raise InputError.coded("format.flat", format="hpgl", flat=flat)
    refuse_folds(document, "hpgl")
    lines = _lines(layout.lay_out(document, words=False), max(flat - ROUNDING, FINEST))
    _check_reach(lines)
    parts = ["IN;", "PA;"]
    at = (0, 0)
    for pen in ORDER:
        if lines[pen]:
            parts += ["PU;", f"SP{pen};"]
            ordered = _in_turn(lines[pen], at)
            parts += _strokes(ordered)
            at = ordered[-1][-1]
    return "\n".join([*parts, "PU0,0;", "SP0;", ""]).encode("ascii")


# -- what is drawn ---------------------------------------------------------------------------


def _lines(sheet: layout.Sheet, accuracy: float) -> dict[int, list[list[Units]]]:
    """Every line of the sheet by its pen, corners in units."""
    lines: dict[int, list[list[Units]]] = {pen: [] for pen in ORDER}

    def draw(pen: int, points: Iterable[Sequence[float]], step: Point) -> None:
        line = _in_units(points, step)
        if len(line) > 1:
            lines[pen].append(line)

    for placed in sheet.placed:
        (_, outline), *inside = placed.lines
        around = [at for curve in outline for at in curve.flatten(accuracy=accuracy).tolist()]
        draw(CUT, [*around, around[0]], placed.step)
        for _, curves in inside:
            for run in _runs(curves):
                drawn = [at for curve in run for at in curve.flatten(accuracy=accuracy).tolist()]
                draw(DRAW, drawn, placed.step)
        for role, corners in _joined(placed.strokes):
            if role == "leader":  # to words, of which there are none here
                continue
            draw(NOTCH if role == "notch" else DRAW, corners, placed.step)
        for mark in placed.marks:
            for a, b in layout.cross(mark):
                draw(DRAW, [tuple(a), tuple(b)], placed.step)
    for _, a, b in sheet.bars:
        draw(DRAW, [tuple(a), tuple(b)], Point(0.0, 0.0))
    return lines


def _runs(curves: Sequence[Curve]) -> Iterator[list[Curve]]:
    """Curves that follow one another, parted where they do not meet."""
    run: list[Curve] = []
    for curve in curves:
        if run and distance(run[-1].end, curve.start) > layout.MEET:
            yield run
            run = []
        run.append(curve)
    yield run


def _joined(strokes: Iterable[layout.Stroke]) -> list[tuple[str, list[tuple[float, ...]]]]:
    """Strokes by role, those that run on from the one before as one: both sides of a V."""
    lines: list[tuple[str, list[tuple[float, ...]]]] = []
    for role, a, b in strokes:
        if not lines or lines[-1][0] != role or lines[-1][1][-1] != tuple(a):
            lines.append((role, [tuple(a)]))
        lines[-1][1].append(tuple(b))
    return lines


def _in_units(points: Iterable[Sequence[float]], step: Point) -> list[Units]:
    """Places on the sheet in whole units, none twice running."""
    line: list[Units] = []
    for x, y in points:
        at = (round((x + step.x) / UNIT), round((y + step.y) / UNIT))
        if not line or line[-1] != at:
            line.append(at)
    return line


def _check_reach(lines: Mapping[int, list[list[Units]]]) -> None:
    farthest = max(abs(c) for every in lines.values() for line in every for at in line for c in at)
    if farthest > FARTHEST:
        raise InputError.coded("hpgl.reach", reach=farthest * UNIT, most=FARTHEST * UNIT)


# -- in what order, and how ------------------------------------------------------------------


def _in_turn(lines: Sequence[list[Units]], at: Units) -> list[list[Units]]:
    """The lines so that each is the nearest to where the last one ended, turned if need be."""
    ends = np.array([(line[0], line[-1]) for line in lines], dtype=float)
    here = np.array(at, dtype=float)
    ordered = []
    for _ in lines:
        way = np.square(ends - here).sum(axis=2)
        nearest, end = divmod(int(way.argmin()), 2)
        line = lines[nearest][::-1] if end else lines[nearest]
        here = ends[nearest, 1 - end].copy()
        ends[nearest] = np.inf
        ordered.append(line)
    return ordered


def _strokes(lines: Iterable[list[Units]]) -> Iterator[str]:
    """Pen up to the start of each line, pen down along it; a line that runs on goes on."""
    at: Units | None = None
    for line in lines:
        if line[0] != at:
            yield _instruction("PU", line[:1])
        for i in range(1, len(line), POINTS):
            yield _instruction("PD", line[i : i + POINTS])
        at = line[-1]


def _instruction(name: str, points: Iterable[Units]) -> str:
    return name + ",".join(f"{x},{y}" for x, y in points) + ";"
