"""Our own PDF read again: the outlines of the pieces, in millimetres."""

from __future__ import annotations

import base64
import re
import zlib
from collections.abc import Iterable

from blockwright.curves.affine import Affine
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point, distance
from blockwright.curves.primitives import bezier_curve, line
from blockwright.errors import InputError
from blockwright.plugin.format import Echo

_STREAM = re.compile(rb"(?P<head>/Length [0-9]+.*?)stream\r?\n(?P<body>.*?)\s*endstream", re.DOTALL)
# Words and names in a stream are no numbers or operators; what is left is: numbers, then their
# operator.
_WORDS = re.compile(rb"\((?:\\.|[^()\\])*\)|/[^\s/<>\[\]()]+", re.DOTALL)
_TOKEN = re.compile(rb"-?[0-9]*\.?[0-9]+|[a-zA-Z*]+")
# Lines shorter than numbers are written to are the closing of an outline that is closed.
NOTHING = 1e-3
# Ends that are nearer than this meet, in points: numbers are written to a millionth.
MEETS = 1e-3
# The width of the pen of an outline and of its fold, and mm of a point (PDF 32000-1, 8.3.2.3: 1/72
# in).  Typed here and not taken from the writer: a page drawn at another scale is then found.
PEN, POINT = 0.7, 25.4 / 72.0


def echo(data: bytes) -> Echo:
    """The outlines in a PDF of ours, drawn once each; InputError when it cannot be read.

    What is drawn in a form has the size at which pages show it: of several the one furthest off.
    """
    if not data.rstrip().endswith(b"%%EOF"):
        raise InputError.coded("pdf.cut-short")
    pages, forms, sizes = [], [], [1.0]
    for match in _STREAM.finditer(data):
        try:
            outlines, shown = _outlines(_plain(match["body"]))
        except (ValueError, zlib.error, IndexError) as error:
            raise InputError.coded("file.broken", kind="PDF", why=str(error)) from None
        outlines = _joined(outlines)
        if b"/Form" in match["head"]:
            forms += outlines
        else:
            pages += outlines
            sizes += [size * POINT for size in shown]
    size = max(sizes, key=lambda each: abs(each - 1.0))
    whole = [_scaled(each, POINT) for each in pages] + [_scaled(each, size) for each in forms]
    if not whole:
        raise InputError.coded("pdf.no-outline")
    return Echo(tuple(whole))


def _joined(paths: Iterable[tuple[Curve, ...]]) -> list[tuple[Curve, ...]]:
    """Paths that go on where the last one ended as one: the fold of an outline, then its rest."""
    found: list[tuple[Curve, ...]] = []
    for path in paths:
        last = found[-1] if found else ()
        open_end = bool(last) and distance(last[-1].end, last[0].start) > MEETS
        if open_end and distance(last[-1].end, path[0].start) <= MEETS:
            found[-1] = (*last, *path)
        else:
            found.append(path)
    return found


def _scaled(outline: Iterable[Curve], size: float) -> tuple[Curve, ...]:
    return tuple(curve.moved(Affine.scale(size)) for curve in outline)


def _plain(body: bytes) -> bytes:
    """A stream as it was before it was packed and written in letters."""
    return zlib.decompress(base64.a85decode(body.rstrip().removesuffix(b"~>")))


def _outlines(  # noqa: PLR0912 (a branch for each operator)
    stream: bytes,
) -> tuple[list[tuple[Curve, ...]], list[float]]:
    """Every path drawn with the pen of an outline, and the scale at which each form is shown.

    In units of the page, or of the form whose stream it is.
    """
    found: list[tuple[Curve, ...]] = []
    shown: list[float] = []
    numbers: list[float] = []
    width, page = 0.0, Affine()
    kept: list[tuple[float, Affine]] = []
    path: list[Curve] = []
    start = at = Point(0.0, 0.0)
    for token in _TOKEN.findall(_WORDS.sub(b" ", stream)):
        if token[:1] in b"-.0123456789":
            numbers.append(float(token))
            continue
        if token == b"w":
            width = numbers[-1]
        elif token == b"q":
            kept.append((width, page))
        elif token == b"Q":
            width, page = kept.pop()
        elif token == b"cm":
            a, b, c, d, e, f = numbers[-6:]
            page = Affine(a, c, b, d, e, f).then(page)
        elif token == b"Do":
            shown.append(abs(page.way(Point(1.0, 0.0))))
        elif token == b"m":
            start = at = Point(*numbers[-2:])
        elif token == b"l":
            at = _add(path, at, Point(*numbers[-2:]))
        elif token == b"c":
            last = numbers[-6:]
            handles = [Point(*last[i : i + 2]) for i in (0, 2, 4)]
            path.append(bezier_curve(at, *handles))
            at = handles[-1]
        elif token == b"h":
            at = _add(path, at, start)
        elif token in (b"S", b"s", b"n", b"f"):
            if token == b"s":
                at = _add(path, at, start)
            if token in (b"S", b"s") and path and abs(width - PEN) < 1e-6:
                found.append(tuple(curve.moved(page) for curve in path))
            path = []
        numbers = []
    return found, shown


def _add(path: list[Curve], at: Point, end: Point) -> Point:
    if distance(at, end) > NOTHING:
        path.append(line(at, end))
    return end
