"""The bodies that the kit tries blocks on, and the survey as a source of bodies."""

from __future__ import annotations

from dataclasses import replace

import pytest
from broken_blocks import Tube
from kit_samples import Band, with_traits

from blockwright import Block, Host, InputError, load, measurement
from blockwright.body import made_up_bodies, survey
from blockwright.body.measurements import impossible_pairs, measurements
from blockwright.cli.main import run
from blockwright.plugin.survey_estimates import completed
from blockwright.testing.bodies import FEW, MADE_UP, Body, few, many

KEYS = (
    "bodice.easy", "bodice.fitted", "skirt.circle", "skirt.flared", "skirt.gored",
    "skirt.straight", "sleeve.fitted", "sleeve.straight", "trousers.straight",
)  # fmt: skip
THOUSAND = 1000


@pytest.fixture(scope="module")
def host() -> Host:
    return load()


def blocks_of(host: Host) -> list[type[Block]]:
    assert set(host.blocks) == set(KEYS)
    return [Tube, Band, *(host.block(key) for key in KEYS)]


def test_few_are_a_dozen(host: Host) -> None:
    for block in blocks_of(host):
        names = [body.name for body in few([block])]
        assert len(set(names)) == len(names) == FEW == 12
        assert sum(made_up_bodies.PREFIX in name for name in names) == MADE_UP == 4


