"""What each command prints and writes when all is well."""

from __future__ import annotations

import json
import os
import subprocess
import sys
from pathlib import Path

import pytest
from cli_samples import Workroom, sheet

from blockwright import load
from blockwright.body.measurements import measurements

DRAFT = ("draft", "sleeve.fitted", "--body", "ada.toml", "--out", "out")


def test_draft_writes_and_proves(workroom: Workroom) -> None:
    result = workroom.run(*DRAFT)
    assert (result.code, result.err) == (0, "")
    assert "sleeve.fitted: all " in result.out
    assert "BROKEN" not in result.out
    names = sorted(path.name for path in (workroom.folder / "out").iterdir())
    assert names == ["ada-sleeve.fitted.dxf", "ada-sleeve.fitted.svg"]
    for name in names:
        assert f"wrote {os.path.join('out', name)}" in result.out


def test_draft_twice_gives_the_same_bytes(workroom: Workroom) -> None:
    workroom.run(*DRAFT, "--format", "svg,dxf,json")
    first = workroom.contents()
    assert len(first) == 1 + 1 + 3
    assert workroom.run(*DRAFT, "--format", "json,dxf,svg,svg").code == 0
    assert workroom.contents() == first


def test_draft_here_when_not_told_where(workroom: Workroom) -> None:
    assert workroom.run(*DRAFT[:-2], "--format", " json ").code == 0
    assert (workroom.folder / "ada-sleeve.fitted.json").is_file()


def test_draft_into_a_folder_that_is_made(workroom: Workroom) -> None:
    assert workroom.run(*DRAFT[:-1], "a/b/c", "--format", "json").code == 0
    assert (workroom.folder / "a/b/c/ada-sleeve.fitted.json").is_file()


def test_as_json(workroom: Workroom) -> None:
    (workroom.folder / "ada.toml").write_text(sheet().replace("Ada", "王芳"), encoding="utf-8")
    result = workroom.run(*DRAFT, "--json", "--format", "svg")
    assert (result.code, result.err) == (0, "")
    values = json.loads(result.out)
    assert values["proof"]["held"] is True
    assert values["files"] == [os.path.join("out", "王芳-sleeve.fitted.svg")]
    assert result.out.isascii()  # whatever letters the terminal has


def test_settings_reach_the_draft(workroom: Workroom) -> None:
    result = workroom.run(
        *DRAFT, "--json", "--set", "cap_ease=2 cm", "--set", " front_ease_share = 0.45 "
    )
    options = json.loads(result.out)["pattern"]["options"]
    assert options["cap_ease"] == pytest.approx(20.0)
    assert options["front_ease_share"] == 0.45


def test_a_bare_setting_takes_the_sheets_unit(workroom: Workroom) -> None:
    (workroom.folder / "eve.toml").write_text(
        'units = "in"\n[measurements]\nupper_arm_girth = 11\nwrist_girth = "6 1/4"\n'
        "outer_arm_length = 22\narmscye_girth = 16\n",
        encoding="utf-8",
    )
    result = workroom.run(
        "draft", "sleeve.straight", "--body", "eve.toml", "--json", "--set", "cap_ease=3/4"
    )
    values = json.loads(result.out)
    assert values["pattern"]["options"]["cap_ease"] == pytest.approx(0.75 * 25.4)
    assert values["files"] == ["eve-sleeve.straight.svg", "eve-sleeve.straight.dxf"]


def test_the_proof_is_in_the_makers_unit_and_names_what_is_estimated(workroom: Workroom) -> None:
    text = sheet(front_armhole_length=None, back_armhole_length=None, armscye_girth=43)
    (workroom.folder / "ada.toml").write_text(text, encoding="utf-8")
    result = workroom.run(*DRAFT)
    assert result.code == 0
    assert "estimated: front_armhole_length" in result.out
    assert "solved: cap height" in result.out
    assert " cm" in result.out


@pytest.mark.parametrize(
    ("name", "stem"),
    [
        ("../../etc/passwd", "etc-passwd"),
        ("  Inês   Maduro ", "inês-maduro"),
        ("I\u0301ris", "íris"),
        ("...", "ada"),  # no letter in it: the sheet's own name serves
        ("😀", "ada"),
        ("x" * 300, "x" * 40),
        ("王芳", "王芳"),
    ],
)
def test_file_names(workroom: Workroom, name: str, stem: str) -> None:
    (workroom.folder / "ada.toml").write_text(
        sheet().replace('"Ada"', json.dumps(name, ensure_ascii=False)), encoding="utf-8"
    )
    assert workroom.run(*DRAFT, "--format", "svg,dxf").code == 0
    names = sorted(path.name for path in (workroom.folder / "out").iterdir())
    assert names == [f"{stem}-sleeve.fitted.dxf", f"{stem}-sleeve.fitted.svg"]


def test_the_files_may_be_named(workroom: Workroom) -> None:
    assert workroom.run(*DRAFT, "--name", "trial 2", "--format", "svg").code == 0
    assert [path.name for path in (workroom.folder / "out").iterdir()] == ["trial 2.svg"]


