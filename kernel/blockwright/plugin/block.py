"""The base of every block: what an author declares, and the method `draft` that they write."""

from __future__ import annotations

import inspect
import re
from abc import ABC, abstractmethod
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, ClassVar, overload

from blockwright.body.measurements import lookup
from blockwright.errors import PatternError
from blockwright.plugin.option import Option, declared_options
from blockwright.plugin.traits import Traits
from blockwright.spelling import what_is

if TYPE_CHECKING:
    from blockwright.pattern.table.draft import Draft

KEY = re.compile(r"[a-z][a-z0-9-]*(\.[a-z][a-z0-9-]*)*")


@dataclass(frozen=True, slots=True)
class Rule:
    """How a measurement is estimated from others when the sheet does not give it.

    `find` takes the values of `needs` in order, mm, and returns mm; `says` is the rule in words
    with its source, for the proof and the label.
    Raises InputError for a measurement that does not exist.

    Example:
        >>> from blockwright import Rule
        >>> rule = Rule(("hip_girth",), lambda hip: hip / 4 + 20, "a quarter of the hip and 2 cm")
        >>> rule.find(960.0)
        260.0
    """

    needs: tuple[str, ...]
    find: Callable[..., float]
    says: str

    def __post_init__(self) -> None:
        for name in self.needs:
            lookup(name)


class Field:
    """A measurement that a block declares.

    `estimates`: rules to estimate it by, in order; `taken`: a run of another block whose length it
    is when the two are drafted together.
    """

    def __init__(self, name: str, estimates: tuple[Rule, ...] = (), taken: str = "") -> None:
        self.name = lookup(name).name
        for rule in estimates:
            if not isinstance(rule, Rule):
                raise PatternError(
                    f"estimate of {name} is {what_is(rule)}; give a Rule(needs, find, says)"
                )
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
    """A measurement that a block uses if the sheet has it; else it is None on an instance."""

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
    """Declare a measurement that the block uses if the sheet has it; see `measurement`.

    Read on the block it is millimetres, or None when the sheet does not give it.
    Raises InputError for a name that does not exist.

    Example:
        >>> from blockwright import optional_measurement
        >>> optional_measurement("hand_girth").name
        'hand_girth'
    """
    return OptionalField(name)


def measurement(
    name: str, *, estimate: Rule | tuple[Rule, ...] = (), taken: str = ""
) -> MeasurementField:
    """Declare a measurement by its ISO 8559-1 name; read on the block it is millimetres.

    `estimate` is a rule for a sheet without it, or several: the first whose needs the sheet gives
    is used.  `taken` names a run that another block offers: when the two are drafted together, the
    measurement is the length walked there and not what the sheet says.
    Raises InputError for a name that does not exist.

    Example:
        >>> from blockwright import InputError, measurement
        >>> measurement("waist_girth").name
        'waist_girth'
        >>> try:
        ...     measurement("wast_girth")
        ... except InputError as error:
        ...     print(error)
        wast_girth: no such measurement; did you mean waist_girth?
    """
    rules = estimate if isinstance(estimate, tuple) else (estimate,)
    return MeasurementField(name, rules, taken)


