"""Plugins that are not only wrong but hostile: the host names them and works on."""

from __future__ import annotations

import os
import re
import subprocess
import sys
import threading
import time
from pathlib import Path

import pytest
from cli_samples import Workroom
from stub_blocks import cuff
from stub_distributions import HOOKS, Shelf

from blockwright import load

SLEEVE = ("draft", "sleeve.fitted", "--body", "ada.toml")
CUFF = ("draft", "odd.cuff", "--body", "ada.toml")
MUTE = "class Mute(Exception):\n    def __str__(self):\n        raise ValueError\n"
ODD = "class Odd(BaseException):\n    pass\n"
ASKED = HOOKS + "@hookimpl\ndef blockwright_blocks():\n    "


def fault(shelf: Shelf) -> str:
    """The only fault; ours are there."""
    host = load()
    assert {"skirt.straight", "sleeve.fitted"} <= set(host.blocks)
    (told,) = host.faults
    return told


# -- what is raised ------------------------------------------------------------------------------

RAISED = {
    "no Exception": (ODD + "raise Odd('stop it all')", "Odd: stop it all"),
    "a message that cannot be read": (MUTE + "raise Mute", "Mute: with a message that cannot be r"),
    "an exit of a generator": ("raise GeneratorExit", "GeneratorExit"),
    "three megabytes": ("raise ValueError('x' * 3_000_000)", "ValueError: xxx"),
    "letters a terminal takes for orders": ("raise ValueError('a\\x1b[2Jb')", "ValueError: a [2Jb"),
}


@pytest.mark.parametrize("case", RAISED)
def test_whatever_is_raised_at_import_is_told(shelf: Shelf, case: str) -> None:
    source, words = RAISED[case]
    shelf.put("odd", source)
    told = fault(shelf)
    assert told.startswith("plugin 'odd' of odd 1.0: odd cannot be imported: ")
    assert words in told
    assert len(told) < 1500
    assert told.isprintable()


@pytest.mark.parametrize("case", RAISED)
def test_whatever_is_raised_in_a_hook_is_told(shelf: Shelf, case: str) -> None:
    source, words = RAISED[case]
    before, _, last = source.rpartition("\n")
    shelf.put("odd", f"{before}\n{ASKED}{last}\n")
    assert words in fault(shelf)


@pytest.mark.parametrize("case", RAISED)
def test_whatever_is_raised_in_a_draft_is_told(shelf: Shelf, workroom: Workroom, case: str) -> None:
    source, words = RAISED[case]
    before, _, last = source.rpartition("\n")
    shelf.put("odd", f"{before}\n{cuff('odd.cuff', first=last)}")
    result = workroom.run(*CUFF)
    assert result.code == 3
    assert result.err.startswith("blockwright: block 'odd.cuff' of plugin 'odd' of odd 1.0 failed")
    assert words in result.err
    assert result.err.count("\n") == 1


INTERRUPTED = {
    "at import": ("raise KeyboardInterrupt", "plugin 'odd' of odd 1.0 was imported"),
    "in a hook": (
        f"{ASKED}raise KeyboardInterrupt", "plugin 'odd' of odd 1.0 was asked blockwright_blocks",
    ),
    "in a draft": (cuff("odd.cuff", first="raise KeyboardInterrupt"), "'odd.cuff' of plugin 'odd'"),
}  # fmt: skip


@pytest.mark.parametrize("case", INTERRUPTED)
def test_who_was_at_work_when_it_was_stopped_by_hand_is_told(
    shelf: Shelf, workroom: Workroom, case: str
) -> None:
    source, words = INTERRUPTED[case]
    shelf.put("odd", source)
    result = workroom.run(*(CUFF if case == "in a draft" else SLEEVE))
    assert result.code == 130
    assert words in result.err


# -- objects that do not want to be kept ---------------------------------------------------------

