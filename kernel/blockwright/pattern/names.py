"""Names in a set of blocks: what one block calls 'front' is 'bodice front' in the whole."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass, replace

from blockwright.errors import PatternError
from blockwright.pattern.piece import Edge, Given, Piece, Run, Taken, Way, edge_name
from blockwright.pattern.promise import Across, Joint
from blockwright.pattern.walk import Step, listed
from blockwright.spelling import what_is

Corner = tuple[Edge | str, Edge | str]
"""Two edges, or their names, that follow each other on an outline."""


@dataclass(frozen=True, slots=True)
class Names:
    """Puts the block's word before its own names; an empty word leaves them as they are."""

    word: str = ""

    def __call__(self, name: str) -> str:
        """One name; a piece called as its block is keeps that name."""
        return name if not self.word or name == self.word else f"{self.word} {name}"

    def piece(self, piece: Piece, block: str) -> Piece:
        """A piece of the block of that key, with the names of all that is on it."""
        if not self.word:
            return replace(piece, block=block)
        return replace(
            piece,
            name=self(piece.name),
            block=block,
            edges=tuple(replace(edge, name=self(edge.name)) for edge in piece.edges),
            darts=tuple(replace(dart, mouth=self(dart.mouth)) for dart in piece.darts),
            notches=tuple(replace(notch, edge=self(notch.edge)) for notch in piece.notches),
        )

    def run(self, steps: Step | Iterable[Step]) -> Run:
        """A run; what is taken from another block has its name already."""
        done: list[Way | Given] = []
        for step in listed(steps):
            if isinstance(step, Taken):
                done += step.run
            else:
                done.append(replace(step, edge=self(step.edge)) if isinstance(step, Way) else step)
        return tuple(done)

    def edge(self, edge: Edge | str) -> str:
        """The name of an edge of the block."""
        return self(edge_name(edge))

    def joint(self, corner: Corner) -> Joint:
        """A corner; PatternError for what is not two edges."""
        if not (isinstance(corner, tuple) and len(corner) == 2):
            raise PatternError(
                f"{what_is(corner)} is no corner; give two edges as the outline runs, "
                "(first, second)"
            )
        return self.edge(corner[0]), self.edge(corner[1])

    def levels(self, levels: Iterable[Across]) -> tuple[Across, ...]:
        """Levels across pieces."""
        return tuple(replace(level, piece=self(level.piece)) for level in levels)
