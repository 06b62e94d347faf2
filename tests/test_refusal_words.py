"""Every refusal of the kernel has its words in the catalogue, with what fills their gaps."""

from __future__ import annotations

import ast
import string
from collections.abc import Iterator
from pathlib import Path

import pytest

import blockwright
from blockwright.words.catalogue import words_of

KERNEL = Path(blockwright.__file__).parent
TREES = {path: ast.parse(path.read_text(encoding="utf-8")) for path in KERNEL.rglob("*.py")}
WORDS = words_of("refusals")


def gaps(text: str) -> set[str]:
    return {name for _, name, _, _ in string.Formatter().parse(text) if name}


def codes(node: ast.expr) -> Iterator[str]:
    """The codes that an argument may be, as the source has them."""
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value
    elif isinstance(node, ast.IfExp):
        yield from codes(node.body)
        yield from codes(node.orelse)


def coded() -> Iterator[tuple[str, str, set[str] | None]]:
    """Where a refusal is made, its code and the names of its values; None where they are a dict."""
    for path, tree in TREES.items():
        for node in ast.walk(tree):
            if not isinstance(node, ast.Call) or not isinstance(node.func, ast.Attribute):
                continue
            if node.func.attr not in ("coded", "_wrong"):
                continue
            drawing = node.func.attr == "_wrong"
            first = node.args[1 if drawing else 0]
            names = {each.arg for each in node.keywords}
            values = None if None in names else {name for name in names if name}
            for code in codes(first):
                where = f"{path.relative_to(KERNEL)}:{node.lineno}"
                if drawing:  # of one entity of a drawing, which it names
                    own = None if values is None else values | {"where", "entity"}
                    yield where, f"dxf.{code}", own
                else:
                    yield where, code, values


CODED = list(coded())


def test_the_kernel_is_looked_at_whole() -> None:
    assert len(CODED) > 150
    assert {where.partition("/")[0] for where, _, _ in CODED} >= {
        "body", "pattern", "plugin", "formats", "job", "testing", "cli",
    }  # fmt: skip


def test_every_code_has_words_and_what_fills_them() -> None:
    assert [each for each in CODED if each[1] not in WORDS] == []
    lacking = [
        (where, code, gaps(WORDS[code]) - values)
        for where, code, values in CODED
        if values is not None and not gaps(WORDS[code]) <= values
    ]
    assert lacking == []


def test_no_words_are_left_over() -> None:
    texts = {
        node.value
        for tree in TREES.values()
        for node in ast.walk(tree)
        if isinstance(node, ast.Constant) and isinstance(node.value, str)
    }
    made = {code for _, code, _ in CODED} | texts | {f"dxf.{text}" for text in texts}
    begun = tuple(prefix for tree in TREES.values() for prefix in beginnings(tree))
    assert {code for code in WORDS.keys() - made if not code.startswith(begun)} == set()


def beginnings(tree: ast.Module) -> Iterator[str]:
    """How codes begin whose ending is filled in: `f"document.no-{what}"`."""
    for node in ast.walk(tree):
        made = isinstance(node, ast.Call) and ast.unparse(node.func).endswith(".coded")
        if made and isinstance(node.args[0], ast.JoinedStr):
            first = node.args[0].values[0]
            if isinstance(first, ast.Constant) and str(first.value).endswith("-"):
                yield str(first.value)


@pytest.mark.parametrize(
    "folder", ["body", "pattern", "changes", "plugin", "formats", "job", "cli"]
)
def test_no_refusal_of_the_kernel_is_a_sentence(folder: str) -> None:
    """But those that carry somebody else's words on: a block's own, or an error that was raised."""
    plain = [
        f"{path.relative_to(KERNEL)}:{node.lineno} {ast.unparse(node)}"
        for path, tree in TREES.items()
        if path.relative_to(KERNEL).parts[0] == folder
        for node in ast.walk(tree)
        if isinstance(node, ast.Call)
        and isinstance(node.func, ast.Name)
        and node.func.id in ("InputError", "NoSolutionError")
        and node.args
        and not isinstance(node.args[0], ast.Name)
    ]
    assert plain == []
