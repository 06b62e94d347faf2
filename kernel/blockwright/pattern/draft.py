"""The drafting table: what a block's recipe works on."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import replace

from blockwright.body.lengths import Unit, format_length
from blockwright.curves.point import Point
from blockwright.errors import NoSolutionError, PatternError
from blockwright.pattern import promise
from blockwright.pattern.mark import Mark
from blockwright.pattern.names import Names
from blockwright.pattern.pattern import Estimate, Pattern, Promise, Solved, Source
from blockwright.pattern.piece import ROLES, Dart, Edge, Guide, Notch, Note, Piece, Taken
from blockwright.pattern.promise import Across, Joint, Range, Stretch
from blockwright.pattern.solve import Unreachable, solve
from blockwright.pattern.walk import Run, Step, walk


class Draft:
    """Collects marks, pieces and promises while a block is drafted; `pattern` is the result."""

    def __init__(
        self,
        block: str,
        title: str,
        unit: Unit = Unit.CM,
        *,
        word: str = "",
        taken: Mapping[str, Taken] | None = None,
    ) -> None:
        """A table for the block of that key.

        In a set of blocks `word` goes before its names, and `taken` is what the blocks drafted
        before it offer.
        """
        self.block = block
        self.title = title
        self.unit = unit
        self._names = Names(word)
        self._taken = dict(taken or {})
        self._offered: dict[str, Run] = {}
        self._marks: dict[str, Mark] = {}
        self._pieces: dict[str, Piece] = {}
        self._promises: list[Promise] = []
        self._solved: list[Solved] = []

    # -- drawing -----------------------------------------------------------------------------

    def mark(self, name: str, at: Point, rule: str, *, piece: str = "") -> Mark:
        """Put a named mark on the draft, with the rule that found it.

        `piece` is the name of the piece it lies on; a block of one piece need not say.
        """
        mark = Mark(at.x, at.y, name, rule, piece)
        self.keep(mark)
        return mark

    def keep(self, mark: Mark) -> Mark:
        """Record a mark made elsewhere.  PatternError if its name is taken by another place."""
        kept = self._marks.setdefault(mark.name, mark)
        if kept is not mark and kept != mark:
            raise PatternError(f"two marks are called {mark.name!r}; give one another name")
        return mark

    def solve(
        self,
        name: str,
        measure: Callable[[float], float],
        *,
        target: float,
        low: float,
        high: float,
        so_that: str,
        goal: str,
        advice: str,
        offset: float = 0.0,
        near: tuple[float, float] | None = None,
    ) -> float:
        """The value of `name` between low and high (mm) whose measure is the target (mm).

        `so_that` says what it achieves, for the proof; `goal` names the measured quantity in
        messages, which print it less `offset` (cap ease is cap length less armhole length);
        `advice` names the measurement or option to change; `near` is a good guess and how fast
        the measure grows there.
        Raises NoSolutionError saying what range of the goal is possible.
        """
        try:
            value = solve(measure, target, low, high, near=near)
        except Unreachable as possible:
            message = self._unreachable(name, goal, target, offset, low, high, possible)
            raise NoSolutionError(f"{message}; {advice}") from None
        self._solved.append(Solved(name, value, so_that))
        return value

    def found(self, name: str, value: float, so_that: str) -> None:
        """Record a length, mm, that the block found in its own way, as `solve` records its own."""
        self._solved.append(Solved(name, value, so_that))

    def _unreachable(
        self, name: str, goal: str, target: float, offset: float,
        low: float, high: float, possible: Unreachable,
    ) -> str:  # fmt: skip
        say = self.say
        between = f"{name} from {say(low)} to {say(high)}"
        if math.isnan(possible.least):
            return (
                f"{self.block}: {goal} {say(target - offset)}: nothing can be drawn with {between}"
            )
        return (
            f"{self.block}: {goal} of {say(target - offset)} cannot be reached: with {between} "
            f"it can be {say(possible.least - offset)} to {say(possible.most - offset)}"
        )

    def say(self, mm: float) -> str:
        """A length in the maker's unit, for messages."""
        return format_length(mm, self.unit)

    # -- pieces ------------------------------------------------------------------------------

    def piece(
        self,
        name: str,
        edges: Sequence[Edge],
        *,
        grain: tuple[Point, Point],
        label_at: Point,
        cut: int = 1,
        mirrored: bool = False,
        darts: Iterable[Dart] = (),
        notches: Iterable[Notch] = (),
        guides: Iterable[Guide] = (),
        notes: Iterable[Note] = (),
    ) -> Piece:
        """Add a finished piece; its outline and dart legs are promised with it.

        Raises PatternError for a name used twice and a notch or dart on an edge it has not.
        """
        made = Piece(
            name, tuple(edges), grain, label_at, cut, mirrored,
            tuple(darts), tuple(notches), tuple(guides), tuple(notes),
        )  # fmt: skip
        return self.add(made)

    def add(self, made: Piece) -> Piece:
        """Add a finished piece made elsewhere, as `piece` does."""
        self._check(made)
        self._pieces[made.name] = made
        named = self._names(made.name)
        self._promises.append(promise.Outline(named))
        self._promises += [promise.DartLegs(dart.name, named) for dart in made.darts]
        return made

    def _check(self, made: Piece) -> None:
        names = [edge.name for piece in self._pieces.values() for edge in piece.edges]
        names += [edge.name for edge in made.edges]
        if made.name in self._pieces:
            raise PatternError(f"two pieces are called {made.name!r}")
        if not isinstance(made.cut, int) or made.cut < 1:
            raise PatternError(f"cut of piece {made.name!r} is {made.cut!r}; give how many are cut")
        for edge in made.edges:
            if edge.role not in ROLES:
                raise PatternError(
                    f"edge {edge.name!r} has role {edge.role!r}; there are {', '.join(ROLES)}"
                )
            if names.count(edge.name) > 1:
                raise PatternError(f"two edges are called {edge.name!r}; promises go by edge name")
        for notch in made.notches:
            length = made.edge(notch.edge).curve.length
            if not 0.0 <= notch.along <= length:
                raise PatternError(
                    f"notch {notch.name!r} at {notch.along:.1f} mm is off its edge "
                    f"{notch.edge!r}, {length:.1f} mm long"
                )
        for dart in made.darts:
            if made.edge(dart.mouth).role != "dart":
                raise PatternError(f"the mouth {dart.mouth!r} of {dart.name!r} needs role 'dart'")

    # -- sewn to other blocks ------------------------------------------------------------------

    def offer(self, name: str, steps: Step | Sequence[Step]) -> None:
        """Offer a run of edges to the blocks that are sewn to it, in the way they walk it."""
        self._offered[name] = self._names.run(steps)

    def taken(self, name: str) -> Taken | None:
        """What a block drafted before this one offers under that name, if one does."""
        return self._taken.get(name)

    def offers(self) -> dict[str, Taken]:
        """What this block offers, measured on its pieces."""
        pattern = self.pattern()
        walked = {name: walk(pattern, steps) for name, steps in self._offered.items()}
        return {
            name: Taken(name, self._offered[name], found.length, found.notches, self.block)
            for name, found in walked.items()
        }

    # -- promises ----------------------------------------------------------------------------

    def seam(
        self,
        name: str,
        a: Step | Sequence[Step],
        b: Step | Sequence[Step],
        *,
        ease: float | Range = 0.0,
        stretches: Iterable[Stretch] = (),
        last: float | Range | None = None,
    ) -> None:
        """Promise that run `a` is sewn to run `b`, both walked from the same end.

        `a` is longer by `ease` mm, one number or a range.  `stretches` are the notches that
        must meet, in order, with the ease up to each; `last` is the ease after the last.
        """
        rest = None if last is None else _range(last)
        self._promises.append(
            promise.Seam(
                self._names(name),
                self._names.run(a),
                self._names.run(b),
                _range(ease),
                tuple(stretches),
                rest,
            )
        )

    def corner(self, name: str, *joints: Joint, angle: float = 180.0) -> None:
        """Promise that corners coming together when sewn add up to `angle` degrees.

        Each joint names two edges that follow each other on an outline.
        """
        if len(set(joints)) != len(joints):
            raise PatternError(f"corner {name!r} names one corner twice")
        self._promises.append(promise.Corner(self._names(name), self._names.joints(joints), angle))

    def level(self, name: str, edge: Edge, at: Point, *, within: float) -> None:
        """Promise that an edge is level (square to the grain) at a place, within degrees."""
        self._promises.append(promise.Level(self._names(name), self._names(edge.name), at, within))

    def through(self, name: str, edge: Edge, marks: Iterable[Mark]) -> None:
        """Promise that an edge passes through its marks."""
        self._promises.append(
            promise.Through(self._names(name), self._names(edge.name), tuple(marks))
        )

    def shape(self, name: str, edge: Edge, *, bends: int, toward: Point | None = None) -> None:
        """Promise that an edge changes from hollow to full `bends` times.

        With `toward`, that it never runs against that direction either: no hook, no overhang.
        """
        self._promises.append(
            promise.Shape(self._names(name), self._names(edge.name), bends, toward)
        )

    def girth(
        self,
        name: str,
        *,
        body: float,
        ease: float | Range,
        runs: Iterable[Step | Sequence[Step]] = (),
        spans: Iterable[tuple[Joint, Joint]] = (),
        levels: Iterable[Across] = (),
        times: int = 1,
    ) -> None:
        """Promise a finished width: body plus ease.

        It is measured over runs of edges, corner-to-corner spans and levels across pieces, and
        counted `times` times (2 where half a body is drawn).
        """
        self._promises.append(
            promise.Girth(
                self._names(name), body, _range(ease),
                tuple(self._names.run(each) for each in runs),
                tuple(self._names.span(span) for span in spans),
                self._names.levels(levels), times,
            )
        )  # fmt: skip

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
    ) -> Pattern:
        """The finished pattern, with what it was drafted from."""
        names = self._names
        marks = (
            replace(mark, name=names(mark.name), piece=names(mark.piece) if mark.piece else "")
            for mark in self._marks.values()
        )
        if len(self._pieces) == 1:
            marks = (replace(mark, piece=names(next(iter(self._pieces)))) for mark in marks)
        return Pattern(
            self.block,
            self.title,
            tuple(names.piece(piece, self.block) for piece in self._pieces.values()),
            tuple(self._promises),
            tuple(marks),
            tuple(replace(each, name=names(each.name)) for each in self._solved),
            tuple(estimates),
            measurements or {},
            options or {},
            body,
            tuple(sources),
            allowances={self.block: allowances} if allowances else {},
        )


def _range(ease: float | Range) -> Range:
    return ease if isinstance(ease, tuple) else (ease, ease)
