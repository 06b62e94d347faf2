"""A pattern through JSON and back: equal, its proof too, in whatever process; nothing else read."""

from __future__ import annotations

import copy
import json
import math
import pickle
import random
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass, fields, replace
from functools import cache
from importlib.resources import files
from pathlib import Path
from typing import Any, ClassVar

import pytest
from every_part import BLOCK, every_part
from jsonschema import Draft202012Validator

from blockwright import (
    Affine,
    BodySheet,
    Carried,
    Dart,
    Document,
    Edge,
    Finish,
    Given,
    GivenUp,
    Guide,
    InputError,
    InputErrors,
    Mark,
    Notch,
    Note,
    Pattern,
    PatternError,
    Piece,
    PluginError,
    Point,
    Promise,
    Reason,
    Ref,
    Result,
    Stretch,
    Unit,
    Way,
    as_document,
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
from blockwright.pattern.promises.girth import LevelLine, Span
from blockwright.pattern.promises.kinds import KINDS, kernel_kind
from blockwright.pattern.record import Change, Estimate, Origin, Solved, Source
from blockwright.pattern.ref import DartJoint, Joint
from blockwright.testing.bodies import many
from elsewhere import another_process, proved, read_and_proved
from parts import parts

BLOCKS = (
    "bodice.easy", "bodice.fitted", "skirt.circle", "skirt.flared", "skirt.gored",
    "skirt.straight", "sleeve.fitted", "sleeve.straight", "trousers.straight",
)  # fmt: skip
FITTED, EASY = ("bodice.fitted", "sleeve.fitted"), ("bodice.easy", "sleeve.straight")
DRAFTED = [*((key,) for key in BLOCKS), FITTED, EASY]
BODIES, PARTS = 100, 25
FUZZED = 300
NORA = load_sheet(Path(__file__).parents[2] / "examples" / "workroom" / "nora.toml")
named = pytest.mark.parametrize("keys", DRAFTED, ids="+".join)


def drafted(keys: tuple[str, ...], sheet: BodySheet = NORA) -> Pattern:
    host = load()
    return draft([host.block(key) for key in keys], sheet)


def text_of(values: Any) -> str:
    return json.dumps(values, allow_nan=False)


@pytest.fixture(scope="module")
def elsewhere() -> Iterator[ProcessPoolExecutor]:
    with another_process() as pool:
        yield pool


def check_travels(pattern: Pattern, elsewhere: ProcessPoolExecutor) -> None:
    """Through JSON and a pickle, here and in another process: equal, and what is proved of it."""
    text = text_of(as_document(pattern))
    by_json = elsewhere.submit(read_and_proved, text)
    by_pickle = elsewhere.submit(proved, pattern)
    proof = prove(pattern)
    again = from_document(json.loads(text))
    travelled = [(again, prove(again))]
    travelled.append((pickle.loads(pickle.dumps(pattern)), pickle.loads(pickle.dumps(proof))))
    travelled += [by_json.result(), by_pickle.result()]
    for other, its_proof in travelled:
        assert other == pattern
        assert its_proof == proof
        assert its_proof.text(Unit.CM) == proof.text(Unit.CM)
        assert text_of(as_document(other)) == text


# -- there and back --------------------------------------------------------------------------


def test_the_bundled_blocks_are_all_here() -> None:
    assert set(load().blocks) == set(BLOCKS)


@pytest.mark.parametrize("part", parts(PARTS))
@named
def test_bodies_of_the_survey(
    keys: tuple[str, ...], part: int, elsewhere: ProcessPoolExecutor
) -> None:
    host = load()
    bodies = many([host.block(key) for key in keys], BODIES)[part::PARTS]
    found = 0
    for body in bodies:
        try:
            pattern = drafted(keys, body.sheet)
        except InputError:
            continue  # refused by the block
        found += 1
        check_travels(pattern, elsewhere)
        assert pattern.promises
        assert prove(pattern).held
    assert found >= len(bodies) / 2


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


@pytest.mark.parametrize("name", CHANGED)
def test_a_changed_pattern(name: str, elsewhere: ProcessPoolExecutor) -> None:
    """Its record, what it gave up and what is broken by the change are kept as well."""
    pattern = changed()[name]
    assert pattern.changes
    check_travels(pattern, elsewhere)


def test_what_was_given_up_comes_back() -> None:
    pattern = changed()["turned"]
    assert [(each.promise.kind, each.why.code) for each in pattern.given_up] == [
        ("level", "turned")
    ]
    again = from_document(json.loads(text_of(as_document(pattern))))
    assert again.given_up == pattern.given_up
    assert [piece.longer_grain for piece in again.pieces] == [
        piece.longer_grain for piece in pattern.pieces
    ]
    # Turned back, it is promised again, as it is by the pattern that was never written down.
    how = {"pressed": "start", "says": "pressed to the centre"}
    back, _ = move_dart(pattern, "back", "back dart 2", "back waist", 90.0, **how)
    back_again, _ = move_dart(again, "back", "back dart 2", "back waist", 90.0, **how)
    assert back_again == back
    assert not back.given_up


def test_one_of_every_part(elsewhere: ProcessPoolExecutor) -> None:
    pattern = every_part()
    assert prove(pattern).held
    assert {promise.kind for promise in pattern.promises} == set(KINDS)
    check_travels(pattern, elsewhere)


def test_equal_is_to_the_last_digit() -> None:
    pattern = every_part()
    values = as_document(pattern)
    for at in (("pieces", 0, "edges", 0, "curve", 0, 1), ("pieces", 0, "grain", 0)):
        bent = copy.deepcopy(values)
        place = place_of(bent["pattern"], at)
        place[0] = math.nextafter(place[0], math.inf)
        assert from_document(bent) != pattern
    fewer = copy.deepcopy(values)
    del fewer["pattern"]["promises"][-1]
    assert from_document(fewer) != pattern


def test_what_is_read_is_read_only() -> None:
    again = from_document(as_document(every_part()))
    for values in (again.measurements, again.options, again.offers):
        with pytest.raises(TypeError, match="does not support item assignment"):
            values["x"] = 1  # type: ignore[index]


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf, (1.0,), [1], {}, Point(0, 0)])
def test_an_option_that_cannot_be_written(value: object) -> None:
    with pytest.raises(PatternError, match=r"option 'odd' is .*, which cannot be written"):
        as_document(replace(every_part(), options={"odd": value}))


