"""Everything that can be typed wrong: exit 2, one clear line a fault, nothing written."""

from __future__ import annotations

import errno
from pathlib import Path

import pytest
from cli_samples import GOOD, Workroom, sheet

# What is wrong with the sheet: its text or bytes, and words of which each must be in the message.
SHEETS: dict[str, tuple[str | bytes, tuple[str, ...]]] = {
    # -- measurements --
    "unknown name": (sheet(bicep_girth=30), ("bicep_girth", "ada.toml:10")),
    "misspelt name": (
        sheet(upper_arm_girth=None, uper_arm_girth=29),
        ("uper_arm_girth", "upper_arm_girth"),
    ),
    "missing": (sheet(wrist_girth=None), ("wrist_girth", "sleeve.fitted", "ada.toml")),
    "missing, and no estimate": (
        sheet(front_armhole_length=None),
        ("front_armhole_length", "armscye_girth"),
    ),
    "negative": (sheet(upper_arm_girth=-29), ("upper_arm_girth", "-29 cm", "more than zero")),
    "zero": (sheet(wrist_girth=0), ("wrist_girth", "0 cm", "more than zero")),
    "words": (sheet(wrist_girth='"narrow"'), ("wrist_girth", "narrow")),
    "no words": (sheet(wrist_girth='""'), ("wrist_girth", "empty")),
    "nan": (sheet(upper_arm_girth="nan"), ("upper_arm_girth", "nan")),
    "nan in quotes": (sheet(upper_arm_girth='"nan"'), ("upper_arm_girth", "nan")),
    "infinite": (sheet(outer_arm_length="inf"), ("outer_arm_length", "inf")),
    "less than infinite": (sheet(outer_arm_length="-inf"), ("outer_arm_length", "-inf")),
    "huge": (sheet(outer_arm_length="1e300"), ("outer_arm_length", "1e+300")),
    "huge whole number": (sheet(outer_arm_length="9" * 400), ("outer_arm_length", "too large")),
    "tiny": (sheet(outer_arm_length="1e-300"), ("outer_arm_length",)),
    "millimetres as centimetres": (sheet(upper_arm_girth=290), ("upper_arm_girth", "290 mm")),
    "inches as centimetres": (sheet(wrist_girth=6.3), ("wrist_girth", "6.3 in")),
    "centimetres as inches": (
        sheet(outer_arm_length='"58.5 in"'),
        ("outer_arm_length", "58.5 in", "58.5 cm"),
    ),
    "feet": (sheet(outer_arm_length='"1\' 11"'), ("outer_arm_length", "feet")),
    "unknown unit": (sheet(outer_arm_length='"58.5 km"'), ("outer_arm_length", "km")),
    "decimal comma": (sheet(wrist_girth='"16,5"'), ("wrist_girth", "16,5", "point")),
    "half a fraction": (sheet(wrist_girth='"6 1/"'), ("wrist_girth", "6 1/")),
    "over zero": (sheet(wrist_girth='"6 1/0 in"'), ("wrist_girth", "zero")),
    "yes": (sheet(wrist_girth="true"), ("wrist_girth", "true")),
    "list": (sheet(wrist_girth="[16, 17]"), ("wrist_girth", "list")),
    "table": (sheet(wrist_girth="{ cm = 16 }"), ("wrist_girth", "table")),
    "date": (sheet(wrist_girth="2024-02-03"), ("wrist_girth", "2024")),
    # -- what contradicts itself --
    "wrist wider than arm": (
        sheet(wrist_girth=28, upper_arm_girth=20),
        ("wrist_girth", "upper_arm_girth"),
    ),
    "elbow below the hand": (
        sheet(upper_arm_length=44, outer_arm_length=40),
        ("upper_arm_length", "outer_arm_length"),
    ),
    "armhole smaller than the armscye": (
        sheet(armscye_girth=46),
        ("armscye_girth 46.0 cm", *("front_armhole_length", "back_armhole_length", "measure all")),
    ),
    "one half of the armhole is nearly all of it": (
        sheet(front_armhole_length=36, back_armhole_length=None, armscye_girth=37.4),
        ("front_armhole_length 36.0 cm", "back_armhole_length 3.4 cm", "armscye_girth"),
    ),
    "elbow at the wrist": (
        sheet(upper_arm_length=53, outer_arm_length=53.5),
        ("upper_arm_length", "outer_arm_length", "0.5 cm from the wrist"),
    ),
    "elbow at the bicep line": (
        sheet(upper_arm_length=16.5),
        ("upper_arm_length", "outer_arm_length", "from the bicep line"),
    ),
    # -- the file --
    "empty": ("", ("ada.toml", "empty")),
    "blank": ("\n\n  \n", ("ada.toml", "empty")),
    "a comment only": ("# nothing yet\n", ("ada.toml", "empty")),
    "no measurements": ('units = "cm"\n', ("ada.toml", "[measurements]")),
    "no units": (sheet().replace('units = "cm"\n', ""), ("ada.toml", "units")),
    "unknown units": (sheet().replace('"cm"', '"ell"'), ("ada.toml:2", "units", "ell")),
    "units as a number": (sheet().replace('"cm"', "1"), ("ada.toml:2", "units")),
    "misspelt table": (
        sheet().replace("[measurements]", "[measurement]"),
        ("ada.toml:3", "measurement", "[measurements]"),
    ),
    "unknown entry": ("colour = 1\n" + sheet(), ("ada.toml:1", "colour")),
    "name as a number": (sheet().replace('"Ada"', "1"), ("ada.toml:1", "name")),
    "name over lines": (sheet().replace('"Ada"', '"A\\nda"'), ("ada.toml:1", "name")),
    "not closed": (sheet().replace('"cm"', '"cm'), ("ada.toml:2", "not valid TOML")),
    "given twice": (sheet() + "wrist_girth = 17\n", ("ada.toml:10", "twice")),
    "no value": (sheet() + "hip_girth =\n", ("ada.toml:10", "not valid TOML")),
    "not TOML at all": ("<html></html>", ("ada.toml:1", "not valid TOML")),
    "comma in a number": (sheet(wrist_girth="16,5"), ("ada.toml:5", "point")),
    "UTF-16": (sheet().encode("utf-16"), ("ada.toml", "UTF-8")),
    "Latin 1": (sheet().replace("Ada", "Zoë").encode("latin-1"), ("ada.toml:1", "UTF-8")),
    "binary": (bytes(range(256)), ("ada.toml", "UTF-8")),
    "very large": ("#" * 200_000, ("ada.toml", "larger")),
    "nested too deep": ("a = " + "[" * 5000, ("ada.toml", "nested")),
}

