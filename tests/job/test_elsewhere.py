"""A finish sheet that serves several blocks: what is for others is noted, a slip is refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from blockwright import Finish, InputError, Job, load, load_sheet, run
from blockwright.job import elsewhere
from blockwright.job.convert import Conversion, convert

NORA = Path(__file__).parents[2] / "examples" / "workroom" / "nora.toml"
HOST = load()


def job(*blocks: str, **edges: float) -> Job:
    named = {name.replace("_", " "): width for name, width in edges.items()}
    return Job(blocks or ("skirt.straight",), NORA, finish=Finish(edges=named), outputs=("json",))


@pytest.mark.parametrize(
    ("edge", "block"),
    [
        ("front underarm", "sleeve.fitted"),
        ("sleeve front underarm", "sleeve.fitted"),
        ("sleeve.straight front underarm", "sleeve.straight"),
        ("front inside leg", "trousers.straight"),
    ],
)
def test_an_edge_of_another_block_is_noted(edge: str, block: str) -> None:
    """By its own name, and as a set names it; nothing is done with it."""
    outcome = run(job(**{edge: 20.0}), HOST)
    assert not outcome.faults
    assert outcome.document.finished == run(job(), HOST).document.finished
    (note,) = [line for line in outcome.warnings if "finish sheet" in line]
    assert note == (
        f"the finish sheet gives an allowance to {edge!r}; no piece here has such an edge to cut, "
        f"it is for {block}, and nothing is done with it here"
    )


@pytest.mark.parametrize(
    ("edge", "near"),
    [("front sid", "front side"), ("front underam", "front underarm"), ("sleev cap", "sleeve cap")],
)
def test_a_name_that_no_block_has_is_refused_with_the_nearest(edge: str, near: str) -> None:
    (fault,) = run(job(**{edge: 20.0}), HOST).faults
    assert isinstance(fault, InputError)
    assert str(fault) == f"no edge {edge!r} to give an allowance; did you mean {near}?"


def test_a_name_like_no_other_is_refused_with_those_that_are_here() -> None:
    (fault,) = run(job(zzz=20.0), HOST).faults
    assert fault.code == "finish.unknown-edge"
    assert "back side" in fault.values["known"]


def test_in_a_set_an_edge_is_named_by_its_label() -> None:
    """Its bare name is a slip, even where another block has an edge of that name."""
    (fault,) = run(job("skirt.straight", "sleeve.fitted", front_side=20.0), HOST).faults
    assert str(fault).endswith("did you mean skirt front side?")


def test_alone_an_edge_may_be_named_as_in_a_set() -> None:
    both = {"front side": 20.0, "back side": 20.0}
    alone = run(job(**both), HOST).document.finished
    for word in ("skirt", "skirt.straight"):
        outcome = run(job(**{f"{word} {name}": width for name, width in both.items()}), HOST)
        assert outcome.document.finished == alone
        assert not [line for line in outcome.warnings if "finish sheet" in line]
    assert alone != run(job(), HOST).document.finished


def test_the_workroom_s_sheet_serves_a_bodice_too() -> None:
    """It names the centre back of a skirt, a seam; that of a bodice is on the fold."""
    sheet = NORA.parents[1] / "finish.toml"
    outcome = run(Job(("bodice.fitted",), NORA, finish=sheet, outputs=("json",)), HOST)
    assert not outcome.faults
    (note,) = [line for line in outcome.warnings if "finish sheet" in line]
    assert "'centre back'" in note
    assert "it is for skirt." in note


def test_no_other_block_is_drafted_unless_a_name_is_unknown(monkeypatch) -> None:
    asked: list[str] = []
    monkeypatch.setattr(elsewhere, "_drafted", lambda host, key, sheet: asked.append(key))
    run(job(centre_back=20.0), HOST)
    assert asked == []
    assert run(job(front_underarm=20.0), HOST).faults
    assert set(asked) == set(HOST.blocks)


def test_a_block_that_refuses_the_body_is_drafted_on_one_of_the_survey() -> None:
    """A body of three measurements, which is enough for a skirt and no more."""
    sheet = load_sheet(NORA)
    without = sheet.__class__.from_values(
        {name: sheet.values[name] for name in ("waist_girth", "hip_girth", "waist_to_hip")},
        units="mm",
    )
    noted: list[str] = []
    found = elsewhere.edges_elsewhere(HOST, without, ["front underarm"], noted.append)
    assert {"front underarm", "bodice front side", "front inside leg", "centre back"} <= found
    assert len(noted) == 1


def test_pieces_read_from_a_file_are_finished_so_too(tmp_path: Path) -> None:
    written = run(job(), HOST).files
    (name,) = written
    (tmp_path / name).write_bytes(written[name])
    for edge, code in (("front underarm", None), ("front underam", "finish.misspelt-edge")):
        how = Finish(edges={edge: 20.0})
        outcome = convert(Conversion(tmp_path / name, finish=how, outputs=("json",)), HOST)
        assert [fault.code for fault in outcome.faults] == ([code] if code else [])
        assert bool([line for line in outcome.warnings if "finish sheet" in line]) is (code is None)