class Block(ABC):
    """A block: subclass it, declare `key`, `title`, measurements and options, write `draft`.

    The class's docstring is its description.  An instance holds the values of one draft, in
    millimetres.

    Example:
        >>> from blockwright import Block, Point, length_option, measurement, polyline
        >>> class Band(Block):
        ...     '''Straight waistband, on the fold of its length.'''
        ...
        ...     key = "waistband.straight"
        ...     title = "Waistband"
        ...     waist = measurement("waist_girth")
        ...     depth = length_option("3 cm", low="1 cm", high="8 cm", says="finished depth")
        ...
        ...     def draft(self, d):
        ...         ...  # see DEVELOPERS.md
        >>> [field.name for field in Band.measurements()], [o.name for o in Band.options()]
        (['waist_girth'], ['depth'])
    """

    key: ClassVar[str]
    """'family.kind', lower case, unique among all plugins: 'sleeve.fitted'."""
    title: ClassVar[str]
    """What the label says: 'Fitted sleeve'."""
    version: ClassVar[str] = "1"
    """Raised by its author when the same body gives another draft; kept with every pattern."""
    offers: ClassVar[tuple[str, ...]] = ()
    """Runs of edges that it offers with `Draft.offer` to blocks that are sewn to it."""
    takes: ClassVar[tuple[str, ...]] = ()
    """Runs that it asks `Draft.taken` for, besides those of its measurements."""
    allowances: ClassVar[Mapping[str, str]] = {}
    """Its own allowances by role, where the usual ones are wrong; with their unit: "4 cm"."""
    traits: ClassVar[Traits] = Traits()
    """What the conformance kit may expect of it."""

    def __init__(self, values: Mapping[str, Any]) -> None:
        self.values = values

    @abstractmethod
    def draft(self, d: Draft) -> None:
        """Draw the pieces and declare the promises on the drafting table `d`."""

    @classmethod
    def measurements(cls) -> tuple[Field, ...]:
        """Declared measurements, in order of declaration, base classes first."""
        return tuple(f for f in cls._declared() if isinstance(f, Field))

    @classmethod
    def taken_runs(cls) -> tuple[str, ...]:
        """Every run it takes from other blocks when they are drafted together."""
        measured = (field.taken for field in cls.measurements() if field.taken)
        return tuple(dict.fromkeys((*measured, *cls.takes)))

    @classmethod
    def options(cls) -> tuple[Option[Any], ...]:
        """Declared options, in order of declaration, base classes first."""
        return declared_options(cls)

    @classmethod
    def _declared(cls) -> list[object]:
        fields: dict[str, object] = {}
        for base in reversed(cls.__mro__):
            fields.update(vars(base))
        return list(fields.values())


def first_line(block: type[Block]) -> str:
    """The first line of the docstring of a block or of a base class; its title if none has one."""
    mine = block.__mro__[: block.__mro__.index(Block)]
    docs = (inspect.cleandoc(base.__doc__) for base in mine if base.__doc__)
    return next(filter(None, docs), block.title).splitlines()[0]


def block_fault(item: object) -> str:
    """What is wrong with a class as a block and what to do; nothing if it is right."""
    if not (isinstance(item, type) and issubclass(item, Block)):
        return f"{what_is(item)} is not a Block class; return a list of Block subclasses"
    for name in ("key", "title", "version"):
        value = getattr(item, name, None)
        if not isinstance(value, str) or not value:
            return f"{item.__name__} has no {name}; write {name} = '...' in the class"
    if not KEY.fullmatch(item.key):
        return (
            f"{item.__name__}.key {item.key!r} is not lower-case words joined by dots; "
            "write one such as 'skirt.half-moon'"
        )
    if fault := _draft_fault(item) or _declared_fault(item):
        return fault
    if inspect.isabstract(item):
        missing = ", ".join(sorted(item.__abstractmethods__))
        return f"{item.__name__} has no {missing}, which its base class asks for; write it"
    return ""


def _declared_fault(block: type[Block]) -> str:
    """What is wrong with the other declarations of a block."""
    for name in ("offers", "takes"):
        runs = getattr(block, name)
        if not isinstance(runs, tuple | list) or not all(isinstance(run, str) for run in runs):
            return f"{block.__name__}.{name} is {runs!r}; give names of runs, such as ('waist',)"
    allowances: object = block.allowances
    if not isinstance(allowances, Mapping):
        return f"{block.__name__}.allowances is {allowances!r}; give lengths by role"
    measured = {field.name for field in block.measurements()}
    for option in block.options():
        if option.name in measured:
            return (
                f"option {option.name!r} of {block.__name__} has the name of a measurement of the "
                "block; rename it"
            )
    return ""


def _draft_fault(block: type[Block]) -> str:
    for name, own in vars(Block).items():
        if not name.startswith("_") and isinstance(getattr(block, name, own), Field | Option):
            return f"{block.__name__}.{name} is a name that every block has; use another"
    if block.draft is Block.draft:
        return f"{block.__name__} has no draft method; write one"
    if not inspect.isfunction(inspect.getattr_static(block, "draft")):
        return f"{block.__name__}.draft is not a method; write def draft(self, d)"
    takes = inspect.signature(block.draft)
    try:
        takes.bind(block, None)
    except TypeError:
        return f"{block.__name__}.draft{takes} is given a drafting table; write def draft(self, d)"
    return ""
