"""Blocks, formats and sources of bodies whose code goes wrong when it is run; and good ones."""

from __future__ import annotations

import json
import os
import re
import time
from pathlib import Path

import pytest
from cli_samples import GOOD, Workroom
from stub_blocks import cuff, line_of
from stub_distributions import Shelf

from blockwright import InputError
from blockwright.plugin.traceback_line import KERNEL, author_line

DRAFT = ("draft", "my.cuff", "--body", "ada.toml", "--out", "out")
BLOCK = "blockwright: block 'my.cuff' of plugin 'mine' of my-cuffs 0.3 "


def told(workroom: Workroom, *arguments: str, code: int = 3) -> str:
    """The one line of a run that fails, prints nothing else and writes nothing."""
    before = workroom.contents()
    result = workroom.run(*arguments)
    assert (result.code, result.out) == (code, ""), result
    (line,) = result.err.splitlines()
    assert workroom.contents() == before
    return line


# -- a block -------------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "first",
    [
        "while True: pass",
        "while True:\n            try:\n                d.unit\n"
        "            except BaseException:\n                pass",
        "sum(1 for _ in iter(int, 1))",
    ],
    ids=["loop", "loop that catches all", "sum without end"],
)
def test_a_block_that_does_not_end(shelf: Shelf, workroom: Workroom, first: str) -> None:
    shelf.put("my-cuffs", cuff("my.cuff", first=first), plugin="mine", version="0.3")
    begin = time.perf_counter()
    line = told(workroom, *DRAFT, "--limit", "0.3")
    assert time.perf_counter() - begin < 5.0
    assert line.startswith(BLOCK + "took longer than 0.3 s and was stopped; look for a loop")
    # What was stopped leaves nothing behind.
    assert workroom.run("draft", "sleeve.fitted", "--body", "ada.toml").code == 0


def test_a_block_that_ends_in_time(shelf: Shelf, workroom: Workroom) -> None:
    shelf.put("my-cuffs", cuff("my.cuff"), plugin="mine")
    assert workroom.run(*DRAFT, "--limit", "60").code == 0


@pytest.mark.parametrize("limit", ["0", "-1", "nan", "inf", "1e300", "86401"])
def test_a_limit_that_is_none(workroom: Workroom, limit: str) -> None:
    (line,) = workroom.refused("draft", "sleeve.fitted", "--body", "ada.toml", "--limit", limit)
    assert "--limit" in line
    assert "more than 0 and at most 86400" in line


def test_a_limit_in_words(workroom: Workroom) -> None:
    (line,) = workroom.refused("draft", "sleeve.fitted", "--body", "ada.toml", "--limit", "soon")
    assert "'--limit'" in line
    assert "'soon'" in line


CHATTY = (
    "import sys; print('one'); print(); print('two'); sys.stderr.write('three'); sys.stdout.flush()"
)


def test_a_block_that_prints(shelf: Shelf, workroom: Workroom) -> None:
    shelf.put("my-cuffs", cuff("my.cuff", first=CHATTY), plugin="mine", version="0.3")
    result = workroom.run(*DRAFT, "--json")
    assert result.code == 0
    assert json.loads(result.out)["proof"]["held"] is True
    (line,) = result.err.splitlines()
    assert line == BLOCK + "printed 'one' and 2 lines more; a plugin must not print; remove it"


def test_a_block_that_raises(shelf: Shelf, workroom: Workroom) -> None:
    source = cuff("my.cuff", first="1 / 0")
    shelf.put("my-cuffs", source, plugin="mine", version="0.3")
    line = told(workroom, *DRAFT)
    number = line_of(source, "1 / 0")
    assert line.startswith(BLOCK + "failed: ZeroDivisionError: division by zero (")
    assert line.endswith(f"my_cuffs.py:{number}); tell its author")


def test_a_block_that_draws_nothing(shelf: Shelf, workroom: Workroom) -> None:
    shelf.put("my-cuffs", cuff("my.cuff", first="return"), plugin="mine", version="0.3")
    line = told(workroom, *DRAFT, "--unproved")
    assert line == (
        BLOCK + "failed: no piece was drawn; call d.piece(...) with its edges; tell its author"
    )


