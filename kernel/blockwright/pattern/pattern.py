"""A pattern: the finished pieces of a block with what it promises and how it was drawn."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from functools import cached_property
from types import MappingProxyType
from typing import Any, ClassVar, Protocol, runtime_checkable

from blockwright.pattern.finding import Finding
from blockwright.pattern.mark import Mark
from blockwright.pattern.piece import Edge, Notch, Piece, Run, missing


class Promise(Protocol):
    """Anything with a kind, a name and a way to be measured."""

    kind: ClassVar[str]

    @property
    def name(self) -> str:
        """What is promised, in the block's words."""
        ...

    def measure(self, pattern: Pattern) -> tuple[Finding, ...]:
        """Measure it on the finished pieces."""
        ...


@runtime_checkable
class Sews(Promise, Protocol):
    """A promise that two runs are sewn together."""

    @property
    def sewn(self) -> tuple[Run, Run]:
        """Both sides, from one end."""
        ...


@dataclass(frozen=True, slots=True)
class Solved:
    """A value the block solved for; length in mm."""

    name: str
    value: float
    so_that: str


@dataclass(frozen=True, slots=True)
class Estimate:
    """A measurement the sheet did not give, and the rule that stood in for it; mm.

    `block` is the key of the block that asked.
    """

    name: str
    value: float
    rule: str
    block: str = ""


@dataclass(frozen=True, slots=True)
class Source:
    """Where a length came from that one block takes from another, or would; mm.

    None where no block of the set offers it, and none is on the sheet.
    """

    name: str
    value: float | None
    says: str


@dataclass(frozen=True)
class Pattern:
    """What a block drafted, whole: a value; everything that measures or writes starts here.

    `draft` makes it, of one block or of a set.  `block` is the key, keys with '+' between in a
    set; `pieces`, `promises`, `marks` and `solved` are what was drafted; `measurements` (mm, by
    name), `options`, `body` (whose) and `estimates` what from, and `sources` says where lengths
    taken from other blocks came from.

    Example:
        >>> from blockwright import Edge, Pattern, Piece, Point, polyline
        >>> hem = Edge("hem", polyline([Point(0, 0), Point(200, 0)]), "hem")
        >>> rest = Edge("rest", polyline([Point(200, 0), Point(200, 300), Point(0, 0)]))
        >>> wedge = Piece("wedge", (hem, rest), (Point(180, 20), Point(180, 250)), Point(150, 80))
        >>> pattern = Pattern("test.wedge", "Wedge", (wedge,))
        >>> pattern.owner("hem").name, round(pattern.edge("hem").curve.length, 1)
        ('wedge', 200.0)
    """

    block: str
    title: str
    pieces: tuple[Piece, ...]
    promises: tuple[Promise, ...] = ()
    marks: tuple[Mark, ...] = ()
    solved: tuple[Solved, ...] = ()
    estimates: tuple[Estimate, ...] = ()
    measurements: Mapping[str, float] = field(default_factory=dict)
    options: Mapping[str, object] = field(default_factory=dict)
    body: str = ""
    sources: tuple[Source, ...] = ()
    titles: Mapping[str, str] = field(default_factory=dict)
    """In a set: title of each block by its key."""
    allowances: Mapping[str, Mapping[str, float]] = field(default_factory=dict)
    """By the key of a block: its own allowances by role, mm, where they are not the usual ones."""

    def __post_init__(self) -> None:
        """Keep what it was drafted from read-only, whoever hands it round."""
        for name in ("measurements", "options", "titles", "allowances"):
            object.__setattr__(self, name, MappingProxyType(dict(getattr(self, name))))

    def __reduce__(self) -> tuple[object, ...]:
        """A read-only mapping does not travel between processes; a copy of it does."""
        values = (getattr(self, each.name) for each in fields(self))
        return Pattern, tuple(dict(v) if isinstance(v, MappingProxyType) else v for v in values)

    @cached_property
    def sewn(self) -> tuple[tuple[Run, Run], ...]:
        """The two sides of every seam that is promised."""
        return tuple(promise.sewn for promise in self.promises if isinstance(promise, Sews))

    def piece(self, name: str) -> Piece:
        """The piece of that name; PatternError when there is none."""
        for piece in self.pieces:
            if piece.name == name:
                return piece
        raise missing(self.block, "piece", name, [piece.name for piece in self.pieces])

    def owner(self, edge: str) -> Piece:
        """The piece that has the edge of that name; PatternError when none has."""
        if edge not in self._owners:
            raise missing(self.block, "edge", edge, [*self._owners])
        return self._owners[edge]

    @cached_property
    def _owners(self) -> dict[str, Piece]:
        """The piece of each edge, by its name."""
        return {edge.name: piece for piece in self.pieces for edge in piece.edges}

    def edge(self, name: str) -> Edge:
        """The edge of that name, on whichever piece."""
        return self.owner(name).edge(name)

    def notches_on(self, edge: str) -> tuple[Notch, ...]:
        """Notches on an edge, in order along it."""
        found = [n for n in self.owner(edge).notches if n.edge == edge]
        return tuple(sorted(found, key=lambda n: n.along))

    def with_piece(self, piece: Piece) -> Pattern:
        """The same pattern with the piece of that name replaced."""
        self.piece(piece.name)
        return replace(
            self, pieces=tuple(piece if p.name == piece.name else p for p in self.pieces)
        )

    def title_of(self, piece: Piece) -> str:
        """Title of the block a piece belongs to."""
        return self.titles.get(piece.block, self.title)

    def _repr_svg_(self) -> str | None:
        """The pieces as a notebook shows them; nothing where there are none."""
        from blockwright.pattern.sketch import sketch

        return sketch(self).svg if self.pieces else None


def together(patterns: Sequence[Pattern]) -> Pattern:
    """The patterns of a set of blocks as one; their names must differ already."""
    if len(patterns) == 1:
        return patterns[0]

    def every(part: str) -> tuple[Any, ...]:
        return tuple(item for pattern in patterns for item in getattr(pattern, part))

    return Pattern(
        "+".join(pattern.block for pattern in patterns),
        ", ".join(pattern.title for pattern in patterns),
        every("pieces"),
        every("promises"),
        every("marks"),
        every("solved"),
        every("estimates"),
        {name: value for pattern in patterns for name, value in pattern.measurements.items()},
        {
            f"{pattern.block}.{name}": value
            for pattern in patterns
            for name, value in pattern.options.items()
        },
        patterns[0].body,
        every("sources"),
        {pattern.block: pattern.title for pattern in patterns},
        {key: own for pattern in patterns for key, own in pattern.allowances.items()},
    )
