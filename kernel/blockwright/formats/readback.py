"""A written file read again and compared with the pieces before it is kept."""

from __future__ import annotations

import math
from collections import Counter
from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from typing import NamedTuple

from blockwright.curves.affine import Affine
from blockwright.curves.chain import signed_area
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point, distance
from blockwright.errors import GeometryError
from blockwright.formats import layout
from blockwright.formats.labels import piece_name
from blockwright.formats.options import Plate
from blockwright.pattern.piece import Piece
from blockwright.plugin.format import Document, Echo, Flat, Format

# Numbers in files are written to a ten-thousandth of a millimetre or so.
WRITTEN = 0.002
# Straight lines within `flat` of a curve are shorter than it by less than this share.
SHORTER = 1e-3
# Notches that lie so near to one another, mm, may be one in a file: the knife goes in once.
SAME_NOTCH = 0.05


def letters(names: Iterable[str]) -> tuple[str, ...]:
    """Names by their letters and digits, which every text can hold."""
    return tuple("".join(filter(str.isalnum, name)) for name in names)


@dataclass(frozen=True, slots=True)
class NamedEcho(Echo):
    """An echo with the name that the file has for each outline.

    `spelt` gives the names that pieces have in such a file.  `grain_level`: every piece lies
    turned so that its grain runs along x.
    """

    names: tuple[str, ...] = ()
    spelt: Callable[[Sequence[str]], Sequence[str]] = letters
    grain_level: bool = False


class Measured(NamedTuple):
    """What is compared of an outline, mm; the extents whichever way it lies."""

    name: str
    wide: float
    length: float
    area: float
    narrow: float


class Allowed(NamedTuple):
    """How far the lines of a file may lie from the curves, mm, and be shorter, a share."""

    near: float
    shorter: float

    def unlike(self, ours: Measured, theirs: Measured) -> Iterator[str]:
        """What is not the same, in words."""
        of = f"{ours.name}: its outline" if ours.name else "an outline"
        for what, a, b, within in (
            ("greater extent", ours.wide, theirs.wide, self.near),
            ("length", ours.length, theirs.length, self.near + self.shorter * ours.length),
            ("area", ours.area, theirs.area, self.near * ours.length),
            ("smaller extent", ours.narrow, theirs.narrow, self.near),
        ):
            # Said so that what is no number is unlike every number.
            if not abs(a - b) <= within:
                yield f"{of} has the {what} {b:.3f}, not {a:.3f} (mm)"

    def alike(self, ours: Measured, theirs: Measured) -> bool:
        """Whether nothing tells them apart."""
        return next(self.unlike(ours, theirs), None) is None


def differences(form: Format, document: Document, data: bytes) -> list[str]:
    """How a written file differs from the pieces, in words; nothing when it is true to them.

    Every outline is compared with its piece in length, area and extents, then the number of
    notches and the volumes of plates.  Where a file names its pieces an outline is compared with
    the piece of that name; where not, each has to be like a piece of its own.  A format that
    cannot be read again is not compared.
    """
    if form.echo is None:
        return []
    echo = form.echo(data)
    drawn = layout.outlines(document)
    found: list[str] = []
    if echo.volumes is None:
        near = WRITTEN if form.exact else Flat(document.options).flat + WRITTEN
        found += _compared(drawn, echo, Allowed(near, 0.0 if form.exact else SHORTER))
    else:
        areas = [abs(signed_area(outline)) for _, outline in drawn]
        found += _volumes(areas, echo.volumes, Plate(document.options).thickness)
    if echo.notches is not None:
        ticks = _ticks(document, [piece for piece, _ in drawn])
        if not sum(map(_apart, ticks)) <= echo.notches <= sum(map(len, ticks)):
            found.append(f"{echo.notches} notches, not {sum(map(len, ticks))}")
    return found


# -- outlines --------------------------------------------------------------------------------