FITTED = ("draft", "sleeve.fitted", "--body", "ada.toml")
STRAIGHT = ("draft", "sleeve.straight", "--body", "ada.toml")

# What is wrong with the command.
COMMANDS: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "unknown command": (("drat",), ("drat", "draft")),
    "unknown flag": ((*FITTED, "--outt", "x"), ("--outt", "--out")),
    "unknown short flag": ((*FITTED, "-x"), ("-x",)),
    "no block": (("draft",), ("KEY",)),
    "no body": (("draft", "sleeve.fitted"), ("--body",)),
    "body without a file": (("draft", "sleeve.fitted", "--body"), ("--body",)),
    "no key": (("draft", "--body", "ada.toml"), ("KEY",)),
    "a block and nonsense": (("draft", "sleeve.fitted", "x", "--body", "ada.toml"), ("'x'",)),
    "a block twice": (
        ("draft", "sleeve.fitted", "sleeve.fitted", "--body", "ada.toml"),
        ("sleeve.fitted is given twice",),
    ),
    "two bodices": (
        ("draft", "bodice.easy", "bodice.fitted", "sleeve.fitted", "--body", "ada.toml"),
        ("bodice.easy and bodice.fitted both offer the front armhole",),
    ),
    "an option of two blocks": (
        ("draft", "sleeve.fitted", "sleeve.straight", "--body", "ada.toml", "--set", "cap_ease=2"),
        ("sleeve.fitted.cap_ease or sleeve.straight.cap_ease",),
    ),
    "an option of none": (
        ("draft", "sleeve.fitted", "sleeve.straight", "--body", "ada.toml", "--set", "cap_eas=2"),
        ("cap_eas", "did you mean"),
    ),
    "an option of another block": (
        (
            "draft",
            "sleeve.fitted",
            "sleeve.straight",
            "--body",
            "ada.toml",
            "--set",
            "sleeve.straight.elbow_dart=2",
        ),
        ("sleeve.straight: no option", "elbow_dart"),
    ),
    "a folder for a name": ((*FITTED, "--name", "a/b"), ("--name", "without a folder")),
    "an empty name": ((*FITTED, "--name", ""), ("--name",)),
    "unknown block": (("draft", "sleeve.fited", "--body", "ada.toml"), ("sleeve.fitted",)),
    "block like no other": (("draft", "zzz", "--body", "ada.toml"), ("zzz", "blockwright blocks")),
    "empty block": (("draft", "", "--body", "ada.toml"), ("block", "''")),
    "block to show unknown": (("blocks", "sleeve.strait"), ("sleeve.straight",)),
    "unit to print in": (("blocks", "sleeve.fitted", "--unit", "yd"), ("yd", "cm")),
    "unit of measurements": (("measurements", "--unit", "ft"), ("ft", "mm")),
    "body not there": (("draft", "sleeve.fitted", "--body", "eve.toml"), ("eve.toml", "no such")),
    "body is a folder": (("draft", "sleeve.fitted", "--body", "."), (".", "folder")),
    "body is empty": (("draft", "sleeve.fitted", "--body", ""), ("body sheet", "empty")),
    "body under a file": (
        ("draft", "sleeve.fitted", "--body", "ada.toml/x"),
        ("ada.toml/x", "cannot be read"),
    ),
    "body with a zero letter": (("draft", "sleeve.fitted", "--body", "a\0b"), ("cannot be read",)),
    "unknown option": ((*FITTED, "--set", "cap_hight=15cm"), ("cap_hight", "cap_height")),
    "option like no other": ((*FITTED, "--set", "zzz=1"), ("zzz", "bicep_ease")),
    "option of another block": ((*FITTED, "--set", "hem=30cm"), ("hem", "sleeve.fitted")),
    "set without a value": ((*FITTED, "--set", "cap_height"), ("cap_height", "NAME=VALUE")),
    "set with an empty value": ((*FITTED, "--set", "cap_height="), ("cap_height", "NAME=VALUE")),
    "set without a name": ((*FITTED, "--set", "=15cm"), ("=15cm", "NAME=VALUE")),
    "set nothing": ((*FITTED, "--set", ""), ("--set", "NAME=VALUE")),
    "set twice": (
        (*FITTED, "--set", "cap_ease=2cm", "--set", "cap_ease=3cm"),
        ("cap_ease", "twice"),
    ),
    "too much ease": ((*FITTED, "--set", "cap_ease=9cm"), ("cap_ease", "9cm", "8.0 cm")),
    "too little ease": ((*FITTED, "--set", "cap_ease=-1mm"), ("cap_ease", "-1mm", "0.0 cm")),
    "ease in words": ((*FITTED, "--set", "cap_ease=some"), ("cap_ease", "some")),
    "ease not a number": ((*FITTED, "--set", "cap_ease=nan"), ("cap_ease", "nan")),
    "ease infinite": ((*FITTED, "--set", "cap_ease=1e999"), ("cap_ease", "1e999")),
    "ease in unknown unit": ((*FITTED, "--set", "cap_ease=2 ell"), ("cap_ease", "ell")),
    "ratio out of range": (
        (*FITTED, "--set", "front_ease_share=1"),
        ("front_ease_share", "0.3", "0.7"),
    ),
    "ratio in words": ((*FITTED, "--set", "notch_height=half"), ("notch_height", "half")),
    "ratio not a number": ((*FITTED, "--set", "notch_height=nan"), ("notch_height", "nan")),
    "ratio with a unit": ((*FITTED, "--set", "notch_height=0.3cm"), ("notch_height", "0.3cm")),
    "unknown format": ((*FITTED, "--format", "png"), ("png", "dxf, dxf-r12, hpgl, json, pdf")),
    "empty format": ((*FITTED, "--format", ""), ("--format", "empty")),
    "format between commas": ((*FITTED, "--format", "svg,,dxf"), ("svg,,dxf", "empty")),
    "format in capitals": ((*FITTED, "--format", "SVG"), ("SVG", "svg")),
    "out is a file": ((*FITTED, "--out", "ada.toml"), ("ada.toml", "--out")),
    "out under a file": ((*FITTED, "--out", "ada.toml/out/deep"), ("ada.toml", "--out")),
    "out is empty": ((*FITTED, "--out", ""), ("--out", "empty")),
    "out with a zero letter": ((*FITTED, "--out", "a\0b"), ("--out",)),
    "out longer than a name may be": ((*FITTED, "--out", "x" * 300), ("--out", "long")),
    # -- what cannot all be had --
    "three of three": (
        (
            *FITTED,
            *("--set", "bicep_width=34cm"),
            *("--set", "cap_height=15cm"),
            *("--set", "cap_ease=2cm"),
        ),
        ("bicep_width", "cap_height", "cap_ease", "leave one out"),
    ),
    "bicep width and its ease": (
        (*FITTED, "--set", "bicep_width=34cm", "--set", "bicep_ease=5cm"),
        ("bicep_width", "bicep_ease", "both", "leave one out"),
    ),
    "bicep ease, and a bicep that is solved": (
        (
            *STRAIGHT,
            *("--set", "bicep_ease=5cm"),
            *("--set", "cap_height=15cm"),
            *("--set", "cap_ease=2cm"),
        ),
        ("bicep_ease", "cap_height", "cap_ease", "all", "leave one out"),
    ),
    "wrist width and its ease": (
        (*FITTED, "--set", "wrist_width=22cm", "--set", "wrist_ease=5cm"),
        ("wrist_width", "wrist_ease", "both", "leave one out"),
    ),
    "bicep far too wide": (
        (*FITTED, "--set", "bicep_width=90cm"),
        ("cap ease", "armhole", "give bicep_width (90.0 cm) another value"),
    ),
    "cap that would hook under itself": (
        (*FITTED, "--set", "front_lower=-5cm"),
        ("front_lower", "-2.8 cm"),
    ),
    "hem that flares": (
        (*STRAIGHT, "--set", "hem=120cm"),
        ("hem", "120.0 cm", "flares", "or less"),
    ),
    "wrist that flares": (
        (*FITTED, "--set", "wrist_width=60cm"),
        ("wrist_width", "60.0 cm", "flares", "or less"),
    ),
    "bicep narrower than the arm": (
        (*FITTED, "--set", "bicep_width=25cm"),
        ("bicep width", "25.0 cm", "upper_arm_girth"),
    ),
    "cap too low to fit": (
        (*FITTED, "--set", "cap_height=4cm"),
        ("cap_height", "cap ease"),
    ),
    "cap too high to fit": (
        (*STRAIGHT, "--set", "cap_height=25cm"),
        ("cap_height", "cap ease"),
    ),
    "wrist narrower than the wrist": (
        (*FITTED, "--set", "wrist_width=15cm"),
        ("wrist_width", "15.0 cm", "wrist_girth", "16.0 cm"),
    ),
    "hem narrower than the wrist": (
        (*STRAIGHT, "--set", "hem=15cm"),
        ("hem", "15.0 cm", "wrist_girth", "16.0 cm"),
    ),
    "elbow below the wrist": (
        (*FITTED, "--set", "sleeve_length=30cm"),
        ("elbow", "upper_arm_length", "sleeve_length"),
    ),
    "sleeve shorter than its cap": (
        (*STRAIGHT, "--set", "sleeve_length=12cm"),
        ("sleeve_length", "12.0 cm"),
    ),
    "fitted sleeve shorter than its cap": (
        (*FITTED, "--set", "sleeve_length=12cm"),
        ("sleeve_length",),
    ),
}

