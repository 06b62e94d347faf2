"""A block that is listed without being imported, and what may be wrong with where it is said to be.

An entry that says something else of a sound block is told by `plugins`; the block is drafted.
"""

from __future__ import annotations

import sys

import pytest
from cli_samples import Workroom
from stub_blocks import SAYS, cuff, line_of
from stub_distributions import Shelf

from blockwright import PluginError, load

ENTRY = "        BlockEntry({key!r}, {says!r}, {at!r}),\n"
RAISES = "x = 1\n\nraise ValueError('not\\nyet')\n"


def entries(*rows: tuple[object, object, object]) -> str:
    """A module that lists these blocks: key, what it says, where it is."""
    lines = [ENTRY.format(key=key, says=says, at=at) for key, says, at in rows]
    return (
        "from blockwright import BlockEntry, hookimpl\n\n\n@hookimpl\n"
        f"def blockwright_blocks():\n    return [\n{''.join(lines)}    ]\n"
    )


GOOD = ("late.good", SAYS, "late_good:Cuff")
# The entry, and words of what must be told of it.
WRONG: dict[str, tuple[tuple[str, str, str], tuple[str, ...]]] = {
    "module": (
        ("late.wrong", SAYS, "late_no_such:Cuff"),
        ("late_no_such:Cuff cannot be imported: ModuleNotFoundError", "'late_no_such'"),
    ),
    "attribute": (
        ("late.wrong", SAYS, "late_good:Cuf"),
        ("late_good has no 'Cuf'; did you mean Cuff?; write where its class is",),
    ),
    "no class": (
        ("late.wrong", SAYS, "late_good:line"),
        ("late_good:line is a value of type function, not a Block class; write where one is",),
    ),
    "another key": (
        ("late.wrong", SAYS, "late_good:Cuff"),
        ("late_good:Cuff has key 'late.good'; write the same key in both",),
    ),
    "raises": (
        ("late.wrong", SAYS, "late_raises:Cuff"),
        ("late_raises:Cuff cannot be imported: ValueError: not yet", "late_raises.py:3)"),
    ),
    "newer": (
        ("late.wrong", SAYS, "late_newer:Cuff"),
        ("late_newer.py:1)", "of a newer plugin API than this", "update blockwright"),
    ),
}
RUBBISH: dict[str, tuple[object, object, object]] = {
    "key in capitals": ("Late.Wrong", SAYS, "late_good:Cuff"),
    "no key": (None, SAYS, "late_good:Cuff"),
    "two lines": ("late.wrong", "A cuff.\nIn one piece.", "late_good:Cuff"),
    "a module alone": ("late.wrong", SAYS, "late_good"),
    "a call": ("late.wrong", SAYS, "late_good.py:Cuff()"),
}


@pytest.fixture
def late(shelf: Shelf, monkeypatch) -> Shelf:
    """Modules that entries point at, none of them imported yet."""
    sources = {
        "late_good": cuff("late.good", offered=False),
        "late_raises": RAISES,
        "late_newer": "from blockwright import quilting_frame\n",
        "late_chatty": "print('hello')\n" + cuff("late.chatty", offered=False),
    }
    for name, source in sources.items():
        (shelf.folder / f"{name}.py").write_text(source, encoding="utf-8")
        monkeypatch.delitem(sys.modules, name, raising=False)
    return shelf


def test_a_block_is_imported_when_it_is_used(late: Shelf, workroom: Workroom) -> None:
    late.put("my-late", entries(GOOD), plugin="late")
    host = load()
    assert host.faults == []
    assert host.says("late.good") == SAYS
    result = workroom.run("blocks")
    assert (result.code, result.err) == (0, "")
    assert f"  late.good          {SAYS}\n" in result.out
    assert "late_good" not in sys.modules
    assert host.block("late.good").title == "Cuff"
    assert "late_good" in sys.modules