def test_the_extremes_of_what_a_block_is_drafted_from_are_among_the_few() -> None:
    hips = {
        name: survey.measured(survey.row(name))["hip_girth"]
        for name in survey.names()
        if name.startswith("female-")
    }
    real = [body.name.removeprefix("survey:") for body in few([Tube]) if body.real]
    assert min(hips, key=hips.__getitem__) in real
    assert max(hips, key=hips.__getitem__) in real
    middling = sorted(hips.values())
    assert middling[len(hips) // 3] < hips[real[0]] < middling[2 * len(hips) // 3]


def test_a_thousand_are_a_thousand_and_begin_with_the_few(host: Host) -> None:
    for block in blocks_of(host):
        names = [body.name for body in many([block], THOUSAND)]
        assert len(set(names)) == len(names) == THOUSAND
        assert names[:FEW] == [body.name for body in few([block])]
        assert names == [body.name for body in many([block], THOUSAND)]


@pytest.mark.parametrize("count", [1, 5, 12, 13, 100, 3000])
def test_as_many_as_asked_for(count: int) -> None:
    assert len({body.name for body in many([Tube], count)}) == count


def test_a_thousand_are_real_as_far_as_there_are() -> None:
    """There are 497 women in the survey, and they come from all over it when fewer are asked."""
    names = [body.name for body in many([Tube], THOUSAND)]
    women = [name for name in survey.names() if name.startswith("female-")]
    assert {f"survey:{name}" for name in women} <= set(names)
    numbers = [int(body.name.rpartition("-")[2]) for body in many([Tube], 112)[FEW:]]
    assert max(b - a for a, b in zip(numbers, numbers[1:], strict=False)) < 10
    assert numbers[-1] > 480


@pytest.mark.parametrize("count", [FEW, THOUSAND])
@pytest.mark.parametrize(("wearers", "others"), [("women", "male-"), ("men", "female-")])
def test_wearers_are_respected(wearers: str, others: str, count: int) -> None:
    bodies = many([with_traits(Tube, wearers=wearers)], count)
    whose = {body.name.removeprefix("survey:").removeprefix("made-")[:5] for body in bodies}
    assert not any(name.startswith(others[:5]) for name in whose)
    assert "rung-" in whose


def test_everybody_wears_what_all_wear() -> None:
    names = [body.name for body in many([with_traits(Tube, wearers="all")], 100)]
    assert any(":female-" in name for name in names)
    assert any(":male-" in name for name in names)


def test_a_set_is_tried_on_those_whom_all_its_blocks_are_for() -> None:
    men, everybody = with_traits(Tube, wearers="men"), with_traits(Tube, wearers="all")
    assert {body.name for body in few([everybody, men])} == {body.name for body in few([men])}
    assert {body.name for body in few([men, everybody])} == {body.name for body in few([men])}
    with pytest.raises(InputError, match=r"for no body in common; see their traits\.wearers"):
        few([Tube, men])


def test_wearers_that_there_are_not() -> None:
    with pytest.raises(InputError, match="wearers is 'female'; give one of all, women, men"):
        few([with_traits(Tube, wearers="female")])


def test_made_up_ones_are_free_of_contradictions_and_in_range() -> None:
    known = measurements()
    found = 0
    for body in many([with_traits(Tube, wearers="all")], 4000):
        if not body.real:
            values = body.sheet.values
            found += 1
            assert not impossible_pairs(values), body.name
            for name, value in values.items():
                assert known[name].low - 0.5 <= value <= known[name].high + 0.5, (body.name, name)
    assert found > 2000


def test_made_up_ones_reach_beyond_the_survey() -> None:
    bodies = many([Tube], THOUSAND)
    real = [body.sheet.values["height"] for body in bodies if body.real]
    made = [body.sheet.values["height"] for body in bodies if not body.real]
    assert min(made) < 0.7 * min(real)
    assert max(made) > 1.15 * max(real)


def test_what_a_block_needs_and_the_survey_has_not_is_estimated(host: Host) -> None:
    """The armscye, for the sleeves alone; in whole millimetres, as it can be written down."""
    sleeve, bodice = host.block("sleeve.straight"), host.block("bodice.easy")
    alone, sewn = few([sleeve])[0], few([bodice, sleeve])[0]
    assert alone.name.endswith("+armscye_girth")
    assert "+" not in sewn.name
    row = survey.measured(survey.row("female-1"))
    armscye = Body("survey:female-1+armscye_girth").sheet.values["armscye_girth"]
    rule = 0.25 * row["chest_girth"] + 0.40 * row["upper_arm_girth"] + 70.0
    assert armscye == round(rule)


def test_every_measurement_was_taken_or_is_estimated_in_words() -> None:
    assert measurements().keys() == survey.MEASURED | survey.ESTIMATES.keys()
    assert not survey.MEASURED & survey.ESTIMATES.keys()
    for name, rule in survey.ESTIMATES.items():
        assert rule.says, name
        assert set(rule.needs) <= survey.MEASURED, name


def test_a_sheet_says_which_of_its_values_are_estimated() -> None:
    sheet = Body("survey:female-17+head_girth+waist_girth").sheet
    assert sheet.where == "survey:female-17+head_girth+waist_girth"
    assert dict(sheet.estimates) == {
        "head_girth": "0.095 of the height and 40 cm: not taken in the survey, common practice, no "
        "source"
    }
    assert not Body("survey:made-rung-50+head_girth").sheet.estimates  # which has every one
    assert not Body("survey:female-17").sheet.estimates


def test_the_whole_name_of_a_body_that_has_all_a_block_needs(host: Host) -> None:
    sleeve, bodice = host.block("sleeve.straight"), host.block("bodice.easy")

    def whole(name: str, *blocks: type[Block]) -> str:
        return completed(blocks, Body(name).sheet).rpartition(" ")[2]

    assert whole("survey:female-17", sleeve) == "survey:female-17+armscye_girth"
    assert whole("survey:made-female-17+head_girth", sleeve) == (
        "survey:made-female-17+head_girth+armscye_girth"
    )
    assert whole("survey:female-17+armscye_girth", sleeve) == ""
    assert whole("survey:female-17", bodice, sleeve) == ""
    elsewhere = replace(Body("survey:female-17").sheet, where="ada.toml")
    assert completed([sleeve], elsewhere) == ""


def test_what_the_survey_cannot_estimate_needs_a_sheet(monkeypatch) -> None:
    class Hooded(Tube):
        """Tube with a hood."""

        head = measurement("head_girth")
        hand = measurement("hand_girth")

    monkeypatch.delitem(survey.ESTIMATES, "head_girth")
    assert completed([Hooded], Body("survey:female-17").sheet) == (
        "The survey cannot estimate head_girth: write a body sheet, --body FILE"
    )


# -- drafted again by name -----------------------------------------------------------------------


def test_every_name_gives_the_same_sheet_through_the_source(host: Host) -> None:
    source = host.bodies["survey"]
    names = {
        body.name: body
        for block in blocks_of(host)
        for body in [*few([block]), *many([block], 300)]
    }
    assert len(names) > 600
    for name, body in names.items():
        where, _, who = name.partition(":")
        assert where == source.name
        assert source.sheet(who) == body.sheet


@pytest.mark.parametrize("key", ["skirt.circle", "sleeve.straight"])
def test_every_one_of_the_few_can_be_drafted_by_name(host: Host, tmp_path, key: str) -> None:
    for body in few([host.block(key)]):
        command = ["draft", key, "--body", body.name, "--out", f"{tmp_path}", "--format", "json"]
        assert run(command) == 0, body.name
    assert len(list(tmp_path.iterdir())) == FEW


def test_a_made_up_one_of_the_second_round_can_be_drafted_by_name(tmp_path) -> None:
    name = "survey:made-2-female-17"
    assert Body(name).sheet != Body("survey:made-female-17").sheet
    assert run(["draft", "skirt.circle", "--body", name, "--out", f"{tmp_path}"]) == 0


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("femal-17", "did you mean female-17?"),
        ("nobody", "there are female-1, female-2"),
        ("female-0", "did you mean female-"),
        ("female-17+hed_girth", "did you mean female-17?"),
        ("female-17+", "did you mean female-17?"),
        ("made-female-0", "has no body 'made-female-0'"),
        ("made-2-", "has no body 'made-2-'"),
        ("made-rung-x", "has no body 'made-rung-x'"),
        ("made-rung-101", "has no body 'made-rung-101'"),
        ("made-rung--5", "has no body 'made-rung--5'"),
        ("", "has no body ''"),
    ],
)
def test_a_wrong_name_gives_one_clear_line(capsys, tmp_path, name: str, words: str) -> None:
    command = ["draft", "skirt.circle", "--body", f"survey:{name}", "--out", f"{tmp_path}"]
    assert run(command) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    (line,) = captured.err.splitlines()
    assert line.startswith(f"blockwright: survey has no body {name!r}")
    assert words in line
    assert list(tmp_path.iterdir()) == []