# -- the schema ------------------------------------------------------------------------------


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


# -- what the schema and the reader refuse ---------------------------------------------------

Place = tuple[str | int, ...]
OPEN = ("options", "values", "measurements", "notches", "allowances", "offers")
"""Objects that have whatever names there are, where they are objects."""
OPTIONAL = ("maker_unit", "finished", "proof")
"""What `write` adds to the document."""


def place_of(values: Any, at: Place) -> Any:
    for key in at:
        values = values[key]
    return values


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


WHOLE = written(every_part(), Finish())
WHOLE_TEXT = text_of(WHOLE)
PLACES = [*places(WHOLE)]
OBJECTS = [
    at for at in PLACES
    if isinstance(place_of(WHOLE, at), dict) and not is_open(at, place_of(WHOLE, at))
]  # fmt: skip


def whole() -> dict[str, Any]:
    """A copy of the whole, to be changed."""
    values = json.loads(WHOLE_TEXT)
    assert isinstance(values, dict)
    return values


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


def lines_of(values: Any) -> list[str]:
    """What the reader says is wrong; nothing where it reads a pattern."""
    try:
        from_document(values)
    except InputErrors as error:
        return error.lines
    return []


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
        (("units",), "cm"), (("version",), 3), (("format",), "blockwright"),
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


# -- reading: every fault is one line --------------------------------------------------------

PIECE: Place = ("pattern", "pieces", 0)
PROMISES: Place = ("pattern", "promises")
SEAM, TWIN, CORNER, DARTED, GIRTH, SHAPE, _, THROUGH, LEVEL = ((*PROMISES, i) for i in range(9))
ELSEWHERE = {"block": BLOCK, "name": "hemm"}
IT_HAS = (
    "; did you mean panel hem? It has 'panel hem', 'panel side', 'panel side dart mouth', "
    "'panel waist', 'panel centre'"
)
GONE = object()
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
        (*PIECE, "cut"), 0, "pattern.pieces[0]: cut of piece 'front' is 0; give how many are cut",
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


