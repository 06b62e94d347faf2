"""The host keeps the good plugins working and says of each bad one what is wrong and what to do."""

from __future__ import annotations

from importlib.metadata import EntryPoint

import pytest
from stub_distributions import HALF, HOOKS, Shelf, block

from blockwright import BlockwrightError, InputError, load
from blockwright.cli.main import run
from blockwright.plugin.loader import HOOKS as HOOK_NAMES
from blockwright.plugin.loader import plugin_manager

WRITTEN = {
    "d6673",
    "dxf",
    "dxf-r12",
    "hpgl",
    "json",
    "pdf",
    "step",
    "stl",
    "svg",
    "tiles",
}
OURS = {
    "bodice.easy",
    "bodice.fitted",
    "skirt.circle",
    "skirt.flared",
    "skirt.gored",
    "skirt.straight",
    "sleeve.fitted",
    "sleeve.straight",
    "trousers.straight",
}
BLOCKS = "@hookimpl\ndef blockwright_blocks({}):\n    {}\n"
FORMATS = "@hookimpl\ndef blockwright_formats():\n    {}\n"
BODIES = (
    "from blockwright import BodySource\n@hookimpl\ndef blockwright_bodies():\n    return [{}]\n"
)

# Source of the plugin's module; words of the one fault that must be told.
FAULTS: dict[str, tuple[str, tuple[str, ...]]] = {
    "import error": ("import no_such_module_at_all", ("cannot be imported", "no_such_module")),
    "syntax error": ("def (", ("cannot be imported", "SyntaxError")),
    "exit at import": ("raise SystemExit(3)", ("cannot be imported", "SystemExit: 3")),
    "exception over lines": (
        "raise ValueError('a\\nb')",
        ("cannot be imported", "ValueError: a b"),
    ),
    "measurement that does not exist": (
        HOOKS + "from blockwright import measurement\nmeasurement('wast_girth')",
        ("cannot be imported", "waist_girth"),
    ),
    "no hook": ("x = 1", ("answers no hook", "@hookimpl")),
    "hook not marked": ("def blockwright_blocks(): return []", ("answers no hook", "@hookimpl")),
    "unknown hook": (
        HOOKS + "@hookimpl\ndef blockwright_bloks():\n    return []",
        ("wrong hook", "blockwright_bloks", "blockwright_blocks()"),
    ),
    "wrong argument": (
        HOOKS + BLOCKS.format("host", "return []"),
        ("wrong hook", "host", "blockwright_blocks()"),
    ),
    "exception in hook": (
        HOOKS + BLOCKS.format("", "return 1 / 0"),
        ("blockwright_blocks failed", "ZeroDivisionError"),
    ),
    "exception while answering": (
        HOOKS + BLOCKS.format("", "yield 1 / 0"),
        ("blockwright_blocks failed", "ZeroDivisionError"),
    ),
    "none": (HOOKS + BLOCKS.format("", "return None"), ("gave None", "return a list")),
    "string": (
        HOOKS + BLOCKS.format("", "return 'half'"),
        ("gave a value of type str", "return a list"),
    ),
    "a block itself": (
        HOOKS + HALF + BLOCKS.format("", "return Half"),
        ("gave the class Half", "return a list"),
    ),
    "list of none": (HOOKS + BLOCKS.format("", "return [None]"), ("None is not a Block class",)),
    "another class": (
        HOOKS + BLOCKS.format("", "return [dict]"),
        ("the class dict is not a Block class", "Block subclasses"),
    ),
    "an instance": (
        HOOKS + HALF + BLOCKS.format("", "return [Half({})]"),
        ("a value of type Half is not a Block class",),
    ),
    "no key": (
        HOOKS + HALF.replace('key = "test.half"', "") + BLOCKS.format("", "return [Half]"),
        ("Half has no key", "key = "),
    ),
    "no title": (
        HOOKS + HALF.replace('title = "Half"', "") + BLOCKS.format("", "return [Half]"),
        ("Half has no title", "title = "),
    ),
    "key in capitals": (block("Test.Half"), ("Half.key 'Test.Half'", "skirt.half-moon")),
    "no draft": (
        HOOKS + HALF.partition("    def")[0] + BLOCKS.format("", "return [Half]"),
        ("Half has no draft method",),
    ),
    "format none": (HOOKS + FORMATS.format("return None"), ("blockwright_formats gave None",)),
    "format a string": (
        HOOKS + FORMATS.format("return ['svg']"),
        ("a value of type str is not a Format",),
    ),
    "format in capitals": (
        HOOKS + FORMATS.format("return [Format('PLT', '.plt', 'x', bytes)]"),
        ("name of a Format is 'PLT'", "small letters"),
    ),
    "suffix without a point": (
        HOOKS + FORMATS.format("return [Format('plt', 'plt', 'x', bytes)]"),
        ("suffix of a Format is 'plt'", "'.svg'"),
    ),
    "a source in capitals": (
        HOOKS + BODIES.format("BodySource('Shop', 'x', list, str)"),
        ("name of a BodySource is 'Shop'", "such as 'shop'"),
    ),
    "sources in a dictionary": (
        HOOKS + BODIES.format("{'a': 1}"),
        ("blockwright_bodies: a value of type dict is not a BodySource",),
    ),
    "a second hook not marked": (
        block("bad.half") + "\ndef blockwright_formats():\n    return []\n",
        ("blockwright_formats is not asked: put @hookimpl above it",),
    ),
    "our format again": (
        HOOKS + FORMATS.format("return [Format('svg', '.svg', 'x', bytes)]"),
        ("format 'svg' refused", "plugin 'formats' of blockwright", "rename one or uninstall"),
    ),
    "our block again": (
        block("sleeve.fitted"),
        ("block 'sleeve.fitted' refused", "plugin 'sleeve' of blockwright", "rename one"),
    ),
}


