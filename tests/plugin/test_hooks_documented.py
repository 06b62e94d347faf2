"""Every hook that a plugin can answer is told, shown and tried."""

from __future__ import annotations

import doctest
import inspect
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from blockwright.plugin.api import PROJECT
from blockwright.plugin.loader import HOOKS, plugin_manager

TESTS = Path(__file__).parents[1]
PAGE = TESTS.parent / "DEVELOPERS.md"


def live() -> dict[str, Callable[..., Any]]:
    """The hooks of a fresh manager, by name, with the function that specifies each."""
    hooks = vars(plugin_manager().hook)
    return {name: hook.spec.function for name, hook in hooks.items() if not name.startswith("_")}


LIVE = live()


def written(function: Callable[..., Any]) -> str:
    """As a reader of the page writes it: name and arguments, without their types."""
    asked = inspect.signature(function)
    bare = [each.replace(annotation=inspect.Parameter.empty) for each in asked.parameters.values()]
    without = asked.replace(parameters=bare, return_annotation=inspect.Signature.empty)
    return f"{function.__name__}{without}"


def test_there_are_hooks_and_the_host_knows_them_all() -> None:
    assert set(LIVE) == set(HOOKS)
    assert "blockwright_blocks" in LIVE


@pytest.mark.parametrize("name", LIVE)
def test_a_hook_is_named_with_its_signature_on_the_developers_page(name: str) -> None:
    assert written(LIVE[name]) in PAGE.read_text(encoding="utf-8")


def test_a_signature_is_written_with_its_arguments() -> None:
    def blockwright_trial(host: str, depth: float = 3.0) -> list[str]:
        return [host] * int(depth)

    assert written(blockwright_trial) == "blockwright_trial(host, depth=3.0)"


@pytest.mark.parametrize("name", LIVE)
def test_a_hook_says_what_it_takes_and_gives(name: str) -> None:
    asked = inspect.signature(LIVE[name])
    assert asked.return_annotation.startswith("Iterable[")
    assert all(each.annotation is not each.empty for each in asked.parameters.values())


@pytest.mark.parametrize("name", LIVE)
def test_the_example_of_a_hook_runs_and_answers_it(name: str) -> None:
    text = inspect.getdoc(LIVE[name]) or ""
    says, colon, example = text.partition("\nExample:\n")
    assert says.strip()
    assert colon
    shared: dict[str, Any] = {}
    test = doctest.DocTestParser().get_doctest(example, shared, name, name, 0)
    assert test.examples
    told: list[str] = []
    doctest.DocTestRunner(verbose=False).run(test, out=told.append, clear_globs=False)
    assert told == []
    answers = test.globs[name]
    assert getattr(answers, f"{PROJECT}_impl", None), "there is no @hookimpl above it"
    assert list(answers()), "it offers nothing"


@pytest.mark.parametrize("name", LIVE)
def test_a_hook_is_answered_in_some_test(name: str) -> None:
    others = [path for path in TESTS.rglob("test_*.py") if path != Path(__file__)]
    answer = f"def {name}("
    assert [path.name for path in others if answer in path.read_text(encoding="utf-8")]
