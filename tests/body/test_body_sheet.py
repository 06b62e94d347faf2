"""Body sheets: what is read, and every way a sheet can be wrong, each with its one line."""

from __future__ import annotations

import copy
import os
import pickle
import subprocess
import sys
import tomllib
from dataclasses import replace
from fractions import Fraction
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from blockwright.body.lengths import Unit
from blockwright.body.measurements import contradictions, lookup, measurements
from blockwright.body.reading import LARGEST, LONGEST_ENTRY, key_lines
from blockwright.body.sheet import BodySheet, load_sheet, parse_sheet
from blockwright.errors import InputError, InputErrors

WORKROOM = Path(__file__).parents[2] / "examples" / "workroom"

SARA = """\
# A made-up person.
name = "Sara"
units = "cm"
notes = "left shoulder a little low"

[measurements]
bust_girth = 88
waist_girth = "70.5"
hip_girth = "37 1/2 in"
upper_arm_girth = '11"'
wrist_girth = "158 mm"
"""
SARA_MM = {
    "bust_girth": 880.0,
    "waist_girth": 705.0,
    "hip_girth": 952.5,
    "upper_arm_girth": 279.4,
    "wrist_girth": 158.0,
}


def refusals(text: str) -> list[str]:
    """The lines a sheet is refused with; each is one line."""
    with pytest.raises(InputErrors) as refusal:
        parse_sheet(text, where="sara.toml")
    lines = refusal.value.lines
    assert str(refusal.value) == "\n".join(lines)
    assert all(len(line.splitlines()) == 1 for line in lines)
    return lines


# -- what is read ------------------------------------------------------------------------------


def test_a_sheet_is_read() -> None:
    sheet = parse_sheet(SARA)
    assert (sheet.name, sheet.units) == ("Sara", Unit.CM)
    assert sheet.notes == "left shoulder a little low"
    assert sheet.where == "body sheet"
    assert dict(sheet.values) == pytest.approx(SARA_MM)


def test_a_sheet_is_a_frozen_value() -> None:
    sheet = parse_sheet(SARA)
    with pytest.raises(TypeError):
        sheet.values["bust_girth"] = 1.0  # type: ignore[index]
    with pytest.raises(AttributeError):
        sheet.name = "Tom"  # type: ignore[misc]
    same = parse_sheet(SARA, where="copy.toml")
    assert sheet == same
    assert hash(sheet) == hash(same)
    assert pickle.loads(pickle.dumps(sheet)) == sheet == copy.deepcopy(sheet)


def test_what_was_estimated_is_part_of_the_value() -> None:
    measured = parse_sheet(SARA)
    assert dict(measured.estimates) == {}
    sheet = replace(measured, estimates={"bust_girth": "the stand's"})
    assert sheet != measured
    with pytest.raises(TypeError):
        sheet.estimates["bust_girth"] = "measured"  # type: ignore[index]
    assert pickle.loads(pickle.dumps(sheet)) == sheet == copy.deepcopy(sheet)
    assert hash(sheet) == hash(copy.deepcopy(sheet))


def test_later_changes_to_given_values_do_not_reach_the_sheet() -> None:
    values = {"bust_girth": 880.0}
    sheet = BodySheet("", Unit.MM, values)
    values["bust_girth"] = 1.0
    assert sheet.values["bust_girth"] == 880.0


@pytest.mark.parametrize(
    "text",
    [
        "\ufeff" + SARA,
        SARA.replace("\n", "\r\n"),
        SARA.replace('"cm"', '"CM"'),
        SARA.replace("[measurements]", "[ 'measurements' ]"),
        SARA.replace("bust_girth", '"bust_girth"'),
        SARA.replace("[measurements]", "").replace("\nbust", "\nmeasurements.bust").replace(
            "\nwaist", "\nmeasurements.waist").replace("\nhip", "\nmeasurements.hip").replace(
            "\nupper", "\nmeasurements.upper").replace("\nwrist", "\nmeasurements.wrist"),
    ],
)  # fmt: skip
def test_other_spellings_of_the_same_sheet(text: str) -> None:
    assert parse_sheet(text) == parse_sheet(SARA)


