"""The kernel's source, read and not run: what results are made of, and who makes sentences."""

from __future__ import annotations

import ast
import string
from collections.abc import Iterator
from pathlib import Path
from typing import NamedTuple

import blockwright

KERNEL = Path(blockwright.__file__).parent
DATA = "blockwright.pattern.results"
"""Where results and reasons are."""
CATALOGUE = "blockwright.words.catalogue"
OF_RESULTS = {"measured", "wanted", "miss", "why"}
"""What a result has to tell; of a promise and a proof `wanted`, `measured` and `why` are calls."""
SENTENCES = {"text", "say", "why"}
"""Calls that give words of a proof."""
TAKES_APART = {
    "split", "rsplit", "splitlines", "startswith", "endswith", "removeprefix", "removesuffix",
    "partition", "rpartition", "index", "rindex", "find", "rfind",
}  # fmt: skip

Function = ast.FunctionDef | ast.AsyncFunctionDef | ast.Lambda
Comprehension = ast.ListComp | ast.SetComp | ast.GeneratorExp | ast.DictComp


class UnclearError(AssertionError):
    """What an expression is cannot be told from the source."""


class Made(NamedTuple):
    """A result or a reason that is made somewhere: its possible codes, and its values if told."""

    kind: str
    codes: set[str]
    values: set[str] | None
    where: str


