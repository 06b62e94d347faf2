"""The text of a code: the words of a catalogue with values in their gaps."""

from __future__ import annotations

import string
from collections.abc import Callable, Mapping
from typing import Any

from blockwright.pattern.ref import Ref
from blockwright.words.english import WORDS

Label = Callable[[Ref], str]
"""Gives the label of an identity: `Pattern.label`, or that of a proof."""


def say(code: str, values: Mapping[str, object], label: Label, words: Mapping[str, str]) -> str:
    """The text of a code, its gaps filled; the bare code and values where there are no words.

    `words` are those of promise kinds that plugins add; the catalogue has the kernel's own.
    """
    template = words.get(code) or WORDS.get(code)
    if template is None:
        said = ", ".join(f"{name} {value}" for name, value in values.items())
        return f"{code}: {said}" if said else code
    return _Filled(label).vformat(template, (), values)


class _Filled(string.Formatter):
    """Fills gaps: identities by their labels, texts in quotes, numbers as their gap says."""

    def __init__(self, label: Label) -> None:
        self._label = label

    def format_field(self, value: Any, format_spec: str) -> str:
        """A value as its gap asks for it."""
        if isinstance(value, Ref):
            if format_spec == "own":
                return value.name
            value = self._label(value)
        if isinstance(value, tuple):
            quoted = [repr(self._label(v) if isinstance(v, Ref) else v) for v in value]
            return " and ".join(quoted) if format_spec == "and" else ", ".join(quoted) or "none"
        if isinstance(value, str):
            if format_spec.startswith("or "):
                return value or format_spec.removeprefix("or ")
            return value if format_spec == "plain" else repr(value)
        if format_spec == "mm":
            return f"{value:.3f} mm"
        return f"{value:.0f}" if format_spec == "whole" else f"{value:g}"
