"""The values that a draft finds by solving, kept for the proof."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Mapping, Sequence

from blockwright.body.lengths import Unit
from blockwright.errors import NoSolutionError
from blockwright.pattern.record import Solved
from blockwright.pattern.table.requirements import Advice, InForce, Requiring
from blockwright.pattern.table.solve import Unreachable, solve
from blockwright.pattern.table.solve_many import Apart, solve_many


class Solving(Requiring):
    """The part of `Draft` that finds free values; authors meet it there."""

    def __init__(self, block: str, unit: Unit, in_force: Mapping[str, InForce]) -> None:
        """As `Requiring`."""
        super().__init__(block, unit, in_force)
        self._solved: list[Solved] = []

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
        advice: Advice = "",
        check: Iterable[str] = (),
        offset: float = 0.0,
        near: tuple[float, float] | None = None,
    ) -> float:
        """The value of `name` between low and high (mm) whose measure is the target (mm).

        `so_that` says what it achieves, for the proof; `goal` names the measured quantity in
        messages, which print it less `offset` (cap ease is cap length less armhole length);
        `check` names the options and measurements it hangs on, as in `require`, or `advice` says
        what to do; `near` is a good guess and how fast
        the measure grows there.  The measure of the answer is within 1e-5 mm of the target; a
        value that the measure raises GeometryError for counts as one that cannot be drawn.
        Raises NoSolutionError saying what range of the goal is possible.

        Example:
            >>> from math import pi
            >>> from blockwright import Draft
            >>> d = Draft("test.circle", "Circle")
            >>> radius = d.solve(
            ...     "radius", lambda r: pi * r, target=700.0, low=50.0, high=500.0,
            ...     so_that="half a circle is the waist", goal="waist", advice="give less ease"
            ... )
            >>> round(radius, 2)
            222.82
        """
        names = self._declared(check)
        try:
            value = solve(measure, target, low, high, near=near)
        except Unreachable as possible:
            says = self._unreachable(name, goal, target, offset, low, high, possible)
            raise self._refusal(NoSolutionError, says, names, advice, "block.no-solution") from None
        self.found(name, value, so_that)
        return value

    def solve_many(
        self,
        names: Sequence[str],
        measure: Callable[[tuple[float, ...]], Sequence[float]],
        *,
        target: Sequence[float],
        start: Sequence[float],
        so_that: str,
        goals: Sequence[str],
        rates: Sequence[float] | None = None,
        advice: Advice = "",
        check: Iterable[str] = (),
    ) -> tuple[float, ...]:
        """The values of `names` (mm), all at once, whose measures are the targets (mm).

        `measure` takes as many values as there are names, and gives as many lengths, one for each
        of `target`; `goals` names those in messages.  `start` is a guess at each value, and
        `rates` says how fast each length grows with the value in the same place, if you know.
        The rest is as in `solve`.  Raises NoSolutionError saying how near the lengths came.

        Example:
            >>> from math import hypot
            >>> from blockwright import Draft
            >>> d = Draft("test.dart", "Dart")
            >>> across, up = d.solve_many(
            ...     ["apex across", "apex up"],
            ...     lambda at: (hypot(at[0], at[1]), hypot(at[0] - 40.0, at[1])),
            ...     target=[130.0, 110.0], start=[20.0, 100.0],
            ...     so_that="the legs are as long as wanted", goals=["left leg", "right leg"],
            ...     advice="give longer legs",
            ... )
            >>> round(across, 2), round(up, 2)
            (80.0, 102.47)
        """
        checked = self._declared(check)
        try:
            values = solve_many(measure, target, start, rates=rates)
        except Apart as apart:
            says = self._apart(names, goals, target, apart)
            raise self._refusal(
                NoSolutionError, says, checked, advice, "block.no-solution"
            ) from None
        for name, value in zip(names, values, strict=True):
            self.found(name, value, so_that)
        return values

    def found(
        self, name: str, value: float, so_that: str, *, measured: float | None = None
    ) -> None:
        """Record a length, mm, that the block found in its own way, as `solve` records its own.

        The proof prints it after 'solved': `name`, the value, 'so that' and `so_that`.  `measured`
        is what the sheet has for it, mm: more than 5 mm off is printed, and more than 15 mm stands
        in the verdict.
        """
        self._solved.append(Solved(name, value, so_that, self.block, measured))

    def _unreachable(
        self, name: str, goal: str, target: float, offset: float,
        low: float, high: float, possible: Unreachable,
    ) -> str:  # fmt: skip
        say = self.say
        between = f"{name} from {say(low)} to {say(high)}"
        if math.isnan(possible.least):
            why = f" ({possible.why})" if possible.why else ""
            return f"{goal} {say(target - offset)}: nothing can be drawn with {between}{why}"
        return (
            f"{goal} of {say(target - offset)} cannot be reached: with {between} "
            f"it can be {say(possible.least - offset)} to {say(possible.most - offset)}"
        )

    def _apart(
        self, names: Sequence[str], goals: Sequence[str], target: Sequence[float], apart: Apart
    ) -> str:
        wanted = self._amounts(goals, target)
        free = " and ".join(names)
        if not apart.gave:
            why = f" ({apart.why})" if apart.why else ""
            return f"{wanted}: nothing can be drawn from the first guess at {free}{why}"
        return f"no {free} give {wanted}; the nearest found give {self._amounts(goals, apart.gave)}"

    def _amounts(self, goals: Sequence[str], amounts: Sequence[float]) -> str:
        said = zip(goals, amounts, strict=True)
        return " and ".join(f"{goal} {self.say(amount)}" for goal, amount in said)
