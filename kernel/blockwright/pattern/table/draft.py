"""The drafting table: what a block's recipe works on."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import replace
from itertools import pairwise

from blockwright.body.lengths import Unit
from blockwright.curves.point import Point, PointLike, as_point
from blockwright.errors import InputError, PatternError
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import (
    ROLES,
    Dart,
    Edge,
    Guide,
    Notch,
    Note,
    Piece,
    Run,
    Taken,
    missing,
)
from blockwright.pattern.record import Estimate, Origin, Source
from blockwright.pattern.ref import Mark
from blockwright.pattern.table.label_placement import usual_grain, usual_label
from blockwright.pattern.table.promising import Promising
from blockwright.pattern.table.requirements import InForce
from blockwright.pattern.table.solve import SETTLED
from blockwright.pattern.table.solving import Solving
from blockwright.pattern.table.validate import check_parts, check_place
from blockwright.pattern.walk import BACKWARDS, Step, offered
from blockwright.spelling import did_you_mean

MOST_CUT = 100
"""The most copies of one piece.  Nobody wears more."""
UPRIGHT = (Point(0.0, 0.0), Point(0.0, 1.0))
"""A grain that is placed later."""


class Draft(Promising, Solving):
    """Collects marks, pieces and promises while a block is drafted; `pattern` is the result.

    `block` and `title` are the block's key and title, `unit` the one of its messages; lengths
    and places are in mm, y up, angles in degrees.  A promise is only written down here: `prove`
    measures it, and raises PatternError where it names an edge or a piece that is not there.

    Example:
        >>> from blockwright import Draft, Edge, Point, line, prove
        >>> corners = [Point(0, 0), Point(200, 0), Point(200, 300), Point(0, 300), Point(0, 0)]
        >>> sides = [("hem", "hem"), ("right", "seam"), ("top", "hem"), ("left", "seam")]
        >>> ends = zip(sides, corners, corners[1:])
        >>> edges = [Edge(name, line(a, b), role) for (name, role), a, b in ends]
        >>> d = Draft("test.square", "Square")
        >>> grain = (Point(50, 50), Point(50, 250))
        >>> square = d.piece("square", edges, grain=grain, label_at=Point(100, 150))
        >>> d.seam("side", edges[1], -edges[3])
        >>> prove(d.pattern()).held
        True
    """

    def __init__(
        self,
        block: str,
        title: str,
        unit: Unit = Unit.CM,
        *,
        word: str = "",
        takes: Iterable[str] | None = None,
        offers: Iterable[str] | None = None,
        taken: Mapping[str, Taken] | Iterable[Taken] = (),
        in_force: Mapping[str, InForce] | None = None,
    ) -> None:
        """A table for the block of that key.

        In a set of blocks `word` goes before its names, and `taken` is what the blocks drafted
        before it offer; `takes` are the names it may ask for and `offers` those it may offer, any
        when not given.
        `in_force` is what it is drafted from, for refusals, which else print names alone.
        """
        Promising.__init__(self, block)
        Solving.__init__(self, block, unit, in_force or {})
        self.title = title
        self._word = word
        self._takes = None if takes is None else tuple(takes)
        self._offers = None if offers is None else tuple(offers)
        self._taken = tuple(taken.values() if isinstance(taken, Mapping) else taken)
        self._handed_out: list[Taken] = []
        self._offered: dict[str, Run] = {}
        self._marks: dict[str, Mark] = {}

    # -- what it needs, solves and promises: the reference lists what a class has itself ----------

    require = Solving.require
    within = Solving.within
    drawing = Solving.drawing
    say = Solving.say
    solve = Solving.solve
    solve_many = Solving.solve_many
    found = Solving.found
    seam = Promising.seam
    twin = Promising.twin
    unsewn = Promising.unsewn
    balance = Promising.balance
    girth = Promising.girth
    measure = Promising.measure
    corner = Promising.corner
    shape = Promising.shape
    through = Promising.through
    level = Promising.level
    promise = Promising.promise
    ref = Promising.ref

    # -- drawing -----------------------------------------------------------------------------

    def mark(self, name: str, at: PointLike, rule: str, *, piece: str = "") -> Mark:
        """Put a named mark on the draft, with the rule that found it.

        `at` in mm; `rule` in the cutter's words.  `piece` is the name of the piece it lies on; a
        block of one piece need not say.  Raises PatternError as `keep` does; `pattern` does for
        a piece that is not there, and for none given where there are several.

        Example:
            >>> from blockwright import Draft, Point
            >>> d = Draft("test.sleeve", "Sleeve")
            >>> crown = d.mark("crown", Point(0, 150), "the cap height above the bicep line")
            >>> crown.y, d.pattern().marks[0].rule
            (150, 'the cap height above the bicep line')
        """
        place = as_point(at, f"mark {name!r}")
        mark = Mark(place.x, place.y, name, rule, piece)
        self.keep(mark)
        return mark

    def keep(self, mark: Mark) -> Mark:
        """Record a mark made elsewhere, and give it back.

        The same mark may be kept twice; raises PatternError when its name is taken by one that
        differs in place, rule or piece.
        """
        check_place(f"mark {mark.name!r}", mark)
        kept = self._marks.setdefault(mark.name, mark)
        if kept is not mark and kept != mark:
            raise PatternError(f"two marks are called {mark.name!r}; give one another name")
        return mark

    def _piece_of(self, mark: Mark) -> str:
        """The name of the piece a mark lies on; nothing where there are no pieces."""
        if not mark.piece and len(self._pieces) > 1:
            raise PatternError(
                f"mark {mark.name!r} does not say which piece it lies on; give piece=, one of "
                f"{', '.join(self._pieces)}"
            )
        if mark.piece and self._pieces and mark.piece not in self._pieces:
            raise missing(f"mark {mark.name!r}: {self.block}", "piece", mark.piece, [*self._pieces])
        return mark.piece or next(iter(self._pieces), "")

    # -- pieces ------------------------------------------------------------------------------

    def piece(
        self,
        name: str,
        edges: Sequence[Edge],
        *,
        grain: tuple[PointLike, PointLike] | None = None,
        label_at: PointLike | None = None,
        cut: int = 1,
        mirrored: bool = False,
        darts: Iterable[Dart] = (),
        notches: Iterable[Notch] = (),
        guides: Iterable[Guide] = (),
        notes: Iterable[Note] = (),
    ) -> Piece:
        """Add a finished piece; its outline and dart legs are promised with it.

        `edges` run counter-clockwise and close; their names are unique in the block, but the
        stretches of one edge, with darts between them, share theirs.  The rest is as in `Piece`:
        places in mm, as points or pairs (x, y), `cut` pieces of cloth, with `mirrored` half of them
        the other way up.  A label that is not placed goes to the middle of the cloth, a grain that
        is not straight up beside it.  Promised: the outline closes, runs counter-clockwise and does
        not cross itself, grain and label lie inside, and the legs of each dart are equal.

        Raises PatternError for a name of a piece or an edge used twice, a role there is not, a
        `cut` that is not a whole number from 1 to 100, a notch or dart on an edge the piece has
        not, a notch beyond the end of its edge, and an edge of role 'dart' that is not the mouth of
        one dart.

        Example:
            >>> from blockwright import Draft, Edge, Point, line, polyline, prove
            >>> hem = Edge("hem", line(Point(0, 0), Point(200, 0)), "hem")
            >>> rest = Edge("rest", polyline([Point(200, 0), Point(200, 300), Point(0, 0)]))
            >>> d = Draft("test.wedge", "Wedge")
            >>> wedge = d.piece("wedge", [hem, rest], cut=2)
            >>> [f"({p.x:.1f}, {p.y:.1f})" for p in (wedge.label_at, *wedge.grain)]
            ['(133.3, 100.0)', '(100.0, 22.5)', '(100.0, 127.5)']
            >>> prove(d.pattern()).results[0].code
            'outline.closes'
        """
        made = Piece(
            name, tuple(edges), UPRIGHT if grain is None else _grain(name, grain),
            UPRIGHT[0] if label_at is None else as_point(label_at, f"label_at of piece {name!r}"),
            cut, mirrored, tuple(darts), tuple(notches), tuple(guides), tuple(notes),
        )  # fmt: skip
        self._check(made)
        if label_at is None:
            made = replace(made, label_at=usual_label(made))
        if grain is None:
            made = replace(made, grain=usual_grain(made, made.label_at))
        return self._put(made)

    def add(self, made: Piece) -> Piece:
        """Add a finished piece made elsewhere, with the promises and errors of `piece`."""
        made = replace(
            made,
            grain=_grain(made.name, made.grain),
            label_at=as_point(made.label_at, f"label_at of piece {made.name!r}"),
        )
        self._check(made)
        return self._put(made)

    def _put(self, made: Piece) -> Piece:
        """Keep a piece that is looked at; `prove` holds every piece to what a piece must be."""
        low, high = made.grain
        made = replace(
            made,
            grain=(_bare(low), _bare(high)),
            label_at=_bare(made.label_at),
            darts=tuple(replace(dart, apex=_bare(dart.apex)) for dart in made.darts),
            notes=tuple(replace(note, at=_bare(note.at)) for note in made.notes),
            notches=tuple(_on_edge(notch, made) for notch in made.notches),
        )
        self._pieces[made.name] = made
        return made

    def _check(self, made: Piece) -> None:
        taken = {edge.name for piece in self._pieces.values() for edge in piece.edges}
        often = Counter(edge.name for edge in made.edges)
        if made.name in self._pieces:
            raise PatternError(f"two pieces are called {made.name!r}")
        if type(made.cut) is not int or not 1 <= made.cut <= MOST_CUT:
            raise PatternError(
                f"cut of piece {made.name!r} is {made.cut!r}; give how many are cut, a whole "
                f"number from 1 to {MOST_CUT}"
            )
        if made.mirrored and made.cut % 2:
            raise PatternError(
                f"cut of piece {made.name!r} is {made.cut}, in mirrored pairs; give an even number"
            )
        for edge in made.edges:
            if edge.role not in ROLES:
                raise PatternError(
                    f"edge {edge.name!r} has role {edge.role!r}; there are {', '.join(ROLES)}"
                )
            if str(edge.name).startswith(BACKWARDS):
                raise PatternError(
                    f"edge {edge.name!r} begins with {BACKWARDS!r}, which walks an edge backwards "
                    "in a run; give it another name"
                )
            if edge.name in taken or (often[edge.name] > 1 and not _is_one(made, edge.name)):
                raise PatternError(
                    f"two edges are called {edge.name!r}; promises go by edge name, and only "
                    "stretches with darts between them share one"
                )
        check_parts(made)
        for notch in made.notches:
            length = made.length(notch.edge)
            if not -SETTLED <= notch.along <= length + SETTLED:
                raise PatternError(
                    f"notch {notch.name!r} at {notch.along:.1f} mm is off its edge "
                    f"{notch.edge!r}, {length:.1f} mm long"
                )
        for dart in made.darts:
            if made.edge(dart.mouth).role != "dart":
                raise PatternError(f"the mouth {dart.mouth!r} of {dart.name!r} needs role 'dart'")

    # -- sewn to other blocks ------------------------------------------------------------------

    def offer(self, name: str, steps: Step | Sequence[Step]) -> None:
        """Offer a run of edges to the blocks that are sewn to it, in the way they walk it.

        `steps`: an edge, `-edge`, or several in order.  The last offer of a name counts.
        Raises PatternError for a name that the block does not declare in `offers`.
        """
        if self._offers is not None and name not in self._offers:
            known = ", ".join(map(repr, self._offers)) or "nothing"
            near = did_you_mean(name, self._offers)
            raise PatternError(
                f"{self.block} offers {name!r}, but its offers declare {known}{near}; "
                f"write {name!r} there, or offer a name that is"
            )
        self._offered[name] = self._ref.run(steps)

    def taken(self, name: str, *, of: str = "") -> Taken | None:
        """What a block drafted before this one offers under that name; None if none does.

        `of` is the key of that block, where two blocks of a set may offer the same name.  Raises
        PatternError for a name that the block does not declare in `takes`, and InputError, naming
        both, when two offer it and `of` is not given.

        Example:
            >>> from blockwright import Draft, Ref, Taken, Way
            >>> def waist(block):
            ...     return Taken("waist", (Way(Ref(block, "waist")),), 360.0, {}, block)
            >>> d = Draft("test.band", "Band", taken=[waist("test.skirt"), waist("test.shorts")])
            >>> d.taken("waist", of="test.shorts").run[0].edge
            Ref(block='test.shorts', name='waist')
        """
        if self._takes is not None and name not in self._takes:
            raise missing(f"takes of {self.block}", "run", name, self._takes)
        found = [each for each in self._taken if each.name == name and of in ("", each.block)]
        if len(found) > 1:
            first, second = (each.block for each in found[:2])
            raise InputError.coded("drafting.both-offer", block=first, other=second, run=name)
        self._handed_out += found
        return found[0] if found else None

    def walked(self, name: str) -> list[Taken]:
        """What `taken` has handed out under that name; what is offered if it was not asked."""
        handed_out = [each for each in self._handed_out if each.name == name]
        once = [each for i, each in enumerate(handed_out) if each not in handed_out[:i]]
        return once or [each for each in self._taken if each.name == name]

    def offers(self) -> dict[str, Taken]:
        """What this block offers, by name, measured on its pieces.

        Raises PatternError for a run whose edges are not there or do not follow one another.
        """
        return offered(self.pattern())

    # -- the result --------------------------------------------------------------------------

    def pattern(
        self,
        *,
        estimates: Iterable[Estimate] = (),
        measurements: Mapping[str, float] | None = None,
        options: Mapping[str, object] | None = None,
        body: str = "",
        sources: Iterable[Source] = (),
        allowances: Mapping[str, float] | None = None,
        version: str = "",
        eases: Mapping[str, float] | None = None,
        chosen: Mapping[str, str] | None = None,
        unused: Mapping[str, float] | None = None,
    ) -> Pattern:
        """The finished pattern, with what it was drafted from: see `Pattern`.

        What runs a block calls it when the recipe is done.
        """
        marks = (
            replace(mark, piece=self._piece_of(mark), block=self.block)
            for mark in self._marks.values()
        )
        origin = Origin(
            self.block, self.title, version,
            dict(allowances or {}), dict(eases or {}), dict(chosen or {}),
        )  # fmt: skip
        return Pattern(
            self.block,
            self.title,
            tuple(
                replace(piece, block=self.block, word=self._word) for piece in self._pieces.values()
            ),
            tuple(self._promises),
            tuple(marks),
            tuple(self._solved),
            tuple(estimates),
            measurements or {},
            options or {},
            body,
            tuple(sources),
            (origin,),
            self._offered,
            unused=unused or {},
        )


def _grain(piece: str, grain: object) -> tuple[Point, Point]:
    """A grain whose ends are points; what is no pair is left to `check_parts`."""
    if not isinstance(grain, Sequence) or len(grain) != 2:
        return grain  # type: ignore[return-value]
    what = f"an end of grain of piece {piece!r}"
    return as_point(grain[0], what), as_point(grain[1], what)


def _bare(at: Point) -> Point:
    """A place without the name it has as a mark."""
    return Point(at.x, at.y)


def _is_one(piece: Piece, edge: str) -> bool:
    """Whether the stretches of an edge follow one another over darts, and nothing else."""
    places = piece.places_of(edge)
    mouths = {dart.mouth for dart in piece.darts}
    count = len(piece.edges)
    return all(
        (b - a) % count == 2 and piece.edges[(a + 1) % count].name in mouths
        for a, b in pairwise(places)
    )


def _on_edge(notch: Notch, piece: Piece) -> Notch:
    """A notch at the end of its edge where a length that was solved for puts it just beyond."""
    along = min(max(notch.along, 0.0), piece.length(notch.edge))
    return notch if along == notch.along else replace(notch, along=along)