OBJECT = """
from dataclasses import dataclass
from blockwright import BodySource, hookimpl
{before}
class Shop:
    name: str = "shop"
    {within}
    @hookimpl
    def blockwright_bodies(self):
        return [BodySource("shop", "sizes", lambda: ["S"], lambda name: None)]
shop = Shop()
"""
RAISES = "def __{}__(self, *_):\n        raise ValueError\n"
OBJECTS = {
    "a dataclass": OBJECT.format(before="@dataclass", within=""),
    **{f"no {name}": OBJECT.format(before="", within=RAISES.format(name))
       for name in ("hash", "eq", "repr", "bool", "len")},
}  # fmt: skip


@pytest.mark.parametrize("case", OBJECTS)
def test_any_object_may_answer(shelf: Shelf, case: str) -> None:
    shelf.put("shop", OBJECTS[case], points="shop = shop:shop")
    host = load()
    assert host.faults == []
    assert "shop" in host.bodies


NAME = "class Name(str):\n    def __{}__(self, *_):\n        raise ValueError\n"


@pytest.mark.parametrize("what", ["hash", "repr", "eq"])
def test_a_key_that_is_no_plain_text_is_none(shelf: Shelf, what: str) -> None:
    source = cuff("odd.cuff").replace('key = "odd.cuff"', "key = Name('odd.cuff')")
    shelf.put("odd", NAME.format(what) + source)
    assert "Cuff has no key; write key = '...' in the class" in fault(shelf)


def test_a_format_that_changes_its_name_is_none(shelf: Shelf) -> None:
    shelf.put("odd", HOOKS + (
        "class Mine(Format):\n    pass\n@hookimpl\ndef blockwright_formats():\n"
        "    return [Mine('mine', '.mine', 'odd', lambda document: b'')]\n"
    ))  # fmt: skip
    assert "a value of type Mine is not a Format" in fault(shelf)


# -- hooks that nobody would ask -----------------------------------------------------------------


def test_a_hook_may_be_kept_by_a_cache(shelf: Shelf) -> None:
    source = cuff("odd.cuff").replace("@hookimpl\n", "@hookimpl\n@functools.cache\n")
    shelf.put("odd", "import functools\n" + source)
    host = load()
    assert host.faults == []
    assert "odd.cuff" in host.blocks


def test_a_hook_that_is_not_marked_is_told_beside_one_that_is(shelf: Shelf) -> None:
    shelf.put("odd", cuff("odd.cuff") + "\n\ndef blockwright_formats():\n    return []\n")
    assert fault(shelf).endswith(": blockwright_formats is not asked: put @hookimpl above it")


def test_a_hook_that_would_have_to_be_awaited(shelf: Shelf) -> None:
    shelf.put("odd", HOOKS + "@hookimpl\nasync def blockwright_blocks():\n    return []\n")
    assert "is async, and hooks are called; write def blockwright_blocks()" in fault(shelf)


# -- distributions -------------------------------------------------------------------------------


@pytest.mark.parametrize("text", [b"[console_scripts]\nfoo\n", b"[blockwright]\nx = \xe9\n"])
def test_entry_points_that_cannot_be_read_are_told(
    shelf: Shelf, workroom: Workroom, text: bytes
) -> None:
    shelf.put("odd", "")
    (shelf.folder / "odd-1.0.dist-info" / "entry_points.txt").write_bytes(text)
    told = fault(shelf)
    assert told.startswith("plugin '?' of odd 1.0: its entry points cannot be read: ")
    assert workroom.run(*SLEEVE).code == 0


@pytest.mark.parametrize("value", ["my module:x y", ":x"])
def test_an_entry_point_that_names_nothing(shelf: Shelf, value: str) -> None:
    shelf.put("odd", "", points=f"odd = {value}")
    assert "is neither 'module' nor 'module:object'; write one" in fault(shelf)


# -- what is everybody's -------------------------------------------------------------------------


def test_another_working_folder_is_gone_back_from(shelf: Shelf, workroom: Workroom) -> None:
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
        result = workroom.run(*CUFF)
    assert result.code == 0
    assert "warned: UserWarning: too narrow (" in result.err
    assert "odd.py:" in result.err


