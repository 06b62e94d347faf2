"""Reads our SVG with an XML parser and svgpathtools, knowing nothing of how it was written."""

from __future__ import annotations

import re
from dataclasses import dataclass
from xml.etree import ElementTree

import shapely
from shapely import affinity
from svgpathtools import Path, parse_path

SVG = "{http://www.w3.org/2000/svg}"
# A letter's average width, its height above the baseline and its depth below, as shares of size.
LETTER, ASCENT, DESCENT = 0.6, 0.75, 0.22


@dataclass(frozen=True)
class Text:
    """A text element and the box its letters may take, page coordinates."""

    words: str
    size: float
    kind: str
    box: shapely.Polygon


@dataclass(frozen=True)
class Group:
    """A group: paths by class, and texts."""

    name: str
    paths: tuple[tuple[str, Path], ...]
    texts: tuple[Text, ...]

    def of(self, kind: str) -> list[Path]:
        return [path for role, path in self.paths if role == kind]


@dataclass(frozen=True)
class Page:
    """The page: its size as written, its view box and its groups."""

    width: str
    height: str
    box: tuple[float, ...]
    groups: dict[str, Group]
    text: str

    @property
    def pieces(self) -> list[Group]:
        return [group for name, group in self.groups.items() if name.startswith("piece-")]


def read(data: bytes) -> Page:
    root = ElementTree.fromstring(data)
    assert root.tag == SVG + "svg"
    groups = [_group(g) for g in root.findall(SVG + "g")]
    return Page(
        root.get("width", ""),
        root.get("height", ""),
        tuple(map(float, root.get("viewBox", "").split())),
        {group.name: group for group in groups},
        data.decode(),
    )


def _group(group: ElementTree.Element) -> Group:
    paths = tuple((p.get("class", ""), parse_path(p.get("d"))) for p in group.findall(SVG + "path"))
    return Group(group.get("id", ""), paths, tuple(_text(t) for t in group.findall(SVG + "text")))


def _text(element: ElementTree.Element) -> Text:
    words = element.text or ""
    kind = element.get("class", "")
    size = float(element.get("font-size", "nan"))
    x, y = float(element.get("x", "nan")), float(element.get("y", "nan"))
    width = LETTER * size * len(words)
    left = x if "start" in kind.split() else x - width / 2.0
    box = shapely.box(left, y - ASCENT * size, left + width, y + DESCENT * size)
    turn = re.fullmatch(r"rotate\((\S+) (\S+) (\S+)\)", element.get("transform", "rotate(0 0 0)"))
    assert turn, element.get("transform")
    angle, *about = map(float, turn.groups())
    return Text(words, size, kind, affinity.rotate(box, angle, tuple(about)))


def corners(path: Path, each: int = 24) -> list[tuple[float, float]]:
    """Points along a path, close enough together to stand for it."""
    points = [path[0].start]
    for segment in path:
        steps = each if len(segment.bpoints()) > 2 else 1
        points += [segment.point((i + 1) / steps) for i in range(steps)]
    return [(p.real, p.imag) for p in points]


def line(path: Path) -> shapely.MultiLineString:
    return shapely.MultiLineString([corners(part) for part in path.continuous_subpaths()])
