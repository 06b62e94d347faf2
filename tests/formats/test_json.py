"""The JSON, read back by the standard library alone."""

from __future__ import annotations

import json
import math
from dataclasses import replace

import pytest
from format_samples import BLOCKS, BODIES, bent, document, estimated

from blockwright import Finish, PatternError, finish_all
from blockwright.formats import json as our_json
from blockwright.formats.json_read import echo, read


def strictly(data: bytes) -> dict:
    def refuse(word: str) -> None:
        raise AssertionError(f"{word} is not JSON")

    return json.loads(data.decode("utf-8"), parse_constant=refuse)


def bezier_point(control, t: float) -> complex:
    a, b, c, d = (complex(*p) for p in control)
    s = 1.0 - t
    return s**3 * a + 3 * s * s * t * b + 3 * s * t * t * c + t**3 * d


@pytest.mark.parametrize("body", BODIES)
@pytest.mark.parametrize("block", BLOCKS)
def test_outline_and_lengths_come_back(block: str, body: str) -> None:
    whole = document(block, BODIES[body])
    values = strictly(our_json.write(whole))
    (piece,) = values["pattern"]["pieces"]
    for edge, drawn in zip(piece["edges"], whole.pattern.pieces[0].edges, strict=True):
        assert (edge["name"], edge["role"]) == (drawn.name, drawn.role)
        assert edge["curve"] == drawn.curve.control.tolist()  # to the last digit
        steps = [bezier_point(c, i / 200) for c in edge["curve"] for i in range(201)]
        length = math.fsum(abs(q - p) for p, q in zip(steps, steps[1:], strict=False))
        assert length == pytest.approx(drawn.curve.length, abs=0.01)
    ends = [edge["curve"][-1][3] for edge in piece["edges"]]
    starts = [edge["curve"][0][0] for edge in piece["edges"]]
    for end, start in zip(ends, starts[1:] + starts[:1], strict=True):
        assert math.dist(end, start) < 1e-3


def test_all_that_was_drafted_is_there() -> None:
    whole = document(values=estimated("middling"), name="Zoë")
    values = strictly(our_json.write(whole))
    assert (values["format"], values["version"]) == ("blockwright pattern", 4)
    assert (values["units"], values["maker_unit"]) == ("mm", "cm")
    pattern = values["pattern"]
    assert (pattern["block"], pattern["body"]) == ("sleeve.fitted", "Zoë")
    assert pattern["measurements"] == dict(whole.pattern.measurements)
    assert pattern["options"] == dict(whole.pattern.options)
    assert {m["name"] for m in pattern["marks"]} == {m.name for m in whole.pattern.marks}
    assert all(m["rule"] for m in pattern["marks"])
    (piece,) = pattern["pieces"]
    assert (piece["cut"], piece["mirrored"]) == (2, True)
    assert [n["name"] for n in piece["notches"]] == ["front notch", "crown notch", "back notch"]
    assert [g["name"] for g in piece["guides"]] == ["bicep line", "elbow line"]
    assert {n["words"] for n in piece["notes"]} == {"front", "back"}
    (dart,) = piece["darts"]
    (mouth,) = (i for i, edge in enumerate(piece["edges"]) if edge["name"] == dart["mouth"])
    before, after = piece["edges"][mouth - 1], piece["edges"][mouth + 1]
    assert before["name"] == after["name"] == "back underarm"  # one edge, a dart in it
    legs = [math.dist(dart["apex"], leg) for leg in (before["curve"][-1][3], after["curve"][0][0])]
    assert legs[0] == pytest.approx(legs[1], abs=0.1)
    assert [(p["kind"], p["ref"]["name"]) for p in pattern["promises"]] == [
        (promise.kind, promise.name) for promise in whole.pattern.promises
    ]
    assert pattern["solved"][0]["name"] == "cap height"
    assert {e["name"] for e in pattern["estimates"]} == {
        "front_armhole_length",
        "back_armhole_length",
        "upper_arm_length",
    }
    assert values["finished"] == []
    proof = values["proof"]
    assert proof["held"] is True
    assert [(r["code"], r["subject"]["name"], r["measured"]) for r in proof["results"]] == [
        (result.code, result.subject.name, result.measured) for result in whole.proof.results
    ]
    assert [e["name"] for e in proof["estimates"]] == [e["name"] for e in pattern["estimates"]]
    assert proof["solved"][0]["name"] == "cap height"