def test_name_and_notes_may_be_left_out_and_the_table_empty() -> None:
    sheet = parse_sheet('units = "in"\n[measurements]\n')
    assert (sheet.name, sheet.notes, dict(sheet.values)) == ("", "", {})


def test_a_sheet_made_in_code() -> None:
    values = {"bust_girth": 34.5, "waist_girth": '27 1/2"', "hip_girth": Fraction(75, 2)}
    sheet = BodySheet.from_values(values, units="in", name="Sara", notes="n")
    assert sheet.values == pytest.approx(
        {"bust_girth": 876.3, "waist_girth": 698.5, "hip_girth": 952.5}
    )
    assert (sheet.name, sheet.units, sheet.notes) == ("Sara", Unit.IN, "n")
    assert BodySheet.from_values({"height": 1700}, units=Unit.MM).values == {"height": 1700.0}


def test_a_sheet_made_in_code_is_checked() -> None:
    with pytest.raises(InputErrors) as refusal:
        BodySheet.from_values({"bust_girht": 88, "waist_girth": "70,5"}, units="ft")
    assert refusal.value.lines == [
        'body sheet: units: \'ft\' is not a unit here; write "cm", "mm" or "in"',
        "body sheet: bust_girht: no such measurement; did you mean bust_girth?",
        "body sheet: waist_girth: '70,5' is not a length: "
        "write the decimal with a point and no commas, as in 34.3 cm",
    ]


@pytest.mark.parametrize("unit", Unit)
@pytest.mark.parametrize("name", measurements())
def test_a_limit_is_accepted_as_printed(name: str, unit: Unit) -> None:
    from blockwright.body.lengths import format_length

    for limit in (lookup(name).low, lookup(name).high):
        BodySheet.from_values({name: format_length(limit, unit)}, units=unit)


# -- what is refused ---------------------------------------------------------------------------

HEAD = 'units = "cm"\n[measurements]\n'
TEXT = 'write name = number, or a length in quotes: waist_girth = "70 cm"'
NOT_TOML = "not valid TOML (Expected newline or end of document after a statement, column"
VALUE = 'give a number or text like "88 cm"'
LIST = "'blockwright measurements' lists them"
IN_QUOTES = '= "..."'
POSITIVE = "a measurement is more than zero"

