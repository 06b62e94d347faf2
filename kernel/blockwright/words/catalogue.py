"""The text of a code: the words of a catalogue with values in their gaps.

A language is a folder of text files beside this module, a line a code: `code: text`.  A gap in
braces is filled by the value of that name: a piece, an edge or a promise by its label in quotes,
`{name:plain}` without them, `{name:own}` by its own name without the word of its block; a text in
quotes, `{name:plain}` without; `{gap:mm}` as millimetres, `{x:whole}` without decimals; a `Length`
in its unit; a list with commas, `{run:and}` with 'and' between.
"""

from __future__ import annotations

import string
from collections.abc import Callable, Mapping, Sequence
from functools import cache
from pathlib import Path
from typing import Any

from blockwright.body.lengths import Length, format_length
from blockwright.pattern.ref import Ref

LANGUAGE = Path(__file__).with_name("english")
"""The folder of the words."""
Label = Callable[[Ref], str]
"""Gives the label of an identity: `Pattern.label`, or that of a proof."""


@cache
def words_of(kind: str) -> Mapping[str, str]:
    """The words of a kind, 'results', 'refusals' or 'labels', by their codes."""
    lines = LANGUAGE.joinpath(f"{kind}.txt").read_text(encoding="utf-8").splitlines()
    parted = (line.partition(": ") for line in lines if line and not line.startswith("#"))
    return {code: text for code, _, text in parted}


def say(code: str, values: Mapping[str, object], label: Label, words: Mapping[str, str]) -> str:
    """The text of a code, its gaps filled; the bare code and values where there are no words.

    `words` are those of promise kinds that plugins add; the catalogue has the kernel's own.
    """
    template = words.get(code) or words_of("results").get(code) or words_of("refusals").get(code)
    if template is None:
        said = ", ".join(f"{name} {value}" for name, value in values.items())
        return f"{code}: {said}" if said else code
    return _Filled(label).vformat(template, (), values)


def said(code: str, values: Mapping[str, object]) -> str:
    """The text of a refusal or a warning, by its code."""
    return say(code, values, _own_name, {})


def label(code: str, **values: object) -> str:
    """The words that a drawing carries, by their code; KeyError where there is none.

    Example:
        >>> label("label.cut-pairs", count=4, pairs=2)
        'cut 4, 2 mirrored pairs'
    """
    return _Filled(_own_name).vformat(words_of("labels")[code], (), values)


def _own_name(ref: Ref) -> str:
    return ref.name


class _Filled(string.Formatter):
    """Fills gaps: identities by their labels, texts in quotes, numbers as their gap says."""

    def __init__(self, label: Label) -> None:
        self._label = label

    def format_field(self, value: Any, format_spec: str) -> str:
        """A value as its gap asks for it."""
        if isinstance(value, Ref):
            value = value.name if format_spec == "own" else self._label(value)
            return str(value) if format_spec in ("own", "plain") else repr(value)
        if isinstance(value, tuple | list):
            return self._list(value, format_spec)
        if isinstance(value, str):
            if format_spec.startswith("or "):
                return value or format_spec.removeprefix("or ")
            return value if format_spec == "plain" else repr(value)
        if isinstance(value, int | float):
            return _number(value, format_spec)
        return str(value)

    def _list(self, values: Sequence[Any], format_spec: str) -> str:
        if isinstance(values, Length):
            return format_length(*values)
        told = [self.format_field(v, "plain" if format_spec == "plain" else "") for v in values]
        return (" and " if format_spec == "and" else ", ").join(told) or "none"


def _number(value: float, format_spec: str) -> str:
    if format_spec == "mm":
        return f"{value:.3f} mm"
    return f"{value:.0f}" if format_spec == "whole" else f"{value:g}"
