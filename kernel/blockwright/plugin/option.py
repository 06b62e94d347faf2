"""Options of a block: typed, with unit, range, default and a sentence; made into everything."""

from __future__ import annotations

import math
from abc import ABC, abstractmethod
from collections.abc import Iterable, Mapping
from numbers import Integral, Real
from typing import Any, Generic, Protocol, Self, TypeVar, overload

from blockwright.body.lengths import Unit, format_length, parse_length, quoted, read_length
from blockwright.errors import InputError, PatternError
from blockwright.spelling import what_is

T = TypeVar("T")
ALLOWANCE = "_allowance"
"""Names that end so set allowances on the command line: no option can be reached by one."""
Setting = str | float | int
"""What a person gives for an option: text, or a plain number."""


class Values(Protocol):
    """Whatever holds the values in force: a block, or the options of a format."""

    @property
    def values(self) -> Mapping[str, Any]:
        """Values by name."""
        ...


class Option(ABC, Generic[T]):
    """A declared choice of a block; read on an instance it is the value in force.

    `says` is one sentence; `auto`, when the default is left to the block, says how it decides.
    """

    name: str

    def __init__(self, default: T, says: str, auto: str = "") -> None:
        self.default = default
        self.says = _text("says", says)
        self.auto = _text("auto", auto)

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

    @abstractmethod
    def parse(self, setting: Setting, unit: Unit) -> Any:
        """The value of a setting; InputError names the option and what is allowed."""

    @abstractmethod
    def allowed(self, unit: Unit) -> str:
        """What may be given, in the maker's unit."""

    def shown(self, value: T, unit: Unit) -> str:
        """A value in the maker's unit."""
        return self.auto if value is None else f"{value}"

    def _refuse(self, setting: Setting, unit: Unit, why: InputError | None = None) -> InputError:
        code = "option.not-allowed-because" if why else "option.not-allowed"
        allowed = self.allowed(unit)
        return InputError.coded(
            code, name=self.name, setting=f"{setting!r}", allowed=allowed, why=why
        )


def declared_options(owner: type) -> tuple[Option[Any], ...]:
    """The options that a class declares, in order of declaration, base classes first."""
    fields: dict[str, object] = {}
    for base in reversed(owner.__mro__):
        fields.update(vars(base))
    return tuple(field for field in fields.values() if isinstance(field, Option))


class LengthOption(Option[T]):
    """A length between two others, mm; `length_option` and `auto_length_option` declare it.

    On the class it is this declaration, with `name`, `default`, `low`, `high` and `says`; on an
    instance the length in force, mm, or None where it is left to the block, which `auto` tells.

    Example:
        >>> from blockwright import Unit, length_option
        >>> hem = length_option("60 cm", low="20 cm", high="120 cm", says="width of the hem")
        >>> hem.default, hem.allowed(Unit.CM)
        (600.0, 'a length from 20.0 cm to 120.0 cm')
    """

    def __init__(self, default: T, low: float, high: float, says: str, auto: str = "") -> None:
        super().__init__(default, says, auto)
        self.low, self.high = low, high

    def parse(self, setting: Setting, unit: Unit) -> float:
        """Millimetres; a bare number takes the unit given."""
        try:
            value = parse_length(setting, unit)
        except InputError as error:
            raise self._refuse(setting, unit, error) from None
        if not self.low <= value <= self.high:
            raise self._refuse(setting, unit)
        return value

    def allowed(self, unit: Unit) -> str:
        """The range of lengths."""
        return f"a length from {_told(self.low, unit)} to {_told(self.high, unit)}"

    def shown(self, value: T, unit: Unit) -> str:
        """The length in the unit."""
        return self.auto if value is None else _told(value, unit)  # type: ignore[arg-type]


def _told(mm: float, unit: Unit) -> str:
    """A length in the maker's unit; less than a millimetre is told exactly."""
    return f"{mm:g} mm" if 0.0 < mm < 1.0 else format_length(mm, unit)


class RatioOption(Option[float]):
    """A plain number between two others."""

    def __init__(self, default: float, low: float, high: float, says: str) -> None:
        super().__init__(_number("default", default), says)
        self.low, self.high = _number("low", low), _number("high", high)

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
        self.low, self.high = _whole("low", low), _whole("high", high)

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
        super().__init__(_text("default", default), says)
        self.of = _words(of)

    def parse(self, setting: Setting, unit: Unit) -> str:
        """The word."""
        if setting not in self.of:
            raise self._refuse(setting, unit)
        return str(setting)

    def allowed(self, unit: Unit) -> str:
        """The words."""
        return "one of " + ", ".join(self.of)


