"""The base of every block: what an author declares and the one method they write."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, ClassVar, overload

from blockwright.body.measurements import lookup
from blockwright.plugin.option import Option

if TYPE_CHECKING:
    from blockwright.pattern.draft import Draft


@dataclass(frozen=True, slots=True)
class Rule:
    """How a measurement is estimated from others when the sheet does not give it.

    `find` takes the values of `needs` in order, mm, and gives mm; `says` puts it in words.
    """

    needs: tuple[str, ...]
    find: Callable[..., float]
    says: str


class Field:
    """A measurement that a block declares.

    `estimates`: rules that stand in for it, in order; `taken`: the run of another block that it is
    the length of, when they are drafted together.
    """

    def __init__(self, name: str, estimates: tuple[Rule, ...] = (), taken: str = "") -> None:
        self.name = lookup(name).name
        self.estimates = estimates
        self.taken = taken


class MeasurementField(Field):
    """A measurement a block is drafted from; read on an instance it is millimetres."""

    @overload
    def __get__(self, block: None, owner: type) -> MeasurementField: ...
    @overload
    def __get__(self, block: Block, owner: type) -> float: ...
    def __get__(self, block: Block | None, owner: type) -> MeasurementField | float:
        """The declaration on the class, the value on an instance."""
        if block is None:
            return self
        value: float = block.values[self.name]
        return value


class OptionalField(Field):
    """A measurement that a block looks at when the sheet has it; None on an instance if not."""

    @overload
    def __get__(self, block: None, owner: type) -> OptionalField: ...
    @overload
    def __get__(self, block: Block, owner: type) -> float | None: ...
    def __get__(self, block: Block | None, owner: type) -> OptionalField | float | None:
        """The declaration on the class, the value or None on an instance."""
        if block is None:
            return self
        value: float | None = block.values.get(self.name)
        return value


def optional_measurement(name: str) -> OptionalField:
    """Declare a measurement that the block can do without, to check against; see `measurement`."""
    return OptionalField(name)


def measurement(
    name: str, *, estimate: Rule | tuple[Rule, ...] = (), taken: str = ""
) -> MeasurementField:
    """Declare a measurement by its ISO 8559-1 name; InputError for one that does not exist.

    `estimate` is the rule for a sheet without it, or several in order: the first of which the
    sheet gives all that it needs is used.  `taken` names a run that another block offers: drafted
    together, the length is the one walked there, whatever the sheet says.
    """
    rules = (estimate,) if isinstance(estimate, Rule) else estimate
    return MeasurementField(name, rules, taken)


class Block:
    """A block: subclass it, declare `key`, `title`, measurements and options, write `draft`.

    The class's docstring is its description.  An instance holds the values of one draft.
    """

    key: ClassVar[str]
    """'family.kind', lower case, unique among all plugins: 'sleeve.fitted'."""
    title: ClassVar[str]
    """What the label says: 'Fitted sleeve'."""
    offers: ClassVar[tuple[str, ...]] = ()
    """Runs of edges it offers, by `Draft.offer`, to blocks that are sewn to it."""
    allowances: ClassVar[Mapping[str, str]] = {}
    """Its own allowances by role where they are not the usual ones, with their unit: "4 cm"."""

    def __init__(self, values: Mapping[str, Any]) -> None:
        self.values = values

    def draft(self, d: Draft) -> None:
        """Draw the pieces and declare the promises on the drafting table `d`."""
        raise NotImplementedError(f"{type(self).__name__} has no draft method")

    @classmethod
    def measurements(cls) -> tuple[Field, ...]:
        """Declared measurements, in order of declaration, base classes first."""
        return tuple(f for f in cls._declared() if isinstance(f, Field))

    @classmethod
    def takes(cls) -> frozenset[str]:
        """Runs it takes from other blocks when they are drafted together."""
        return frozenset(field.taken for field in cls.measurements() if field.taken)

    @classmethod
    def options(cls) -> tuple[Option[Any], ...]:
        """Declared options, in order of declaration, base classes first."""
        return tuple(f for f in cls._declared() if isinstance(f, Option))

    @classmethod
    def _declared(cls) -> list[object]:
        fields: dict[str, object] = {}
        for base in reversed(cls.__mro__):
            fields.update(vars(base))
        return list(fields.values())
