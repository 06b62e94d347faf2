"""A job from blocks and a body to files: what comes of it, whatever a plugin does."""

from __future__ import annotations

import pickle
import re
import time
from dataclasses import replace
from functools import partial

import pytest
from job_blocks import (
    Broken,
    Exits,
    Killed,
    LoopsInC,
    Panel,
    Prints,
    Raises,
    Sleeps,
    never_written,
)

from blockwright import (
    BodySheet,
    Format,
    InputError,
    Job,
    Output,
    PluginError,
    StoppedError,
    load,
    move_dart,
    prove,
    run,
    shorten_dart,
)

SHEET = BodySheet.from_values({"waist_girth": 80}, units="cm", name="Ada")
LIMIT = 1.0
"""Seconds; the panel takes a hundredth."""


def job(block: type[Panel] = Panel, **changed: object) -> Job:
    return Job(**{"blocks": (block,), "body": SHEET, "outputs": ("svg",), **changed})


def only_fault(outcome) -> Exception:
    (fault,) = outcome.faults
    assert not outcome.held
    assert not outcome.files
    return fault


# -- what comes of it ------------------------------------------------------------------------------


def test_files_are_bytes_without_a_folder(tmp_path, monkeypatch) -> None:
    monkeypatch.chdir(tmp_path)
    outcome = run(job(outputs=("svg", "json")))
    assert outcome.held
    assert list(outcome.files) == ["ada-test.panel.svg", "ada-test.panel.json"]
    assert outcome.files["ada-test.panel.svg"].startswith(b"<?xml")
    assert [*tmp_path.iterdir()] == []


@pytest.mark.parametrize("limit", [None, 60.0])
def test_with_a_folder_they_are_paths(tmp_path, limit: float | None) -> None:
    outcome = run(job(folder=tmp_path / "out", name="apron", limit=limit))
    assert (outcome.files, outcome.paths) == ({}, (tmp_path / "out" / "apron.svg",))
    written = outcome.paths[0].read_bytes()
    assert run(job(name="apron")).files == {"apron.svg": written}


def test_the_same_in_a_process_of_its_own() -> None:
    here, there = run(job()), run(job(limit=60.0))
    assert here == there
    assert there.pattern.pieces[0].label == "panel"


def test_job_and_outcome_travel() -> None:
    """Both ways, to another process: a job by the keys of its blocks, for `spawn` too."""
    there = Job(("skirt.darted",), "survey:female-17", {"length": "50 cm"}, outputs=("svg",))
    assert pickle.loads(pickle.dumps(there)) == there
    for each in (job(), job(Broken), job(Raises)):
        outcome = run(each)
        back = pickle.loads(pickle.dumps(outcome))
        assert back.pattern == outcome.pattern
        assert list(map(str, back.faults)) == list(map(str, outcome.faults))


def test_a_broken_promise_is_no_fault_and_writes_nothing() -> None:
    outcome = run(job(Broken))
    assert (outcome.held, outcome.files, outcome.faults) == (False, {}, ())
    assert [result.code for result in outcome.proof.broken] == ["girth"]
    assert b"UNPROVED" in run(job(Broken, unproved=True)).files["ada-test.panel.svg"]


def to_the_neck(pattern, share: float):
    return move_dart(
        pattern, "front", "bust dart", "front neck", 40.0,
        name="neck dart", pressed="start", says="to the centre", share=share,
    )  # fmt: skip


def test_changes_are_made_in_order_and_proved() -> None:
    changes = (
        partial(to_the_neck, share=0.4),
        partial(shorten_dart, piece="front", dart="neck dart", by=15.0),
    )
    plain = Job(("bodice.fitted",), "survey:female-17")
    outcome = run(replace(plain, changes=changes))
    assert [change.verb for change in outcome.pattern.changes] == ["move_dart", "shorten_dart"]
    assert len(outcome.pattern.pieces[0].darts) + len(outcome.pattern.pieces[1].darts) == 5
    assert outcome.proof == prove(outcome.pattern)


def test_a_change_that_cannot_be_made_is_named() -> None:
    changes = (partial(to_the_neck, share=0.4), partial(to_the_neck, share=2.0))
    fault = only_fault(run(Job(("bodice.fitted",), "survey:female-17", changes=changes)))
    assert str(fault).startswith("change 2 failed: ")
    assert "two darts would be called 'neck dart'" in str(fault)


def test_allowances_stand_among_the_options() -> None:
    bare = run(job())
    wide = run(job(options={"seam_allowance": "2 cm"}))
    assert not bare.document.finished
    (piece,) = wide.document.finished
    x0, _, x1, _ = _bounds(piece)
    assert x1 - x0 == pytest.approx(200.0 + 2 * 20.0)


