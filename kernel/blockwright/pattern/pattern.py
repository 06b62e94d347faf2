"""Patterns, promises and lineages: one module, because each speaks of the others."""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, fields, replace
from functools import cached_property
from types import MappingProxyType
from typing import Any, ClassVar, NamedTuple, Protocol

from blockwright.curves.affine import STAYS, Affine
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point
from blockwright.errors import PatternError
from blockwright.pattern.dart import sewn_outline
from blockwright.pattern.piece import Edge, Notch, Piece, Run, Way, labelled, missing
from blockwright.pattern.record import Change, Estimate, Origin, Solved, Source
from blockwright.pattern.ref import AnyJoint, DartJoint, Joint, Mark, Ref
from blockwright.pattern.results import Reason, Result
from blockwright.pattern.shown import Shown


@dataclass(frozen=True)
class Pattern(Shown):
    """Everything that a block, or a set of blocks, drafted.  It is a value.

    `draft` makes it.  `block` is the key of the block; a set has the keys with '+' between them.
    `origins` are the blocks.  `pieces`, `promises`, `marks` and `solved` were drafted.  `offers`
    are the runs that other blocks may be sewn to.  It was drafted from `measurements` (mm, by
    name), `options` and `estimates` for the `body` of that name.  `sources` says where the lengths
    come from that a block takes from another.  `changes` were made since.  `given_up` are the
    promises that a change made meaningless, each with the reason.  `unused` are the measurements of
    the sheet that no block used.

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
    unused: Mapping[str, float] = field(default_factory=dict)

    def __post_init__(self) -> None:
        """Makes the mappings read-only."""
        for name in ("measurements", "options", "offers", "unused"):
            object.__setattr__(self, name, MappingProxyType(dict(getattr(self, name))))

    def __reduce__(self) -> tuple[object, ...]:
        """A pattern is pickled with plain copies: a read-only mapping cannot be pickled."""
        values = (getattr(self, each.name) for each in fields(self))
        return Pattern, tuple(dict(v) if isinstance(v, MappingProxyType) else v for v in values)

    @cached_property
    def sewn(self) -> tuple[tuple[Run, Run], ...]:
        """The two sides of every promised seam."""
        return tuple(runs for promise in self.promises if (runs := promise.sewn))

    @cached_property
    def sewn_edges(self) -> frozenset[Ref]:
        """Every edge that is in a promised seam."""
        steps = (step for runs in self.sewn for run in runs for step in run)
        return frozenset(step.edge for step in steps if isinstance(step, Way))

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
        """The word before the names of a block on labels.  A block drafted alone has none."""
        return next((piece.word for piece in self.pieces if piece.block == block), "")

    def label(self, ref: Ref) -> str:
        """A name as people read it.  In a set the block's word comes before it."""
        return labelled(self.word(ref.block), ref.name)

    def piece(self, name: Ref | str) -> Piece:
        """The piece of that identity, label or name.  Raises PatternError if there is none."""
        return self._pieces[self._found(name, "piece", self._pieces)]

    def owner(self, edge: Ref | str) -> Piece:
        """The piece that has the edge.  Raises PatternError if none has."""
        return self._owners[self.edge_ref(edge)]

    def edge_ref(self, name: Ref | str) -> Ref:
        """The identity of an edge, by its label or name.  Raises PatternError if there is none."""
        return name if name in self._owners else self._found(name, "edge", self._owners)

    def _found(self, name: Ref | str, what: str, known: Mapping[Ref, object]) -> Ref:
        """The identity that has a label or a name."""
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
        """The edge, on whichever piece.  Raises PatternError if a dart parts it in two."""
        ref = self.edge_ref(name)
        return self._owners[ref].edge(ref.name)

    def stretches(self, name: Ref | str) -> tuple[Edge, ...]:
        """The stretches of an edge in outline order.  An edge without a dart has one."""
        return self._stretches[self.edge_ref(name)]

    def sewn_outline(self, piece: Ref) -> Sequence[Curve]:
        """The outline of a piece with its darts closed, worked out once."""
        if piece not in self._sewn_outlines:
            self._sewn_outlines[piece] = sewn_outline(self.piece(piece))
        return self._sewn_outlines[piece]

    @cached_property
    def _sewn_outlines(self) -> dict[Ref, list[Curve]]:
        return {}

    def length(self, name: Ref | str) -> float:
        """Length of an edge with its darts closed, mm."""
        return sum(edge.curve.length for edge in self.stretches(name))

    def mark(self, ref: Ref) -> Mark:
        """The mark.  Raises PatternError if there is none."""
        if ref not in self._marks:
            raise missing(self.block, "mark", self.label(ref), [*map(self.label, self._marks)])
        return self._marks[ref]

    def notches_on(self, edge: Ref | str) -> tuple[Notch, ...]:
        """The notches on an edge, in order along it."""
        ref = self.edge_ref(edge)
        found = [n for n in self._owners[ref].notches if n.edge == ref.name]
        return tuple(sorted(found, key=lambda n: n.along))

    def with_piece(self, piece: Piece) -> Pattern:
        """The pattern with this piece in the place of the one of the same identity."""
        self.piece(piece.ref)
        return replace(self, pieces=tuple(piece if p.ref == piece.ref else p for p in self.pieces))

    def origin(self, block: str) -> Origin:
        """The block of that key.  Has the title of the pattern if the pattern does not list it."""
        found = (origin for origin in self.origins if origin.key == block)
        return next(found, Origin(block, self.title))

    def _repr_svg_(self) -> str | None:
        """The picture as SVG.  A pattern without pieces has none."""
        return Shown._repr_svg_(self) if self.pieces else None


