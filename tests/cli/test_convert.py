"""The convert command: pieces read from one format and written in another."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from blockwright.cli.main import run

SHEET = str(Path(__file__).parents[2] / "examples" / "workroom" / "nora.toml")
READABLE = {"json": ".json", "dxf": ".dxf", "dxf-r12": ".r12.dxf", "d6673": ".d6673.dxf"}


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    names = ",".join(READABLE)
    made = ["draft", "skirt.straight", "--body", SHEET, "--name", "s", "--format", names]
    assert run(made) == 0
    return tmp_path


@pytest.mark.parametrize("name", READABLE)
def test_pieces_go_from_format_to_format(folder: Path, name: str, capsys) -> None:
    assert run(["convert", f"s{READABLE[name]}", "--format", "json,svg", "--out", "out"]) == 0
    assert "promises held" in capsys.readouterr().out
    (again,) = folder.glob("out/*.json")
    ours = json.loads((folder / "s.json").read_text(encoding="utf-8"))["pieces"]
    theirs = json.loads(again.read_text(encoding="utf-8"))["pieces"]
    assert len(theirs) == len(ours) == 2
    rounds = [sorted(sum(e["length"] for e in p["edges"]) for p in each) for each in (ours, theirs)]
    assert rounds[1] == pytest.approx(rounds[0], abs=0.1)


def test_pieces_may_be_finished_on_the_way(folder: Path) -> None:
    assert run(["convert", "s.json", "--format", "svg", "--out", "out", "--finish", "usual"]) == 0
    assert 'class="sew"' in (folder / "out" / "s.svg").read_text(encoding="utf-8")


WRONG = {
    "no such file": (("t.json", "--format", "svg"), "cannot be read"),
    "an ending nobody reads": (("s.txt", "--format", "svg"), "no format by this ending"),
    "a format that is not read": (("s.json", "--format", "svg", "--from", "pdf"), "cannot be read"),
    "another format": (("s.json", "--format", "svg", "--from", "dxf"), "s.json"),
    "unknown format": (("s.json", "--format", "png"), "no format 'png'"),
    "no format": (("s.json",), "--format"),
    "finish sheet not there": (("s.json", "--format", "svg", "--finish", "f.toml"), "f.toml"),
    "thickness": (("s.json", "--format", "svg", "--thickness", "3 ells"), "ells"),
    "flat": (("s.json", "--format", "svg", "--flat", "9mm"), "--flat"),
    "overlap": (("s.json", "--format", "svg", "--overlap", "2 m"), "--overlap"),
}


@pytest.mark.parametrize("case", WRONG)
def test_wrong_input_is_one_line(folder: Path, case: str, capsys) -> None:
    arguments, word = WRONG[case]
    capsys.readouterr()
    assert run(["convert", *arguments, "--out", "out"]) == 2
    told = capsys.readouterr().err.strip().splitlines()
    assert len(told) == 1
    assert word in told[0]
    assert not (folder / "out").exists()


@pytest.mark.parametrize("text", ["", "{", "[]", '{"units": "mm", "version": 1}', "null", "\x00"])
def test_a_file_that_is_no_draft(folder: Path, text: str, capsys) -> None:
    (folder / "t.json").write_text(text, encoding="utf-8")
    capsys.readouterr()
    assert run(["convert", "t.json", "--format", "svg", "--out", "out"]) == 2
    assert "t.json: is not a draft" in capsys.readouterr().err


def test_formats_are_listed_with_units_and_cautions(capsys) -> None:
    assert run(["formats"]) == 0
    told = capsys.readouterr().out
    for word in ("hpgl (.plt)", "0.025 mm", "d6673 (.d6673.dxf; can be read)", "written after"):
        assert word in told
    for word in ("scale", "Blades", "EN 14682", "ASTM F1816", "local rules", "manual"):
        assert word in told
