"""Seams: two runs of edges sewn together."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import dataclass, replace
from typing import ClassVar

from blockwright.pattern import tolerance
from blockwright.pattern.copies import why_not_sewn
from blockwright.pattern.pattern import Carried, Lineage, Pattern, Promise
from blockwright.pattern.piece import Given, Run, Way
from blockwright.pattern.results import Range, Reason, Result, Value
from blockwright.pattern.walk import NoRunError, Walk, walk

GATHERED = 0.1
"""The share of its longer side from which a seam is gathered.  Less is eased in.

Common practice, no source.
"""


@dataclass(frozen=True, slots=True)
class Stretch:
    """The part of a seam from the notch before, or from its start, to the notch `to`.

    Both runs have a notch of that name.  `ease` is the least and the greatest by which run a is
    longer than run b there, mm.

    Example:
        >>> from blockwright import Draft, Edge, Given, Notch, Point, Stretch, line, polyline, prove
        >>> cap = Edge("cap", line(Point(440, 0), Point(0, 0)))
        >>> rest = Edge("rest", polyline([Point(0, 0), Point(220, -200), Point(440, 0)]))
        >>> d, at = Draft("test.sleeve", "Sleeve"), Point(220, -80)
        >>> notches, grain = [Notch("notch", "cap", 100.0)], (Point(220, -150), Point(220, -20))
        >>> sleeve = d.piece("sleeve", [cap, rest], grain=grain, label_at=at, notches=notches)
        >>> armhole = Given("armhole", 420.0, {"notch": 98.0})
        >>> d.seam("cap", cap, armhole, ease=20.0, stretches=[Stretch("notch", (0.0, 3.0))])
        >>> [(each.code, round(each.measured, 1)) for each in prove(d.pattern()).results[-2:]]
        [('seam', 20.0), ('seam.stretch', 2.0)]
    """

    to: str
    ease: Range


@dataclass(frozen=True, slots=True)
class Seam(Promise):
    """Two runs are sewn together from their starts, and `a` is longer than `b` by the ease.

    `stretches` names notches that both runs have, in order, with the ease up to each.  `last` is
    the ease from the last notch to the end.  `shaped` says that the sides bend differently on
    purpose, as a cap and its armhole do.  `over` says that the seam lies over another that is there
    already, as the inner edge of a folded binding does, so an edge may be in both.
    """

    kind: ClassVar[str] = "seam"
    a: Run
    b: Run
    ease: Range = (0.0, 0.0)
    stretches: tuple[Stretch, ...] = ()
    last: Range | None = None
    shaped: bool = False
    over: bool = False

    @property
    def sewn(self) -> tuple[Run, Run]:
        """Both sides."""
        return self.a, self.b

    def measure(self, pattern: Pattern) -> tuple[Result, ...]:
        """The ease of the whole seam, then of each stretch between notches.

        Nothing is measured if the edges of a run do not follow one another, or if no copies of the
        two runs can be sewn together.
        """
        try:
            a, b = walk(pattern, self.a), walk(pattern, self.b)
        except NoRunError as error:
            return (self._result("seam", self.ease, math.nan, error.why),)
        apart = why_not_sewn(pattern, self.a, self.b)
        ease = math.nan if apart else a.length - b.length
        found = [self._result("seam", self.ease, ease, apart)]
        at_a = at_b = 0.0
        since = ""
        for stretch in self.stretches:
            to_a, to_b = a.notches.get(stretch.to, math.nan), b.notches.get(stretch.to, math.nan)
            unlike = self._unlike(stretch.to, a, b)
            ease = math.nan if unlike else (to_a - at_a) - (to_b - at_b)
            places = {"since": since, "to": stretch.to}
            found.append(self._result("seam.stretch", stretch.ease, ease, unlike, places))
            at_a, at_b, since = to_a, to_b, stretch.to
        if self.last is not None:
            rest = (a.length - at_a) - (b.length - at_b)
            places = {"since": since, "to": ""}
            found.append(self._result("seam.stretch", self.last, rest, None, places))
        if not apart:
            found += self._other_notches(a, b)
        return tuple(found)

    def _other_notches(self, a: Walk, b: Walk) -> Iterator[Result]:
        """Each notch of both runs that no stretch names: by how much its two places miss.

        The ease up to a notch lies between none and all of the ease of its stretch.
        """
        sections = [(each.to, each.ease) for each in self.stretches]
        named = {name for name, _ in sections}
        for name in a.notches:  # in their order, so that the proof is the same every time
            if name not in b.notches or name in named:
                continue
            at_a, at_b = a.notches[name], b.notches[name]
            low, high = self.last or (self.ease if not sections else (0.0, 0.0))
            since_a = since_b = 0.0
            for to, ease in sections:
                if a.notches.get(to, math.inf) > at_a:
                    low, high = ease
                    break
                since_a, since_b = a.notches[to], b.notches.get(to, math.nan)
            miss = (at_a - since_a) - (at_b - since_b)
            low, high = min(low, 0.0), max(high, 0.0)
            unlike = self._unlike(name, a, b)
            yield Result(
                "seam.notch", self.ref, "length", (low, high), math.nan if unlike else miss,
                tolerance.NOTCH, {"notch": name}, unlike,
            )  # fmt: skip

    def stated(self, pattern: Pattern) -> Reason | None:
        """That one side is gathered in, bends otherwise on purpose, or lies over another seam."""
        lengths = [_length(pattern, run) for run in (self.a, self.b)]
        share = 1.0 - min(lengths) / max(lengths)
        if share > GATHERED:
            return Reason("stated.gathered", {"seam": self.ref, "share": 100.0 * share})
        if not self.shaped and not self.over:
            return None
        return Reason("stated.shaped" if self.shaped else "stated.over", {"seam": self.ref})

    def _result(
        self,
        code: str,
        ease: Range,
        measured: float,
        why: Reason | None,
        values: dict[str, str] | None = None,
    ) -> Result:
        return Result(
            code, self.ref, "length", ease, measured, tolerance.LENGTH, dict(values or {}), why
        )

    def _unlike(self, notch: str, a: Walk, b: Walk) -> Reason | None:
        """Why the notches of this name cannot meet.  None if they can."""
        for run, walked in ((self.a, a), (self.b, b)):
            if notch not in walked.notches:
                there = tuple(walked.notches)
                return Reason("notch.missing", {"notch": notch, "there": there, **run_of(run)})
            if notch in walked.twice:
                return Reason("notch.twice", {"notch": notch, **run_of(run)})
        ticks = (a.ticks.get(notch), b.ticks.get(notch))
        if ticks[0] is not None and ticks[1] is not None and ticks[0] != ticks[1]:
            return Reason("notch.ticks", {"notch": notch, "a": ticks[0], "b": ticks[1]})
        return None

    def carried(self, lineage: Lineage) -> Carried:
        """The seam of the runs that its runs became, with the same ease.

        Where a notch is gone, the stretches on either side of it are joined.  The ease never
        changes: if one side is made longer, the seam breaks until the other side is as well.
        """
        a, b = lineage.run(self.a), lineage.run(self.b)
        if not a.run or not b.run:
            return Carried((self,), a.why or b.why or Reason("gone"))
        edges = {step.edge for step in (*self.a, *self.b) if isinstance(step, Way)}
        lost = {name for edge, name in lineage.notches if edge in edges}
        kept: list[Stretch] = []
        low = high = 0.0
        for stretch in self.stretches:
            low, high = low + stretch.ease[0], high + stretch.ease[1]
            if stretch.to not in lost:
                kept.append(Stretch(stretch.to, (low, high)))
                low = high = 0.0
        last = self.last and (self.last[0] + low, self.last[1] + high)
        return Carried((replace(self, a=a.run, b=b.run, stretches=tuple(kept), last=last),))


def _length(pattern: Pattern, run: Run) -> float:
    return sum(
        step.length if isinstance(step, Given) else pattern.length(step.edge) for step in run
    )


def run_of(run: Run) -> dict[str, Value]:
    """A run as values of a reason: its edges, and the names of given lengths."""
    named = [step.name if isinstance(step, Given) else step.edge for step in run]
    return {"run": tuple(named)}