REFUSED = [
    # the whole
    ("", ['sara.toml: is empty; write units = "cm", then [measurements] and one a line']),
    ("# only a remark\n",
     ['sara.toml: is empty; write units = "cm", then [measurements] and one a line']),
    ('units = "cm"\n',
     ["sara.toml: [measurements] is missing; write it, and one measurement a line below"]),
    ("[measurements]\nbust_girth = 88\n",
     ['sara.toml: units is missing; write "cm", "mm" or "in", as in units = "cm", '
      "above [measurements]"]),
    # TOML itself
    (HEAD + "waist_girth = 70,5\n",
     [f"sara.toml:3: {NOT_TOML} 17); write the decimal with a point, as in 70.5"]),
    (HEAD + "waist_girth = 27 1/2 in\n", [f"sara.toml:3: {NOT_TOML} 18); {TEXT}"]),
    (HEAD + 'waist_girth = "27 1/2""\n',
     [f"sara.toml:3: {NOT_TOML} 23); "
      "write inches as \"27 1/2 in\", or in single quotes: '27 1/2\"'"]),
    (HEAD + "waist_girth 70\n",
     ["sara.toml:3: not valid TOML (Expected '=' after a key in a key/value pair, column 13); "
      + TEXT]),
    ("units =\n", [f"sara.toml:1: not valid TOML (Invalid value, column 8); {TEXT}"]),
    (HEAD + "waist_girth = 70\nwaist_girth = 71\n",
     ["sara.toml:4: this name or table is given twice; keep one of them"]),
    (HEAD + "[measurements]\n",
     ["sara.toml:3: this name or table is given twice; keep one of them"]),
    ('units = "cm\n[measurements]\n',
     [f"sara.toml:1: not valid TOML (Illegal character '\\n', column 12); {TEXT}"]),
    ('notes = """\n',
     ["sara.toml: not valid TOML (Unterminated string (at end of document)); "
      "close every quote and bracket that is opened"]),
    (HEAD + "bust_girth = " + "[" * 5000,
     ["sara.toml: brackets are nested too deep; write [measurements] and one a line"]),
    (HEAD + "bust_girth = " + "9" * 5000,
     ["sara.toml: a number has too many digits; correct it"]),
    # top-level entries
    ('unit = "cm"\n[measurements]\n', ["sara.toml:1: unit: no such entry; did you mean units?"]),
    ('units = "cm"\n[measurments]\nbust_girth = 88\n',
     ["sara.toml:2: [measurments]: no such entry; did you mean [measurements]?"]),
    (HEAD + "[[measurments]]\n",
     ["sara.toml:3: measurments: no such entry; did you mean [measurements]?"]),
    ('units = "cm"\nbust_girth = 88\n[measurements]\n',
     ["sara.toml:2: bust_girth: no such entry; write measurements below the line [measurements]"]),
    (HEAD + "[bust]\ngirth = 88\n",
     ["sara.toml:3: [bust]: no such entry; "
      "a body sheet has name, units, notes and [measurements]"]),
    ('colour = "red"\n' + HEAD,
     ["sara.toml:1: colour: no such entry; "
      "a body sheet has name, units, notes and [measurements]"]),
    ('colour = "red"\nunits = "cm"\n',
     ["sara.toml: [measurements] is missing; write it, and one measurement a line below",
      "sara.toml:1: colour: no such entry; "
      "a body sheet has name, units, notes and [measurements]"]),
    ("name = 3\n" + HEAD, [f"sara.toml:1: name: must be text in quotes, as in name {IN_QUOTES}"]),
    ("notes = [1]\n" + HEAD,
     [f"sara.toml:1: notes: must be text in quotes, as in notes {IN_QUOTES}"]),
    ('name = "a\\nb"\n' + HEAD, ["sara.toml:1: name: must be one line of text, without tabs"]),
    ('units = "furlong"\n[measurements]\n',
     ["sara.toml:1: units: 'furlong' is not a unit here; write \"cm\", \"mm\" or \"in\""]),
    ("units = 3\n[measurements]\n",
     ['sara.toml:1: units: 3 is not a unit here; write "cm", "mm" or "in"']),
    ('units = "cm"\nmeasurements = 88\n',
     ["sara.toml:2: measurements: must be a table; write [measurements], and one a line below"]),
    ('units = "cm"\n[[measurements]]\nbust_girth = 88\n',
     ["sara.toml:2: measurements: must be a table; write [measurements], and one a line below"]),
    # names
    (HEAD + "waist_girht = 70\n",
     ["sara.toml:3: waist_girht: no such measurement; did you mean waist_girth?"]),
    (HEAD + '"Waist Girth" = 70\n',
     ["sara.toml:3: 'Waist Girth': no such measurement; did you mean waist_girth?"]),
    (HEAD + "bicep = 30\n",
     ["sara.toml:3: bicep: no such measurement; did you mean upper_arm_girth?"]),
    (HEAD + "tail = 30\n", [f"sara.toml:3: tail: no such measurement; {LIST}"]),
    (HEAD + '"x\\ny" = 30\n', [f"sara.toml:3: 'x\\ny': no such measurement; {LIST}"]),
    (HEAD + 'notes = "x"\n', ["sara.toml:3: notes: belongs above the line [measurements]"]),
    # values
    (HEAD + "bust_girth = true\n", [f"sara.toml:3: bust_girth: true is no measurement; {VALUE}"]),
    (HEAD + "bust_girth = [88]\n", [f"sara.toml:3: bust_girth: a list is no measurement; {VALUE}"]),
    (HEAD + "bust_girth.full = 88\n",
     [f"sara.toml:3: bust_girth: a table is no measurement; {VALUE}"]),
    (HEAD + "bust_girth = 1979-05-27\n",
     [f"sara.toml:3: bust_girth: '1979-05-27' is no measurement; {VALUE}"]),
    (HEAD + "bust_girth = nan\n", ["sara.toml:3: bust_girth: nan is not a length: give a number"]),
    (HEAD + "bust_girth = -inf\n",
     ["sara.toml:3: bust_girth: -inf is not a length: give a number"]),
    (HEAD + 'bust_girth = ""\n',
     ["sara.toml:3: bust_girth: '' is not a length: it is empty; write for instance 34.3 cm"]),
    (HEAD + 'bust_girth = "88,5 cm"\n',
     ["sara.toml:3: bust_girth: '88,5 cm' is not a length: "
      "write the decimal with a point and no commas, as in 34.3 cm"]),
    (HEAD + "height = \"5'6\"\n",
     ["sara.toml:3: height: \"5'6\" is not a length: "
      "feet and yards are not read; write it all in inches, as in 65 1/2 in"]),
    # ranges
    (HEAD + "bust_girth = 880\n",
     ["sara.toml:3: bust_girth: 880 cm is outside 40.0 cm to 220.0 cm; "
      "is the unit right? did you mean 880 mm?"]),
    ('units = "in"\n[measurements]\nbust_girth = 88\n',
     ["sara.toml:3: bust_girth: 88 in is outside 15 3/4 in to 86 5/8 in; "
      "is the unit right? did you mean 88 cm?"]),
    ('units = "mm"\n[measurements]\nbust_girth = 88.5\n',
     ["sara.toml:3: bust_girth: 88.5 mm is outside 400.0 mm to 2200.0 mm; "
      "is the unit right? did you mean 88.5 cm?"]),
    (HEAD + 'waist_girth = "60 mm"\n',
     ["sara.toml:3: waist_girth: 60 mm is outside 38.0 cm to 250.0 cm; "
      "is the unit right? did you mean 60 cm or 60 in?"]),
    (HEAD + 'waist_girth = "60\\nmm"\n',
     ["sara.toml:3: waist_girth: 60 mm is outside 38.0 cm to 250.0 cm; "
      "is the unit right? did you mean 60 cm or 60 in?"]),
    (HEAD + "bust_girth = 99000\n",
     ["sara.toml:3: bust_girth: 99000 cm is outside 40.0 cm to 220.0 cm; "
      "is the unit right? if it is, measure again"]),
    (HEAD + f'bust_girth = "{"0" * 90}1"\n',
     [f"sara.toml:3: bust_girth: {'0' * 40}... cm is outside 40.0 cm to 220.0 cm; "
      "is the unit right? if it is, measure again"]),
    (HEAD + "bust_girth = 0\n",
     [f"sara.toml:3: bust_girth: 0 cm is outside 40.0 cm to 220.0 cm; {POSITIVE}"]),
    (HEAD + 'bust_girth = "-88"\n',
     [f"sara.toml:3: bust_girth: -88 cm is outside 40.0 cm to 220.0 cm; {POSITIVE}"]),
    # contradictions
    (HEAD + "outside_leg_length = 40\nwaist_to_hip = 41\n",
     ["sara.toml:4: waist_to_hip 41.0 cm is more than outside_leg_length 40.0 cm, "
      "which no body has; measure both again"]),
    (HEAD + "inside_leg_height = 101\noutside_leg_length = 100\n",
     ["sara.toml:3: inside_leg_height 101.0 cm is more than outside_leg_length 100.0 cm, "
      "which no body has; measure both again"]),
    ('units = "in"\n[measurements]\nwrist_girth = 12\nupper_arm_girth = 11\n',
     ["sara.toml:3: wrist_girth 12 in is more than upper_arm_girth 11 in, "
      "which no body has; measure both again"]),
]  # fmt: skip