# What no arm can give: the sheet, the settings, and words of the message.
NO_ARM: dict[str, tuple[dict[str, object], tuple[str, ...], tuple[str, ...]]] = {
    "armhole too small for the arm": (
        {"upper_arm_girth": 60},
        (),
        ("cap ease", "armhole", "upper_arm_girth"),
    ),
    "armhole too large for the arm": (
        {"upper_arm_girth": 20, "front_armhole_length": 35, "back_armhole_length": 35},
        (),
        ("cap ease", "armhole", "bicep"),
    ),
    "bicep that no height and ease give": (
        {},
        ("--set", "cap_height=30cm", "--set", "cap_ease=0cm"),
        ("cap_height",),
    ),
    "elbow above the cap": (
        {"upper_arm_length": 14.5, "outer_arm_length": 60},
        (),
        ("upper_arm_length",),
    ),
}


def expect(lines: list[str], words: tuple[str, ...]) -> None:
    together = "\n".join(lines)
    for word in words:
        assert word in together, (word, lines)


@pytest.mark.parametrize("case", SHEETS)
def test_sheet(workroom: Workroom, case: str) -> None:
    written, words = SHEETS[case]
    data = written if isinstance(written, bytes) else written.encode()
    (workroom.folder / "ada.toml").write_bytes(data)
    expect(workroom.refused(*FITTED, "--out", "out"), words)


