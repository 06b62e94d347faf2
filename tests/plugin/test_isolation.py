"""What is wrong with a plugin stays with it, and is reported so that it can be fixed."""

from __future__ import annotations

import json
import os
import re
import sys

import pytest
from cli_samples import Workroom
from stub_blocks import SAYS, cuff, line_of
from stub_distributions import HOOKS, Shelf

from blockwright import API_VERSION, InputError, load

SLEEVE = ("draft", "sleeve.fitted", "--body", "ada.toml")
RAISES = HOOKS + "@hookimpl\ndef blockwright_blocks():\n    return 1 / 0\n"
PRINTS = "print('at import')\nprint('and more')\n" + cuff("eel.cuff").replace(
    "    return [Cuff]", "    print('in the hook')\n    return [Cuff]"
)
RUBBISH = HOOKS + (
    "@hookimpl\ndef blockwright_blocks():\n    return [None, 'x']\n"
    "@hookimpl\ndef blockwright_formats():\n    return 7\n"
    "@hookimpl\ndef blockwright_bodies():\n    return {'a': 1}\n"
)


# -- all at once -------------------------------------------------------------------------------


@pytest.fixture
def zoo(shelf: Shelf) -> Shelf:
    """Two of one key; one that cannot be imported, one that raises, one that prints; rubbish."""
    shelf.put("ant-blocks", cuff("same.cuff"), plugin="ant")
    shelf.put("bee-blocks", cuff("same.cuff"), plugin="bee")
    shelf.put("cat-blocks", "x = 1\nimport no_such_module_at_all", plugin="cat")
    shelf.put("dog-blocks", RAISES, plugin="dog", version="0.3")
    shelf.put("eel-blocks", PRINTS, plugin="eel")
    shelf.put("fox-blocks", RUBBISH, plugin="fox")
    return shelf


def test_ours_draft_beside_all_of_them_and_json_is_json(zoo: Shelf, workroom: Workroom) -> None:
    result = workroom.run(*SLEEVE, "--json")
    assert result.code == 0
    values = json.loads(result.out)
    assert values["proof"]["held"] is True
    assert [(workroom.folder / name).stat().st_size > 0 for name in values["files"]] == [True] * 2


@pytest.mark.parametrize("key", ["same.cuff", "eel.cuff"])
def test_the_good_blocks_among_them_draft(zoo: Shelf, workroom: Workroom, key: str) -> None:
    result = workroom.run("draft", key, "--body", "ada.toml", "--json")
    assert result.code == 0
    assert json.loads(result.out)["pattern"]["block"] == key


def test_each_is_told_by_name_with_what_to_do(zoo: Shelf, workroom: Workroom) -> None:
    result = workroom.run("blocks")
    assert result.code == 0
    folder = re.escape(str(zoo.folder))
    told = [
        r"plugin 'bee' of bee-blocks 1\.0: block 'same\.cuff' refused: plugin 'ant' of ant-blocks "
        r"1\.0 has it already; rename one or uninstall it",
        r"plugin 'cat' of cat-blocks 1\.0: cat_blocks cannot be imported: ModuleNotFoundError: No "
        rf"module named 'no_such_module_at_all' \({folder}.cat_blocks\.py:2\); fix or uninstall "
        r"it",
        r"plugin 'dog' of dog-blocks 0\.3: blockwright_blocks failed: ZeroDivisionError: division "
        rf"by zero \({folder}.dog_blocks\.py:4\); fix or uninstall it",
        r"plugin 'eel' of eel-blocks 1\.0: printed 'at import' and 1 line more; a plugin must not "
        r"print; remove it",
        r"plugin 'eel' of eel-blocks 1\.0: blockwright_blocks printed 'in the hook'; a plugin must "
        r"not print; remove it",
        r"plugin 'fox' of fox-blocks 1\.0: blockwright_blocks: None is not a Block class; .*",
        r"plugin 'fox' of fox-blocks 1\.0: blockwright_blocks: a value of type str is not a .*",
        r"plugin 'fox' of fox-blocks 1\.0: blockwright_formats gave a value of type int; return .*",
        r"plugin 'fox' of fox-blocks 1\.0: blockwright_bodies: a value of type str is not a .*",
    ]
    lines = result.err.splitlines()
    assert len(lines) == len(told)
    for line, expected in zip(lines, told, strict=True):
        assert re.fullmatch(f"blockwright: {expected}", line), line


