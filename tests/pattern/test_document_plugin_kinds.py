"""A promise kind that a plugin adds is written and read as those of the kernel are."""

from __future__ import annotations

import json
import math
import re
from dataclasses import dataclass, replace
from typing import Any, ClassVar

import pytest
from document_samples import lines_of, text_of, validator
from every_part import BLOCK, every_part

from blockwright import (
    Carried,
    Given,
    InputError,
    InputErrors,
    Pattern,
    PatternError,
    PluginError,
    Point,
    Promise,
    Ref,
    Result,
    Way,
    as_document,
    from_document,
    prove,
)
from blockwright.pattern.promises.kinds import kernel_kind


@dataclass(frozen=True, slots=True)
class Part:
    """A value that a plugin's promise is made of."""

    name: str
    share: float


@dataclass(frozen=True, slots=True)
class Hang(Promise):
    """A promise that a plugin adds, with fields of many forms."""

    kind: ClassVar[str] = "test.hang"
    edge: Ref
    ways: tuple[Way | Given, ...]
    at: Point | None = None
    most: float = math.inf
    parts: tuple[Part, ...] = ()
    pair: tuple[str, float] = ("", 0.0)

    def __post_init__(self) -> None:
        if self.pair[0] == "boom":
            raise LookupError("boom")
        if self.pair[0] == "refused":
            raise InputError("it hangs\ntoo low")

    def measure(self, pattern: Pattern) -> tuple[Result, ...]:
        long = pattern.length(self.edge)
        if self.pair[0] == "late":
            raise RuntimeError("late")
        wanted: Any = 0.0 if self.pair[0] == "one number" else (0.0, self.most)
        return (Result("test.hang", self.ref, "length", wanted, long, 0.1),)

    def carried(self, lineage: object) -> Carried:
        return Carried((self,))


def kinds(name: str) -> type[Promise] | None:
    if name == "test.gone":
        raise PluginError("kind of promise 'test.gone': it cannot be imported")
    return Hang if name == Hang.kind else kernel_kind(name)


def hung() -> Pattern:
    pattern = every_part()
    hem = Ref(BLOCK, "hem")
    full = Hang(
        Ref(BLOCK, "hang"), hem, (Way(hem), Given("rest", 5.0)), Point(1.5, 2.5), 300.0,
        (Part("upper", 0.25), Part("lower", 0.75)), ("so", 1.0),
    )  # fmt: skip
    return replace(pattern, promises=(*pattern.promises, full, Hang(Ref(BLOCK, "bare"), hem, ())))


def test_a_kind_of_a_plugin_comes_back() -> None:
    values = json.loads(text_of(as_document(hung())))
    assert values["pattern"]["promises"][-1]["most"] == "inf"
    again = from_document(values, kinds)
    assert again == hung()
    assert prove(again) == prove(hung())
    validator().validate(values)
    # The kernel's own converter was left as it was.
    assert [line.partition(":")[0] for line in lines_of(values)] == [
        "pattern.promises[11]",
        "pattern.promises[12]",
    ]


def test_a_result_wants_a_range() -> None:
    pattern = every_part()
    hang = Hang(Ref(BLOCK, "hang"), Ref(BLOCK, "hem"), (), pair=("one number", 0.0))
    line = (
        "test.hang 'hang': the result 'test.hang' wants 0.0: give the least and the greatest, as "
        "in (0.0, 0.0)"
    )
    with pytest.raises(PatternError, match=re.escape(line)):
        prove(replace(pattern, promises=(hang,)))


@pytest.mark.parametrize(
    ("key", "value", "line"),
    [
        ("kind", "test.gone", ": kind of promise 'test.gone': it cannot be imported"),
        ("kind", "test.hand", ": no kind of promise is called 'test.hand'; install the plugin that "
         "has it"),
        ("most", None, ".most: null is no number"),
        ("least", 1.0, ": has 'least', which is not known there"),
        ("at", [1.0, "inf"], ".at: 'inf' is no number"),
        ("parts", [{"name": "a", "share": 0.5}, {"name": "b"}], ".parts[1].share: is missing"),
        ("pair", ["boom", 1.0], ": LookupError: boom"),
        ("pair", ["refused", 1.0], ": it hangs too low"),
        ("pair", ["late", 1.0], ": test.hang 'hang': cannot be measured: RuntimeError: late"),
        ("pair", [1.0, "boom"], ".pair: 1.0 is no text"),
        ("edge", {"block": "x", "name": "hem"}, ": test.hang 'hang': test.panel has no edge 'hem'; "
         "it has 'panel hem', 'panel side', 'panel side dart mouth', 'panel waist', "
         "'panel centre'"),
    ],
)  # fmt: skip
def test_a_fault_in_a_plugins_promise(key: str, value: Any, line: str) -> None:
    values = json.loads(text_of(as_document(hung())))
    values["pattern"]["promises"][11][key] = value
    with pytest.raises(InputErrors) as caught:
        from_document(values, kinds)
    assert caught.value.lines == [f"pattern.promises[11]{line}"]