def _compared(
    drawn: Sequence[tuple[Piece, tuple[Curve, ...]]], echo: Echo, allowed: Allowed
) -> list[str]:
    pieces = [piece for piece, _ in drawn]
    if len(echo.outlines) != len(pieces):
        return [f"{len(echo.outlines)} pieces, not {len(pieces)}"]
    named = echo if isinstance(echo, NamedEcho) else NamedEcho()
    called = [piece_name(piece) for piece in pieces] if named.names else [""] * len(pieces)
    names, read = named.spelt(called), named.names or ("",) * len(pieces)
    if Counter(names) != Counter(read):
        missing, strange = Counter(names) - Counter(read), Counter(read) - Counter(names)
        return [f"pieces called {_listed(strange)}, not {_listed(missing)}"]
    ours = []
    for (piece, outline), name in zip(drawn, called, strict=True):
        low, high = piece.grain
        lay = Affine.turn(-(high - low).angle if named.grain_level else 0.0)
        ours.append(_measured(name, [curve.moved(lay) for curve in outline]))
    theirs = [_measured("", curves) for curves in echo.outlines]
    found: list[str] = []
    for name in dict.fromkeys(names):
        wanted = [each for each, its in zip(ours, names, strict=True) if its == name]
        there = [each for each, its in zip(theirs, read, strict=True) if its == name]
        for one, other in _unlike(wanted, there, allowed):
            found += allowed.unlike(one, other)
    return found


def _listed(names: Counter[str]) -> str:
    return ", ".join(map(repr, names.elements()))


def _unlike(
    ours: Sequence[Measured], theirs: Sequence[Measured], allowed: Allowed
) -> list[tuple[Measured, Measured]]:
    """Those left when as many as can be are put beside one that they are like, by their size.

    No order of the outlines says which belong together: two pieces of one height, in whatever
    order their lengths are, may change places by the last digit of a file.  So one that could be
    several gives way to one that could not (a matching of the largest size).
    """
    likes = [[j for j, b in enumerate(theirs) if allowed.alike(a, b)] for a in ours]
    beside: dict[int, int] = {}

    def place(i: int, tried: set[int]) -> bool:
        for j in likes[i]:
            if j not in tried:
                tried.add(j)
                if j not in beside or place(beside[j], tried):
                    beside[j] = i
                    return True
        return False

    for i in range(len(ours)):
        place(i, set())
    left = sorted(a for i, a in enumerate(ours) if i not in beside.values())
    alone = sorted(b for j, b in enumerate(theirs) if j not in beside)
    return list(zip(left, alone, strict=True))


def _measured(name: str, curves: Sequence[Curve]) -> Measured:
    x0, y0, x1, y1 = layout.bounds(curves)
    try:
        area = abs(signed_area(curves))
    except GeometryError:
        area = math.nan
    narrow, wide = sorted((x1 - x0, y1 - y0))
    return Measured(name, wide, math.fsum(curve.length for curve in curves), area, narrow)


# -- notches and plates ----------------------------------------------------------------------


def _ticks(document: Document, pieces: Sequence[Piece]) -> list[list[tuple[Point, Point]]]:
    """Where the notches of each piece begin, and where they lead, 1 mm in."""
    finished = document.finished or [None] * len(pieces)
    return [
        [(n.at, n.at + n.inward) for n in layout.notches(piece, whole)]
        for piece, whole in zip(pieces, finished, strict=True)
    ]


def _apart(ticks: Sequence[tuple[Point, Point]]) -> int:
    """How many notches there are when those at one place are one."""
    return sum(
        all(max(map(distance, one, other)) > SAME_NOTCH for other in ticks[:i])
        for i, one in enumerate(ticks)
    )


def _volumes(areas: Sequence[float], volumes: Sequence[float], thickness: float) -> list[str]:
    """Plates have the area of their pieces times the thickness, less holes and notches."""
    if len(volumes) not in (1, len(areas)):
        return [f"{len(volumes)} plates, not {len(areas)}"]
    wanted, found = math.fsum(areas) * thickness, math.fsum(volumes)
    if 0.98 * wanted <= found <= 1.001 * wanted:
        return []
    return [f"plates of {found:.0f} mm3 together, not nearly {wanted:.0f}"]
