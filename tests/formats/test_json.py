"""The JSON, read back by the standard library alone."""

from __future__ import annotations

import json
import math
from dataclasses import replace

import pytest
from format_samples import BLOCKS, BODIES, bent, document, estimated

from blockwright.formats import json as our_json


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
    (piece,) = values["pieces"]
    for edge, drawn in zip(piece["edges"], whole.pattern.pieces[0].edges, strict=True):
        assert (edge["name"], edge["role"]) == (drawn.name, drawn.role)
        assert edge["beziers"] == drawn.curve.control.tolist()  # to the last digit
        steps = [bezier_point(c, i / 200) for c in edge["beziers"] for i in range(201)]
        length = math.fsum(abs(q - p) for p, q in zip(steps, steps[1:], strict=False))
        assert length == pytest.approx(edge["length"], abs=0.01)
    ends = [edge["beziers"][-1][3] for edge in piece["edges"]]
    starts = [edge["beziers"][0][0] for edge in piece["edges"]]
    for end, start in zip(ends, starts[1:] + starts[:1], strict=True):
        assert math.dist(end, start) < 1e-3


def test_all_that_was_drafted_is_there() -> None:
    whole = document(values=estimated("middling"), name="Zoë")
    values = strictly(our_json.write(whole))
    assert (values["units"], values["block"], values["body"]) == ("mm", "sleeve.fitted", "Zoë")
    assert values["proved"] is True
    assert values["measurements"] == dict(whole.pattern.measurements)
    assert values["options"] == dict(whole.pattern.options)
    assert {m["name"] for m in values["marks"]} == {m.name for m in whole.pattern.marks}
    assert all(m["rule"] for m in values["marks"])
    (piece,) = values["pieces"]
    assert (piece["cut"], piece["mirrored"]) == (2, True)
    assert [n["name"] for n in piece["notches"]] == ["front notch", "crown notch", "back notch"]
    assert [g["name"] for g in piece["guides"]] == ["bicep line", "elbow line"]
    assert {n["words"] for n in piece["notes"]} == {"front", "back"}
    (dart,) = piece["darts"]
    legs = [math.dist(dart["apex"], leg) for leg in dart["legs"]]
    assert legs[0] == pytest.approx(legs[1], abs=0.1)
    findings = values["proof"]["findings"]
    assert len(findings) == len(whole.proof.findings)
    assert {e["name"] for e in values["proof"]["estimates"]} == {
        "front_armhole_length",
        "back_armhole_length",
        "upper_arm_length",
    }
    assert values["proof"]["solved"][0]["name"] == "cap height"


def test_unproved() -> None:
    values = strictly(our_json.write(bent(document())))
    assert values["proved"] is False
    assert any(not finding["held"] for finding in values["proof"]["findings"])


@pytest.mark.parametrize("odd", [math.nan, math.inf, -math.inf])
def test_no_number_that_json_has_not(odd: float) -> None:
    whole = document()
    findings = (replace(whole.proof.findings[0], measured=odd, high=odd),)
    broken = replace(
        whole,
        proof=replace(whole.proof, findings=findings),
        pattern=replace(whole.pattern, options={"odd": (odd, [odd])}),
    )
    values = strictly(our_json.write(broken))
    assert values["options"] == {"odd": [None, [None]]}
    assert values["proof"]["findings"][0]["measured"] is None
