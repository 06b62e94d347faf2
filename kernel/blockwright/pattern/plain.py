"""The parts of a pattern as values that JSON has, and back: what is not one is told in words."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Mapping
from dataclasses import fields, is_dataclass
from functools import cache
from itertools import repeat
from typing import TYPE_CHECKING, Any, Literal, cast, get_args, get_origin

from blockwright.body.lengths import quoted
from blockwright.curves._numpy import np
from blockwright.curves.curve import Curve
from blockwright.curves.point import Point
from blockwright.errors import BlockwrightError, message_of, one_line
from blockwright.pattern.joint import AnyJoint, DartJoint, Joint
from blockwright.pattern.piece import Given, Way
from blockwright.pattern.promise import Promise
from blockwright.pattern.promises.kinds import KINDS, kernel_kind
from blockwright.pattern.ref import Ref
from blockwright.pattern.result import Value
from blockwright.spelling import did_you_mean

if TYPE_CHECKING:
    from cattrs import Converter

PLAIN = (str, int, float, bool, type(None))
Kinds = Callable[[str], type[Promise] | None]
"""Gives the class of a kind of promise by its name; None for one that is not known."""
Reader = Callable[[Any, Any], Any]
"""Makes a value of what a file has and the type that is wanted."""


def converter_for(kinds: Kinds | None) -> Converter:
    """What writes and reads dataclasses by their fields; the kernel's own kinds of promise if None.

    It raises what `faults_in` puts in words.
    """
    made = _converter()
    if kinds:
        made = made.copy()
        _register_promises(made, kinds)
    return made


def is_plain(value: object) -> bool:
    """Whether JSON has the value: text, a finite number, true, false or null."""
    return type(value) in PLAIN and (type(value) is not float or math.isfinite(value))


# -- what is wrong ---------------------------------------------------------------------------


def faults_in(error: Exception, where: str) -> Iterator[str]:
    """A line for everything that was wrong in reading, its place first."""
    from cattrs import BaseValidationError

    if not isinstance(error, BaseValidationError):
        yield f"{where}: {_what(error)}"
        return
    for each in error.exceptions:
        yield from faults_in(each, where + _step(each))


def _step(error: Exception) -> str:
    """Where it was raised in what is read around it; nothing for the whole of that."""
    from cattrs import AttributeValidationNote, IterableValidationNote

    for note in getattr(error, "__notes__", ()):
        if isinstance(note, AttributeValidationNote):
            return f".{note.name}"
        if isinstance(note, IterableValidationNote):
            return f"[{note.index}]" if isinstance(note.index, int) else f"[{quoted(note.index)}]"
    return ""


def _what(error: Exception) -> str:
    """What is wrong, for a person."""
    from cattrs import ForbiddenExtraKeysError

    if isinstance(error, ForbiddenExtraKeysError):
        known = [field.name for field in fields(error.cl)]
        extra = sorted(error.extra_fields)
        hint = did_you_mean(extra[0], known) if len(extra) == 1 else ""
        return f"has {', '.join(map(quoted, extra))}, which is not known there{hint}"
    if isinstance(error, KeyError):
        return "is missing"
    ours = BlockwrightError, TypeError, ValueError
    return message_of(error) if isinstance(error, ours) else one_line(error)


def _said(data: Any) -> str:
    """A value of a file, for a message."""
    if isinstance(data, Mapping | list):
        return f"a list of {len(data)}" if isinstance(data, list) else "an object"
    return "null" if data is None else quoted(data)


# -- every type that has a form of its own ---------------------------------------------------


@cache
def _converter() -> Converter:
    from cattrs import Converter

    made = Converter()
    made.register_structure_hook_factory(is_dataclass, _object_reader)
    made.register_unstructure_hook_factory(_of(tuple), _list_writer)
    made.register_structure_hook_factory(_of(tuple), _list_reader)
    made.register_structure_hook_factory(_of(Mapping), _names_reader)
    made.register_structure_hook_func(_of(Literal), _one_of)
    made.register_unstructure_hook(float, _number)
    made.register_structure_hook(float, lambda data, _: _float(data))
    made.register_structure_hook(int, _exactly(int, "whole number"))
    made.register_structure_hook(str, _exactly(str, "text"))
    made.register_structure_hook(bool, lambda data, _: _bool(data))
    made.register_unstructure_hook(Curve, lambda curve: curve.control.tolist())
    made.register_structure_hook(Curve, lambda data, _: _curve(data))
    made.register_unstructure_hook_func(_is(Point), lambda at: [_number(at.x), _number(at.y)])
    made.register_structure_hook_func(_is(Point), lambda data, _: _point(data))
    made.register_unstructure_hook_func(_is(Ref), lambda ref: ref._asdict())
    made.register_structure_hook_func(_is(Ref), lambda data, _: _ref(data))
    made.register_unstructure_hook_func(_is(Promise), lambda promise: _fields(made, promise))
    _register_union(made, Way | Given, lambda data: Given if "length" in data else Way)
    _register_union(made, AnyJoint, lambda data: DartJoint if "dart" in data else Joint)
    made.register_unstructure_hook_func(_is(object), lambda value: value)
    made.register_structure_hook_func(_is(object), lambda data, _: _plain(data))
    made.register_unstructure_hook_func(_is(str | float), lambda value: value)
    made.register_structure_hook_func(_is(str | float), lambda data, _: _text_or_number(data))
    made.register_unstructure_hook_func(_is(Value), _written)
    made.register_structure_hook_func(_is(Value), lambda data, _: _value(data))
    _register_promises(made, kernel_kind)
    return made


def _is(kind: object) -> Callable[[Any], bool]:
    return lambda asked: asked == kind


def _of(origin: object) -> Callable[[Any], bool]:
    return lambda asked: cast(object, get_origin(asked)) is origin


def _register_promises(made: Converter, kinds: Kinds) -> None:
    made.register_structure_hook_func(_is(Promise), lambda data, _: _promise(made, data, kinds))


def _register_union(made: Converter, union: Any, apart: Callable[[Any], Any]) -> None:
    """A union whose members are told apart by their keys."""

    def read(data: Any, _: Any) -> Any:
        return made.structure(data, apart(_object(data)))

    made.register_structure_hook_func(_is(union), read)
    made.register_unstructure_hook_func(_is(union), made.unstructure)


def _fields(made: Converter, promise: Promise) -> dict[str, Any]:
    return {"kind": promise.kind, **cast(dict[str, Any], made.unstructure(promise, type(promise)))}


def _promise(made: Converter, data: Any, kinds: Kinds) -> Promise:
    values = dict(_object(data))
    kind = values.pop("kind", None)
    if type(kind) is not str:
        raise TypeError("does not say its kind")
    found = kinds(kind)
    if found is None:
        hint = did_you_mean(kind, KINDS) or "; install the plugin that has it"
        raise ValueError(f"no kind of promise is called {quoted(kind)}{hint}")
    return made.structure(values, found)


# -- objects and lists -----------------------------------------------------------------------


def _object_reader(kind: Any, made: Converter) -> Reader:
    """Reads a dataclass, every field of it: what a file leaves out is not made up."""
    from cattrs import ClassValidationError
    from cattrs.gen import make_dict_structure_fn

    read = make_dict_structure_fn(kind, made, _cattrs_forbid_extra_keys=True)
    names = [field.name for field in fields(kind)]

    def whole(data: Any, asked: Any) -> Any:
        if missing := [_missing(name) for name in names if name not in _object(data)]:
            raise ClassValidationError("fields are missing", missing, asked)
        return read(data, asked)

    return whole


def _missing(name: str) -> KeyError:
    from cattrs import AttributeValidationNote

    error = KeyError(name)
    error.__notes__ = [AttributeValidationNote("", name, object)]
    return error


def _names_reader(kind: Any, made: Converter) -> Reader:
    """Reads values by name."""
    plain: Any = dict.__class_getitem__(get_args(kind))
    return lambda data, _: made.structure(_object(data), plain)


def _list_writer(kind: Any, made: Converter) -> Callable[[Any], list[Any]]:
    """Writes a tuple as a list, which is what is read again."""
    parts = get_args(kind)
    many = parts[1:] == (...,)

    def write(values: Any) -> list[Any]:
        return list(map(made.unstructure, values, repeat(parts[0]) if many else parts))

    return write


def _list_reader(kind: Any, made: Converter) -> Reader:
    """Reads a tuple: as many as there are of one kind, or one of each kind."""
    parts = get_args(kind)
    many = parts[1:] == (...,)
    each: Any = list.__class_getitem__(parts[0])

    def read(data: Any, _: Any) -> tuple[Any, ...]:
        if not isinstance(data, list):
            raise TypeError(f"{_said(data)} is no list")
        if not many and len(data) != len(parts):
            raise TypeError(f"{_said(data)} is no list of {len(parts)}")
        if many or len(set(parts)) == 1:
            return tuple(made.structure(data, each))
        return tuple(map(made.structure, data, parts))

    return read


def _object(data: Any) -> Mapping[str, Any]:
    if not isinstance(data, Mapping):
        raise TypeError(f"{_said(data)} is no object")
    return data


# -- texts, numbers and places ---------------------------------------------------------------


def _number(value: float) -> float | str:
    number = float(value)
    return number if math.isfinite(number) else str(number)


def _float(data: Any) -> float:
    return float(data) if data in ("inf", "-inf") else float(_finite(data))


def _finite(data: Any) -> int | float:
    if not isinstance(data, int | float) or isinstance(data, bool) or not math.isfinite(data):
        raise TypeError(f"{_said(data)} is no number")
    return data


def _exactly(kind: type, called: str) -> Reader:
    def read(data: Any, _: Any) -> Any:
        if type(data) is not kind:
            raise TypeError(f"{_said(data)} is no {called}")
        return data

    return read


def _bool(data: Any) -> bool:
    if not isinstance(data, bool):
        raise TypeError(f"{_said(data)} is neither true nor false")
    return data


def _one_of(data: Any, kind: Any) -> Any:
    known = get_args(kind)
    if data not in known:
        hint = did_you_mean(data, known) if isinstance(data, str) else ""
        raise ValueError(f"{_said(data)} is none of {', '.join(known)}{hint}")
    return data


def _plain(data: Any) -> Any:
    if not is_plain(data):
        raise TypeError(f"{_said(data)} is neither text, a number, true, false nor null")
    return data


def _text_or_number(data: Any) -> str | float:
    """A whole number stays one."""
    return data if isinstance(data, str) else _finite(data)


def _written(value: Value) -> Any:
    if isinstance(value, Ref):
        return value._asdict()
    return [_written(each) for each in value] if isinstance(value, tuple) else value


def _value(data: Any) -> Value:
    if isinstance(data, Mapping):
        return _ref(data)
    if isinstance(data, list) and all(isinstance(each, str | Mapping) for each in data):
        return tuple(each if isinstance(each, str) else _ref(each) for each in data)
    return _text_or_number(data)


def _ref(data: Any) -> Ref:
    if set(_object(data)) != {"block", "name"} or {*map(type, data.values())} != {str}:
        raise TypeError("is no identity; give the key of its block and its own name, two texts")
    return Ref(data["block"], data["name"])


def _point(data: Any) -> Point:
    if not isinstance(data, list) or len(data) != 2:
        raise TypeError(f"{_said(data)} is no point; give x and y, mm")
    return Point(*(float(_finite(each)) for each in data))


def _curve(data: Any) -> Curve:
    # As objects, so that lists of unlike length, texts and true stay what they are.
    control = np.array(data, dtype=object)
    if not isinstance(data, list) or not {*map(type, control.flat)} <= {int, float}:
        raise TypeError(f"{_said(data)} is no curve; give pieces of four points, x and y, mm")
    return Curve(control.astype(float))
