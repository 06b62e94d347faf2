"""Each fault of a document is told in one line that says where it is."""

from __future__ import annotations

import math
from typing import Any

import pytest
from document_samples import GONE, WHOLE, Place, lines_of, place_of, whole, with_fault
from every_part import BLOCK

from blockwright import (
    InputError,
    InputErrors,
    from_document,
)

PIECE: Place = ("pattern", "pieces", 0)
PROMISES: Place = ("pattern", "promises")
SEAM, TWIN, CORNER, DARTED, GIRTH, SHAPE, _, THROUGH, LEVEL = ((*PROMISES, i) for i in range(9))
ELSEWHERE = {"block": BLOCK, "name": "hemm"}
IT_HAS = (
    "; did you mean panel hem? It has 'panel hem', 'panel side', 'panel side dart mouth', "
    "'panel waist', 'panel centre'"
)
FAULTS: dict[str, tuple[Place, Any, str]] = {
    "no pattern": (("pattern",), GONE, "pattern: is missing"),
    "no object": (("pattern",), None, "pattern: null is no object"),
    "a name": ((*PIECE, "name"), 7, "pattern.pieces[0].name: 7 is no text"),
    "a count": ((*PIECE, "cut"), 2.0, "pattern.pieces[0].cut: 2.0 is no whole number"),
    "yes or no": (
        (*PIECE, "mirrored"), 1, "pattern.pieces[0].mirrored: 1 is neither true nor false",
    ),
    "a length": (
        (*PIECE, "notches", 0, "along"), "60",
        "pattern.pieces[0].notches[0].along: '60' is no number",
    ),
    "nan": (
        ("pattern", "measurements", "hip_girth"), math.nan,
        "pattern.measurements['hip_girth']: nan is no number",
    ),
    "a place": (
        (*PIECE, "darts", 0, "apex"), [1, 2, 3],
        "pattern.pieces[0].darts[0].apex: a list of 3 is no point; give x and y, mm",
    ),
    "a place of two letters": (
        (*PIECE, "darts", 0, "apex"), "xy",
        "pattern.pieces[0].darts[0].apex: 'xy' is no point; give x and y, mm",
    ),
    "a grain": (
        (*PIECE, "grain"), [[0, 0]], "pattern.pieces[0].grain: a list of 1 is no list of 2",
    ),
    "a curve": (
        (*PIECE, "edges", 0, "curve"), [[[0, 0], [1, 0], [2, 0], [3, "0"]]],
        "pattern.pieces[0].edges[0].curve: a list of 1 is no curve; give pieces of four points, "
        "x and y, mm",
    ),
    "a curve of three points": (
        (*PIECE, "edges", 0, "curve"), [[[0, 0], [1, 0], [2, 0]]],
        "pattern.pieces[0].edges[0].curve: control points have shape (1, 3, 2), not (n, 4, 2)",
    ),
    "a ragged curve": (
        (*PIECE, "edges", 0, "curve"), [[[0, 0], [1]]],
        "pattern.pieces[0].edges[0].curve: a list of 1 is no curve; give pieces of four points, "
        "x and y, mm",
    ),
    "a role": (
        (*PIECE, "edges", 0, "role"), "hemm",
        "pattern.pieces[0].edges[0].role: 'hemm' is none of seam, armhole, neck, waist, hem, fold, "
        "dart; did you mean hem?",
    ),
    "a list": (("pattern", "marks"), {}, "pattern.marks: an object is no list"),
    "a member": (("pattern", "marks"), [5], "pattern.marks[0]: 5 is no object"),
    "a missing key": (
        (*PIECE, "edges", 1, "curve"), GONE, "pattern.pieces[0].edges[1].curve: is missing",
    ),
    "an extra key": (
        (*PIECE, "edges", 0, "rôle"), "hem",
        "pattern.pieces[0].edges[0]: has 'rôle', which is not known there; did you mean role?",
    ),
    "an identity": (
        (*TWIN, "edge"), "hem", "pattern.promises[1].edge: 'hem' is no object",
    ),
    "no block": (
        (*TWIN, "edge", "block"), GONE,
        "pattern.promises[1].edge: is no identity; give the key of its block and its own name, two "
        "texts",
    ),
    "a name that is no text": (
        (*TWIN, "edge", "name"), 7,
        "pattern.promises[1].edge: is no identity; give the key of its block and its own name, two "
        "texts",
    ),
    "an option": (
        ("pattern", "options", "ease"), [40.0],
        "pattern.options['ease']: a list of 1 is neither text, a number, true, false nor null",
    ),
    "a step": ((*SEAM, "a", 0), "side", "pattern.promises[0].a[0]: 'side' is no object"),
    "an unknown kind": (
        (*SEAM, "kind"), "seem",
        "pattern.promises[0]: no kind of promise is called 'seem'; did you mean seam?",
    ),
    "a kind of a plugin": (
        (*SEAM, "kind"), "test.hang",
        "pattern.promises[0]: no kind of promise is called 'test.hang'; install the plugin that "
        "has it",
    ),
    "no kind": ((*SEAM, "kind"), GONE, "pattern.promises[0]: does not say its kind"),
    "a kind given up": (
        ("pattern", "given_up", 0, "promise", "kind"), "levl",
        "pattern.given_up[0].promise: no kind of promise is called 'levl'; did you mean level?",
    ),
    # All its parts can be read, and it is no pattern.
    "no edge of a shape": (
        (*SHAPE, "edge"), ELSEWHERE,
        f"pattern.promises[5]: shape 'hem': test.panel has no edge 'panel hemm'{IT_HAS}",
    ),
    "no edge of a seam": (
        (*SEAM, "a", 0, "edge"), ELSEWHERE,
        f"pattern.promises[0]: seam 'side': test.panel has no edge 'panel hemm'{IT_HAS}",
    ),
    "no edge of a corner": (
        (*CORNER, "joints", 0, "second"), ELSEWHERE,
        f"pattern.promises[2]: corner 'hem at the centre': test.panel has no edge 'panel hemm'"
        f"{IT_HAS}",
    ),
    "no edge of a corner at a dart": (
        (*DARTED, "joints", 0, "edge"), ELSEWHERE,
        f"pattern.promises[3]: corner 'side over the dart': test.panel has no edge 'panel hemm'"
        f"{IT_HAS}",
    ),
    "no piece of a girth": (
        (*GIRTH, "levels", 0, "piece", "name"), "frond",
        "pattern.promises[4]: girth 'hip': test.panel has no piece 'panel frond'; did you mean "
        "panel front? It has 'panel front'",
    ),
    "no mark": (
        (*THROUGH, "marks", 0, "name"), "muddle",
        "pattern.promises[7]: through 'hem': test.panel has no mark 'panel muddle'; did you mean "
        "panel middle? It has 'panel middle'",
    ),
    "another block": (
        (*LEVEL, "edge", "block"), "test.sleeve",
        "pattern.promises[8]: level 'hem': test.panel has no edge 'hem'; it has 'panel hem', "
        "'panel side', 'panel side dart mouth', 'panel waist', 'panel centre'",
    ),
    "no edge of an offer": (
        ("pattern", "offers", "side", 0, "edge"), ELSEWHERE,
        f"pattern.offers['side']: test.panel has no edge 'panel hemm'{IT_HAS}",
    ),
    "no edge of a notch": (
        (*PIECE, "notches", 0, "edge"), "sides",
        "pattern.pieces[0]: piece 'front' has no edge 'sides'; did you mean side? It has 'hem', "
        "'side', 'side dart mouth', 'waist', 'centre'",
    ),
    "a notch off its edge": (
        (*PIECE, "notches", 0, "along"), 291.0,
        "pattern.pieces[0]: notch 'hip' at 291.0 mm is off its edge 'side', 290.0 mm long",
    ),
    "no mouth between the stretches": (
        (*PIECE, "darts", 0, "mouth"), "mouth",
        "pattern.pieces[0]: two edges are called 'side'; promises go by edge name, and only "
        "stretches with darts between them share one",
    ),
    "none cut": (
        (*PIECE, "cut"), 0,
        "pattern.pieces[0]: cut of piece 'front' is 0; give how many are cut, a whole number from "
        "1 to 100",
    ),
    "a name of two lines": (
        (*PIECE, "edges", 0, "name"), "he\nm",
        "pattern.pieces[0]: a name of piece 'front' is 'he\\nm'; give text of one line",
    ),
    "no edges": (
        (*PIECE, "edges"), [],
        "pattern.pieces[0]: piece 'front' has no edge 'side'; it has none",
    ),
    "a way to nowhere": (
        (*SHAPE, "toward"), [0, 0],
        "pattern.promises[5]: shape 'hem': cannot be measured: ZeroDivisionError: float division "
        "by zero",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", FAULTS)
def test_a_fault_is_one_line(name: str) -> None:
    at, value, line = FAULTS[name]
    with pytest.raises(InputErrors) as caught:
        from_document(with_fault(at, value))
    assert caught.value.lines == [line]
    assert str(caught.value) == line


def test_every_fault_has_its_line() -> None:
    values = with_fault((*PIECE, "name"), 7)
    place_of(values, SEAM)["kind"] = "seem"
    place_of(values, (*PIECE, "edges", 0))["curve"] = []
    del place_of(values, (*PIECE, "edges", 2))["name"]
    with pytest.raises(InputErrors) as caught:
        from_document(values)
    assert sorted(line.partition(": ")[0] for line in caught.value.lines) == [
        "pattern.pieces[0].edges[0].curve",
        "pattern.pieces[0].edges[2].name",
        "pattern.pieces[0].name",
        "pattern.promises[0]",
    ]


def test_two_pieces_of_one_name() -> None:
    values = whole()
    pieces = values["pattern"]["pieces"]
    pieces.append(pieces[0])
    assert lines_of(values) == ["pattern.pieces[1]: two pieces are called 'front'"]


OTHER_FILES: dict[str, tuple[Any, str]] = {
    "a list": ([], "is not a blockwright pattern: it is a value of type list"),
    "nothing": (None, "is not a blockwright pattern: it is None"),
    "an empty object": ({}, "is not a blockwright pattern: format is None"),
    "another format": (
        {**WHOLE, "format": "song"}, "is not a blockwright pattern: format is 'song'",
    ),
    "an earlier version": (
        {**WHOLE, "version": 2},
        "is of version 2 in 'mm', and this reader knows version 4 in mm; draft it again",
    ),
    "the first version, which did not say its format": (
        {"version": 1, "units": "mm", "pieces": []},
        "is of version 1 in 'mm', and this reader knows version 4 in mm; draft it again",
    ),
    "another unit": (
        {**WHOLE, "units": "cm"},
        "is of version 4 in 'cm', and this reader knows version 4 in mm; draft it again",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", OTHER_FILES)
def test_another_file(name: str) -> None:
    values, line = OTHER_FILES[name]
    with pytest.raises(InputError) as caught:
        from_document(values)
    assert str(caught.value) == line
