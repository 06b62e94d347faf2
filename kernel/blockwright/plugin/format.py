"""A file format: one way of writing a proved pattern."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Any

from blockwright.body.lengths import Unit
from blockwright.plugin.option import Option, declared_options, length_option

if TYPE_CHECKING:
    from blockwright.curves.curve import Curve
    from blockwright.pattern.finishing.finish import FinishedPiece
    from blockwright.pattern.pattern import Pattern
    from blockwright.pattern.piece import Piece
    from blockwright.words.proof import Proof


class FormatOptions:
    """What a person may choose for files of one format: subclass it, declare options as a block's.

    An instance holds the values in force, lengths in mm; what is not given has its default.

    Example:
        >>> from blockwright import FormatOptions, length_option
        >>> class Page(FormatOptions):
        ...     margin = length_option("2 cm", low="0 cm", high="10 cm", says="edge of the page")
        >>> Page().margin, Page({"margin": 5.0}).margin
        (20.0, 5.0)
    """

    def __init__(self, values: Mapping[str, Any] | None = None) -> None:
        defaults = {option.name: option.default for option in self.declared()}
        self.values = defaults | dict(values or {})

    @classmethod
    def declared(cls) -> tuple[Option[Any], ...]:
        """Declared options, in order of declaration, base classes first."""
        return declared_options(cls)


class Flat(FormatOptions):
    """The option of every format that has no curves.

    Example:
        >>> from blockwright import Flat, Format
        >>> Format("list", ".txt", "corners", lambda document: b"", options=Flat).exact
        False
    """

    flat = length_option(
        "0.05 mm",
        low="0.001 mm",
        high="1 mm",
        says="how far straight lines may lie off a curve",
    )


@dataclass(frozen=True, slots=True)
class Document:
    """What a format writes: the pattern with its proof, labelled in the maker's unit.

    `finished`: its pieces with their allowances, in the order of the pattern's; none when the
    block is wanted as it is sewn.  Lengths in it are mm, y up, whatever the `unit`, which is for
    words.  `options`: what was chosen for the format that writes it, by name; see
    `FormatOptions`.  With `opened`, pieces on the fold are drawn whole.  `stamp` is printed on
    every piece, such as a date.

    Example:
        >>> from blockwright import BodySheet, Document, Unit, draft, load, prove
        >>> values = {"waist_girth": 70, "hip_girth": 96, "waist_to_hip": 20}
        >>> body = BodySheet.from_values(values, units="cm", name="Trial")
        >>> pattern = draft(load().block("skirt.circle"), body)
        >>> document = Document(pattern, prove(pattern), Unit.CM)
        >>> load().format("svg").write(document).startswith(b"<?xml")
        True
    """

    pattern: Pattern
    proof: Proof
    unit: Unit
    finished: tuple[FinishedPiece, ...] = ()
    options: Mapping[str, Any] = field(default_factory=dict)
    opened: bool = False
    stamp: str = ""


@dataclass(frozen=True, slots=True)
class Read:
    """Pieces read from a file, and a line for everything in it that was not understood.

    `unit` is what the file says its maker works in; the pieces are in mm, y up.  `pattern` is the
    whole pattern, with its promises, where the file has one.

    Example:
        >>> from blockwright import Edge, Piece, Point, Read, polyline
        >>> hem = Edge("hem", polyline([Point(0, 0), Point(200, 0)]), "hem")
        >>> side = Edge("side", polyline([Point(200, 0), Point(200, 300), Point(0, 0)]))
        >>> wedge = Piece("wedge", (hem, side), (Point(180, 20), Point(180, 250)), Point(150, 80))
        >>> read = Read((wedge,), ("line 12: a circle on a layer that is not known",))
        >>> read.pieces[0].name, str(read.unit)
        ('wedge', 'cm')
    """

    pieces: tuple[Piece, ...]
    not_understood: tuple[str, ...] = ()
    unit: Unit = Unit.CM
    pattern: Pattern | None = None


@dataclass(frozen=True, slots=True)
class Echo:
    """What a file says when it is read again.

    `outlines`: what is cut of every piece, curves or straight lines one after another, mm, wherever
    it lies on the sheet; `notches` and `volumes` (mm^3) where the format has them.

    Example:
        >>> from blockwright import Echo, Point, polyline
        >>> wedge = polyline([Point(0, 0), Point(200, 0), Point(200, 300), Point(0, 0)])
        >>> echo = Echo(outlines=((wedge,),))
        >>> len(echo.outlines), echo.notches
        (1, None)
    """

    outlines: tuple[tuple[Curve, ...], ...] = ()
    notches: int | None = None
    volumes: tuple[float, ...] | None = None


@dataclass(frozen=True, slots=True)
class Format:
    """A file format that a plugin offers by `name`, of files that end in `suffix`.

    `write` gives the whole file as bytes, the same for the same document every time.
    `says` is one line: what it is for, units and scale.  `echo` reads such a file again, apart
    from what wrote it, so that it can be compared with the pieces before it is kept; a format
    without one is not compared.  `read` gives the pieces of a file, its own or a stranger's, whose
    name it is told for messages; InputError when it cannot be read.  `options` is the class that
    declares what may be chosen: `--NAME` on the command line, `Output` in a `Job`; the values
    are in `Document.options`.

    Example:
        >>> from blockwright import Format
        >>> def write(document):
        ...     return "".join(f"{piece.name}\\n" for piece in document.pattern.pieces).encode()
        >>> form = Format("list", ".txt", "the pieces by name, for the cutting table", write)
        >>> form.echo is None, form.read is None
        (True, True)
    """

    name: str
    suffix: str
    says: str
    write: Callable[[Document], bytes]
    echo: Callable[[bytes], Echo] | None = None
    read: Callable[[bytes, str], Read] | None = None
    options: type[FormatOptions] = FormatOptions

    @property
    def exact(self) -> bool:
        """Whether its lines are the curves themselves, not straight lines within `Flat.flat`."""
        return not issubclass(self.options, Flat)