@pytest.mark.parametrize(("text", "lines"), REFUSED)
def test_a_fault_gets_its_line(text: str, lines: list[str]) -> None:
    assert refusals(text) == lines


def test_all_faults_come_at_once_in_the_order_of_the_file() -> None:
    text = (
        'units = "cm"\nnmae = "Sara"\n\n[measurements]\nwaist_girht = 70\nhip_girth = "94,5"\n'
        "bust_girth = 880\nunder_bust_girth = 76\ninside_leg_height = 101\n"
        "outside_leg_length = 100\n"
    )
    assert refusals(text) == [
        "sara.toml:2: nmae: no such entry; did you mean name?",
        "sara.toml:5: waist_girht: no such measurement; did you mean waist_girth?",
        "sara.toml:6: hip_girth: '94,5' is not a length: "
        "write the decimal with a point and no commas, as in 34.3 cm",
        "sara.toml:7: bust_girth: 880 cm is outside 40.0 cm to 220.0 cm; "
        "is the unit right? did you mean 880 mm?",
        "sara.toml:9: inside_leg_height 101.0 cm is more than outside_leg_length 100.0 cm, "
        "which no body has; measure both again",
    ]


def test_without_a_unit_what_can_be_checked_still_is() -> None:
    text = '[measurements]\nbust_girth = 88\nwaist_girth = "70 mm"\nhipgirth = 94\n'
    assert refusals(text) == [
        'sara.toml: units is missing; write "cm", "mm" or "in", as in units = "cm", '
        "above [measurements]",
        "sara.toml:3: waist_girth: 70 mm is outside 380.0 mm to 2500.0 mm; "
        "is the unit right? did you mean 70 cm or 70 in?",
        "sara.toml:4: hipgirth: no such measurement; did you mean hip_girth?",
    ]