@pytest.mark.parametrize("command", [("blocks",), ("formats",), ("bodies",)])
def test_nothing_of_theirs_is_printed_among_ours(zoo: Shelf, workroom, command) -> None:
    result = workroom.run(*command)
    assert result.code == 0
    assert "at import" not in result.out
    assert "in the hook" not in result.out


# -- the version of the plugin API ---------------------------------------------------------------

REFUSED = {
    '"4.9"': ("asks for plugin API 4.9", f"blockwright has {API_VERSION}", "update blockwright"),
    '"5.0"': ("asks for plugin API 5.0", f"blockwright has {API_VERSION}", "update blockwright"),
    '"1.0"': (
        "was written for plugin API 1.0",
        API_VERSION,
        "'Changes of the plugin API' in DEVELOPERS.md",
        "then write blockwright_api = '4.0'",
    ),
    "1.0": ("blockwright_api is 1.0", "write the version as text, such as '4.0'"),
    '"one"': ("blockwright_api is 'one'", "write the version as text, such as '4.0'"),
    '"1.0.0"': ("blockwright_api is '1.0.0'", "such as '4.0'"),
}


def asking(version: str) -> str:
    return f"blockwright_api = {version}\n" + cuff("my.cuff")


@pytest.mark.parametrize("version", REFUSED)
def test_a_version_that_is_refused(shelf: Shelf, workroom: Workroom, version: str) -> None:
    shelf.put("my-cuff", asking(version), plugin="mine")
    result = workroom.run("draft", "my.cuff", "--body", "ada.toml")
    assert result.code == 2
    fault, refusal = result.err.splitlines()
    assert fault.startswith("blockwright: plugin 'mine' of my-cuff 1.0: ")
    for words in REFUSED[version]:
        assert words in fault
    assert refusal.startswith("blockwright: no block 'my.cuff'")
    assert workroom.run(*SLEEVE).code == 0


@pytest.mark.parametrize(
    ("source", "shown"),
    [
        (asking('"4.0"'), "API 4.0"),
        (cuff("my.cuff"), "API not stated"),
        ("from blockwright import API_VERSION as blockwright_api\n" + cuff("my.cuff"), "API 4.0"),
    ],
)
def test_a_version_that_is_accepted_and_shown(shelf, workroom, source: str, shown: str) -> None:
    shelf.put("my-cuff", source, plugin="mine")
    assert workroom.run("draft", "my.cuff", "--body", "ada.toml").code == 0
    result = workroom.run("plugins")
    assert (result.code, result.err) == (0, "")
    lines = result.out.splitlines()
    assert lines[0] == f"plugin API {API_VERSION}"
    at = lines.index(f"mine  my-cuff 1.0  {shown}")
    assert lines[at + 1] == "    blockwright_blocks: my.cuff"


def test_a_version_that_is_refused_is_shown_with_its_fault(shelf, workroom) -> None:
    shelf.put("my-cuff", asking('"5.0"'), plugin="mine")
    result = workroom.run("plugins")
    assert result.code == 3
    lines = result.out.splitlines()
    at = lines.index("mine  my-cuff 1.0  API 5.0")
    assert lines[at + 1].startswith("    fault: asks for plugin API 5.0")


@pytest.mark.parametrize(
    ("line", "near"),
    [
        ("from blockwright import quilting_frame", ""),
        ("import blockwright; blockwright.quilting_frame", ""),
        ("import blockwright.quilting_frames", ""),
        ("from blockwright.testing import quilting_frame", ""),
        ("from blockwright import mesurement", "did you mean measurement? if not, "),
        ("import blockwright; blockwright.fair_curv", "did you mean fair_curve? if not, "),
    ],
)
def test_a_public_name_that_is_not_there_may_be_of_a_newer_one(shelf, line: str, near: str) -> None:
    source = f"x = 1\n{line}\n"
    shelf.put("newer", source)
    (fault,) = load().faults
    assert "newer cannot be imported: " in fault
    assert f"newer.py:{line_of(source, line)}); {near}it may be of a newer plugin API" in fault
    assert f"this blockwright's {API_VERSION}: update blockwright" in fault