def test_a_plugin_installed_beside_the_kernel_is_not_taken_for_it() -> None:
    """Its folder may be called as ours and more: blockwright_capes."""
    place = str(Path(KERNEL).with_name(f"{Path(KERNEL).name}_capes") / "cape.py")
    with pytest.raises(ZeroDivisionError) as raised:
        exec(compile("\n1 / 0\n", place, "exec"))
    raised.value.__traceback__ = raised.tb.tb_next
    assert author_line(raised.value) == f" ({place}:2)"
    ours = str(Path(KERNEL) / "pattern" / "cape.py")
    with pytest.raises(InputError) as refused:
        exec(compile("raise error", ours, "exec"), {"error": InputError("too wide")})
    refused.value.__traceback__ = refused.tb.tb_next
    assert author_line(refused.value) == ""


# -- a format ------------------------------------------------------------------------------------

WEDGE = """
from blockwright import (
    BodySheet, BodySource, Echo, Edge, Format, InputError, Piece, Point, Read, hookimpl, polyline
)

hem = Edge("hem", polyline([Point(0, 0), Point(200, 0)]), "hem")
side = Edge("side", polyline([Point(200, 0), Point(200, 300), Point(0, 0)]))
wedge = Piece("wedge", (hem, side), (Point(180, 20), Point(180, 250)), Point(150, 80))


def refuse(*_):
    raise InputError("line 3 is no line")

"""
DESK = "format 'list' of plugin 'desk' of cutting-desk 1.0 "


def desk(write: str = "b'x'", echo: str = "", read: str = "") -> str:
    """A module with one format, by what its functions give."""
    return (
        f"{WEDGE}\ndef write(document):\n    return {write}\n\n"
        f"def echo(data):\n    return {echo or 'None'}\n\n"
        f"def read(data, name):\n    return {read or 'None'}\n\n"
        "@hookimpl\ndef blockwright_formats():\n"
        f"    return [Format('list', '.list', 'a list', write, {'echo' if echo else None}, "
        f"{'read' if read else None})]\n"
    )


NAMES = "'\\n'.join(piece.name for piece in document.pattern.pieces).encode()"
LIST = ("draft", "sleeve.straight", "--body", "ada.toml", "--format", "list", "--out", "out")
CONVERT = ("convert", "pieces.list", "--format", "json", "--out", "out")


def test_a_format_used_by_name(shelf: Shelf, workroom: Workroom) -> None:
    shelf.put("cutting-desk", desk(NAMES, read="Read((wedge,))"), plugin="desk")
    result = workroom.run(*LIST)
    assert (result.code, result.err) == (0, "")
    (written,) = (workroom.folder / "out").iterdir()
    assert written.name == "ada-sleeve.straight.list"
    assert written.read_bytes() == b"sleeve"
    assert "list (.list; can be read): a list\n" in workroom.run("formats").out
    (workroom.folder / "pieces.list").write_bytes(b"wedge")
    result = workroom.run(*CONVERT)
    assert (result.code, result.err) == (0, "")
    values = json.loads((workroom.folder / "out" / "pieces.json").read_text(encoding="utf-8"))
    assert [piece["name"] for piece in values["pattern"]["pieces"]] == ["wedge"]


# What its functions give, and what must be said.
WRITES = {
    "1 / 0": ("ZeroDivisionError: division by zero", "cutting_desk.py:"),
    "None": ("gave NoneType, not bytes",),
    "'text'": ("gave str, not bytes",),
    "exit(0)": ("SystemExit: 0",),
}
ECHOES = {
    "1 / 0": ("ZeroDivisionError: division by zero", "cutting_desk.py:"),
    "None if data else 0": ("echo gave NoneType, not Echo",),
    "Echo()": ("ada-sleeve.straight.list, read again, is not what was drawn: 0 pieces, not 1",),
    "refuse()": ("its own file cannot be read again: line 3 is no line",),
}
READS = {
    "1 / 0": ("ZeroDivisionError: division by zero", "cutting_desk.py:"),
    "None if data else 0": ("read gave NoneType, not Read",),
    "Read(wedge)": ("read gave Piece as pieces, not a tuple",),
    "Read((hem,))": ("read, in pieces, gave Edge, not Piece",),
    "Read((wedge,), 'no circle')": ("read gave str as not_understood, not a tuple",),
    "Read((wedge,), (3,))": ("read, in not_understood, gave int, not str",),
    "Read((wedge,), (), 'cm')": ("read, as its unit, gave str, not Unit",),
    "Read((wedge, wedge))": ("two pieces are called 'wedge'",),
}


