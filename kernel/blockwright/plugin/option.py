"""Options of a block: typed, with unit, range, default and a sentence; made into everything."""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import Any, Generic, Protocol, Self, TypeVar, overload

from blockwright.body.lengths import Unit, format_length, parse_length
from blockwright.errors import InputError

T = TypeVar("T")
Setting = str | float | int
"""What a person gives for an option: text, or a plain number."""


class Values(Protocol):
    """Whatever holds the values in force: a block."""

    @property
    def values(self) -> Mapping[str, Any]:
        """Values by name."""
        ...


class Option(Generic[T]):
    """A declared choice of a block; read on an instance it is the value in force.

    `says` is one sentence; `auto`, when the default is left to the block, says how it decides.
    """

    name: str

    def __init__(self, default: T, says: str, auto: str = "") -> None:
        self.default = default
        self.says = says
        self.auto = auto

    def __set_name__(self, owner: type, name: str) -> None:
        self.name = name

    @overload
    def __get__(self, block: None, owner: type) -> Self: ...
    @overload
    def __get__(self, block: Values, owner: type) -> T: ...
    def __get__(self, block: Values | None, owner: type) -> Self | T:
        """The declaration on the class, the value on an instance."""
        if block is None:
            return self
        value: T = block.values[self.name]
        return value

    def parse(self, setting: Setting, unit: Unit) -> Any:
        """The value of a setting; InputError names the option and what is allowed."""
        raise NotImplementedError  # pragma: no cover  (each kind has its own)

    def allowed(self, unit: Unit) -> str:
        """What may be given, in the maker's unit."""
        raise NotImplementedError  # pragma: no cover

    def shown(self, value: T, unit: Unit) -> str:
        """A value in the maker's unit."""
        return self.auto if value is None else f"{value}"

    def _refuse(self, setting: Setting, unit: Unit, why: str = "") -> InputError:
        because = f" ({why})" if why else ""
        return InputError(
            f"option {self.name}: {setting!r} is not allowed{because}; give {self.allowed(unit)}"
        )


class LengthOption(Option[T]):
    """A length in millimetres between two others."""

    def __init__(self, default: T, low: float, high: float, says: str, auto: str = "") -> None:
        super().__init__(default, says, auto)
        self.low, self.high = low, high

    def parse(self, setting: Setting, unit: Unit) -> float:
        """Millimetres; a bare number takes the unit given."""
        try:
            value = parse_length(setting, unit)
        except InputError as error:
            raise self._refuse(setting, unit, str(error)) from None
        if not self.low <= value <= self.high:
            raise self._refuse(setting, unit)
        return value

    def allowed(self, unit: Unit) -> str:
        """The range of lengths."""
        return f"a length from {format_length(self.low, unit)} to {format_length(self.high, unit)}"

    def shown(self, value: T, unit: Unit) -> str:
        """The length in the unit."""
        return self.auto if value is None else format_length(value, unit)  # type: ignore[arg-type]


class RatioOption(Option[float]):
    """A plain number between two others."""

    def __init__(self, default: float, low: float, high: float, says: str) -> None:
        super().__init__(default, says)
        self.low, self.high = low, high

    def parse(self, setting: Setting, unit: Unit) -> float:
        """The number."""
        try:
            value = float(setting)
        except ValueError:
            raise self._refuse(setting, unit) from None
        if isinstance(setting, bool) or not math.isfinite(value):
            raise self._refuse(setting, unit)
        if not self.low <= value <= self.high:
            raise self._refuse(setting, unit)
        return value

    def allowed(self, unit: Unit) -> str:
        """The range of numbers."""
        return f"a number from {self.low:g} to {self.high:g}"


class CountOption(Option[T]):
    """A whole number between two others."""

    def __init__(self, default: T, low: int, high: int, says: str, auto: str = "") -> None:
        super().__init__(default, says, auto)
        self.low, self.high = low, high

    def parse(self, setting: Setting, unit: Unit) -> int:
        """The whole number."""
        try:
            value = float(setting)
        except ValueError:
            raise self._refuse(setting, unit) from None
        if isinstance(setting, bool) or value != int(value if math.isfinite(value) else 0.5):
            raise self._refuse(setting, unit)
        if not self.low <= value <= self.high:
            raise self._refuse(setting, unit)
        return int(value)

    def allowed(self, unit: Unit) -> str:
        """The range of whole numbers."""
        return f"a whole number from {self.low} to {self.high}"


class ChoiceOption(Option[str]):
    """One word of a few."""

    def __init__(self, default: str, of: tuple[str, ...], says: str) -> None:
        super().__init__(default, says)
        self.of = of

    def parse(self, setting: Setting, unit: Unit) -> str:
        """The word."""
        if setting not in self.of:
            raise self._refuse(setting, unit)
        return str(setting)

    def allowed(self, unit: Unit) -> str:
        """The words."""
        return "one of " + ", ".join(self.of)


def length_option(default: str, *, low: str, high: str, says: str) -> LengthOption[float]:
    """A length; default and range are written with their unit: "2 cm"."""
    return LengthOption(_mm(default), _mm(low), _mm(high), says)


def auto_length_option(*, auto: str, low: str, high: str, says: str) -> LengthOption[float | None]:
    """A length that the block decides when the maker does not (None); `auto` says how."""
    return LengthOption[float | None](None, _mm(low), _mm(high), says, auto)


def ratio_option(default: float, *, low: float, high: float, says: str) -> RatioOption:
    """A plain number."""
    return RatioOption(default, low, high, says)


def count_option(default: int, *, low: int, high: int, says: str) -> CountOption[int]:
    """A whole number."""
    return CountOption(default, low, high, says)


def auto_count_option(*, auto: str, low: int, high: int, says: str) -> CountOption[int | None]:
    """A whole number that the block decides when the maker does not (None); `auto` says how."""
    return CountOption[int | None](None, low, high, says, auto)


def choice_option(default: str, *, of: tuple[str, ...], says: str) -> ChoiceOption:
    """One word of a few."""
    return ChoiceOption(default, of, says)


def _mm(text: str) -> float:
    return parse_length(text, Unit.MM)