# -- files -------------------------------------------------------------------------------------


def refusal_of(path: str | Path) -> str:
    with pytest.raises(InputErrors) as refusal:
        load_sheet(path)
    (line,) = refusal.value.lines
    assert len(line.splitlines()) == 1
    return line


def test_a_file_is_read_and_named_in_messages(tmp_path: Path) -> None:
    path = tmp_path / "sara.toml"
    path.write_text(SARA, encoding="utf-8")
    assert load_sheet(path) == load_sheet(str(path)) == parse_sheet(SARA)
    assert load_sheet(path).where == str(path)
    path.write_text(SARA.replace("bust_girth", "bust_girht"), encoding="utf-8")
    assert refusal_of(path) == (
        f"{path}:7: bust_girht: no such measurement; did you mean bust_girth?"
    )


def test_a_byte_order_mark_and_letters_of_the_world_are_read(tmp_path: Path) -> None:
    path = tmp_path / "sara.toml"
    path.write_bytes(b"\xef\xbb\xbf" + SARA.replace("Sara", "Sára Ł 沙").encode())
    assert load_sheet(path).name == "Sára Ł 沙"


@pytest.mark.parametrize(
    ("data", "message"),
    [
        (SARA.encode("utf-16"), ": is not plain text, or is UTF-16; save the file as UTF-8 text"),
        (SARA.encode("utf-16-be"),
         ": is not plain text, or is UTF-16; save the file as UTF-8 text"),
        (SARA.replace("left", "épaule").encode("latin-1"),
         ":4: a letter here is not UTF-8; save the file as UTF-8 text"),
        (b"\x89PNG\r\n\x1a\n\0", ": is not plain text, or is UTF-16; save the file as UTF-8 text"),
        (b"", ': is empty; write units = "cm", then [measurements] and one a line'),
        (b"\xef\xbb\xbf", ': is empty; write units = "cm", then [measurements] and one a line'),
        (b"#" * (LARGEST + 1),
         ": is larger than 100 kB; give a body sheet, a short text file"),
    ],
    ids=["utf-16", "utf-16 without mark", "latin-1", "picture", "empty", "only mark", "huge"],
)  # fmt: skip
def test_a_file_that_is_no_sheet(tmp_path: Path, data: bytes, message: str) -> None:
    path = tmp_path / "sara.toml"
    path.write_bytes(data)
    assert refusal_of(path) == f"{path}{message}"


def test_no_file(tmp_path: Path) -> None:
    path = tmp_path / "sara.toml"
    assert refusal_of(path) == f"{path}: there is no such file; check its name and folder"