@pytest.mark.parametrize("given", WRITES)
def test_a_format_that_writes_rubbish(shelf: Shelf, workroom: Workroom, given: str) -> None:
    shelf.put("cutting-desk", desk(given), plugin="desk")
    line = told(workroom, *LIST)
    assert line.startswith(f"blockwright: {DESK}failed: ")
    for words in WRITES[given]:
        assert words in line, line


@pytest.mark.parametrize("given", ECHOES)
def test_a_format_that_reads_itself_wrongly(shelf: Shelf, workroom: Workroom, given: str) -> None:
    shelf.put("cutting-desk", desk(echo=given), plugin="desk")
    line = told(workroom, *LIST)
    assert line.startswith(f"blockwright: {DESK}failed: ")
    for words in ECHOES[given]:
        assert words in line, line


@pytest.mark.parametrize("given", READS)
def test_a_format_that_reads_rubbish(shelf: Shelf, workroom: Workroom, given: str) -> None:
    shelf.put("cutting-desk", desk(read=given), plugin="desk")
    (workroom.folder / "pieces.list").write_bytes(b"wedge")
    line = told(workroom, *CONVERT)
    assert line.startswith(f"blockwright: {DESK}failed: ")
    for words in READS[given]:
        assert words in line, line


def test_a_file_that_a_format_refuses_is_wrong_input(shelf: Shelf, workroom: Workroom) -> None:
    shelf.put("cutting-desk", desk(read="refuse()"), plugin="desk")
    (workroom.folder / "pieces.list").write_bytes(b"wedge")
    assert told(workroom, *CONVERT, code=2) == "blockwright: line 3 is no line"


# -- a source of bodies --------------------------------------------------------------------------

SHOP = "source of bodies 'shop' of plugin 'chart' of shop-chart 1.0 "
SHEET = f"BodySheet.from_values({GOOD!r}, units='cm', name='Zoe')"


def shop(body: str = SHEET, names: str = "['36', '38']") -> str:
    """A module with one source, by what its functions give."""
    return (
        f"{WEDGE}\ndef names():\n    return {names}\n\n"
        "def body(name):\n    if name not in ('36', '38'):\n        raise KeyError(name)\n"
        f"    return {body}\n\n@hookimpl\ndef blockwright_bodies():\n"
        "    return [BodySource('shop', 'two sizes, invented', names, body)]\n"
    )


def for_body(name: str) -> tuple[str, ...]:
    return ("draft", "sleeve.straight", "--body", name, "--out", "out")


def test_a_source_used_by_name(shelf: Shelf, workroom: Workroom) -> None:
    shelf.put("shop-chart", shop(), plugin="chart")
    result = workroom.run(*for_body("shop:38"))
    assert (result.code, result.err) == (0, "")
    assert (workroom.folder / "out" / "zoe-sleeve.straight.svg").exists()
    assert "  shop        two sizes, invented\n" in workroom.run("bodies").out
    assert workroom.run("bodies", "shop").out == "shop:36\nshop:38\n"


BODIES = {
    "1 / 0": ("ZeroDivisionError: division by zero", "shop_chart.py:"),
    "{}['waist']": ("KeyError: 'waist'", "shop_chart.py:"),
    "None": ("body gave None, not a BodySheet; make it with BodySheet.from_values",),
    "exit(1)": ("SystemExit: 1",),
}
SIZES = {
    "1 / 0": ("ZeroDivisionError: division by zero", "shop_chart.py:"),
    "None": ("names gave None; give a list of texts",),
    "[36, 38]": ("names gave 36; give texts of one line",),
}


@pytest.mark.parametrize("given", BODIES)
def test_a_source_that_gives_no_sheet(shelf: Shelf, workroom: Workroom, given: str) -> None:
    shelf.put("shop-chart", shop(given), plugin="chart")
    line = told(workroom, *for_body("shop:38"))
    assert line.startswith(f"blockwright: {SHOP}failed: ")
    for words in BODIES[given]:
        assert words in line, line