class Source:
    """A module: `where` is its path in the kernel, `text` its source."""

    def __init__(self, where: str, text: str) -> None:
        self.where = where
        self.tree = ast.parse(text)
        self._parents = {
            child: node for node in ast.walk(self.tree) for child in ast.iter_child_nodes(node)
        }

    @property
    def in_words(self) -> bool:
        """Whether it is of the package that makes sentences."""
        return self.where.startswith("words/")

    def at(self, node: ast.AST) -> str:
        return f"{self.where}:{getattr(node, 'lineno', 0)} {ast.unparse(node)}"

    # -- who makes sentences ---------------------------------------------------------------------

    def imports_of_the_catalogue(self) -> Iterator[str]:
        """Imports of the English words, however they are written."""
        package = ["blockwright", *self.where.split("/")[:-1]]
        for node in ast.walk(self.tree):
            names: list[str] = []
            if isinstance(node, ast.Import):
                names = [alias.name for alias in node.names]
            elif isinstance(node, ast.ImportFrom):
                above = package[: len(package) - node.level + 1] if node.level else []
                base = ".".join([*above, *filter(None, [node.module])])
                if base == CATALOGUE and [alias.name for alias in node.names] == ["label"]:
                    continue  # what a drawing carries is no result
                names = [base, *(f"{base}.{alias.name}" for alias in node.names)]
            elif isinstance(node, ast.Constant) and isinstance(node.value, str):
                names = [node.value.partition(":")[0]]  # a module that is imported by its name
            if any(name.startswith(CATALOGUE) for name in names):
                yield self.at(node)

    def numbers_in_sentences(self) -> Iterator[str]:
        """What a result has to tell, written into an f-string or by `format`."""
        for node in ast.walk(self.tree):
            filled: list[ast.expr] = []
            if isinstance(node, ast.FormattedValue):
                filled = [node.value]
            elif isinstance(node, ast.Call) and _method(node) == "format":
                filled = [*node.args, *(each.value for each in node.keywords)]
            for part in (part for value in filled for part in ast.walk(value)):
                told = isinstance(part, ast.Attribute) and part.attr in OF_RESULTS
                if told and not self._is_called(part):
                    yield f"{self.where} {ast.unparse(part)}"

    def _is_called(self, node: ast.AST) -> bool:
        parent = self._parents.get(node)
        return isinstance(parent, ast.Call) and parent.func is node

    def sentences_taken_apart(self) -> Iterator[str]:
        """Words of a proof looked into: by a method of strings, by `in` or by a place in them."""
        for node in ast.walk(self.tree):
            looked: ast.expr | None = None
            if isinstance(node, ast.Call) and _method(node) in TAKES_APART:
                assert isinstance(node.func, ast.Attribute)
                looked = node.func.value
            elif isinstance(node, ast.Compare) and isinstance(node.ops[0], ast.In | ast.NotIn):
                looked = node.comparators[0]
            elif isinstance(node, ast.Subscript):
                looked = node.value
            if looked is not None and self._is_sentence(looked):
                yield self.at(node)

    def _is_sentence(self, node: ast.expr) -> bool:
        if isinstance(node, ast.Name):
            function = self._function(node)
            given = self._assigned(node.id, function or self.tree)
            return any(self._is_sentence(value) for value in given)
        if isinstance(node, ast.NamedExpr):
            return self._is_sentence(node.value)
        return isinstance(node, ast.Call) and _method(node) in SENTENCES

    # -- what results are made of ----------------------------------------------------------------

    def made(self) -> Iterator[Made]:
        """Every result and reason that is made here; UnclearError where its code cannot be told."""
        names = self._data_names()
        for node in ast.walk(self.tree):
            if not (isinstance(node, ast.Call) and isinstance(node.func, ast.Name)):
                continue
            if kind := names.get(node.func.id):
                code = _argument(node, 0, "code")
                if code is None:
                    raise UnclearError(self.at(node))
                place = 1 if kind == "Reason" else 6
                values = _argument(node, place, "values")
                yield Made(kind, self.texts(code), self._keys(values), self.at(node))

    def codes_looked_for(self) -> Iterator[str]:
        """Codes that those of results are compared with."""
        for node in ast.walk(self.tree):
            if not isinstance(node, ast.Compare):
                continue
            sides = [node.left, *node.comparators]
            if not any(isinstance(each, ast.Attribute) and each.attr == "code" for each in sides):
                continue
            for each in sides:
                if not (isinstance(each, ast.Attribute) and each.attr == "code"):
                    listed = isinstance(node.ops[0], ast.In | ast.NotIn)
                    parts = self._elements(each, None) if listed else [each]
                    yield from (text for part in parts for text in self.texts(part))

    def _data_names(self) -> dict[str, str]:
        """What results and reasons are called in this module."""
        return {
            alias.asname or alias.name: alias.name
            for node in ast.walk(self.tree)
            if isinstance(node, ast.ImportFrom) and node.module in (DATA, "blockwright")
            for alias in node.names
            if alias.name in ("Result", "Reason")
        }

    def texts(self, node: ast.expr) -> set[str]:
        """The texts that an expression may be; UnclearError when that cannot be told."""
        if isinstance(node, ast.Constant) and isinstance(node.value, str):
            return {node.value}
        if isinstance(node, ast.IfExp):
            return self.texts(node.body) | self.texts(node.orelse)
        if isinstance(node, ast.Name):
            return {text for value in self._bound(node) for text in self.texts(value)}
        raise UnclearError(self.at(node))

    def _bound(self, name: ast.Name) -> list[ast.expr]:
        """What a name is bound to where it is used: all that it may be."""
        scope: ast.AST | None = name
        while (scope := self._parents.get(scope)) is not None:  # type: ignore[arg-type]
            found: list[ast.expr] = []
            if isinstance(scope, Comprehension):
                for each in scope.generators:
                    found += self._looped(name.id, each.target, each.iter)
            elif isinstance(scope, Function):
                found = self._assigned(name.id, scope)
                for node in ast.walk(scope):
                    if isinstance(node, ast.For):
                        found += self._looped(name.id, node.target, node.iter)
                found += self._passed(name.id, scope)
            elif isinstance(scope, ast.Module):
                found = self._assigned(name.id, scope)
            if found:
                return found
        raise UnclearError(self.at(name))

    def _assigned(self, name: str, scope: ast.AST) -> list[ast.expr]:
        """What is assigned to a name in a function or a module."""
        found: list[ast.expr] = []
        for node in ast.walk(scope):
            if isinstance(scope, ast.Module) and self._function(node):
                continue
            if isinstance(node, ast.Assign):
                targets: list[ast.expr] = node.targets
            else:
                targets = [node.target] if isinstance(node, ast.AnnAssign | ast.NamedExpr) else []
            value = getattr(node, "value", None)
            if value is not None and any(isinstance(t, ast.Name) and t.id == name for t in targets):
                found.append(value)
        return found

    def _looped(self, name: str, target: ast.expr, over: ast.expr) -> list[ast.expr]:
        if isinstance(target, ast.Name) and target.id == name:
            return self._elements(over, None)
        if isinstance(target, ast.Tuple):
            for i, part in enumerate(target.elts):
                if isinstance(part, ast.Name) and part.id == name:
                    return self._elements(over, i)
        return []

    def _elements(self, over: ast.expr, place: int | None) -> list[ast.expr]:
        """What is in a list or a tuple, or at a place in each of its tuples."""
        if isinstance(over, ast.Name):
            listed = [part for value in self._bound(over) for part in self._elements(value, None)]
            function = self._function(over)
            listed += [
                node.args[0]
                for node in ast.walk(function or self.tree)
                if isinstance(node, ast.Call)
                and _method(node) == "append"
                and ast.unparse(node.func) == f"{over.id}.append"
            ]
        elif isinstance(over, ast.List | ast.Tuple):
            listed = over.elts
        else:
            raise UnclearError(self.at(over))
        if place is None:
            return listed
        if not all(isinstance(each, ast.Tuple) for each in listed):
            raise UnclearError(self.at(over))
        return [each.elts[place] for each in listed if isinstance(each, ast.Tuple)]

    def _passed(self, name: str, function: ast.AST) -> list[ast.expr]:
        """What callers in this module pass as a parameter of a function."""
        if isinstance(function, ast.Lambda):
            return []
        assert isinstance(function, ast.FunctionDef | ast.AsyncFunctionDef)
        names = [each.arg for each in (*function.args.posonlyargs, *function.args.args)]
        every = [*names, *(each.arg for each in function.args.kwonlyargs)]
        if name not in every:
            return []
        found: list[ast.expr] = []
        for node in ast.walk(self.tree):
            if isinstance(node, ast.Call) and _called(node) == function.name:
                bound = isinstance(node.func, ast.Attribute) and names[:1] in (["self"], ["cls"])
                place = names.index(name) - bound if name in names else len(node.args)
                value = _argument(node, place, name)
                if value is None:
                    raise UnclearError(self.at(node))
                found.append(value)
        if not found:
            raise UnclearError(f"{self.where} {function.name}: nobody calls it here")
        return found

    def _keys(self, node: ast.expr | None) -> set[str] | None:
        """The keys of a mapping of values; None when they cannot be told."""
        if node is None:
            return set()
        if isinstance(node, ast.Dict):
            parts = [
                self._keys(value) if key is None else self.texts(key)
                for key, value in zip(node.keys, node.values, strict=True)
            ]
            return None if None in parts else set().union(*filter(None, parts))
        if isinstance(node, ast.Name):
            given = [self._keys(value) for value in self._bound(node)]
        elif isinstance(node, ast.Call):
            given = [self._keys(value) for value in self._returned(_called(node))]
        else:
            return None
        return None if not given or None in given else set.intersection(*filter(None, given))

    def _returned(self, name: str) -> list[ast.expr]:
        """What the function of that name gives back."""
        return [
            node.value
            for function in ast.walk(self.tree)
            if isinstance(function, ast.FunctionDef) and function.name == name
            for node in ast.walk(function)
            if isinstance(node, ast.Return) and node.value is not None
        ]

    def _function(self, node: ast.AST) -> ast.AST | None:
        """The function that a node is in; None in the body of the module."""
        scope: ast.AST | None = node
        while (scope := self._parents.get(scope)) is not None:  # type: ignore[arg-type]
            if isinstance(scope, Function):
                return scope
        return None


def _method(call: ast.Call) -> str:
    """The name of a method that is called; nothing for a function."""
    return call.func.attr if isinstance(call.func, ast.Attribute) else ""


def _called(call: ast.Call) -> str:
    """The name of whatever is called."""
    return call.func.id if isinstance(call.func, ast.Name) else _method(call)


def _argument(call: ast.Call, place: int, name: str) -> ast.expr | None:
    """An argument by its place or its name."""
    if place < len(call.args):
        return call.args[place]
    return next((each.value for each in call.keywords if each.arg == name), None)


def kernel() -> list[Source]:
    """Every module of the kernel."""
    found = sorted(KERNEL.rglob("*.py"))
    return [
        Source(path.relative_to(KERNEL).as_posix(), path.read_text(encoding="utf-8"))
        for path in found
    ]


def gaps(template: str) -> set[str]:
    """The names of the gaps in a text."""
    return {name for _, name, _, _ in string.Formatter().parse(template) if name}