def together(patterns: Sequence[Pattern]) -> Pattern:
    """One pattern of the patterns of a set.  No two may be of the same block."""
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
        _offers_together(patterns),
        tuple(given_up),
        every("changes"),
        {
            name: value
            for pattern in patterns
            for name, value in pattern.unused.items()
            if all(name in other.unused for other in patterns)
        },
    )


OF = ": "
"""Between the key of a block and what it offers, where two blocks of a set offer the same."""


def _offers_together(patterns: Sequence[Pattern]) -> dict[str, Run]:
    """What the blocks of a set offer.  A name that several offer has the block's key before it."""
    often = Counter(name for pattern in patterns for name in pattern.offers)
    return {
        name if often[name] == 1 else f"{pattern.block}{OF}{name}": run
        for pattern in patterns
        for name, run in pattern.offers.items()
    }


@dataclass(frozen=True, slots=True)
class Promise(ABC):
    """The base of every kind of promise.  A kind is a frozen dataclass.

    A promise says what a block wants of its finished pieces.  `ref` is its identity: the block and
    the block's name for the promise.  `measure` measures the finished pieces and uses nothing of
    how they were drawn.  `carried` says what the promise becomes by a change.  The fields are
    written to JSON and read again, so they are `Ref`, `Way`, `Point`, `Curve`, numbers, texts and
    tuples of these.  `words` has the English text of the codes of the kind.  The catalogue has the
    texts of the kernel's own kinds.

    Example:
        >>> from blockwright import Promise
        >>> sorted(Promise.__abstractmethods__)
        ['carried', 'measure']
    """

    kind: ClassVar[str]
    words: ClassVar[Mapping[str, str]] = {}

    ref: Ref

    @property
    def name(self) -> str:
        """The block's name for the promise."""
        return self.ref.name

    @property
    def sewn(self) -> tuple[Run, Run] | None:
        """The two runs that it sews together, walked from one end.  None if it sews nothing."""
        return None

    def stated(self, pattern: Pattern) -> Reason | None:
        """What the block states that a sewer would not expect.  The proof prints it."""
        return None

    @abstractmethod
    def measure(self, pattern: Pattern) -> tuple[Result, ...]:
        """Measures the finished pieces."""

    @abstractmethod
    def carried(self, lineage: Lineage) -> Carried:
        """What it becomes by a change: one or more promises, or a promise given up and why."""


@dataclass(frozen=True, slots=True)
class Carried:
    """The promises that a promise became by a change.

    With `why` they are given up for that reason.  Later changes carry them on, and they are
    promised again as soon as a change gives no reason against it.

    Example:
        >>> from blockwright import Carried
        >>> Carried(()).why is None
        True
    """

    promises: tuple[Promise, ...]
    why: Reason | None = None


@dataclass(frozen=True, slots=True)
class GivenUp:
    """A promise that a change gave up, and why.  `place` is its number among the promises.

    Example:
        >>> from blockwright import GivenUp
        >>> GivenUp.__slots__
        ('promise', 'why', 'place')
    """

    promise: Promise
    why: Reason
    place: int


@dataclass(frozen=True, slots=True)
class Became:
    """The run that an edge became, walked in the direction of the edge.

    The run is empty if the edge is gone; then `why` gives the reason.  The change let in `added` mm
    at `at` mm along the edge.  `drawn` says that the line was drawn anew.

    Example:
        >>> from blockwright import Became, Reason
        >>> Became(why=Reason("gone")).run
        ()
    """

    run: Run = ()
    added: float = 0.0
    at: float = 0.0
    drawn: bool = False
    why: Reason | None = None