def test_a_stream_may_be_told_how_to_print(shelf: Shelf) -> None:
    shelf.put("odd", "import sys\nsys.stdout.reconfigure(encoding='utf-8')\n" + cuff("odd.cuff"))
    assert load().faults == []


def test_a_trace_names_what_is_at_work(shelf: Shelf, workroom: Workroom, monkeypatch) -> None:
    monkeypatch.setenv("BLOCKWRIGHT_TRACE", "1")
    shelf.put("odd", cuff("odd.cuff"))
    lines = workroom.run("blocks").err.splitlines()
    told = [line.removeprefix("blockwright: trace: plugin 'odd' of odd 1.0: ") for line in lines]
    first, second = told.index("importing odd"), told.index("asking blockwright_blocks")
    assert told[first + 1].startswith("imported odd in ")
    assert told[second + 1].startswith("blockwright_blocks gave 1 in ")


ASLEEP = {
    "asleep": "__import__('time').sleep(60)",
    "waiting": "__import__('threading').Event().wait()",
}


@pytest.mark.parametrize("case", ASLEEP)
def test_a_draft_that_sleeps_is_stopped(shelf: Shelf, workroom: Workroom, case: str) -> None:
    assert threading.current_thread() is threading.main_thread()
    shelf.put("odd", cuff("odd.cuff", first=ASLEEP[case]))
    begin = time.perf_counter()
    result = workroom.run(*CUFF, "--limit", "0.3")
    assert time.perf_counter() - begin < 5.0
    assert result.code == 3
    assert "took longer than 0.3 s and was stopped" in result.err


def test_a_thread_that_is_left_running_is_not_waited_for(shelf: Shelf) -> None:
    work = "import threading, time\nthreading.Thread(target=lambda: time.sleep(60)).start()\n"
    shelf.put("odd", work + cuff("odd.cuff"))
    begin = time.perf_counter()
    done = subprocess.run(
        [Path(sys.executable).parent / "blockwright", "blocks"], capture_output=True, text=True,
        check=False, env={**os.environ, "PYTHONPATH": str(shelf.folder)},
    )  # fmt: skip
    assert time.perf_counter() - begin < 20.0
    assert done.returncode == 0
    assert "odd.cuff" in done.stdout


ENDLESS = "    while True:\n        pass\n"
CHART = (
    "from blockwright import BodySource, hookimpl\n{work}\n@hookimpl\n"
    "def blockwright_bodies():\n    return [BodySource('odd', 'odd', lambda: ['x'], body)]\n"
)
AT_WORK = {
    "a format": (
        HOOKS + f"def write(document):\n{ENDLESS}@hookimpl\ndef blockwright_formats():\n"
        "    return [Format('mine', '.mine', 'odd', write)]\n",
        (*SLEEVE, "--format", "mine"), "format 'mine' of plugin 'odd'",
    ),
    "a source of bodies": (
        CHART.format(work=f"def body(name):\n{ENDLESS}"),
        (*SLEEVE[:2], "--body", "odd:x"), "source of bodies 'odd' of plugin 'odd'",
    ),
}  # fmt: skip


@pytest.mark.parametrize("case", AT_WORK)
def test_a_limit_is_for_all_that_is_not_ours(shelf: Shelf, workroom: Workroom, case: str) -> None:
    source, command, who = AT_WORK[case]
    shelf.put("odd", source)
    result = workroom.run(*command, "--limit", "0.3")
    assert result.code == 3
    assert f"{who} of odd 1.0 took longer than 0.3 s and was stopped" in result.err


def test_in_a_set_the_one_at_fault_is_told(shelf: Shelf, workroom: Workroom) -> None:
    shelf.put("odd", cuff("odd.cuff", first="1 / 0"))
    result = workroom.run("draft", "sleeve.fitted", "odd.cuff", "--body", "ada.toml")
    assert result.code == 3
    assert re.search(r"by zero \(.*odd\.py:\d+\), in block 'odd\.cuff'; tell", result.err)
