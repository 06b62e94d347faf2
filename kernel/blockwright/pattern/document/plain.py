"""The parts of a pattern as values that JSON has, and back, with an error for each fault."""

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
from blockwright.errors import BlockwrightError, InputError, message_of, one_line
from blockwright.pattern.pattern import Promise
from blockwright.pattern.piece import Given, Way
from blockwright.pattern.promises.kinds import KINDS, kernel_kind
from blockwright.pattern.ref import AnyJoint, DartJoint, Joint, Ref
from blockwright.pattern.results import Value
from blockwright.spelling import nearest_to

if TYPE_CHECKING:
    from cattrs import Converter

PLAIN = (str, int, float, bool, type(None))
Kinds = Callable[[str], type[Promise] | None]
"""Gives the class of a kind of promise by its name.  None for an unknown kind."""
Reader = Callable[[Any, Any], Any]
"""Makes a value of the data of a file and the type wanted."""


def converter_for(kinds: Kinds | None) -> Converter:
    """Writes and reads dataclasses by their fields.

    `kinds` are the kinds of promise; None stands for the kernel's own.  `faults_in` takes apart
    what it raises.
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


def faults_in(error: Exception, where: str) -> Iterator[InputError]:
    """An error for each fault that reading found, with its place."""
    from cattrs import BaseValidationError

    if not isinstance(error, BaseValidationError):
        yield InputError.coded("document.at", at=where, why=_what(error))
        return
    for each in error.exceptions:
        yield from faults_in(each, where + _step(each))


def _step(error: Exception) -> str:
    """The step from the value around a fault to its own value.  Empty if both are one."""
    from cattrs import AttributeValidationNote, IterableValidationNote

    for note in getattr(error, "__notes__", ()):
        if isinstance(note, AttributeValidationNote):
            return f".{note.name}"
        if isinstance(note, IterableValidationNote):
            return f"[{note.index}]" if isinstance(note.index, int) else f"[{quoted(note.index)}]"
    return ""


def _what(error: Exception) -> InputError | str:
    """The fault: an error with a code, or the message of any other error."""
    from cattrs import ForbiddenExtraKeysError

    if isinstance(error, ForbiddenExtraKeysError):
        known = [field.name for field in fields(error.cl)]
        extra = sorted(error.extra_fields)
        near = nearest_to(extra[0], known) if len(extra) == 1 else None
        named = [quoted(each) for each in extra]
        if near:
            return InputError.coded("document.misspelt-field", fields=named, near=near)
        return InputError.coded("document.unknown-field", fields=named)
    if isinstance(error, KeyError):
        return InputError.coded("document.missing")
    if isinstance(error, InputError) and error.code:
        return error
    ours = BlockwrightError, TypeError, ValueError
    return message_of(error) if isinstance(error, ours) else one_line(error)


def _said(data: Any) -> str:
    """A value of a file, for a message."""
    if isinstance(data, Mapping | list):
        return f"a list of {len(data)}" if isinstance(data, list) else "an object"
    return "null" if data is None else quoted(data)


def _not(what: str, data: Any) -> InputError:
    """The error for a value that is of another kind than `what`."""
    return InputError.coded(f"document.no-{what}", value=_said(data))


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
    made.register_structure_hook(int, _exactly(int, "whole-number"))
    made.register_structure_hook(str, _exactly(str, "text"))
    made.register_structure_hook(bool, _exactly(bool, "yes-or-no"))
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
    """Registers a union.  `apart` tells its members apart by their keys."""

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
        raise InputError.coded("document.no-kind")
    found = kinds(kind)
    if found is None:
        if near := nearest_to(kind, KINDS):
            raise InputError.coded("document.misspelt-kind", kind=quoted(kind), near=near)
        raise InputError.coded("document.unknown-kind", kind=quoted(kind))
    return made.structure(values, found)


# -- objects and lists -----------------------------------------------------------------------


def _object_reader(kind: Any, made: Converter) -> Reader:
    """Reads a dataclass.  Every field must be in the file."""
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
    """Writes a tuple as a list."""
    parts = get_args(kind)
    many = parts[1:] == (...,)

    def write(values: Any) -> list[Any]:
        return list(map(made.unstructure, values, repeat(parts[0]) if many else parts))

    return write


def _list_reader(kind: Any, made: Converter) -> Reader:
    """Reads a tuple: any number of values of one kind, or one value of each kind."""
    parts = get_args(kind)
    many = parts[1:] == (...,)
    each: Any = list.__class_getitem__(parts[0])

    def read(data: Any, _: Any) -> tuple[Any, ...]:
        if not isinstance(data, list):
            raise _not("list", data)
        if not many and len(data) != len(parts):
            raise InputError.coded("document.list-length", value=_said(data), count=len(parts))
        if many or len(set(parts)) == 1:
            return tuple(made.structure(data, each))
        return tuple(map(made.structure, data, parts))

    return read


def _object(data: Any) -> Mapping[str, Any]:
    if not isinstance(data, Mapping):
        raise _not("object", data)
    return data


# -- texts, numbers and places ---------------------------------------------------------------


def _number(value: float) -> float | str:
    number = float(value)
    return number if math.isfinite(number) else str(number)


def _float(data: Any) -> float:
    return float(data) if data in ("inf", "-inf") else float(_finite(data))


def _finite(data: Any) -> int | float:
    if not isinstance(data, int | float) or isinstance(data, bool) or not math.isfinite(data):
        raise _not("number", data)
    return data


def _exactly(kind: type, called: str) -> Reader:
    def read(data: Any, _: Any) -> Any:
        if type(data) is not kind:
            raise _not(called, data)
        return data

    return read


def _one_of(data: Any, kind: Any) -> Any:
    known = get_args(kind)
    if data not in known:
        told: dict[str, Any] = {"value": _said(data), "known": known}
        if isinstance(data, str) and (near := nearest_to(data, known)):
            raise InputError.coded("document.misspelt-choice", near=near, **told)
        raise InputError.coded("document.unknown-choice", **told)
    return data


def _plain(data: Any) -> Any:
    if not is_plain(data):
        raise _not("value", data)
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
        raise _not("identity", data)
    return Ref(data["block"], data["name"])


def _point(data: Any) -> Point:
    if not isinstance(data, list) or len(data) != 2:
        raise _not("point", data)
    return Point(*(float(_finite(each)) for each in data))


def _curve(data: Any) -> Curve:
    # An array of objects keeps lists of unlike length, texts and true as they are.
    control = np.array(data, dtype=object)
    if not isinstance(data, list) or not {*map(type, control.flat)} <= {int, float}:
        raise _not("curve", data)
    return Curve(control.astype(float))
