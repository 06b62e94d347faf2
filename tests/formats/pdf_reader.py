"""Reads our PDF with pypdf and pypdfium2, knowing nothing of how it was written; points, y up."""

from __future__ import annotations

import io
from dataclasses import dataclass
from typing import Any

import numpy as np
import pypdfium2
from pypdf import PdfReader
from pypdf.generic import ContentStream

MM = 72.0 / 25.4
ONE = np.eye(3)


@dataclass(frozen=True)
class Path:
    """A stroked path: its pen in mm, its cubic pieces (n, 4, 2) in mm on the page."""

    width: float
    dashes: tuple[float, ...]
    pieces: np.ndarray
    curves: int
    closed: bool

    @property
    def length(self) -> float:
        """By a thousand chords a piece."""
        t = np.linspace(0.0, 1.0, 1001)[:, None, None]
        a, b, c, d = (self.pieces[None, :, i] for i in range(4))
        s = 1.0 - t
        at = s**3 * a + 3 * s * s * t * b + 3 * s * t * t * c + t**3 * d
        return float(np.linalg.norm(np.diff(at, axis=0), axis=2).sum())


def pages(data: bytes) -> list[Any]:
    return list(PdfReader(io.BytesIO(data)).pages)


def size(page: Any) -> tuple[float, float]:
    """Width and height, points."""
    left, bottom, right, top = map(float, page.mediabox)
    assert (left, bottom) == (0.0, 0.0)
    return right, top


def paths(page: Any) -> list[Path]:
    """Every stroked path of a page, forms included, as if nothing were clipped."""
    return _run(page.get_contents(), page["/Resources"], page.pdf, ONE)


def _run(stream: Any, resources: Any, pdf: Any, matrix: np.ndarray) -> list[Path]:
    found: list[Path] = []
    saved = []
    width, dashes = 1.0, ()
    pieces: list[np.ndarray] = []
    curves, closed = 0, False
    at = start = np.zeros(2)
    for given, command in ContentStream(stream, pdf).operations:
        op = command.decode()
        if op == "q":
            saved.append((matrix, width, dashes))
        elif op == "Q":
            matrix, width, dashes = saved.pop()
        elif op == "cm":
            matrix = _matrix(given) @ matrix
        elif op == "w":
            width = float(given[0])
        elif op == "d":
            dashes = tuple(map(float, given[0]))
        elif op == "m":
            at = start = np.array(given, dtype=float)
        elif op == "l":
            end = np.array(given, dtype=float)
            pieces.append(np.array([at + (end - at) * i / 3.0 for i in range(4)]))
            at = end
        elif op == "c":
            b, c, end = np.array(given, dtype=float).reshape(3, 2)
            pieces.append(np.array([at, b, c, end]))
            curves += 1
            at = end
        elif op == "re":
            x, y, w, h = map(float, given)
            corners = np.array([(x, y), (x + w, y), (x + w, y + h), (x, y + h), (x, y)])
            for a, b in zip(corners, corners[1:], strict=False):
                pieces.append(np.array([a + (b - a) * i / 3.0 for i in range(4)]))
            closed = True
        elif op == "h":
            closed = True
            if np.abs(at - start).max() > 1e-9:
                pieces.append(np.array([at + (start - at) * i / 3.0 for i in range(4)]))
            at = start
        elif op in ("S", "n", "s", "f", "B", "b"):
            if op == "S":
                scale = float(np.sqrt(abs(np.linalg.det(matrix)))) / MM
                whole = np.array(pieces)
                whole = (whole @ matrix[:2, :2] + matrix[2, :2]) / MM
                pen = tuple(round(dash * scale, 4) for dash in dashes)
                found.append(Path(width * scale, pen, whole, curves, closed))
            else:
                assert op == "n", op
            pieces, curves, closed = [], 0, False
        elif op == "Do":
            form = resources["/XObject"][given[0]].get_object()
            inner = _matrix(form.get("/Matrix", [1, 0, 0, 1, 0, 0])) @ matrix
            found += _run(form, form.get("/Resources", resources), pdf, inner)
    return found


def _matrix(six: Any) -> np.ndarray:
    a, b, c, d, e, f = map(float, six)
    return np.array([[a, b, 0.0], [c, d, 0.0], [e, f, 1.0]])


def render(data: bytes, number: int, a_mm: float) -> np.ndarray:
    """A page in grey, 0 black to 255, `a_mm` pixels for a millimetre.

    The renderer rounds the page up to whole pixels and stretches the drawing to fit; just under
    the scale asked for, a page of a whole number of pixels is not stretched at all.
    """
    with pypdfium2.PdfDocument(data) as document:
        scale = a_mm / MM * (1.0 - 1e-6)
        return document[number].render(scale=scale, grayscale=True).to_numpy().squeeze().copy()


def count(data: bytes) -> int:
    """How many pages there are, by the renderer."""
    with pypdfium2.PdfDocument(data) as document:
        return len(document)


def place_of(data: bytes, number: int, words: str) -> tuple[float, float, float, float]:
    """The box round words of a page: left, bottom, right, top, mm."""
    with pypdfium2.PdfDocument(data) as document:
        text = document[number].get_textpage()
        found = text.search(words, match_case=True).get_next()
        assert found, words
        boxes = [text.get_charbox(found[0] + i, loose=True) for i in range(found[1])]
        left, bottom, right, top = zip(*boxes, strict=True)
        return min(left) / MM, min(bottom) / MM, max(right) / MM, max(top) / MM
