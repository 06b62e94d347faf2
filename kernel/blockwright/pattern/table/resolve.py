"""Names that an author writes, turned into identities in the author's block."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, replace

from blockwright.errors import PatternError
from blockwright.pattern.piece import Dart, Edge, Given, Piece, Run, Taken, Way, edge_name
from blockwright.pattern.promises.girth import Across, LevelLine
from blockwright.pattern.ref import AnyJoint, DartJoint, Joint, Ref
from blockwright.pattern.walk import Step, listed
from blockwright.spelling import what_is

Corner = tuple[Edge | str, Edge | str] | Dart
"""Two edges, or their names, that follow each other on an outline; or a dart in an edge."""


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
            else:
                done.append(step)
        return tuple(done)

    def joint(self, corner: Corner) -> AnyJoint:
        """A corner.  Raises PatternError unless it is two edges or a dart in an edge."""
        if isinstance(corner, Dart):
            return self._dart_joint(corner)
        if not (isinstance(corner, tuple) and len(corner) == 2):
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

    def levels(self, levels: Iterable[Across]) -> tuple[LevelLine, ...]:
        """Levels across pieces, with the identities of those pieces."""
        return tuple(LevelLine(self(each.piece), (each.level,), each.times) for each in levels)