def test_it_drafts_like_any_other(late: Shelf, workroom: Workroom) -> None:
    late.put("my-late", entries(GOOD), plugin="late")
    result = workroom.run("draft", "late.good", "--body", "ada.toml")
    assert (result.code, result.err) == (0, "")
    assert "late.good: all " in result.out
    assert (workroom.folder / "ada-late.good.svg").exists()


@pytest.mark.parametrize("case", WRONG)
def test_a_wrong_entry_is_told_when_it_is_used(late: Shelf, workroom: Workroom, case: str) -> None:
    entry, words = WRONG[case]
    late.put("my-late", entries(GOOD, entry), plugin="late")
    before = workroom.contents()
    result = workroom.run("draft", "late.wrong", "--body", "ada.toml")
    assert (result.code, result.out) == (3, "")
    (line,) = result.err.splitlines()
    start = "blockwright: plugin 'late' of my-late 1.0: block 'late.wrong': "
    assert line.startswith(start), line
    assert line.endswith("; tell its author")
    for word in words:
        assert word in line, line
    assert "entries.py" not in line  # a line of ours, which its author cannot change
    assert workroom.contents() == before
    assert workroom.run("draft", "late.good", "--body", "ada.toml").code == 0


def test_a_wrong_entry_is_told_by_plugins(late: Shelf, workroom: Workroom) -> None:
    entry, words = WRONG["raises"]
    late.put("my-late", entries(GOOD, entry), plugin="late")
    result = workroom.run("plugins")
    assert (result.code, result.err) == (3, "")
    (fault,) = [line for line in result.out.splitlines() if "fault" in line]
    assert fault.startswith("    fault: block 'late.wrong': ")
    for word in words:
        assert word in fault, fault


def test_no_line_of_ours_is_blamed_for_what_is_not_there(late: Shelf) -> None:
    late.put("my-late", entries(("late.wrong", SAYS, "late_no_such:Cuff")), plugin="late")
    with pytest.raises(PluginError) as raised:
        load().block("late.wrong")
    assert ".py:" not in str(raised.value)


def test_an_entry_that_says_something_else_is_told_by_plugins_alone(late, workroom) -> None:
    late.put("my-late", entries(("late.good", "A cape.", "late_good:Cuff")), plugin="late")
    result = workroom.run("plugins")
    assert (result.code, result.err) == (3, "")
    (fault,) = [line for line in result.out.splitlines() if "fault" in line]
    assert fault == (
        "    fault: block 'late.good': its entry says 'A cape.', the first line of its class "
        f"{SAYS!r}; write the same in both"
    )
    result = workroom.run("draft", "late.good", "--body", "ada.toml")
    assert (result.code, result.err) == (0, "")


def test_what_it_prints_when_it_is_imported_is_told(late: Shelf, workroom: Workroom) -> None:
    late.put("my-late", entries(("late.chatty", SAYS, "late_chatty:Cuff")), plugin="late")
    result = workroom.run("draft", "late.chatty", "--body", "ada.toml")
    assert result.code == 0
    assert "hello" not in result.out
    (line,) = result.err.splitlines()
    assert line.startswith("blockwright: plugin 'late' of my-late 1.0 printed 'hello'; a plugin")


@pytest.mark.parametrize("case", RUBBISH)
def test_rubbish_is_refused_at_once(late: Shelf, workroom: Workroom, case: str) -> None:
    late.put("my-late", entries(GOOD, RUBBISH[case]), plugin="late")
    host = load()
    assert "late.wrong" not in host.blocks
    assert "late.good" in host.blocks
    (fault,) = host.faults
    assert fault.startswith("plugin 'late' of my-late 1.0: blockwright_blocks: ")
    assert " of a BlockEntry is " in fault
    assert "give a key such as 'skirt.half-moon'" in fault
    assert "\n" not in fault


def test_the_line_of_the_authors_own_code(late: Shelf) -> None:
    late.put("my-late", entries(("late.wrong", SAYS, "late_raises:Cuff")), plugin="late")
    with pytest.raises(PluginError, match=rf"late_raises\.py:{line_of(RAISES, 'raise')}\)"):
        load().block("late.wrong")