@pytest.mark.parametrize("case", FAULTS)
def test_a_fault_is_told_and_the_others_work(shelf: Shelf, case: str) -> None:
    source, words = FAULTS[case]
    shelf.put("a-bad-one", source, plugin="bad")
    shelf.put("z-good", block("good.half"), plugin="good")
    host = load()
    assert set(host.blocks) >= OURS | {"good.half"}
    assert set(host.formats) == WRITTEN
    assert host.block("sleeve.fitted").__module__.startswith("blockwright_sleeve")
    (fault,) = host.faults
    assert fault.startswith("plugin 'bad' of a-bad-one 1.0: ")
    assert "\n" not in fault
    for word in words:
        assert word in fault, fault


def test_the_plugins_command_shows_it(shelf: Shelf, capsys) -> None:
    shelf.put("a-bad-one", "import no_such_module_at_all", plugin="bad")
    assert run(["plugins"]) == 3
    captured = capsys.readouterr()
    assert captured.err == ""
    lines = captured.out.splitlines()
    at = next(i for i, line in enumerate(lines) if line.startswith("bad  a-bad-one 1.0  "))
    (fault,) = [line for line in lines[at + 1 :] if line.startswith("    fault: ")]
    assert "cannot be imported" in fault
    assert "no_such_module_at_all" in fault


def test_a_fault_is_told_on_stderr_by_every_command_that_uses_plugins(shelf, capsys) -> None:
    shelf.put("a-bad-one", "import no_such_module_at_all", plugin="bad")
    assert run(["blocks"]) == 0
    captured = capsys.readouterr()
    assert "sleeve.fitted" in captured.out
    (line,) = captured.err.splitlines()
    assert line.startswith("blockwright: plugin 'bad' of a-bad-one 1.0: ")


def test_ours_alone_have_no_fault() -> None:
    host = load()
    assert host.faults == []
    assert set(host.blocks) == OURS
    assert {plugin.distribution for plugin in host.plugins} == {"blockwright"}


def test_two_plugins_of_one_name(shelf: Shelf) -> None:
    shelf.put("first", block("one.half"), plugin="same")
    shelf.put("second", block("two.half"), plugin="same")
    host = load()
    assert "one.half" in host.blocks
    assert "two.half" not in host.blocks
    (fault,) = host.faults
    assert fault.startswith("plugin 'same' of second 1.0: plugin name 'same' refused: ")
    assert "plugin 'same' of first 1.0 has it" in fault


def test_one_block_in_two_distributions_whichever_is_found_first(shelf: Shelf) -> None:
    shelf.put("zebra", block("one.half"), plugin="z")
    shelf.put("ant", block("one.half"), plugin="a")
    host = load()
    assert host.owner("blocks", "one.half").distribution == "ant"
    (fault,) = host.faults
    assert "zebra" in fault
    assert "ant" in fault


def test_ours_comes_first_whatever_the_others_are_called(shelf: Shelf) -> None:
    shelf.put("a", block("sleeve.straight"), plugin="0")
    host = load()
    assert host.owner("blocks", "sleeve.straight").distribution == "blockwright"
    (fault,) = host.faults
    assert fault.startswith("plugin '0' of a 1.0: ")