@pytest.mark.parametrize("given", SIZES)
@pytest.mark.parametrize("asked", [("bodies", "shop"), for_body("shop:99")], ids=["list", "draft"])
def test_a_source_that_gives_no_names(shelf, workroom, given: str, asked) -> None:
    shelf.put("shop-chart", shop(names=given), plugin="chart")
    line = told(workroom, *asked)
    assert line.startswith(f"blockwright: {SHOP}failed: ")
    for words in SIZES[given]:
        assert words in line, line


@pytest.mark.parametrize(
    ("body", "said"),
    [
        ("refuse()", "shop:38: line 3 is no line"),
        (
            "BodySheet.from_values({'wast_girth': 70}, units='cm')",
            "shop:38: body sheet: wast_girth: no such measurement; did you mean waist_girth?",
        ),
    ],
)
def test_a_sheet_that_is_wrong_is_told_with_its_name(shelf, workroom, body: str, said: str) -> None:
    shelf.put("shop-chart", shop(body), plugin="chart")
    assert told(workroom, *for_body("shop:38"), code=2) == f"blockwright: {said}"


@pytest.mark.parametrize(
    ("asked", "said"),
    [
        ("shop:99", "shop has no body '99'; there are 36, 38"),
        ("shop:", "shop has no body ''; there are 36, 38"),
        ("shp:38", "shp:38: no such file, and no source of bodies 'shp'; did you mean shop?"),
        ("SHOP:38", "no source of bodies 'SHOP'; did you mean shop?"),
        (
            "quilters:38",
            "no source of bodies 'quilters'; there are astm-d5585, en13402, shop, survey",
        ),
    ],
)
def test_a_body_that_is_not_there(shelf: Shelf, workroom: Workroom, asked: str, said: str) -> None:
    shelf.put("shop-chart", shop(), plugin="chart")
    assert told(workroom, *for_body(asked), code=2).endswith(said)


def test_a_source_that_is_not_there(shelf: Shelf, workroom: Workroom) -> None:
    shelf.put("shop-chart", shop(), plugin="chart")
    assert re.search(r"'shp'; did you mean shop\?$", told(workroom, "bodies", "shp", code=2))
    assert told(workroom, "bodies", "quilters", code=2).endswith(
        "; there are astm-d5585, en13402, shop, survey"
    )


@pytest.mark.skipif(os.name == "nt", reason="no colon in a file's name")
def test_a_file_whose_name_has_a_colon(shelf: Shelf, workroom: Workroom) -> None:
    shelf.put("shop-chart", shop(), plugin="chart")
    (workroom.folder / "shp:38").write_bytes((workroom.folder / "ada.toml").read_bytes())
    assert workroom.run(*for_body("shp:38")).code == 0


# -- a limit, and blocks of a set ------------------------------------------------------------------

ENDLESS = "    while True:\n        pass\n"
AT_WORK = {
    "a format": (
        "from blockwright import Format, hookimpl\n"
        f"def write(document):\n{ENDLESS}@hookimpl\ndef blockwright_formats():\n"
        "    return [Format('mine', '.mine', 'odd', write)]\n",
        ("draft", "sleeve.straight", "--body", "ada.toml", "--format", "mine"),
        "format 'mine' of plugin 'odd'",
    ),
    "a source of bodies": (
        f"from blockwright import BodySource, hookimpl\ndef body(name):\n{ENDLESS}@hookimpl\n"
        "def blockwright_bodies():\n    return [BodySource('odd', 'odd', lambda: ['x'], body)]\n",
        ("draft", "sleeve.straight", "--body", "odd:x"),
        "source of bodies 'odd' of plugin 'odd'",
    ),
}


@pytest.mark.parametrize("case", AT_WORK)
def test_a_limit_is_for_all_that_is_not_ours(shelf: Shelf, workroom: Workroom, case: str) -> None:
    source, command, who = AT_WORK[case]
    shelf.put("odd", source)
    result = workroom.run(*command, "--limit", "0.3")
    assert result.code == 3
    assert f"{who} of odd 1.0 took longer than 0.3 s and was stopped" in result.err


def test_in_a_set_the_one_at_fault_is_told(shelf: Shelf, workroom: Workroom) -> None:
    shelf.put("odd", cuff("odd.cuff", first="1 / 0"))
    result = workroom.run("draft", "sleeve.straight", "odd.cuff", "--body", "ada.toml")
    assert result.code == 3
    assert re.search(r"by zero \(.*odd\.py:\d+\), in block 'odd\.cuff'; tell", result.err)