@pytest.mark.parametrize("case", COMMANDS)
def test_command(workroom: Workroom, case: str) -> None:
    arguments, words = COMMANDS[case]
    lines = workroom.refused(*arguments)
    assert len(lines) == 1, lines
    expect(lines, words)


# Only the fitted sleeve has an elbow.
EVERY_ARM = [
    (case, block)
    for case in NO_ARM
    for block in ("sleeve.fitted", "sleeve.straight")
    if (case, block) != ("elbow above the cap", "sleeve.straight")
]


@pytest.mark.parametrize(("case", "block"), EVERY_ARM)
def test_no_such_arm(workroom: Workroom, case: str, block: str) -> None:
    changes, settings, words = NO_ARM[case]
    (workroom.folder / "ada.toml").write_text(sheet(**changes), encoding="utf-8")
    lines = workroom.refused("draft", block, "--body", "ada.toml", "--out", "out", *settings)
    expect(lines, words)


def test_there_are_many_cases() -> None:
    assert len(SHEETS) + len(COMMANDS) + len(EVERY_ARM) >= 60


def test_the_good_sheet_is_good(workroom: Workroom) -> None:
    """So that each case above is refused for its own fault."""
    for block in ("sleeve.fitted", "sleeve.straight"):
        assert workroom.run("draft", block, "--body", "ada.toml", "--out", "out").code == 0