def test_a_folder(tmp_path: Path) -> None:
    assert refusal_of(tmp_path) == (
        f"{tmp_path}: is a folder; give the body sheet in it, a .toml file"
    )


def test_a_file_below_a_file(tmp_path: Path) -> None:
    (tmp_path / "a").write_text("x", encoding="utf-8")
    line = refusal_of(tmp_path / "a" / "sara.toml")
    assert line.startswith(f"{tmp_path / 'a' / 'sara.toml'}: ")
    assert "check its name and folder" in line


@pytest.mark.skipif(
    not hasattr(os, "geteuid") or os.geteuid() == 0, reason="the superuser may read every file"
)
def test_no_permission(tmp_path: Path) -> None:
    path = tmp_path / "sara.toml"
    path.write_text(SARA, encoding="utf-8")
    path.chmod(0)
    assert refusal_of(path) == f"{path}: may not be read; change the file's permissions"


def test_permission_is_told_from_absence(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    def refuse(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(Path, "open", refuse)
    path = tmp_path / "sara.toml"
    assert refusal_of(path) == f"{path}: may not be read; change the file's permissions"


def test_names_that_are_none() -> None:
    assert refusal_of("") == "the name of the body sheet is empty; give a file such as sara.toml"
    assert refusal_of("sara\0.toml") == (
        "'sara\\x00.toml': cannot be read (embedded null byte); check its name and folder"
    )
    assert refusal_of("sara\n.toml") == (
        "'sara\\n.toml': there is no such file; check its name and folder"
    )


# -- line numbers ------------------------------------------------------------------------------


def test_lines_of_quoted_dotted_and_repeated_keys() -> None:
    text = (
        "# measurements.a = 1\n"  # 1
        'name = "measurements.a = 2"\n'
        'notes = """\n'  # 3
        "[measurements]\n"
        'a = 1\n"""\n'
        "  'measurements' . \"a\" = 1 # a = 3\n"  # 7
        "list = [\n"  # 8
        "  { a = 1 },\n]\n"
        "other.measurements = { a = 1, b.c = 2 }\n"  # 11
        "[x.measurements]\n"  # 12
        "a = 1\n"
        "[[y]]\n[[y]]\n"  # 14
        "b = 1\n"
        '[measurements."b c"]\n'  # 17
        "a = 1"
    )
    tomllib.loads(text)
    lines = key_lines(text)
    assert lines["measurements",] == lines["measurements", "a"] == 7
    assert lines["notes",] == 3
    assert lines["list",] == 8
    assert lines["other", "measurements", "a"] == lines["other", "measurements", "b", "c"] == 11
    assert lines["x", "measurements", "a"] == 13
    assert (lines["y",], lines["y", "b"]) == (14, 16)
    assert (lines["measurements", "b c"], lines["measurements", "b c", "a"]) == (17, 18)
    assert set(lines.values()) == {2, 3, 7, 8, 11, 12, 13, 14, 16, 17, 18}


def test_after_a_very_long_entry_no_line_is_told() -> None:
    note = "\n" * LONGEST_ENTRY
    text = f'units = "cm"\nnotes = """{note}"""\n[measurements]\nbust_girht = 88\n'
    assert refusals(text) == [
        "sara.toml: bust_girht: no such measurement; did you mean bust_girth?"
    ]
    text = text.replace(note, note[2:])
    assert refusals(text) == [
        f"sara.toml:{LONGEST_ENTRY + 2}: bust_girht: no such measurement; did you mean bust_girth?"
    ]


def test_of_an_entry_over_several_lines_only_the_first_key_is_told() -> None:
    text = 'units = "cm"\nmeasurements = { bust_girth = 88, x = """\n""", bust_girht = 88 }\n'
    assert refusals(text) == [
        f"sara.toml: x: no such measurement; {LIST}",
        "sara.toml: bust_girht: no such measurement; did you mean bust_girth?",
    ]


KEYS = st.sampled_from(["bust_girth", "waist_girth", "hip_girth", "zq", "name", "a b", "é"])


@given(
    st.dictionaries(KEYS, st.sampled_from(["1", '"x"', '"""\ny\n"""', "[\n1,\n]", "{ zq = 1 }"])),
    st.lists(st.sampled_from(["", "# zq = 1", "\t"]), max_size=3),
)
def test_every_line_told_begins_its_entry(entries: dict[str, str], filler: list[str]) -> None:
    text = "[measurements]\n"
    for key, value in entries.items():
        text += "".join(f"{line}\n" for line in filler) + f'"{key}" = {value}\n'
    lines = key_lines(text)
    for key in entries:
        assert text.split("\n")[lines["measurements", key] - 1].startswith(f'"{key}" = ')


@given(st.text(max_size=200))
def test_any_text_is_read_or_refused_line_by_line(text: str) -> None:
    for sheet in (text, HEAD + text):
        try:
            parse_sheet(sheet, where="sara.toml")
        except InputErrors as refusal:
            assert refusal.lines  # noqa: PT017  (either outcome is right)
            assert all(len(line.splitlines()) == 1 for line in refusal.lines)  # noqa: PT017


# -- the examples ------------------------------------------------------------------------------

MADE_UP = "# Invented: "
FOR_ALL_BLOCKS = {
    "bust_girth", "waist_girth", "hip_girth", "upper_arm_girth", "wrist_girth", "neck_base_girth",
    "shoulder_length", "across_back_width", "across_front_width", "bust_point_width", "scye_depth",
    "back_neck_point_to_waist", "front_neck_point_to_waist", "side_neck_point_to_bust_point",
    "side_neck_point_to_waist", "upper_arm_length", "outer_arm_length", "waist_to_hip",
    "waist_to_knee", "outside_leg_length", "inside_leg_height", "body_rise", "total_crotch_length",
    "knee_height", "thigh_girth", "knee_girth", "ankle_girth",
}  # fmt: skip


@pytest.mark.parametrize(
    ("file", "unit"), [("nora", "cm"), ("ines", "in"), ("tom", "cm"), ("stand", "mm")]
)
def test_the_workroom(file: str, unit: str) -> None:
    path = WORKROOM / f"{file}.toml"
    sheet = load_sheet(path)
    assert path.read_text(encoding="utf-8").startswith(MADE_UP)
    assert sheet.units == unit
    assert set(sheet.values) >= FOR_ALL_BLOCKS
    assert not contradictions(sheet.values)
    armhole = {"front_armhole_length", "back_armhole_length"} <= set(sheet.values)
    assert armhole or "armscye_girth" in sheet.values


def test_the_workroom_has_no_other_sheets() -> None:
    assert {p.name for p in WORKROOM.iterdir()} == {
        "README.md", "nora.toml", "ines.toml", "tom.toml", "stand.toml",
    }  # fmt: skip


# -- nothing slow ------------------------------------------------------------------------------


def test_reading_a_sheet_loads_nothing_slow() -> None:
    code = (
        "import sys, blockwright.body.sheet\n"
        "slow = {'numpy', 'scipy', 'click', 'rich', 'ezdxf', 'cadquery', 'shapely'}\n"
        "assert not slow & set(sys.modules), slow & set(sys.modules)"
    )
    done = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=False)
    assert done.returncode == 0, done.stderr


def test_every_fault_has_a_code_and_its_values() -> None:
    text = 'unit = "cm"\n[measurements]\nwast_girth = 70\nhip_girth = "34,3 cm"\nheight = 9'
    with pytest.raises(InputErrors) as caught:
        parse_sheet(text, where="s.toml")
    entry, unknown, wrong, *_ = caught.value.faults
    assert (entry.code, entry.values["near"]) == ("sheet.misspelt-entry", "units")
    assert (unknown.code, unknown.values["at"]) == ("sheet.unknown-measurement", "s.toml:3")
    why = wrong.values["why"]
    assert isinstance(why, InputError)
    assert (wrong.code, why.code) == ("sheet.wrong-measurement", "length.comma")
