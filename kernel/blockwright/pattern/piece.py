"""Pieces of a block: outlines of named edges, with darts, notches, grain and guide lines."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import Literal, get_args

from blockwright.curves.affine import Affine
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point
from blockwright.errors import PatternError

Role = Literal["seam", "armhole", "neck", "waist", "hem", "fold", "dart"]
"""What an edge is: sewn, bound or left; 'dart' is the mouth of a dart, folded away when sewn."""
ROLES: tuple[str, ...] = get_args(Role)


@dataclass(frozen=True, slots=True)
class Edge:
    """A named stretch of a piece's outline, travelled counter-clockwise round the piece.

    Names are unique in a block: promises speak of edges by name.  `-edge` is the same edge
    walked backwards.
    """

    name: str
    curve: Curve
    role: Role = "seam"

    def __neg__(self) -> Way:
        return Way(self.name, forward=False)

    def __pos__(self) -> Way:
        return Way(self.name, forward=True)


@dataclass(frozen=True, slots=True)
class Way:
    """An edge by name, and which way it is walked."""

    edge: str
    forward: bool = True

    def __neg__(self) -> Way:
        return Way(self.edge, not self.forward)

    def __str__(self) -> str:
        return self.edge


@dataclass(frozen=True, slots=True)
class Given:
    """A length taken as it is, where the partner of a seam is not drafted here.

    `notches`: name to distance from the start, in the direction the seam is walked, mm.
    """

    name: str
    length: float
    notches: Mapping[str, float] = field(default_factory=dict)

    def __str__(self) -> str:
        return self.name


@dataclass(frozen=True, slots=True)
class Taken:
    """A run of edges of another block that this one is sewn to, measured where it was drafted.

    `length` mm along `run`; `notches`: name to distance from its start; `block` is the other's key.
    """

    name: str
    run: tuple[Way | Given, ...]
    length: float
    notches: Mapping[str, float]
    block: str

    def __str__(self) -> str:
        return self.name


@dataclass(frozen=True, slots=True)
class Notch:
    """A mark on an edge, `along` mm from the edge's start; `count` ticks side by side."""

    name: str
    edge: str
    along: float
    count: int = 1


@dataclass(frozen=True, slots=True)
class Dart:
    """Cloth folded away from a mouth on the outline to the apex.

    `mouth` names the edge of role 'dart' between the two legs; its ends are the legs' outer
    ends.  `pressed` says which leg the fold is laid over: the one at the mouth's 'start' or
    'end'; `says` puts it in words for the label ('pressed down').
    """

    name: str
    apex: Point
    mouth: str
    pressed: Literal["start", "end"]
    says: str


@dataclass(frozen=True, slots=True)
class Guide:
    """A line drawn inside the piece for the maker, not cut: bicep line, elbow line."""

    name: str
    curve: Curve


@dataclass(frozen=True, slots=True)
class Note:
    """A few words written inside the piece, centred on a place: 'front'."""

    at: Point
    words: str


@dataclass(frozen=True, slots=True)
class Piece:
    """One piece of cloth, without seam allowance.

    `edges` run counter-clockwise and close.  `grain` is a line along the lengthwise thread,
    from its lower to its upper end.  `label_at` is the middle of the label.  `cut` is how many
    are cut; with `mirrored` half of them the other way up.
    """

    name: str
    edges: tuple[Edge, ...]
    grain: tuple[Point, Point]
    label_at: Point
    cut: int = 1
    mirrored: bool = False
    darts: tuple[Dart, ...] = ()
    notches: tuple[Notch, ...] = ()
    guides: tuple[Guide, ...] = ()
    notes: tuple[Note, ...] = ()
    block: str = ""
    """Key of the block it belongs to."""

    def edge(self, name: str) -> Edge:
        """The edge of that name; PatternError when there is none."""
        for edge in self.edges:
            if edge.name == name:
                return edge
        known = ", ".join(edge.name for edge in self.edges)
        raise PatternError(f"piece {self.name!r} has no edge {name!r}; it has {known}")

    def notch(self, name: str) -> Notch:
        """The notch of that name; PatternError when there is none."""
        for notch in self.notches:
            if notch.name == name:
                return notch
        raise PatternError(f"piece {self.name!r} has no notch {name!r}")

    def moved(self, lay: Affine) -> Piece:
        """The piece with all that is on it turned and moved; `lay` must not mirror."""
        low, high = self.grain
        return replace(
            self,
            edges=tuple(replace(edge, curve=edge.curve.moved(lay)) for edge in self.edges),
            grain=(lay(low), lay(high)),
            label_at=lay(self.label_at),
            darts=tuple(replace(dart, apex=lay(dart.apex)) for dart in self.darts),
            guides=tuple(replace(guide, curve=guide.curve.moved(lay)) for guide in self.guides),
            notes=tuple(replace(note, at=lay(note.at)) for note in self.notes),
        )

    def before(self, edge: str) -> Edge:
        """The edge that runs into this one."""
        return self.edges[self.edges.index(self.edge(edge)) - 1]

    def after(self, edge: str) -> Edge:
        """The edge that this one runs into."""
        return self.edges[(self.edges.index(self.edge(edge)) + 1) % len(self.edges)]

    def dart_between(self, first: str, second: str) -> Dart | None:
        """The dart whose mouth lies between two edges in outline order, if one does."""
        for dart in self.darts:
            if self.before(dart.mouth).name == first and self.after(dart.mouth).name == second:
                return dart
        return None

    def dart_legs(self, dart: Dart) -> tuple[Point, Point]:
        """Outer ends of the legs: where the edges either side of the mouth really end."""
        return self.before(dart.mouth).curve.end, self.after(dart.mouth).curve.start
