"""A block, or a set of blocks, drafted for one body, proved and timed."""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from shlex import quote

from blockwright.body.sheet import BodySheet
from blockwright.errors import InputError
from blockwright.pattern.pattern import Pattern
from blockwright.pattern.piece import Piece
from blockwright.plugin.block import Block
from blockwright.plugin.block_file import file_of
from blockwright.plugin.drafting import draft
from blockwright.plugin.option import Setting
from blockwright.plugin.traceback_line import FAILED
from blockwright.testing.bodies import Body
from blockwright.testing.differences import difference
from blockwright.testing.workers import tell
from blockwright.words.proof import Proof, prove


@dataclass(frozen=True)
class TrialOutcome:
    """What became of one draft: a pattern, its proof if one was asked for, or what was raised.

    Where the proof raised, the pattern is there as well.  `seconds`: of the draft and the proof.
    """

    pattern: Pattern | None = None
    proof: Proof | None = None
    raised: Exception | SystemExit | None = None
    seconds: float = 0.0

    @property
    def refused(self) -> bool:
        """Whether the block said that it cannot be drafted, as it may."""
        return isinstance(self.raised, InputError)

    @property
    def held(self) -> bool:
        """Whether it was drafted and proved, and the proof holds."""
        return self.proof is not None and self.proof.held


@dataclass(frozen=True)
class Trial:
    """Blocks on a body: the last of them is the one on trial, the others what it is sewn to."""

    blocks: tuple[type[Block], ...]
    body: Body
    settings: Mapping[str, Setting] = field(default_factory=dict)
    drafted: TrialOutcome | None = field(default=None, compare=False)
    """What became of it, where it was drafted already."""

    @property
    def block(self) -> type[Block]:
        """The block on trial."""
        return self.blocks[-1]

    @cached_property
    def outcome(self) -> TrialOutcome:
        """Drafted and proved once, and kept."""
        return self.drafted or self.proved()

    @property
    def seconds(self) -> float:
        """How long a draft and its proof may take, by the traits of all its blocks."""
        return sum(block.traits.seconds for block in self.blocks)

    @property
    def pattern(self) -> Pattern | None:
        """The pattern, if there is one."""
        return self.outcome.pattern

    @property
    def pieces(self) -> Sequence[Piece]:
        """The pieces of the block on trial."""
        every = self.pattern.pieces if self.pattern else ()
        return [piece for piece in every if piece.block == self.block.key]

    def draft(
        self, sheet: BodySheet | None = None, settings: Mapping[str, Setting] | None = None
    ) -> TrialOutcome:
        """Draft anew, on another sheet or with other settings if they are given; prove nothing."""
        return self._tried(sheet or self.body.sheet, {**self.settings, **(settings or {})})

    def proved(self) -> TrialOutcome:
        """Draft anew and prove the pattern."""
        return self._tried(self.body.sheet, self.settings, prove)

    def _tried(
        self,
        sheet: BodySheet,
        settings: Mapping[str, Setting],
        to_prove: Callable[[Pattern], Proof | None] = lambda pattern: None,
    ) -> TrialOutcome:
        tell(f"{self.body.name}{self._asked(settings)}: {self.block.key}")
        pattern = None
        begin = time.perf_counter()
        try:
            pattern = draft(self.blocks, sheet, settings)
            proof = to_prove(pattern)
        except FAILED as error:
            return TrialOutcome(pattern, raised=error, seconds=time.perf_counter() - begin)
        finally:
            tell("")
        return TrialOutcome(pattern, proof, seconds=time.perf_counter() - begin)

    def tried(self) -> Tried:
        """In short."""
        return Tried(
            self.blocks, self.body, str(self.outcome.raised) if self.outcome.refused else ""
        )

    def changed(self, name: str, by: float) -> BodySheet:
        """The body's sheet with one measurement `by` mm larger."""
        values = {**self.body.sheet.values, name: self.body.sheet.values[name] + by}
        return BodySheet.from_values(values, units=self.body.sheet.units, name=self.body.sheet.name)

    def command(self) -> str:
        """What draws it again: `try` where one of the blocks is in a file."""
        after = f" --body {self.body.name}{self._asked(self.settings)}"
        filed = [block for block in self.blocks if file_of(block)]
        if not filed:
            return f"blockwright draft {' '.join(block.key for block in self.blocks)}{after}"
        first, file = filed[-1], file_of(filed[-1])
        others = [block for block in self.blocks if block is not first]
        names = [block.key if file_of(block) in ("", file) else file_of(block) for block in others]
        beside = "".join(f" --beside {quote(name)}" for name in dict.fromkeys(names))
        return f"blockwright try {quote(file)} --block {first.key}{beside}{after}"

    @staticmethod
    def _asked(settings: Mapping[str, Setting]) -> str:
        return "".join(f" --set {name}={value}" for name, value in settings.items())


@dataclass(frozen=True)
class Tried:
    """What is kept of a trial when there are thousands; `refused`: what it was refused with."""

    blocks: tuple[type[Block], ...]
    body: Body
    refused: str = ""


def outcome_differs(a: TrialOutcome, b: TrialOutcome, *, within: float) -> str:
    """How two drafts differ, in words; nothing if they are alike."""
    if a.pattern and b.pattern:
        return difference(a.pattern, b.pattern, within=within)
    if a.pattern or b.pattern:
        return f"it is drafted once and not the other time: {a.raised or b.raised}"
    return "" if str(a.raised) == str(b.raised) else f"{a.raised}; and: {b.raised}"