def test_one_key_twice_in_one_plugin(shelf: Shelf) -> None:
    source = block("one.half").replace("return [Half]", "return [Half, Half]")
    shelf.put("twice", source)
    host = load()
    assert host.plugins[-1].blocks == ["one.half"]
    (fault,) = host.faults
    assert "block 'one.half' refused" in fault


def test_the_good_ones_of_a_list_are_kept(shelf: Shelf) -> None:
    source = block("one.half").replace("return [Half]", "return [None, Half, 3]")
    shelf.put("mixed", source)
    host = load()
    assert "one.half" in host.blocks
    assert len(host.faults) == 2


def test_a_block_and_a_format_and_any_iterable(shelf: Shelf) -> None:
    source = block("one.half").replace("return [Half]", "yield Half") + FORMATS.format(
        "return (Format('plt', '.plt', 'plotters', bytes),)"
    )
    shelf.put("both", source)
    host = load()
    assert host.faults == []
    assert host.plugins[-1].blocks == ["one.half"]
    assert host.plugins[-1].formats == ["plt"]
    assert host.owner("formats", "plt").name == "both"


OBJECTS = (
    HOOKS
    + HALF
    + """
class Answers:
    @hookimpl
    def blockwright_blocks(self):
        return [Half]

answers = Answers()
nothing = None
"""
)


def test_an_entry_point_may_name_an_instance(shelf: Shelf) -> None:
    shelf.put("objects", OBJECTS, points="objects = objects:answers")
    host = load()
    assert host.faults == []
    assert "test.half" in host.blocks


@pytest.mark.parametrize(
    ("target", "words"),
    [
        ("objects:Answers", ("objects:Answers is the class Answers", "an instance")),
        ("objects:nothing", ("objects:nothing is None", "module")),
        ("objects:missing", ("cannot be imported", "AttributeError", "missing")),
        ("no_such_module_at_all", ("no_such_module_at_all cannot be imported",)),
    ],
)
def test_what_an_entry_point_may_not_name(shelf: Shelf, target: str, words) -> None:
    shelf.put("objects", OBJECTS, points=f"objects = {target}")
    host = load()
    assert set(host.blocks) == OURS
    (fault,) = host.faults
    assert fault.startswith("plugin 'objects' of objects 1.0: ")
    for word in words:
        assert word in fault, fault


def test_one_module_under_two_names(shelf: Shelf) -> None:
    shelf.put("double", block("one.half"), points="one = double\ntwo = double")
    host = load()
    assert "one.half" in host.blocks
    (fault,) = host.faults
    assert fault.startswith("plugin 'two' of double 1.0: ")
    assert "plugin 'one' of double 1.0 has it already" in fault


def test_a_distribution_without_metadata(shelf: Shelf) -> None:
    shelf.put("bare", "raise ValueError('no')")
    (shelf.folder / "bare-1.0.dist-info" / "METADATA").unlink()
    host = load()
    assert set(host.blocks) == OURS
    (fault,) = host.faults
    assert "bare" in fault


def test_entry_points_given_by_hand() -> None:
    host = load([EntryPoint("sleeve", "blockwright_sleeve", "blockwright")])
    assert set(host.blocks) == {"sleeve.fitted", "sleeve.straight"}
    assert host.formats == {}
    assert str(host.plugins[0]) == "plugin 'sleeve' of no distribution"


def test_none_at_all() -> None:
    host = load([])
    with pytest.raises(InputError, match=r"no block 'x'"):
        host.block("x")
    with pytest.raises(InputError, match=r"no format 'x'"):
        host.format("x")


def test_nearest_block() -> None:
    with pytest.raises(BlockwrightError, match=r"did you mean sleeve\.straight\?"):
        load().block("sleeve.strait")


def test_every_hook_is_asked(shelf: Shelf) -> None:
    """A hook that nobody calls would be a promise broken to plugin authors."""
    manager = plugin_manager()
    assert {name for name in vars(manager.hook) if not name.startswith("_")} == set(HOOK_NAMES)
    source = HOOKS + "asked = []\n"
    for name in HOOK_NAMES:
        source += f"@hookimpl\ndef {name}():\n    asked.append({name!r})\n    return []\n"
    shelf.put("listener", source)
    assert load().faults == []
    import listener

    assert listener.asked == list(HOOK_NAMES)
