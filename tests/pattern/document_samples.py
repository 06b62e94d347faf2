"""Patterns that are written as documents, and one whole document with places to spoil."""

from __future__ import annotations

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest
from every_part import every_part
from jsonschema import Draft202012Validator

from blockwright import (
    BodySheet,
    Document,
    Finish,
    InputErrors,
    Pattern,
    Unit,
    draft,
    finish_all,
    from_document,
    load,
    load_sheet,
    move_dart,
    prove,
    shorten_dart,
    spread,
    take_in,
)
from blockwright.formats.json import write
from blockwright.pattern.document.document import schema

BLOCKS = (
    "bodice.easy", "bodice.fitted", "skirt.circle", "skirt.flared", "skirt.gored",
    "skirt.straight", "sleeve.fitted", "sleeve.straight", "trousers.straight",
)  # fmt: skip
FITTED, EASY = ("bodice.fitted", "sleeve.fitted"), ("bodice.easy", "sleeve.straight")
DRAFTED = [*((key,) for key in BLOCKS), FITTED, EASY]
NORA = load_sheet(Path(__file__).parents[2] / "examples" / "workroom" / "nora.toml")
named = pytest.mark.parametrize("keys", DRAFTED, ids="+".join)


def drafted(keys: tuple[str, ...], sheet: BodySheet = NORA) -> Pattern:
    host = load()
    return draft([host.block(key) for key in keys], sheet)


def text_of(values: Any) -> str:
    return json.dumps(values, allow_nan=False)


@cache
def changed() -> dict[str, Pattern]:
    """Patterns that were changed, one of which gave promises up and has a shorter grain."""
    skirt, trousers, bodice = (
        drafted(keys) for keys in (("skirt.straight",), ("trousers.straight",), FITTED)
    )
    how = {"pressed": "start", "says": "pressed up"}
    turned, _ = move_dart(trousers, "back", "back dart 2", "back inside leg", 300.0, **how)
    split, _ = move_dart(bodice, "front", "bust dart", "front shoulder", 50.0, share=0.5,
                         name="shoulder dart", **how)  # fmt: skip
    shorter, _ = shorten_dart(split, "front", "front waist dart", 15.0)
    wide, _ = spread(skirt, "front", "front dart", "front hem", 100.0)
    slim, _ = take_in(skirt, "front", "front dart", "front side", 150.0)
    return {"turned": turned, "split and shortened": shorter, "spread": wide, "taken in": slim}


CHANGED = ("turned", "split and shortened", "spread", "taken in")


@cache
def validator() -> Draft202012Validator:
    return Draft202012Validator(json.loads(schema()))


def valid(values: Any) -> bool:
    return validator().is_valid(values)


def written(pattern: Pattern, finish: Finish | None = None) -> dict[str, Any]:
    """What a file of the pattern says."""
    cut = finish_all(pattern, finish) if finish else ()
    values = json.loads(write(Document(pattern, prove(pattern), Unit.CM, cut)))
    assert isinstance(values, dict)
    return values


Place = tuple[str | int, ...]


def place_of(values: Any, at: Place) -> Any:
    for key in at:
        values = values[key]
    return values


WHOLE = written(every_part(), Finish())
WHOLE_TEXT = text_of(WHOLE)
GONE = object()


def whole() -> dict[str, Any]:
    """A copy of the whole, to be changed."""
    values = json.loads(WHOLE_TEXT)
    assert isinstance(values, dict)
    return values


def lines_of(values: Any) -> list[str]:
    """What the reader says is wrong; nothing where it reads a pattern."""
    try:
        from_document(values)
    except InputErrors as error:
        return error.lines
    return []


def with_fault(at: Place, value: Any) -> dict[str, Any]:
    values = whole()
    if value is GONE:
        del place_of(values, at[:-1])[at[-1]]
    else:
        place_of(values, at[:-1])[at[-1]] = value
    return values