def length_option(default: str, *, low: str, high: str, says: str) -> LengthOption[float]:
    """Declare a length that a maker may set; read on the block it is millimetres.

    The default, and the range from `low` to `high`, are written with their unit: "2 cm", "3/4 in".
    `says` is what it is, in one line.  InputError for what is no length or has no unit, but 0.

    Example:
        >>> from blockwright import Block, length_option
        >>> class Band(Block):
        ...     depth = length_option("3 cm", low="1 cm", high="8 cm", says="finished depth")
        >>> Band.depth.default, Band.depth.low, Band.depth.high
        (30.0, 10.0, 80.0)
    """
    return LengthOption(written(default), written(low), written(high), says)


def auto_length_option(*, auto: str, low: str, high: str, says: str) -> LengthOption[float | None]:
    """Declare a length that the block decides when the maker does not.

    Read on the block it is millimetres, or None until it is set; `auto` says in words how the
    block decides then.  The rest is as in `length_option`.

    Example:
        >>> from blockwright import Unit, auto_length_option
        >>> low, says = "4 cm", "down from the waist"
        >>> dart = auto_length_option(auto="to the hip line", low=low, high="25 cm", says=says)
        >>> dart.default is None, dart.shown(dart.default, Unit.CM)
        (True, 'to the hip line')
    """
    return LengthOption[float | None](None, written(low), written(high), says, auto)


def ratio_option(default: float, *, low: float, high: float, says: str) -> RatioOption:
    """Declare a plain number, a share of something; read on the block it is that number.

    `says` is one line: of what, from where.

    Example:
        >>> from blockwright import ratio_option
        >>> split = ratio_option(0.5, low=0.3, high=0.7, says="share of the ease in the front")
        >>> split.default, split.low, split.high
        (0.5, 0.3, 0.7)
    """
    return RatioOption(default, low, high, says)


def count_option(default: int, *, low: int, high: int, says: str) -> CountOption[int]:
    """Declare a whole number that a maker may set; read on the block it is that number.

    `says` is one line: of what.

    Example:
        >>> from blockwright import Unit, count_option
        >>> panels = count_option(6, low=4, high=12, says="panels all round")
        >>> panels.default, panels.allowed(Unit.CM)
        (6, 'a whole number from 4 to 12')
    """
    return CountOption(_whole("default", default), low, high, says)


def auto_count_option(*, auto: str, low: int, high: int, says: str) -> CountOption[int | None]:
    """Declare a whole number that the block decides when the maker does not.

    Read on the block it is that number, or None until it is set; `auto` says in words how the
    block decides then.

    Example:
        >>> from blockwright import Unit, auto_count_option
        >>> darts = auto_count_option(auto="two over 4 cm", low=1, high=2, says="darts a quarter")
        >>> darts.default is None, darts.shown(darts.default, Unit.CM)
        (True, 'two over 4 cm')
    """
    return CountOption[int | None](None, low, high, says, auto)


def choice_option(default: str, *, of: tuple[str, ...], says: str) -> ChoiceOption:
    """Declare one word of a few, `of` in the order they are listed; read on the block it is text.

    `says` is one line: what is chosen.

    Example:
        >>> from blockwright import Unit, choice_option
        >>> dart = choice_option("side", of=("side", "shoulder"), says="where the bust dart opens")
        >>> dart.default, dart.allowed(Unit.CM)
        ('side', 'one of side, shoulder')
    """
    return ChoiceOption(default, of, says)


def _text(what: str, given: object) -> str:
    if type(given) is not str:
        raise PatternError(f"{what} of an option is {what_is(given)}; give text")
    return given


def _words(given: object) -> tuple[str, ...]:
    if isinstance(given, str) or not isinstance(given, Iterable):
        raise PatternError(f"of is {what_is(given)}; give the words to choose from, (..., ...)")
    return tuple(_text("of", word) for word in given)


def _number(what: str, given: object) -> float:
    if isinstance(given, bool) or not isinstance(given, Real) or not math.isfinite(given):
        raise PatternError(f"{what} of an option is {given!r}; give a number")
    return float(given)


def _whole(what: str, given: object) -> int:
    if isinstance(given, bool) or not isinstance(given, Integral):
        raise PatternError(f"{what} of an option is {given!r}; give a whole number")
    return int(given)


def written(text: str) -> float:
    """Millimetres of a length as an author writes it: with its unit, so that none is guessed."""
    amount, unit = read_length(text)
    if unit is None and amount:
        raise InputError.coded("option.no-unit", text=quoted(text), as_in=f"{text} cm")
    return parse_length(text, Unit.MM)
