"""Our own PDF read again: the outlines of the pieces, in millimetres."""

from __future__ import annotations

import base64
import re
import zlib
from collections.abc import Iterator

from blockwright.curves.curve import Curve
from blockwright.curves.make import bezier_curve, line
from blockwright.curves.point import Point, distance
from blockwright.errors import InputError
from blockwright.formats import palette
from blockwright.plugin.format import Echo

_STREAM = re.compile(rb"/Length [0-9]+.*?stream\r?\n(?P<body>.*?)\s*endstream", re.DOTALL)
# Words and names in a stream are no numbers or operators; what is left is: numbers, then their
# operator.
_WORDS = re.compile(rb"\((?:\\.|[^()\\])*\)|/[^\s/<>\[\]()]+", re.DOTALL)
_TOKEN = re.compile(rb"-?[0-9]*\.?[0-9]+|[a-zA-Z*]+")
# Lines shorter than numbers are written to are the closing of an outline that is closed.
NOTHING = 1e-3


def echo(data: bytes) -> Echo:
    """The outlines in a PDF of ours, drawn once each; InputError when it cannot be read."""
    if not data.rstrip().endswith(b"%%EOF"):
        raise InputError("not a whole PDF file: its end is missing")
    outlines: list[tuple[Curve, ...]] = []
    for match in _STREAM.finditer(data):
        try:
            outlines += _outlines(_plain(match["body"]))
        except (ValueError, zlib.error, IndexError) as error:
            raise InputError(f"not a whole PDF file: {error}") from None
    if not outlines:
        raise InputError("not a PDF file of ours: no outline in it")
    return Echo(tuple(outlines))


def _plain(body: bytes) -> bytes:
    """A stream as it was before it was packed and written in letters."""
    return zlib.decompress(base64.a85decode(body.rstrip().removesuffix(b"~>")))


def _outlines(stream: bytes) -> Iterator[tuple[Curve, ...]]:
    """Every path drawn with the pen of an outline."""
    pen = palette.STROKES["outline"].width
    numbers: list[float] = []
    width = 0.0
    path: list[Curve] = []
    start = at = Point(0.0, 0.0)
    for token in _TOKEN.findall(_WORDS.sub(b" ", stream)):
        if token[:1] in b"-.0123456789":
            numbers.append(float(token))
            continue
        if token == b"w":
            width = numbers[-1]
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
            if token in (b"S", b"s") and path and abs(width - pen) < 1e-6:
                yield tuple(path)
            path = []
        numbers = []


def _add(path: list[Curve], at: Point, end: Point) -> Point:
    if distance(at, end) > NOTHING:
        path.append(line(at, end))
    return end
