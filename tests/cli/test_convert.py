"""The convert command: pieces read from one format and written in another."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from blockwright import load
from blockwright.cli.main import run

SHEET = str(Path(__file__).parents[2] / "examples" / "workroom" / "nora.toml")
READABLE = {"json": ".json", "dxf": ".dxf", "dxf-r12": ".r12.dxf", "d6673": ".d6673.dxf"}


@pytest.fixture(scope="module")
def skirt(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A skirt in every format that can be read, drafted once."""
    folder, names = tmp_path_factory.mktemp("drafted"), ",".join(READABLE)
    made = ["draft", "skirt.straight", "--body", SHEET, "--name", "s", "--format", names]
    assert run([*made, "--out", str(folder)]) == 0
    return folder


@pytest.fixture
def folder(skirt: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """The files of the skirt in a folder of the test's own."""
    shutil.copytree(skirt, tmp_path, dirs_exist_ok=True)
    monkeypatch.chdir(tmp_path)
    return tmp_path


@pytest.mark.parametrize("name", READABLE)
def test_pieces_go_from_format_to_format(folder: Path, name: str, capsys) -> None:
    assert run(["convert", f"s{READABLE[name]}", "--format", "json,svg", "--out", "out"]) == 0
    out = capsys.readouterr().out
    assert "promises held" in out or "checks of its pieces held; no seam is promised" in out
    (again,) = folder.glob("out/*.json")
    ours, theirs = rounds(folder / "s.json"), rounds(again)
    assert len(theirs) == len(ours) == 2
    assert theirs == pytest.approx(ours, abs=0.1)


def rounds(file: Path) -> list[float]:
    """How long the outlines of a file are, mm, least first."""
    read = load().format("json").read(file.read_bytes(), str(file))
    return sorted(sum(edge.curve.length for edge in piece.edges) for piece in read.pieces)


# -- from our JSON nothing is lost -----------------------------------------------------------

BOTH = ("bodice.fitted", "sleeve.fitted")


@pytest.fixture(scope="module")
def both(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A set drafted in some formats, and its JSON converted to the same."""
    folder, names = tmp_path_factory.mktemp("both"), "json,svg,pdf,dxf,d6673"
    out, again = str(folder / "out"), str(folder / "again")
    assert run(["draft", *BOTH, "--body", SHEET, "--format", names, "--out", out]) == 0
    (drafted,) = (folder / "out").glob("*.json")
    assert run(["convert", str(drafted), "--format", names, "--out", again]) == 0
    return folder


def test_every_result_is_kept(both: Path) -> None:
    (drafted,), (converted,) = both.glob("out/*.json"), both.glob("again/*.json")
    ours, theirs = (json.loads(file.read_text("utf-8"))["proof"] for file in (drafted, converted))
    assert len(ours["results"]) == 76
    assert theirs == ours
    assert ours["held"]
    assert {result["subject"]["block"] for result in ours["results"]} == set(BOTH)
    assert ours["taken"]  # that the sleeve took the armhole of the bodice is still told


@pytest.mark.parametrize("suffix", [".svg", ".json"])
def test_a_converted_file_is_the_drafted_one(both: Path, suffix: str) -> None:
    """Byte for byte."""
    (drafted,), (converted,) = both.glob(f"out/*{suffix}"), both.glob(f"again/*{suffix}")
    assert converted.read_bytes() == drafted.read_bytes()


def test_so_is_every_other_file_that_is_drawn(both: Path) -> None:
    ours = {file.name: file for file in (both / "out").iterdir()}
    theirs = {file.name: file for file in (both / "again").iterdir()}
    assert theirs.keys() == ours.keys()
    unlike = [name for name in ours if theirs[name].read_bytes() != ours[name].read_bytes()]
    assert unlike == []


def test_the_proof_is_printed_as_it_was(both: Path, capsys, monkeypatch) -> None:
    monkeypatch.chdir(both)
    (drafted,) = (both / "out").glob("*.json")
    capsys.readouterr()
    assert run(["draft", *BOTH, "--body", SHEET, "--format", "json", "--out", "one"]) == 0
    ours = capsys.readouterr().out
    assert run(["convert", str(drafted), "--format", "json", "--out", "two"]) == 0
    theirs = capsys.readouterr().out
    assert f"{'+'.join(BOTH)}: all 76 promises held" in theirs
    assert told(theirs) == told(ours)


def told(out: str) -> list[str]:
    return [line for line in out.splitlines() if not line.startswith("wrote ")]


def test_a_set_may_be_finished_on_the_way(both: Path, tmp_path: Path) -> None:
    """The blocks' own allowances are in the file too."""
    ours, theirs = str(tmp_path / "ours"), str(tmp_path / "theirs")
    usual = ["--finish", "usual", "--format", "svg,json"]
    (drafted,) = both.glob("out/*.json")
    assert run(["draft", *BOTH, "--body", SHEET, *usual, "--out", ours]) == 0
    assert run(["convert", str(drafted), *usual, "--out", theirs]) == 0
    for suffix in (".svg", ".json"):
        (one,), (other,) = (Path(f).glob(f"*{suffix}") for f in (ours, theirs))
        assert other.read_bytes() == one.read_bytes()
    (file,) = (tmp_path / "theirs").glob("*.json")
    assert len(json.loads(file.read_text("utf-8"))["finished"]) == 3


def test_a_promise_that_is_broken_in_the_file_is_told(folder: Path, capsys) -> None:
    values = json.loads((folder / "s.json").read_text(encoding="utf-8"))
    (hip,) = (p for p in values["pattern"]["promises"] if p["ref"]["name"] == "hip")
    hip["body"] += 5.0
    (folder / "t.json").write_text(json.dumps(values), encoding="utf-8")
    capsys.readouterr()
    assert run(["convert", "t.json", "--format", "svg", "--out", "out"]) == 1
    out = capsys.readouterr().out
    assert "BROKEN  girth: hip" in out
    assert "5.000 mm" in out


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
    "thickness": (("s.json", "--format", "stl", "--thickness", "3 ells"), "ells"),
    "flat": (("s.json", "--format", "hpgl", "--flat", "9mm"), "option flat"),
    "overlap": (("s.json", "--format", "tiles", "--overlap", "2 m"), "option overlap"),
    "paper": (("s.json", "--format", "tiles", "--paper", "a9"), "a4, a3, letter, tabloid"),
    "an option of another format": (("s.json", "--format", "svg", "--paper", "a3"), "tiles"),
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


NO_DRAFT = {
    "": "t.json: is not a draft",
    "{": "t.json: is not a draft",
    "[]": "t.json: is not a draft",
    "null": "t.json: is not a draft",
    "\x00": "t.json: is not a draft",
    "{}": "t.json: is not a blockwright pattern",
    '{"format": "blockwright pattern", "version": 2, "units": "mm"}': "t.json: is of version 2",
    '{"units": "mm", "version": 1}': "t.json: is of version 1 in 'mm', and this reader knows "
    "version 4 in mm; draft it again",
    '{"format": "blockwright pattern", "version": 4, "units": "mm"}': "t.json: pattern: is missing",
}


@pytest.mark.parametrize("text", NO_DRAFT)
def test_a_file_that_is_no_draft(folder: Path, text: str, capsys) -> None:
    (folder / "t.json").write_text(text, encoding="utf-8")
    capsys.readouterr()
    assert run(["convert", "t.json", "--format", "svg", "--out", "out"]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert line.startswith(f"blockwright: {NO_DRAFT[text]}")
    assert not (folder / "out").exists()


def test_what_is_wrong_in_a_draft_is_told_a_line_each(folder: Path, capsys) -> None:
    values = json.loads((folder / "s.json").read_text(encoding="utf-8"))
    pieces = values["pattern"]["pieces"]
    pieces[0]["cut"], pieces[1]["edges"][0]["role"] = "two", "seem"
    (folder / "t.json").write_text(json.dumps(values), encoding="utf-8")
    capsys.readouterr()
    assert run(["convert", "t.json", "--format", "svg", "--out", "out"]) == 2
    assert sorted(capsys.readouterr().err.splitlines()) == [
        "blockwright: t.json: pattern.pieces[0].cut: 'two' is no whole number",
        "blockwright: t.json: pattern.pieces[1].edges[0].role: 'seem' is none of seam, armhole, "
        "neck, waist, hem, fold, dart; did you mean seam?",
    ]


@pytest.mark.parametrize(
    ("name", "value"), [("maker_unit", "ell"), ("maker_unit", []), ("maker_unit", None)]
)
def test_a_unit_that_is_none(folder: Path, name: str, value: object, capsys) -> None:
    values = json.loads((folder / "s.json").read_text(encoding="utf-8"))
    (folder / "t.json").write_text(json.dumps({**values, name: value}), encoding="utf-8")
    capsys.readouterr()
    assert run(["convert", "t.json", "--format", "svg", "--out", "out"]) == 2
    (line,) = capsys.readouterr().err.splitlines()
    assert line.startswith("blockwright: t.json: ")


def test_formats_are_listed_with_units_and_cautions(capsys) -> None:
    assert run(["formats"]) == 0
    told = capsys.readouterr().out
    for word in ("hpgl (.plt)", "0.025 mm", "d6673 (.d6673.dxf; can be read)", "written after"):
        assert word in told
    for word in ("scale", "Blades", "EN 14682", "ASTM F1816", "local rules", "manual"):
        assert word in told
