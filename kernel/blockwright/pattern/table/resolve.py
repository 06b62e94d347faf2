"""Names that an author writes, turned into identities in the author's block."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace
from typing import Any

from blockwright.errors import PatternError
from blockwright.pattern.piece import Dart, Edge, Given, Piece, Run, Taken, Way, edge_name
from blockwright.pattern.promises.girth import Across, LevelLine, Span
from blockwright.pattern.ref import AnyJoint, DartJoint, Joint, Ref
from blockwright.pattern.table.amounts import amount
from blockwright.pattern.walk import Step, listed
from blockwright.spelling import what_is

Corner = tuple[Edge | str, Edge | str] | Dart
"""Two edges, or their names, that follow each other on an outline; or a dart in an edge."""


Spanned = tuple[Corner, Corner]
"""Two corners, with a straight line between them."""


@dataclass(frozen=True, slots=True)
class Resolver:
    """Turns names of a block into identities.  `pieces` gives the pieces drawn so far."""

    block: str
    pieces: Callable[[], Mapping[str, Piece]]

    def __call__(self, name: Edge | str) -> Ref:
        """The identity of an edge, or of anything else by its name."""
        return Ref(self.block, edge_name(name))

    def run(self, steps: Step | Iterable[Step]) -> Run:
        """A run.  Edges taken from another block have their identities already."""
        done: list[Way | Given] = []
        for step in listed(steps):
            if isinstance(step, Taken):
                done += step.run
            elif isinstance(step, Way) and not step.edge.block:
                done.append(replace(step, edge=self(step.edge.name)))
            elif isinstance(step, Way):
                done.append(step)
            else:
                amount(f"the length of {step.name!r}", step.length)
                done.append(step)
        return tuple(done)

    def joint(self, corner: Corner) -> AnyJoint:
        """A corner.  Raises PatternError unless it is two edges or a dart in an edge."""
        if isinstance(corner, Dart):
            return self._dart_joint(corner)
        if not (isinstance(corner, tuple | list) and len(corner) == 2):
            raise PatternError(
                f"{what_is(corner)} is no corner; give two edges as the outline runs, "
                "(first, second), or a dart"
            )
        return Joint(self(corner[0]), self(corner[1]))

    def _dart_joint(self, dart: Dart) -> DartJoint:
        for piece in self.pieces().values():
            # The apex may be a mark in one and a bare point in the other, so it is not compared.
            if any((each.name, each.mouth) == (dart.name, dart.mouth) for each in piece.darts):
                before, after = piece.before(dart.mouth), piece.after(dart.mouth)
                if before.name != after.name:
                    raise PatternError(
                        f"dart {dart.name!r} is between two edges; give those as the corner, "
                        f"({before.name!r}, {after.name!r})"
                    )
                stretches = piece.stretches(before.name)
                upto = stretches[: stretches.index(before) + 1]
                along = sum(edge.curve.length for edge in upto)
                return DartJoint(self(before.name), dart.name, along)
        raise PatternError(
            f"dart {dart.name!r} is on no piece that was drawn; call d.piece(...) before"
        )

    def runs(self, runs: Step | Iterable[Step | Iterable[Step]]) -> tuple[Run, ...]:
        """Several runs; a step by itself is one run."""
        every = [runs] if isinstance(runs, Step) or not isinstance(runs, Iterable) else runs
        return tuple(self.run(each) for each in every)

    def spans(self, spans: Spanned | Iterable[Spanned]) -> tuple[Span, ...]:
        """Several spans; two corners by themselves are one.  Raises PatternError as `joint`."""
        found = []
        every: Iterable[Any] = [spans] if _is_span(spans) else spans
        for each in every:
            if not (isinstance(each, tuple | list) and len(each) == 2):
                raise PatternError(
                    f"{what_is(each)} is no span; give its two corners, ((first, second), (first, "
                    "second))"
                )
            found.append(Span(self.joint(each[0]), self.joint(each[1])))
        return tuple(found)

    def levels(self, levels: Across | Iterable[Across]) -> tuple[LevelLine, ...]:
        """Levels across pieces, with the identities of those pieces; one by itself will do.

        Raises PatternError for what is no `Across`.
        """
        every = [levels] if isinstance(levels, Across) else [*levels]
        for each in every:
            if not isinstance(each, Across):
                raise PatternError(f"{what_is(each)} is no level; give Across(piece, level)")
        return tuple(LevelLine(self(each.piece), (each.level,), each.times) for each in every)


def _is_span(spans: object) -> bool:
    """Whether it is two corners, and not a list of such pairs."""
    return isinstance(spans, tuple) and len(spans) == 2 and all(map(_is_corner, spans))


def _is_corner(given: object) -> bool:
    if isinstance(given, tuple) and len(given) == 2:
        return all(isinstance(edge, Edge | str) for edge in given)
    return isinstance(given, Dart)