def test_a_format_has_its_own_options() -> None:
    a4, a3 = (
        run(job(outputs=(Output("tiles", {"paper": paper}),))).files["ada-test.panel.tiles.pdf"]
        for paper in ("a4", "a3")
    )
    short, long = (max(map(float, _boxes(file))) for file in (a4, a3))
    assert long == pytest.approx(short * 2.0**0.5, rel=0.01)


def _boxes(pdf: bytes) -> list[bytes]:
    """The numbers of the page sizes, points."""
    return [n for box in re.findall(rb"/MediaBox \[([^]]*)\]", pdf) for n in box.split()]


# -- what is refused -------------------------------------------------------------------------------


@pytest.mark.parametrize(
    ("changed", "code"),
    [
        ({"outputs": ("svq",)}, "format.unknown"),
        ({"outputs": (Output("svg", {"paper": "a3"}),)}, "format.no-option"),
        ({"outputs": ("svg", "svg")}, "format.same-file"),
        ({"body": "nobody:17"}, "body.no-source"),
        ({"name": "a/b"}, "files.name"),
        ({"limit": -1.0}, "job.limit"),
        ({"limit": float("nan")}, "job.limit"),
    ],
)
def test_what_cannot_be_is_refused_by_code(changed, code: str) -> None:
    fault = only_fault(run(job(**changed)))
    assert isinstance(fault, InputError)
    assert fault.code == code
    assert str(fault)


def test_every_fault_of_the_input_is_told() -> None:
    outcome = run(Job(("skirt.circle",), SHEET, {"lenght": "3 cm", "waist_ease": "9 m"}))
    assert len(outcome.faults) >= 3
    assert all(isinstance(fault, InputError) for fault in outcome.faults)


# -- blocks that misbehave -------------------------------------------------------------------------


@pytest.mark.parametrize("block", [Sleeps, LoopsInC])
def test_what_does_not_end_is_stopped_and_named(block: type[Panel]) -> None:
    begin = time.perf_counter()
    fault = only_fault(run(job(block, limit=LIMIT)))
    assert time.perf_counter() - begin < LIMIT + 5.0
    assert isinstance(fault, StoppedError)
    assert str(fault).startswith("block 'test.panel' took longer than 1 s and was stopped")


@pytest.mark.parametrize(("block", "ending"), [(Exits, "exit code 3"), (Killed, "signal SIGKILL")])
def test_what_ends_its_process_is_named(block: type[Panel], ending: str) -> None:
    fault = only_fault(run(job(block, limit=60.0)))
    assert str(fault) == f"block 'test.panel' ended its process ({ending})"


def test_a_format_that_does_not_end_is_named(monkeypatch) -> None:
    slow = Format("slow", ".slow", "never there", never_written)
    host = load()
    host.formats["slow"] = slow
    host.plugins[0].formats.append("slow")
    monkeypatch.setattr("blockwright.plugin.host.load", lambda only=None: host)
    fault = only_fault(run(job(outputs=("slow",), limit=LIMIT)))
    assert str(fault).startswith("format 'slow' of plugin ")


@pytest.mark.parametrize("limit", [None, 60.0])
def test_what_raises_is_named_with_its_line(limit: float | None) -> None:
    fault = only_fault(run(job(Raises, limit=limit)))
    assert isinstance(fault, PluginError)
    assert "block 'test.panel' failed: KeyError: 'hip'" in str(fault)
    assert "job_blocks.py:" in str(fault)


@pytest.mark.filterwarnings("default")
@pytest.mark.parametrize("limit", [None, 60.0])
def test_what_it_prints_is_kept_and_told(limit: float | None, capsys) -> None:
    outcome = run(job(Prints, limit=limit))
    assert outcome.held
    assert capsys.readouterr() == ("", "")
    assert len(outcome.warnings) == 2
    assert any("printed 'measuring'" in line for line in outcome.warnings)
    assert any("slack tape" in line for line in outcome.warnings)


def test_a_fault_of_a_plugin_is_told_once(monkeypatch) -> None:
    host = load()
    host.plugins[0].faults.append("is not whole")
    monkeypatch.setattr("blockwright.plugin.host.load", lambda only=None: host)
    (line,) = host.faults
    assert run(job(limit=60.0)).warnings == (line,)
    assert run(job(limit=60.0), host).warnings == ()


# -- for the tests ---------------------------------------------------------------------------------


def _bounds(piece) -> tuple[float, float, float, float]:
    boxes = [edge.curve.bounds for edge in piece.cut]
    x0, y0, x1, y1 = zip(*boxes, strict=True)
    return min(x0), min(y0), max(x1), max(y1)