class Laid(NamedTuple):
    """The piece that an old place is on now, and how its cloth was turned and moved."""

    piece: Ref
    lay: Affine


class CarriedLine(NamedTuple):
    """What a line across an old piece became on a new piece.

    `added` mm of cloth were let in.  It has several parts where cloth between them was closed away.
    """

    piece: Ref
    parts: tuple[Curve, ...]
    added: float = 0.0


class Cloth(Protocol):
    """What a change did to the cloth of one piece.  A verb has its own class for this."""

    def laid(self, at: Point) -> Laid | None:
        """Where a place is now.  None if it is gone."""
        ...

    def line(self, parts: Sequence[Curve]) -> tuple[CarriedLine, ...]:
        """What a line across it is now.  Empty if it is gone."""
        ...


@dataclass(frozen=True)
class Lineage:
    """What a change did to the pattern `before` it.  Whatever it does not name is unchanged.

    `edges` says what each edge became.  `cloths` says what was done to the cloth of a piece.
    `darts` gives the new names of a dart by its piece and old name; a dart that is gone has none.
    `notches` that are gone are named by edge and name.  A promise asks the lineage what its edges,
    corners, places and lines became.

    Example:
        >>> from blockwright import Became, Lineage, Pattern, Ref, Way
        >>> old, new = Ref("test.skirt", "side"), Ref("test.skirt", "side seam")
        >>> lineage = Lineage(Pattern("test.skirt", "Skirt", ()), {old: Became((Way(new),))})
        >>> lineage.edge(old).run[0].edge.name
        'side seam'
    """

    before: Pattern
    edges: Mapping[Ref, Became] = field(default_factory=dict)
    cloths: Mapping[Ref, Cloth] = field(default_factory=dict)
    darts: Mapping[tuple[Ref, str], tuple[str, ...]] = field(default_factory=dict)
    notches: frozenset[tuple[Ref, str]] = frozenset()

    def edge(self, edge: Ref) -> Became:
        """What became of an edge."""
        return self.edges.get(edge) or Became((Way(edge),))

    def one_edge(self, edge: Ref) -> Ref | Reason:
        """The one edge that an edge became, or the reason why it is not one."""
        became = self.edge(edge)
        ways = [step for step in became.run if isinstance(step, Way)]
        return ways[0].edge if len(ways) == 1 else became.why or Reason("gone")

    def kept_edge(self, edge: Ref) -> Ref | Reason:
        """As `one_edge`, with a reason also for an edge that was drawn anew."""
        drawn = self.edge(edge).drawn
        return Reason("drawn-anew", {"edge": edge}) if drawn else self.one_edge(edge)

    def run(self, run: Run) -> Became:
        """What a run became, with all the cloth that was let in along it."""
        steps: list[object] = []
        added, drawn = 0.0, False
        for step in run:
            if not isinstance(step, Way):
                steps.append(step)
                continue
            became = self.edge(step.edge)
            if not became.run:
                return became
            added, drawn = added + became.added, drawn or became.drawn
            steps += became.run if step.forward else [-way for way in reversed(became.run)]
        return Became(tuple(steps), added, drawn=drawn)  # type: ignore[arg-type]

    def joint(self, joint: AnyJoint) -> AnyJoint | Reason:
        """The corner that a corner became, or the reason why it is gone."""
        if isinstance(joint, DartJoint):
            return self._dart_joint(joint)
        first, second = self.edge(joint.first), self.edge(joint.second)
        if not first.run or not second.run:
            return first.why or second.why or Reason("gone")
        return Joint(_edge(first.run[-1]), _edge(second.run[0]))

    def _dart_joint(self, joint: DartJoint) -> AnyJoint | Reason:
        became = self.edge(joint.edge)
        if became.drawn:
            return Reason("drawn-anew", {"edge": joint.edge})
        if len(became.run) != 1:
            return became.why or Reason("gone")
        along = joint.along + (became.added if joint.along > became.at else 0.0)
        return DartJoint(_edge(became.run[0]), joint.dart, along)

    def laid(self, piece: Ref, at: Point) -> Laid | None:
        """Where a place of a piece is now.  None if it is gone."""
        cloth = self.cloths.get(piece)
        return cloth.laid(at) if cloth else Laid(piece, STAYS)

    def line(self, piece: Ref, parts: Sequence[Curve]) -> tuple[CarriedLine, ...]:
        """What a line across a piece is now."""
        cloth = self.cloths.get(piece)
        return cloth.line(parts) if cloth else (CarriedLine(piece, tuple(parts)),)


def _edge(step: object) -> Ref:
    assert isinstance(step, Way)
    return step.edge
