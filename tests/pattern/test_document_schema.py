"""The schema of a document: what is written is valid, and it has every field of the values."""

from __future__ import annotations

import json
from dataclasses import fields, replace
from importlib.resources import files
from pathlib import Path

import pytest
from document_samples import CHANGED, changed, drafted, named, text_of, validator, written
from every_part import every_part
from jsonschema import Draft202012Validator

from blockwright import (
    Affine,
    Dart,
    Edge,
    Finish,
    Given,
    GivenUp,
    Guide,
    Mark,
    Notch,
    Note,
    Pattern,
    Piece,
    Reason,
    Stretch,
    Way,
    as_document,
)
from blockwright.pattern.document.document import schema
from blockwright.pattern.promises.girth import LevelLine, Span
from blockwright.pattern.promises.kinds import KINDS, kernel_kind
from blockwright.pattern.record import Change, Estimate, Origin, Solved, Source
from blockwright.pattern.ref import DartJoint, Joint


def test_it_is_a_schema_and_lies_in_the_package() -> None:
    Draft202012Validator.check_schema(json.loads(schema()))
    assert files("blockwright.pattern.document").joinpath("pattern.schema.json").is_file()
    pyproject = (Path(__file__).parents[2] / "pyproject.toml").read_text(encoding="utf-8")
    assert '"kernel/blockwright"' in pyproject  # all that lies in it is built into the wheel


@named
def test_what_is_written_is_valid(keys: tuple[str, ...]) -> None:
    pattern = drafted(keys)
    validator().validate(json.loads(text_of(as_document(pattern))))
    values = written(pattern, Finish())
    assert len(values["finished"]) == len(pattern.pieces)
    assert any(piece["notches"] for piece in values["finished"])
    validator().validate(values)


@pytest.mark.parametrize("name", CHANGED)
def test_a_changed_pattern_is_valid(name: str) -> None:
    pattern = changed()[name]
    validator().validate(written(pattern, Finish(notch_clear=-1.0)))
    assert name != "turned" or written(pattern)["proof"]["given_up"]


def test_one_of_every_part_is_valid() -> None:
    validator().validate(written(every_part(), Finish()))


def test_a_broken_proof_is_valid() -> None:
    """Also where nothing was measured, and where what was wanted has no end."""
    pattern = every_part()
    (piece,) = pattern.pieces
    broken = replace(pattern, pieces=(replace(piece, cut=1, mirrored=False, notches=()),))
    values = written(broken)
    results = values["proof"]["results"]
    assert not values["proof"]["held"]
    assert None in [result["measured"] for result in results]
    assert None in [result["wanted"][1] for result in results]
    assert any(result["why"] for result in results)
    validator().validate(values)


DATACLASSES: dict[str, type] = {
    "pattern": Pattern, "piece": Piece, "edge": Edge, "dart": Dart, "notch": Notch,
    "guide": Guide, "note": Note, "mark": Mark, "solved": Solved, "estimate": Estimate,
    "source": Source, "origin": Origin, "change": Change, "given_up": GivenUp, "way": Way,
    "given": Given, "joint": Joint, "dart_joint": DartJoint, "span": Span, "lay": Affine,
    "level_line": LevelLine, "reason": Reason,
    **{kind: kernel_kind(kind) for kind in KINDS},
}  # fmt: skip


@pytest.mark.parametrize("name", DATACLASSES)
def test_it_has_every_field_and_no_other(name: str) -> None:
    part = json.loads(schema())["$defs"][name]
    names = {field.name for field in fields(DATACLASSES[name])}
    names |= {"kind"} if name in KINDS else set()
    assert set(part["properties"]) == set(part["required"]) == names
    assert part["additionalProperties"] is False


def test_it_knows_every_kind_of_the_kernel() -> None:
    parts_of = json.loads(schema())["$defs"]
    listed = [each["$ref"].rpartition("/")[2] for each in parts_of["promise"]["oneOf"]]
    assert listed == [*KINDS, "added"]
    assert parts_of["added"]["properties"]["kind"]["not"]["enum"] == [*KINDS]
    assert {f.name for f in fields(Stretch)} == set(
        parts_of["seam"]["properties"]["stretches"]["items"]["properties"]
    )