@pytest.mark.parametrize("body", BODIES)
@pytest.mark.parametrize("block", BLOCKS)
def test_it_is_read_again_whole(block: str, body: str) -> None:
    whole = document(block, BODIES[body])
    data = our_json.write(whole)
    again = read(data, "a.json")
    assert again.pattern == whole.pattern
    assert (again.pieces, again.unit, again.not_understood) == (
        whole.pattern.pieces,
        whole.unit,
        (),
    )
    assert our_json.write(replace(whole, pattern=again.pattern)) == data


def test_what_is_cut() -> None:
    whole = document()
    cut = finish_all(whole.pattern, Finish())
    data = our_json.write(replace(whole, finished=cut))
    (written,), (piece,) = strictly(data)["finished"], cut
    assert (written["block"], written["name"], written["label"]) == (
        "sleeve.fitted", "sleeve", "sleeve",
    )  # fmt: skip
    for edge, drawn in zip(written["cut"], piece.cut, strict=True):
        assert (edge["name"], edge["role"]) == (drawn.name, drawn.role)
        assert edge["curve"] == drawn.curve.control.tolist()
    assert [(n["name"], n["at"], n["kind"]) for n in written["notches"]] == [
        (notch.name, [*notch.at], notch.kind) for notch in piece.notches
    ]
    assert [(n["depth"], n["width"], n["inward"]) for n in written["notches"]] == [
        (notch.depth, notch.width, [*notch.inward]) for notch in piece.notches
    ]
    assert [(d["name"], d["at"], d["diameter"]) for d in written["drills"]] == [
        (drill.name, [*drill.at], drill.diameter) for drill in piece.drills
    ]
    # The pattern in the same file is still the one that is sewn, and the echo what is cut.
    assert read(data, "a.json").pattern == whole.pattern
    assert echo(data).outlines == (tuple(edge.curve for edge in piece.cut),)


def test_unproved() -> None:
    values = strictly(our_json.write(bent(document())))
    assert values["proof"]["held"] is False
    broken = [result for result in values["proof"]["results"] if not result["held"]]
    assert broken
    assert all(result["subject"]["block"] == "sleeve.fitted" for result in broken)


@pytest.mark.parametrize("odd", [math.nan, math.inf, -math.inf])
def test_no_number_that_json_has_not(odd: float) -> None:
    whole = document()
    results = (replace(whole.proof.results[0], measured=odd, wanted=(0.0, odd)),)
    values = strictly(our_json.write(replace(whole, proof=replace(whole.proof, results=results))))
    assert values["proof"]["results"][0]["measured"] is None
    assert values["proof"]["results"][0]["wanted"] == [0.0, None]
    for option in (odd, (odd, [odd])):
        strange = replace(whole.pattern, options={"odd": option})
        with pytest.raises(PatternError, match="option 'odd' is"):
            our_json.write(replace(whole, pattern=strange))


def test_a_range_without_an_end() -> None:
    """In the pattern it is text, so that it comes back."""
    whole = document()
    (first, *rest) = (p for p in whole.pattern.promises if p.kind == "girth")
    wide = replace(whole.pattern, promises=(replace(first, ease=(-math.inf, math.inf)), *rest))
    data = our_json.write(replace(whole, pattern=wide))
    assert strictly(data)["pattern"]["promises"][0]["ease"] == ["-inf", "inf"]
    assert read(data, "a.json").pattern == wide