def test_all_faults_at_once(workroom: Workroom) -> None:
    (workroom.folder / "ada.toml").write_text(
        sheet(wrist_girth=-1, bicep_girth=3, outer_arm_length='"x"'), encoding="utf-8"
    )
    lines = workroom.refused(*FITTED)
    assert len(lines) >= 3
    expect(lines, ("wrist_girth", "bicep_girth", "outer_arm_length"))


def test_all_missing_measurements_and_wrong_options_at_once(workroom: Workroom) -> None:
    (workroom.folder / "ada.toml").write_text(
        sheet(**dict.fromkeys(GOOD), waist_girth=70), encoding="utf-8"
    )
    lines = workroom.refused(*FITTED, "--set", "zzz=1", "--set", "cap_ease=50cm")
    expect(lines, ("zzz", "cap_ease", "upper_arm_girth", "wrist_girth", "outer_arm_length"))


@pytest.mark.parametrize(
    ("failure", "word"),
    [
        (PermissionError(errno.EACCES, "Permission denied"), "may not be read"),
        (OSError(errno.EIO, "Input/output error"), "cannot be read"),
    ],
)
def test_sheet_that_may_not_be_read(workroom, monkeypatch, failure: OSError, word: str) -> None:
    opened = Path.open

    def refuse(self: Path, *rest: object, **named: object):
        if self.name == "ada.toml":
            raise failure
        return opened(self, *rest, **named)

    with monkeypatch.context() as patch:
        patch.setattr(Path, "open", refuse)
        result = workroom.run(*FITTED)
    assert (result.code, result.out) == (2, "")
    (line,) = result.err.splitlines()
    assert line.startswith("blockwright: ada.toml: ")
    assert word in line


@pytest.mark.parametrize("out", [".", "out", "deep/er/out"])
@pytest.mark.parametrize("fails_at", [1, 2])
def test_disk_full(workroom, monkeypatch, out: str, fails_at: int) -> None:
    """Neither the files nor a folder made for them stay behind."""
    before = workroom.contents()
    opened = Path.open
    count = 0

    def full(self: Path, mode: str = "r", *rest: object, **named: object):
        nonlocal count
        if "x" in mode or "w" in mode:
            count += 1
            if count == fails_at:
                raise OSError(errno.ENOSPC, "No space left on device")
        return opened(self, mode, *rest, **named)

    with monkeypatch.context() as patch:
        patch.setattr(Path, "open", full)
        result = workroom.run(*FITTED, "--out", out)
    assert count == fails_at
    assert (result.code, result.out) == (2, "")
    (line,) = result.err.splitlines()
    assert line.startswith("blockwright: ")
    assert "No space left on device" in line
    assert workroom.contents() == before


def test_a_folder_in_a_files_place(workroom: Workroom) -> None:
    (workroom.folder / "out" / "ada-sleeve.fitted.dxf").mkdir(parents=True)
    (line,) = workroom.refused(*FITTED, "--out", "out")
    assert "ada-sleeve.fitted.dxf" in line
