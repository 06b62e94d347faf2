"""The errors Blockwright raises: one root; each kind is also the matching builtin."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from importlib import import_module
from typing import Self

CATALOGUE = "blockwright.words.catalogue"
"""Where codes become text.  It lies above this module and is imported when a text is wanted."""


class BlockwrightError(Exception):
    """Root of every error raised on purpose: catch it to catch them all.

    Its message is for a person: what is wrong, where, what is allowed and what to do.

    Example:
        >>> from blockwright import BlockwrightError, Point, polyline
        >>> try:
        ...     polyline([Point(0.0, 0.0)])
        ... except BlockwrightError as error:
        ...     print(error)
        a line needs two points or more, not 1
    """

    code: str = ""
    """Names the message in the catalogue of words; empty for an error that was given its text."""
    values: Mapping[str, object] = {}
    """What fills the gaps of that message."""

    @classmethod
    def coded(cls, code: str, /, **values: object) -> Self:
        """An error whose message the catalogue has under `code`, with `values` in its gaps.

        A value is text, a number, a `Length`, another error, or a list of these.

        Example:
            >>> from blockwright import InputError
            >>> error = InputError.coded("format.unknown", name="svq", known=["svg", "dxf"])
            >>> error.code, error.values["name"]
            ('format.unknown', 'svq')
        """
        error = cls.__new__(cls)
        error.code, error.values = code, values
        return error

    def __str__(self) -> str:
        if not self.code or self.args:
            return super().__str__()
        said: str = import_module(CATALOGUE).said(self.code, self.values)
        return said

    def __reduce__(self) -> tuple[object, ...]:
        """Travels between processes whole, whatever its kind is made with."""
        return _remade, (type(self), self.args, self.__dict__)


def _remade(
    kind: type[BlockwrightError], args: tuple[object, ...], values: dict[str, object]
) -> BlockwrightError:
    """An error as it was in another process."""
    error = kind.__new__(kind)
    error.args = args
    error.__dict__.update(values)
    return error


class GeometryError(BlockwrightError, ValueError):
    """A curve or point that cannot exist or cannot be found as asked; a ValueError too.

    Example:
        >>> from blockwright import GeometryError, Point, line
        >>> try:
        ...     line(Point(0.0, 0.0), Point(200.0, 0.0)).point_at(250.0)
        ... except GeometryError as error:
        ...     print(error)
        no point at 250.0000 mm: the curve is 200.0000 mm long
    """


class InputError(BlockwrightError, ValueError):
    """Something a person typed is wrong; the message says what, where and what to do.

    A ValueError too.

    Example:
        >>> from blockwright import InputError, Unit, parse_length
        >>> try:
        ...     parse_length("34,3 cm", Unit.CM)
        ... except InputError as error:
        ...     print(error)
        '34,3 cm' is not a length: write the decimal with a point and no commas, as in 34.3 cm
    """


class InputErrors(InputError):  # noqa: N818  (several of them)
    """Every input error found in one reading, one or more: `lines` has one each, the message all.

    Example:
        >>> from blockwright import BodySheet, InputErrors
        >>> try:
        ...     BodySheet.from_values({"wast_girth": 70, "hip_girth": 960}, units="cm")
        ... except InputErrors as error:
        ...     print(error.lines[0])
        ...     print(len(error.lines))
        body sheet: wast_girth: no such measurement; did you mean waist_girth?
        2
    """

    def __init__(self, faults: Iterable[str | InputError]) -> None:
        self.faults = tuple(InputError(each) if isinstance(each, str) else each for each in faults)
        """Each fault as an error of its own, with its code."""
        super().__init__(*self.faults)

    @property
    def lines(self) -> list[str]:
        """Each fault in words."""
        return [str(fault) for fault in self.faults]

    def __str__(self) -> str:
        return "\n".join(self.lines)


class NoSolutionError(InputError):
    """No value of the free quantity makes the promise true; says what range is possible.

    Raised by `Draft.solve` and `Draft.solve_many`.

    Example:
        >>> from blockwright import Draft, NoSolutionError
        >>> words = {"so_that": "hem as asked", "goal": "hem", "advice": "ask for a narrower hem"}
        >>> table = Draft("skirt.demo", "Demo")
        >>> try:
        ...     table.solve("flare", lambda x: 2 * x, target=900, low=100, high=400, **words)
        ... except NoSolutionError as error:
        ...     print(str(error).replace(": ", ":\\n"))
        skirt.demo:
        hem of 90.0 cm cannot be reached:
        with flare from 10.0 cm to 40.0 cm it can be 20.0 cm to 80.0 cm; ask for a narrower hem
    """


class PatternError(BlockwrightError, ValueError):
    """A block put its pattern together wrongly: a mistake of its author, not of its user.

    A ValueError too.

    Example:
        >>> from blockwright import Draft, PatternError, Point
        >>> table = Draft("skirt.demo", "Demo")
        >>> hip = table.mark("hip", Point(0.0, 0.0), "on the fold")
        >>> try:
        ...     table.mark("hip", Point(0.0, 200.0), "20 cm above")
        ... except PatternError as error:
        ...     print(error)
        two marks are called 'hip'; give one another name
    """


class PluginError(BlockwrightError, RuntimeError):
    """A plugin failed; the message names the block or format and, where known, who offers it.

    A RuntimeError too.

    Example:
        >>> from blockwright import BlockEntry, PluginError
        >>> try:
        ...     BlockEntry("cape", "Short cape.", "capes:Cape").load()
        ... except PluginError as error:
        ...     print(error)
        block 'cape': capes:Cape cannot be imported: ModuleNotFoundError: No module named 'capes'
    """


LONGEST = 1000
"""Letters of a message that are told."""


def message_of(error: BaseException) -> str:
    """The message of an exception on one line, at most 1000 letters of it."""
    said = "".join(c if c.isprintable() else " " for c in str(error)[: LONGEST + 1])
    said = " ".join(said.split())
    return f"{said[:LONGEST]}…" if len(said) > LONGEST else said


def one_line(error: BaseException) -> str:
    """The kind and the message of an exception on one line."""
    return f"{type(error).__name__}: {message_of(error)}".removesuffix(": ")