def test_files_there_already_are_replaced_and_others_left(workroom: Workroom) -> None:
    out = workroom.folder / "out"
    out.mkdir()
    (out / "ada-sleeve.fitted.svg").write_text("old", encoding="utf-8")
    (out / "other.txt").write_text("mine", encoding="utf-8")
    assert workroom.run(*DRAFT, "--format", "svg").code == 0
    assert (out / "ada-sleeve.fitted.svg").read_bytes().startswith(b"<?xml")
    assert (out / "other.txt").read_text(encoding="utf-8") == "mine"
    assert len(list(out.iterdir())) == 2


def test_blocks(workroom: Workroom) -> None:
    result = workroom.run("blocks")
    assert (result.code, result.err) == (0, "")
    for key in load().blocks:
        assert f"  {key}  " in result.out


@pytest.mark.parametrize("unit", ["cm", "mm", "in"])
def test_a_blocks_page_tells_every_measurement_and_option(workroom: Workroom, unit: str) -> None:
    host = load()
    for key in host.blocks:
        block = host.block(key)
        result = workroom.run("blocks", key, "--unit", unit)
        assert (result.code, result.err) == (0, "")
        for field in block.measurements():
            assert field.name in result.out
        for option in block.options():
            assert f"  {option.name}: {option.says}\n" in result.out
        assert f" {unit}" in result.out


def test_measurements(workroom: Workroom) -> None:
    lines = workroom.run("measurements").out.splitlines()
    assert [line.partition(":")[0] for line in lines] == list(measurements())
    assert workroom.run("measurements", "--unit", "in").out != "\n".join(lines)


def test_plugins(workroom: Workroom) -> None:
    result = workroom.run("plugins")
    assert (result.code, result.err) == (0, "")
    assert (
        "\nsleeve  blockwright 0.5.0  API 4.0\n"
        "    blockwright_blocks: sleeve.fitted, sleeve.straight\n" in result.out
    )
    assert "\n    blockwright_formats: svg, pdf, " in result.out
    assert "\n    blockwright_bodies: survey, en13402, astm-d5585\n" in result.out


def test_help_names_every_command_and_no_command_is_wrong_input(workroom: Workroom) -> None:
    result = workroom.run("--help")
    assert result.code == 0
    for command in ("blocks", "draft", "measurements", "plugins"):
        assert f"\n  {command} " in result.out
        assert workroom.run(command, "--help").code == 0
    assert "..." not in result.out.partition("Commands:")[2]
    bare = workroom.run()
    assert (bare.code, bare.out) == (2, "")
    assert bare.err == result.out


def test_version(workroom: Workroom) -> None:
    assert workroom.run("--version").out == "blockwright 0.5.0\n"


# -- as a program ------------------------------------------------------------------------------


def program(folder: Path, *arguments: str, **named) -> subprocess.CompletedProcess[bytes]:
    code = "from blockwright.cli.main import main; main()"
    return subprocess.run(
        [sys.executable, "-c", code, *arguments],
        cwd=folder,
        capture_output=True,
        check=False,
        **named,
    )


def test_program_drafts(workroom: Workroom) -> None:
    done = program(workroom.folder, *DRAFT)
    assert (done.returncode, done.stderr) == (0, b"")
    assert len(list((workroom.folder / "out").iterdir())) == 2


def test_program_refuses(workroom: Workroom) -> None:
    done = program(workroom.folder, "draft", "sleeve.fited", "--body", "ada.toml")
    assert (done.returncode, done.stdout) == (2, b"")
    assert done.stderr.startswith(b"blockwright: no block 'sleeve.fited'; did you mean")


def test_program_prints_to_a_terminal_with_few_letters(workroom: Workroom) -> None:
    (workroom.folder / "ada.toml").write_text(sheet().replace("Ada", "王芳"), encoding="utf-8")
    env = os.environ | {"PYTHONIOENCODING": "latin-1", "PYTHONUTF8": "0"}
    done = program(workroom.folder, *DRAFT, env=env)
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"\\u738b" in done.stdout
    assert b"180.0\xb0" in done.stdout


def test_program_whose_reader_goes_away(workroom: Workroom) -> None:
    """Not 1: that is a broken promise."""
    read, write = os.pipe()
    os.close(read)
    done = subprocess.run(
        [sys.executable, "-c", "from blockwright.cli.main import main; main()", "measurements"],
        stdout=write,
        stderr=subprocess.PIPE,
        check=False,
    )
    os.close(write)
    assert (done.returncode, done.stderr) == (130, b"")


@pytest.mark.skipif(not os.path.exists("/dev/full"), reason="no device that is always full")
def test_program_with_nowhere_to_print(workroom: Workroom) -> None:
    with open("/dev/full", "wb") as full:
        done = subprocess.run(
            [sys.executable, "-c", "from blockwright.cli.main import main; main()", "measurements"],
            stdout=full,
            stderr=subprocess.PIPE,
            check=False,
        )
    assert done.returncode == 3
    assert done.stderr.splitlines()[0] == b"blockwright: No space left on device"
    assert b"Traceback" not in done.stderr
