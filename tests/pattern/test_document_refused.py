"""What the schema refuses the reader refuses too, wherever in a document it stands."""

from __future__ import annotations

import copy
import json
import math
import random
from collections.abc import Iterator
from typing import Any

import pytest
from document_samples import (
    EASY,
    WHOLE,
    Place,
    changed,
    drafted,
    lines_of,
    place_of,
    text_of,
    valid,
    whole,
)
from every_part import every_part

from blockwright import (
    InputError,
    InputErrors,
    Pattern,
    as_document,
    from_document,
)
from parts import parts

FUZZED = 300
OPEN = (
    "options",
    "values",
    "measurements",
    "notches",
    "allowances",
    "offers",
    "eases",
    "chosen",
    "unused",
)
"""Objects that have whatever names there are, where they are objects."""
OPTIONAL = ("maker_unit", "finished", "proof")
"""What `write` adds to the document."""


def places(values: Any, at: Place = ()) -> Iterator[Place]:
    """Every place in a document, the first of those that are alike."""
    yield at
    if isinstance(values, dict):
        for key, value in values.items():
            yield from places(value, (*at, key))
    elif isinstance(values, list):
        seen = set()
        for i, value in enumerate(values):
            like = (type(value), *(value if isinstance(value, dict) else ()))
            kind = value.get("kind") if isinstance(value, dict) else None
            if (like, kind) not in seen:
                seen.add((like, kind))
                yield from places(value, (*at, i))


def said(at: Place) -> str:
    """A place as messages have it."""
    open_before = [False, *(key in OPEN for key in at)]
    return "".join(
        f"[{key}]" if isinstance(key, int) else f"[{key!r}]" if is_open else f".{key}"
        for key, is_open in zip(at, open_before, strict=False)
    ).removeprefix(".")


def is_open(at: Place, values: Any) -> bool:
    """Whether it is an object of whatever names."""
    return bool(at) and at[-1] in OPEN and isinstance(values, dict)


PLACES = [*places(WHOLE)]
OBJECTS = [
    at for at in PLACES
    if isinstance(place_of(WHOLE, at), dict) and not is_open(at, place_of(WHOLE, at))
]  # fmt: skip


def valid_on_the_way(values: dict[str, Any], at: Place) -> bool:
    """Whether a document is valid as far as a place: lists beside the way to it are left out."""
    kept = {key: value for key, value in values.items() if key not in OPTIONAL or key == at[0]}
    for name in kept.keys() & {"pattern", "proof"}:
        if isinstance(kept[name], dict):
            kept[name] = {
                key: _on_the_way(value, at, (name, key)) for key, value in kept[name].items()
            }
    return valid(kept)


def _on_the_way(value: Any, at: Place, here: Place) -> Any:
    if not isinstance(value, list):
        return value
    if at[:2] != here:
        return []
    return [value[at[2]]] if len(at) > 2 else value


def test_there_are_many_places() -> None:
    assert len(OBJECTS) > 60
    assert len(PLACES) > 300
    assert valid(WHOLE)
    assert lines_of(WHOLE) == []


def test_what_is_left_out_beside_the_way_is_not_missed() -> None:
    for at in PLACES[1:]:
        assert valid_on_the_way(WHOLE, at), at


NO_IDENTITY = "is no identity; give the key of its block and its own name, two texts"


def test_an_extra_key_is_refused_everywhere() -> None:
    for at in OBJECTS:
        values = whole()
        place_of(values, at)["hue"] = 1
        assert not (valid_on_the_way(values, at) if at else valid(values)), at
        if at[:1] != ("pattern",):
            continue
        (line,) = lines_of(values)
        place, _, what = line.partition(": ")
        if set(place_of(WHOLE, at)) == {"block", "name"}:
            assert what == NO_IDENTITY
            assert said(at).startswith(place)  # one in a list of values is told with the list
        else:
            assert (place, what) == (said(at), "has 'hue', which is not known there")


def test_a_missing_key_is_refused_everywhere() -> None:
    missing = 0
    for at in OBJECTS:
        for key in place_of(WHOLE, at):
            values = whole()
            del place_of(values, at)[key]
            is_valid = valid_on_the_way(values, at) if at else valid(values)
            assert is_valid == (not at and key in OPTIONAL), (at, key)
            if at[:1] == ("pattern",):
                lines = lines_of(values)
                assert lines, (at, key)  # an identity or a kind has words of its own
                missing += lines == [f"{said((*at, key))}: is missing"]
    assert missing > 50


OTHERS: tuple[Any, ...] = ("so", 7.5, 7, True, None, [], {}, ["so"], {"so": 1})


