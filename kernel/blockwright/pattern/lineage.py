"""Lineage: what became of edges, darts, notches and places when a pattern was changed."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from typing import NamedTuple, Protocol

from blockwright.curves.affine import STAYS, Affine
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point
from blockwright.pattern.joint import AnyJoint, DartJoint, Joint
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Run, Way
from blockwright.pattern.ref import Ref
from blockwright.pattern.result import Reason


@dataclass(frozen=True, slots=True)
class Became:
    """What an edge became: a run, walked the edge's way; none when it is gone, and `why`.

    `added` mm were let in at `at` mm along it, as the maker asked; `drawn`: its line was drawn
    anew.

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
    """The piece that a place of an old one is on now, and how its cloth was turned and moved."""

    piece: Ref
    lay: Affine


class Line(NamedTuple):
    """What a line across an old piece became on a new one, and how much was let in, mm.

    It is in several parts where cloth between them was closed away.
    """

    piece: Ref
    parts: tuple[Curve, ...]
    added: float = 0.0


class Cloth(Protocol):
    """What a change did to the cloth of one piece.  A verb has a class of its own for it."""

    def laid(self, at: Point) -> Laid | None:
        """Where a place is now; None when it is gone."""
        ...

    def line(self, parts: Sequence[Curve]) -> tuple[Line, ...]:
        """What a line across it is now; nothing when it is gone."""
        ...


@dataclass(frozen=True)
class Lineage:
    """What a change did to the pattern `before` it.  What is not named stayed as it was.

    `edges` by identity; `cloths` what was done to a piece's cloth; `darts` by piece and name, the
    names they have now, none when one is gone; `notches` that are gone, by edge and name.  A
    promise asks it what its edges, corners, places and lines became.

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

    def run(self, run: Run) -> Became:
        """What became of a run, with all that was let in along it."""
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
        """The corner that a corner became; why, when it is gone."""
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
        """Where a place of a piece is now; None when it is gone."""
        cloth = self.cloths.get(piece)
        return cloth.laid(at) if cloth else Laid(piece, STAYS)

    def line(self, piece: Ref, parts: Sequence[Curve]) -> tuple[Line, ...]:
        """What a line across a piece is now."""
        cloth = self.cloths.get(piece)
        return cloth.line(parts) if cloth else (Line(piece, tuple(parts)),)


def _edge(step: object) -> Ref:
    assert isinstance(step, Way)
    return step.edge