@pytest.mark.parametrize(
    "line", ["from blockwright_else import x", "from json import x", "import json; json.x"]
)
def test_a_name_of_somebody_else_is_no_matter_of_versions(shelf: Shelf, line: str) -> None:
    shelf.put("other", line)
    (fault,) = load().faults
    assert fault.endswith("other.py:1); fix or uninstall it")


# -- only some -----------------------------------------------------------------------------------


@pytest.fixture
def mine(shelf: Shelf) -> Shelf:
    shelf.put("my-cuffs", cuff("my.cuff"), plugin="mine")
    shelf.put("bad-one", "import no_such_module_at_all", plugin="bad")
    return shelf


def keys(out: str) -> set[str]:
    return {line.split()[0] for line in out.splitlines()}


@pytest.mark.parametrize(
    ("names", "expected"),
    [
        ("mine", {"my.cuff"}),
        ("my-cuffs", {"my.cuff"}),
        ("sleeve", {"sleeve.fitted", "sleeve.straight"}),
        ("mine, sleeve", {"my.cuff", "sleeve.fitted", "sleeve.straight"}),
        ("formats", set()),
    ],
)
def test_only_these(mine, workroom, monkeypatch, names: str, expected: set[str]) -> None:
    """As an option, in the environment, from Python; the bad one is not even tried."""
    result = workroom.run("--only", names, "blocks")
    assert (result.code, result.err) == (0, "")
    assert keys(result.out) == expected
    assert set(load(only=[name.strip() for name in names.split(",")]).blocks) == expected
    monkeypatch.setenv("BLOCKWRIGHT_PLUGINS", names)
    result = workroom.run("blocks")
    assert (result.code, result.err) == (0, "")
    assert keys(result.out) == expected
    assert set(load().blocks) == expected


def test_a_distribution_is_all_its_plugins(mine, workroom) -> None:
    result = workroom.run("--only", "blockwright", *SLEEVE)
    assert (result.code, result.err) == (0, "")
    assert len(load(only=["blockwright"]).plugins) > 5


def test_only_is_stronger_than_the_environment(mine, workroom, monkeypatch) -> None:
    monkeypatch.setenv("BLOCKWRIGHT_PLUGINS", "sleeve")
    assert keys(workroom.run("--only", "mine", "blocks").out) == {"my.cuff"}
    assert set(load(only=["mine"]).blocks) == {"my.cuff"}


@pytest.mark.parametrize("value", ["", " ", " , "])
def test_an_empty_environment_means_all(workroom, monkeypatch, value: str) -> None:
    monkeypatch.setenv("BLOCKWRIGHT_PLUGINS", value)
    result = workroom.run("blocks")
    assert (result.code, result.err) == (0, "")
    assert keys(result.out) == set(load().blocks)


def test_what_is_left_out_is_not_imported(mine, workroom) -> None:
    workroom.run("--only", "sleeve", "blocks")
    assert "my_cuffs" not in sys.modules
    workroom.run("blocks")
    assert "my_cuffs" in sys.modules


@pytest.mark.parametrize(
    ("names", "words"),
    [
        ("slleve", ("'slleve'", "did you mean sleeve?")),
        ("mine,my-cufs", ("'my-cufs'", "did you mean my-cuffs?")),
        ("zzz", ("'zzz'", "; there are bad, bad-one, blockwright, bodice, ")),
    ],
)
def test_a_plugin_that_is_not_there(mine, workroom, monkeypatch, names: str, words) -> None:
    (line,) = workroom.refused("--only", names, "blocks")
    for word in words:
        assert word in line
    with pytest.raises(InputError, match=re.escape(words[0])):
        load(only=names.split(","))
    monkeypatch.setenv("BLOCKWRIGHT_PLUGINS", names)
    (line,) = workroom.refused("blocks")
    assert line.startswith("blockwright: BLOCKWRIGHT_PLUGINS: no plugin or distribution ")
    for word in words:
        assert word in line


@pytest.mark.parametrize("names", ["", " ", ",", "mine,,sleeve", "mine,"])
def test_an_empty_name(mine, workroom, names: str) -> None:
    (line,) = workroom.refused("--only", names, "blocks")
    assert f"--only {names!r} has an empty name" in line