@pytest.mark.parametrize("part", parts(3))
def test_a_wrong_type_is_refused_everywhere(part: int) -> None:
    """What the schema refuses in a pattern the reader refuses too, with a line that says where."""
    refused = 0
    for number, at in enumerate(PLACES[1:]):
        for other in OTHERS[(number + part) % 3 :: 3]:
            if isinstance(other, type(place_of(WHOLE, at))):
                continue
            values = whole()
            place_of(values, at[:-1])[at[-1]] = other
            if valid_on_the_way(values, at):
                continue
            refused += 1
            if at[0] != "pattern":
                continue
            lines = lines_of(values)
            assert lines, (at, other)
            for line in lines:
                place, colon, what = line.partition(": ")
                assert colon
                assert what
                # A point or a curve is told as a whole, and a list by its wrong members.
                assert said(at).startswith(place) or place.startswith(said(at)), (at, other, line)
    assert refused > 500


def test_the_schema_says_no_where_the_reader_does() -> None:
    """Whole documents with a slip deep within, as a person would look for it."""
    for at, value in (
        (("units",), "cm"), (("version",), 2), (("format",), "blockwright"),
        (("maker_unit",), "ell"), (("pattern", "pieces", 0, "edges", 0, "role"), "seem"),
        (("pattern", "pieces", 0, "darts", 0, "pressed"), "up"),
        (("pattern", "pieces", 0, "cut"), 0), (("pattern", "pieces", 0, "grain"), [[0, 0]]),
        (("pattern", "pieces", 0, "notches", 0, "count"), 10),
        (("pattern", "pieces", 0, "edges", 0, "curve"), [[[0, 0], [1, 0], [2, 0]]]),
        (("pattern", "pieces", 0, "label_at"), [0, "inf"]),
        (("pattern", "measurements", "hip_girth"), "inf"),
        (("pattern", "promises", 0, "ease"), [0, "infinite"]),
        (("pattern", "promises", 0, "kind"), "sea"), (("proof", "results", 0, "quantity"), "mass"),
        (("finished", 0, "notches", 0, "kind"), "slot"),
    ):  # fmt: skip
        values = whole()
        place_of(values, at[:-1])[at[-1]] = value
        assert valid(values) == (value == "sea"), at  # which a plugin may have


# -- whatever a file says --------------------------------------------------------------------

ODD: tuple[Any, ...] = (
    None, True, False, 0, -1, 2, 1.5, -1e308, 1e200, 1e-320, 10**400, "", "so", "inf", "-inf",
    "nan", math.nan, math.inf, [], {}, [1, 2], [[0.0, 0.0]], {"block": "b", "name": "n"}, "\x00",
    "a\nb", "x" * 5000, {"kind": "seam"}, [[[[0, 0], [1, 1], [2, 2], [3, 3]]]],
)  # fmt: skip


def slipped(values: dict[str, Any], draw: random.Random) -> tuple[dict[str, Any], str]:
    """The document with something deleted, replaced or doubled somewhere, and which."""
    values = copy.deepcopy(values)
    at: Any = values if draw.random() < 0.05 else values["pattern"]
    while True:
        key = draw.choice([*at] if isinstance(at, dict) else range(len(at)))
        if not isinstance(at[key], dict | list) or not at[key] or draw.random() < 0.12:
            break
        at = at[key]
    how = draw.choice(("delete", "replace", "double"))
    if how == "delete":
        del at[key]
    elif how == "replace":
        at[key] = copy.deepcopy(draw.choice(ODD))
    elif isinstance(at, list):
        at.insert(draw.randrange(len(at) + 1), copy.deepcopy(at[key]))
    else:
        at[f"{key}{draw.choice(('', '2', '_'))}"] = copy.deepcopy(at[key])
    return values, f"{how} {key}"


def test_it_is_read_or_refused() -> None:
    """A document with a slip is a pattern, or refused in lines; nothing else is raised."""
    draw = random.Random(1)
    turned = changed()["turned"]
    documents = [json.loads(text_of(as_document(p))) for p in (every_part(), turned, drafted(EASY))]
    read = refused = 0
    for number in range(FUZZED):
        values, slip = slipped(documents[number % len(documents)], draw)
        try:
            pattern = from_document(values)
        except InputError as error:
            refused += 1
            lines = error.lines if isinstance(error, InputErrors) else [str(error)]
            assert lines
            for line in lines:
                assert line.isprintable(), slip
                assert line.startswith(("pattern", "is of ", "is not ")), slip
                assert len(line) < 1200, slip
        else:
            read += 1
            assert isinstance(pattern, Pattern)
            assert text_of(as_document(pattern))
    assert read > FUZZED / 10
    assert refused > FUZZED / 3
