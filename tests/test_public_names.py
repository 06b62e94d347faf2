"""Every public name says what it is with an example that runs, and a type checker sees it."""

from __future__ import annotations

import ast
import doctest
import inspect
from collections.abc import Iterator
from importlib import import_module
from pathlib import Path
from types import ModuleType

import pytest

import blockwright
import blockwright.testing

PACKAGES = (blockwright, blockwright.testing)
CONSTANTS = {"API_VERSION", "CHECKS", "hookimpl"}
"""Names that are no function or class of ours: a string below them says what they are."""
NAMES = [(package.__name__, name) for package in PACKAGES for name in package.__all__]


def tree_of(module: ModuleType) -> ast.Module:
    return ast.parse(Path(str(module.__file__)).read_text(encoding="utf-8"))


def homes(package: ModuleType) -> dict[str, str]:
    """The module of every name, as a checker of types reads it in the stub."""
    stub = Path(str(package.__file__)).with_suffix(".pyi").read_text(encoding="utf-8")
    found = {}
    for node in ast.parse(stub).body:
        assert isinstance(node, ast.ImportFrom)
        for alias in node.names:
            assert alias.asname == alias.name, alias.name  # which makes it public in a stub
            assert alias.name not in found, alias.name
            found[alias.name] = str(node.module)
    return found


def below(home: str, name: str) -> str:
    """The string that stands below the assignment of a constant, in the source."""
    body = tree_of(import_module(home)).body
    for node, after in zip(body, body[1:], strict=False):
        targets = node.targets if isinstance(node, ast.Assign) else []
        if any(isinstance(target, ast.Name) and target.id == name for target in targets):
            if isinstance(after, ast.Expr) and isinstance(after.value, ast.Constant):
                return inspect.cleandoc(str(after.value.value))
            return ""
    raise AssertionError(f"{home} has no {name}")


def own_docstring(package: str, name: str) -> str:
    """What a name says of itself: not what its base class or its type says."""
    if name in CONSTANTS:
        return below(homes(import_module(package))[name], name)
    found = getattr(import_module(package), name)
    if isinstance(found, type):
        return inspect.cleandoc(vars(found).get("__doc__") or "")
    assert inspect.isfunction(found), f"{name} is a constant: list it above"
    return inspect.cleandoc(found.__doc__ or "")


def examples(package: str, name: str) -> Iterator[doctest.DocTest]:
    """The examples of a name and of its methods, those of its base classes in our house too."""
    text = own_docstring(package, name)
    yield doctest.DocTestParser().get_doctest(text, {}, name, name, 0)
    found = getattr(import_module(package), name)
    if isinstance(found, type):
        for base in found.__mro__:
            if base.__module__.startswith("blockwright."):
                for each in doctest.DocTestFinder().find(base, base.__name__, globs={}):
                    if each.examples and each.name != base.__name__:
                        yield each


def failures(test: doctest.DocTest) -> str:
    told: list[str] = []
    doctest.DocTestRunner(verbose=False).run(test, out=told.append)
    return "".join(told)


@pytest.mark.parametrize(("package", "name"), NAMES, ids=[name for _, name in NAMES])
def test_a_name_says_what_it_is_with_an_example_that_runs(package: str, name: str) -> None:
    text = own_docstring(package, name)
    assert text, f"{name} has no docstring"
    says, colon, example = text.partition("\nExample:\n")
    assert says.strip(), f"{name} has an example and says nothing"
    assert colon, f"{name}: the docstring has no 'Example:'"
    assert ">>> " in example, f"{name}: the example shows nothing"
    ran = 0
    for test in examples(package, name):
        assert failures(test) == ""
        ran += len(test.examples)
    assert ran > 0


def test_methods_that_are_inherited_are_run_too() -> None:
    """A block's author meets them on the table, wherever they are written."""
    found = {test.name for test in examples("blockwright", "Draft")}
    assert {"Draft", "Solving.solve", "Promising.seam", "Promising.girth"} <= found


def test_an_example_that_is_wrong_is_found() -> None:
    test = doctest.DocTestParser().get_doctest(">>> 1 + 1\n3\n", {}, "sum", "sum", 0)
    assert "Expected:" in failures(test)


@pytest.mark.parametrize("package", PACKAGES, ids=lambda package: package.__name__)
def test_every_method_says_what_it_does(package: ModuleType) -> None:
    silent = [
        f"{name}.{method}"
        for name in package.__all__
        for method, found in _methods(getattr(package, name))
        if not inspect.getdoc(found)
    ]
    assert silent == []


def _methods(found: object) -> Iterator[tuple[str, object]]:
    for base in found.__mro__ if isinstance(found, type) else ():
        if base.__module__.startswith("blockwright."):
            for name, each in vars(base).items():
                kind = (property, classmethod, staticmethod)
                if not name.startswith("_") and (
                    inspect.isfunction(each) or isinstance(each, kind)
                ):
                    yield name, each


@pytest.mark.parametrize("package", PACKAGES, ids=lambda package: package.__name__)
def test_type_checkers_see_what_runs(package: ModuleType) -> None:
    seen = homes(package)
    assert sorted(seen) == package.__all__
    for name, home in seen.items():
        assert getattr(package, name) is getattr(import_module(home), name), name


@pytest.mark.parametrize("package", PACKAGES, ids=lambda package: package.__name__)
def test_dir_lists_the_public_names(package: ModuleType) -> None:
    assert dir(package) == package.__all__
