"""What a block needs to be drafted, and the refusal where it is not so: what, why, what to do."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from typing import Literal, NamedTuple

from blockwright.body.lengths import Length, Unit, format_length
from blockwright.errors import GeometryError, InputError
from blockwright.pattern.piece import missing

# A value this little beyond a limit is on it: above rounding, below anything seen; mm or degrees.
ROUNDING = 1e-6
# A message names no more than the first so many measurements, and options that are not set.
MOST_MEASURED, MOST_OPTIONS = 5, 4

Advice = str | Callable[[], str]
"""What to do, or a function that finds it out, called only for a refusal."""


class InForce(NamedTuple):
    """One value that a block is drafted from, as a refusal prints it.

    `kind` is 'option', 'measurement', 'estimated' for a measurement that was not taken, or 'taken'
    for a length walked on another block.  `text` is the value in the maker's unit, empty where
    there is none, and of an estimate also what it comes from.  `is_set`: an option with another
    value than its default.
    """

    kind: Literal["option", "measurement", "estimated", "taken"]
    text: str
    is_set: bool = False


class Requiring:
    """The part of `Draft` that refuses; authors meet it there."""

    def __init__(self, block: str, unit: Unit, in_force: Mapping[str, InForce]) -> None:
        """`in_force`: the block's options and measurements by name; empty where not known."""
        self.block = block
        self.unit = unit
        self._in_force = dict(in_force)

    def say(self, mm: float) -> str:
        """A length of `mm` millimetres in the maker's unit, for messages: '34.3 cm'."""
        return format_length(mm, self.unit)

    def require(
        self, holds: bool, says: str, *, check: Iterable[str] = (), do: Advice = "", code: str = ""
    ) -> None:
        """Refuse to draft unless `holds`: raises InputError '{block}: {says}; {what to do}'.

        `says` is what is wrong, in one clause.  `check` names the options and measurements it
        hangs on, the likeliest first; what to do is made of them: change the options that the
        maker set, measure again.  `do` replaces that where the block knows better; it may be a
        function, where finding out takes time.  The error has `code` ('block.refused' when not
        given) and as `values` block, says, check and advice.
        Raises PatternError for a name in `check` that the block does not declare.

        Example:
            >>> from blockwright import Draft, InputError
            >>> d = Draft("skirt.demo", "Demo")
            >>> waist, hip = 960.0, 700.0
            >>> try:
            ...     d.require(hip > waist, f"the hip is {d.say(hip)}, less than the waist of "
            ...               f"{d.say(waist)}", do="measure both again")
            ... except InputError as error:
            ...     print(error)
            skirt.demo: the hip is 70.0 cm, less than the waist of 96.0 cm; measure both again
        """
        names = self._declared(check)
        if not holds:
            raise self._refusal(InputError, says, names, do, code or "block.refused")

    def within(
        self,
        says: str,
        found: float,
        low: float,
        high: float,
        *,
        check: Iterable[str] = (),
        do: Advice = "",
        angle: bool = False,
        code: str = "",
    ) -> None:
        """Refuse to draft unless `found` lies from `low` to `high`; either may be infinite.

        They are mm, or degrees with `angle`.  A millionth beyond a limit counts as rounding.  The
        rest is as in `require`, with the code 'block.out-of-range' and found, low and high among
        the values.

        Example:
            >>> from blockwright import Draft, InputError
            >>> d = Draft("skirt.demo", "Demo")
            >>> try:
            ...     d.within("the dart", 180.0, 100.0, 150.0, check=["dart_length"])
            ... except InputError as error:
            ...     print(error)
            skirt.demo: the dart is 18.0 cm; it may be 10.0 cm to 15.0 cm; check dart_length
        """
        names = self._declared(check)
        if low - ROUNDING <= found <= high + ROUNDING:
            return
        shown, least, most = (
            f"{value:.0f}°" if angle else self.say(value) if math.isfinite(value) else f"{value}"
            for value in (found, low, high)
        )
        allowed = f"{least} to {most}"
        if math.isinf(low):
            allowed = f"up to {most}"
        elif math.isinf(high):
            allowed = f"{least} or more"
        values = {
            name: value if angle else Length(value, self.unit)
            for name, value in (("found", found), ("low", low), ("high", high))
        }
        fault = f"{says} is {shown}; it may be {allowed}"
        raise self._refusal(InputError, fault, names, do, code or "block.out-of-range", values)

    @contextmanager
    def drawing(
        self, what: str, *, check: Iterable[str] = (), do: Advice = "", code: str = ""
    ) -> Iterator[None]:
        """While `what` is drawn: a GeometryError becomes a refusal that names it.

        The rest is as in `require`, with the code 'block.cannot-be-drawn'.

        Example:
            >>> from blockwright import Draft, InputError, Point, line
            >>> d = Draft("skirt.demo", "Demo")
            >>> try:
            ...     with d.drawing("the hem", do="give a longer hem"):
            ...         line(Point(0, 0), Point(40, 0)).point_at(60)
            ... except InputError as error:
            ...     print(error)
            skirt.demo: the hem cannot be drawn from these values; give a longer hem
        """
        names = self._declared(check)
        try:
            yield
        except GeometryError as error:
            says = f"{what} cannot be drawn from these values"
            code = code or "block.cannot-be-drawn"
            raise self._refusal(InputError, says, names, do, code) from error

    def _refusal(
        self, kind: type[InputError], says: str, names: Sequence[str], do: Advice, code: str,
        values: Mapping[str, object] | None = None,
    ) -> InputError:  # fmt: skip
        """An error of that kind, with its code and values."""
        advice = (do() if callable(do) else do) or self._advice(names)
        error = kind(f"{self.block}: {says}{advice and f'; {advice}'}")
        error.code = code
        error.values = {
            "block": self.block, "says": says, "check": [*names], "advice": advice, **(values or {})
        }  # fmt: skip
        return error

    def _declared(self, check: Iterable[str]) -> tuple[str, ...]:
        """The names, each once; PatternError for one that the block does not declare."""
        names = tuple(dict.fromkeys(check))
        for name in names if self._in_force else ():
            if name not in self._in_force:
                known = [*self._in_force]
                raise missing(f"check: {self.block}", "option or measurement", name, known)
        return names

    def _advice(self, names: Sequence[str]) -> str:
        """What to do about options and measurements; nothing where there are none."""
        if not names:
            return ""
        if not self._in_force:
            return f"check {_listed(names, 'and')}"
        are = {name: self._in_force[name] for name in names}
        options = [name for name, each in are.items() if each.kind == "option"]
        shown = {n: f"{n} ({each.text})" if each.text else n for n, each in are.items()}
        is_set = [shown[name] for name in options if are[name].is_set]
        tape = [shown[n] for n, each in are.items() if each.kind == "measurement"][:MOST_MEASURED]
        ways = []
        if is_set:
            ways.append(f"give {_listed(is_set, 'or')} another value, or leave it out")
        if tape:
            ways.append(f"measure {_listed(tape, 'and')} again")
        if guessed := [shown[name] for name, each in are.items() if each.kind == "estimated"]:
            ways.append(f"measure {_listed(guessed, 'and')}")
        if taken := [shown[name] for name, each in are.items() if each.kind == "taken"]:
            ways.append(f"change the block that {_listed(taken, 'and')} is taken from")
        if is_set or not options:
            return "; or ".join(ways)
        return ", or ".join([*ways, f"set {_listed(options[:MOST_OPTIONS], 'or')}"])


def _listed(names: Sequence[str], last: str) -> str:
    """Names with commas between, and a word before the last."""
    *most, end = names
    return f"{', '.join(most)} {last} {end}" if most else end
