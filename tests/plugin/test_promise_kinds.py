"""A kind of promise comes through a plugin as a block does; a bad one is named and hurts nobody."""

from __future__ import annotations

import pytest
from stub_distributions import Shelf

from blockwright import Pattern, PluginError, Promise, PromiseKind, load
from blockwright.pattern.promises.kinds import KINDS, kernel_kind

HOOK = """
from blockwright import PromiseKind, hookimpl

@hookimpl
def blockwright_promises():
    return [{}]
"""
KIND = """
from dataclasses import dataclass
from typing import ClassVar
from blockwright import Carried, Promise, Ref, Result

@dataclass(frozen=True, slots=True)
class Longest(Promise):
    kind: ClassVar[str] = "longest"
    edge: Ref
    most: float

    def measure(self, pattern):
        long = pattern.length(self.edge)
        return (Result("longest", self.ref, "length", (0.0, self.most), long, 0.1),)

    def carried(self, lineage):
        return Carried((self,))
"""


def fault_of(shelf: Shelf, source: str) -> str:
    """The one fault of a plugin with this source, and everything of ours still there."""
    shelf.put("their-promises", source)
    host = load().checked()
    (fault,) = host.faults
    assert fault.startswith("plugin 'their-promises' of their-promises 1.0: ")
    assert "\n" not in fault
    assert set(KINDS) <= set(host.promises)
    return fault


def test_the_kernel_s_kinds_come_through_the_same_door() -> None:
    host = load()
    assert set(host.promises) == set(KINDS)
    for name in KINDS:
        kind = host.promise(name)
        assert kind is kernel_kind(name)
        assert kind is not None
        assert issubclass(kind, Promise)
        assert kind.kind == name
    assert host.promise("no-such-kind") is None


def test_a_kind_of_a_plugin_is_found_by_its_name(shelf: Shelf) -> None:
    shelf.put(
        "their-promises", KIND + HOOK.format("PromiseKind('longest', 'their_promises:Longest')")
    )
    host = load().checked()
    assert not host.faults
    kind = host.promise("longest")
    assert kind is not None
    assert kind.__name__ == "Longest"
    (plugin,) = (each for each in host.plugins if each.name == "their-promises")
    assert (plugin.hooks, plugin.promises) == (["blockwright_promises"], ["longest"])


def test_only_a_pattern_that_has_one_loads_its_class(shelf: Shelf) -> None:
    """A plugin is listed without its class; what is wrong with that is told when it is asked."""
    shelf.put("their-promises", HOOK.format("PromiseKind('longest', 'no_such_module:Longest')"))
    host = load()
    assert not host.faults
    with pytest.raises(PluginError, match=r"'longest'.*no_such_module:Longest cannot be imported"):
        host.promise("longest")


@pytest.mark.parametrize(
    ("item", "words"),
    [
        ("42", ("int", "is not a PromiseKind", "return a list of PromiseKind values")),
        ("PromiseKind('Longest', 'a:B')", ("give a name in small letters", "off-grain")),
        ("PromiseKind('longest', 'nowhere')", ("where its class is", "my_package.off_grain")),
        ("PromiseKind('longest', 'no_such:B')", ("cannot be imported", "no_such")),
        ("PromiseKind('longest', 'math:pie')", ("math has no 'pie'; did you mean pi?",)),
        ("PromiseKind('longest', 'math:pi')", ("float", "frozen dataclass with Promise")),
        ("PromiseKind('longer', 'their_promises:Longest')", ("has kind 'longest'", "in both")),
        ("PromiseKind('seam', 'their_promises:Longest')", ("'seam' refused", "has it already")),
    ],
)
def test_a_bad_one_is_told(shelf: Shelf, item: str, words: tuple[str, ...]) -> None:
    fault = fault_of(shelf, KIND + HOOK.format(item))
    for word in words:
        assert word in fault, fault


def test_a_hook_that_raises_is_told(shelf: Shelf) -> None:
    fault = fault_of(shelf, HOOK.replace("return [{}]", "raise ValueError('no promises today')"))
    assert "blockwright_promises failed: ValueError: no promises today" in fault


def test_a_kind_says_where_it_is() -> None:
    assert PromiseKind("seam", KINDS["seam"]).fault() == ""
    assert "PromiseKind" not in repr(Pattern("test.empty", "Empty", ()))
