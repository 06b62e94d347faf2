"""A pattern through JSON and back: equal, its proof too, in whatever process."""

from __future__ import annotations

import copy
import json
import math
import pickle
from collections.abc import Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import replace

import pytest
from document_samples import BLOCKS, CHANGED, changed, drafted, named, place_of, text_of
from every_part import every_part

from blockwright import (
    GivenUp,
    InputError,
    Pattern,
    PatternError,
    Point,
    Reason,
    Unit,
    as_document,
    from_document,
    load,
    move_dart,
    prove,
)
from blockwright.pattern.promises.kinds import KINDS
from blockwright.testing.bodies import many
from elsewhere import another_process, proved, read_and_proved
from parts import parts

BODIES, PARTS = 100, 25


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


def test_values_of_a_reason_come_back() -> None:
    """Numbers, texts, identities and tuples of these."""
    pattern = every_part()
    ref = pattern.promises[0].ref
    values = {"edge": ref, "names": ("a", ref, "b"), "far": 1.5, "often": 2, "says": "so"}
    given_up = GivenUp(pattern.promises[0], Reason("test.reason", values), 0)
    changed = replace(pattern, given_up=(given_up,))
    again = from_document(json.loads(text_of(as_document(changed))))
    assert again.given_up == (given_up,)
    assert dict(again.given_up[0].why.values) == values
