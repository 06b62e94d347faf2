"""A document as files: each written by its format, read again and compared with the pieces."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from typing import TYPE_CHECKING, Any, NamedTuple

from blockwright.body.lengths import Unit
from blockwright.errors import InputError, PatternError
from blockwright.job.answerable import answerable, given
from blockwright.spelling import did_you_mean

if TYPE_CHECKING:
    from blockwright.plugin.format import Document, Echo, Format
    from blockwright.plugin.host import Host
    from blockwright.plugin.option import Setting

Warn = Callable[[str], None]


@dataclass(frozen=True, slots=True)
class Output:
    """A file to write: the name of its format, and the options chosen for it.

    A length is text with its unit, or a number of millimetres.

    Example:
        >>> from blockwright import Job, Output, run
        >>> tiles = Output("tiles", {"paper": "letter", "overlap": "1 cm"})
        >>> list(run(Job(("skirt.circle",), "survey:female-17", outputs=(tiles,))).files)
        ['female-17-skirt.circle.tiles.pdf']
    """

    format: str
    options: Mapping[str, Setting] = field(default_factory=dict)


class ChosenOutput(NamedTuple):
    """A format and the values of its options in force for one file."""

    form: Format
    options: Mapping[str, Any]


def chosen_outputs(host: Host, outputs: Sequence[str | Output]) -> list[ChosenOutput]:
    """The formats asked for, their options read.

    Raises InputError for a format that no plugin has, and an option that it has not or that is not
    allowed.
    """
    found = []
    for output in outputs:
        asked = output if isinstance(output, Output) else Output(output)
        form = host.format(asked.format)
        declared = {option.name: option for option in form.options.declared()}
        for name in asked.options:
            if name not in declared:
                near = did_you_mean(name, declared) or f"; it has {', '.join(declared) or 'none'}"
                raise InputError.coded("format.no-option", name=name, format=form.name, near=near)
        values = {
            name: declared[name].parse(setting, Unit.MM) for name, setting in asked.options.items()
        }
        found.append(ChosenOutput(form, values))
    return found


def file_contents(
    host: Host,
    document: Document,
    outputs: Sequence[ChosenOutput],
    stem: str,
    warn: Warn,
    tell: Warn | None = None,
) -> dict[str, bytes]:
    """The bytes of every file by its name, each read again and compared with what was drawn.

    Raises PluginError for a format that fails or a file that is not what was drawn, InputError
    for two files of one name and for what a format cannot write.
    """
    contents: dict[str, bytes] = {}
    for form, options in outputs:
        name = stem + form.suffix
        if name in contents:
            raise InputError.coded("format.same-file", name=name)
        chosen = replace(document, options=options)
        with answerable(
            f"format {form.name!r} of {host.owner('formats', form.name)}", warn, tell=tell
        ):
            contents[name] = given(bytes, form.write(chosen))
            _compare(form, chosen, name, contents[name])
    return contents


def _compare(form: Format, document: Document, name: str, data: bytes) -> None:
    """Raise PatternError when a file, read again, is not what was drawn."""
    from blockwright.formats.readback import differences

    if _is_open(document):  # it has no area to compare, and the proof tells
        return
    found = differences(_read_by_itself(form), document, data)
    if found:
        raise PatternError(
            f"{name}, read again, is not what was drawn: {'; '.join(found)}; not kept"
        )


def _read_by_itself(form: Format) -> Format:
    """The format with an echo whose refusals are faults of the format: the file is its own."""
    from blockwright.plugin.format import Echo

    read_again = form.echo
    if read_again is None:
        return form

    def echo(data: bytes) -> Echo:
        try:
            return given(Echo, read_again(data), "echo")
        except InputError as error:
            raise PatternError(f"its own file cannot be read again: {error}") from error

    return replace(form, echo=echo)


def _is_open(document: Document) -> bool:
    """Whether the outline of a piece is not closed."""
    from blockwright.curves.tolerance import MEETS

    return any(p.widest_gap()[2] > MEETS for p in document.pattern.pieces)