def with_fault(at: Place, value: Any) -> dict[str, Any]:
    values = whole()
    if value is GONE:
        del place_of(values, at[:-1])[at[-1]]
    else:
        place_of(values, at[:-1])[at[-1]] = value
    return values


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
    "a later version": (
        {**WHOLE, "version": 3},
        "is of version 3 in 'mm', and this reader knows version 2 in mm; draft it again",
    ),
    "the first version, which did not say its format": (
        {"version": 1, "units": "mm", "pieces": []},
        "is of version 1 in 'mm', and this reader knows version 2 in mm; draft it again",
    ),
    "another unit": (
        {**WHOLE, "units": "cm"},
        "is of version 2 in 'cm', and this reader knows version 2 in mm; draft it again",
    ),
}  # fmt: skip


@pytest.mark.parametrize("name", OTHER_FILES)
def test_another_file(name: str) -> None:
    values, line = OTHER_FILES[name]
    with pytest.raises(InputError) as caught:
        from_document(values)
    assert str(caught.value) == line


# -- kinds of promise of a plugin ------------------------------------------------------------


@dataclass(frozen=True, slots=True)
class Part:
    """A value that a plugin's promise is made of."""

    name: str
    share: float


@dataclass(frozen=True, slots=True)
class Hang(Promise):
    """A promise that a plugin adds, with fields of many forms."""

    kind: ClassVar[str] = "test.hang"
    edge: Ref
    ways: tuple[Way | Given, ...]
    at: Point | None = None
    most: float = math.inf
    parts: tuple[Part, ...] = ()
    pair: tuple[str, float] = ("", 0.0)

    def __post_init__(self) -> None:
        if self.pair[0] == "boom":
            raise LookupError("boom")

    def measure(self, pattern: Pattern) -> tuple[Result, ...]:
        long = pattern.length(self.edge)
        if self.pair[0] == "late":
            raise RuntimeError("late")
        return (Result("test.hang", self.ref, "length", (0.0, self.most), long, 0.1),)

    def carried(self, lineage: object) -> Carried:
        return Carried((self,))


def kinds(name: str) -> type[Promise] | None:
    if name == "test.gone":
        raise PluginError("kind of promise 'test.gone': it cannot be imported")
    return Hang if name == Hang.kind else kernel_kind(name)


def hung() -> Pattern:
    pattern = every_part()
    hem = Ref(BLOCK, "hem")
    full = Hang(
        Ref(BLOCK, "hang"), hem, (Way(hem), Given("rest", 5.0)), Point(1.5, 2.5), 300.0,
        (Part("upper", 0.25), Part("lower", 0.75)), ("so", 1.0),
    )  # fmt: skip
    return replace(pattern, promises=(*pattern.promises, full, Hang(Ref(BLOCK, "bare"), hem, ())))


def test_a_kind_of_a_plugin_comes_back() -> None:
    values = json.loads(text_of(as_document(hung())))
    assert values["pattern"]["promises"][-1]["most"] == "inf"
    again = from_document(values, kinds)
    assert again == hung()
    assert prove(again) == prove(hung())
    validator().validate(values)
    # The kernel's own converter was left as it was.
    assert [line.partition(":")[0] for line in lines_of(values)] == [
        "pattern.promises[10]",
        "pattern.promises[11]",
    ]


@pytest.mark.parametrize(
    ("key", "value", "line"),
    [
        ("kind", "test.gone", ": kind of promise 'test.gone': it cannot be imported"),
        ("kind", "test.hand", ": no kind of promise is called 'test.hand'; install the plugin that "
         "has it"),
        ("most", None, ".most: null is no number"),
        ("least", 1.0, ": has 'least', which is not known there"),
        ("at", [1.0, "inf"], ".at: 'inf' is no number"),
        ("parts", [{"name": "a", "share": 0.5}, {"name": "b"}], ".parts[1].share: is missing"),
        ("pair", ["boom", 1.0], ": LookupError: boom"),
        ("pair", ["late", 1.0], ": test.hang 'hang': cannot be measured: RuntimeError: late"),
        ("pair", [1.0, "boom"], ".pair: 1.0 is no text"),
        ("edge", {"block": "x", "name": "hem"}, ": test.hang 'hang': test.panel has no edge 'hem'; "
         "it has 'panel hem', 'panel side', 'panel side dart mouth', 'panel waist', "
         "'panel centre'"),
    ],
)  # fmt: skip
def test_a_fault_in_a_plugins_promise(key: str, value: Any, line: str) -> None:
    values = json.loads(text_of(as_document(hung())))
    values["pattern"]["promises"][10][key] = value
    with pytest.raises(InputErrors) as caught:
        from_document(values, kinds)
    assert caught.value.lines == [f"pattern.promises[10]{line}"]


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
