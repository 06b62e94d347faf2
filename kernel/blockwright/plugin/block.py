"""The base of every block: what an author declares and the one method they write."""

from __future__ import annotations

import inspect
import re
from abc import ABC, abstractmethod
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING, Any, ClassVar, overload

from blockwright.body.measurements import lookup
from blockwright.errors import PatternError
from blockwright.plugin.option import Option
from blockwright.plugin.traits import Traits
from blockwright.spelling import what_is

if TYPE_CHECKING:
    from blockwright.pattern.draft import Draft

KEY = re.compile(r"[a-z][a-z0-9-]*(\.[a-z][a-z0-9-]*)*")


@dataclass(frozen=True, slots=True)
class Rule:
    """How a measurement is estimated from others when the sheet does not give it.

    `find` takes the values of `needs` in order, mm, and gives mm; `says` puts it in words, for
    the proof and the label, with its source.  InputError for a measurement that does not exist.

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
        if not callable(self.find):
            raise PatternError(f"find of a rule is {what_is(self.find)}; give a function")
        if type(self.says) is not str:
            raise PatternError(f"says of a rule is {what_is(self.says)}; give text")


class Field:
    """A measurement that a block declares.

    `estimates`: rules that stand in for it, in order; `taken`: the run of another block that it is
    the length of, when they are drafted together.
    """

    def __init__(self, name: str, estimates: tuple[Rule, ...] = (), taken: str = "") -> None:
        self.name = lookup(name).name
        for rule in estimates:
            if not isinstance(rule, Rule):
                raise PatternError(
                    f"estimate of {name} is {what_is(rule)}; give a Rule(needs, find, says)"
                )
        if type(taken) is not str:
            raise PatternError(f"taken of {name} is {what_is(taken)}; give the name of a run")
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
    """Declare a measurement that the block can do without, to check against; see `measurement`.

    Read on the block it is millimetres, or None where the sheet does not give it.  InputError for
    a name that does not exist.

    Example:
        >>> from blockwright import optional_measurement
        >>> optional_measurement("hand_girth").name
        'hand_girth'
    """
    return OptionalField(name)


def measurement(
    name: str, *, estimate: Rule | tuple[Rule, ...] = (), taken: str = ""
) -> MeasurementField:
    """Declare a measurement by its ISO 8559-1 name; InputError for one that does not exist.

    Read on the block it is millimetres.  `estimate` is the rule for a sheet without it, or several
    in order: the first of which the sheet gives all that it needs is used.  `taken` names a run
    that another block offers: drafted together, the length is the one walked there, whatever the
    sheet says.

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
    """Runs of edges it offers, by `Draft.offer`, to blocks that are sewn to it."""
    takes: ClassVar[tuple[str, ...]] = ()
    """Runs it asks `Draft.taken` for, besides those its measurements are taken from."""
    allowances: ClassVar[Mapping[str, str]] = {}
    """Its own allowances by role where they are not the usual ones, with their unit: "4 cm"."""
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
        return tuple(f for f in cls._declared() if isinstance(f, Option))

    @classmethod
    def _declared(cls) -> list[object]:
        fields: dict[str, object] = {}
        for base in reversed(cls.__mro__):
            fields.update(vars(base))
        return list(fields.values())


def first_line(block: type[Block]) -> str:
    """The first line of a block's docstring, or of what it is made from; its title if none has."""
    mine = block.__mro__[: block.__mro__.index(Block)]
    docs = (inspect.cleandoc(base.__doc__) for base in mine if base.__doc__)
    return next(filter(None, docs), block.title).splitlines()[0]


def block_fault(item: object) -> str:
    """What is wrong with a class as a block, and what to do; nothing if nothing is."""
    if not (isinstance(item, type) and issubclass(item, Block)):
        return f"{what_is(item)} is not a Block class; return a list of Block subclasses"
    for name in ("key", "title", "version"):
        value = getattr(item, name, None)
        if type(value) is not str or not value:  # one of its own class may change
            return f"{item.__name__} has no {name}; write {name} = '...' in the class"
    if not KEY.fullmatch(item.key):
        return (
            f"{item.__name__}.key {item.key!r} is not lower-case words joined by points; "
            "write one such as 'skirt.half-moon'"
        )
    if fault := _draft_fault(item) or _declared_fault(item):
        return fault
    if inspect.isabstract(item):
        missing = ", ".join(sorted(item.__abstractmethods__))
        return f"{item.__name__} has no {missing}, which its base class asks for; write it"
    return ""


def _declared_fault(block: type[Block]) -> str:
    """What is wrong with what a block declares beside its key and title."""
    for name in ("offers", "takes"):
        runs = getattr(block, name)
        if not isinstance(runs, tuple | list) or not all(type(run) is str for run in runs):
            return f"{block.__name__}.{name} is {runs!r}; give names of runs, such as ('waist',)"
    for name, kind, do in (
        ("traits", Traits, "write traits = Traits(...)"),
        ("allowances", Mapping, "give a length by role"),
    ):
        given = getattr(block, name)
        if not isinstance(given, kind):
            return f"{block.__name__}.{name} is {what_is(given)}; {do}"
    measured = {field.name for field in block.measurements()}
    for option in block.options():
        if option.name in measured:
            return (
                f"option {option.name!r} of {block.__name__} has the name of a measurement that it "
                "is drafted from; give it another"
            )
    return ""


def _draft_fault(block: type[Block]) -> str:
    for name, own in vars(Block).items():
        if not name.startswith("_") and isinstance(getattr(block, name, own), Field | Option):
            return f"{block.__name__}.{name} is what every block has; call it otherwise"
    if block.draft is Block.draft:
        return f"{block.__name__} has no draft method; write one"
    if not inspect.isfunction(inspect.getattr_static(block, "draft")):
        return f"{block.__name__}.draft is no method; write def draft(self, d)"
    takes = inspect.signature(block.draft)
    try:
        takes.bind(block, None)
    except TypeError:
        return f"{block.__name__}.draft{takes} is given a drafting table; write def draft(self, d)"
    return ""
