"""A pattern: the finished pieces of a block with what it promises and how it was drawn."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from functools import cached_property
from types import MappingProxyType
from typing import Any

from blockwright.errors import PatternError
from blockwright.pattern.mark import Mark
from blockwright.pattern.piece import Edge, Notch, Piece, Run, labelled, missing
from blockwright.pattern.promise import GivenUp, Promise
from blockwright.pattern.ref import Ref


@dataclass(frozen=True, slots=True)
class Solved:
    """A value the block of key `block` solved for; length in mm."""

    name: str
    value: float
    so_that: str
    block: str = ""


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


@dataclass(frozen=True, slots=True)
class Origin:
    """The block that a pattern, or part of one, was drafted by: key, title and version.

    `allowances`: its own by role, mm, where they are not the usual ones.
    """

    key: str
    title: str
    version: str = ""
    allowances: Mapping[str, float] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Change:
    """A change that was made to a pattern: its verb, and what it was told; lengths in mm."""

    verb: str
    values: Mapping[str, str | float]


@dataclass(frozen=True)
class Pattern:
    """What a block drafted, whole: a value; everything that measures or writes starts here.

    `draft` makes it, of one block or of a set.  `block` is the key, keys with '+' between in a set,
    and `origins` are the blocks; `pieces`, `promises`, `marks` and `solved` are what was drafted,
    `offers` the runs other blocks may be sewn to; `measurements` (mm, by name), `options`, `body`
    (whose) and `estimates` what from, and `sources` says where lengths taken from other blocks came
    from.  `changes` is what was done to it since, and `given_up` the promises that no longer mean
    anything, with the reason.

    Example:
        >>> from blockwright import Edge, Pattern, Piece, Point, polyline
        >>> hem = Edge("hem", polyline([Point(0, 0), Point(200, 0)]), "hem")
        >>> rest = Edge("rest", polyline([Point(200, 0), Point(200, 300), Point(0, 0)]))
        >>> wedge = Piece("wedge", (hem, rest), (Point(180, 20), Point(180, 250)), Point(150, 80))
        >>> pattern = Pattern("test.wedge", "Wedge", (wedge,))
        >>> pattern.owner("hem").name, round(pattern.length("hem"), 1)
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
    origins: tuple[Origin, ...] = ()
    offers: Mapping[str, Run] = field(default_factory=dict)
    given_up: tuple[GivenUp, ...] = ()
    changes: tuple[Change, ...] = ()

    def __post_init__(self) -> None:
        """Keep what it was drafted from read-only, whoever hands it round."""
        for name in ("measurements", "options", "offers"):
            object.__setattr__(self, name, MappingProxyType(dict(getattr(self, name))))

    def __reduce__(self) -> tuple[object, ...]:
        """A read-only mapping does not travel between processes; a copy of it does."""
        values = (getattr(self, each.name) for each in fields(self))
        return Pattern, tuple(dict(v) if isinstance(v, MappingProxyType) else v for v in values)

    @cached_property
    def sewn(self) -> tuple[tuple[Run, Run], ...]:
        """The two sides of every seam that is promised."""
        return tuple(runs for promise in self.promises if (runs := promise.sewn))

    @cached_property
    def _owners(self) -> dict[Ref, Piece]:
        """The piece of each edge."""
        return {Ref(p.block, edge.name): p for p in self.pieces for edge in p.edges}

    @cached_property
    def _pieces(self) -> dict[Ref, Piece]:
        return {piece.ref: piece for piece in self.pieces}

    @cached_property
    def _stretches(self) -> dict[Ref, tuple[Edge, ...]]:
        """The stretches of each edge, in outline order."""
        return {ref: piece.stretches(ref.name) for ref, piece in self._owners.items()}

    @cached_property
    def _marks(self) -> dict[Ref, Mark]:
        return {mark.ref: mark for mark in self.marks}

    def word(self, block: str) -> str:
        """What goes before the names of a block on labels: nothing when it is alone."""
        return next((piece.word for piece in self.pieces if piece.block == block), "")

    def label(self, ref: Ref) -> str:
        """A name as people read it: in a set the block's word goes before it."""
        return labelled(self.word(ref.block), ref.name)

    def piece(self, name: Ref | str) -> Piece:
        """The piece, by its identity, label or own name; PatternError when there is none."""
        return self._pieces[self._found(name, "piece", self._pieces)]

    def owner(self, edge: Ref | str) -> Piece:
        """The piece that has the edge; PatternError when none has."""
        return self._owners[self.edge_ref(edge)]

    def edge_ref(self, name: Ref | str) -> Ref:
        """The identity of an edge, by its label or its own name; PatternError when none is it."""
        return name if name in self._owners else self._found(name, "edge", self._owners)

    def _found(self, name: Ref | str, what: str, known: Mapping[Ref, object]) -> Ref:
        """The identity that a label or an own name is of."""
        if isinstance(name, Ref):
            if name in known:
                return name
            raise missing(self.block, what, self.label(name), [*map(self.label, known)])
        found = [ref for ref in known if self.label(ref) == name]
        found = found or [ref for ref in known if ref.name == name]
        if not found:
            raise missing(self.block, what, name, [*map(self.label, known)])
        if len(found) > 1:
            labels = " or ".join(repr(self.label(ref)) for ref in found)
            raise PatternError(f"{self.block} has more than one {what} {name!r}; write {labels}")
        return found[0]

    def edge(self, name: Ref | str) -> Edge:
        """The edge, on whichever piece; PatternError when a dart parts it in two."""
        ref = self.edge_ref(name)
        return self._owners[ref].edge(ref.name)

    def stretches(self, name: Ref | str) -> tuple[Edge, ...]:
        """The stretches of an edge in outline order; one where it has no dart."""
        return self._stretches[self.edge_ref(name)]

    def length(self, name: Ref | str) -> float:
        """Length of an edge, mm, its darts closed."""
        return sum(edge.curve.length for edge in self.stretches(name))

    def mark(self, ref: Ref) -> Mark:
        """The mark; PatternError when there is none."""
        if ref not in self._marks:
            raise missing(self.block, "mark", self.label(ref), [*map(self.label, self._marks)])
        return self._marks[ref]

    def notches_on(self, edge: Ref | str) -> tuple[Notch, ...]:
        """Notches on an edge, in order along it."""
        ref = self.edge_ref(edge)
        found = [n for n in self._owners[ref].notches if n.edge == ref.name]
        return tuple(sorted(found, key=lambda n: n.along))

    def with_piece(self, piece: Piece) -> Pattern:
        """The same pattern with the piece of that identity replaced."""
        self.piece(piece.ref)
        return replace(self, pieces=tuple(piece if p.ref == piece.ref else p for p in self.pieces))

    def origin(self, block: str) -> Origin:
        """The block of that key; the pattern's own title where it does not say."""
        found = (origin for origin in self.origins if origin.key == block)
        return next(found, Origin(block, self.title))

    def _repr_svg_(self) -> str | None:
        """The pieces as a notebook shows them; nothing where there are none."""
        from blockwright.pattern.sketch import sketch

        return sketch(self).svg if self.pieces else None


def together(patterns: Sequence[Pattern]) -> Pattern:
    """The patterns of a set of blocks as one; no two may be of one block."""
    if len(patterns) == 1:
        return patterns[0]
    given_up: list[GivenUp] = []
    place = 0
    for pattern in patterns:
        given_up += [replace(each, place=each.place + place) for each in pattern.given_up]
        place += len(pattern.promises) + len(pattern.given_up)

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
            name if len(pattern.origins) > 1 else f"{pattern.block}.{name}": value
            for pattern in patterns
            for name, value in pattern.options.items()
        },
        patterns[0].body,
        every("sources"),
        every("origins"),
        {name: run for pattern in patterns for name, run in pattern.offers.items()},
        tuple(given_up),
        every("changes"),
    )