def test_a_block_alone_has_no_format_to_be_written_in(mine, workroom) -> None:
    (line,) = workroom.refused("--only", "mine", "draft", "my.cuff", "--body", "ada.toml")
    assert "no format 'svg'" in line
    assert "no plugin that offers formats is loaded" in line
    assert "blockwright plugins" in line
    assert (
        workroom.run("--only", "mine,formats", "draft", "my.cuff", "--body", "ada.toml").code == 0
    )


# -- what is the whole process's -----------------------------------------------------------------


def test_a_trace_tells_imports_and_hook_calls(zoo, workroom, monkeypatch) -> None:
    monkeypatch.setenv("BLOCKWRIGHT_TRACE", "1")
    result = workroom.run(*SLEEVE, "--json")
    assert result.code == 0
    assert json.loads(result.out)["proof"]["held"] is True
    told = [line for line in result.err.splitlines() if line.startswith("blockwright: trace: ")]
    for what in (
        r"plugin 'ant' of ant-blocks 1\.0: importing ant_blocks",
        r"plugin 'ant' of ant-blocks 1\.0: asking blockwright_blocks",
        r"plugin 'cat' of cat-blocks 1\.0: importing cat_blocks",
        r"plugin 'sleeve' of blockwright \S+: importing block 'sleeve\.fitted'",
    ):
        for expected in (what, rf"{what}: \d+\.\d ms"):
            found = [line for line in told if re.fullmatch(f"blockwright: trace: {expected}", line)]
            assert len(found) == 1, expected


@pytest.mark.parametrize("value", [None, "", "0"])
def test_no_trace(shelf, workroom, monkeypatch, value: str | None) -> None:
    if value is None:
        monkeypatch.delenv("BLOCKWRIGHT_TRACE", raising=False)
    else:
        monkeypatch.setenv("BLOCKWRIGHT_TRACE", value)
    shelf.put("my-cuffs", cuff("my.cuff"), plugin="mine")
    result = workroom.run("draft", "my.cuff", "--body", "ada.toml")
    assert (result.code, result.err) == (0, "")


def test_another_working_folder_is_undone(shelf: Shelf, workroom: Workroom) -> None:
    elsewhere = shelf.folder / "elsewhere"
    elsewhere.mkdir()
    shelf.put("odd", f"import os\nos.chdir({str(elsewhere)!r})\n" + cuff("odd.cuff"))
    before = os.getcwd()
    result = workroom.run(*SLEEVE)
    assert os.getcwd() == before
    assert result.code == 0
    assert f"plugin 'odd' of odd 1.0: changed the working folder to {elsewhere}" in result.err
    assert not list(elsewhere.iterdir())


def test_a_warning_is_told_in_its_own_words(shelf: Shelf, workroom: Workroom) -> None:
    shelf.put("odd", "import warnings\n" + cuff("odd.cuff", first="warnings.warn('too narrow')"))
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr("warnings.filters", [])
        result = workroom.run("draft", "odd.cuff", "--body", "ada.toml")
    assert result.code == 0
    assert "warned: UserWarning: too narrow (" in result.err
    assert "odd.py:" in result.err


def test_a_plugin_may_set_the_encoding_of_the_terminal(shelf: Shelf) -> None:
    shelf.put("odd", "import sys\nsys.stdout.reconfigure(encoding='utf-8')\n" + cuff("odd.cuff"))
    assert load().faults == []


INTERRUPTED = {
    "at import": ("raise KeyboardInterrupt", "plugin 'odd' of odd 1.0: importing odd"),
    "in a draft": (cuff("odd.cuff", first="raise KeyboardInterrupt"), "'odd.cuff' of plugin 'odd'"),
}


@pytest.mark.parametrize("case", INTERRUPTED)
def test_what_was_stopped_by_hand_is_told(shelf: Shelf, workroom: Workroom, case: str) -> None:
    source, words = INTERRUPTED[case]
    shelf.put("odd", source)
    result = workroom.run("draft", "odd.cuff", "--body", "ada.toml")
    assert result.code == 130
    assert words in result.err


def test_the_stub_says_what_the_host_lists(shelf: Shelf) -> None:
    """So that what is told of it above is told of a whole block."""
    shelf.put("my-cuffs", cuff("my.cuff"))
    assert load().says("my.cuff") == SAYS
